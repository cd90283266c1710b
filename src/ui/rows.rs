//! Rows of a list: the card at the left, the place where it belongs at the right. Where a row has
//! little room names are cut and pages are not, and the marked row is told in full at the foot.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::desk::Desk;
use super::paint;
use super::theme::Role;
use crate::model::{Collection, PocketAt, PrintingId};
use crate::report;
use crate::text;

/// The rows of a list that are seen: as many as have room, the chosen one among them. For drawing
/// and for the mouse alike, so that a click meets what was drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    area: Rect,
    first: usize,
    many: usize,
}

impl Seen {
    /// Of so many rows, a line each.
    pub(super) fn of(area: Rect, chosen: usize, many: usize) -> Self {
        let room = usize::from(area.height).max(1);
        Self {
            area,
            first: (chosen + 1).saturating_sub(room),
            many,
        }
    }

    /// The lines of the screen, each with its row.
    pub(super) fn rows(self) -> impl Iterator<Item = (u16, usize)> {
        (self.area.top()..self.area.bottom()).zip(self.first..self.many)
    }

    /// The row at a point of the screen.
    pub(super) fn under(self, (x, y): (u16, u16)) -> Option<usize> {
        let is_inside = self.area.contains((x, y).into());
        let row = self.first + usize::from(y.saturating_sub(self.area.y));
        (is_inside && row < self.many).then_some(row)
    }
}

/// So many columns take a place in full.
pub(super) const FULL_PLACE: u16 = 40;
/// So many take one without row and pocket and with its commas.
const EASY_PLACE: u16 = 24;
/// `wood, page 10 front`: a short place with its binder, and without.
const SHORT_PLACE: u16 = 19;
const BARE_PLACE: u16 = 13;
/// Less of a binder's name than this says nothing.
const LEAST_NAME: usize = 4;
const NARROW: u16 = 60;
const FOOT: u16 = 2;

/// Columns for the card in a row of so many; a space and the place take the rest.
pub(super) fn card_width(room: u16) -> u16 {
    let place = match room {
        36.. => SHORT_PLACE,
        _ => BARE_PLACE,
    };
    (room * 5 / 9)
        .min(room.saturating_sub(place))
        .max(8)
        .min(room)
}

/// A place in `most` columns: with row and pocket where most places have the room for it, so that
/// all lines of a list read alike. The binder's name gives way, the page does not.
pub(super) fn place_words(
    binder: &str,
    page: usize,
    at: Option<PocketAt>,
    most: u16,
    more: char,
) -> String {
    let words = match at {
        Some(at) if most >= FULL_PLACE => report::pocket_words(page, at),
        Some(at) if most >= EASY_PLACE => format!("page {}, {}", page + 1, at.side),
        Some(at) => format!("page {} {}", page + 1, at.side),
        None => format!("page {}", page + 1),
    };
    let binder = text::safe(binder);
    let room = usize::from(most).saturating_sub(text::columns(&words) + 2);
    if binder.is_empty() || room < LEAST_NAME.min(text::columns(&binder)) {
        return words;
    }
    format!("{}, {words}", text::fit(&binder, room, more))
}

/// Whether rows are cut so much that the marked one is told in full.
fn is_narrow(area: Rect) -> bool {
    area.width < NARROW
}

/// The rows of a list, and below them the lines for the marked one where rows are cut.
pub(super) fn with_foot(rows: Rect) -> [Rect; 2] {
    let foot = match rows.height {
        4.. if is_narrow(rows) => FOOT,
        _ => 0,
    };
    let height = rows.height - foot;
    [
        Rect { height, ..rows },
        Rect {
            y: rows.y + height,
            height: foot,
            ..rows
        },
    ]
}

/// The marked row in full: where it is, then which card, so that a long name is what is cut.
pub(super) fn draw_foot(desk: &Desk, foot: Rect, place: &str, card: &str, buf: &mut Buffer) {
    draw_foot_words(desk, foot, &format!("{place}: {card}"), buf);
}

