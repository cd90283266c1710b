//! Files that come in.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// What another collector wants of the first set, and what they have to spare: two thirds of it.
pub(super) fn swapped(folder: &Path) {
    for (name, finish) in [
        ("swap-wants.csv", "regular"),
        ("swap-spares.csv", "reverse"),
    ] {
        // Every third card comes in one finish only.
        let numbers = (1..=200).filter(|number| number % 3 != 1);
        let mut text = "set,number,finish\n".to_owned();
        for number in numbers {
            writeln!(text, "S001,{number},{finish}").expect("memory");
        }
        fs::write(folder.join(name), text).expect("a list");
    }
}

/// A checklist of so many cards, of sets that are not there yet.
pub(super) fn checklist(folder: &Path, name: &str, cards: usize) {
    let mut text = "set,number,name,rarity,finishes\n".to_owned();
    for row in 0..cards {
        let (set, number) = (row / 500, row % 500 + 1);
        writeln!(
            text,
            "N{set:04},{number},Lantern Heron {number},common,regular;reverse"
        )
        .expect("memory");
    }
    fs::write(folder.join(name).with_extension("csv"), text).expect("a file");
}
