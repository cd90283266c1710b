//! Drawing a list: which it is, what narrows it, and a line for each card.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{LISTS, List};
use crate::hand;
use crate::model::Collection;
use crate::report::{self, Asked, Listed};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::rows;
use crate::ui::theme::Role;

/// Columns that the field keeps where more is told beside it.
const LEAST_FIELD: u16 = 24;
/// From this width on a column tells the rarity.
const WIDE: u16 = 100;

impl List {
    pub(super) fn rows(&self, desk: &Desk) -> Rect {
        self.rooms(desk)[0]
    }

    /// The rows, and what stands below them.
    fn rooms(&self, desk: &Desk) -> [Rect; 2] {
        let body = desk.body();
        let above = 3.min(body.height.saturating_sub(1));
        rows::with_foot(Rect {
            y: body.y + above,
            height: body.height - above,
            ..body
        })
    }

    /// The names of the lists with the places where they stand; the present one tells how many.
    /// Where not all have room it is those around the present one.
    fn tabs(&self, desk: &Desk) -> Vec<(Asked, String, Rect)> {
        let tabs = (0..LISTS.len()).map(|first| self.tabs_from(desk, &LISTS[first..]));
        let mut tabs = tabs.filter(|tabs| tabs.iter().any(|(asked, ..)| *asked == self.asked));
        tabs.next().unwrap_or_default()
    }

    fn tabs_from(&self, desk: &Desk, lists: &[Asked]) -> Vec<(Asked, String, Rect)> {
        let body = desk.body();
        let mut x = body.x + 1;
        let mut tabs = Vec::new();
        for &asked in lists {
            let words = if asked == self.asked {
                self.heading()
            } else {
                name(asked).to_owned()
            };
            let width = text::columns(&words) as u16;
            if x + width > body.right() && !tabs.is_empty() {
                break;
            }
            tabs.push((asked, words, Rect::new(x, body.y, width, 1)));
            x += width + 3;
        }
        tabs
    }

    pub(super) fn tab_under(&self, desk: &Desk, at: (u16, u16)) -> Option<Asked> {
        let tabs = self.tabs(desk);
        let under = tabs.iter().find(|(_, _, place)| place.contains(at.into()));
        under.map(|(asked, ..)| *asked)
    }

    /// `wants: 57 of 575`.
    pub(super) fn heading(&self) -> String {
        if !self.is_there() {
            return name(self.asked).into();
        }
        let [shown, all] = self.copies;
        let number = if shown == all {
            all.to_string()
        } else {
            format!("{shown} of {all}")
        };
        let kept = match (self.asked, self.keep) {
            (Asked::Spares, keep @ 1..) => format!(", keeping {keep} of each"),
            _ => String::new(),
        };
        format!("{}: {number}{kept}", name(self.asked))
    }

    /// Where one is, in a list that is longer than a screenful: `line 120 of 49997`.
    fn line_words(&self, desk: &Desk) -> String {
        match self.shown.len() {
            many if many > usize::from(self.rows(desk).height) => {
                format!("line {} of {many}", self.chosen + 1)
            }
            _ => String::new(),
        }
    }

