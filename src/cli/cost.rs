//! What it takes to come from what lies in a binder to a layout, as the commands tell it.

use serde::Serialize;

use super::table::Align;
use crate::plan::Cost;

#[derive(Serialize)]
pub(super) struct CostAnswer {
    lifts: usize,
    page_moves: usize,
    page_moves_proven_least: bool,
    pages_added: usize,
    pages_removed: usize,
}

impl From<Cost> for CostAnswer {
    fn from(cost: Cost) -> Self {
        Self {
            lifts: cost.lifts,
            page_moves: cost.page_moves,
            page_moves_proven_least: !cost.may_be_fewer(),
            pages_added: cost.pages_added,
            pages_removed: cost.pages_removed,
        }
    }
}

/// The columns of a table for it.
pub(super) const COLUMNS: [(&str, Align); 4] = [
    ("cards out", Align::Right),
    ("pages moved", Align::Right),
    ("pages in", Align::Right),
    ("pages out", Align::Right),
];

/// What stands in them. A number that may be less is told as the most.
pub(super) fn cells(cost: &Cost) -> [String; 4] {
    let at_most = if cost.may_be_fewer() { "at most " } else { "" };
    [
        cost.lifts.to_string(),
        format!("{at_most}{}", cost.page_moves),
        cost.pages_added.to_string(),
        cost.pages_removed.to_string(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn page_moves_that_are_not_proven_least_are_told_as_the_most() {
        let proven = Cost {
            lifts: 3,
            page_moves: 7,
            page_moves_proven_least: true,
            ..Cost::default()
        };
        let found = Cost {
            page_moves_proven_least: false,
            ..proven
        };
        assert_eq!(cells(&proven), ["3", "7", "0", "0"]);
        assert_eq!(cells(&found), ["3", "at most 7", "0", "0"]);
        let proven_least = |cost: Cost| CostAnswer::from(cost).page_moves_proven_least;
        assert!(proven_least(proven) && !proven_least(found));
    }
}
