//! A CSV file with a header row: columns by name in any order, and what is wrong with it.

use std::fmt;
use std::io::{self, BufRead, BufReader, Cursor, Read};

use super::record::{At, Fault, Record, Records};
use crate::intake::BadRow;
use crate::text::{all_of, count, nearest};

/// Problems that are usually kept; of further ones only the number is.
pub const USUALLY_KEPT: usize = 100;

/// Columns that are not known and are named; of further ones only the number is.
const MOST_UNKNOWN: usize = 20;

/// A column that is read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub(super) name: &'static str,
    pub(super) required: bool,
    /// The most bytes of a field.
    pub(super) most: usize,
}

/// What kind of place in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Whereabouts {
    Row,
    Byte {
        /// Within the line, from 1.
        byte: u64,
        /// The number from 1 and the name of the column in which it lies, as the first line has
        /// it; `None` beyond the columns that are named.
        column: Option<(usize, String)>,
    },
    /// The column's number from 1 and its name.
    Column(usize, &'static str),
}

/// What is wrong with a row, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// From 1.
    pub line: u64,
    pub place: Whereabouts,
    /// May hold text of the file as it was written there.
    pub why: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.line)?;
        match &self.place {
            Whereabouts::Row => {}
            Whereabouts::Byte { byte, column } => {
                write!(f, ", byte {byte}")?;
                match column {
                    Some((number, name)) if name.is_empty() => write!(f, ", column {number}")?,
                    Some((number, name)) => write!(f, ", column {number} ({name})")?,
                    None => {}
                }
            }
            Whereabouts::Column(number, name) => write!(f, ", column {number} ({name})")?,
        }
        write!(f, ": {}", self.why)
    }
}

/// Why a file cannot be read at all.
#[derive(Debug, thiserror::Error)]
pub enum CsvError {
    #[error("{0}")]
    Io(#[from] io::Error),
    #[error("it is empty; the first line names the columns: {0}")]
    Empty(String),
    #[error("it is UTF-16; save it as UTF-8")]
    Utf16,
    #[error("it is not a CSV text file: line {line}, byte {byte}: {why}")]
    NotCsv {
        line: u64,
        byte: u64,
        why: &'static str,
    },
    #[error(
        "the column “{name}” is missing; {} Needed are {needed}",
        told(found, near)
    )]
    Missing {
        name: &'static str,
        /// The columns that are there, the first few.
        found: Vec<String>,
        /// One of them that may be meant.
        near: Option<String>,
        /// The columns that must be there, in words.
        needed: String,
    },
    #[error("the first line names the column “{0}” twice")]
    Twice(&'static str),
}

impl CsvError {
    /// That this file cannot be taken, and why, with [`CsvError::separated_otherwise`].
    #[must_use]
    pub fn told(&self, file: impl fmt::Display) -> String {
        format!("{file}: {self}{}", self.separated_otherwise())
    }

    /// A word on a file whose columns are apart, but not by commas: spreadsheets of many countries
    /// write semicolons.
    #[must_use]
    pub fn separated_otherwise(&self) -> String {
        let Self::Missing { found, .. } = self else {
            return String::new();
        };
        let by = match &found[..] {
            [only] if only.contains(';') => "semicolons",
            [only] if only.contains('\t') => "tabs",
            _ => return String::new(),
        };
        format!("; the columns seem to be separated by {by}: save the file with commas")
    }
}

/// What is there instead of a column that is missing.
fn told(found: &[String], near: &Option<String>) -> String {
    match near {
        Some(near) => format!("there is “{near}”: did you mean that?"),
        None => format!("the first line names “{}”.", found.join("”, “")),
    }
}

/// What reading a file came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// Rows that were taken.
    pub taken: u64,
    /// Rows that were not, as many as are kept.
    pub problems: Vec<Problem>,
    /// Rows that were not, all of them.
    pub bad: u64,
    /// Columns that are not known and were left out, by number and name; of many the first few.
    pub unknown: Vec<(usize, String)>,
    /// So many more are not known.
    pub unknown_more: usize,
    /// Of the columns that are not known the first that may be meant for one that the file lacks,
    /// and that one.
    pub mistyped: Option<(String, &'static str)>,
}

