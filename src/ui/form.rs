//! A form: lines with what is asked for, and behind it what is typed or chosen there. One of them
//! has the cursor.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::desk::Desk;
use super::field::Field;
use super::intent::Intent;
use super::paint;
use super::rows::Seen;
use super::theme::Role;

/// What stands behind the label of a line.
#[derive(Debug)]
pub(super) enum Value<'a> {
    /// To type in.
    Field(&'a Field),
    /// So many columns to type in, and behind them a hint.
    Short(&'a Field, u16, &'a str),
    /// One of some choices.
    Choice(&'a str),
}

/// Where the lines stand. Which of them there are, and which has the cursor, the screen says.
#[derive(Clone, Copy, Debug)]
pub(super) struct Form {
    area: Rect,
    /// Columns for the labels.
    label: u16,
}

/// Before the label: the sign of the line with the cursor, and a space.
const BEFORE: u16 = 2;

impl Form {
    pub(super) fn of(area: Rect, label: u16) -> Self {
        Self { area, label }
    }

    /// At the top of a window, with so many lines of it kept free below.
    pub(super) fn in_window(window: Rect, label: u16, below: u16) -> Self {
        let inside = paint::inside(window);
        let area = Rect {
            width: inside.width.saturating_sub(1),
            height: inside.height.saturating_sub(below).max(1),
            ..inside
        };
        Self::of(area, label)
    }

    /// The lines that are seen: on a low screen those around the one with the cursor.
    pub(super) fn seen<T: Copy + PartialEq>(self, rows: &[T], focus: T) -> Seen {
        Seen::of(self.area, place(rows, focus), rows.len())
    }

    /// The line under a point of the screen.
    pub(super) fn under<T: Copy + PartialEq>(
        self,
        rows: &[T],
        focus: T,
        at: (u16, u16),
    ) -> Option<T> {
        let under = self.seen(rows, focus).under(at)?;
        rows.get(under).copied()
    }

    pub(super) fn draw<'a, T: Copy + PartialEq>(
        self,
        desk: &Desk,
        rows: &[T],
        focus: T,
        line: impl Fn(T) -> (&'a str, Value<'a>),
        buf: &mut Buffer,
    ) {
        let theme = desk.theme;
        for (y, at) in self.seen(rows, focus).rows() {
            let (label, value) = line(rows[at]);
            let chosen = at == place(rows, focus);
            let (role, here) = match chosen {
                true => (Role::Key, theme.glyphs().here),
                false => (Role::Quiet, " "),
            };
            let x = self.area.x;
            paint::sign(buf, (x, y), here, theme.style(Role::Cursor));
            paint::line(buf, (x + BEFORE, y), self.label, label, theme.style(role));
            let used = BEFORE + self.label + 1;
            let (x, room) = (x + used, self.area.width.saturating_sub(used));
            match value {
                Value::Field(field) => field.draw((x, y), room, chosen, theme, buf),
                Value::Short(field, most, hint) => {
                    field.draw((x, y), room.min(most), chosen, theme, buf);
                    let (x, room) = (x + most + 1, room.saturating_sub(most + 1));
                    paint::line(buf, (x, y), room, hint, theme.style(Role::Quiet));
                }
                Value::Choice(words) => {
                    let role = if chosen { Role::Strong } else { Role::Text };
                    paint::line(buf, (x, y), room, words, theme.style(role));
                }
            }
        }
    }
}

/// The place of the line with the cursor; the first where that line is not there any more.
fn place<T: Copy + PartialEq>(rows: &[T], focus: T) -> usize {
    rows.iter().position(|row| *row == focus).unwrap_or(0)
}

/// The line that has the cursor after this: the next or the one before, round and round; for what
/// goes to neither the same.
pub(super) fn stepped<T: Copy + PartialEq>(rows: &[T], focus: T, intent: Intent) -> T {
    let by = match intent {
        Intent::NextField => 1,
        Intent::PreviousField => -1,
        _ => 0,
    };
    let at = turned(place(rows, focus), by, rows.len());
    rows.get(at).copied().unwrap_or(focus)
}

/// Another one of so many choices, that many places on, round and round.
pub(super) fn turned(at: usize, by: isize, many: usize) -> usize {
    let many = many.max(1);
    (at % many + many).wrapping_add_signed(by % many as isize) % many
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_cursor_goes_round_the_lines_that_are_there() {
        let rows = ['a', 'c', 'd'];
        let next = |focus| stepped(&rows, focus, Intent::NextField);
        let before = |focus| stepped(&rows, focus, Intent::PreviousField);
        assert_eq!(['a', 'c', 'd'].map(next), ['c', 'd', 'a']);
        assert_eq!(['a', 'c', 'd'].map(before), ['d', 'a', 'c']);
        // From a line that has gone, as from the first.
        assert_eq!((next('b'), before('b')), ('c', 'd'));
        assert_eq!(stepped(&rows, 'c', Intent::Accept), 'c');
        assert_eq!(stepped::<char>(&[], 'b', Intent::NextField), 'b');
    }

    #[test]
    fn choices_go_round() {
        assert_eq!([0, 1, 2].map(|at| turned(at, 1, 3)), [1, 2, 0]);
        assert_eq!([0, 1, 2].map(|at| turned(at, -1, 3)), [2, 0, 1]);
        assert_eq!((turned(7, 0, 3), turned(0, -1, 0)), (1, 0));
    }

    #[test]
    fn on_a_low_screen_the_line_with_the_cursor_is_seen_and_clicked() {
        let form = Form::in_window(Rect::new(0, 0, 30, 6), 10, 2);
        let rows = [0, 1, 2, 3, 4];
        for focus in rows {
            let seen: Vec<usize> = form.seen(&rows, focus).rows().map(|(_, at)| at).collect();
            assert_eq!(seen.len(), 2);
            assert!(seen.contains(&focus));
            for (y, at) in form.seen(&rows, focus).rows() {
                assert_eq!(form.under(&rows, focus, (5, y)), Some(at));
            }
            assert_eq!(form.under(&rows, focus, (5, 0)), None);
        }
    }
}
