//! `import`: a CSV file comes in, all of it or nothing.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use serde::Serialize;

use super::args::{BinderArgs, ChecklistArgs, CopiesArgs, Import, OpeningWord, Sides};
use super::error::{CliError, say};
use super::open::{self, Where};
use super::output::Output;
use crate::intake::{
    BinderOptions, Checklist, ChecklistOptions, Copies, CopiesIntake, Difference, Intake, Verdict,
};
use crate::layout::{parse_grid, parse_pocket};
use crate::model::{BinderKind, Opening, PageFormat, RingShape};
use crate::store::csv::{CsvError, Problem, Reading, Whereabouts, read_checklist, read_copies};
use crate::text::safe;

pub(super) fn run(what: &Import, at: &Where, json: bool, out: &mut Output) -> Result<(), CliError> {
    match what {
        Import::Checklist(args) => checklist(args, at, json, out),
        Import::Copies(args) => copies(args, at, json, out),
    }
}

fn checklist(
    args: &ChecklistArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let options = ChecklistOptions {
        update: args.update,
        binder: binder_options(&args.binder)?,
    };
    let source = Source::open(&args.file)?;
    let session = at.write()?;
    let mut checklist = Checklist::new(session.collection(), options);
    let reading = read_checklist(source.input, |row| checklist.row(row));
    let reading = source.name.judge(reading, args.skip_bad, out)?;
    let intake = checklist.finish();
    open::commit(session, intake.step.clone())?;
    if json {
        return out.json(&ChecklistAnswer::new(&reading, &intake));
    }
    tell_intake(&intake, out)
}

fn copies(args: &CopiesArgs, at: &Where, json: bool, out: &mut Output) -> Result<(), CliError> {
    let source = Source::open(&args.file)?;
    let session = at.write()?;
    let mut copies = Copies::new(session.collection());
    let reading = read_copies(source.input, |row| copies.row(&row));
    let reading = source.name.judge(reading, args.skip_bad, out)?;
    let intake = copies.finish_step(args.in_place);
    let CopiesIntake {
        acquired, seated, ..
    } = intake;
    open::commit(session, intake.step)?;
    if json {
        return out.json(&CopiesAnswer {
            format: "ringbound-import-copies",
            version: 1,
            rows: reading.taken,
            refused: refused(&reading),
            refused_rows: reading.bad,
            acquired,
            in_place: seated,
        });
    }
    let loose = acquired - seated;
    out.line(&match (acquired, seated, args.in_place) {
        (0, ..) => "No copies came in.".into(),
        (_, _, false) => format!("{} came in, loose.", count(acquired, "copy", "copies")),
        (_, _, true) => format!(
            "{} came in: {seated} in their pockets, {loose} loose.",
            count(acquired, "copy", "copies")
        ),
    })
}

/// The file as the person named it.
struct Name(String);

struct Source {
    name: Name,
    input: Box<dyn Read>,
}

impl Source {
    fn open(path: &Path) -> Result<Self, CliError> {
        if path.as_os_str() == "-" {
            return Ok(Self {
                name: Name("standard input".into()),
                input: Box::new(io::stdin()),
            });
        }
        let name = path.display().to_string();
        match File::open(path) {
            Ok(file) => Ok(Self {
                name: Name(name),
                input: Box::new(file),
            }),
            Err(e) => Err(CliError::input(format!("could not read {name}: {e}"))),
        }
    }
}

impl Name {
    /// Tells what is wrong with the file, and says whether the rest of it is taken.
    fn judge(
        &self,
        reading: Result<Reading, CsvError>,
        skip_bad: bool,
        out: &mut Output,
    ) -> Result<Reading, CliError> {
        let file = &self.0;
        let reading = reading.map_err(|e| match e {
            CsvError::Io(e) => CliError::input(format!("could not read {file}: {e}")),
            e => CliError::input(format!("{file}: {e}")).hint("nothing was imported"),
        })?;
        for (number, name) in &reading.unknown {
            say(&format!(
                "{file}: column {number} (“{name}”) is not known and was left out"
            ));
        }
        for problem in &reading.problems {
            say(&format!("{file}, {problem}"));
        }
        let further = reading.bad - reading.problems.len() as u64;
        if further > 0 {
            say(&format!(
                "{file}: and {}",
                count(further, "further bad row", "further bad rows")
            ));
        }
        if reading.bad == 0 {
            return Ok(reading);
        }
        let bad = count(reading.bad, "row is bad", "rows are bad");
        if !skip_bad {
            return Err(
                CliError::input(format!("{file}: {bad}; nothing was imported"))
                    .hint("mend the file, or take the good rows with --skip-bad"),
            );
        }
        say(&format!("{file}: {bad} and left out"));
        out.falls_short();
        Ok(reading)
    }
}

