//! Drawing: the binders above, what is to be bought or the ways below, a word on the chosen one.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Seen, Supplies};
use crate::supplies::{Care, Line, Money, Rings, Verdict, care, millimetres};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;

/// How the screen is divided.
pub(super) struct Rooms {
    /// The lines of the binders, without their heading.
    pub(super) binders: Rect,
    /// The first binder that is seen.
    pub(super) first: usize,
    /// A word on the chosen binder.
    detail: Rect,
    /// The lower table with its heading.
    table: Rect,
    foot: Rect,
}

/// A column: its heading, its width (0: not shown), whether it stands at the right.
type Column = (&'static str, u16, bool);

/// How wide the terminal is, which decides what there is room for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Width {
    Narrow,
    Usual,
    Wide,
}

impl Width {
    fn of(desk: &Desk) -> Self {
        match desk.area.width {
            0..78 => Self::Narrow,
            78..100 => Self::Usual,
            _ => Self::Wide,
        }
    }

    fn choose(self, narrow: u16, usual: u16, wide: u16) -> u16 {
        match self {
            Self::Narrow => narrow,
            Self::Usual => usual,
            Self::Wide => wide,
        }
    }
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
        let detail = match body.height {
            0..8 => 1,
            8..30 => 2,
            _ => 3,
        };
        let foot = if high { 2 } else { 1 };
        // A heading above the binders and one above the table.
        let spare = body.height.saturating_sub(2 + detail + foot);
        let table = (self.lines() as u16 + 1)
            .min(spare / 2)
            .max(u16::from(spare > 1) * 2);
        let binders = spare.saturating_sub(table).clamp(1, all.max(1));
        let binders_at = strip(body.y + 2, binders);
        let detail_at = strip(binders_at.bottom(), detail);
        let foot_at = strip(body.bottom().saturating_sub(foot), foot);
        let apart = u16::from(body.height >= 28);
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

    pub(crate) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let rooms = self.rooms(desk);
        let width = body.width.saturating_sub(2);
        let strong = theme.style(Role::Strong);
        paint::line(buf, (body.x + 1, body.y), width, &self.title(desk), strong);
        if self.seen.is_empty() {
            let words = "No binder stands on the shelf yet.";
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
        self.draw_foot(desk, rooms.foot, buf);
    }

    fn title(&self, desk: &Desk) -> String {
        let sleeves = self.choice.thickness.sleeves.words();
        let anew = match (self.choice.anew, desk.area.width >= 100) {
            (false, _) => "",
            (true, true) => "; as if no page and no binder were there yet",
            (true, false) => "; counted anew",
        };
        format!("Supplies, {sleeves}{anew}")
    }

    fn draw_binders(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let theme = desk.theme;
        let by = Width::of(desk);
        let columns: [Column; 6] = [
            ("binder", by.choose(10, 12, 20), false),
            ("counted by", by.choose(0, 17, 34), false),
            ("pages", by.choose(0, 6, 6), true),
            ("mm", by.choose(0, 7, 7), true),
            ("  rings", by.choose(0, 11, 11), false),
            ("so it", 16, false),
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
                millimetres(seen.fit.thickness),
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
    }

    fn draw_detail(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let Some(seen) = self.seen.get(self.chosen) else {
            return;
        };
        let theme = desk.theme;
        let width = area.width.saturating_sub(4);
        let words = text::safe(&detail(seen)).into_owned();
        let more = theme.glyphs().more;
        let lines = text::wrap(&words, width.into(), area.height.into(), more);
        for (y, line) in (area.top()..area.bottom()).zip(&lines) {
            let style = theme.style(Role::Quiet);
            paint::line(buf, (area.x + 3, y), width, line, style);
        }
    }

    fn draw_basket(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let Some(basket) = self.basket.as_ref().filter(|_| area.height > 0) else {
            return;
        };
        let by = Width::of(desk);
        let left = desk.area.width.saturating_sub(18);
        let columns: [Column; 7] = [
            ("item", by.choose(left, 27, 36), false),
            ("wanted", by.choose(0, 7, 7), true),
            ("there", by.choose(0, 6, 6), true),
            ("on hand", by.choose(0, 8, 8), true),
            ("to buy", 7, true),
            ("  packs", by.choose(0, 14, 24), false),
            ("cost", 9, true),
        ];
        let heads = columns.map(|(head, ..)| head.to_owned());
        let at = (area.x + 1, area.y);
        row(buf, desk, at, &columns, &heads, |_| Role::Quiet);
        let shown = basket.lines.iter().skip(self.top);
        for (y, line) in (area.y + 1..area.bottom()).zip(shown) {
            let need = line.need;
            let cells = [
                need.item.words(),
                need.wanted.to_string(),
                some(need.there),
                some(need.on_hand),
                some(need.to_buy()),
                format!("  {}", line.packs()),
                cost_words(line, basket.total),
            ];
            let role = |column: usize| match column {
                4 if need.to_buy() > 0 => Role::Strong,
                6 if line.lacks_price() => Role::Waiting,
                0..=3 if need.to_buy() == 0 => Role::Quiet,
                _ => Role::Text,
            };
            row(buf, desk, (area.x + 1, y), &columns, &cells, role);
        }
        let beyond = (self.top + usize::from(area.height.saturating_sub(1))) < basket.lines.len();
        if beyond || self.top > 0 {
            let words = format!("pgdn: {} items", basket.lines.len());
            let x = (area.right()).saturating_sub(words.len() as u16 + 1);
            let head = u16::from(area.height > 0);
            if by == Width::Wide && head > 0 {
                let style = desk.theme.style(Role::Quiet);
                paint::line(buf, (x, area.y), words.len() as u16, &words, style);
            }
        }
    }

    fn draw_ways(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let Some((question, ways)) = self.compared.as_ref().filter(|_| area.height > 0) else {
            return;
        };
        let by = Width::of(desk);
        let name = self
            .seen
            .get(self.chosen)
            .map_or("", |seen| seen.name.as_str());
        let head = format!(
            "{name}: {} on {}x{}",
            text::count(question.cards, "card", "cards"),
            question.rows,
            question.columns
        );
        let columns: [Column; 6] = [
            (
                "",
                by.choose(desk.area.width.saturating_sub(11), 43, 44),
                false,
            ),
            ("pages", by.choose(0, 6, 6), true),
            ("places", by.choose(0, 7, 7), true),
            ("cost", 9, true),
            ("a card", by.choose(0, 9, 9), true),
            ("  binders", by.choose(0, 0, 30), false),
        ];
        let mut heads = columns.map(|(head, ..)| head.to_owned());
        heads[0] = head;
        let at = (area.x + 1, area.y);
        row(buf, desk, at, &columns, &heads, |_| Role::Quiet);
        let cheapest = ways.iter().filter_map(|way| way.cost).min();
        for (y, way) in (area.y + 1..area.bottom()).zip(ways.iter().skip(self.top)) {
            let cost = way.cost.and_then(|cost| desk.prices.money(cost));
            let binders = way.binders.iter();
            let binders = binders.map(|(item, count)| format!("{count} x {}", item.size()));
            let cells = [
                way.kind.words().to_owned(),
                some(way.pages),
                some(way.places),
                cost.map_or_else(|| "no price".into(), |cost| cost.digits()),
                cost.map_or_else(String::new, |cost| cost.each(question.cards)),
                format!("  {}", binders.collect::<Vec<_>>().join(", ")),
            ];
            let best = way.cost.is_some() && way.cost == cheapest;
            let role = |column: usize| match column {
                3 if cost.is_none() => Role::Waiting,
                3 if best => Role::Strong,
                _ => Role::Text,
            };
            row(buf, desk, (area.x + 1, y), &columns, &cells, role);
        }
    }

    fn draw_foot(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let theme = desk.theme;
        let width = area.width.saturating_sub(2);
        let mut lines = vec![(self.sum(desk), Role::Strong)];
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
            free => format!("; {} not wanted", text::count(free, "page is", "pages are")),
        };
        format!("In all {total}{but}{free}")
    }
}

