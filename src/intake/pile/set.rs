//! Which set is meant.

use super::near::by_score;
use super::why::Why;
use crate::model::{Collection, Set, SetId};

/// More sets than are told where none is named.
const FEW: usize = 8;

/// The sets that the words may mean, the best first: by symbol, code (any case) or shelf number
/// as they stand; then by the beginning of the code, by the beginnings of words of the title in
/// their order, by a stretch of the title, by its letters with others between. Among equals the
/// order of the shelf numbers is that in which the sets came in. Nothing typed finds nothing.
#[must_use]
pub fn choose_set(collection: &Collection, words: &str) -> Vec<SetId> {
    let typed = words.trim().to_lowercase();
    if typed.is_empty() {
        return Vec::new();
    }
    let found = collection.sets().filter_map(|(id, set)| {
        let score = meets(set, &typed)?;
        Some((score, id))
    });
    by_score(found.collect())
}

fn meets(set: &Set, typed: &str) -> Option<u32> {
    let head = set.head();
    let (code, title) = (head.code.to_lowercase(), head.title.to_lowercase());
    let is_shelf = |shelf: &str| {
        let plain = |text: &str| match text.trim_start_matches('0') {
            "" => "0".to_owned(),
            rest => rest.to_lowercase(),
        };
        !shelf.is_empty() && plain(shelf.trim()) == plain(typed)
    };
    if !head.symbol.is_empty() && head.symbol.to_lowercase() == typed {
        Some(8)
    } else if code == typed {
        Some(7)
    } else if is_shelf(&head.shelf) {
        Some(6)
    } else if title == typed {
        Some(5)
    } else if code.starts_with(typed) {
        Some(4)
    } else if begins(&title, typed) {
        Some(3)
    } else if title.contains(typed) {
        Some(2)
    } else if is_within(&title, typed) || is_within(&code, typed) {
        Some(1)
    } else {
        None
    }
}

/// Whether each typed word begins a word of the title, in their order.
fn begins(title: &str, typed: &str) -> bool {
    let mut words = title.split(|c: char| !c.is_alphanumeric());
    typed
        .split_whitespace()
        .all(|start| words.any(|word| word.starts_with(start)))
}

/// Whether the letters stand in the text in this order. One letter alone says too little.
fn is_within(text: &str, letters: &str) -> bool {
    let mut text = text.chars();
    let mut letters = letters.chars().filter(|c| !c.is_whitespace()).peekable();
    let first = letters.next();
    letters.peek().is_some()
        && first
            .into_iter()
            .chain(letters)
            .all(|letter| text.any(|c| c == letter))
}

/// The set whose code (any case) or symbol a word of a line is.
pub(super) fn by_word(collection: &Collection, word: &str) -> Option<SetId> {
    collection.set_by_code(word).or_else(|| {
        let mut sets = collection.sets();
        let symbol = |set: &Set| !word.is_empty() && set.head().symbol.as_ref() == word;
        sets.find(|(_, set)| symbol(set)).map(|(id, _)| id)
    })
}

/// The only set whose code, symbol or title the words are, whatever their case.
#[must_use]
pub fn named_set(collection: &Collection, words: &str) -> Option<SetId> {
    let words = words.trim();
    by_word(collection, words).or_else(|| {
        let title = words.to_lowercase();
        let mut titled = collection
            .sets()
            .filter(|(_, set)| !title.is_empty() && set.title().to_lowercase() == title);
        match (titled.next(), titled.next()) {
            (Some((id, _)), None) => Some(id),
            _ => None,
        }
    })
}

/// There is no set to read the words in.
pub(super) fn none(collection: &Collection, words: &[&str]) -> Why {
    let codes: Vec<Box<str>> = match choose_set(collection, words[0]) {
        near if !near.is_empty() && words.len() > 1 => {
            let sets = near.iter().filter_map(|id| collection.set(*id));
            sets.map(|set| set.code().into()).take(3).collect()
        }
        _ if collection.sets().len() <= FEW => {
            let sets = collection.sets();
            sets.map(|(_, set)| set.code().into()).collect()
        }
        _ => Vec::new(),
    };
    Why::NoSet {
        written: words.join(" "),
        near: codes,
    }
}
