//! A section as one line: what is usual is left out.

use std::fmt;

use super::{Begin, Order, Pick, Room, Section, Size, What};
use crate::layout::grid_word;
use crate::model::{Opening, PageFormat};
use crate::text::tenths;
use crate::text::{Choice, count};

impl fmt::Display for Section {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut clauses = Vec::new();
        match &self.what {
            What::Cards(pick) => of_pick(pick, &mut clauses),
            What::Keepsakes(all) => {
                let item = |(many, words): &(u32, Box<str>)| match many {
                    1 => quoted(words),
                    many => format!("{many} x {}", quoted(words)),
                };
                let all: Vec<_> = all.iter().map(item).collect();
                clauses.push(format!("keepsakes {}", all.join(", ")));
            }
        }
        clauses.push(page_words(&self.page));
        let fixed = [
            (self.fronts_only, "fronts only"),
            (self.top_empty, "top row empty"),
            (self.begin != Begin::Page, self.begin.word()),
        ];
        let fixed = fixed.into_iter().filter(|(is_so, _)| *is_so);
        clauses.extend(fixed.map(|(_, words)| words.to_owned()));
        match self.room {
            Room::None => {}
            Room::Pockets(many) => {
                clauses.push(format!("room {}", count(many.into(), "pocket", "pockets")));
            }
            Room::Pages(many) => {
                clauses.push(format!("room {}", count(many.into(), "page", "pages")));
            }
        }
        write!(f, "{}: {}", quoted(&self.name), clauses.join("; "))
    }
}

fn of_pick(pick: &Pick, clauses: &mut Vec<String>) {
    if let Some(set) = &pick.set {
        clauses.push(format!("set {}", quoted(set)));
    }
    if !pick.finishes.is_empty() {
        clauses.push(format!("finish {}", items(&pick.finishes)));
    }
    if !pick.rarities.is_empty() {
        let but = if pick.but { "not " } else { "" };
        clauses.push(format!("rarity {but}{}", items(&pick.rarities)));
    }
    if !pick.numbers.is_empty() {
        let range = |(from, to): &(Box<str>, Box<str>)| match from == to {
            true => quoted(from),
            false => format!("{} to {}", quoted(from), quoted(to)),
        };
        let ranges: Vec<_> = pick.numbers.iter().map(range).collect();
        clauses.push(format!("numbers {}", ranges.join(", ")));
    }
    if !pick.list.is_empty() {
        clauses.push(format!("cards {}", items(&pick.list)));
    }
    let fixed = [
        (pick.size == Size::Usual, "usual size"),
        (pick.size == Size::Oversize, "oversize"),
        (pick.rest, "the rest"),
        (pick.together, "side by side"),
    ];
    let fixed = fixed.into_iter().filter(|(is_so, _)| *is_so);
    clauses.extend(fixed.map(|(_, words)| words.to_owned()));
    if pick.by != Order::Number {
        clauses.push(format!("by {}", pick.by.word()));
    }
}

/// `page 3x3 top shared pocket 64x89`, or `one-sided` for `shared`.
fn page_words(page: &PageFormat) -> String {
    let mut words = format!("page {}", grid_word(page));
    if page.opening != Opening::Side {
        words.push_str(&format!(" {}", page.opening.word()));
    }
    if page.shared {
        words.push_str(" shared");
    }
    if page.sides == 1 {
        words.push_str(" one-sided");
    }
    if page.pocket_width > 0 && page.pocket_height > 0 {
        let (width, height) = (u32::from(page.pocket_width), u32::from(page.pocket_height));
        words.push_str(&format!(" pocket {}x{}", tenths(width), tenths(height)));
    }
    words
}

fn items(all: &[Box<str>]) -> String {
    let all: Vec<_> = all.iter().map(|item| quoted(item)).collect();
    all.join(", ")
}

/// In quotes where the words could be taken for something else; a quote in them is doubled.
fn quoted(words: &str) -> String {
    let says_more = words.split_whitespace().any(|word| {
        let word = word.to_lowercase();
        ["to", "x", "not"].contains(&word.as_str())
    });
    let single: Vec<_> = words.split_whitespace().collect();
    let plain = !words.is_empty()
        && single.join(" ") == words
        && !words.contains([',', ';', ':', '"'])
        && !says_more;
    if plain {
        words.into()
    } else {
        format!("\"{}\"", words.replace('"', "\"\""))
    }
}
