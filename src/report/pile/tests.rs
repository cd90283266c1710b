use std::collections::BTreeMap;

use proptest::prelude::*;
use serde_json::Value;

use super::*;
use crate::demo;

/// Worked out by exact powers, by search over all orders and by simulation; the sources are
/// named in the file.
fn cases(kind: &str) -> Vec<Value> {
    crate::checks::cases("pile_sort.json", kind)
}

fn number(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

fn places(case: &Value) -> u32 {
    u32::try_from(number(&case["piles"])).unwrap()
}

#[test]
fn the_passes_of_any_stack_are_those_of_exact_powers() {
    for case in cases("worst_case") {
        let (cards, places) = (number(&case["cards"]), places(&case));
        let right = u32::try_from(number(&case["passes"])).unwrap();
        assert_eq!(passes(cards, places), Some(right), "{case}");
        let plan = sorting(&vec![0; cards as usize], cards, places).unwrap();
        assert_eq!(plan.passes.len() as u32, right, "{case}");
        assert_eq!(plan.placements, number(&case["placements"]), "{case}");
        assert!(plan.left_together <= 1, "{case}");
    }
    assert_eq!(passes(2, 1), None);
    assert_eq!(passes(1, 0), Some(0));
    assert_eq!(passes(u64::MAX, 2), Some(64));
}

#[test]
fn a_stack_whose_order_is_known_needs_the_passes_of_its_rising_sequences() {
    for case in cases("given_order") {
        let order = case["order"].as_array().unwrap().iter();
        let order: Vec<usize> = order.map(|rank| number(rank) as usize).collect();
        let runs = rising_runs(&order).into_iter().max().unwrap_or(0) as u64 + 1;
        assert_eq!(runs, number(&case["rising_sequences"]), "{case}");
        let right = u32::try_from(number(&case["passes"])).unwrap();
        assert_eq!(passes(runs, places(&case)), Some(right), "{case}");
        assert!(dealt_by_runs(&order, places(&case)).is_sorted(), "{case}");
    }
}

#[test]
fn over_all_orders_of_a_few_cards_the_passes_are_as_search_found_them() {
    for case in cases("exhaustive") {
        let places = places(&case);
        let mut by_passes: BTreeMap<u32, u64> = BTreeMap::new();
        let mut order: Vec<usize> = (0..number(&case["cards"]) as usize).collect();
        permutations(&mut order, 0, &mut |order| {
            let runs = rising_runs(order).into_iter().max().unwrap_or(0) as u64 + 1;
            *by_passes.entry(passes(runs, places).unwrap()).or_default() += 1;
            assert!(dealt_by_runs(order, places).is_sorted(), "{order:?}");
        });
        let right = case["orders_by_passes"].as_array().unwrap().iter();
        let right: BTreeMap<u32, u64> = (0..).zip(right.map(number)).collect();
        assert_eq!(by_passes, right, "{case}");
        assert_eq!(
            u64::from(*by_passes.keys().max().unwrap()),
            number(&case["worst"])
        );
    }
}

fn permutations(order: &mut Vec<usize>, from: usize, each: &mut impl FnMut(&[usize])) {
    if from == order.len() {
        return each(order);
    }
    for at in from..order.len() {
        order.swap(from, at);
        permutations(order, from + 1, each);
        order.swap(from, at);
    }
}

/// Deals a stack by the digits of its runs, the last digit first, each later card behind the
/// earlier ones, and picks the heaps up in order.
fn dealt_by_runs(stack: &[usize], places: u32) -> Vec<usize> {
    let runs = rising_runs(stack);
    let number = runs.iter().max().map_or(1, |most| *most as u64 + 1);
    let mut cards: Vec<(usize, usize)> = runs.into_iter().zip(stack.iter().copied()).collect();
    let places = places as usize;
    for pass in 0..passes(number, places as u32).unwrap() {
        let mut heaps = vec![Vec::new(); places];
        for card in cards {
            heaps[card.0 / places.pow(pass) % places].push(card);
        }
        cards = heaps.concat();
    }
    cards.into_iter().map(|(_, rank)| rank).collect()
}

/// Follows the ranges as a person would: goes through the stack, puts each card on top of the heap
/// on which it belongs, and picks the heaps up when a card of the next group shows.
fn dealt(plan: &Sorting, mut stack: Vec<usize>) -> Vec<usize> {
    for groups in &plan.passes {
        let mut picked_up = Vec::new();
        let mut left = stack.into_iter().peekable();
        for group in groups {
            assert!(group.heaps.len() <= plan.places as usize);
            let mut heaps = vec![Vec::new(); group.heaps.len()];
            while let Some(card) = left.next_if(|card| group.whole.contains(card)) {
                let at = group.heaps.iter().position(|heap| heap.contains(&card));
                heaps[at.unwrap()].push(card);
            }
            for heap in heaps {
                picked_up.extend(heap.into_iter().rev());
            }
        }
        assert_eq!(left.next(), None, "a card had no heap");
        stack = picked_up;
    }
    stack
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn dealing_as_the_ranges_say_puts_any_stack_in_order(
        (breaks, stack) in prop::collection::vec(0u8..4, 1..300).prop_flat_map(|breaks| {
            let kinds = breaks.len();
            (Just(breaks), prop::collection::vec(0..kinds, 0..400))
        }),
        places in 2u32..12,
    ) {
        // Any number of cards: then the different ones count.
        let plan = sorting(&breaks, u64::MAX, places).unwrap();
        let right = passes(breaks.len() as u64, places).unwrap();
        prop_assert_eq!(plan.passes.len() as u32, right);
        prop_assert_eq!(plan.left_together, 1);
        let mut sorted = stack.clone();
        sorted.sort_unstable();
        prop_assert_eq!(dealt(&plan, stack.clone()), sorted);

        // Fewer cards than there may be: what is left together is no more than is said.
        let plan = sorting(&breaks, stack.len() as u64, places).unwrap();
        let fewer = passes((stack.len() as u64).min(breaks.len() as u64), places).unwrap();
        prop_assert_eq!(plan.passes.len() as u32, fewer);
        let dealt = dealt(&plan, stack);
        for (at, card) in dealt.iter().enumerate() {
            for later in &dealt[at..] {
                prop_assert!(later + plan.left_together > *card);
            }
        }
    }

    #[test]
    fn the_fewest_places_are_enough_and_one_fewer_is_not(cards in 2u64..100_000, most in 1u32..8) {
        let places = fewest_places(cards, most).unwrap();
        prop_assert!(passes(cards, places).unwrap() <= most);
        prop_assert!(passes(cards, places - 1).is_none_or(|p| p > most));
    }
}

#[test]
fn borders_are_natural_where_this_costs_no_pass() {
    // Three sets of 30, 40 and 30 on four places: 4^4 is far more than 100.
    let mut breaks = vec![0u8; 100];
    (breaks[30], breaks[70]) = (5, 5);
    let plan = sorting(&breaks, 100, 4).unwrap();
    assert_eq!(plan.passes.len(), 4);
    let first = &plan.passes[0][0].heaps;
    assert_eq!(first.first(), Some(&(0..30)));
    // 100 of 100 on ten places leave no choice.
    let plan = sorting(&breaks, 100, 10).unwrap();
    assert!(plan.passes[0][0].heaps.iter().all(|heap| heap.len() == 10));
}

#[test]
fn the_order_is_that_of_the_pockets_and_has_every_printing_once() {
    let collection = demo::collection();
    let order = StackOrder::new(&collection, &[], |_| true);
    let mut all: Vec<_> = collection
        .sets()
        .flat_map(|(id, set)| set.printings(id))
        .collect();
    let mut sorted = order.printings.clone();
    sorted.sort_unstable();
    all.sort_unstable();
    assert_eq!(sorted, all);
    let wood = collection.set_by_code("WOOD").unwrap();
    let order = StackOrder::new(&collection, &[wood], |_| true);
    let meant = |at: usize| collection.places_meant(order.printings[at]).next();
    for at in 1..order.printings.len() {
        let (before, after) = (meant(at - 1), meant(at));
        assert!(before.is_some() && before < after, "{at}");
    }
    assert_eq!(
        range_words(&collection, &order.printings[..34]),
        "WOOD 1 to 34"
    );
    assert_eq!(
        range_words(&collection, &order.printings[599..]),
        "WOOD reverse 300"
    );
}

/// For a stack whose order is known: into which run each card belongs, when the cards are gone
/// through in their right order and a new run begins wherever one has to go back in the stack.
/// `stack` has each card's rank; equal ranks are interchangeable. With r runs a stack needs only
/// [`passes`] of r: deal by the last digit of the run's number first. (D. Bayer, P. Diaconis, Ann.
/// Appl. Probab. 2(2), 1992, 294–313, where the runs are called rising sequences.)
fn rising_runs(stack: &[usize]) -> Vec<usize> {
    let mut by_rank: Vec<usize> = (0..stack.len()).collect();
    // Stable: equal cards keep their order and so never begin a run of their own.
    by_rank.sort_by_key(|at| stack[*at]);
    let mut runs = vec![0; stack.len()];
    let mut run = 0;
    for pair in by_rank.windows(2) {
        run += usize::from(pair[1] < pair[0]);
        runs[pair[1]] = run;
    }
    runs
}