    pub(crate) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme, collection) = (desk.body(), desk.theme, desk.collection());
        for (asked, words, place) in self.tabs(desk) {
            let role = if asked == self.asked {
                Role::Strong
            } else {
                Role::Quiet
            };
            let at = (place.x, place.y);
            paint::line(buf, at, place.width, &words, theme.style(role));
        }
        let width = body.width.saturating_sub(2);
        let at = (body.x + 1, body.y + 1);
        let (label, field) = match &self.file {
            Some(file) => ("Write to the file: ", file),
            None => ("Only: ", &self.field),
        };
        let used = paint::line(buf, at, width, label, theme.style(Role::Key));
        let room = width - used;
        let line = self.line_words(desk);
        let beside = text::columns(&line) as u16 + 2;
        let is_told = self.file.is_none() && !line.is_empty() && room >= beside + LEAST_FIELD;
        let room = if is_told { room - beside } else { room };
        field.draw((at.0 + used, at.1), room, true, theme, buf);
        if is_told {
            let at = (at.0 + width + 2 - beside, at.1);
            paint::line(buf, at, beside - 2, &line, theme.style(Role::Quiet));
        }
        let told = match (&self.file, self.narrowed.told(desk.collection())) {
            (Some(_), _) => "a name ending in .csv makes a table, any other plain text".to_owned(),
            (None, Some(told)) => told,
            (None, None) => {
                "a set, a finish, a rarity, a number, a part of a name, or: in BINDER".to_owned()
            }
        };
        let [rows, foot] = self.rooms(desk);
        if rows.y > body.y + 2 {
            let quiet = theme.style(Role::Quiet);
            paint::line(buf, (at.0, at.1 + 1), width, &told, quiet);
        }
        let first = self.first_shown(rows);
        let shown = self.shown.iter().enumerate().skip(first);
        for (y, (at, row)) in (rows.top()..rows.bottom()).zip(shown) {
            let line = Rect {
                y,
                height: 1,
                ..rows
            };
            draw_row(desk, row, at == self.chosen, line, buf);
        }
        if let Some(row) = self.shown.get(self.chosen) {
            let (place, card) = (place_words(collection, row), card_words(collection, row));
            rows::draw_foot(desk, foot, &place, &card, buf);
        }
        if self.shown.is_empty() && (self.is_there() || self.failed) {
            let room = usize::from(width.saturating_sub(1));
            let lines = text::wrap(&self.nothing(desk), room, 4, theme.glyphs().more);
            for (y, line) in (rows.top()..rows.bottom()).zip(&lines) {
                paint::line(buf, (rows.x + 2, y), width, line, theme.style(Role::Text));
            }
        }
    }
}

pub(super) fn name(asked: Asked) -> &'static str {
    match asked {
        Asked::Wants => "wants",
        Asked::Gaps => "gaps",
        Asked::Waiting => "waiting",
        Asked::Spares => "spares",
    }
}

fn draw_row(desk: &Desk, row: &Listed, chosen: bool, area: Rect, buf: &mut Buffer) {
    let (collection, theme) = (desk.collection(), desk.theme);
    let style = theme.style(if chosen { Role::Selected } else { Role::Text });
    let quiet = theme.style(Role::Quiet);
    let here = if chosen { theme.glyphs().here } else { " " };
    paint::sign(buf, (area.x, area.y), here, theme.style(Role::Cursor));
    let room = area.width.saturating_sub(3);
    let left = rows::card_width(room);
    let (rare, left) = if area.width >= WIDE {
        (12, left - 12)
    } else {
        (0, left)
    };
    let at = (area.x + 2, area.y);
    let (words, more) = (card_words(collection, row), theme.glyphs().more);
    let words = rows::cut_card(collection, &words, row.printing, left.into(), more);
    paint::line(buf, at, left, &words, style);
    if rare > 0 {
        let at = (at.0 + left + 1, at.1);
        paint::line(buf, at, rare - 1, rarity(collection, row), quiet);
    }
    let at = (at.0 + left + rare + 1, at.1);
    let width = area.right().saturating_sub(at.0);
    let words = match row.place {
        Some(place) => {
            let more = theme.glyphs().more;
            rows::place_words(
                &report::binder_words(collection, place.binder),
                place.page,
                row.at,
                width,
                more,
            )
        }
        None if width < rows::FULL_PLACE => "no pocket".into(),
        None => NO_POCKET.into(),
    };
    paint::line(buf, at, width, &words, quiet);
}

/// `MOSS 12a Moss Owl, Asleep`, of several copies with their number before it.
pub(super) fn card_words(collection: &Collection, row: &Listed) -> String {
    let words = hand::named(collection, row.printing);
    match row.count {
        1 => words,
        many => format!("{many} x {words}"),
    }
}

pub(super) fn rarity<'c>(collection: &'c Collection, row: &Listed) -> &'c str {
    let set = collection.set(row.printing.set());
    let card = collection.card(row.printing);
    set.zip(card)
        .map_or("", |(set, card)| set.rarity_name(card))
}

const NO_POCKET: &str = "no pocket is meant for it";

/// The pocket in full.
pub(super) fn place_words(collection: &Collection, row: &Listed) -> String {
    let Some((place, at)) = row.place.zip(row.at) else {
        return NO_POCKET.into();
    };
    let name = report::binder_words(collection, place.binder);
    format!("{name}, {}", report::pocket_words(place.page, at))
}
