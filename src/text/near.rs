//! The nearest known word to one that is not known.

/// `; did you mean “…”?` with the nearest of the known words, or a list of them where none is
/// near and they are few; else nothing.
#[must_use]
pub fn hint<'a>(word: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    const FEW: usize = 8;
    if let Some(meant) = meant(word, known.clone()) {
        return meant;
    }
    let few: Vec<_> = known.take(FEW + 1).collect();
    match few[..] {
        [] => String::new(),
        [only] => format!("; there is only “{only}”"),
        _ if few.len() <= FEW => format!("; there are “{}”", few.join("”, “")),
        _ => String::new(),
    }
}

/// `; did you mean “…”?` with the nearest of the known words, for where they are listed anyway.
#[must_use]
pub fn meant<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    nearest(word, known).map(|nearest| format!("; did you mean “{nearest}”?"))
}

/// The known word that is the same but for case, spaces and zeros that lead; or else the one
/// with the fewest edits (restricted Damerau-Levenshtein), if these are at most a third of it.
/// One number is never near to another: every digit of it counts.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let plain = |text: &str| text.trim().trim_start_matches('0').to_lowercase();
    let word = plain(word);
    let most = (word.chars().count() / 3).max(1);
    let mut best = None;
    for other in known {
        let folded = plain(other);
        if folded == word {
            return Some(other);
        }
        let numbers = is_number(&word) && is_number(&folded);
        if numbers || folded.len().abs_diff(word.len()) > most * 4 {
            continue;
        }
        let edits = strsim::osa_distance(&word, &folded);
        if edits <= most
            && edits < word.chars().count()
            && best.is_none_or(|(fewest, _)| edits < fewest)
        {
            best = Some((edits, other));
        }
    }
    best.map(|(_, other)| other)
}

fn is_number(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_known_word_is_named() {
        let known = ["regular", "reverse", "gold edge"];
        assert_eq!(nearest("revers", known.into_iter()), Some("reverse"));
        assert_eq!(nearest("REGULAR ", known.into_iter()), Some("regular"));
        assert_eq!(nearest("rverese", known.into_iter()), Some("reverse"));
        assert_eq!(nearest("silver", known.into_iter()), None);
        assert_eq!(nearest("007", ["70", "7"].into_iter()), Some("7"));
        assert_eq!(nearest("99", ["1", "2"].into_iter()), None);
        assert_eq!(nearest("9", ["1", "2"].into_iter()), None);
        assert_eq!(nearest("120", ["121", "12"].into_iter()), None);
        assert_eq!(nearest("12b", ["12a", "12"].into_iter()), Some("12a"));
        assert_eq!(nearest("x", ["y"].into_iter()), None);
    }

    #[test]
    fn where_none_is_near_the_few_are_listed() {
        assert_eq!(
            hint("silver", ["a", "b"].into_iter()),
            "; there are “a”, “b”"
        );
        assert_eq!(hint("silver", ["a"].into_iter()), "; there is only “a”");
        assert_eq!(hint("silver", std::iter::empty()), "");
    }
}
