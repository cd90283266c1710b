//! What it takes to come to a layout, in words.

use super::Cost;
use crate::text::{all_of, count};

impl Cost {
    /// In words a collector understands: `2 pages move, 9 cards come out`.
    #[must_use]
    pub fn words(&self) -> String {
        let mut parts = Vec::new();
        let moves = self.page_moves;
        self.part_of_moves(&mut parts, moves, "page moves", "pages move");
        let (added, removed) = (self.pages_added, self.pages_removed);
        part(&mut parts, added, "page comes in", "pages come in");
        part(&mut parts, removed, "page goes", "pages go");
        part(&mut parts, self.lifts, "card comes out", "cards come out");
        if parts.is_empty() {
            "nothing to do".into()
        } else {
            parts.join(", ")
        }
    }
}

/// How many, of what; nothing of none.
fn part(parts: &mut Vec<String>, many: usize, one: &str, more: &str) {
    if many > 0 {
        parts.push(count(many as u64, one, more));
    }
}

impl Cost {
    /// A number in which the page moves are.
    fn part_of_moves(&self, parts: &mut Vec<String>, many: usize, one: &str, more: &str) {
        let before = parts.len();
        part(parts, many, one, more);
        if self.may_be_fewer()
            && let Some(words) = parts.get_mut(before)
        {
            words.insert_str(0, "at most ");
        }
    }

    /// Where there is little room: `110 cards, 4 pages`.
    #[must_use]
    pub fn short(&self) -> String {
        let mut parts = Vec::new();
        part(&mut parts, self.lifts, "card", "cards");
        self.part_of_moves(&mut parts, self.pages(), "page", "pages");
        if parts.is_empty() {
            return "nothing to do".into();
        }
        parts.join(", ")
    }

    /// As a task: `110 cards to take out, 1 page to move and 2 pages to put in`.
    #[must_use]
    pub fn task(&self) -> String {
        let mut parts = Vec::new();
        part(
            &mut parts,
            self.lifts,
            "card to take out",
            "cards to take out",
        );
        let moves = self.page_moves;
        self.part_of_moves(&mut parts, moves, "page to move", "pages to move");
        let added = self.pages_added;
        part(&mut parts, added, "page to put in", "pages to put in");
        let removed = self.pages_removed;
        part(&mut parts, removed, "page to take out", "pages to take out");
        match &parts[..] {
            [] => "nothing to do".into(),
            parts => all_of(parts, ", "),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cost(lifts: usize, moves: usize, added: usize, removed: usize) -> Cost {
        Cost {
            lifts,
            page_moves: moves,
            page_moves_proven_least: true,
            pages_added: added,
            pages_removed: removed,
            in_place: 0,
        }
    }

    #[test]
    fn a_cost_is_told_in_full_as_a_task_and_in_short() {
        let all = cost(110, 1, 2, 1);
        assert_eq!(
            all.task(),
            "110 cards to take out, 1 page to move, 2 pages to put in and 1 page to take out"
        );
        assert_eq!(all.short(), "110 cards, 4 pages");
        assert_eq!(cost(1, 0, 0, 0).task(), "1 card to take out");
        assert_eq!(cost(0, 2, 0, 0).short(), "2 pages");
        assert_eq!(cost(0, 0, 0, 0).task(), "nothing to do");
        assert_eq!(cost(0, 0, 0, 0).short(), "nothing to do");
    }

    #[test]
    fn page_moves_that_are_not_proven_least_are_told_as_the_most() {
        let found = Cost {
            page_moves_proven_least: false,
            ..cost(110, 7, 2, 0)
        };
        assert_eq!(
            found.words(),
            "at most 7 pages move, 2 pages come in, 110 cards come out"
        );
        assert_eq!(
            found.task(),
            "110 cards to take out, at most 7 pages to move and 2 pages to put in"
        );
        assert_eq!(found.short(), "110 cards, at most 9 pages");
    }
}
