//! Which page becomes which, and how many pages move.

use proptest::prelude::*;

use super::{binder, cases, lists, longest_increasing, numbers, orders, task};
use crate::plan::assign::assign;
use crate::plan::becomes::{Becomes, becomes};
use crate::plan::equal::Equal;
use crate::plan::keep::{Effort, count};
use crate::plan::overlap::overlaps;
use crate::plan::task::{Binder, Movable, Pages, Task};

const PAGE_MOVES: &str = include_str!("../../../tests/data/page_moves.json");
const PERMUTATIONS: &str = include_str!("../../../tests/data/permutations.json");
const ASSIGNMENT: &str = include_str!("../../../tests/data/page_assignment.json");

fn settle(binders: Vec<Binder>) -> Becomes {
    becomes(&task(binders), Effort::THOROUGH)
}

/// Pages of one card each, so that each is known by its card.
fn single(order: &[u32]) -> Vec<Vec<u32>> {
    order.iter().map(|card| vec![*card]).collect()
}

/// Brute force over all orders; the sums of the longest increasing subsequences are OEIS A003316
/// and the counts A047874 (source in the data files).
#[test]
fn fewest_page_moves_are_all_but_a_longest_increasing_subsequence() {
    let sums = [1, 3, 12, 58, 335, 2261, 17465];
    for (n, sum) in (1..).zip(sums) {
        let wanted: Vec<u32> = (1..=n).collect();
        let mut kept_in_all = 0;
        let mut by_moves = vec![0; n as usize];
        for order in orders(n as usize) {
            let now: Vec<u32> = order.iter().map(|page| *page as u32 + 1).collect();
            let found = settle(vec![binder(&single(&now), &single(&wanted))]);
            let kept = longest_increasing(&order);
            assert_eq!(found.page_moves, order.len() - kept, "{order:?}");
            assert!(found.proven);
            kept_in_all += kept;
            by_moves[found.page_moves] += 1;
        }
        assert_eq!(kept_in_all, sum);
        let case = &cases(PAGE_MOVES, "exhaustive")[n as usize - 1];
        assert_eq!(case["sum_lis"], sum);
        assert_eq!(numbers(&case["permutations_by_moves"]), by_moves);
    }
}

#[test]
fn page_moves_are_those_of_the_tables() {
    for kind in ["distinct", "interchangeable"] {
        for case in cases(PAGE_MOVES, kind) {
            let now = numbers(&case["order"]);
            let wanted = if case["wanted"] == "ascending" {
                (1..=now.len() as u32).collect()
            } else {
                numbers(&case["wanted"])
            };
            let found = settle(vec![binder(&single(&now), &single(&wanted))]);
            assert_eq!(found.page_moves, case["moves"], "{case}");
            assert!(found.proven, "{case}");
        }
    }
    for case in cases(PAGE_MOVES, "several_binders") {
        let both = lists(&case["binders"]);
        let both = both.iter().zip(lists(&case["wanted"]));
        let binders = both.map(|(now, wanted)| binder(&single(now), &single(&wanted)));
        let found = settle(binders.collect());
        assert_eq!(found.page_moves, case["moves"], "{case}");
        assert!(found.proven, "{case}");
    }
    for case in cases(PERMUTATIONS, "permutation") {
        let now: Vec<u32> = numbers(&case["p"]).iter().map(|page| page + 1).collect();
        let wanted: Vec<u32> = (1..=now.len() as u32).collect();
        let found = settle(vec![binder(&single(&now), &single(&wanted))]);
        assert_eq!(now.len() - found.page_moves, case["lis"], "{case}");
    }
}

/// Optima of a general-purpose library and of brute force (source in the data file).
#[test]
fn most_cards_stay_and_then_fewest_pages_move() {
    let all: serde_json::Value = serde_json::from_str(ASSIGNMENT).unwrap();
    let mut proven = 0;
    let mut with_moves = 0;
    for case in all["cases"].as_array().unwrap() {
        let (now, wanted) = (lists(&case["current"]), lists(&case["wanted"]));
        let found = settle(vec![binder(&now, &wanted)]);
        assert_eq!(found.in_place, case["max_stay"], "{case}");
        if let Some(moves) = case["min_page_moves_at_max_stay"].as_u64() {
            assert_eq!(found.page_moves as u64, moves, "{case}");
            assert!(found.proven, "{case}");
            with_moves += 1;
        }
        proven += usize::from(found.proven);
    }
    assert!(with_moves >= 29, "{with_moves}");
    assert!(proven >= with_moves);
}

