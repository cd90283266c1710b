//! `undo`, `redo` and `history`: the steps that were done.

use serde::Serialize;

use super::args::HistoryArgs;
use super::error::CliError;
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use crate::session::{PastStep, Session, SessionError};

#[derive(Serialize)]
struct StepAnswer {
    label: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    at: Option<String>,
}

impl From<PastStep> for StepAnswer {
    fn from(told: PastStep) -> Self {
        Self {
            label: told.label,
            at: told.at,
        }
    }
}

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    step: Option<StepAnswer>,
}

pub(super) fn undo(at: &Where, out: &mut Output) -> Result<(), CliError> {
    let told = stepped(at, Session::undo, out)?;
    if out.is_json() {
        return answer("ringbound-undo", told, out);
    }
    tell(told, "Taken back", "There is nothing to take back.", out)
}

pub(super) fn redo(at: &Where, out: &mut Output) -> Result<(), CliError> {
    let told = stepped(at, Session::redo, out)?;
    if out.is_json() {
        return answer("ringbound-redo", told, out);
    }
    tell(told, "Done again", "There is nothing to do again.", out)
}

/// Where there is no collection there is nothing to step through, and none is made.
fn stepped(
    at: &Where,
    step: impl FnOnce(&mut Session) -> Result<Option<PastStep>, SessionError>,
    out: &mut Output,
) -> Result<Option<PastStep>, CliError> {
    if at.is_missing() {
        return Ok(None);
    }
    let mut session = at.write()?;
    let told = step(&mut session)?;
    if told.is_some() {
        out.kept();
    }
    open::close(session);
    Ok(told)
}

fn answer(format: &'static str, told: Option<PastStep>, out: &mut Output) -> Result<(), CliError> {
    if told.is_none() {
        out.falls_short();
    }
    out.json(&Answer {
        format,
        version: 1,
        step: told.map(Into::into),
    })
}

fn tell(
    told: Option<PastStep>,
    done: &str,
    nothing: &str,
    out: &mut Output,
) -> Result<(), CliError> {
    let Some(told) = told else {
        out.falls_short();
        return out.line(nothing);
    };
    let at = told.at.map_or_else(String::new, |at| format!(" (of {at})"));
    out.line(&format!("{done}: {}{at}", told.label))
}

#[derive(Serialize)]
struct History {
    format: &'static str,
    version: u32,
    /// The last step first.
    done: Vec<StepAnswer>,
    /// What can be done again, the next one first.
    undone: Vec<StepAnswer>,
    /// Whether the list reaches back to the first step of all.
    complete: bool,
}

pub(super) fn history(args: &HistoryArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let total = session.done().count();
    let complete = total <= args.last && !session.is_history_cut();
    let done = session.done().take(args.last);
    if out.is_json() {
        return out.json(&History {
            format: "ringbound-history",
            version: 1,
            done: done.map(Into::into).collect(),
            undone: session.undone().map(Into::into).collect(),
            complete,
        });
    }
    let mut table = Table::new(&[("when", Align::Left), ("step", Align::Left)]);
    let undone: Vec<_> = session.undone().collect();
    for told in undone.into_iter().rev() {
        let label = format!("{} (taken back)", told.label);
        table.row([told.at.unwrap_or_default(), label]);
    }
    for told in done {
        table.row([told.at.unwrap_or_default(), told.label]);
    }
    if table.is_empty() {
        return out.line("Nothing was done yet.");
    }
    table.print(out)?;
    if complete {
        return Ok(());
    }
    out.line(&match total.checked_sub(args.last) {
        Some(more) if more > 0 => format!("and {more} before; --last {total} lists them"),
        _ => "Older steps are no longer kept.".into(),
    })
}
