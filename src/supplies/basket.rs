//! What to buy: the needs in the cheapest packs.

use super::money::Money;
use super::needs::Need;
use super::packs::{Offer, Purchase, cheapest};
use super::prices::PriceList;

/// One need, and how it is bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    pub need: Need,
    /// The packs in which it is sold.
    pub offers: Vec<Offer>,
    /// `None` where the list has no price for it and something is to be bought.
    pub purchase: Option<Purchase>,
}

impl Line {
    /// Whether the price list has a hole here.
    #[must_use]
    pub fn lacks_price(&self) -> bool {
        self.purchase.is_none()
    }

    /// `2x50, 1x10`.
    #[must_use]
    pub fn packs(&self) -> String {
        let Some(purchase) = &self.purchase else {
            return String::new();
        };
        let packs = purchase.packs.iter().zip(&self.offers);
        let packs = packs.filter(|(packs, _)| **packs > 0);
        let words = packs.map(|(packs, offer)| format!("{packs}x{}", offer.pack));
        words.collect::<Vec<_>>().join(", ")
    }
}

/// The whole purchase.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basket {
    pub lines: Vec<Line>,
    /// Of all that has a price. `None` without a price list, or beyond 64 bits.
    pub total: Option<Money>,
}

impl Basket {
    /// Lines for which the list has no price.
    pub fn holes(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.lacks_price())
    }

    /// What a line costs, in the currency of the whole. `None` where nothing of it is bought.
    #[must_use]
    pub fn cost(&self, line: &Line) -> Option<Money> {
        let bought = line.purchase.as_ref().filter(|_| line.need.to_buy() > 0)?;
        // It is a part of the whole, which fits.
        let minor = i64::try_from(bought.cost).ok()?;
        Some(Money {
            minor,
            ..self.total?
        })
    }
}

/// The needs, each in the packs that cost least; what is to be bought comes first.
#[must_use]
pub fn basket(needs: &[Need], list: &PriceList) -> Basket {
    let line = |need: &Need| {
        let offers = list.offers(need.item).to_vec();
        Line {
            need: *need,
            purchase: cheapest(need.to_buy(), &offers),
            offers,
        }
    };
    let mut lines: Vec<Line> = needs.iter().map(line).collect();
    lines.sort_by_key(|line| line.need.to_buy() == 0);
    let costs = lines.iter().filter_map(|line| line.purchase.as_ref());
    let total = costs.map(|purchase| purchase.cost);
    let total = total.fold(0, u64::saturating_add);
    Basket {
        total: list.money(total),
        lines,
    }
}
