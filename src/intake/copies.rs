//! Rows of copies, taken one by one, become one step.

use std::collections::{BTreeMap, HashMap, HashSet};

use super::row::{BadRow, CopyRow};
use crate::model::{Change, Collection, PageId, Place, PrintingId, Set, SetId, Step, limits};
use crate::text;
use crate::text::hint;

/// Bad rows for which the nearest known word is looked up; a file that is wrong all over would
/// take long otherwise.
const MOST_HINTS: usize = 200;

/// Codes that are remembered, found or not.
const MOST_CODES: usize = 2 * limits::SETS;

/// Copies that are coming in.
#[derive(Debug)]
pub struct Copies<'a> {
    collection: &'a Collection,
    counts: BTreeMap<PrintingId, u32>,
    /// Codes that were looked up. One that is written in another case takes a look at every set.
    codes: HashMap<Box<str>, Option<SetId>>,
    /// The numbers of a set without zeros in front, where one was asked for that is not there.
    stems: HashMap<SetId, HashSet<String>>,
    /// Set and card of the last row.
    last: Option<(SetId, u32)>,
    hints: usize,
}

/// What an import of copies does.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CopiesIntake {
    pub step: Step,
    pub acquired: u64,
    /// Of these, the ones that went into their own pocket.
    pub seated: u64,
}

impl CopiesIntake {
    /// What came in, in a sentence: `3 copies came in: 2 in their pockets, 1 loose.`
    #[must_use]
    pub fn words(&self, in_place: bool) -> String {
        let came = text::count(self.acquired, "copy", "copies");
        match (self.acquired, in_place) {
            (0, _) => "No copies came in.".into(),
            (_, false) => format!("{came} came in, loose."),
            (_, true) => {
                let seated = text::count(self.seated, "in its pocket", "in their pockets");
                let loose = self.acquired - self.seated;
                format!("{came} came in: {seated}, {loose} loose.")
            }
        }
    }
}

/// How much of what a row of copies names is in the collection.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowKnown {
    Card,
    /// The set, but not its card.
    Set,
    Nothing,
}

impl<'a> Copies<'a> {
    #[must_use]
    pub fn new(collection: &'a Collection) -> Self {
        Self {
            collection,
            counts: BTreeMap::new(),
            codes: HashMap::new(),
            stems: HashMap::new(),
            last: None,
            hints: 0,
        }
    }

    /// How much of what a row names is here. A card is, be it with other zeros in front of its
    /// number: that is a number to be mended, and no card that is not here.
    pub fn knows(&mut self, row: &CopyRow<'_>) -> RowKnown {
        let Some((id, set)) =
            (self.set(row.set)).and_then(|id| Some((id, self.collection.set(id)?)))
        else {
            return RowKnown::Nothing;
        };
        let stem = |number: &str| number.trim_start_matches('0').to_owned();
        let is_known = self.card(id, set, row.number).is_some() || {
            let stems = (self.stems.entry(id))
                .or_insert_with(|| set.cards().iter().map(|card| stem(&card.number)).collect());
            stems.contains(&stem(row.number))
        };
        match is_known {
            true => RowKnown::Card,
            false => RowKnown::Set,
        }
    }

    /// Takes one row.
    ///
    /// # Errors
    /// A set, number or finish that is not known, or too many copies.
    pub fn row(&mut self, row: &CopyRow<'_>) -> Result<(), BadRow> {
        let printing = self.printing(row)?;
        let kept = self.collection.tally(printing).copies();
        let known = self.counts.get_mut(&printing);
        let new = known.as_deref().copied().unwrap_or(0);
        let sum = new.saturating_add(row.count);
        if kept.saturating_add(sum) > limits::COPIES {
            let why = format!("that makes more than {} copies of one card", limits::COPIES);
            return Err(BadRow::new(row.line, "count", why));
        }
        match known {
            Some(count) => *count = sum,
            None if row.count > 0 => drop(self.counts.insert(printing, sum)),
            None => {}
        }
        Ok(())
    }

    /// What was taken so far, by printing.
    #[must_use]
    pub fn counts(&self) -> &BTreeMap<PrintingId, u32> {
        &self.counts
    }

