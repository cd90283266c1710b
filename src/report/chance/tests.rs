use proptest::prelude::*;
use serde_json::Value;

use super::*;

/// Computed in exact rational arithmetic; the sources are named in the file.
fn cases(kind: &str) -> Vec<Value> {
    crate::checks::cases("coupon.json", kind)
}

fn whole(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

/// A decimal number or a fraction.
fn number(value: &Value) -> f64 {
    let text = value.as_str().unwrap();
    match text.split_once('/') {
        Some((above, below)) => above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap(),
        None => text.parse().unwrap(),
    }
}

/// Equal to a part in 10^12; the file has 15 digits, or the whole fraction.
fn assert_near(found: f64, case: &Value, key: &str) {
    for key in [key, "exact"] {
        if case[key].is_string() {
            let right = number(&case[key]);
            let near = (found - right).abs() <= 1e-12 * right.abs().max(1.0);
            assert!(near, "{found} is not {right}: {case}");
        }
    }
}

fn class(cards: usize, have: usize, per_pack: usize) -> Class {
    Class {
        cards,
        missing: cards - have,
        per_pack: per_pack as f64,
    }
}

#[test]
fn single_cards_are_expected_as_the_harmonic_numbers_say() {
    for case in cases("singles") {
        let class = class(whole(&case["n"]), whole(&case["have"]), 1);
        assert_near(packs_until(&[class], 0).unwrap(), &case, "mean");
        assert_near(singles_until(&[class], 0).unwrap(), &case, "mean");
    }
}

#[test]
fn packs_of_different_cards_are_expected_as_exact_arithmetic_says() {
    for case in cases("packs") {
        let class = class(whole(&case["n"]), whole(&case["have"]), whole(&case["s"]));
        assert_near(packs_until(&[class], 0).unwrap(), &case, "mean");
    }
}

#[test]
fn the_sum_that_floating_point_breaks_is_not_used() {
    for case in cases("float_trap") {
        let class = class(whole(&case["n"]), 0, whole(&case["s"]));
        assert_near(packs_until(&[class], 0).unwrap(), &case, "correct");
    }
}

#[test]
fn cards_of_unlike_odds_are_expected_as_exact_arithmetic_says() {
    for case in cases("weighted") {
        let weights = case["weights"].as_array().unwrap().iter().map(whole);
        let mut classes: Vec<Class> = Vec::new();
        for weight in weights.clone() {
            // The same weight is the same class: what comes is shared by its cards.
            let alike = weights.clone().filter(|other| *other == weight).count();
            let per_pack = (weight * alike) as f64;
            if !classes
                .iter()
                .any(|class| class.per_pack == per_pack && class.cards == alike)
            {
                classes.push(Class {
                    cards: alike,
                    missing: alike,
                    per_pack,
                });
            }
        }
        assert_near(singles_until(&classes, 0).unwrap(), &case, "mean");
    }
}

#[test]
fn the_packs_for_a_chance_are_the_fewest() {
    for (kind, packs) in [("singles_quantile", "draws"), ("packs_quantile", "packs")] {
        for case in cases(kind) {
            let per_pack = case["s"].as_u64().unwrap_or(1) as usize;
            let class = class(whole(&case["n"]), 0, per_pack);
            let found = packs_for_chance(&[class], number(&case["q"]));
            assert_eq!(found.unwrap() as usize, whole(&case[packs]), "{case}");
            // The chances in the file have nine digits.
            for (key, less) in [("p", 1e-8), ("p_one_less", 1e-8)] {
                let chance = number(&case[key]);
                let at = |chance| packs_for_chance(&[class], chance).unwrap() as usize;
                let right = whole(&case[packs]) - usize::from(key == "p_one_less");
                assert_eq!(at(chance - less), right, "{case}");
                assert_eq!(at(chance + less), right + 1, "{case}");
            }
        }
    }
}

#[test]
fn packs_with_slots_for_each_rarity_are_expected_as_exact_arithmetic_says() {
    for case in cases("packs_with_rarity_slots") {
        let groups = case["groups_n_s"].as_array().unwrap().iter();
        let classes: Vec<_> = groups
            .map(|group| class(whole(&group[0]), 0, whole(&group[1])))
            .collect();
        assert_near(packs_until(&classes, 0).unwrap(), &case, "mean");
    }
}

#[test]
fn what_no_pack_brings_never_comes() {
    let never = Class {
        cards: 3,
        missing: 2,
        per_pack: 0.0,
    };
    let classes = [class(10, 9, 1), never];
    assert_eq!(packs_until(&classes, 0), None);
    assert_eq!(packs_for_chance(&classes, 0.5), None);
    assert_eq!(singles_until(&classes, 0), None);
    // The two as singles, the other by packs: one in ten.
    assert!((packs_until(&classes, 2).unwrap() - 10.0).abs() < 1e-12);
    assert_eq!(packs_until(&classes, 3), Some(0.0));
    assert_eq!(packs_until(&[], 0), Some(0.0));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Two ways to the same number: the recursion, and the sum over packs.
    #[test]
    fn recursion_and_sum_agree(
        (cards, missing, drawn) in (1usize..30)
            .prop_flat_map(|cards| (Just(cards), 0..=cards, 1..=cards)),
        left in 0usize..6,
    ) {
        let one = class(cards, cards - missing, drawn);
        let recursion = packs_until(&[one], left).unwrap();
        // A class that is complete alters nothing, and neither does one more card in no pack.
        let sum = packs::by_sum_of(&[one], left);
        prop_assert!((recursion - sum).abs() <= 1e-11 * recursion.max(1.0), "{recursion} {sum}");
        let whole = packs_until(&[one, class(4, 4, 1)], left).unwrap();
        prop_assert_eq!(recursion, whole);
    }

    /// A card in every fourth pack takes four times as long, and the last few as singles shorten it.
    #[test]
    fn a_part_of_a_card_comes_in_that_share_of_the_packs(cards in 1usize..20, left in 0usize..5) {
        let class = |per_pack| Class { cards, missing: cards, per_pack };
        let each = packs_until(&[class(1.0)], left).unwrap();
        let fourth = packs_until(&[class(0.25)], left).unwrap();
        prop_assert!((fourth - 4.0 * each).abs() <= 1e-10 * fourth.max(1.0), "{fourth} {each}");
        let fewer = packs_until(&[class(1.0)], left + 1).unwrap();
        prop_assert!(fewer < each || each == 0.0);
    }
}
