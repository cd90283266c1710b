//! What there is to tell of a list of sections: where it stands, and what would be right.

use super::section::Section;
use crate::model::{Collection, PrintingId, Rules};
use crate::text;

/// Something to be told. Sections count from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// The line cannot be read.
    Unread { section: usize, why: String },
    /// The rule can never match a card.
    Never { section: usize, why: Never },
    /// The section's pockets hold none of its cards.
    HoldsNone { section: usize },
    /// So many of its cards do not fit into its pockets.
    TooLarge { section: usize, cards: usize },
    /// Cards picked by hand that the set does not have.
    Missing {
        section: usize,
        numbers: Vec<Box<str>>,
    },
    /// Cards that two rules match; the first has them.
    Twice {
        first: usize,
        second: usize,
        printings: Vec<PrintingId>,
    },
    /// It was to flow on, or to begin on a new side or row, but its pages are of another kind than
    /// those before it.
    OnNewPage { section: usize },
    /// Cards of the sets in question that no rule matches.
    Unmatched { printings: Vec<PrintingId> },
}

/// Why a rule can never match.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Never {
    /// The binder is for no set, and the rule names none.
    NoSet,
    Set(Box<str>),
    Finish(Box<str>),
    Rarity(Box<str>),
    /// Nothing in the set is as the rule asks.
    Nothing,
    /// Earlier rules have all of its cards.
    Taken,
}

impl Told {
    /// Whether a draft cannot be made before it is mended.
    #[must_use]
    pub fn is_fault(&self) -> bool {
        matches!(
            self,
            Self::Unread { .. } | Self::Never { .. } | Self::HoldsNone { .. }
        )
    }

    /// The section where it stands.
    #[must_use]
    pub fn section(&self) -> Option<usize> {
        match self {
            Self::Unread { section, .. }
            | Self::Never { section, .. }
            | Self::HoldsNone { section }
            | Self::TooLarge { section, .. }
            | Self::Missing { section, .. }
            | Self::Twice {
                second: section, ..
            }
            | Self::OnNewPage { section } => Some(*section),
            Self::Unmatched { .. } => None,
        }
    }

    /// In words, `Section 2 “Rares”: the set has no rarity rare`: sections are called as in these
    /// rules.
    #[must_use]
    pub fn words(&self, collection: &Collection, rules: &Rules) -> String {
        let cards = |printings: &[PrintingId]| {
            let many = text::count(printings.len() as u64, "card", "cards");
            let marked = |printing: &PrintingId| marked(collection, *printing);
            format!("{many}: {}", some(printings, marked))
        };
        let words = match self {
            Self::Unread { why, .. } => why.clone(),
            Self::Never { why, .. } => why.words(),
            Self::HoldsNone { .. } => "no card of it fits into pockets of this size".into(),
            Self::TooLarge { cards, .. } => format!(
                "{} too large for pockets of this size",
                text::count(*cards as u64, "card of it is", "cards of it are")
            ),
            Self::Missing { numbers, .. } => {
                format!("the set has no card {}", some(numbers, ToString::to_string))
            }
            Self::Twice {
                first, printings, ..
            } => format!(
                "{} has them already; {}",
                named("section", *first, rules),
                cards(printings)
            ),
            Self::OnNewPage { .. } => {
                "begins on a new page: the pages before it are of another format".into()
            }
            Self::Unmatched { printings } => {
                return format!("No rule matches {}", cards(printings));
            }
        };
        match self.section() {
            Some(section) => format!("{}: {words}", named("Section", section, rules)),
            None => words,
        }
    }
}

/// `section 2 “Rares”`: by its number and the name that it has in the list.
fn named(word: &str, section: usize, rules: &Rules) -> String {
    let numbered = format!("{word} {}", section + 1);
    let parted = rules.get(section).and_then(|rule| Section::parted(rule));
    let name = parted.map_or_else(String::new, |(name, _)| name);
    if name.is_empty() || name.eq_ignore_ascii_case(&numbered) {
        return numbered;
    }
    format!("{numbered} \u{201c}{}\u{201d}", text::fit(&name, 24, '…'))
}

impl Never {
    fn words(&self) -> String {
        match self {
            Self::NoSet => "say of which set: set MOSS".into(),
            Self::Set(code) => format!("there is no set {code}"),
            Self::Finish(word) => format!("the set has no finish {word}"),
            Self::Rarity(word) => format!("the set has no rarity {word}"),
            Self::Nothing => "no card of the set is as it asks".into(),
            Self::Taken => "the sections before it have all of its cards".into(),
        }
    }
}

const SHOWN: usize = 5;

/// The first few, and an ellipsis for those behind.
fn some<T>(all: &[T], word: impl Fn(&T) -> String) -> String {
    let mut words: Vec<_> = all.iter().take(SHOWN).map(word).collect();
    if all.len() > SHOWN {
        words.push("\u{2026}".into());
    }
    words.join(", ")
}

/// By number and the mark of the finish.
fn marked(collection: &Collection, printing: PrintingId) -> String {
    let set = collection.set(printing.set());
    set.map_or_else(String::new, |set| set.marked(printing))
}