    fn printing(&mut self, row: &CopyRow<'_>) -> Result<PrintingId, BadRow> {
        let collection = self.collection;
        for (column, value) in [("set", row.set), ("number", row.number)] {
            if value.is_empty() {
                let why = format!("a copy needs a {column}");
                return Err(BadRow::new(row.line, column, why));
            }
        }
        let Some(id) = self.set(row.set) else {
            let known = || collection.sets().map(|(_, set)| set.code()).collect();
            let why = if collection.sets().len() == 0 {
                format!(
                    "there is no set “{}” yet; import its checklist first",
                    row.set
                )
            } else {
                format!("there is no set “{}”{}", row.set, self.hint(row.set, known))
            };
            return Err(BadRow::new(row.line, "set", why));
        };
        let set = collection.set(id);
        let set = set.ok_or_else(|| BadRow::new(row.line, "set", "there is no such set"))?;
        let Some(card) = self.card(id, set, row.number) else {
            let known = || {
                set.cards()
                    .iter()
                    .map(|card| card.number.as_ref())
                    .collect()
            };
            let hint = self.hint(row.number, known);
            let why = format!("there is no card “{}” in {}{hint}", row.number, set.code());
            return Err(BadRow::new(row.line, "number", why));
        };
        self.last = Some((id, card));
        let finish = self.finish(row, set)?;
        let printing = PrintingId::new(id, card, finish);
        if !collection.has_printing(printing) {
            let names: Vec<_> = (0u8..)
                .zip(set.finishes())
                .filter(|(at, _)| set.cards()[card as usize].has_finish(*at))
                .map(|(_, finish)| finish.name.as_ref())
                .collect();
            let why = format!(
                "{} {} does not come in “{}”; it comes in “{}”",
                set.code(),
                row.number,
                set.finishes()[usize::from(finish)].name,
                names.join("”, “")
            );
            return Err(BadRow::new(row.line, "finish", why));
        }
        Ok(printing)
    }

    fn set(&mut self, code: &str) -> Option<SetId> {
        let last = self.last.map(|(last, _)| last);
        if let Some(last) = last
            && (self.collection.set(last)).is_some_and(|set| set.code() == code)
        {
            return Some(last);
        }
        if let Some(known) = self.codes.get(code) {
            return *known;
        }
        let found = self.collection.set_by_code(code);
        // However many there are in a file that is wrong all over.
        if self.codes.len() < MOST_CODES {
            self.codes.insert(code.into(), found);
        }
        found
    }

    /// Rows mostly stand in the order of the checklist: the card of the last one or the next.
    fn card(&self, id: SetId, set: &Set, number: &str) -> Option<u32> {
        let last = self.last.filter(|(last, _)| *last == id);
        let near = last.into_iter().flat_map(|(_, card)| [card, card + 1]);
        let is_meant = |card: &u32| set.card(*card).is_some_and(|card| *card.number == *number);
        let near = near.into_iter().find(is_meant);
        near.or_else(|| set.card_by_number(number))
    }

    fn finish(&mut self, row: &CopyRow<'_>, set: &Set) -> Result<u8, BadRow> {
        let word = match row.finish {
            "" => "regular",
            word => word,
        };
        if let Some(finish) = set.finish_by_name(word) {
            return Ok(finish);
        }
        let known = || set.finishes().iter().map(|f| f.name.as_ref()).collect();
        let hint = self.hint(word, known);
        let why = format!("there is no finish “{word}” in {}{hint}", set.code());
        Err(BadRow::new(row.line, "finish", why))
    }

    fn hint<'k>(&mut self, word: &str, known: impl FnOnce() -> Vec<&'k str>) -> String {
        self.hints += 1;
        if self.hints > MOST_HINTS {
            return String::new();
        }
        hint(word, known().into_iter())
    }

    /// All rows as one step: loose copies; with `in_place` each in its own pocket as far as there
    /// are empty ones.
    #[must_use]
    pub fn finish_step(self, in_place: bool) -> CopiesIntake {
        let acquired = self.counts.values().map(|count| u64::from(*count)).sum();
        let acquire = self.counts.iter().map(|(printing, count)| Change::Acquire {
            printing: *printing,
            count: *count,
        });
        let mut changes: Vec<_> = acquire.collect();
        let before = changes.len();
        if in_place {
            let mut left: HashMap<_, _> = self.counts.iter().map(|(p, c)| (*p, *c)).collect();
            changes.extend(own_pockets(self.collection, &mut left));
        }
        let seated = (changes.len() - before) as u64;
        if changes.is_empty() {
            return CopiesIntake::default();
        }
        let copies = text::count(acquired, "copy", "copies");
        let mut label = format!("{copies} in");
        if in_place {
            label.push_str(&format!(", {seated} in place"));
        }
        CopiesIntake {
            step: Step::new(label, changes),
            acquired,
            seated,
        }
    }
}

/// One walk along the shelf: an empty pocket that is meant for a printing of which some are left
/// takes one of them.
fn own_pockets(collection: &Collection, left: &mut HashMap<PrintingId, u32>) -> Vec<Change> {
    let mut seats = Vec::new();
    for binder in collection.shelf() {
        let both = binder.pages().iter().zip(&binder.layout().pages);
        let comparable = both.enumerate().filter(|(at, _)| binder.comparable(*at));
        for (at, (real, meant)) in comparable {
            for (pocket, printing) in meant.printings() {
                if real.cards()[pocket].is_some() {
                    continue;
                }
                if let Some(count) = left.get_mut(&printing).filter(|count| **count > 0) {
                    *count -= 1;
                    seats.push(seat(binder.id(), at, pocket, real.id(), printing));
                }
            }
        }
    }
    seats
}

fn seat(
    binder: crate::model::BinderId,
    page: usize,
    pocket: usize,
    id: PageId,
    printing: PrintingId,
) -> Change {
    Change::Seat {
        place: Place {
            binder,
            page,
            pocket,
        },
        page: id,
        printing,
    }
}