/// What a list of gaps, wants or spares tells besides what is read.
const TOLD_BESIDES: [&str; 7] = ["name", "rarity", "binder", "page", "side", "row", "column"];

impl Reading {
    /// What to ask where a column may be mistyped: what it says would be left out, and nobody would
    /// miss it.
    #[must_use]
    pub fn ask_of_mistyped(&self) -> Option<String> {
        let (written, meant) = self.mistyped.as_ref()?;
        Some(format!(
            "the column “{written}” is not known: did you mean “{meant}”?"
        ))
    }

    /// Whether the columns that were left out are those of a list that this program writes.
    #[must_use]
    pub fn is_of_own_list(&self) -> bool {
        let unknown = self.unknown.iter().map(|(_, name)| name.as_str());
        unknown.eq(TOLD_BESIDES)
    }

    fn problem(&mut self, problem: Problem, most: usize) {
        self.bad += 1;
        if self.problems.len() < most {
            self.problems.push(problem);
        }
    }
}

/// One row, its fields by the place of their column in the list of columns.
pub(super) struct Row<'a> {
    record: &'a Record,
    places: &'a [Option<usize>],
}

impl<'a> Row<'a> {
    pub(super) fn line(&self) -> u64 {
        self.record.line
    }

    /// Empty where the file has no such column.
    pub(super) fn text(&self, column: usize) -> &'a str {
        self.places[column].map_or("", |at| self.record.field(at))
    }

    fn length(&self, column: usize) -> usize {
        self.places[column].map_or(0, |at| self.record.length(at))
    }
}

