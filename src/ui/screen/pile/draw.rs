//! Drawing the entry of a pile: the binder above, below it the field and what was entered.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::Pile;
use crate::model::Collection;
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
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

    pub(super) fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        Rect {
            y: window.y + 2,
            height: window.height.saturating_sub(2),
            ..window
        }
    }

    pub(crate) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme, body) = (self.window(desk), desk.theme, desk.body());
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        match &self.behind {
            Some(behind) => behind.draw_within(desk, above, buf),
            None => {
                let words = "The pile: choose a set, then type a number and Enter for each card";
                let area = paint::centred(above, words.len() as u16, 1);
                paint::line(
                    buf,
                    (area.x, area.y),
                    area.width,
                    words,
                    theme.style(Role::Quiet),
                );
            }
        }
        let width = window.width.saturating_sub(2);
        let head = self.head(desk.collection());
        paint::line(
            buf,
            (window.x + 1, window.y),
            width,
            &head,
            theme.style(Role::Strong),
        );
        let label = if self.choosing { "Set: " } else { "Card: " };
        let at = (window.x + 1, window.y + 1);
        let used = paint::line(buf, at, width, label, theme.style(Role::Key));
        let room = width.saturating_sub(used);
        self.field.draw((at.0 + used, at.1), room, true, theme, buf);
        if self.choosing {
            self.draw_sets(desk, buf);
        } else {
            self.draw_entered(desk, buf);
        }
    }

    /// The set and how far it is, finish by finish.
    fn head(&self, collection: &Collection) -> String {
        let mut words = format!(
            "The pile: {} entered",
            text::count(u64::from(self.cards), "card", "cards")
        );
        let Some(set) = self.set else {
            return words;
        };
        for told in report::completion(collection, Some(set)) {
            let title = collection.set(set).map_or("", |set| set.title());
            let share = report::percent(told.all.held, told.all.total).unwrap_or_default();
            words = format!(
                "{words}. {title}: {} of {} ({share})",
                told.all.held, told.all.total
            );
            if told.by_finish.len() > 1 {
                for (finish, counts) in &told.by_finish {
                    words.push_str(&format!(", {finish} {}/{}", counts.held, counts.total));
                }
            }
        }
        words
    }

    fn draw_sets(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let shown = self.candidates.iter().enumerate();
        for (y, (at, set)) in (list.top()..list.bottom()).zip(shown) {
            let Some(set) = desk.collection().set(*set) else {
                continue;
            };
            let head = set.head();
            let words = format!(
                "{} {} {}  {}",
                head.symbol, head.shelf, head.code, head.title
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

    fn draw_entered(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let newest = self.entered.iter().rev();
        for (y, entered) in (list.top()..list.bottom()).zip(newest) {
            let width = list.width.saturating_sub(3);
            let times = match entered.count {
                1 => String::new(),
                many => format!(" x{many}"),
            };
            let words = format!("{}{times}: {}", entered.words, entered.answer);
            paint::line(
                buf,
                (list.x + 2, y),
                width,
                &words,
                theme.style(entered.role),
            );
        }
    }
}