/// All ways to make pages of the layout from pages, as far as there are both: the most cards in
/// place, and then the fewest page moves, over one binder.
fn brute_force(now: &[Vec<u32>], wanted: &[Vec<u32>]) -> (u64, usize) {
    let places = now.len().max(wanted.len());
    let stay = |page: usize, meant: usize| match (now.get(page), wanted.get(meant)) {
        (Some(page), Some(meant)) => {
            let both = page.iter().zip(meant);
            both.filter(|(a, b)| a == b && **a != 0).count() as u64
        }
        _ => 0,
    };
    let ways = orders(places).into_iter().map(|order| {
        let weight: u64 = (0..places).map(|page| stay(page, order[page])).sum();
        let real = (0..now.len()).map(|page| order[page]);
        let real: Vec<_> = real.filter(|meant| *meant < wanted.len()).collect();
        (weight, real.len() - longest_increasing(&real))
    });
    let ways: Vec<_> = ways.collect();
    let most = ways.iter().map(|(weight, _)| *weight).max().unwrap();
    let moves = ways.iter().filter(|(weight, _)| *weight == most);
    (most, moves.map(|(_, moves)| *moves).min().unwrap())
}

fn small_pages() -> impl Strategy<Value = (Vec<Vec<u32>>, Vec<Vec<u32>>)> {
    (1u32..7, 1usize..4).prop_flat_map(|(printings, pockets)| {
        let page = prop::collection::vec(0..=printings, pockets);
        let pages = prop::collection::vec(page, 0..6);
        (pages.clone(), pages)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// Brute force over all assignments.
    #[test]
    fn no_assignment_lets_more_cards_stay_or_moves_fewer_pages(
        (now, wanted) in small_pages()
    ) {
        let found = settle(vec![binder(&now, &wanted)]);
        let (stay, moves) = brute_force(&now, &wanted);
        prop_assert_eq!(found.in_place, stay);
        prop_assert!(found.proven);
        prop_assert_eq!(found.page_moves, moves);
    }

    /// The prices, and then the work, are the same whatever the effort; only the proof may lack.
    #[test]
    fn with_little_effort_the_number_is_right_or_not_called_proven(
        (now, wanted) in small_pages()
    ) {
        let task = task(vec![binder(&now, &wanted)]);
        let found = becomes(&task, Effort(0));
        let (stay, moves) = brute_force(&now, &wanted);
        prop_assert_eq!(found.in_place, stay);
        prop_assert!(found.page_moves >= moves);
        prop_assert!(!found.proven || found.page_moves == moves);
    }

    /// What is told while a page is carried: right where it is called proven, else the number of a
    /// way that there is. Brute force over all assignments, and the way counted the plain way.
    #[test]
    fn pages_that_stay_are_counted_right_or_are_those_of_a_way_as_good(
        (now, wanted) in small_pages(), effort in 0u64..40,
    ) {
        let task = task(vec![binder(&now, &wanted)]);
        let movable = Movable::new(&task);
        let edges = overlaps(&movable, task.loose.len() - 1);
        let assigned = assign(&edges, movable.columns.len());
        let mut equal = Equal::new(&movable, &edges, &assigned);
        let (stay, proven) = count(&movable, &mut equal, Effort(effort));
        let taken: Vec<_> = (0..now.len()).map(|row| equal.take[row] as usize).collect();
        let real: Vec<_> = taken.iter().copied().filter(|to| *to < wanted.len()).collect();
        let (most, moves) = brute_force(&now, &wanted);
        prop_assert!(real.len() - stay >= moves);
        prop_assert!(!proven || real.len() - stay == moves);
        let in_place = |(row, to): (usize, &usize)| match wanted.get(*to) {
            Some(meant) => now[row].iter().zip(meant).filter(|(a, b)| a == b && **a != 0).count(),
            None => 0,
        };
        let in_place: usize = taken.iter().enumerate().map(in_place).sum();
        prop_assert_eq!(in_place as u64, most);
        if !proven {
            prop_assert_eq!(stay, longest_increasing(&real));
        }
    }

    /// Two binders: brute force over all assignments of all pages.
    #[test]
    fn pages_go_from_one_binder_to_another_when_that_lets_more_cards_stay(
        (mut now, mut wanted) in small_pages(), cut_now in 0usize..6, cut_wanted in 0usize..6
    ) {
        let pages = now.len().min(wanted.len());
        now.truncate(pages);
        wanted.truncate(pages);
        let (a, b) = now.split_at(cut_now.min(now.len()));
        let (c, d) = wanted.split_at(cut_wanted.min(wanted.len()));
        let found = settle(vec![binder(a, c), binder(b, d)]);
        let stay = |page: usize, meant: usize| {
            let both = now[page].iter().zip(&wanted[meant]);
            both.filter(|(a, b)| a == b && **a != 0).count() as u64
        };
        let ways = orders(now.len()).into_iter().map(|order| {
            let weight: u64 = (0..order.len()).map(|page| stay(page, order[page])).sum();
            let first = (0..a.len()).map(|page| order[page]).filter(|meant| *meant < c.len());
            let second = (a.len()..order.len()).map(|page| order[page]);
            let second = second.filter(|meant| *meant >= c.len());
            let kept = longest_increasing(&first.collect::<Vec<_>>())
                + longest_increasing(&second.collect::<Vec<_>>());
            (weight, order.len() - kept)
        });
        let ways: Vec<_> = ways.collect();
        let most = ways.iter().map(|(weight, _)| *weight).max().unwrap();
        let moves = ways.iter().filter(|(weight, _)| *weight == most);
        prop_assert_eq!(found.in_place, most);
        prop_assert!(found.proven);
        prop_assert_eq!(found.page_moves, moves.map(|(_, moves)| *moves).min().unwrap());
    }
}

/// Common practice, no source: a binder of empty pages is filled; no page need be touched, and
/// further pages come after those that are there.
#[test]
fn empty_pages_stay_and_new_ones_come_last() {
    let now = vec![vec![0, 0]; 3];
    let wanted: Vec<Vec<u32>> = (0..5)
        .map(|page| vec![2 * page + 1, 2 * page + 2])
        .collect();
    let found = settle(vec![binder(&now, &wanted)]);
    assert_eq!((found.page_moves, found.proven), (0, true));
    let from: Vec<_> = found.from[0].clone();
    assert_eq!(from, [Some((0, 0)), Some((0, 1)), Some((0, 2)), None, None]);
}

/// As many pages as there are in both, and of those ways, each looked at, the one in which most
/// cards may stay.
fn best_in_order(now: &[Vec<u32>], wanted: &[Vec<u32>]) -> u64 {
    let (few, many) = (now.len().min(wanted.len()), now.len().max(wanted.len()));
    let choices = (0u32..1 << many).filter(|choice| choice.count_ones() as usize == few);
    let weights = choices.map(|choice| {
        let chosen = (0..many).filter(|at| choice & (1 << at) != 0);
        let pairs = chosen.enumerate().map(|(at, other)| {
            let (page, meant) = if now.len() < wanted.len() {
                (at, other)
            } else {
                (other, at)
            };
            let both = now[page].iter().zip(&wanted[meant]);
            both.filter(|(a, b)| a == b && **a != 0).count() as u64
        });
        pairs.sum()
    });
    weights.max().unwrap_or(0)
}

proptest! {
    #[test]
    fn where_pages_stay_none_is_moved_and_most_cards_stay(
        now in prop::collection::vec(prop::collection::vec(0u32..5, 3), 0..7),
        wanted in prop::collection::vec(prop::collection::vec(0u32..5, 3), 0..7),
    ) {
        let mut stays = binder(&now, &wanted);
        stays.pages = Pages::Stay;
        let found = settle(vec![stays]);
        prop_assert_eq!(found.page_moves, 0);
        prop_assert!(found.proven);
        prop_assert_eq!(found.in_place, best_in_order(&now, &wanted));
        let made: Vec<usize> = found.from[0].iter().flatten().map(|at| at.1).collect();
        prop_assert_eq!(made.len(), now.len().min(wanted.len()));
        prop_assert!(made.is_sorted());
    }
}

/// Pages of a binder with fixed pages are what they are.
#[test]
fn fixed_pages_stay() {
    let mut fixed = binder(&[vec![1, 2], vec![3, 4]], &[vec![3, 4], vec![1, 2]]);
    fixed.pages = Pages::Fixed;
    let found = settle(vec![fixed]);
    assert_eq!((found.page_moves, found.in_place), (0, 0));
    assert_eq!(found.from[0], [Some((0, 0)), Some((0, 1))]);
    let all = Task::default();
    assert_eq!(becomes(&all, Effort::GLANCE).page_moves, 0);
}
