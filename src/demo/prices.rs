//! An invented price list, as a collector might keep it.

use crate::supplies::{PriceList, PriceRow};

/// Item, size, pack, price, on hand.
const ROWS: [[&str; 5]; 17] = [
    ["page", "3x3 backed", "10", "6.00", "1"],
    ["page", "3x3 backed", "50", "25.00", ""],
    ["page", "3x3 clear", "10", "4.50", ""],
    ["page", "3x3 clear", "50", "19.00", ""],
    ["page", "3x4 clear", "10", "5.80", ""],
    ["page", "2x2 backed", "10", "5.50", "2"],
    ["page", "3x1 backed", "10", "5.00", ""],
    ["page", "1x1 clear", "5", "2.40", ""],
    ["ring binder", "25 D", "1", "7.90", ""],
    ["ring binder", "40 D", "1", "11.50", ""],
    ["ring binder", "60 D", "1", "16.00", ""],
    ["ring binder", "30 round", "1", "8.20", ""],
    ["fixed binder", "20 3x3 backed", "1", "19.00", ""],
    ["sleeve", "", "50", "3.00", "1500"],
    ["sleeve", "", "100", "5.20", ""],
    ["sleeve", "127x177.8", "10", "2.60", ""],
    ["inner sleeve", "", "100", "4.00", ""],
];

/// The prices of the invented collection, in euros.
#[must_use]
pub fn prices() -> PriceList {
    let mut list = PriceList::default();
    for [item, size, pack, price, on_hand] in ROWS {
        let taken = list.row(&PriceRow {
            item,
            size,
            pack,
            price,
            currency: "EUR",
            on_hand,
        });
        debug_assert!(taken.is_ok(), "{item} {size}: {taken:?}");
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_taken() {
        let rows: usize = prices().items().map(|(_, offers)| offers.len()).sum();
        assert_eq!(rows, ROWS.len());
    }
}
