//! Purchases: `tests/data/purchases.json` (a general-purpose exact solver), `quantities.json`
//! (common practice), and every mix there is.

use proptest::prelude::*;
use serde_json::Value;

use super::{cases, number};
use crate::supplies::{
    Currency, HousingKind, MOST_NEED, Money, Offer, OrderSum, PriceList, PriceRow, Purchase,
    Question, Sleeves, Thickness, cheapest, order_sum, ways,
};

fn offers(value: &Value) -> Vec<Offer> {
    let offers = value.as_array().unwrap().iter();
    offers
        .map(|offer| Offer {
            pack: number(&offer[0]) as u32,
            price: number(&offer[1]),
        })
        .collect()
}

/// That the packs are what they are said to be.
fn assert_adds_up(need: u64, offers: &[Offer], bought: &Purchase) {
    let both = || bought.packs.iter().zip(offers);
    let pieces: u64 = both()
        .map(|(packs, offer)| u64::from(*packs) * u64::from(offer.pack))
        .sum();
    let cost: u64 = both()
        .map(|(packs, offer)| u64::from(*packs) * offer.price)
        .sum();
    assert_eq!(pieces, need + bought.left_over);
    assert_eq!(cost, bought.cost);
}

fn assert_like(case: &Value, offers: &[Offer]) {
    let need = number(&case["need"]);
    let bought = cheapest(need, offers).unwrap();
    assert_adds_up(need, offers, &bought);
    let packs: u32 = bought.packs.iter().sum();
    assert_eq!(
        (bought.cost, bought.left_over, u64::from(packs)),
        (
            number(&case["cost"]),
            number(&case["left_over"]),
            number(&case["packs"])
        ),
        "{case}"
    );
}

#[test]
fn the_cheapest_packs_are_those_of_an_exact_solver() {
    for case in cases("purchases.json", "") {
        assert_like(&case, &offers(&case["offers"]));
    }
}

#[test]
fn the_cheapest_packs_are_those_that_the_trade_reckons() {
    for mut case in cases("quantities.json", "cheapest_mix") {
        case["cost"] = case["cost_minor"].clone();
        assert_like(&case, &offers(&case["offers_size_minor"]));
    }
    for mut case in cases("quantities.json", "packs") {
        case["cost"] = case["cost_minor"].clone();
        let only = Offer {
            pack: number(&case["pack"]) as u32,
            price: number(&case["price_minor"]),
        };
        assert_like(&case, &[only]);
        let (need, packs) = (number(&case["need"]), number(&case["packs"]) as u32);
        let sum = OrderSum {
            cost: number(&case["cost"]),
            left_over: number(&case["left_over"]),
            lacking: 0,
        };
        assert_eq!(order_sum(need, only, packs), Some(sum));
    }
}

/// 20 pages at 50 for 25.00 are worth 10.00; sleeves at 50 for 3.00 are dearer by 0.04 than at 100
/// for 1.00 or 2.00 by piece, and cheaper than at 100 for 10.00. Common practice, no source.
#[test]
fn an_order_tells_what_is_left_over_and_what_is_lacking() {
    let pages = Offer {
        pack: 50,
        price: 2_500,
    };
    let sum = |cost, left_over, lacking| {
        Some(OrderSum {
            cost,
            left_over,
            lacking,
        })
    };
    assert_eq!(order_sum(20, pages, 1), sum(2_500, 30, 0));
    let euros = |minor| Money {
        minor,
        currency: Currency::of("EUR").unwrap(),
    };
    assert_eq!(euros(2_500).part(20, 50), Some(euros(1_000)));
    assert_eq!(
        (euros(2_500).part(20, 0), euros(5).part(1, 2)),
        (None, Some(euros(2)))
    );
    assert_eq!(order_sum(120, pages, 2), sum(5_000, 0, 20));
    let (dear, cheap) = (
        Offer {
            pack: 100,
            price: 1_000,
        },
        Offer {
            pack: 50,
            price: 300,
        },
    );
    let bought = cheapest(360, &[dear, cheap]).unwrap();
    assert_eq!((bought.packs.as_slice(), bought.cost), (&[0, 8][..], 2_400));
}