/// Reads a file row by row into `each`. The first `most` problems are kept.
///
/// # Errors
/// The file is not one that can be read by rows. A row that is bad is no error but a problem.
pub(super) fn read(
    input: impl Read,
    columns: &[Column],
    most: usize,
    mut each: impl FnMut(&Row<'_>) -> Result<(), BadRow>,
) -> Result<Reading, CsvError> {
    let mut records = Records::new(without_mark(input)?);
    let mut record = Record::new();
    match records.read(&mut record, true)? {
        None => return Err(CsvError::Empty(names(columns, |_| true))),
        Some(Err(Fault { at, why, .. })) => {
            let At { line, byte } = at;
            return Err(CsvError::NotCsv { line, byte, why });
        }
        Some(Ok(())) => {}
    }
    let width = record.len();
    let header: Vec<_> = (0..width).map(|at| short(&record, at)).collect();
    let mut reading = Reading::default();
    let places = places(&record, columns, &mut reading)?;
    let least = columns.iter().map(|column| column.most).min().unwrap_or(0);
    // Blank lines at the end of a file do no harm; before another row they are told.
    let mut blank = Vec::new();
    while let Some(read) = records.read(&mut record, false)? {
        if read.is_ok() && record.is_blank() && width > 1 {
            blank.push(record.line);
            continue;
        }
        for line in blank.drain(..) {
            let problem = Problem {
                line,
                place: Whereabouts::Row,
                why: "the line is blank; take it out".into(),
            };
            reading.problem(problem, most);
        }
        if read.is_ok() {
            record.unguard();
        }
        let row = Row {
            record: &record,
            places: &places,
        };
        let result = match read {
            Err(Fault { at, field, why }) => Err(Problem {
                line: at.line,
                place: Whereabouts::Byte {
                    byte: at.byte,
                    column: header.get(field).map(|name| (field + 1, name.clone())),
                },
                why: why.into(),
            }),
            Ok(()) => ensure_shape(&row, width, columns, least).and_then(|()| {
                each(&row).map_err(|bad| Problem {
                    line: bad.line,
                    place: whereabouts(bad.column, columns, &places),
                    why: bad.why,
                })
            }),
        };
        match result {
            Ok(()) => reading.taken += 1,
            Err(problem) => reading.problem(problem, most),
        }
    }
    Ok(reading)
}

/// `least` is the shortest of the columns' most bytes.
fn ensure_shape(
    row: &Row<'_>,
    width: usize,
    columns: &[Column],
    least: usize,
) -> Result<(), Problem> {
    let fields = row.record.len();
    if fields != width {
        return Err(Problem {
            line: row.line(),
            place: Whereabouts::Row,
            why: format!(
                "the row has {}, the first line names {}",
                count(fields as u64, "field", "fields"),
                count(width as u64, "column", "columns")
            ),
        });
    }
    // In a short row no field is too long.
    if row.record.bytes() <= least {
        return Ok(());
    }
    for (at, column) in columns.iter().enumerate() {
        if row.length(at) > column.most {
            return Err(Problem {
                line: row.line(),
                place: whereabouts(column.name, columns, row.places),
                why: format!(
                    "the field is {} bytes long; at most {} are taken",
                    row.length(at),
                    column.most
                ),
            });
        }
    }
    Ok(())
}

fn whereabouts(name: &'static str, columns: &[Column], places: &[Option<usize>]) -> Whereabouts {
    let column = columns.iter().position(|column| column.name == name);
    let place = column.and_then(|column| places[column]);
    place.map_or(Whereabouts::Row, |at| Whereabouts::Column(at + 1, name))
}

/// The place in a row of each column that is read.
fn places(
    header: &Record,
    columns: &[Column],
    reading: &mut Reading,
) -> Result<Vec<Option<usize>>, CsvError> {
    let mut places = vec![None; columns.len()];
    for at in 0..header.len() {
        let written = header.field(at);
        let plain = written.trim().to_lowercase();
        match columns.iter().position(|column| column.name == plain) {
            Some(column) if places[column].is_some() => {
                return Err(CsvError::Twice(columns[column].name));
            }
            Some(column) => places[column] = Some(at),
            None if reading.unknown.len() < MOST_UNKNOWN => {
                reading.unknown.push((at + 1, short(header, at)));
            }
            None => reading.unknown_more += 1,
        }
    }
    let missing = columns.iter().zip(&places);
    let mut missing = missing.filter(|(column, place)| column.required && place.is_none());
    if let Some((column, _)) = missing.next() {
        // Among all of them, not only those that are kept.
        let unknown = (0..header.len()).map(|at| header.field(at));
        let unknown = unknown.filter(|name| names_none(columns, name));
        return Err(CsvError::Missing {
            name: column.name,
            near: nearest(column.name, unknown).map(str::to_owned),
            found: (0..header.len().min(12))
                .map(|at| short(header, at))
                .collect(),
            needed: in_words(columns.iter().filter(|column| column.required)),
        });
    }
    let lacking = || {
        let all = columns.iter().zip(&places);
        all.filter_map(|(column, place)| place.is_none().then_some(column.name))
    };
    reading.mistyped = (reading.unknown.iter())
        .filter(|(_, name)| !TOLD_BESIDES.contains(&&*name.trim().to_lowercase()))
        .find_map(|(_, name)| Some((name.clone(), nearest(name, lacking())?)));
    Ok(places)
}

fn names_none(columns: &[Column], written: &str) -> bool {
    let plain = written.trim().to_lowercase();
    columns.iter().all(|column| column.name != plain)
}

/// The beginning of a column's name as the file has it.
fn short(header: &Record, at: usize) -> String {
    header.field(at).chars().take(60).collect()
}

/// `set, number and name`.
fn in_words<'c>(columns: impl Iterator<Item = &'c Column>) -> String {
    let names: Vec<_> = columns.map(|column| column.name).collect();
    all_of(&names, ", ")
}

fn names(columns: &[Column], which: impl Fn(&Column) -> bool) -> String {
    let named = columns.iter().filter(|column| which(column));
    named
        .map(|column| column.name)
        .collect::<Vec<_>>()
        .join(",")
}

/// The input without the mark that some programs put before UTF-8 text.
fn without_mark(mut input: impl Read) -> Result<impl BufRead, CsvError> {
    let mut first = Vec::with_capacity(3);
    input.by_ref().take(3).read_to_end(&mut first)?;
    if first.starts_with(&[0xFF, 0xFE]) || first.starts_with(&[0xFE, 0xFF]) {
        return Err(CsvError::Utf16);
    }
    if first == [0xEF, 0xBB, 0xBF] {
        first.clear();
    }
    Ok(Cursor::new(first).chain(BufReader::with_capacity(1 << 16, input)))
}
