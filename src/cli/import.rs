//! `import`: a CSV file comes in, all of it or nothing.

mod answer;
mod source;
mod watched;

use answer::{ChecklistAnswer, CopiesAnswer};
pub(super) use source::Source;
use watched::Stop;

use super::args::{ChecklistArgs, CopiesArgs, Import};
use super::error::CliError;
use super::open::{self, Where};
use super::output::Output;
use super::pages::binder_options;
use super::words::{count, tell_intake};
use crate::intake::{Checklist, ChecklistOptions, Copies, CopiesIntake};
use crate::store::csv::{read_checklist, read_copies};

pub(super) use answer::AddedAnswer;

/// The words for that a bad file changed nothing.
const UNDONE: &str = "nothing was imported";

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
    let (source, stop) = Source::open(&args.file, json, out)?.watched();
    let session = at.write()?;
    let mut checklist = Checklist::new(session.collection(), options);
    let reading = read_checklist(source.input, |row| checklist.row(row));
    stop.ensure_not_asked(UNDONE)?;
    let reading = source
        .name
        .judge(reading, args.skip_bad, UNDONE, json, out)?;
    let intake = checklist.finish();
    stop.ensure_not_asked(UNDONE)?;
    // What is begun is kept whole.
    let _stop = Stop::listen();
    open::commit(session, intake.step.clone())?;
    if json {
        return out.json(&ChecklistAnswer::new(&source.name, &reading, &intake));
    }
    tell_intake(&intake, out)
}

fn copies(args: &CopiesArgs, at: &Where, json: bool, out: &mut Output) -> Result<(), CliError> {
    let (source, stop) = Source::open(&args.file, json, out)?.watched();
    let session = at.write()?;
    let mut copies = Copies::new(session.collection());
    let reading = read_copies(source.input, |row| copies.row(&row));
    stop.ensure_not_asked(UNDONE)?;
    let reading = source
        .name
        .judge(reading, args.skip_bad, UNDONE, json, out)?;
    let intake = copies.finish_step(args.in_place);
    stop.ensure_not_asked(UNDONE)?;
    // What is begun is kept whole.
    let _stop = Stop::listen();
    let CopiesIntake {
        acquired, seated, ..
    } = intake;
    open::commit(session, intake.step)?;
    if json {
        return out.json(&CopiesAnswer::new(&source.name, &reading, acquired, seated));
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
