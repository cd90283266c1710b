//! What comes in, row by row, and what is told of it.

use std::fmt;

use crate::model::{CardSize, Refused, Step};
use crate::text;

/// One row of a checklist, borrowed from what it is read from. An optional field is `None` or
/// empty where nothing is said.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CardRow<'a> {
    /// Where the row begins in its file, from 1.
    pub line: u64,
    pub set: &'a str,
    pub number: &'a str,
    pub name: &'a str,
    pub set_title: &'a str,
    pub symbol: &'a str,
    pub shelf: &'a str,
    pub rarity: &'a str,
    /// Separated by semicolons. Empty where nothing is said; a card that is new is regular then.
    pub finishes: &'a str,
    pub size: Option<CardSize>,
}

impl<'a> CardRow<'a> {
    /// The names that a list of finishes has, one by one.
    pub(super) fn finish_names(finishes: &'a str) -> Vec<&'a str> {
        match finishes {
            "" => Vec::new(),
            listed => listed.split(';').map(str::trim).collect(),
        }
    }
}

/// One row of copies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CopyRow<'a> {
    pub line: u64,
    pub set: &'a str,
    pub number: &'a str,
    /// Empty for the regular one.
    pub finish: &'a str,
    pub count: u32,
}

/// A row that is not taken, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadRow {
    pub line: u64,
    /// The name of the column.
    pub column: &'static str,
    pub why: String,
}

impl BadRow {
    pub(super) fn new(line: u64, column: &'static str, why: impl Into<String>) -> Self {
        Self {
            line,
            column,
            why: why.into(),
        }
    }

    /// A closure that names line and column of what the model does not take.
    pub(super) fn refused(line: u64, column: &'static str) -> impl Fn(Refused) -> Self {
        move |refused| Self::new(line, column, refused.to_string())
    }
}

/// Something of a set or a card that is kept otherwise than a file says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    pub set: Box<str>,
    /// The card; `None` where it is about the set itself.
    pub number: Option<Box<str>>,
    pub what: &'static str,
    pub kept: String,
    pub given: String,
    pub verdict: Verdict,
}

/// What was done about a difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// The file's word was taken over.
    TakenOver,
    /// It stays; taking over was not asked for.
    Left,
    /// It stays, whatever is asked for: a finish is never taken from a card.
    Stays,
}

impl Verdict {
    pub(super) fn new(update: bool) -> Self {
        if update { Self::TakenOver } else { Self::Left }
    }
}

impl fmt::Display for Difference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.set)?;
        if let Some(number) = &self.number {
            write!(f, " {number}")?;
        }
        let (kept, given) = (&self.kept, &self.given);
        if self.verdict == Verdict::TakenOver {
            write!(f, ": {} was “{kept}”, is now “{given}”", self.what)
        } else {
            write!(f, ": {} stays “{kept}”, the file has “{given}”", self.what)
        }
    }
}

/// What is new.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Added {
    pub sets: usize,
    pub cards: usize,
    /// Cards that were known and come in a further finish.
    pub further_finishes: usize,
    /// Cards of which something was not known yet, and now is.
    pub filled_in: usize,
    pub binders: usize,
    pub pages: usize,
}

impl Added {
    /// `New: 1 set, 300 cards, 1 binder and 34 pages.`; `None` where nothing of that is new.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let parts = [
            (self.sets, "set", "sets"),
            (self.cards, "card", "cards"),
            (self.binders, "binder", "binders"),
            (self.pages, "page", "pages"),
        ];
        let parts = parts.iter().filter(|(number, ..)| *number > 0);
        let new: Vec<_> = parts
            .map(|(number, one, many)| text::count(*number as u64, one, many))
            .collect();
        (!new.is_empty()).then(|| format!("New: {}.", text::all_of(&new, ", ")))
    }
}

/// What an import of a checklist does: the step, and what there is to tell of it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Intake {
    /// Without changes when nothing is new.
    pub step: Step,
    pub added: Added,
    pub differs: Vec<Difference>,
    /// Further words for the person, a sentence each.
    pub notes: Vec<String>,
}

impl Intake {
    /// What came in, a sentence each.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let mut told = Vec::new();
        match self.added.words() {
            None if self.step.changes.is_empty() => told.push("Nothing is new.".into()),
            None => {}
            Some(words) => told.push(words),
        }
        let further = self.added.further_finishes as u64;
        if further > 0 {
            let cards = text::count(further, "known card comes", "known cards come");
            told.push(format!("{cards} in a further finish now."));
        }
        let filled = self.added.filled_in as u64;
        if filled > 0 {
            let cards = text::count(filled, "known card", "known cards");
            told.push(format!("Filled in what was not known yet of {cards}."));
        }
        told
    }
}
