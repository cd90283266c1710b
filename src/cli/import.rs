//! `import`: a CSV file comes in, all of it or nothing.

mod answer;
mod name;
mod progress;
mod source;

use answer::{ChecklistAnswer, CopiesAnswer};
use progress::Stop;
pub(super) use source::Source;

use super::args::{ChecklistArgs, CopiesArgs, Import};
use super::error::CliError;
use super::open::{self, Where};
use super::output::Output;
use super::pages::binder_options;
use super::words::tell_intake;
use crate::intake::{Checklist, ChecklistOptions, Copies};
use crate::store::csv::{USUALLY_KEPT, read_checklist_telling, read_copies_telling};

pub(super) use answer::AddedAnswer;

/// The words for that a bad file changed nothing.
const UNDONE: &str = "nothing was imported";

pub(super) fn run(what: &Import, at: &Where, out: &mut Output) -> Result<(), CliError> {
    match what {
        Import::Checklist(args) => checklist(args, at, out),
        Import::Copies(args) => copies(args, at, out),
    }
}

/// So many bad rows are told. Who takes the good ones must learn of each of the others; where
/// nothing is taken, many in words help nobody.
fn most_told(skip_bad: bool, json: bool) -> usize {
    if skip_bad || json {
        usize::MAX
    } else {
        USUALLY_KEPT
    }
}

fn checklist(args: &ChecklistArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let options = ChecklistOptions {
        update: args.update,
        binder: binder_options(&args.binder)?,
    };
    let (source, stop) = Source::open(&args.file, out)?.watched();
    let session = at.write()?;
    let mut checklist = Checklist::new(session.collection(), options);
    let most = most_told(args.skip_bad, out.is_json());
    let reading = read_checklist_telling(source.input, most, |row| checklist.row(row));
    stop.ensure_not_asked(UNDONE)?;
    let reading = source.name.judge(reading, args.skip_bad, UNDONE, out)?;
    let intake = checklist.finish();
    stop.ensure_not_asked(UNDONE)?;
    // What is begun is kept whole.
    let _stop = Stop::listen();
    open::commit(at, session, intake.step.clone(), out)?;
    if out.is_json() {
        return out.json(&ChecklistAnswer::new(&source.name, &reading, &intake));
    }
    tell_intake(&intake, out)
}

fn copies(args: &CopiesArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let (source, stop) = Source::open(&args.file, out)?.watched();
    let session = at.write()?;
    let mut copies = Copies::new(session.collection());
    let most = most_told(args.skip_bad, out.is_json());
    let reading = read_copies_telling(source.input, most, |row| copies.row(&row));
    stop.ensure_not_asked(UNDONE)?;
    let reading = source.name.judge(reading, args.skip_bad, UNDONE, out)?;
    let intake = copies.finish_step(args.in_place);
    stop.ensure_not_asked(UNDONE)?;
    // What is begun is kept whole.
    let _stop = Stop::listen();
    let words = intake.words(args.in_place);
    let (acquired, seated) = (intake.acquired, intake.seated);
    open::commit(at, session, intake.step, out)?;
    if out.is_json() {
        return out.json(&CopiesAnswer::new(&source.name, &reading, acquired, seated));
    }
    out.line(&words)
}