/// What `new` and a checklist came to, in words.
pub(super) fn tell_intake(intake: &Intake, out: &mut Output) -> Result<(), CliError> {
    let added = &intake.added;
    let parts = [
        (added.sets, "set", "sets"),
        (added.cards, "card", "cards"),
        (added.binders, "binder", "binders"),
        (added.pages, "page", "pages"),
    ];
    let parts = parts.iter().filter(|(number, ..)| *number > 0);
    let new: Vec<_> = parts
        .map(|(number, one, many)| count(*number as u64, one, many))
        .collect();
    match &new[..] {
        [] if intake.step.changes.is_empty() => out.line("Nothing is new.")?,
        [] => {}
        [only] => out.line(&format!("New: {only}."))?,
        [most @ .., last] => out.line(&format!("New: {} and {last}.", most.join(", ")))?,
    }
    let further = added.further_finishes as u64;
    if further > 0 {
        let cards = count(further, "known card comes", "known cards come");
        out.line(&format!("{cards} in a further finish now."))?;
    }
    if added.filled_in > 0 {
        let cards = count(added.filled_in as u64, "known card", "known cards");
        out.line(&format!("Filled in what was not known yet of {cards}."))?;
    }
    for difference in &intake.differs {
        out.line(&difference.to_string())?;
    }
    if intake.differs.iter().any(|d| d.verdict == Verdict::Left) {
        out.line("What differs was left as it is; --update takes the file's word for it.")?;
    }
    for note in &intake.notes {
        out.line(note)?;
    }
    Ok(())
}

pub(super) fn binder_options(args: &BinderArgs) -> Result<Option<BinderOptions>, CliError> {
    if args.no_binder {
        return Ok(None);
    }
    let (rows, columns) = parse_grid(&args.page).map_err(CliError::usage)?;
    let sides = match args.sides {
        Sides::One => 1,
        Sides::Both => 2,
    };
    let pocket = args.pocket.as_deref().map(parse_pocket).transpose();
    let (pocket_width, pocket_height) = pocket.map_err(CliError::usage)?.unwrap_or_default();
    let format = PageFormat {
        shared: args.shared,
        opening: match args.opening {
            OpeningWord::Side => Opening::Side,
            OpeningWord::Top => Opening::Top,
        },
        pocket_width,
        pocket_height,
        ..PageFormat::new(rows, columns, sides)
    };
    if !format.is_possible() {
        return Err(CliError::usage(
            "--shared needs pages that are loaded on both sides",
        ));
    }
    let kind = if args.fixed {
        BinderKind::Fixed
    } else {
        BinderKind::Rings {
            size: 0,
            shape: RingShape::D,
        }
    };
    Ok(Some(BinderOptions { format, kind }))
}

pub(super) fn count(number: u64, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

#[derive(Serialize)]
struct Refusal {
    line: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    column: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    byte: Option<u64>,
    why: String,
}

/// The rows that were left out, at most as many as were kept.
fn refused(reading: &Reading) -> Vec<Refusal> {
    let refusal = |problem: &Problem| {
        let (column, name, byte) = match problem.place {
            Whereabouts::Row => (None, None, None),
            Whereabouts::Byte(byte) => (None, None, Some(byte)),
            Whereabouts::Column(number, name) => (Some(number), Some(name), None),
        };
        Refusal {
            line: problem.line,
            column,
            name,
            byte,
            why: safe(&problem.why).into_owned(),
        }
    };
    reading.problems.iter().map(refusal).collect()
}

#[derive(Serialize)]
pub(super) struct AddedAnswer {
    sets: usize,
    cards: usize,
    further_finishes: usize,
    filled_in: usize,
    binders: usize,
    pages: usize,
}

impl AddedAnswer {
    pub(super) fn new(intake: &Intake) -> Self {
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
struct ChecklistAnswer<'a> {
    format: &'static str,
    version: u32,
    rows: u64,
    refused: Vec<Refusal>,
    refused_rows: u64,
    added: AddedAnswer,
    differs: Vec<Differs<'a>>,
    notes: &'a [String],
}

impl<'a> ChecklistAnswer<'a> {
    fn new(reading: &Reading, intake: &'a Intake) -> Self {
        Self {
            format: "ringbound-import-checklist",
            version: 1,
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
struct CopiesAnswer {
    format: &'static str,
    version: u32,
    rows: u64,
    refused: Vec<Refusal>,
    refused_rows: u64,
    acquired: u64,
    in_place: u64,
}
