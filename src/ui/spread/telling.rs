//! The pocket under the cursor, told in full.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Cursor, Spread, news};
use crate::hand::Ground;
use crate::model::{Collection, Place, PocketState, PrintingId};
use crate::report;
use crate::text;
use crate::ui::book::Book;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Spread {
    /// The pocket in words: what it is about, which may be shortened; how it is with that; and
    /// where the pocket is, with every copy of that card.
    fn parts(&self, desk: &Desk, book: &Book<'_>, place: Place) -> [String; 3] {
        let collection = desk.collection();
        let pocket = book.state_of(place.page, place.pocket);
        let subject = pocket.held().or(pocket.wanted());
        let what = match (subject, &pocket) {
            (Some(printing), _) => report::printing_words(collection, printing),
            (None, PocketState::Blank) => "left empty on purpose".to_owned(),
            (None, PocketState::Keepsake(words)) => format!("keepsake: {words}"),
            (None, _) if book.is_for_nothing() => empty_draft(desk),
            (None, _) => "free".to_owned(),
        };
        let at = self.ground.words(collection, place);
        let Some(printing) = subject else {
            return [what, String::new(), at];
        };
        let (state, wanted) = if book.is_real() {
            state_words(book, place, printing)
        } else {
            (draft_words(collection, printing, place), String::new())
        };
        let copies = copies_words(collection, self.ground, printing, place);
        [
            what,
            format!(": {state}"),
            format!("{at}{wanted}. {copies}"),
        ]
    }

    /// All of it with the binder's name, for the clipboard.
    pub(crate) fn copied(&self, desk: &Desk) -> Option<Copied> {
        let book = self.book(desk, None)?;
        let place = self.cursor.place(&book)?;
        let [what, state, at] = self.parts(desk, &book, place);
        let title = report::binder_words(desk.collection(), book.binder.id());
        let lines = [title, format!("{what}{state}"), at];
        Some(Copied::lines("the pocket in words", lines))
    }

    /// Tells the pocket under the cursor.
    pub(super) fn tell(&self, desk: &Desk, book: &Book<'_>, area: Rect, buf: &mut Buffer) {
        if let Some(place) = self.cursor.place(book) {
            let parts = self.parts(desk, book, place);
            let below = self.below_telling(book, area);
            // What stands below keeps its place, so that a click meets the line that it was aimed
            // at, however much is said of one pocket or another.
            let room = match below.filter(|_| news::is_any(book)) {
                Some(below) => Rect {
                    height: below.y - area.y - 1,
                    ..area
                },
                None => area,
            };
            for (y, line, role) in lines(desk, parts, room) {
                if y < area.height {
                    let style = desk.theme.style(role);
                    paint::line(buf, (area.x, area.y + y), area.width, &line, style);
                }
            }
            if let Some(rest) = below {
                news::draw(desk, book, rest, buf);
            }
        }
    }

    /// The pocket whose line in the list of news is under a point of the screen.
    pub(crate) fn told_under(&self, desk: &Desk, at: (u16, u16)) -> Option<Cursor> {
        let book = self.book(desk, None)?;
        let rest = self.below_telling(&book, self.rooms(desk, &book).telling)?;
        news::under(desk, &book, rest, at)
    }

    /// What is left below the pocket in words, where that is told beside the pages.
    fn below_telling(&self, book: &Book<'_>, area: Rect) -> Option<Rect> {
        self.cursor.place(book).filter(|_| area.height > TOLD)?;
        Some(Rect {
            y: area.y + TOLD,
            height: area.height - TOLD,
            ..area
        })
    }
}

/// How an empty draft is gone on with.
fn empty_draft(desk: &Desk) -> String {
    let key = desk.key(Context::Binder, Intent::Arrange);
    format!("An empty draft: {key}, then l gives the cards pockets, s lays it out by sections")
}

/// Lines beside the pages that are for the pocket alone, where there is more to tell below it.
const TOLD: u16 = 10;

/// The lines in which a pocket is told, each with its place below the upper edge.
fn lines(desk: &Desk, parts: [String; 3], area: Rect) -> Vec<(u16, String, Role)> {
    let more = desk.theme.glyphs().more;
    let [what, state, second] = parts;
    let width = usize::from(area.width);
    let tall = area.height > 2;
    let what = text::safe(&what);
    // On one line a name is shortened before anything that is said of it.
    let name = width.saturating_sub(text::columns(&state)).max(NAME_LEAST);
    let first = match tall || state.is_empty() {
        true => what.into_owned(),
        false => text::fit(&what, name, more),
    };
    let told = [
        (format!("{first}{state}"), Role::Strong),
        (second, Role::Text),
    ];
    let mut found = Vec::new();
    let mut y = 0;
    for (at, (words, role)) in told.into_iter().enumerate() {
        let left = area.height.saturating_sub(y);
        // The first leaves more than half of the room to what is said of the pocket.
        let room = match (tall, at) {
            (false, _) => 1,
            (true, 0) => usize::from(left / 2 - 1).clamp(1, 8),
            (true, _) => usize::from(left).min(8),
        };
        for line in text::wrap(&text::safe(&words), width, room, more) {
            found.push((y, line, role));
            y += 1;
        }
        y += u16::from(tall);
    }
    found
}

