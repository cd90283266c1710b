//! What an import came to, as JSON.

use std::borrow::Cow;

use serde::Serialize;

use super::name::Name;
use crate::intake::{Difference, Intake, Verdict};
use crate::store::csv::{CsvError, Problem, Reading, Whereabouts};
use crate::text::safe;

#[derive(Serialize)]
struct Refusal<'a> {
    line: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    column: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<Cow<'a, str>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    byte: Option<u64>,
    why: Cow<'a, str>,
}

/// The rows that were left out.
fn refused(reading: &Reading) -> Vec<Refusal<'_>> {
    fn refusal(problem: &Problem) -> Refusal<'_> {
        let (column, name, byte) = match &problem.place {
            Whereabouts::Row => (None, None, None),
            Whereabouts::Byte { byte, column } => {
                let number = column.as_ref().map(|(number, _)| *number);
                let name = column.as_ref().map(|(_, name)| name.as_str());
                (number, name, Some(*byte))
            }
            Whereabouts::Column(number, name) => (Some(*number), Some(*name), None),
        };
        Refusal {
            line: problem.line,
            column,
            name: name.map(safe),
            byte,
            why: safe(&problem.why),
        }
    }
    reading.problems.iter().map(refusal).collect()
}

/// Why nothing was imported.
#[derive(Serialize)]
pub(super) struct RefusedAnswer<'a> {
    format: &'static str,
    version: u32,
    file: Cow<'a, str>,
    why: Cow<'a, str>,
    refused: Vec<Refusal<'a>>,
    refused_rows: u64,
}

impl<'a> RefusedAnswer<'a> {
    /// A file that cannot be read at all.
    pub(super) fn of_file(file: &'a Name, why: &'a str) -> Self {
        Self {
            format: "ringbound-import-refused",
            version: 1,
            file: file.shown(),
            why: safe(why),
            refused: Vec::new(),
            refused_rows: 0,
        }
    }

    /// A file that is not read by rows. Where the fault has a place, that is told as a bad row's.
    pub(super) fn of_csv(file: &'a Name, why: &'a str, error: &CsvError) -> Self {
        let mut answer = Self::of_file(file, why);
        if let CsvError::NotCsv { line, byte, why } = error {
            answer.refused_rows = 1;
            answer.refused.push(Refusal {
                line: *line,
                column: None,
                name: None,
                byte: Some(*byte),
                why: safe(why),
            });
        }
        answer
    }

    /// A file with bad rows.
    pub(super) fn of_rows(file: &'a Name, why: &'a str, reading: &'a Reading) -> Self {
        Self {
            refused: refused(reading),
            refused_rows: reading.bad,
            ..Self::of_file(file, why)
        }
    }
}

#[derive(Serialize)]
pub(crate) struct AddedAnswer {
    sets: usize,
    cards: usize,
    further_finishes: usize,
    filled_in: usize,
    binders: usize,
    pages: usize,
}

impl AddedAnswer {
    pub(crate) fn new(intake: &Intake) -> Self {
        let added = intake.added;
        Self {
            sets: added.sets,
            cards: added.cards,
            further_finishes: added.further_finishes,
            filled_in: added.filled_in,
            binders: added.binders,
            pages: added.pages,
        }
    }
}

#[derive(Serialize)]
struct Differs<'a> {
    set: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    number: Option<&'a str>,
    what: &'static str,
    kept: &'a str,
    given: &'a str,
    taken: bool,
}

impl<'a> From<&'a Difference> for Differs<'a> {
    fn from(difference: &'a Difference) -> Self {
        Self {
            set: &difference.set,
            number: difference.number.as_deref(),
            what: difference.what,
            kept: &difference.kept,
            given: &difference.given,
            taken: difference.verdict == Verdict::TakenOver,
        }
    }
}

#[derive(Serialize)]
pub(super) struct ChecklistAnswer<'a> {
    format: &'static str,
    version: u32,
    file: Cow<'a, str>,
    rows: u64,
    refused: Vec<Refusal<'a>>,
    refused_rows: u64,
    added: AddedAnswer,
    differs: Vec<Differs<'a>>,
    notes: &'a [String],
}

impl<'a> ChecklistAnswer<'a> {
    pub(super) fn new(file: &'a Name, reading: &'a Reading, intake: &'a Intake) -> Self {
        Self {
            format: "ringbound-import-checklist",
            version: 1,
            file: file.shown(),
            rows: reading.taken,
            refused: refused(reading),
            refused_rows: reading.bad,
            added: AddedAnswer::new(intake),
            differs: intake.differs.iter().map(Into::into).collect(),
            notes: &intake.notes,
        }
    }
}

#[derive(Serialize)]
pub(super) struct CopiesAnswer<'a> {
    format: &'static str,
    version: u32,
    file: Cow<'a, str>,
    rows: u64,
    refused: Vec<Refusal<'a>>,
    refused_rows: u64,
    acquired: u64,
    in_place: u64,
}

impl<'a> CopiesAnswer<'a> {
    pub(super) fn new(file: &'a Name, reading: &'a Reading, acquired: u64, in_place: u64) -> Self {
        Self {
            format: "ringbound-import-copies",
            version: 1,
            file: file.shown(),
            rows: reading.taken,
            refused: refused(reading),
            refused_rows: reading.bad,
            acquired,
            in_place,
        }
    }
}
