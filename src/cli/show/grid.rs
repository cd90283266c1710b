//! A page side drawn in plain characters.

use super::{pockets, words};
use crate::model::{Binder, Collection, PageFormat, Side};
use crate::text::{columns, pad, safe};

/// As wide as the longest word of a state.
const LEAST: usize = 9;
const MOST: usize = 14;

/// Two lines a pocket: the number, and the state in a word.
pub(super) fn draw(
    collection: &Collection,
    binder: &Binder,
    page: usize,
    format: PageFormat,
    side: Side,
) -> Vec<String> {
    let cells: Vec<(String, &str)> = pockets(binder, page, format, side)
        .map(|(_, place)| {
            let state = collection.pocket(place);
            let number = words::number(collection, &state);
            (safe(&number).into_owned(), words::short(&state))
        })
        .collect();
    let widest = cells.iter().map(|(number, _)| columns(number)).max();
    let width = widest.unwrap_or(0).clamp(LEAST, MOST);
    let rule = format!("+{}", "-".repeat(width + 2)).repeat(usize::from(format.columns)) + "+";
    let mut lines = vec![rule.clone()];
    for row in cells.chunks(usize::from(format.columns).max(1)) {
        let line = |text: &dyn Fn(&(String, &str)) -> String| {
            let cells: String = row
                .iter()
                .map(|cell| format!("| {} ", pad(&text(cell), width, '~')))
                .collect();
            cells + "|"
        };
        lines.push(line(&|(number, _)| number.clone()));
        lines.push(line(&|(_, state)| (*state).to_owned()));
        lines.push(rule.clone());
    }
    lines
}
