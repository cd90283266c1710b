//! Finding a card by number or name, over all binders, or a binder by its title, as one types.

mod looking;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use looking::Looking;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::model::BinderId;
use crate::report::{self, Found};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows;
use crate::ui::theme::Role;

/// The most binders that are listed: with more the words are not yet narrow enough.
const MOST_BINDERS: usize = 8;

/// The finder's window.
#[derive(Debug)]
pub(crate) struct Find {
    field: Field,
    /// Binders that are called so; they are listed before the cards.
    binders: Vec<BinderId>,
    /// What the last search found that came to its end.
    found: Vec<Found>,
    chosen: usize,
    looking: Looking,
}

impl Find {
    pub(crate) fn open(desk: &mut Desk) -> Self {
        let mut find = Self {
            field: Field::default(),
            binders: Vec::new(),
            found: Vec::new(),
            chosen: 0,
            looking: Looking::default(),
        };
        // The index is begun now, so that the first letter need not wait for it.
        find.work_on(desk);
        find
    }

    fn search(&mut self, desk: &mut Desk) {
        self.chosen = 0;
        self.binders = report::binders_named(desk.collection(), self.field.value(), MOST_BINDERS);
        self.looking.begin(self.field.value());
        self.work_on(desk);
    }

    fn go(&mut self, desk: &mut Desk) -> Next {
        // What is listed may still be what fewer letters found.
        if let Some(found) = self.looking.finish(desk) {
            self.found = found;
        }
        if let Some(binder) = self.binders.get(self.chosen) {
            let ground = Ground::real(*binder);
            return Next::GoTo(ground, desk.left_at(ground));
        }
        let Some(found) = self.card(self.chosen) else {
            desk.say(match self.field.value().trim().is_empty() {
                true => "Type a number or a part of a name",
                false => "Nothing is found: fewer letters find more",
            });
            return Next::Stay;
        };
        Next::to_pocket(desk, found.printing, found.place)
    }

    /// The card in a line of the list, below the binders.
    fn card(&self, at: usize) -> Option<&Found> {
        self.found.get(at.checked_sub(self.binders.len())?)
    }

    fn lines(&self) -> usize {
        self.binders.len() + self.found.len()
    }

    /// How much was found: cards, of which each finish has a line.
    fn found_words(&self) -> String {
        let printings = self.found.len() as u64;
        let mut cards: Vec<_> = (self.found.iter())
            .map(|found| (found.printing.set(), found.printing.card()))
            .collect();
        // The finishes of a card follow each other.
        cards.dedup();
        let cards = match (self.looking.first_of(), cards.len() as u64) {
            (Some((first, of)), _) => Some(format!("the first {first} cards of {of}")),
            (None, 0) => None,
            (None, cards) => Some(format!("{} found", text::count(cards, "card", "cards"))),
        };
        let all = (printings > 0).then(|| text::count(printings, "printing", "printings"));
        let cards = cards.zip(all).map(|(cards, all)| format!("{cards}, {all}"));
        let binders = self.binders.len() as u64;
        let binders = (binders > 0).then(|| text::count(binders, "binder", "binders"));
        let parts: Vec<String> = binders.into_iter().chain(cards).collect();
        parts.join(" and ")
    }

    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        paint::centred(body, 84, body.height.saturating_sub(2).clamp(5, 24))
    }

    fn list(&self, desk: &Desk) -> Rect {
        self.rooms(desk)[0]
    }

    /// The rows, and what stands below them.
    fn rooms(&self, desk: &Desk) -> [Rect; 2] {
        let window = self.window(desk);
        rows::with_foot(Rect {
            x: window.x + 1,
            y: window.y + 3,
            width: window.width.saturating_sub(2),
            height: window.height.saturating_sub(4),
        })
    }

    /// The list is shown a screenful at a time.
    fn first_shown(&self, list: Rect) -> usize {
        let room = usize::from(list.height).max(1);
        self.chosen / room * room
    }
}

impl Screen for Find {
    fn context(&self) -> Context {
        Context::Find
    }

