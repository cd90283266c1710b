//! Closed lists of choices, each with the one word by which a person writes it.

/// One of a closed list. Files, settings and commands all have the same words for it: these.
pub trait Choice: Copy + PartialEq + 'static {
    /// Each with its word, in the order in which they are told.
    const WORDS: &'static [(&'static str, Self)];

    #[must_use]
    fn word(self) -> &'static str {
        let found = Self::WORDS.iter().find(|(_, choice)| *choice == self);
        found.map_or("", |(word, _)| word)
    }

    /// By its word.
    #[must_use]
    fn of_word(word: &str) -> Option<Self> {
        let found = Self::WORDS.iter().find(|(known, _)| *known == word);
        found.map(|(_, choice)| *choice)
    }

    /// All words, in order.
    #[must_use]
    fn words() -> Vec<&'static str> {
        Self::WORDS.iter().map(|(word, _)| *word).collect()
    }
}
