//! Rows of a checklist, taken one by one, become one step.

mod finishes;
mod known;
mod pending;

use std::collections::HashMap;

use super::row::{BadRow, CardRow, Intake};
use super::shelve::{BinderOptions, Shelver};
use crate::model::{
    Collection, Refused, SetHead, Step, ensure_finish_name, ensure_text, ensure_word, limits,
};
use crate::text;
use pending::Pending;

/// How a checklist is taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ChecklistOptions {
    /// What differs from what is kept is taken over.
    pub update: bool,
    /// The binder that each new set gets; `None` to leave binders alone.
    pub binder: Option<BinderOptions>,
}

/// A checklist that is coming in. Rows that are refused leave no trace in it.
#[derive(Debug)]
pub struct Checklist<'a> {
    collection: &'a Collection,
    options: ChecklistOptions,
    sets: Vec<Pending<'a>>,
    /// The set of the last row that was taken: mostly the next one names the same.
    last: usize,
    /// How many of them are new.
    fresh: usize,
    by_code: HashMap<Box<str>, usize>,
    /// Codes letter case aside, so that `PEN` and `pen` do not become two sets.
    by_folded: HashMap<String, Box<str>>,
}

impl<'a> Checklist<'a> {
    #[must_use]
    pub fn new(collection: &'a Collection, options: ChecklistOptions) -> Self {
        let folded =
            |(_, set): (_, &crate::model::Set)| (set.code().to_lowercase(), set.code().into());
        Self {
            collection,
            options,
            sets: Vec::new(),
            last: 0,
            fresh: 0,
            by_code: HashMap::new(),
            by_folded: collection.sets().map(folded).collect(),
        }
    }

    /// Takes one row.
    ///
    /// # Errors
    /// What in the row is not right.
    pub fn row(&mut self, row: CardRow<'_>) -> Result<(), BadRow> {
        let at = self.find(row.set);
        let set = at.map(|at| &self.sets[at]);
        if row.set.is_empty() {
            return Err(BadRow::new(row.line, "set", "a card needs a set"));
        }
        if set.is_none() {
            ensure_word("a set's code", row.set).map_err(BadRow::refused(row.line, "set"))?;
        }
        check_texts(&row)?;
        if !set.is_some_and(|set| set.lists_again(row.finishes)) {
            check_finishes(&row)?;
        }
        let at = match at {
            Some(at) => at,
            None => self.begin(&row)?,
        };
        self.last = at;
        let fresh = self.sets[at].is_untouched();
        let result = self.sets[at].row(row, self.options.update);
        if result.is_err() && fresh && at + 1 == self.sets.len() {
            self.forget_last();
        }
        result
    }

    /// The set of this code, if a row was taken for it.
    fn find(&self, code: &str) -> Option<usize> {
        let last = self.sets.get(self.last);
        if last.is_some_and(|last| *last.head.code == *code) {
            return Some(self.last);
        }
        self.by_code.get(code).copied()
    }

    /// A set is named for the first time.
    fn begin(&mut self, row: &CardRow<'_>) -> Result<usize, BadRow> {
        let folded = row.set.to_lowercase();
        if let Some(other) = self
            .by_folded
            .get(&folded)
            .filter(|other| ***other != *row.set)
        {
            return Err(BadRow::new(
                row.line,
                "set",
                format!(
                    "“{}” differs from the set “{other}” in capitals only; write it the same way",
                    row.set
                ),
            ));
        }
        let known = self.collection.set_by_code(row.set);
        let known = known.and_then(|id| Some((id, self.collection.set(id)?)));
        if known.is_none() {
            if self.collection.sets().len() + self.fresh >= limits::SETS {
                let why = format!("a collection has at most {} sets", limits::SETS);
                return Err(BadRow::new(row.line, "set", why));
            }
            self.fresh += 1;
        }
        self.by_folded.insert(folded, row.set.into());
        self.by_code.insert(row.set.into(), self.sets.len());
        // Sets that come together are mostly of a size.
        let cards = self.sets.last().map_or(0, Pending::cards);
        self.sets.push(Pending::new(row.set, known, cards));
        Ok(self.sets.len() - 1)
    }

    /// The set that its only row, a bad one, began is taken back.
    fn forget_last(&mut self) {
        if let Some(last) = self.sets.pop() {
            self.by_code.remove(&last.head.code);
            if last.known.is_none() {
                self.fresh -= 1;
                self.by_folded.remove(&last.head.code.to_lowercase());
            }
        }
    }

