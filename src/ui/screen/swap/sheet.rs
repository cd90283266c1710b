//! The sheet to talk over, line by line.

use crate::hand::named;
use crate::model::{Collection, PrintingId};
use crate::report::{Swap, binder_words, place_words};
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
            left: format!("  {left}"),
            right,
            ..Self::default()
        }
    }

    /// As it is copied.
    pub(super) fn plain(&self) -> String {
        let line = match (&*self.left, &*self.right) {
            (left, "") => left.to_owned(),
            (left, right) => format!("{left}; {right}{}", self.end),
        };
        text::safe(&line).into_owned()
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
    for (at, give) in &swap.pairs {
        let got = words(swap.could_get[*at].gap.printing);
        lines.push(Line::row(
            format!("you get {got}"),
            format!("for {}", words(*give)),
        ));
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
