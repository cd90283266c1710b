//! The windows over the sections, drawn: templates, a name, the two ways to grow; and the foot.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::rooms::Rooms;
use super::{Mode, Sections};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Sections {
    /// Where the window of templates stands, and which of them are seen.
    pub(super) fn window(&self, desk: &Desk) -> Option<(Rect, Range<usize>)> {
        let rooms = Rooms::of(desk);
        let (many, here, wide) = match &self.mode {
            Mode::Templates { all, chosen } => (all.len(), *chosen, rooms.list.width),
            Mode::Growth { grown, chosen } => (grown.ways.len() + 1, *chosen + 1, 108),
            _ => return None,
        };
        let body = desk.body();
        let area = match &self.mode {
            Mode::Templates { .. } => Rect {
                height: (many as u16 + 2).min(rooms.list.height + rooms.words.height),
                ..rooms.list
            },
            _ => paint::centred(body, wide, many as u16 + 5),
        };
        let room = usize::from(area.height.saturating_sub(2)).max(1);
        let first = (here + 1).saturating_sub(room);
        Some((area, first..many.min(first + room)))
    }

    pub(super) fn draw_templates(&self, desk: &Desk, buf: &mut Buffer) {
        let (Mode::Templates { all, chosen }, Some((area, seen))) = (&self.mode, self.window(desk))
        else {
            return;
        };
        let theme = desk.theme;
        paint::window(buf, area, " begin with ", theme);
        for (y, at) in (area.y + 1..).zip(seen) {
            let here = if at == *chosen {
                theme.glyphs().here
            } else {
                " "
            };
            let role = if at == *chosen {
                Role::Selected
            } else {
                Role::Text
            };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            let width = area.width.saturating_sub(5);
            let words = match all[at].is_own {
                true => format!("{} (your own)", all[at].name),
                false => all[at].name.to_string(),
            };
            paint::line(buf, (area.x + 3, y), width, &words, theme.style(role));
        }
    }

    pub(super) fn draw_growth(&self, desk: &Desk, buf: &mut Buffer) {
        let (Mode::Growth { grown, chosen }, Some((area, _))) = (&self.mode, self.window(desk))
        else {
            return;
        };
        let theme = desk.theme;
        paint::window(buf, area, " when the set has grown ", theme);
        let width = area.width.saturating_sub(4);
        let words = match grown.new {
            0 => "Every card of the sections has a pocket already.".to_owned(),
            new => format!(
                "{} no pocket yet.",
                text::count(new as u64, "card has", "cards have")
            ),
        };
        let x = area.x + 3;
        paint::line(buf, (x, area.y + 1), width, &words, theme.style(Role::Text));
        // The heads of the list of drafts, and what is known here besides. What has no room is
        // left out.
        let heads = [
            "cards out",
            "pages moved",
            "pages in",
            "pages out",
            "picked up",
            "pages in all",
        ];
        let widths = [11usize, 13, 10, 11, 11, 14];
        let name = grown.ways.iter().map(|way| text::columns(way.name)).max();
        let name = name.unwrap_or(0);
        let cells = |label: &str, cells: [String; 6]| {
            let mut line = format!("{label:<name$}");
            for (cell, width) in cells.iter().zip(widths) {
                if text::columns(&line) + width <= usize::from(width_of(area)) {
                    line.push_str(&format!("{cell:>width$}"));
                }
            }
            line
        };
        let head = cells("", heads.map(ToOwned::to_owned));
        paint::line(buf, (x, area.y + 2), width, &head, theme.style(Role::Quiet));
        for (y, (at, way)) in (area.y + 3..).zip(grown.ways.iter().enumerate()) {
            let role = if at == *chosen {
                Role::Selected
            } else {
                Role::Text
            };
            let here = if at == *chosen {
                theme.glyphs().here
            } else {
                " "
            };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            let numbers = [
                (way.cost.lifts, false),
                (way.cost.page_moves, way.cost.may_be_fewer()),
                (way.cost.pages_added, false),
                (way.cost.pages_removed, false),
                (way.handlings, false),
                (way.pages, false),
            ];
            let numbers = numbers.map(|(number, less)| theme.number(number, less));
            let line = cells(way.name, numbers);
            paint::line(buf, (x, y), width, &line, theme.style(role));
        }
        if let Some(told) = grown.ways[*chosen].told.first() {
            let y = area.y + 3 + grown.ways.len() as u16;
            paint::line(buf, (x, y), width, told, theme.style(Role::Waiting));
        }
    }

    /// What it would take, and what is to be told; a fault first.
    pub(super) fn draw_foot(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let (Some(proposal), area) = (&self.proposal, rooms.foot) else {
            return;
        };
        // A binder without a rule for any card is no layout to be asked about.
        if self.shown().is_empty() {
            return;
        }
        let theme = desk.theme;
        let width = area.width.saturating_sub(2);
        let mut cost = format!("From what lies there now: {}", proposal.cost.words());
        if text::columns(&cost) > usize::from(width) {
            cost = text::sentence(proposal.cost.words());
        }
        paint::line(
            buf,
            (area.x + 1, area.y),
            width,
            &cost,
            theme.style(Role::Strong),
        );
        let mut y = area.y + 1;
        let many = proposal.told.len();
        for (at, (words, is_fault)) in proposal.told_of(self.chosen).enumerate() {
            let left = area.bottom().saturating_sub(y);
            if left == 0 {
                break;
            }
            let role = if is_fault {
                Role::Warning
            } else {
                Role::Waiting
            };
            if left == 1 && at + 1 < many {
                let words = format!("and {} more: choose a section to read its own", many - at);
                paint::line(buf, (area.x + 1, y), width, &words, theme.style(role));
                break;
            }
            let words = text::safe(words).into_owned();
            let room = usize::from(left).min(2);
            for line in text::wrap(&words, usize::from(width), room, theme.glyphs().more) {
                paint::line(buf, (area.x + 1, y), width, &line, theme.style(role));
                y += 1;
            }
        }
        if many == 0 && y < area.bottom() {
            let words = "Every card has a pocket; no card fits two sections";
            paint::line(
                buf,
                (area.x + 1, y),
                width,
                words,
                theme.style(Role::InPlace),
            );
        }
    }
}

fn width_of(area: Rect) -> u16 {
    area.width.saturating_sub(4)
}

pub(super) fn draw_naming(desk: &Desk, field: &Field, buf: &mut Buffer) {
    let area = paint::centred(desk.body(), 60, 4);
    paint::window(buf, area, " save as own ", desk.theme);
    let at = (area.x + 2, area.y + 1);
    let room = area.width.saturating_sub(4);
    let quiet = desk.theme.style(Role::Quiet);
    paint::line(buf, at, room, "A name, for this set and others", quiet);
    field.draw((at.0, at.1 + 1), room, true, desk.theme, buf);
}
