//! What is to be bought, on paper.

use super::listing::{Align, Listing, Table};
use crate::supplies::{Basket, Care, Money, PriceList, care};

/// The lines of a basket of which something is to be bought, in the packs that cost least.
#[must_use]
pub fn basket_list(basket: &Basket, list: &PriceList) -> Listing {
    let mut out = Listing::new("Shopping list");
    let mut table = Table::new(
        &[
            ("what", Align::Left),
            ("how many", Align::Right),
            ("packs", Align::Left),
            ("price", Align::Right),
        ],
        true,
    );
    let priced = list.currency().is_some();
    for line in basket.lines.iter().filter(|line| line.need.to_buy() > 0) {
        let bought = line.purchase.as_ref();
        let price = bought.and_then(|bought| list.money(bought.cost));
        table.row([
            line.need.item.words(),
            line.need.to_buy().to_string(),
            line.packs(),
            match &price {
                Some(price) => Money::digits(price),
                None if priced => "no price".into(),
                None => String::new(),
            },
        ]);
    }
    if table.rows.is_empty() {
        out.words("Nothing is to be bought.");
        return out;
    }
    out.table(table);
    if let Some(total) = basket.total {
        let holes = basket.holes().count();
        let but = if holes > 0 {
            ", without what has no price"
        } else {
            ""
        };
        out.words(format!("In all {total}{but}."));
    }
    out.words(care(Care::Plastic));
    out
}
