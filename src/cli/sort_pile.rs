//! `sort-pile`: which ranges go on which heap, pass by pass.

use serde::Serialize;

use super::args::SortPileArgs;
use super::error::CliError;
use super::named;
use super::open::Where;
use super::output::Output;
use crate::model::{Collection, PrintingId, SetId};
use crate::paper::{pile_passes, pile_sheet};
use crate::report::{self, Group, Sorting, StackOrder};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    cards: u64,
    places: u32,
    passes: usize,
    /// Times that a card is put on a heap, at most.
    placements: u64,
    /// The most different cards of a heap of the last pass.
    left_together: usize,
    ranges: Vec<Vec<GroupAnswer<'a>>>,
}

/// A heap of the pass before, and the heaps that it is dealt onto.
#[derive(Serialize)]
struct GroupAnswer<'a> {
    from: CardAnswer<'a>,
    to: CardAnswer<'a>,
    heaps: Vec<HeapAnswer<'a>>,
}

#[derive(Serialize)]
struct HeapAnswer<'a> {
    from: CardAnswer<'a>,
    to: CardAnswer<'a>,
    /// Different cards that belong on it.
    printings: usize,
}

#[derive(Serialize)]
struct CardAnswer<'a> {
    set: &'a str,
    number: &'a str,
    finish: &'a str,
}

pub(super) fn run(args: &SortPileArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = session.collection();
    let (order, plan) = sorted(args, collection)?;
    let cards = plan.cards;
    let passes = pile_passes(&order, &plan);
    if out.is_json() {
        let group = |group: &Group| GroupAnswer {
            from: card(collection, order.printings[group.whole.start]),
            to: card(collection, order.printings[group.whole.end - 1]),
            heaps: (group.heaps.iter())
                .map(|heap| HeapAnswer {
                    from: card(collection, order.printings[heap.start]),
                    to: card(collection, order.printings[heap.end - 1]),
                    printings: heap.len(),
                })
                .collect(),
        };
        let ranges = plan
            .passes
            .iter()
            .map(|groups| groups.iter().map(group).collect());
        return out.json(&Answer {
            format: "ringbound-sorting",
            version: 1,
            cards,
            places: args.heaps,
            passes,
            placements: plan.placements,
            left_together: plan.left_together,
            ranges: ranges.collect(),
        });
    }
    let sheet = pile_sheet(collection, &order, &plan).without_boxes();
    sheet.body().iter().try_for_each(|line| out.line(line))
}

/// The pile that the arguments speak of, and how it is sorted.
pub(super) fn sorted(
    args: &SortPileArgs,
    collection: &Collection,
) -> Result<(StackOrder, Sorting), CliError> {
    let sets = args
        .set
        .iter()
        .map(|code| named::only(collection, Some(code)));
    let sets: Vec<SetId> = sets
        .filter_map(Result::transpose)
        .collect::<Result<_, _>>()?;
    let loose = |printing: PrintingId| collection.tally(printing).loose;
    let order = StackOrder::new(collection, &sets, |of| !args.loose || loose(of) > 0);
    let cards = if args.loose {
        (order.printings.iter())
            .map(|of| u64::from(loose(*of)))
            .sum()
    } else {
        args.cards
            .map_or(order.printings.len() as u64, |n| n as u64)
    };
    if order.printings.is_empty() && cards == 0 && !args.loose {
        return Err(
            CliError::usage("there are no sets yet to take the numbers from")
                .hint("say how many cards the pile has: --cards 300"),
        );
    }
    let plan = report::sorting(&order.breaks, cards, args.heaps)
        .ok_or_else(|| CliError::usage("a pile needs two heaps or more"))?;
    Ok((order, plan))
}

fn card(collection: &Collection, printing: PrintingId) -> CardAnswer<'_> {
    let set = collection.set(printing.set());
    let finish = set.and_then(|set| set.finishes().get(usize::from(printing.finish())));
    CardAnswer {
        set: set.map_or("", |set| set.code()),
        number: collection.card(printing).map_or("", |card| &card.number),
        finish: finish.map_or("", |finish| &finish.name),
    }
}