/// All that the rings, the splits and the pockets have to say.
fn detail(seen: &Seen) -> String {
    let mut parts = Vec::new();
    parts.extend(seen.fit.room_words());
    let wants = seen.fit.wants_words();
    match seen.fit.verdict {
        Verdict::Closes | Verdict::Fixed | Verdict::FixedLacks(_) => {}
        Verdict::Unknown => {
            parts.extend(
                wants.map(|wants| format!("It surely closes with {wants}; g says which it has")),
            );
        }
        Verdict::Tight => {
            parts.extend(wants.map(|wants| format!("It surely closes with {wants}")));
        }
        Verdict::DoesNotClose => {
            let splits = &seen.splits;
            match splits.at_run.or(splits.balanced) {
                Some(split) => parts.push(format!("Over two: {}", split.words(seen.fit.pages))),
                None => parts.push("Two such binders do not take it either".into()),
            }
            parts.extend(wants.map(|wants| format!("It surely closes with {wants}")));
        }
    }
    parts.extend(seen.misfits.iter().map(crate::supplies::Misfit::words));
    if parts.is_empty() {
        parts.push("Its pages are fixed, and every card fits its pocket".into());
    }
    format!("{}.", parts.join(". "))
}

fn some(number: u64) -> String {
    match number {
        0 => String::new(),
        number => number.to_string(),
    }
}

fn cost_words(line: &Line, total: Option<Money>) -> String {
    match (&line.purchase, total) {
        (Some(_), _) if line.need.to_buy() == 0 => String::new(),
        (Some(bought), Some(total)) => {
            let minor = i64::try_from(bought.cost).unwrap_or(i64::MAX);
            Money { minor, ..total }.digits()
        }
        (None, Some(_)) => "no price".into(),
        _ => String::new(),
    }
}

/// One line of a table; cells are cut to their columns, with a space between.
fn row<const N: usize>(
    buf: &mut Buffer,
    desk: &Desk,
    (x, y): (u16, u16),
    columns: &[Column; N],
    cells: &[String; N],
    role: impl Fn(usize) -> Role,
) {
    let theme = desk.theme;
    let mut at = x;
    let shown = columns.iter().zip(cells).enumerate();
    for (number, ((_, width, right), cell)) in shown.filter(|(_, ((_, width, _), _))| *width > 0) {
        let room = desk.area.right().saturating_sub(at + 1).min(*width);
        let words = text::safe(cell);
        let used = text::columns(&words).min(usize::from(room)) as u16;
        let start = if *right {
            at + room.saturating_sub(used)
        } else {
            at
        };
        let most = if *right { room } else { room.saturating_sub(1) };
        let style = theme.style(role(number));
        paint::line_cut(buf, (start, y), most, cell, style, theme.glyphs().more);
        at += width;
    }
}
