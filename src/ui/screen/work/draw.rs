//! Drawing the sheet below the binder.

use std::cmp::Ordering;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::ways::{left_words, page_words};
use super::{Work, counted};
use crate::hand;
use crate::model::{Change, PrintingId};
use crate::plan::Deed;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows;
use crate::ui::theme::Role;

/// A line of the list, and the deed that it tells, by its place among the open ones.
pub(super) struct Line {
    pub(super) deed: usize,
    words: String,
    /// The deed has lines before this one.
    goes_on: bool,
}

/// The marked deed takes so many lines at the most.
const MOST_LINES: usize = 5;

/// Below this height the sheet takes the whole screen.
const LOW: u16 = 10;

impl Work {
    /// The sheet stands below the binder.
    pub(super) fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        let usual = (body.height / 3).clamp(5, 14);
        let ways = self.ways.as_ref().map_or(0, |ways| ways.height() + 1);
        let height = match body.height {
            // Above it no pocket could be seen.
            ..LOW => body.height,
            _ => usual.max(ways).min(body.height),
        };
        Rect {
            y: body.bottom() - height,
            height,
            ..body
        }
    }

    pub(super) fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        // The figures give way where the marked deed and one more need their line.
        let marked = self.marked(desk, window.width).len() as u16;
        let figures = !self.is_choosing() && marked + 3 <= window.height;
        let top = window.y + 1 + u16::from(figures);
        Rect {
            y: top,
            height: window.bottom().saturating_sub(top),
            ..window
        }
    }

    /// The marked deed in full, without its box.
    pub(super) fn marked(&self, desk: &Desk, width: u16) -> Vec<String> {
        let Some(marked) = self.open.get(self.chosen) else {
            return Vec::new();
        };
        let (whole, more) = (self.binder.is_none(), desk.theme.glyphs().more);
        let deed = &self.sheet.deeds[*marked];
        let words = hand::deed_words(desk.collection(), &self.sheet, deed, whole);
        let width = usize::from(width).saturating_sub(3 + box_columns(desk));
        text::wrap(&text::safe(&words), width, MOST_LINES, more)
    }

    /// The lines that are seen: the marked deed in full, of the others what one line takes.
    pub(super) fn lines(&self, desk: &Desk, list: Rect) -> Vec<Line> {
        let (theme, collection) = (desk.theme, desk.collection());
        let (more, sign) = (theme.glyphs().more, theme.glyphs().box_open);
        let (room, width) = (
            usize::from(list.height),
            usize::from(list.width).saturating_sub(3 + box_columns(desk)),
        );
        let no_box = " ".repeat(box_columns(desk));
        let whole = self.binder.is_none();
        let words = |deed| hand::deed_words(collection, &self.sheet, deed, whole);
        let mut marked = self.marked(desk, list.width);
        marked.truncate(room);
        let others = room.saturating_sub(marked.len());
        let first = self.chosen.saturating_sub(others);
        let mut lines = Vec::new();
        for (deed, number) in self.open.iter().enumerate().skip(first).take(room) {
            if deed == self.chosen {
                lines.extend(marked.iter().enumerate().map(|(at, line)| Line {
                    deed,
                    words: format!("{} {line}", if at == 0 { sign } else { &no_box }),
                    goes_on: at > 0,
                }));
                continue;
            }
            let told = &self.sheet.deeds[*number];
            let line = match card_of(told) {
                Some(card) => rows::cut_card(collection, &words(told), card, width, more),
                None => text::fit(&text::safe(&words(told)), width, more),
            };
            lines.push(Line {
                deed,
                words: format!("{sign} {line}"),
                goes_on: false,
            });
        }
        lines.truncate(room);
        lines
    }

    /// How much is done and left.
    fn head(&self, desk: &Desk) -> String {
        let what = match self.from_draft {
            true => "Work sheet of the real binder",
            false => "Work sheet",
        };
        if !self.is_true(desk) {
            return what.into();
        }
        if self.is_choosing() {
            let pages = page_words(&self.sheet.work.figures);
            return format!("{what}: how will you go about it?{pages}");
        }
        let left = self.sheet.deeds.len();
        let done = self.done();
        let mut words = format!("{what}: {left} left, {done} done");
        if !self.skipped.is_empty() {
            words.push_str(&format!(", {} not found", self.skipped.len()));
        }
        let room = usize::from(desk.area.width.saturating_sub(2));
        // A part that would be cut is left out, or told in fewer words.
        let mut add = |part: &str| {
            let fits = text::columns(&words) + text::columns(part) <= room;
            if fits {
                words.push_str(part);
            }
            fits
        };
        if self.chosen > 0 {
            let key = desk.key(Context::Work, Intent::Done);
            add(&format!("; {key} ticks {} lines", self.chosen + 1));
        }
        let deed = self.open.get(self.chosen).map(|at| &self.sheet.deeds[*at]);
        if deed.is_some_and(|deed| !deed.in_front.is_empty()) {
            let _ = add("; the card in front comes out first, and goes back")
                || add("; behind another card");
        }
        if self.elsewhere > 0 {
            add(&format!("; {} for other binders", self.elsewhere));
        }
        let without = self.sheet.unfilled.len();
        if without > 0 {
            let pockets = counted(without, "pocket stays a gap", "pockets stay gaps");
            let _ = add(&format!("; {pockets}, no copy is there")) || add(&format!("; {pockets}"));
        }
        words
    }

    pub(super) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme) = (self.window(desk), desk.theme);
        let body = desk.body();
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        if let Some(behind) = &self.behind {
            behind.draw_within(desk, above, buf);
        }
        let width = window.width.saturating_sub(2);
        let head = self.head(desk);
        paint::clear(buf, window);
        paint::line(
            buf,
            (window.x + 1, window.y),
            width,
            &head,
            theme.style(Role::Strong),
        );
        if !self.is_true(desk) {
            return;
        }
        let list = self.list(desk);
        if let Some(ways) = &self.ways {
            return ways.draw(desk, list, buf);
        }
        if list.y > window.y + 1 {
            let at_most = theme.glyphs().at_most;
            let figures = left_words(&self.sheet.work.figures, self.way, at_most);
            let at = (window.x + 1, window.y + 1);
            paint::line(buf, at, width, &figures, theme.style(Role::Quiet));
        }
        for (y, line) in (list.top()..list.bottom()).zip(self.lines(desk, list)) {
            let role = match line.deed.cmp(&self.chosen) {
                Ordering::Equal => Role::Selected,
                Ordering::Less => Role::Strong,
                Ordering::Greater => Role::Text,
            };
            if line.deed == self.chosen && !line.goes_on {
                let here = theme.glyphs().here;
                paint::sign(buf, (list.x, y), here, theme.style(Role::Cursor));
            }
            paint::line(buf, (list.x + 2, y), width, &line.words, theme.style(role));
        }
        if self.open.is_empty() {
            self.draw_end(desk, list, buf);
        }
    }
}

/// Columns of the box that is ticked.
fn box_columns(desk: &Desk) -> usize {
    text::columns(desk.theme.glyphs().box_open)
}

/// The card that a deed is about.
fn card_of(deed: &Deed) -> Option<PrintingId> {
    deed.changes.iter().find_map(|change| match change {
        Change::Lift { printing, .. } | Change::Seat { printing, .. } => Some(*printing),
        _ => None,
    })
}
