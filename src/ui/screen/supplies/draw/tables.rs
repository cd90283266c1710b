//! Tables: what is to be bought, and the ways side by side.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::super::Supplies;
use crate::supplies::{Basket, Item, Layer, Line, Sleeves};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;

/// A column: its heading, its width (0: not shown), whether it stands at the right.
pub(super) type Column = (&'static str, u16, bool);

/// How wide the terminal is, which decides what there is room for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Width {
    Narrow,
    Usual,
    Wide,
}

impl Width {
    pub(super) fn of(desk: &Desk) -> Self {
        match desk.area.width {
            0..78 => Self::Narrow,
            78..100 => Self::Usual,
            _ => Self::Wide,
        }
    }

    pub(super) fn choose(self, narrow: u16, usual: u16, wide: u16) -> u16 {
        match self {
            Self::Narrow => narrow,
            Self::Usual => usual,
            Self::Wide => wide,
        }
    }
}

impl Supplies {
    pub(super) fn draw_basket(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let Some(basket) = self.basket.as_ref().filter(|_| area.height > 0) else {
            return;
        };
        let by = Width::of(desk);
        let left = desk.area.width.saturating_sub(18);
        let columns: [Column; 7] = [
            ("item", by.choose(left, 25, 35), false),
            ("needed", by.choose(0, 7, 7), true),
            ("in binders", by.choose(0, 11, 11), true),
            ("on hand", by.choose(0, 8, 8), true),
            ("to buy", 7, true),
            ("  packs", by.choose(0, 12, 20), false),
            ("cost", by.choose(9, 8, 9), true),
        ];
        let heads = columns.map(|(head, ..)| head.to_owned());
        let at = (area.x + 1, area.y);
        row(buf, desk, at, &columns, &heads, |_| Role::Quiet);
        let shown = basket.lines.iter().skip(self.top);
        for (y, line) in (area.y + 1..area.bottom()).zip(shown) {
            let need = line.need;
            let cells = [
                item_words(&need.item, self.choice.thickness.sleeves),
                need.wanted.to_string(),
                some(need.there),
                some(need.on_hand),
                some(need.to_buy()),
                format!("  {}", line.packs()),
                cost_words(line, basket),
            ];
            let role = |column: usize| match column {
                4 if need.to_buy() > 0 => Role::Strong,
                6 if line.lacks_price() => Role::Waiting,
                0..=3 if need.to_buy() == 0 => Role::Quiet,
                _ => Role::Text,
            };
            row(buf, desk, (area.x + 1, y), &columns, &cells, role);
        }
    }

    pub(super) fn draw_ways(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
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
            ("pockets", by.choose(0, 8, 8), true),
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
}

/// The item; where there are inner sleeves too, the other ones are called the outer ones.
fn item_words(item: &Item, sleeves: Sleeves) -> String {
    let words = item.words();
    match item {
        Item::Sleeve {
            layer: Layer::Outer,
            ..
        } if sleeves == Sleeves::Two => format!("outer {words}"),
        _ => words,
    }
}

fn some(number: u64) -> String {
    match number {
        0 => String::new(),
        number => number.to_string(),
    }
}

fn cost_words(line: &Line, basket: &Basket) -> String {
    match basket.cost(line) {
        Some(cost) => cost.digits(),
        None if line.lacks_price() && basket.total.is_some() => "no price".into(),
        None => String::new(),
    }
}

/// One line of a table; cells are cut to their columns, with a space between.
pub(super) fn row<const N: usize>(
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