#[test]
fn what_cannot_be_bought_is_none() {
    assert_eq!(cheapest(1, &[]), None);
    assert_eq!(cheapest(0, &[]), Some(Purchase::default()));
    let one = Offer { pack: 1, price: 1 };
    assert_eq!(cheapest(MOST_NEED + 1, &[one]), None);
    let most = cheapest(MOST_NEED, &[Offer { pack: 7, ..one }]).unwrap();
    assert_eq!(most.cost, MOST_NEED.div_ceil(7));
    let nothing = Offer { pack: 0, price: 1 };
    assert_eq!(cheapest(1, &[nothing]), None);
    let dear = Offer {
        pack: 1,
        price: u64::MAX,
    };
    assert_eq!(cheapest(3, &[dear]), None);
}

/// Every mix of at most so many packs of each.
fn best_by_trying(need: u64, offers: &[Offer]) -> (u64, u64, u32) {
    fn go(
        need: u64,
        offers: &[Offer],
        so_far: (u64, u64, u32),
        best: &mut Option<(u64, u64, u32)>,
    ) {
        let (cost, pieces, packs) = so_far;
        if pieces >= need {
            let found = (cost, pieces - need, packs);
            if best.is_none_or(|best| found < best) {
                *best = Some(found);
            }
            return;
        }
        let Some((first, rest)) = offers.split_first() else {
            return;
        };
        let most = (need - pieces).div_ceil(first.pack.into());
        for count in 0..=most {
            let next = (
                cost + count * first.price,
                pieces + count * u64::from(first.pack),
                packs + count as u32,
            );
            go(need, rest, next, best);
        }
    }
    let mut best = None;
    go(need, offers, (0, 0, 0), &mut best);
    best.unwrap()
}

proptest! {
    #[test]
    fn no_other_mix_is_cheaper_or_as_cheap_with_less_left_over(
        need in 0u64..60,
        offers in prop::collection::vec((1u32..25, 0u64..40), 1..4),
    ) {
        let offers: Vec<_> = (offers.into_iter())
            .map(|(pack, price)| Offer { pack, price })
            .collect();
        let bought = cheapest(need, &offers).unwrap();
        assert_adds_up(need, &offers, &bought);
        let packs = bought.packs.iter().sum();
        prop_assert_eq!((bought.cost, bought.left_over, packs), best_by_trying(need, &offers));
    }
}

/// Rings of 20 round surely take 14 pages of 1.08 mm, of 40 D 37: of these the cheapest mix, by
/// trying all. Common practice, no source: a backed page of nine holds 18.
#[test]
fn a_way_takes_the_cheapest_mix_of_binders() {
    let mut list = PriceList::default();
    for (item, size, price) in [
        ("page", "3x3 backed", "0.50"),
        ("ring binder", "20 round", "4.00"),
        ("ring binder", "40 D", "11.00"),
        ("fixed binder", "20 3x3 backed", "20.00"),
        ("fixed binder", "8 3x3 backed", "9.00"),
    ] {
        let row = PriceRow {
            item,
            size,
            price,
            currency: "EUR",
            ..PriceRow::default()
        };
        list.row(&row).unwrap();
    }
    let offer = |pack, price| Offer { pack, price };
    for cards in [0, 1, 252, 253, 666, 667, 1_000, 2_000] {
        let found = ways(
            Question {
                cards,
                rows: 3,
                columns: 3,
                thickness: Thickness {
                    sleeves: Sleeves::Bare,
                    card: 420,
                    ..Thickness::default()
                },
            },
            &list,
        );
        let way = |kind| found.iter().find(|way| way.kind == kind).unwrap();
        let pages = cards.div_ceil(18);
        let (rings, ..) = best_by_trying(pages, &[offer(14, 400), offer(37, 1_100)]);
        let backed = way(HousingKind::Backed);
        assert_eq!(backed.cost, Some(rings + pages * 50), "{cards}");
        assert_eq!((backed.pages, backed.housing), (pages, backed.cost));
        let (fixed, over, _) = best_by_trying(cards, &[offer(360, 2_000), offer(144, 900)]);
        let bound = way(HousingKind::Fixed);
        assert_eq!((bound.cost, bound.places), (Some(fixed), cards + over));
        let clear = way(HousingKind::OneSide);
        assert_eq!(clear.cost.is_none(), cards > 0, "clear pages have no price");
    }
}