    fn has_field(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn is_at_work(&self, desk: &Desk) -> bool {
        self.looking.is_at_work(desk)
    }

    fn work_on(&mut self, desk: &mut Desk) -> bool {
        let found = self.looking.go_on(desk);
        let is_found = found.is_some();
        self.found = found.unwrap_or_else(|| std::mem::take(&mut self.found));
        is_found
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.lines().saturating_sub(1);
        let room = usize::from(self.list(desk).height);
        match intent {
            Intent::Leave => Next::Close,
            Intent::Accept => self.go(desk),
            _ => {
                self.chosen = intent.stepped(self.chosen, room, last);
                Next::Stay
            }
        }
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        if self.field.key(event) {
            self.search(desk);
        }
        Next::Stay
    }

    fn paste(&mut self, desk: &mut Desk, words: &str) {
        self.field.paste(words);
        self.search(desk);
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        if mouse != Mouse::Left {
            return Next::Stay;
        }
        let list = self.list(desk);
        if !list.contains((x, y).into()) {
            return Next::Stay;
        }
        let at = self.first_shown(list) + usize::from(y - list.y);
        if at >= self.lines() {
            return Next::Stay;
        }
        if at == self.chosen {
            return self.go(desk);
        }
        self.chosen = at;
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " find a card or a binder ", theme);
        let at = (area.x + 2, area.y + 1);
        self.field
            .draw(at, area.width.saturating_sub(4), true, theme, buf);
        let words = match (self.field.value().trim(), self.found.len()) {
            _ if self.looking.is_looking() => "looking…".to_owned(),
            ("", _) => {
                "a number, a part of a name, a set's code, a title: 12a, owl, moss 7".to_owned()
            }
            (_, 0) if self.binders.is_empty() => "nothing found".to_owned(),
            _ => self.found_words(),
        };
        let quiet = theme.style(Role::Quiet);
        paint::line(
            buf,
            (at.0, at.1 + 1),
            area.width.saturating_sub(4),
            &words,
            quiet,
        );
        let [list, foot] = self.rooms(desk);
        let first = self.first_shown(list);
        for (y, at) in (list.top()..list.bottom()).zip(first..self.lines()) {
            let chosen = at == self.chosen;
            let row = Rect {
                y,
                height: 1,
                ..list
            };
            match (self.binders.get(at), self.card(at)) {
                (Some(binder), _) => draw_binder(desk, *binder, chosen, row, buf),
                (None, Some(found)) => draw_found(desk, found, chosen, row, buf),
                (None, None) => {}
            }
        }
        if let Some(found) = self.card(self.chosen) {
            let place = place_words(desk, found, rows::FULL_PLACE.max(list.width * 2));
            let card = hand::named(desk.collection(), found.printing);
            rows::draw_foot(desk, foot, &place, &card, buf);
        }
    }
}

/// A line of the list: what it is, and where or what it holds.
fn draw_row(desk: &Desk, chosen: bool, row: Rect, what: &str, beside: &str, buf: &mut Buffer) {
    let theme = desk.theme;
    let style = theme.style(if chosen { Role::Selected } else { Role::Text });
    let here = if chosen { theme.glyphs().here } else { " " };
    paint::sign(buf, (row.x, row.y), here, theme.style(Role::Cursor));
    let left = room_for_what(row);
    paint::line(buf, (row.x + 4, row.y), left, what, style);
    let at = (row.x + 5 + left, row.y);
    let quiet = theme.style(Role::Quiet);
    paint::line(buf, at, room_beside(row), beside, quiet);
}

/// Columns of a line for what it is, and for what stands behind it.
fn room_for_what(row: Rect) -> u16 {
    rows::card_width(row.width.saturating_sub(5))
}

fn room_beside(row: Rect) -> u16 {
    row.width.saturating_sub(room_for_what(row) + 5)
}

fn draw_binder(desk: &Desk, binder: BinderId, chosen: bool, row: Rect, buf: &mut Buffer) {
    let collection = desk.collection();
    let pages = collection.binder(binder).map(report::pages_words);
    let pages = pages.unwrap_or_default();
    let called = report::binder_words(collection, binder);
    draw_row(
        desk,
        chosen,
        row,
        &called,
        &format!("the binder, {pages}"),
        buf,
    );
}

fn draw_found(desk: &Desk, found: &Found, chosen: bool, row: Rect, buf: &mut Buffer) {
    let theme = desk.theme;
    let glyphs = theme.glyphs();
    let tally = desk.collection().tally(found.printing);
    let (sign, role) = match (tally.in_place, tally.loose, tally.pocketed) {
        (1.., _, _) => (glyphs.in_place, Role::InPlace),
        (0, 1.., _) => (glyphs.waiting, Role::Waiting),
        (0, 0, 1..) => (glyphs.misplaced, Role::Misplaced),
        (0, 0, 0) => (glyphs.gap_sign, Role::Gap),
    };
    paint::sign(buf, (row.x + 2, row.y), sign, theme.style(role));
    let place = place_words(desk, found, room_beside(row));
    let (collection, printing) = (desk.collection(), found.printing);
    let words = hand::named(collection, printing);
    let left = usize::from(room_for_what(row));
    let words = rows::cut_card(collection, &words, printing, left, glyphs.more);
    draw_row(desk, chosen, row, &words, &place, buf);
}

fn place_words(desk: &Desk, found: &Found, most: u16) -> String {
    let collection = desk.collection();
    let Some(place) = found.place else {
        return "no pocket is meant for it".into();
    };
    let name = report::binder_words(collection, place.binder);
    let at = report::pocket_at(collection, place);
    rows::place_words(&name, place.page, at, most, desk.theme.glyphs().more)
}
