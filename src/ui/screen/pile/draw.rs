//! Drawing the entry of a pile: the binder above, below it the field and what was entered.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::Pile;
use crate::model::Collection;
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Pile {
    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        let height = (body.height * 2 / 5).clamp(5, 14).min(body.height);
        Rect {
            y: body.bottom() - height,
            height,
            ..body
        }
    }

    /// How far the set is; the rarities have a line of their own where there is room.
    fn head_lines(&self, desk: &Desk) -> Vec<String> {
        let window = self.window(desk);
        let width = usize::from(window.width.saturating_sub(2));
        let mut lines = self.head(desk.collection(), width);
        lines.truncate(if window.height >= 7 { 2 } else { 1 });
        lines
    }

    pub(super) fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        let above = self.head_lines(desk).len() as u16 + 1;
        Rect {
            y: (window.y + above).min(window.bottom()),
            height: window.height.saturating_sub(above),
            ..window
        }
    }

    pub(crate) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme, body) = (self.window(desk), desk.theme, desk.body());
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        match &self.behind {
            Some(behind) => behind.draw_within(desk, above, buf),
            None => {
                let key = desk.key(Context::Pile, Intent::Accept);
                let words =
                    format!("The pile: choose a set, then type a number and {key} for each card");
                let area = paint::centred(above, words.len() as u16, 1);
                paint::line(
                    buf,
                    (area.x, area.y),
                    area.width,
                    &words,
                    theme.style(Role::Quiet),
                );
            }
        }
        let width = window.width.saturating_sub(2);
        let head = self.head_lines(desk);
        for (y, line) in (window.y..).zip(&head) {
            paint::line(
                buf,
                (window.x + 1, y),
                width,
                line,
                theme.style(Role::Strong),
            );
        }
        let label = if self.choosing { "Set: " } else { "Card: " };
        let at = (window.x + 1, window.y + head.len() as u16);
        let used = paint::line(buf, at, width, label, theme.style(Role::Key));
        let room = width.saturating_sub(used);
        self.field.draw((at.0 + used, at.1), room, true, theme, buf);
        if self.choosing {
            self.draw_sets(desk, buf);
        } else {
            self.draw_entered(desk, buf);
        }
    }

    /// The set and how far it is: as far as it is collected, then finish by finish; below it rarity
    /// by rarity.
    fn head(&self, collection: &Collection, width: usize) -> Vec<String> {
        let cards = text::count(u64::from(self.cards), "card", "cards");
        let entered = format!("{cards} entered");
        let Some((told, set)) = (self.far.as_ref()).and_then(|f| Some((f, collection.set(f.set)?)))
        else {
            return vec![format!("The pile: {entered}")];
        };
        let (held, total) = (told.collected.held, told.collected.total);
        let share = report::percent(held, total).map_or_else(String::new, |s| format!(" ({s})"));
        let title = text::safe(set.title());
        let first = format!("{entered}. {title}: you have {held} of {total}{share}");
        let is_out = |finish: &str| {
            let at = set.finish_by_name(finish);
            at.is_some_and(|at| set.is_left_out(at))
        };
        let part = |(name, counts): &(Box<str>, report::Counts)| {
            let name = if name.is_empty() { "others" } else { name };
            format!("{} {}/{}", text::safe(name), counts.held, counts.total)
        };
        let finishes = told.by_finish.iter().filter(|(name, _)| !is_out(name));
        let finishes: Vec<_> = finishes.map(part).collect();
        let rarities: Vec<_> = told.by_rarity.iter().map(part).collect();
        let mut lines = vec![if finishes.len() > 1 {
            joined(first, &finishes, width)
        } else {
            first
        }];
        if rarities.len() > 1 {
            lines.push(joined(rarities[0].clone(), &rarities[1..], width));
        }
        lines
    }

    fn draw_sets(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let room = usize::from(list.height);
        let beyond = match self.candidates.len() {
            many if many > room => many + 1 - room,
            _ => 0,
        };
        if beyond > 0 {
            let words = format!("and {beyond} more: type a part of the title");
            let quiet = theme.style(Role::Quiet);
            let at = (list.x + 3, list.bottom().saturating_sub(1));
            paint::line(buf, at, list.width.saturating_sub(4), &words, quiet);
        }
        let shown = self.candidates.len() - beyond;
        let shown = self.candidates.iter().take(shown).enumerate();
        for (y, (at, set)) in (list.top()..list.bottom()).zip(shown) {
            let Some(set) = desk.collection().set(*set) else {
                continue;
            };
            let head = set.head();
            let words = format!(
                "{} {} {}  {}",
                theme.symbol(&head.symbol),
                head.shelf,
                head.code,
                head.title
            );
            let role = if at == self.chosen {
                Role::Selected
            } else {
                Role::Text
            };
            let width = list.width.saturating_sub(4);
            paint::line(buf, (list.x + 3, y), width, words.trim(), theme.style(role));
        }
    }

    /// The newest in full, with what would finish its page and its run; the others a line each.
    fn draw_entered(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let width = list.width.saturating_sub(3);
        let (room, more) = (usize::from(width), theme.glyphs().more);
        let mut lines: Vec<(String, Role)> = Vec::new();
        for (at, entered) in self.entered.iter().rev().enumerate() {
            if lines.len() >= usize::from(list.height) {
                break;
            }
            let times = match entered.count {
                1 => String::new(),
                many => format!(" x{many}"),
            };
            let line = |answer: &str| {
                let words = format!("{}{times}: {answer}", entered.words);
                text::safe(&words).into_owned()
            };
            let full = line(&entered.answer);
            if at == 0 {
                let full = text::wrap(&full, room, 2, more);
                lines.extend(full.into_iter().map(|line| (line, entered.role)));
                let hint = text::wrap(&text::safe(&entered.hint), room, 2, more);
                lines.extend(hint.into_iter().map(|line| (line, Role::Text)));
            } else if text::columns(&full) <= room {
                lines.push((full, entered.role));
            } else {
                lines.push((line(&entered.short), entered.role));
            }
        }
        for (y, (line, role)) in (list.top()..list.bottom()).zip(lines) {
            paint::line(buf, (list.x + 2, y), width, &line, theme.style(role));
        }
    }
}

/// As many of the parts as there is room for, each of them whole.
fn joined(first: String, parts: &[String], width: usize) -> String {
    let mut line = first;
    for (at, part) in parts.iter().enumerate() {
        let more = if at + 1 < parts.len() { 3 } else { 0 };
        if text::columns(&line) + text::columns(part) + 2 + more > width {
            return format!("{line}, \u{2026}");
        }
        line = format!("{line}, {part}");
    }
    line
}
