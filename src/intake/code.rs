//! A code for a set of which only the title is known.

use crate::model::Collection;

/// Letters that a proposed code has at the most, before a number.
const MOST: usize = 4;
/// A word of fewer letters, such as an article, says little of a title.
const TELLING: usize = 4;

/// A code for a set of this title: that of the set which has the title for its code; else the first
/// word of it that tells something, in capitals, with a number where that is taken. Empty where the
/// title has no letter and no figure.
#[must_use]
pub fn proposed_code(collection: &Collection, title: &str) -> String {
    let title = title.trim();
    if let Some(set) = collection
        .set_by_code(title)
        .and_then(|id| collection.set(id))
    {
        return set.code().to_owned();
    }
    let words = || {
        let words = title.split(|c: char| !c.is_alphanumeric());
        words.filter(|word| !word.is_empty())
    };
    let telling = words().find(|word| word.chars().count() >= TELLING);
    let Some(word) = telling.or_else(|| words().max_by_key(|word| word.chars().count())) else {
        return String::new();
    };
    let code: String = word.to_uppercase().chars().take(MOST).collect();
    let is_free = |code: &String| {
        collection.set_by_code(code).is_none() && collection.binder_by_name(code).is_none()
    };
    let numbered = (2u64..).map(|number| format!("{code}{number}"));
    let mut all = std::iter::once(code.clone()).chain(numbered);
    all.find(is_free).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    #[test]
    fn a_code_is_the_first_telling_word_of_the_title_and_no_other_set_has_it() {
        let collection = demo::collection();
        for (title, code) in [
            ("Fenland", "FENL"),
            ("  the Old Fen ", "FEN"),
            ("A Reed Almanac", "REED"),
            ("Ré!", "RÉ"),
            ("歌の本", "歌の本"),
            ("--", ""),
            ("", ""),
            // Taken: `WOOD` is the code of a set.
            ("The Wood Again", "WOOD2"),
            // The code itself, in any case: that set is meant.
            ("moss", "MOSS"),
        ] {
            assert_eq!(proposed_code(&collection, title), code, "{title:?}");
        }
    }
}
