//! The sheet to talk over, line by line.

use crate::model::{Collection, PrintingId};
use crate::report::{Swap, binder_words, place_words, printing_words};
use crate::text::{self, count};
use crate::ui::theme::Role;

/// A line in two parts, of which the second begins at a column of its own.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    pub(super) left: String,
    pub(super) right: String,
    pub(super) role: Option<Role>,
}

impl Line {
    fn head(words: impl Into<String>) -> Self {
        Self {
            left: words.into(),
            right: String::new(),
            role: Some(Role::Strong),
        }
    }

    fn row(left: String, right: String) -> Self {
        Self {
            left: format!("  {left}"),
            right,
            role: None,
        }
    }

    /// As it stands in a file.
    pub(super) fn plain(&self) -> String {
        let line = match (&*self.left, &*self.right) {
            (left, "") => left.to_owned(),
            (left, right) => format!("{left}; {right}"),
        };
        text::safe(&line).into_owned()
    }
}

/// What goes one for one first, since that is what is talked over; then all that could go either
/// way.
pub(super) fn sheet(collection: &Collection, swap: &Swap) -> Vec<Line> {
    let words = |of: PrintingId| {
        let set = collection.set(of.set());
        let code = set.map_or("", |set| set.code());
        let rarity = set.zip(collection.card(of));
        let rarity = rarity.map_or("", |(set, card)| set.rarity_name(card));
        let rarity = match rarity {
            "" => String::new(),
            name => format!(" ({name})"),
        };
        format!("{code} {}{rarity}", printing_words(collection, of))
    };
    let mut lines = Vec::new();
    if swap.pairs.is_empty() {
        lines.push(Line::head("Nothing goes one for one."));
    } else {
        let cards = count(swap.pairs.len() as u64, "card", "cards");
        lines.push(Line::head(format!("One for one, {cards} each way:")));
        for (at, give) in &swap.pairs {
            let got = words(swap.could_get[*at].gap.printing);
            lines.push(Line::row(
                format!("you get {got}"),
                format!("for {}", words(*give)),
            ));
        }
    }
    lines.push(Line::default());
    if swap.could_get.is_empty() {
        lines.push(Line::head("They have nothing to spare that you want."));
    } else {
        lines.push(Line::head("You could get, the fullest pages first:"));
        for get in &swap.could_get {
            let gap = get.gap;
            let place = gap.place.map_or_else(
                || "no pocket is meant for it".to_owned(),
                |place| {
                    let name = binder_words(collection, place.binder);
                    let page = place_words(collection, place);
                    let page = page.split(", row").next().unwrap_or_default();
                    format!("{name}, {page}: {} of {} there", get.page.0, get.page.1)
                },
            );
            lines.push(Line::row(words(gap.printing), place));
        }
    }
    lines.push(Line::default());
    if swap.could_give.is_empty() {
        lines.push(Line::head("You have nothing to spare that they want."));
    } else {
        lines.push(Line::head("You could give:"));
        for (printing, count) in &swap.could_give {
            let times = match count {
                1 => String::new(),
                many => format!("{many} copies"),
            };
            lines.push(Line::row(words(*printing), times));
        }
    }
    lines
}
