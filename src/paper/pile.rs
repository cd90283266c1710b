//! How to sort a pile by hand, on paper beside the heaps.

use super::listing::{Align, Block, Listing, Table, Tick};
use crate::model::Collection;
use crate::report::{self, Sorting, StackOrder};
use crate::text::count;

/// Without a list of what may be in the pile there are passes, but no ranges.
#[must_use]
pub fn pile_passes(order: &StackOrder, plan: &Sorting) -> usize {
    if order.printings.is_empty() {
        report::passes(plan.cards, plan.places).map_or(0, |passes| passes as usize)
    } else {
        plan.passes.len()
    }
}

/// Which ranges go on which heap, pass by pass.
#[must_use]
pub fn pile_sheet(collection: &Collection, order: &StackOrder, plan: &Sorting) -> Listing {
    let mut out = Listing::new("To sort a pile");
    let passes = pile_passes(order, plan);
    let cards = count(plan.cards, "card", "cards");
    if passes == 0 {
        out.words(format!("{cards}: nothing to sort."));
        return out;
    }
    let number = count(passes as u64, "pass", "passes");
    let handled = count(plan.placements, "time", "times");
    let places = plan.places;
    let mut first =
        format!("{cards} on {places} heaps: {number}; a card is put down {handled} in all.");
    let different = match order.printings.len() as u64 {
        0 => plan.cards,
        different => different.min(plan.cards),
    };
    let fewer = u32::try_from(passes - 1).ok().filter(|fewer| *fewer > 0);
    let more = fewer.and_then(|fewer| report::fewest_places(different, fewer));
    if let Some(more) = more.filter(|more| *more <= 4 * places) {
        first.push_str(&format!(
            "\nWith room for {more} heaps it is one pass fewer."
        ));
    }
    out.words(first);
    for (pass, groups) in (1..).zip(&plan.passes) {
        // A heap of one card, or of equal ones, is picked up as it lies.
        let dealt: Vec<_> = groups
            .iter()
            .filter(|group| group.heaps.len() > 1)
            .collect();
        let last = pass == plan.passes.len();
        if last && pass > 1 && plan.left_together == 1 {
            let most = dealt.iter().map(|group| group.heaps.len()).max();
            let most = count(most.unwrap_or(0) as u64, "number", "different numbers");
            out.words(format!(
                "Pass {pass}: take each heap of pass {} in turn. It has at most {most} now: \
                 one heap for each, and pick up in order.",
                pass - 1
            ));
            continue;
        }
        out.heading(if pass == 1 {
            "Pass 1: one heap for each of these; pick them up in this order.".to_owned()
        } else {
            format!(
                "Pass {pass}: each heap of pass {} again, in turn.",
                pass - 1
            )
        });
        if pass == 1 {
            let heaps = dealt.iter().flat_map(|group| (1..).zip(&group.heaps));
            let ticks = heaps.map(|(place, heap)| Tick {
                number: Some(place),
                words: report::range_words(collection, &order.printings[heap.clone()]),
            });
            out.blocks.push(Block::Ticks(ticks.collect()));
            continue;
        }
        let heads = [("heap", Align::Left), ("new heaps begin at", Align::Left)];
        let mut table = Table::new(&heads, true);
        for group in dealt {
            let whole = report::range_words(collection, &order.printings[group.whole.clone()]);
            let firsts = group.heaps.iter().map(|heap| order.printings[heap.start]);
            table.row([whole, report::begin_words(collection, firsts)]);
        }
        out.table(table);
    }
    if plan.left_together > 1 {
        out.words(format!(
            "At the end up to {} neighbouring numbers share a heap; as there are fewer cards than \
             numbers, few of them do. Put those in order in the hand.",
            plan.left_together
        ));
    }
    out
}
