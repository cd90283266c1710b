//! A binder of the invented collection, spread by spread, as text.
//!
//! ```text
//! cargo run --example flip            a binder to begin with
//! cargo run --example flip tide       another one, by name
//! ```

use ringbound::demo;
use ringbound::model::{Binder, Collection, Page, PageFormat, Place, PocketAt, PocketState, Side};
use ringbound::text::{pad, safe};

const POCKET: usize = 9;

fn main() {
    let collection = demo::collection();
    let name = std::env::args().nth(1).unwrap_or_else(|| "orchard".into());
    let binder = (collection.binder_by_name(&name)).and_then(|id| collection.binder(id));
    let Some(binder) = binder else {
        let names: Vec<_> = collection.shelf().map(Binder::name).collect();
        eprintln!("no binder {name}; there are {}", names.join(", "));
        std::process::exit(2);
    };
    println!("{}", safe(&binder.spec().title));
    let formats = binder.pages().iter().map(Page::format);
    let widest = formats.map(|format| usize::from(format.columns)).max();
    let wide = widest.unwrap_or(0) * (POCKET + 1);
    // A spread shows the back of one page and the front of the next; before the first page and
    // behind the last one there is only the cover.
    for page in 0..=binder.pages().len() {
        let back = page
            .checked_sub(1)
            .map(|page| side(&collection, binder, page, Side::Back));
        let front = side(&collection, binder, page, Side::Front);
        println!();
        spread(&back.unwrap_or_default(), &front, wide);
    }
}

/// Both halves beside each other, the rings between them.
fn spread(left: &[String], right: &[String], wide: usize) {
    for row in 0..left.len().max(right.len()) {
        let line = |half: &[String]| half.get(row).cloned().unwrap_or_default();
        let left = pad(&line(left), wide, '…');
        println!("{left}‖ {}", line(right).trim_end());
    }
}

/// One side of a page, a line for each row of pockets; nothing where there is no page.
fn side(collection: &Collection, binder: &Binder, page: usize, side: Side) -> Vec<String> {
    let format = binder.pages().get(page).map(Page::format);
    let format = format.filter(|format| format.has_side(side));
    let Some(format) = format else {
        return Vec::new();
    };
    (0..format.rows)
        .map(|row| {
            let pocket = |column| pocket(collection, binder, page, &format, side, row, column);
            let pockets: Vec<_> = (0..format.columns).map(pocket).collect();
            pockets.join(" ")
        })
        .collect()
}

/// `[37]` a card in its place, `(38)` a gap, `(39◂)` one that a loose copy waits for, `!40!` a
/// card that belongs elsewhere.
fn pocket(
    collection: &Collection,
    binder: &Binder,
    page: usize,
    format: &PageFormat,
    side: Side,
    row: u8,
    column: u8,
) -> String {
    let Some(pocket) = format.index(PocketAt { side, row, column }) else {
        return String::new();
    };
    let place = Place {
        binder: binder.id(),
        page,
        pocket,
    };
    let number = |printing| collection.card(printing).map_or("", |card| &card.number);
    let words = match collection.pocket(place) {
        PocketState::Unassigned => "·".into(),
        PocketState::Blank => "blank".into(),
        PocketState::Keepsake(words) => format!("“{words}"),
        PocketState::InPlace(printing) => format!("[{}]", number(printing)),
        PocketState::Gap(printing) => format!("({})", number(printing)),
        PocketState::Waiting(printing) => format!("({}◂)", number(printing)),
        PocketState::Misplaced { held, .. } => format!("!{}!", number(held)),
    };
    pad(&safe(&words), POCKET, '…')
}
