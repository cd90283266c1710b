//! The same collection in an SQLite file, as one would lay it out there.

use std::path::Path;

use ringbound::model::{Collection, PrintingId};
use rusqlite::{Connection, params};

/// Sets, cards and printings as a catalogue; a row a pocket, with what it holds and what it is
/// for; loose copies.
const TABLES: &str = "
    CREATE TABLE sets (id INTEGER PRIMARY KEY, code TEXT, title TEXT);
    CREATE TABLE cards (id INTEGER PRIMARY KEY, of INTEGER, number TEXT, name TEXT, rarity TEXT);
    CREATE TABLE printings (id INTEGER PRIMARY KEY, card INTEGER, finish TEXT);
    CREATE TABLE pages (id INTEGER PRIMARY KEY, binder INTEGER, at INTEGER);
    CREATE TABLE pockets (page INTEGER, pocket INTEGER, holds INTEGER, wants INTEGER,
                          PRIMARY KEY (page, pocket)) WITHOUT ROWID;
    CREATE TABLE loose (printing INTEGER PRIMARY KEY, copies INTEGER);
";

/// One number for a printing, the same every time.
fn number(of: PrintingId) -> i64 {
    (i64::from(of.set().0) << 32) | (i64::from(of.card()) << 8) | i64::from(of.finish())
}

pub(crate) fn write(path: &Path, collection: &Collection) {
    let mut file = Connection::open(path).expect("a database");
    let all = file.transaction().expect("a transaction");
    all.execute_batch(TABLES).expect("tables");
    {
        let prepare = |text: &str| all.prepare(text).expect("a statement");
        let mut set_row = prepare("INSERT INTO sets VALUES (?, ?, ?)");
        let mut card_row = prepare("INSERT INTO cards VALUES (?, ?, ?, ?, ?)");
        let mut printing_row = prepare("INSERT INTO printings VALUES (?, ?, ?)");
        let mut page_row = prepare("INSERT INTO pages VALUES (?, ?, ?)");
        let mut pocket_row = prepare("INSERT INTO pockets VALUES (?, ?, ?, ?)");
        let mut loose_row = prepare("INSERT INTO loose VALUES (?, ?)");
        for (id, set) in collection.sets() {
            let row = params![id.0, set.code(), &*set.head().title];
            set_row.execute(row).expect("a set");
            for (at, card) in (0u32..).zip(set.cards()) {
                let number = number(PrintingId::new(id, at, 0));
                let rarity = card
                    .rarity
                    .map(|rarity| &*set.rarities()[usize::from(rarity)]);
                let row = params![number, id.0, &*card.number, &*card.name, rarity];
                card_row.execute(row).expect("a card");
            }
            for printing in set.printings(id) {
                let card = self::number(PrintingId::new(id, printing.card(), 0));
                let finish = &*set.finishes()[usize::from(printing.finish())].name;
                let row = params![self::number(printing), card, finish];
                printing_row.execute(row).expect("a printing");
                let loose = set.tally(printing).loose;
                if loose > 0 {
                    let row = params![self::number(printing), loose];
                    loose_row.execute(row).expect("loose copies");
                }
            }
        }
        for (number, binder) in collection.shelf().enumerate() {
            let pages = binder.pages().iter().zip(&binder.layout().pages);
            for (at, (page, meant)) in pages.enumerate() {
                let row = params![page.id().0, number as i64, at as i64];
                page_row.execute(row).expect("a page");
                for (pocket, holds) in page.cards().iter().enumerate() {
                    let holds = holds.map(self::number);
                    let wants = meant.printing(pocket).map(self::number);
                    let row = params![page.id().0, pocket as i64, holds, wants];
                    pocket_row.execute(row).expect("a pocket");
                }
            }
        }
    }
    all.commit().expect("all of it");
}

/// Reads everything once: the pockets as numbers, the catalogue as text by a join. Tells how many
/// rows there were.
pub(crate) fn scan(path: &Path) -> u64 {
    let file = Connection::open(path).expect("a database");
    let mut rows = 0;
    let mut pockets = file
        .prepare("SELECT page, pocket, holds, wants FROM pockets")
        .expect("a statement");
    let mut found = pockets.query([]).expect("pockets");
    let mut sum = 0i64;
    while let Some(row) = found.next().expect("a row") {
        rows += 1;
        let holds: Option<i64> = row.get(2).expect("a number");
        let wants: Option<i64> = row.get(3).expect("a number");
        let page: i64 = row.get(0).expect("a number");
        let pocket: i64 = row.get(1).expect("a number");
        sum ^= page ^ pocket ^ holds.unwrap_or(0) ^ wants.unwrap_or(0);
    }
    let mut catalogue = file
        .prepare(
            "SELECT printings.id, sets.code, cards.number, cards.name, cards.rarity,
                    printings.finish
             FROM printings JOIN cards ON cards.id = printings.card
                            JOIN sets ON sets.id = cards.of",
        )
        .expect("a statement");
    let mut found = catalogue.query([]).expect("printings");
    while let Some(row) = found.next().expect("a row") {
        rows += 1;
        for column in 1..6 {
            let text = row.get_ref(column).expect("a column");
            sum ^= text.as_str().map_or(0, |text| text.len() as i64);
        }
    }
    let mut loose = file
        .prepare("SELECT printing, copies FROM loose")
        .expect("a statement");
    let mut found = loose.query([]).expect("loose copies");
    while let Some(row) = found.next().expect("a row") {
        rows += 1;
        sum ^= row.get::<_, i64>(1).expect("a number");
    }
    std::hint::black_box(sum);
    rows
}
