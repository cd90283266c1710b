//! Drawing: the binders above, what is to be bought or the ways below, a word on the chosen one.

mod tables;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Seen, Supplies};
use crate::supplies::{Care, Rings, Sleeves, Verdict, care, millimetres_in_column, pockets_words};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;
use tables::{Column, Width, row};

/// How the screen is divided.
pub(super) struct Rooms {
    /// The lines of the binders, without their heading.
    pub(super) binders: Rect,
    /// The first binder that is seen.
    pub(super) first: usize,
    /// A word on the chosen binder.
    detail: Rect,
    /// The lower table with its heading.
    pub(super) table: Rect,
    foot: Rect,
}

impl Supplies {
    pub(super) fn rooms(&self, desk: &Desk) -> Rooms {
        let body = desk.body();
        let strip = |y: u16, height: u16| Rect {
            y,
            height: height.min(body.bottom().saturating_sub(y)),
            ..body
        };
        let all = self.seen.len() as u16;
        let high = body.height >= 16;
        // What does not fit is the more needed the longer it is to say.
        let needed = self.seen.get(self.chosen).map_or(0, |seen| {
            let width = usize::from(body.width.saturating_sub(4));
            text::wrap(&text::safe(&detail(desk, seen)), width, 5, ' ').len() as u16
        });
        let detail = match body.height {
            0..8 => 1,
            8..16 => 2,
            16..30 => needed.max(2),
            _ => 5,
        };
        let foot = if high { 2 } else { 1 };
        // A heading above the binders and one above the table.
        let apart = u16::from(body.height >= 28);
        let spare = body.height.saturating_sub(2 + detail + foot + apart);
        let table = (self.lines() as u16 + 1)
            .min(spare / 2)
            .max(u16::from(spare > 1) * 2);
        let binders = spare.saturating_sub(table).clamp(1, all.max(1));
        let binders_at = strip(body.y + 2, binders);
        let detail_at = strip(binders_at.bottom(), detail);
        let foot_at = strip(body.bottom().saturating_sub(foot), foot);
        let table_at = Rect {
            y: detail_at.bottom() + apart,
            height: foot_at.y.saturating_sub(detail_at.bottom() + apart),
            ..body
        };
        Rooms {
            first: (self.chosen + 1).saturating_sub(usize::from(binders)),
            binders: binders_at,
            detail: detail_at,
            table: table_at,
            foot: foot_at,
        }
    }

