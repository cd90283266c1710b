//! The sheet to talk over, line by line.

use crate::hand::named;
use crate::model::{Collection, PrintingId};
use crate::report::{Swap, binder_words, place_words};
use crate::session::TheirList;
use crate::text::{self, count};
use crate::ui::theme::Role;

/// A line in two parts, of which the second begins at a column of its own.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    pub(super) left: String,
    pub(super) right: String,
    /// The end of the second part, which stands whole where that is cut.
    pub(super) end: String,
    pub(super) role: Option<Role>,
    /// The pair that the line tells, by its place in the swap.
    pub(super) pair: Option<usize>,
}

impl Line {
    fn head(words: impl Into<String>) -> Self {
        Self {
            left: words.into(),
            role: Some(Role::Strong),
            ..Self::default()
        }
    }

    fn row(left: String, right: String) -> Self {
        Self {
            left,
            right,
            ..Self::default()
        }
    }

    /// Whether one can be at it; heads and empty lines are passed.
    pub(super) fn is_row(&self) -> bool {
        self.role.is_none() && !self.left.is_empty()
    }

    /// As it is copied.
    pub(super) fn plain(&self, swap: &Swap) -> String {
        let out = self.pair.is_some_and(|at| swap.left_out.contains(&at));
        let indent = match (out, self.is_row()) {
            (true, _) => "  left out: ",
            (false, true) => "  ",
            (false, false) => "",
        };
        let line = match (&*self.left, &*self.right) {
            (left, "") => left.to_owned(),
            (left, right) => format!("{left}; {right}{}", self.end),
        };
        text::safe(&format!("{indent}{line}")).into_owned()
    }
}

/// The parts of the sheet on paper, in its order, a card a line.
pub(super) fn sheet(collection: &Collection, swap: &Swap) -> Vec<Line> {
    let words = |of: PrintingId| {
        let set = collection.set(of.set());
        let rarity = set.zip(collection.card(of));
        let rarity = rarity.map_or("", |(set, card)| set.rarity_name(card));
        let rarity = match rarity {
            "" => String::new(),
            name => format!(" ({name})"),
        };
        format!("{}{rarity}", named(collection, of))
    };
    let mut lines = vec![Line::head(swap.pairs_words())];
    for (pair, (at, give)) in swap.pairs.iter().enumerate() {
        let got = words(swap.could_get[*at].gap.printing);
        let line = Line::row(format!("you get {got}"), format!("for {}", words(*give)));
        lines.push(Line {
            pair: Some(pair),
            ..line
        });
    }
    lines.extend([Line::default(), Line::head(swap.gets_words())]);
    for get in &swap.could_get {
        let gap = get.gap;
        let mut line = Line::row(words(gap.printing), "no pocket is meant for it".into());
        if let Some(place) = gap.place {
            let page = place_words(collection, place);
            let page = page.split(", row").next().unwrap_or_default();
            line.right = binder_words(collection, place.binder);
            line.end = format!(", {page}: {} of {} there", get.page.0, get.page.1);
        }
        lines.push(line);
    }
    lines.extend([Line::default(), Line::head(swap.gives_words())]);
    for (printing, copies) in &swap.could_give {
        let copies = match copies {
            1 => String::new(),
            _ => count((*copies).into(), "copy", "copies"),
        };
        lines.push(Line::row(words(*printing), copies));
    }
    lines
}

/// What was passed over of their lists, row by row, with what the list is called: the end of the
/// sheet, empty where nothing was; and in words.
pub(super) fn passed_lines(lists: &[(&str, TheirList)]) -> (Vec<Line>, Option<String>) {
    let mut all = TheirList::default();
    let mut rows = Vec::new();
    for (what, list) in lists {
        all.foreign += list.foreign;
        all.unknown += list.unknown;
        rows.extend(list.passed.iter().map(|row| {
            let left = format!("{what}, line {}: {}", row.line, row.card);
            Line::row(left, row.why().into())
        }));
    }
    let Some(words) = all.passed_over() else {
        return (Vec::new(), None);
    };
    let many = all.foreign + all.unknown;
    let untold = many.saturating_sub(rows.len() as u64);
    if untold > 0 {
        let words = count(untold, "further row", "further rows");
        rows.push(Line::row(format!("and {words}"), String::new()));
    }
    let head = Line::head(format!("Passed over, {}:", count(many, "row", "rows")));
    let lines = [Line::default(), head].into_iter().chain(rows).collect();
    (lines, Some(words))
}
