//! `sort-pile`: which ranges go on which heap, pass by pass.

use serde::Serialize;

use super::args::SortPileArgs;
use super::error::CliError;
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::model::{Collection, PrintingId, SetId};
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

pub(super) fn run(
    args: &SortPileArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = session.collection();
    let sets = args
        .set
        .iter()
        .map(|code| open::only(collection, Some(code)));
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
                .hint("say how many cards the stack has: --cards 300"),
        );
    }
    let plan = report::sorting(&order.breaks, cards, args.places)
        .ok_or_else(|| CliError::usage("a stack needs two places or more"))?;
    let passes = passes(&order, &plan);
    if json {
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
            places: args.places,
            passes,
            placements: plan.placements,
            left_together: plan.left_together,
            ranges: ranges.collect(),
        });
    }
    tell(collection, &order, &plan, passes, out)
}

/// Without a list of what may be in the stack there are passes, but no ranges.
fn passes(order: &StackOrder, plan: &Sorting) -> usize {
    if order.printings.is_empty() {
        report::passes(plan.cards, plan.places).map_or(0, |passes| passes as usize)
    } else {
        plan.passes.len()
    }
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

fn tell(
    collection: &Collection,
    order: &StackOrder,
    plan: &Sorting,
    passes: usize,
    out: &mut Output,
) -> Result<(), CliError> {
    let cards = count(plan.cards, "card", "cards");
    if passes == 0 {
        return out.line(&format!("{cards}: nothing to sort."));
    }
    let number = count(passes as u64, "pass", "passes");
    let handled = count(plan.placements, "placing", "placings");
    let places = plan.places;
    out.line(&format!("{cards} on {places} places: {number}, {handled}."))?;
    let different = match order.printings.len() as u64 {
        0 => plan.cards,
        different => different.min(plan.cards),
    };
    let fewer = u32::try_from(passes - 1).ok().filter(|fewer| *fewer > 0);
    let more = fewer.and_then(|fewer| report::fewest_places(different, fewer));
    if let Some(more) = more.filter(|more| *more <= 4 * places) {
        out.line(&format!("With room for {more} heaps it is one pass fewer."))?;
    }
    for (pass, groups) in (1..).zip(&plan.passes) {
        out.apart()?;
        // A heap of one card, or of equal ones, is picked up as it lies.
        let dealt: Vec<_> = groups
            .iter()
            .filter(|group| group.heaps.len() > 1)
            .collect();
        let last = pass == plan.passes.len();
        if last && pass > 1 && plan.left_together == 1 {
            let most = dealt.iter().map(|group| group.heaps.len()).max();
            let most = count(most.unwrap_or(0) as u64, "number", "different numbers");
            out.line(&format!(
                "Pass {pass}: take each heap of pass {} in turn. It has at most {most} now: \
                 one place for each, and pick up in order.",
                pass - 1
            ))?;
            continue;
        }
        out.line(&if pass == 1 {
            "Pass 1: one heap for each of these; pick them up in this order.".to_owned()
        } else {
            format!(
                "Pass {pass}: each heap of pass {} again, in turn.",
                pass - 1
            )
        })?;
        if pass == 1 {
            for (place, heap) in dealt.iter().flat_map(|group| (1..).zip(&group.heaps)) {
                let range = &order.printings[heap.clone()];
                let words = report::range_words(collection, range);
                out.line(&format!("  {place:>4}  {words}"))?;
            }
            continue;
        }
        let mut table = Table::new(&[("heap", Align::Left), ("new heaps begin at", Align::Left)]);
        for group in dealt {
            let whole = report::range_words(collection, &order.printings[group.whole.clone()]);
            let firsts = group.heaps.iter().map(|heap| order.printings[heap.start]);
            table.row([whole, report::begin_words(collection, firsts)]);
        }
        table.print(out)?;
    }
    if plan.left_together > 1 {
        out.apart()?;
        out.line(&format!(
            "At the end up to {} neighbouring numbers share a heap; as there are fewer cards than \
             numbers, few of them do. Put those in order in the hand.",
            plan.left_together
        ))?;
    }
    Ok(())
}
