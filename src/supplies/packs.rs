//! The cheapest packs that cover a need: a small integer programme, solved exactly.

/// A pack that is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Pieces in it, from 1.
    pub pack: u32,
    /// Minor units of the currency.
    pub price: u64,
}

/// What is bought of one thing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Purchase {
    /// Packs of each offer, in the order of the offers.
    pub packs: Vec<u32>,
    /// Minor units.
    pub cost: u64,
    /// Pieces beyond the need.
    pub left_over: u64,
}

/// The most pieces for which a purchase is worked out.
pub const MOST_NEED: u64 = 1_000_000;

/// The best way to cover what is left: what it costs, what is left over, how many packs, and
/// which offer comes first. Compared in this order.
type Best = (u64, u64, u32, u32);

/// The packs that cover `need` at the least cost; of those the fewest left over, of those the
/// fewest packs, then more of an earlier offer.
///
/// By dynamic programming over what is still needed: the best way for `n` is an offer and the best
/// way for what that leaves, since cost, rest and number of packs all add up. Exact; the time is
/// need times offers. `None` without offers, or for more than [`MOST_NEED`].
#[must_use]
pub fn cheapest(need: u64, offers: &[Offer]) -> Option<Purchase> {
    let usable = || (0u32..).zip(offers).filter(|(_, offer)| offer.pack > 0);
    if need > MOST_NEED || (need > 0 && usable().next().is_none()) {
        return None;
    }
    // Beyond this a sum could run over, and nobody pays it.
    const MOST_PRICE: u64 = u64::MAX / (MOST_NEED + 1);
    if offers.iter().any(|offer| offer.price > MOST_PRICE) {
        return None;
    }
    let need = usize::try_from(need).ok()?;
    let mut best: Vec<Best> = Vec::with_capacity(need + 1);
    best.push((0, 0, 0, 0));
    for left in 1..=need {
        let way = usable().map(|(at, offer)| {
            let pack = offer.pack as usize;
            let (cost, over, packs, _) = best[left.saturating_sub(pack)];
            let beyond = pack.saturating_sub(left) as u64;
            (cost + offer.price, over + beyond, packs + 1, at)
        });
        best.push(way.min()?);
    }
    let (cost, left_over, ..) = best[need];
    let mut packs = vec![0; offers.len()];
    let mut left = need;
    while left > 0 {
        let at = best[left].3 as usize;
        packs[at] += 1;
        left = left.saturating_sub(offers[at].pack as usize);
    }
    Some(Purchase {
        packs,
        cost,
        left_over,
    })
}

/// What an order comes to for a need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OrderSum {
    /// Minor units.
    pub cost: u64,
    /// Pieces beyond the need.
    pub left_over: u64,
    /// Pieces that it falls short of.
    pub lacking: u64,
}

/// What `packs` packs of one offer come to for a need. `None` where a number runs over.
#[must_use]
pub fn order_sum(need: u64, offer: Offer, packs: u32) -> Option<OrderSum> {
    let pieces = u64::from(offer.pack) * u64::from(packs);
    Some(OrderSum {
        cost: offer.price.checked_mul(u64::from(packs))?,
        left_over: pieces.saturating_sub(need),
        lacking: need.saturating_sub(pieces),
    })
}