    /// All rows as one step.
    #[must_use]
    pub fn finish(self) -> Intake {
        let mut intake = Intake::default();
        let mut shelver = Shelver::new(self.collection);
        let mut at = self.collection.sets().len();
        let mut fresh = self.collection.fresh_sets(at);
        let mut codes = Vec::new();
        for pending in self.sets {
            let id = match &pending.known {
                Some((id, _)) => Some(*id),
                None => fresh.next(),
            };
            // `limits::SETS` was looked at when the set's first row came.
            let Some(id) = id else { continue };
            let is_new = pending.known.is_none();
            let code = pending.head.code.clone();
            let before = intake.step.changes.len();
            let ready = pending.finish(id, at, self.options.binder.is_some(), &mut intake);
            shelver.shelve(id, &ready, self.options.binder, &mut intake);
            at += usize::from(is_new);
            if intake.step.changes.len() > before {
                codes.push(code);
            }
        }
        intake.step.label = label(&codes, intake.added.cards);
        if intake.step.changes.is_empty() {
            intake.step = Step::default();
        }
        intake
    }
}

fn label(codes: &[Box<str>], cards: usize) -> String {
    let sets = match codes {
        [] => String::new(),
        [first, .., last] if codes.len() > 3 => format!(" of {first} to {last}"),
        few => format!(" of {}", text::all_of(few, ", ")),
    };
    match cards {
        0 => format!("checklist{sets} amended"),
        cards => {
            let cards = text::count(cards as u64, "card", "cards");
            format!("checklist{sets}: {cards}")
        }
    }
}

/// How long texts may be.
fn check_texts(row: &CardRow<'_>) -> Result<(), BadRow> {
    let at = |column| BadRow::refused(row.line, column);
    if row.number.is_empty() {
        return Err(BadRow::new(row.line, "number", "a card needs a number"));
    }
    let texts: [(&'static str, &str, &str, usize); 6] = [
        ("number", "a number", row.number, limits::WORD),
        ("name", "a card's name", row.name, limits::TEXT),
        ("set_title", "a set's title", row.set_title, limits::TEXT),
        ("symbol", "a set's symbol", row.symbol, limits::WORD),
        ("shelf", "a shelf number", row.shelf, limits::WORD),
        ("rarity", "a rarity", row.rarity, limits::WORD),
    ];
    for (column, what, text, most) in texts {
        ensure_text(what, text, most).map_err(at(column))?;
    }
    Ok(())
}

fn check_finishes(row: &CardRow<'_>) -> Result<(), BadRow> {
    let finishes = CardRow::finish_names(row.finishes);
    for (place, finish) in finishes.iter().enumerate() {
        ensure_finish_name(finish).map_err(BadRow::refused(row.line, "finishes"))?;
        let folded = finish.to_lowercase();
        if finishes[..place].iter().any(|f| f.to_lowercase() == folded) {
            let why = format!("the finish “{finish}” is named twice");
            return Err(BadRow::new(row.line, "finishes", why));
        }
    }
    Ok(())
}

/// A new set from a phrase: its step, as a checklist with these numbers would make it.
///
/// # Errors
/// The code is taken or is not one plain word, or a text is too long.
pub fn new_set(
    collection: &Collection,
    head: &SetHead,
    phrase: &super::Phrase,
    binder: Option<BinderOptions>,
) -> Result<Intake, Refused> {
    if let Some(taken) = collection.set_by_code(&head.code) {
        let code = collection.set(taken).map_or("", |set| set.code());
        return Err(Refused::CodeTaken(code.into()));
    }
    let options = ChecklistOptions {
        update: false,
        binder,
    };
    let mut checklist = Checklist::new(collection, options);
    let finishes = phrase.finishes.join(";");
    for (line, number) in (1..).zip(&phrase.numbers) {
        let row = CardRow {
            line,
            set: &head.code,
            number,
            set_title: &head.title,
            symbol: &head.symbol,
            shelf: &head.shelf,
            finishes: &finishes,
            ..CardRow::default()
        };
        checklist.row(row).map_err(|bad| Refused::Unfit(bad.why))?;
    }
    let mut intake = checklist.finish();
    let cards = text::count(intake.added.cards as u64, "card", "cards");
    intake.step.label = format!("new set {}: {cards}", head.code);
    Ok(intake)
}
