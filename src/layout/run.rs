//! Runs: printings in their order on pages of one format.

use std::collections::BTreeMap;

use crate::model::{LayoutPage, Meaning, PageFormat, PrintingId};
use crate::text::natural_cmp;

/// Pages of one format filled with the printings in their order, a pocket each, front then back.
#[must_use]
pub fn run(format: PageFormat, printings: &[PrintingId]) -> Vec<LayoutPage> {
    printings
        .chunks(format.pockets().max(1))
        .map(|chunk| {
            let mut page = LayoutPage::empty(format);
            for (at, printing) in chunk.iter().enumerate() {
                page.set_meaning(at, Meaning::Printing(*printing));
            }
            page
        })
        .collect()
}

/// The printings by finish, those of each in natural order of their numbers.
#[must_use]
pub fn split_by_finish(numbered: Vec<(&str, PrintingId)>) -> BTreeMap<u8, Vec<PrintingId>> {
    let mut runs = BTreeMap::<u8, Vec<_>>::new();
    for entry in numbered {
        runs.entry(entry.1.finish()).or_default().push(entry);
    }
    let in_order = |(finish, mut run): (u8, Vec<(&str, PrintingId)>)| {
        run.sort_by(|(a, _), (b, _)| natural_cmp(a, b));
        (
            finish,
            run.into_iter().map(|(_, printing)| printing).collect(),
        )
    };
    runs.into_iter().map(in_order).collect()
}

/// The default layout: each finish is a run of its own, in natural order of the numbers, and
/// begins on a new page.
#[must_use]
pub fn by_finish(numbered: Vec<(&str, PrintingId)>, format: PageFormat) -> Vec<LayoutPage> {
    let runs = split_by_finish(numbered);
    runs.values()
        .flat_map(|printings| run(format, printings))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::SetId;

    /// Natural order: the rule of `text::natural_cmp`. A run that begins on a new page: common
    /// practice, no source.
    #[test]
    fn each_finish_is_a_run_in_natural_order_that_begins_on_a_new_page() {
        let p = |card, finish| PrintingId::new(SetId(4), card, finish);
        let numbered = vec![
            ("12a", p(0, 0)),
            ("12a", p(0, 1)),
            ("7", p(1, 0)),
            ("P3", p(2, 1)),
            ("12", p(3, 0)),
            ("12", p(3, 1)),
        ];
        let pages = by_finish(numbered, PageFormat::new(2, 1, 1));
        let meant: Vec<Vec<_>> = pages
            .iter()
            .map(|page| page.printings().collect())
            .collect();
        assert_eq!(
            meant,
            [
                vec![(0, p(1, 0)), (1, p(3, 0))],
                vec![(0, p(0, 0))],
                vec![(0, p(3, 1)), (1, p(0, 1))],
                vec![(0, p(2, 1))],
            ]
        );
    }

    #[test]
    fn without_cards_there_are_no_pages() {
        assert_eq!(by_finish(Vec::new(), PageFormat::new(3, 3, 2)), []);
    }
}