/// The same for a row that is told in one.
pub(super) fn draw_foot_words(desk: &Desk, foot: Rect, words: &str, buf: &mut Buffer) {
    let theme = desk.theme;
    let width = foot.width.saturating_sub(2);
    let lines = text::wrap(
        &text::safe(words),
        width.into(),
        foot.height.into(),
        theme.glyphs().more,
    );
    for (y, line) in (foot.top()..foot.bottom()).zip(&lines) {
        paint::line(buf, (foot.x + 1, y), width, line, theme.style(Role::Strong));
    }
}

/// Words in which a card stands, cut to their room: the name of the card gives way first, down to
/// its first letters, then the end. Its number and its finish say which card it is.
pub(super) fn cut_card(
    collection: &Collection,
    words: &str,
    card: PrintingId,
    most: usize,
    more: char,
) -> String {
    let card = collection.card(card);
    let (number, name) = card.map_or(("", ""), |card| (&card.number, &card.name));
    cut_name(words, number, name, most, more)
}

/// The same for the card of this number and name.
fn cut_name(words: &str, number: &str, name: &str, most: usize, more: char) -> String {
    let (words, name) = (text::safe(words), text::safe(name));
    let over = text::columns(&words).saturating_sub(most);
    if over == 0 || name.is_empty() {
        return text::fit(&words, most, more);
    }
    let room = text::columns(&name).saturating_sub(over).max(LEAST_NAME);
    let with = |name: &str| format!("{} {name}", text::safe(number));
    let shorter = words.replacen(&with(&name), &with(&text::fit(&name, room, more)), 1);
    text::fit(&shorter, most, more)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Side;

    fn at() -> Option<PocketAt> {
        Some(PocketAt {
            side: Side::Back,
            row: 2,
            column: 0,
        })
    }

    #[test]
    fn the_page_stands_in_every_row_whatever_the_binder_is_called() {
        let long = "a name that somebody thought of on a long evening";
        for name in ["wood", long, ""] {
            for most in 13..80 {
                let words = place_words(name, 98, at(), most, '~');
                assert!(words.contains("page 99"), "{words:?} in {most}");
                assert!(
                    text::columns(&words) <= usize::from(most),
                    "{words:?} in {most}"
                );
            }
        }
        let words = |most| place_words("wood", 18, at(), most, '~');
        assert_eq!(words(40), "wood, page 19, back, row 3, pocket 1");
        assert_eq!(words(39), "wood, page 19, back");
        assert_eq!(words(23), "wood, page 19 back");
        assert_eq!(words(13), "page 19 back");
    }

    #[test]
    fn a_click_meets_the_row_that_is_seen_there() {
        for height in 0..6 {
            let area = Rect::new(3, 2, 10, height);
            for many in 0..9 {
                for chosen in 0..many.max(1) {
                    let seen = Seen::of(area, chosen, many);
                    let rows: Vec<_> = seen.rows().collect();
                    assert_eq!(rows.len(), many.min(usize::from(height)));
                    if height > 0 && many > 0 {
                        assert!(rows.iter().any(|(_, row)| *row == chosen));
                    }
                    for y in 0..12 {
                        let drawn = rows.iter().find(|(line, _)| *line == y);
                        assert_eq!(seen.under((5, y)), drawn.map(|(_, row)| *row));
                        assert_eq!(seen.under((13, y)), None);
                    }
                }
            }
        }
    }

    #[test]
    fn a_row_has_room_for_the_page_and_for_some_letters_of_the_card() {
        for room in 21..200 {
            let card = card_width(room);
            assert!(card >= 8 && room - card >= BARE_PLACE, "{card} of {room}");
        }
    }

    #[test]
    fn of_a_sentence_the_name_is_cut_before_the_place() {
        let words = "Take out 18 Larch Glowworm, etched: page 3, back";
        let cut = |most| cut_name(words, "18", "Larch Glowworm", most, '~');
        assert_eq!(cut(48), words);
        assert_eq!(cut(42), "Take out 18 Larch G~, etched: page 3, back");
        assert_eq!(cut(36), "Take out 18 Lar~, etched: page 3, b~");
        // The name is found where it stands behind the number, and nowhere else.
        let cut = cut_name("WOOD 3 WOODLARK, etched", "3", "WOODLARK", 20, '~');
        assert_eq!(cut, "WOOD 3 WOOD~, etched");
    }
}
