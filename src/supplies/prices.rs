//! The list of prices, and of what is in the drawer, that the collector keeps.

use std::collections::BTreeMap;

use super::item::{Item, ItemError};
use super::money::{Currency, Money};
use super::packs::Offer;

/// The highest price of a pack, in minor units.
const MOST_PRICE: i64 = 1_000_000_000_000;

/// One row as it is written; a field that is not there is empty.
#[derive(Clone, Copy, Debug, Default)]
pub struct PriceRow<'a> {
    pub item: &'a str,
    pub size: &'a str,
    /// Pieces in a pack; 1 where nothing is said.
    pub pack: &'a str,
    /// Of a pack.
    pub price: &'a str,
    /// By the letters of ISO 4217; the one of the row before where nothing is said.
    pub currency: &'a str,
    /// Pieces that are there already.
    pub on_hand: &'a str,
}

/// A row that is not taken; says which column, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{why}")]
pub struct PriceError {
    pub column: &'static str,
    pub why: String,
}

impl From<ItemError> for PriceError {
    fn from(ItemError { column, why }: ItemError) -> Self {
        Self { column, why }
    }
}

/// Packs with their prices, in one currency, and what is on hand.
#[derive(Clone, Debug, Default)]
pub struct PriceList {
    currency: Option<Currency>,
    /// Of rows that name none, where none before them does.
    usual: Option<Currency>,
    offers: BTreeMap<Item, Vec<Offer>>,
    on_hand: BTreeMap<Item, u64>,
}

impl PriceList {
    /// An empty one, whose prices are in this currency where they name none.
    #[must_use]
    pub fn usually_in(currency: Option<Currency>) -> Self {
        Self {
            usual: currency,
            ..Self::default()
        }
    }

    /// Takes a row: a pack with its price, what is on hand, or both.
    ///
    /// # Errors
    /// It says neither, or not what it should; the list is as it was.
    pub fn row(&mut self, row: &PriceRow<'_>) -> Result<(), PriceError> {
        let wrong = |column, why: String| Err(PriceError { column, why });
        let item = Item::parse(row.item, row.size)?;
        let price = row.price.trim();
        let on_hand = count(row.on_hand, 0, "on_hand")?;
        if price.is_empty() {
            if row.on_hand.trim().is_empty() {
                let why = "there is neither a price nor a number on hand".into();
                return wrong("price", why);
            }
            if !row.pack.trim().is_empty() {
                let why = "a pack needs a price; leave pack empty for what is on hand".into();
                return wrong("price", why);
            }
            *self.on_hand.entry(item).or_default() += u64::from(on_hand);
            return Ok(());
        }
        let pack = match row.pack.trim() {
            "" => 1,
            pack => count(pack, 1, "pack")?,
        };
        let known = self.currency.or(self.usual);
        let currency = match (row.currency.trim(), known) {
            ("", Some(currency)) => currency,
            ("", None) => {
                let why = "a price needs a currency: EUR, JPY, KWD".into();
                return wrong("currency", why);
            }
            (code, _) => match (Currency::of(code), self.currency) {
                (None, _) => {
                    let why =
                        format!("“{code}” is no currency; write its letters of ISO 4217: EUR");
                    return wrong("currency", why);
                }
                (Some(currency), Some(known)) if currency != known => {
                    let why = format!(
                        "{} after {}: a list has one currency",
                        currency.code(),
                        known.code()
                    );
                    return wrong("currency", why);
                }
                (Some(currency), _) => currency,
            },
        };
        let minor = currency.parse(price);
        let Some(minor) = minor.filter(|minor| (0..=MOST_PRICE).contains(minor)) else {
            let right = Money {
                minor: 2_500,
                currency,
            };
            let why = format!("“{price}” is no price; write it as {}", right.digits());
            return wrong("price", why);
        };
        self.currency = Some(currency);
        *self.on_hand.entry(item).or_default() += u64::from(on_hand);
        self.offers.entry(item).or_default().push(Offer {
            pack,
            price: minor.unsigned_abs(),
        });
        Ok(())
    }

    /// That of all prices; `None` while there are none.
    #[must_use]
    pub fn currency(&self) -> Option<Currency> {
        self.currency
    }

    /// The packs in which an item is sold, as the list has them.
    #[must_use]
    pub fn offers(&self, item: Item) -> &[Offer] {
        self.offers.get(&item).map_or(&[], Vec::as_slice)
    }

    /// Every item with a price.
    pub fn items(&self) -> impl Iterator<Item = (Item, &[Offer])> {
        let offers = self.offers.iter();
        offers.map(|(item, offers)| (*item, offers.as_slice()))
    }

    #[must_use]
    pub fn on_hand(&self, item: Item) -> u64 {
        self.on_hand.get(&item).copied().unwrap_or(0)
    }

    /// An amount in the list's currency. `None` without one, or beyond 64 bits.
    #[must_use]
    pub fn money(&self, minor: u64) -> Option<Money> {
        Some(Money {
            minor: i64::try_from(minor).ok()?,
            currency: self.currency?,
        })
    }
}

fn count(written: &str, least: u32, column: &'static str) -> Result<u32, PriceError> {
    const MOST: u32 = 1_000_000;
    let written = written.trim();
    if written.is_empty() {
        return Ok(0);
    }
    let digits = written.bytes().all(|b| b.is_ascii_digit());
    let count = written.parse().ok().filter(|_| digits);
    count
        .filter(|count| (least..=MOST).contains(count))
        .ok_or_else(|| PriceError {
            column,
            why: format!("“{written}” is no number; write a whole one from {least} to {MOST}"),
        })
}
