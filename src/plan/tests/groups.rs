//! Of ways with as few lifts and page moves one with fewer handlings.

use proptest::prelude::*;

use super::replay::{check, check_rest};
use super::steps::{any_task, least_handlings};
use super::{binder, longest_increasing, orders, task};
use crate::plan::becomes::{Becomes, becomes, becomes_working};
use crate::plan::keep::Effort;
use crate::plan::task::At;
use crate::plan::task::{Task, Working};
use crate::plan::work;

fn first(task: &Task) -> Becomes {
    becomes(task, Effort::THOROUGH)
}

fn improved(task: &Task) -> Becomes {
    becomes_working(task, Effort::THOROUGH, Working::HandToHand)
}

/// Lifts are cards less those in place.
fn key(found: &Becomes) -> (u64, usize) {
    (found.in_place, found.page_moves)
}

/// The fewest handlings over all assignments that let as many cards stay and move as few pages:
/// for one binder with as many pages as its layout, all alike in kind.
fn brute_force(task: &Task) -> usize {
    let binder = &task.binders[0];
    let pages = binder.before.len();
    let ways = orders(pages).into_iter().map(|order| {
        let both = (binder.before.iter()).zip(order.iter().map(|meant| &binder.after[*meant]));
        let in_place = both.map(|(real, meant)| {
            let both = real.pockets.iter().zip(&meant.pockets);
            both.filter(|(a, b)| a == b && **a != 0).count() as u64
        });
        let in_place = in_place.sum();
        let mut from: Vec<Option<At>> = vec![None; pages];
        for (page, meant) in order.iter().enumerate() {
            from[*meant] = Some((0, page));
        }
        let to = order.iter().map(|meant| Some((0, *meant)));
        let found = Becomes {
            from: vec![from],
            to: vec![to.collect()],
            stays: Vec::new(),
            in_place,
            page_moves: pages - longest_increasing(&order),
            proven: true,
        };
        let handlings = least_handlings(task, &found);
        (u64::MAX - in_place, found.page_moves, handlings)
    });
    ways.min().unwrap().2
}

/// Distinct cards dealt anew over their pages.
fn shuffled(
    pages: std::ops::Range<usize>,
    pockets: std::ops::Range<usize>,
) -> impl Strategy<Value = (Vec<Vec<u32>>, Vec<Vec<u32>>)> {
    (pages, pockets).prop_flat_map(|(pages, pockets)| {
        let cards: Vec<u32> = (1..=(pages * pockets) as u32).collect();
        let wanted: Vec<Vec<u32>> = cards.chunks(pockets).map(<[u32]>::to_vec).collect();
        Just(cards).prop_shuffle().prop_map(move |cards| {
            let now = cards.chunks(pockets).map(<[u32]>::to_vec);
            (now.collect(), wanted.clone())
        })
    })
}

/// The same in two binders; some cases with pages to add or to take out.
fn shuffled_task() -> impl Strategy<Value = Task> {
    let cuts = (0usize..8, 0usize..8, 0usize..3, 0usize..3);
    (shuffled(3..8, 2..4), cuts).prop_map(|((mut now, mut wanted), cuts)| {
        now.truncate(now.len() - cuts.2);
        wanted.truncate(wanted.len() - cuts.3);
        let (a, b) = now.split_at(cuts.0.min(now.len()));
        let (c, d) = wanted.split_at(cuts.1.min(wanted.len()));
        task(vec![binder(a, c), binder(b, d)])
    })
}

/// A case where the first of the equally good ways takes a handling more than need be. Card moves
/// with one place aside, misplaced and closed cycles: the model of `card_moves.json`.
#[test]
fn of_ways_as_good_one_with_fewer_handlings_is_taken() {
    let now = [[3, 7, 4], [2, 5, 12], [1, 8, 11], [6, 10, 9]].map(Vec::from);
    let wanted = [[1, 2, 3], [4, 5, 6], [7, 8, 9], [10, 11, 12]].map(Vec::from);
    let task = task(vec![binder(&now, &wanted)]);
    assert_eq!(least_handlings(&task, &first(&task)), 11);
    assert_eq!(brute_force(&task), 10);
    let found = work(&task, Working::HandToHand);
    assert_eq!(found.figures.handlings, 10);
    check(&task, &found);
    check_rest(&task, &found);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn never_more_handlings_and_all_else_as_before(
        task in prop_oneof![any_task(), shuffled_task()]
    ) {
        let (before, after) = (first(&task), improved(&task));
        prop_assert_eq!(key(&before), key(&after));
        let handlings = work(&task, Working::HandToHand).figures.handlings;
        prop_assert_eq!(handlings, least_handlings(&task, &after));
        prop_assert!(handlings <= least_handlings(&task, &before));
    }

    /// Of all orders of up to six pages, each looked at.
    #[test]
    fn no_way_with_as_few_lifts_and_page_moves_has_fewer_handlings(
        (now, wanted) in shuffled(2..7, 1..5)
    ) {
        let task = task(vec![binder(&now, &wanted)]);
        let found = work(&task, Working::HandToHand);
        prop_assert_eq!(found.figures.handlings, brute_force(&task));
        check_rest(&task, &found);
    }

    /// The same with copies that can stand for each other, and with empty pockets.
    #[test]
    fn nor_where_copies_are_interchangeable(
        (now, wanted) in shuffled(2..6, 1..4), of in 2u32..6
    ) {
        let fold = |pages: Vec<Vec<u32>>| -> Vec<Vec<u32>> {
            let fold = |page: Vec<u32>| page.into_iter().map(|card| card % of).collect();
            pages.into_iter().map(fold).collect()
        };
        let task = task(vec![binder(&fold(now), &fold(wanted))]);
        let found = work(&task, Working::HandToHand);
        prop_assert_eq!(found.figures.handlings, brute_force(&task));
        check(&task, &found);
        check_rest(&task, &found);
    }

    #[test]
    fn the_layout_is_reached_and_the_rest_stays_the_same(task in shuffled_task()) {
        let found = work(&task, Working::HandToHand);
        check(&task, &found);
        check_rest(&task, &found);
    }
}
