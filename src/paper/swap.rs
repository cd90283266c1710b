//! The sheet to talk over when two collectors swap.

use super::listing::{Align, Listing, Table};
use crate::model::{Collection, PrintingId};
use crate::report::{Swap, binder_words, pocket_words, printing_words};

/// What could go either way, and what goes for what.
#[must_use]
pub fn swap_sheet(collection: &Collection, swap: &Swap) -> Listing {
    let code = |of: PrintingId| collection.set(of.set()).map_or("", |set| set.code());
    let words = |of: PrintingId| format!("{} {}", code(of), printing_words(collection, of));
    let rarity = |of: PrintingId| {
        let set = collection.set(of.set());
        let card = collection.card(of);
        let name = set.zip(card).map(|(set, card)| set.rarity_name(card));
        name.unwrap_or_default().to_owned()
    };
    let told = |of: PrintingId| match &*rarity(of) {
        "" => words(of),
        rarity => format!("{} ({rarity})", words(of)),
    };
    let (gets, gives) = (&swap.could_get, &swap.could_give);
    let mut out = Listing::new("Swap");
    if swap.many_agreed() == 0 {
        out.words(swap.pairs_words());
    } else {
        out.heading(swap.pairs_words());
        let heads = [("you get", Align::Left), ("for", Align::Left)];
        let mut table = Table::new(&heads, true);
        for (at, give) in swap.agreed() {
            table.row([told(gets[at].gap.printing), told(give)]);
        }
        out.table(table);
    }
    if gets.is_empty() {
        out.words(swap.gets_words());
    } else {
        out.heading(swap.gets_words());
        let mut table = Table::new(
            &[
                ("card", Align::Left),
                ("rarity", Align::Left),
                ("binder", Align::Left),
                ("goes to", Align::Left),
                ("page filled", Align::Right),
            ],
            true,
        );
        for get in gets {
            let gap = get.gap;
            let place = gap.place.zip(gap.at);
            table.row([
                words(gap.printing),
                rarity(gap.printing),
                place.map_or_else(String::new, |(place, _)| {
                    binder_words(collection, place.binder)
                }),
                place.map_or_else(
                    || "no pocket is meant for it".into(),
                    |(place, at)| pocket_words(place.page, at),
                ),
                place.map_or_else(String::new, |_| format!("{} of {}", get.page.0, get.page.1)),
            ]);
        }
        out.table(table);
    }
    if gives.is_empty() {
        out.words(swap.gives_words());
    } else {
        out.heading(swap.gives_words());
        let mut table = Table::new(
            &[
                ("card", Align::Left),
                ("rarity", Align::Left),
                ("count", Align::Right),
            ],
            true,
        );
        for (printing, count) in gives {
            table.row([words(*printing), rarity(*printing), count.to_string()]);
        }
        out.table(table);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::model::SetId;
    use crate::report::{Gap, Get};

    #[test]
    fn a_card_without_a_pocket_says_so_as_on_the_screen() {
        let collection = demo::collection();
        let gap = Gap {
            printing: PrintingId::new(SetId(0), 0, 0),
            place: None,
            at: None,
        };
        let swap = Swap {
            could_get: vec![Get { gap, page: (0, 0) }],
            ..Swap::default()
        };
        let sheet = swap_sheet(&collection, &swap).text();
        assert!(sheet.contains("no pocket is meant for it"), "{sheet}");
    }
}
