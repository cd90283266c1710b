//! Runs: printings in their order on pages of one format.

use crate::model::{Card, LayoutPage, Meaning, PageFormat, PrintingId, SetId};
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

/// The printings of one finish in natural order of their numbers. `first` is the place of
/// `cards[0]` in the set's checklist.
#[must_use]
pub fn finish_run(set: SetId, first: u32, cards: &[Card], finish: u8) -> Vec<PrintingId> {
    let mut places: Vec<_> = (first..)
        .zip(cards)
        .filter(|(_, card)| card.has_finish(finish))
        .collect();
    places.sort_by(|(_, a), (_, b)| natural_cmp(&a.number, &b.number));
    places
        .into_iter()
        .map(|(at, _)| PrintingId::new(set, at, finish))
        .collect()
}

/// The default layout of a whole checklist: each finish is a run of its own, in natural order of
/// the numbers, and begins on a new page.
#[must_use]
pub fn by_finish(set: SetId, cards: &[Card], finishes: u8, format: PageFormat) -> Vec<LayoutPage> {
    (0..finishes)
        .flat_map(|finish| run(format, &finish_run(set, 0, cards, finish)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn card(number: &str, finishes: u64) -> Card {
        Card {
            number: number.into(),
            name: "".into(),
            rarity: None,
            size: None,
            finishes,
        }
    }

    /// Natural order: the rule of `text::natural_cmp`. A run that begins on a new page: common
    /// practice, no source.
    #[test]
    fn each_finish_is_a_run_in_natural_order_that_begins_on_a_new_page() {
        let cards = [card("12a", 3), card("7", 1), card("P3", 2), card("12", 3)];
        let pages = by_finish(SetId(4), &cards, 2, PageFormat::new(2, 1, 1));
        let meant: Vec<Vec<_>> = pages
            .iter()
            .map(|page| page.printings().map(|(at, p)| (at, p)).collect())
            .collect();
        let p = |card, finish| PrintingId::new(SetId(4), card, finish);
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
    fn a_set_without_cards_has_no_pages() {
        assert_eq!(by_finish(SetId(0), &[], 2, PageFormat::new(3, 3, 2)), []);
    }
}
