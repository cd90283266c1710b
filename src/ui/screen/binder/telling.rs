//! The pocket under the cursor, told in full.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use crate::model::{Collection, Meaning, Place, PocketState, PrintingId};
use crate::report;
use crate::text;
use crate::ui::book::Book;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// The pocket in words: what it is for and what is in it; where it is, and every copy of that card.
pub(super) fn words(collection: &Collection, book: &Book<'_>, place: Place) -> [String; 2] {
    let unit = book.ground.unit(collection, place);
    let subject = unit.printing();
    let what = match (subject, &unit.meaning) {
        (Some(printing), _) => report::printing_words(collection, printing),
        (None, Meaning::Blank) => "left empty on purpose".to_owned(),
        (None, Meaning::Keepsake(words)) => format!("keepsake: {words}"),
        (None, _) => "nothing planned".to_owned(),
    };
    let state = if book.ground.is_real() {
        state_words(collection, &collection.pocket(place))
    } else {
        "planned here".into()
    };
    let first = match subject {
        Some(_) => format!("{what}: {state}"),
        None => what,
    };
    let mut second = book.ground.words(collection, place);
    if let Some(printing) = subject {
        second = format!("{second}. {}", copies_words(collection, printing, place));
    }
    [first, second]
}

/// The same with the binder's name, for the clipboard.
pub(super) fn copied(desk: &Desk, book: &Book<'_>, place: Place) -> Copied {
    let [what, at] = words(desk.collection(), book, place);
    let title = report::binder_words(desk.collection(), book.binder.id());
    let lines = [&*title, &what, &at];
    Copied::lines("the pocket in words", lines)
}

pub(super) fn draw(desk: &Desk, book: &Book<'_>, place: Place, area: Rect, buf: &mut Buffer) {
    let theme = desk.theme;
    let [first, second] = words(desk.collection(), book, place);
    let lines = [(first, Role::Strong), (second, Role::Text)];
    let width = usize::from(area.width);
    let tall = area.height > 2;
    let mut y = area.y;
    for (words, role) in lines {
        let room = if tall { 8 } else { 1 };
        for line in text::wrap(&text::safe(&words), width, room, theme.glyphs().more) {
            if y < area.bottom() {
                paint::line(buf, (area.x, y), area.width, &line, theme.style(role));
            }
            y += 1;
        }
        y += u16::from(tall);
    }
    if tall {
        let rest = Rect {
            y: (y + 1).min(area.bottom()),
            height: area.bottom().saturating_sub(y + 1),
            ..area
        };
        draw_news(desk, book, rest, buf);
    }
}

/// Pockets that are looked through for the list; a binder of more is not walked on every frame.
const LOOKED_AT: usize = 20_000;

/// Where there is room beside the pages: the loose copies that wait for this binder, and the cards
/// that are misplaced in it.
fn draw_news(desk: &Desk, book: &Book<'_>, area: Rect, buf: &mut Buffer) {
    if !book.ground.is_real() || area.height < 3 {
        return;
    }
    let (collection, theme) = (desk.collection(), desk.theme);
    let number = |printing: PrintingId| {
        let words = report::printing_words(collection, printing);
        text::safe(&words).into_owned()
    };
    let pockets = (0..book.len()).flat_map(|page| {
        let pockets = book.format(page).map_or(0, |format| format.pockets());
        (0..pockets).map(move |pocket| (page, pocket))
    });
    let told = pockets.take(LOOKED_AT).filter_map(|(page, pocket)| {
        let (sign, role, words) = match book.state(page, pocket) {
            PocketState::Waiting(card) => (theme.glyphs().waiting, Role::Waiting, number(card)),
            PocketState::Misplaced { held, .. } => {
                (theme.glyphs().misplaced, Role::Misplaced, number(held))
            }
            _ => return None,
        };
        Some((sign, role, format!("page {}: {words}", page + 1)))
    });
    let mut y = area.y;
    for (sign, role, words) in told {
        if y == area.y {
            let head = "Waiting or misplaced:";
            paint::line(buf, (area.x, y), area.width, head, theme.style(Role::Quiet));
            y += 1;
        }
        if y + 1 >= area.bottom() {
            let key = desk.key(Context::Binder, Intent::Work);
            let words = &format!("and more: {key} is the work sheet");
            paint::line(
                buf,
                (area.x, y),
                area.width,
                words,
                theme.style(Role::Quiet),
            );
            return;
        }
        paint::sign(buf, (area.x, y), sign, theme.style(role));
        paint::line(
            buf,
            (area.x + 2, y),
            area.width.saturating_sub(2),
            &words,
            theme.style(Role::Text),
        );
        y += 1;
    }
}

fn state_words(collection: &Collection, state: &PocketState) -> String {
    let number = |printing: PrintingId| {
        let card = collection.card(printing);
        card.map(|card| card.number.to_string()).unwrap_or_default()
    };
    match state {
        PocketState::InPlace(_) => "in its pocket".into(),
        PocketState::Gap(_) => "a gap".into(),
        PocketState::Waiting(_) => "a gap, and a loose copy waits for it".into(),
        PocketState::Misplaced {
            wanted: Some(wanted),
            ..
        } => format!("misplaced, the pocket is meant for {}", number(*wanted)),
        PocketState::Misplaced { wanted: None, .. } => "in a pocket not meant for a card".into(),
        PocketState::Blank | PocketState::Keepsake(_) | PocketState::Unassigned => "no card".into(),
    }
}

/// How many copies there are, and where the others lie.
fn copies_words(collection: &Collection, printing: PrintingId, here: Place) -> String {
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
    let elsewhere: Vec<_> = collection
        .places_holding(printing)
        .filter(|place| *place != here)
        .take(3)
        .map(|place| report::place_words(collection, place))
        .collect();
    let copies = match tally.copies() {
        1 => "1 copy".to_owned(),
        many => format!("{many} copies"),
    };
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
