//! Words in a row, as one says them.

/// `a`, `a and b`, `a, b and c`; with `; ` between them where they hold commas themselves.
#[must_use]
pub fn all_of(words: &[impl AsRef<str>], between: &str) -> String {
    joined(words, between, "and")
}

/// `a`, `a or b`, `a, b or c`.
#[must_use]
pub fn one_of(words: &[impl AsRef<str>]) -> String {
    joined(words, ", ", "or")
}

fn joined(words: &[impl AsRef<str>], between: &str, last: &str) -> String {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    match &words[..] {
        [most @ .., end] if !most.is_empty() => format!("{} {last} {end}", most.join(between)),
        all => all.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_of_several_stands_behind_an_and() {
        for (words, told) in [
            (&[][..], ""),
            (&["a"], "a"),
            (&["a", "b"], "a and b"),
            (&["a", "b", "c"], "a, b and c"),
        ] {
            assert_eq!(all_of(words, ", "), told);
        }
        assert_eq!(one_of(&["a", "b", "c"]), "a, b or c");
        assert_eq!(all_of(&["a, b", "c", "d"], "; "), "a, b; c and d");
    }
}
