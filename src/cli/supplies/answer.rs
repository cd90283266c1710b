//! The answer of `supplies` for a program. Money in minor units of the currency.

use serde::Serialize;

use super::Ordered;
use crate::supplies::{Basket, Choice, Line, Needs, PriceList};

#[derive(Serialize)]
pub(super) struct Answer {
    format: &'static str,
    version: u32,
    anew: bool,
    sleeves: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    currency: Option<String>,
    /// Digits of the currency behind the point.
    #[serde(skip_serializing_if = "Option::is_none")]
    currency_digits: Option<u8>,
    supplies: Vec<LineAnswer>,
    /// Of all that has a price.
    #[serde(skip_serializing_if = "Option::is_none")]
    total_minor: Option<i64>,
    /// Items that are to be bought and have no price in the list.
    without_price: usize,
    pages_free: u64,
    binders_with_unknown_rings: usize,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    orders: Vec<OrderAnswer>,
}

#[derive(Serialize)]
struct LineAnswer {
    item: &'static str,
    size: String,
    wanted: u64,
    in_binders: u64,
    on_hand: u64,
    to_buy: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    packs: Option<Vec<PackAnswer>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    left_over: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost_minor: Option<u64>,
}

#[derive(Serialize)]
struct PackAnswer {
    pack: u32,
    packs: u32,
    price_minor: u64,
}

#[derive(Serialize)]
struct OrderAnswer {
    item: &'static str,
    size: String,
    pack: u32,
    packs: u32,
    cost_minor: u64,
    left_over: u64,
    lacking: u64,
}

impl Answer {
    pub(super) fn new(
        choice: &Choice,
        needs: &Needs,
        basket: &Basket,
        ordered: &[Ordered],
        list: &PriceList,
    ) -> Self {
        let currency = list.currency();
        Self {
            format: "ringbound-supplies",
            version: 1,
            anew: choice.anew,
            sleeves: choice.thickness.sleeves.count(),
            currency: currency.map(|currency| currency.code().to_owned()),
            currency_digits: currency.map(|currency| currency.digits()),
            supplies: basket.lines.iter().map(LineAnswer::new).collect(),
            total_minor: basket.total.map(|total| total.minor),
            without_price: basket.holes().count(),
            pages_free: needs.pages_free,
            binders_with_unknown_rings: needs.unknown_rings,
            orders: (ordered.iter())
                .map(|ordered| OrderAnswer {
                    item: ordered.item.word(),
                    size: ordered.item.size(),
                    pack: ordered.offer.pack,
                    packs: ordered.packs,
                    cost_minor: ordered.sum.cost,
                    left_over: ordered.sum.left_over,
                    lacking: ordered.sum.lacking,
                })
                .collect(),
        }
    }
}

impl LineAnswer {
    fn new(line: &Line) -> Self {
        let need = line.need;
        let bought = line.purchase.as_ref();
        let packs = bought.map(|bought| {
            let packs = bought.packs.iter().zip(&line.offers);
            let packs = packs.filter(|(packs, _)| **packs > 0);
            packs
                .map(|(packs, offer)| PackAnswer {
                    pack: offer.pack,
                    packs: *packs,
                    price_minor: offer.price,
                })
                .collect()
        });
        Self {
            item: need.item.word(),
            size: need.item.size(),
            wanted: need.wanted,
            in_binders: need.there,
            on_hand: need.on_hand,
            to_buy: need.to_buy(),
            packs,
            left_over: bought.map(|bought| bought.left_over),
            cost_minor: bought.map(|bought| bought.cost),
        }
    }
}
