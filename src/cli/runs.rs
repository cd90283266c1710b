//! `runs`: which runs are collected, and leaving one out.

use serde::Serialize;

use super::args::RunsArgs;
use super::error::CliError;
use super::named;
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use crate::hand;
use crate::model::{Collection, SetId, Step};
use crate::report::completion;
use crate::text::hint;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    runs: Vec<Run<'a>>,
}

/// The cards of a set in one finish.
#[derive(Serialize)]
struct Run<'a> {
    set: &'a str,
    finish: &'a str,
    left_out: bool,
    held: u32,
    total: u32,
}

pub(super) fn run(args: &RunsArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let (word, leave_out) = match (&args.leave_out, &args.collect) {
        (Some(word), _) => (word, true),
        (None, Some(word)) => (word, false),
        (None, None) => {
            let session = at.read(out)?;
            let only = named::only(session.collection(), args.only.set.as_deref())?;
            return tell(&hand::by_pages(session.collection(), None), only, out);
        }
    };
    let session = at.write()?;
    let collection = session.collection();
    let only = named::only(collection, args.only.set.as_deref())?;
    let set = only.ok_or_else(|| CliError::usage("say of which set: --set CODE"))?;
    let step = step(collection, set, word, leave_out)?;
    // Told is what is so afterwards.
    let mut after = collection.clone();
    crate::model::Change::apply_all(&step.changes, &mut after).map_err(CliError::usage)?;
    let told = format!("{}. ringbound undo takes it back.", step.label);
    open::commit(at, session, step, out)?;
    if out.is_json() {
        return tell(&after, only, out);
    }
    out.line(&told)
}

fn step(collection: &Collection, id: SetId, word: &str, leave_out: bool) -> Result<Step, CliError> {
    let set = collection.set(id);
    let Some((set, finish)) = set.and_then(|set| Some((set, set.finish_by_name(word)?))) else {
        let names = set.map_or(&[][..], |set| set.finishes());
        let near = hint(word, names.iter().map(|finish| &*finish.name));
        return Err(CliError::usage(format!(
            "there is no finish “{word}” in {}{near}",
            set.map_or("", |set| set.code())
        )));
    };
    let step = if leave_out {
        hand::leave_out(collection, id, finish)
    } else {
        hand::collect(collection, id, finish)
    };
    step.map(Step::from).map_err(|why| {
        let name = &set.finishes()[usize::from(finish)].name;
        CliError::usage(format!("{} {name}: {why}", set.code()))
    })
}

fn tell(collection: &Collection, only: Option<SetId>, out: &mut Output) -> Result<(), CliError> {
    let told = completion(collection, only);
    let runs = told.iter().flat_map(|of| {
        of.by_finish.iter().filter_map(move |(finish, counts)| {
            let set = collection.set(of.set)?;
            let at = set.finish_by_name(finish)?;
            Some(Run {
                set: set.code(),
                finish,
                left_out: set.is_left_out(at),
                held: counts.held,
                total: counts.total,
            })
        })
    });
    let runs: Vec<Run<'_>> = runs.collect();
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-runs",
            version: 1,
            runs,
        });
    }
    if runs.is_empty() {
        return out.line("There are no sets yet.");
    }
    let mut table = Table::new(&[
        ("set", Align::Left),
        ("finish", Align::Left),
        ("held", Align::Right),
        ("total", Align::Right),
        ("", Align::Left),
    ]);
    for run in runs {
        let out = if run.left_out { "not collected" } else { "" };
        table.row([
            run.set.to_owned(),
            run.finish.to_owned(),
            run.held.to_string(),
            run.total.to_string(),
            out.to_owned(),
        ]);
    }
    table.print(out)
}
