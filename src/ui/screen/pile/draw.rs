//! Drawing the entry of a pile: the binder above, below it the field and what was entered.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::Pile;
use crate::model::{Collection, Set, SetHead, SetId};
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows::Seen;
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
        let most = if window.height >= 7 { 3 } else { 1 };
        if lines.get(most).is_some_and(|(_, goes_on)| *goes_on) {
            let last = &mut lines[most - 1].0;
            last.push('\u{2026}');
        }
        lines.truncate(most);
        lines.into_iter().map(|(line, _)| line).collect()
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

    /// The sets to choose from. Where there are more, the last line says so.
    pub(super) fn seen(&self, desk: &Desk) -> Seen {
        let (list, many) = (self.list(desk), self.candidates.len());
        let over = u16::from(many > usize::from(list.height));
        let rows = Rect {
            height: list.height.saturating_sub(over),
            ..list
        };
        Seen::of(rows, self.chosen, many)
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
                let room = usize::from(above.width.saturating_sub(2));
                let lines = text::wrap(&words, room, above.height.into(), theme.glyphs().more);
                let width = lines.iter().map(|line| text::columns(line)).max();
                let (width, height) = (width.unwrap_or(0) as u16, lines.len() as u16);
                let area = paint::centred(above, width, height);
                for (y, line) in (area.y..).zip(&lines) {
                    let quiet = theme.style(Role::Quiet);
                    paint::line(buf, (area.x, y), area.width, line, quiet);
                }
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
        let set = self.set.and_then(|set| desk.collection().set(set));
        let label = match set.filter(|_| !self.choosing) {
            // A card of another set may have been the last.
            Some(set) => format!("{} card: ", text::safe(set.code())),
            None => (if self.choosing { "Set: " } else { "Card: " }).to_owned(),
        };
        let at = (window.x + 1, window.y + head.len() as u16);
        let used = paint::line(buf, at, width, &label, theme.style(Role::Key));
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
    fn head(&self, collection: &Collection, width: usize) -> Vec<HeadLine> {
        let cards = text::count(u64::from(self.cards), "card", "cards");
        let entered = format!("{cards} entered");
        let Some((told, set)) = (self.far.as_ref()).and_then(|f| Some((f, collection.set(f.set)?)))
        else {
            return vec![(format!("The pile: {entered}"), false)];
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
        let mut lines = match finishes.len() {
            0 | 1 => vec![(first, false)],
            _ => joined(first, &finishes, width),
        };
        if rarities.len() > 1 {
            lines.extend(joined(rarities[0].clone(), &rarities[1..], width));
        }
        lines
    }

    fn draw_sets(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let seen = self.seen(desk);
        let beyond = self.candidates.len() - seen.rows().count();
        if beyond > 0 {
            let words = format!("and {beyond} more: type a part of the title");
            let quiet = theme.style(Role::Quiet);
            let at = (list.x + 3, list.bottom().saturating_sub(1));
            paint::line(buf, at, list.width.saturating_sub(4), &words, quiet);
        }
        let head = |set: &SetId| desk.collection().set(*set).map(Set::head);
        let heads = || seen.rows().filter_map(|(_, at)| head(&self.candidates[at]));
        // Titles stand below each other.
        let before = |head: &SetHead| {
            let parts = [theme.symbol(&head.symbol), &head.shelf, &head.code];
            let parts = parts.into_iter().filter(|part| !part.is_empty());
            parts.collect::<Vec<_>>().join(" ")
        };
        let widest = heads().map(|head| text::columns(&before(head))).max();
        let widest = widest.unwrap_or(0).min(usize::from(list.width / 2));
        for (y, at) in seen.rows() {
            let Some(head) = head(&self.candidates[at]) else {
                continue;
            };
            let title = &head.title;
            let words = format!(
                "{}  {title}",
                text::pad(&before(head), widest, theme.glyphs().more)
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
        let mut lines = self.refused_seen(desk);
        let refused = lines.len();
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
            if at == 0 && refused == 0 {
                let full = text::wrap(&full, room, if room < 60 { 4 } else { 2 }, more);
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

/// A line, and whether it goes on with what the line before it began.
type HeadLine = (String, bool);

/// The parts on as many lines as they take, each of them whole.
fn joined(first: String, parts: &[String], width: usize) -> Vec<HeadLine> {
    let mut lines = vec![(first, false)];
    for part in parts {
        let at = lines.len() - 1;
        let line = &mut lines[at].0;
        line.push(',');
        // One column stays for the comma, and for the sign that something was left out.
        if text::columns(line) + text::columns(part) + 2 > width {
            lines.push((part.clone(), true));
        } else {
            line.push(' ');
            line.push_str(part);
        }
    }
    lines
}
