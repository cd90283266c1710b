//! The phrases of the sheet on paper.

use super::names::Names;
use crate::plan::task::Grid;
use crate::plan::{At, PageNumber, pocket_words};
use crate::text::{all_of, count};

/// `page 4`, or `b1, page 4` where there are several binders.
pub(super) fn page(names: &Names, (binder, page): At) -> String {
    if names.binders.len() > 1 {
        format!("{}, page {}", names.binders[binder], page + 1)
    } else {
        format!("page {}", page + 1)
    }
}

/// `page 4, back, row 1, pocket 2`.
pub(super) fn place(names: &Names, number: PageNumber, at: At, pocket: usize) -> String {
    let words = pocket_words(names.grid(number), pocket);
    format!("{}, {words}", page(names, at))
}

pub(super) fn move_page(names: &Names, from: At, to: At) -> String {
    let (was, will) = (from.1 + 1, to.1 + 1);
    if from.0 == to.0 && names.binders.len() == 1 {
        return format!("Take page {was} off the rings and put it back in as page {will}.");
    }
    let (source, target) = (&names.binders[from.0], &names.binders[to.0]);
    if from.0 == to.0 {
        format!("{source}: take page {was} off the rings and put it back in as page {will}.")
    } else {
        format!("Take page {was} out of {source} and put it into {target} as page {will}.")
    }
}

pub(super) fn add_page(names: &Names, to: At, grid: Grid) -> String {
    let kind = kind(grid);
    let will = to.1 + 1;
    if names.binders.len() == 1 {
        format!("Put a new, empty page in as page {will}: {kind}.")
    } else {
        let binder = &names.binders[to.0];
        format!("{binder}: put a new, empty page in as page {will}: {kind}.")
    }
}

pub(super) fn remove_page(names: &Names, from: At) -> String {
    let was = from.1 + 1;
    if names.binders.len() == 1 {
        format!("Take page {was} out. It is empty, and of no more use here.")
    } else {
        let binder = &names.binders[from.0];
        format!("{binder}: take page {was} out. It is empty, and of no more use here.")
    }
}

fn kind(grid: Grid) -> String {
    let rows = count(u64::from(grid.rows), "row", "rows");
    let columns = count(u64::from(grid.columns), "pocket", "pockets");
    let sides = match (grid.sides, grid.shared) {
        (..2, _) => "with pockets on one side",
        (_, false) => "with pockets on both sides",
        (_, true) => "with pockets on both sides, front and back share one",
    };
    format!("{rows} of {columns}, {sides}")
}

/// `7 (2 copies), 12 and 13`.
pub(super) fn cards(names: &Names, cards: impl Iterator<Item = u32>) -> String {
    let mut told: Vec<(u32, u64)> = Vec::new();
    let mut at = std::collections::HashMap::new();
    for card in cards {
        let place = *at.entry(card).or_insert_with(|| {
            told.push((card, 0));
            told.len() - 1
        });
        told[place].1 += 1;
    }
    let words = told.iter().map(|(card, copies)| match copies {
        1 => names.printing(*card).to_owned(),
        copies => format!("{} ({copies} copies)", names.printing(*card)),
    });
    let words: Vec<String> = words.collect();
    all_of(&words, "; ")
}