    pub(crate) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let rooms = self.rooms(desk);
        let width = body.width.saturating_sub(2);
        let strong = theme.style(Role::Strong);
        paint::line(buf, (body.x + 1, body.y), width, &self.title(desk), strong);
        if self.seen.is_empty() {
            let words = match (self.failed, self.job.is_some()) {
                (true, _) => "It could not be counted: a fault of this program.",
                (false, true) => return,
                (false, false) => "No binder stands on the shelf yet.",
            };
            let at = (body.x + 1, body.y + 2);
            paint::line(buf, at, width, words, theme.style(Role::Text));
            return;
        }
        self.draw_binders(desk, &rooms, buf);
        self.draw_detail(desk, rooms.detail, buf);
        if self.comparing {
            self.draw_ways(desk, rooms.table, buf);
        } else {
            self.draw_basket(desk, rooms.table, buf);
        }
        let table = Rect {
            y: rooms.table.y + 1,
            height: rooms.table.height.saturating_sub(1),
            ..rooms.table
        };
        further_signs(desk, table, self.top, self.lines(), buf);
        self.draw_foot(desk, &rooms, buf);
    }

    fn title(&self, desk: &Desk) -> String {
        let sleeves = self.choice.thickness.sleeves.told();
        let anew = match (self.choice.anew, desk.area.width >= 100) {
            (false, _) => "",
            (true, true) => "; from nothing: no page and no binder is there yet",
            (true, false) => "; from nothing",
        };
        let words = format!("Supplies, {sleeves}{anew}");
        // Else one counts the cards that one has, and finds other numbers.
        let gaps = match self.choice.thickness.sleeves {
            Sleeves::Bare => "",
            Sleeves::One | Sleeves::Two => "; a gap counts as a card",
        };
        let room = usize::from(desk.area.width.saturating_sub(2));
        match text::columns(&words) + text::columns(gaps) <= room {
            true => format!("{words}{gaps}"),
            false => words,
        }
    }

    fn draw_binders(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let theme = desk.theme;
        let by = Width::of(desk);
        let columns: [Column; 6] = [
            ("binder", by.choose(10, 18, 24), false),
            ("counted by", by.choose(0, 16, 30), false),
            ("pages", by.choose(0, 6, 6), true),
            ("mm", by.choose(0, 7, 7), true),
            ("  rings", by.choose(0, 11, 11), false),
            ("fit", 16, false),
        ];
        let area = rooms.binders;
        let heads = columns.map(|(head, ..)| head.to_owned());
        let quiet = Role::Quiet;
        row(
            buf,
            desk,
            (area.x + 3, area.y - 1),
            &columns,
            &heads,
            |_| quiet,
        );
        let shown = self.seen.iter().enumerate().skip(rooms.first);
        for (y, (at, seen)) in (area.top()..area.bottom()).zip(shown) {
            let chosen = at == self.chosen;
            let here = if chosen { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            let rings = match seen.fit.verdict {
                Verdict::Fixed | Verdict::FixedLacks(_) => String::new(),
                _ => seen.fit.rings.map_or_else(|| "?".into(), Rings::word),
            };
            let cells = [
                seen.name.clone(),
                match &seen.draft {
                    None => "its layout".into(),
                    Some(draft) => format!("draft {draft}"),
                },
                seen.fit.pages.to_string(),
                millimetres_in_column(seen.fit.thickness),
                format!("  {rings}"),
                seen.fit.verdict.word(),
            ];
            let role = |column: usize| match (column, seen.fit.verdict) {
                (0, _) if chosen => Role::Selected,
                (5, verdict) if verdict.is_amiss() => Role::Misplaced,
                (5, Verdict::Tight | Verdict::Unknown) => Role::Waiting,
                (5, _) => Role::InPlace,
                (1, _) if seen.draft.is_some() => Role::Waiting,
                _ => Role::Text,
            };
            row(buf, desk, (area.x + 3, y), &columns, &cells, role);
        }
        further_signs(desk, area, rooms.first, self.seen.len(), buf);
    }

    fn draw_detail(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let Some(seen) = self.seen.get(self.chosen) else {
            return;
        };
        let theme = desk.theme;
        let width = area.width.saturating_sub(4);
        let mut words = detail(desk, seen);
        // Where there is room for all of it.
        if area.height > 3 {
            words = format!("{words} {}", seen.turned);
        }
        let words = text::safe(&words).into_owned();
        let more = theme.glyphs().more;
        let lines = text::wrap(&words, width.into(), area.height.into(), more);
        for (y, line) in (area.top()..area.bottom()).zip(&lines) {
            let style = theme.style(Role::Quiet);
            paint::line(buf, (area.x + 3, y), width, line, style);
        }
    }

    /// That lines of the table stand above or below what is seen, and the keys that lead there.
    fn further(&self, desk: &Desk, table: Rect) -> Option<String> {
        let shown = usize::from(table.height.saturating_sub(1));
        let below = self.lines().saturating_sub(self.top + shown);
        let key = |intent| desk.key(Context::Supplies, intent);
        let below = (below > 0).then(|| format!("{}: {below} more below", key(Intent::PageOn)));
        let above = self.top;
        let above = (above > 0).then(|| format!("{}: {above} more above", key(Intent::PageBack)));
        let parts: Vec<_> = below.into_iter().chain(above).collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    fn draw_foot(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let (theme, area) = (desk.theme, rooms.foot);
        let width = area.width.saturating_sub(2);
        let mut sum = self.sum(desk);
        if let Some(further) = self.further(desk, rooms.table) {
            // Where not both have room, signs at the edge tell of further lines too.
            let with = format!("{sum} ({further})");
            sum = match text::columns(&with) <= usize::from(width) {
                true => with,
                false if self.basket.as_ref().is_some_and(|b| b.total.is_some()) => further,
                false => sum,
            };
        }
        let mut lines = vec![(sum, Role::Strong)];
        if area.height > 1 {
            let amiss = self.seen.iter().any(|seen| seen.fit.verdict.is_amiss());
            let about = match (self.comparing, amiss) {
                (true, _) => Care::Shelf,
                (false, true) => Care::Full,
                (false, false) => Care::Plastic,
            };
            lines.push((care(about).to_owned(), Role::Quiet));
        }
        for (y, (words, role)) in (area.top()..area.bottom()).zip(lines) {
            paint::line(buf, (area.x + 1, y), width, &words, theme.style(role));
        }
    }

    /// What it costs in all; or what is wrong with the prices.
    fn sum(&self, desk: &Desk) -> String {
        if let Some(amiss) = desk.prices_amiss.first() {
            let further = desk.prices_amiss.len() - 1;
            return match further {
                0 => amiss.clone(),
                further => format!("{amiss} (and {further} more)"),
            };
        }
        let Some((basket, total)) = self
            .basket
            .as_ref()
            .and_then(|basket| Some((basket, basket.total?)))
        else {
            return "No prices: ringbound supplies --help tells how to keep a list".into();
        };
        if self.comparing {
            // The sum is of all binders and what they lack, not of any of the ways.
            return "Each way with its binders, pages and sleeves, all bought new".into();
        }
        let holes = basket.holes().count() as u64;
        let but = match holes {
            0 => String::new(),
            holes => format!(
                "; without {}",
                text::count(holes, "item that has no price", "items that have no price")
            ),
        };
        let free = match self.needs.pages_free {
            0 => String::new(),
            free => format!("; {} not needed", text::count(free, "page is", "pages are")),
        };
        format!("In all {total}{but}{free}")
    }
}

/// Signs that some of `all` lines stand above or below those that are seen.
fn further_signs(desk: &Desk, area: Rect, first: usize, all: usize, buf: &mut Buffer) {
    let (edge, glyphs) = (area.right().saturating_sub(1), desk.theme.glyphs());
    let style = desk.theme.style(Role::Waiting);
    if area.height == 0 {
        return;
    }
    if first > 0 {
        paint::sign(buf, (edge, area.y), glyphs.up, style);
    }
    if first + usize::from(area.height) < all {
        paint::sign(buf, (edge, area.bottom() - 1), glyphs.down, style);
    }
}

/// All that the rings, the splits and the pockets have to say.
fn detail(desk: &Desk, seen: &Seen) -> String {
    let mut parts = Vec::new();
    parts.extend(seen.fit.room_words());
    parts.extend(seen.fit.fixed_words());
    match seen.fit.verdict {
        Verdict::Closes | Verdict::Fixed | Verdict::FixedLacks(_) => {}
        Verdict::Unknown => {
            let key = desk.key(Context::Supplies, Intent::Rings);
            parts.push(format!(
                "{}; {key} says which it has",
                seen.fit.sure_words()
            ));
        }
        Verdict::Tight => parts.push(seen.fit.sure_words()),
        Verdict::DoesNotClose => {
            let splits = &seen.splits;
            match splits.at_section.or(splits.balanced) {
                Some(split) => {
                    parts.push(format!("Split over two: {}", split.words(seen.fit.pages)));
                }
                None => parts.push("Two such binders do not hold it either".into()),
            }
            parts.push(seen.fit.sure_words());
        }
    }
    parts.extend(pockets_words(&seen.formats, &seen.misfits));
    format!("{}.", parts.join(". "))
}
