//! Lists of cards, the index of a binder, what is to be bought.

use std::collections::BTreeMap;

use super::listing::{Align, BOX, Block, Listing, Table};
use crate::model::{Binder, Collection, Meaning, Place, PocketState, PrintingId, Set, SetId, Side};
use crate::report::Listed;
use crate::text::count;

/// What is looked for, set by set, for those who may have it.
#[must_use]
pub fn wants_list(collection: &Collection, wants: &[Listed]) -> Listing {
    by_set(collection, "Wants", "Nothing is wanted.", wants)
}

/// What can be swapped away, set by set.
#[must_use]
pub fn spares_list(collection: &Collection, spares: &[Listed]) -> Listing {
    by_set(collection, "Spares", "Nothing is spare.", spares)
}

fn by_set(collection: &Collection, title: &str, none: &str, cards: &[Listed]) -> Listing {
    let mut sets: BTreeMap<SetId, BTreeMap<PrintingId, u32>> = BTreeMap::new();
    for card in cards {
        let set = sets.entry(card.printing.set()).or_default();
        *set.entry(card.printing).or_default() += card.count;
    }
    let mut out = Listing::new(title);
    if sets.is_empty() {
        out.words(none);
    }
    for (id, set) in collection.sets() {
        let Some(cards) = sets.get(&id) else { continue };
        let copies: u64 = cards.values().map(|count| u64::from(*count)).sum();
        let copies = count(copies, "card", "cards");
        out.heading(match set.title() {
            "" => format!("{}: {copies}", set.code()),
            title => format!("{} ({}): {copies}", title, set.code()),
        });
        let several = cards.values().any(|count| *count > 1);
        // A run of one finish stands together on the shelf.
        let mut finishes: BTreeMap<u8, Vec<(PrintingId, u32)>> = BTreeMap::new();
        for (printing, count) in cards {
            let run = finishes.entry(printing.finish()).or_default();
            run.push((*printing, *count));
        }
        for (finish, cards) in finishes {
            let finish = set.finishes().get(usize::from(finish));
            if let Some(finish) = finish.filter(|_| set.finishes().len() > 1) {
                let copies = cards.iter().map(|(_, count)| u64::from(*count)).sum();
                let copies = count(copies, "card", "cards");
                let words = format!("{}: {copies}", finish.name);
                out.blocks.push(Block::Subheading(words));
            }
            out.table(cards_of_a_run(collection, set, &cards, several));
        }
    }
    out
}

fn cards_of_a_run(
    collection: &Collection,
    set: &Set,
    cards: &[(PrintingId, u32)],
    several: bool,
) -> Table {
    let mut table = Table::new(
        &[
            ("number", Align::Right),
            ("name", Align::Left),
            ("rarity", Align::Left),
            ("count", Align::Right),
        ],
        true,
    );
    for (printing, count) in cards {
        let Some(card) = collection.card(*printing) else {
            continue;
        };
        table.row([
            card.number.to_string(),
            card.name.to_string(),
            set.rarity_name(card).to_owned(),
            if several {
                count.to_string()
            } else {
                String::new()
            },
        ]);
    }
    table
}

/// The page for the front of a binder: what stands where, and its layout page by page, with a box
/// to tick in each pocket that does not hold its card yet.
#[must_use]
pub fn index(collection: &Collection, binder: &Binder) -> Listing {
    let spec = binder.spec();
    let title = match (&*spec.title, &*spec.name) {
        ("", name) => name.to_owned(),
        (title, name) => format!("{title} ({name})"),
    };
    let mut out = Listing::new(title);
    if !spec.front_matter.is_empty() {
        let lines = spec.front_matter.iter().map(ToString::to_string);
        out.heading("In front of the first page");
        out.blocks.push(Block::Lines(lines.collect()));
    }
    runs(collection, binder, &mut out);
    let tally = binder.tally();
    out.words(match tally.gaps() {
        0 => "No pocket is empty that is meant for a card.".to_owned(),
        gaps => format!(
            "A box stands for a card that is not in its pocket: {} in all. Tick it when the card \
             is in.",
            count(u64::from(gaps), "box", "boxes")
        ),
    });
    let tiles = (0..binder.layout().pages.len()).flat_map(|page| tiles(collection, binder, page));
    out.blocks.push(Block::Tiles(tiles.collect()));
    out
}

/// Which run is on which pages.
fn runs(collection: &Collection, binder: &Binder, out: &mut Listing) {
    let mut runs: Vec<((SetId, u8), usize, usize, u32)> = Vec::new();
    for (number, page) in (1..).zip(&binder.layout().pages) {
        for (_, printing) in page.printings() {
            let run = (printing.set(), printing.finish());
            match runs.iter_mut().find(|(other, ..)| *other == run) {
                Some((_, _, last, cards)) => {
                    *last = number;
                    *cards += 1;
                }
                None => runs.push((run, number, number, 1)),
            }
        }
    }
    let mut table = Table::new(
        &[
            ("set", Align::Left),
            ("finish", Align::Left),
            ("cards", Align::Right),
            ("pages", Align::Right),
        ],
        false,
    );
    for ((id, finish), first, last, cards) in runs {
        let Some(set) = collection.set(id) else {
            continue;
        };
        let finish = set.finishes().get(usize::from(finish));
        table.row([
            match set.title() {
                "" => set.code().to_owned(),
                title => title.to_owned(),
            },
            finish.map_or_else(String::new, |finish| finish.name.to_string()),
            cards.to_string(),
            if first == last {
                first.to_string()
            } else {
                format!("{first} to {last}")
            },
        ]);
    }
    out.table(table);
}

/// Front and back of a page of the layout.
fn tiles(collection: &Collection, binder: &Binder, page: usize) -> Vec<(String, Vec<Vec<String>>)> {
    let Some(meant) = binder.layout().pages.get(page) else {
        return Vec::new();
    };
    let format = meant.format();
    let cell = |pocket: usize| {
        let place = Place {
            binder: binder.id(),
            page,
            pocket,
        };
        match meant.meaning(pocket) {
            Meaning::Nothing => String::new(),
            Meaning::Blank => "–".into(),
            Meaning::Keepsake(words) => words.to_string(),
            Meaning::Printing(printing) => {
                let number = number(collection, printing);
                let there = collection.pocket(place) == PocketState::InPlace(printing);
                if there {
                    number
                } else {
                    format!("{BOX} {number}")
                }
            }
        }
    };
    let sides = [Side::Front, Side::Back]
        .into_iter()
        .take(usize::from(format.sides));
    let tile = |side: Side| {
        let begin = if side == Side::Front {
            0
        } else {
            format.per_side()
        };
        let columns = usize::from(format.columns);
        let row = |row: usize| {
            let begin = begin + row * columns;
            (begin..begin + columns).map(cell).collect()
        };
        let rows = (0..usize::from(format.rows)).map(row).collect();
        let words = match format.sides {
            1 => format!("page {}", page + 1),
            _ => format!("page {}, {side}", page + 1),
        };
        (words, rows)
    };
    sides.map(tile).collect()
}

/// The number of a card, with the mark of its finish.
pub(super) fn number(collection: &Collection, printing: PrintingId) -> String {
    let set = collection.set(printing.set());
    set.map_or_else(String::new, |set| set.marked(printing))
}
