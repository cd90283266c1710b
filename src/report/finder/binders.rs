//! Binders by what a person calls them.

use super::fold;
use crate::model::{Binder, BinderId, Collection};

/// The first `most` binders that all words of the query name: each begins a word of the title, the
/// name in commands or the code of the set, or is the number on the spine. Case and accents do not
/// count; one letter begins too many words to name anything. Those of which the whole title was
/// typed come first, then all as they stand on the shelf.
#[must_use]
pub fn binders_named(collection: &Collection, query: &str, most: usize) -> Vec<BinderId> {
    let query = fold(query.trim());
    let words: Vec<&str> = query.split_whitespace().collect();
    if words.is_empty() || most == 0 {
        return Vec::new();
    }
    let (mut whole, mut others) = (Vec::new(), Vec::new());
    for binder in collection.shelf() {
        let names = Names::of(collection, binder);
        if names.title == query {
            whole.push(binder.id());
        } else if words.iter().all(|word| names.meet(word)) {
            others.push(binder.id());
        }
    }
    whole.append(&mut others);
    whole.truncate(most);
    whole
}

/// What a binder is called, folded.
struct Names {
    title: String,
    shelf: String,
    others: [String; 2],
}

impl Names {
    fn of(collection: &Collection, binder: &Binder) -> Self {
        let set = binder.spec().set.and_then(|set| collection.set(set));
        Self {
            title: fold(binder.called()),
            shelf: fold(set.map_or("", |set| &*set.head().shelf)),
            others: [binder.name(), set.map_or("", |set| set.code())].map(fold),
        }
    }

    fn meet(&self, word: &str) -> bool {
        let is_long = word.chars().nth(1).is_some();
        let begins = |of: &str| is_long && of.starts_with(word);
        *word == *self.shelf
            || self.title.split_whitespace().any(begins)
            || self.others.iter().any(|other| begins(other))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn found(query: &str) -> Vec<String> {
        let collection = demo::collection();
        let found = binders_named(&collection, query, 3);
        let binders = found.iter().filter_map(|id| collection.binder(*id));
        binders.map(|binder| binder.name().to_owned()).collect()
    }

    #[test]
    fn a_binder_is_found_by_words_of_its_title_by_its_name_by_its_code_and_by_its_number() {
        for query in ["long wood", "WOOD lo", "woo", "1", "1 wood"] {
            assert_eq!(found(query), ["wood"], "{query}");
        }
        assert_eq!(found("orch"), ["orchard"]);
        assert_eq!(found("hedgerow almanac"), ["hedge"]);
        // The shelf has more whose titles begin so than are asked for.
        assert_eq!(binders_named(&demo::collection(), "wood", 0), []);
    }

    #[test]
    fn what_names_a_card_names_no_binder() {
        for query in ["", " ", "o", "wood 7", "owl", "12a"] {
            assert_eq!(found(query), Vec::<String>::new(), "{query}");
        }
    }
}