/// Columns that a card's number and name keep on one line, whatever is said of it.
const NAME_LEAST: usize = 16;

/// How it is with a pocket of the real binder that is about this printing; and what else is to be
/// said of the pocket itself.
fn state_words(book: &Book<'_>, place: Place, printing: PrintingId) -> (String, String) {
    let collection = book.collection;
    let number = |printing: PrintingId| {
        let card = collection.card(printing);
        card.map(|card| card.number.to_string()).unwrap_or_default()
    };
    let words = match book.state_of(place.page, place.pocket) {
        PocketState::InPlace(_) if book.rides(place.page, place.pocket) => {
            let to = (book.goes_to(place.page)).map_or(place.page, |goes| goes.to);
            return (
                format!("in its place on this page, which will be page {}", to + 1),
                String::new(),
            );
        }
        PocketState::InPlace(_) => "in its pocket",
        PocketState::Gap(_) => "a gap",
        PocketState::Waiting(_) => "a gap, and a loose copy waits for it",
        PocketState::Misplaced { wanted, .. } => {
            let wanted = wanted.map_or_else(
                || ", meant for no card".into(),
                |wanted| format!(", meant for {}", number(wanted)),
            );
            return (
                format!("misplaced, {}", goes(book, printing, place)),
                wanted,
            );
        }
        PocketState::Blank | PocketState::Keepsake(_) | PocketState::Unassigned => "no card",
    };
    (words.into(), String::new())
}

/// ` of Moss Hall`, where a place is in another binder than here.
fn of_another(collection: &Collection, place: Place, here: Place) -> String {
    match place.binder == here.binder {
        true => String::new(),
        false => format!(" of {}", report::binder_words(collection, place.binder)),
    }
}

/// Where a misplaced card is to go.
fn goes(book: &Book<'_>, printing: PrintingId, here: Place) -> String {
    let collection = book.collection;
    let is_free = |place: &Place| collection.held(*place) != Some(printing);
    let meant = || collection.places_meant(printing);
    let near = meant()
        .filter(is_free)
        .find(|place| place.binder == here.binder);
    match near.or_else(|| meant().find(is_free)) {
        Some(to) => {
            let of = of_another(collection, to, here);
            let goes = match book.pages_count_otherwise() {
                true => "its place will be",
                false => "goes to",
            };
            format!("{goes} {}{of}", report::place_words(collection, to))
        }
        None => "and no other pocket is meant for it".into(),
    }
}

/// Where the card that a pocket of a draft is meant for lies now.
fn draft_words(collection: &Collection, printing: PrintingId, place: Place) -> String {
    let mut held: Vec<Place> = collection.places_holding(printing).collect();
    // The copy that lies nearest to this place is the one that one looks for.
    held.sort_by_key(|there| (there.binder != place.binder, *there != place));
    match (held.first(), collection.tally(printing).loose) {
        (Some(there), _) if *there == place => "lies here now".into(),
        (Some(there), _) => {
            let of = of_another(collection, *there, place);
            format!(
                "lies now on {}{of}",
                report::place_words(collection, *there)
            )
        }
        (None, 0) => "no copy yet".into(),
        (None, _) => "a loose copy".into(),
    }
}

/// How many copies there are, and where the others lie.
fn copies_words(
    collection: &Collection,
    ground: Ground,
    printing: PrintingId,
    here: Place,
) -> String {
    let tally = collection.tally(printing);
    let rarity = collection
        .set(printing.set())
        .zip(collection.card(printing))
        .map(|(set, card)| set.rarity_name(card))
        .filter(|rarity| !rarity.is_empty())
        .map(|rarity| format!("{rarity}. "))
        .unwrap_or_default();
    if tally.copies() == 0 {
        return format!("{rarity}No copy yet");
    }
    // In a draft the first line says where it lies.
    let elsewhere: Vec<_> = collection
        .places_holding(printing)
        .filter(|place| *place != here && ground.is_real())
        .take(3)
        .map(|place| report::place_words(collection, place))
        .collect();
    let copies = text::count(tally.copies().into(), "copy", "copies");
    let loose = match tally.loose {
        0 => String::new(),
        loose => format!(", {loose} loose"),
    };
    let others = if elsewhere.is_empty() {
        String::new()
    } else {
        format!("; also in {}", elsewhere.join("; "))
    };
    format!("{rarity}{copies}{loose}{others}")
}
