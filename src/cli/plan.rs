//! `plan`: the work from what lies in the binders to what should, as a sheet on paper or as steps
//! for a program.

mod answer;
mod files;
mod lines;
mod names;
mod paper;
mod phrase;

use super::args::{PlanArgs, WorkingWord};
use super::error::CliError;
use super::open::Where;
use super::output::Output;
use crate::intake::hint;
use crate::model::{Binder, Collection};
use crate::plan::{Target, Working, in_force, sheet};
use names::Names;

pub(super) fn run(
    args: &PlanArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let working = match args.working {
        WorkingWord::TwoPasses => Working::TwoPasses,
        WorkingWord::HandToHand => Working::HandToHand,
    };
    if let (Some(before), Some(after)) = (&args.first, &args.after) {
        return files::run(before.as_ref(), after, working, json, out);
    }
    let session = at.read(out)?;
    let collection = session.collection();
    let targets = match &args.first {
        None => in_force(collection),
        Some(name) => vec![target(collection, name)?],
    };
    let found = sheet(collection, &targets, working);
    let names = Names::of_collection(collection, &targets, &found, json);
    if json {
        return out.json(&answer::Answer::new(&names, &found.work));
    }
    let other = sheet(collection, &targets, other(working)).work;
    let title = match &targets[..] {
        [only] => collection
            .binder(only.binder)
            .map_or_else(String::new, |binder| format!("binder {}", binder.name())),
        _ => "the whole shelf".into(),
    };
    paper::tell(&title, &names, &found.work, &other, out)
}

fn other(working: Working) -> Working {
    match working {
        Working::TwoPasses => Working::HandToHand,
        Working::HandToHand => Working::TwoPasses,
    }
}

fn target<'c>(collection: &'c Collection, name: &str) -> Result<Target<'c>, CliError> {
    let found = collection.binder_by_name(name);
    let found = found.and_then(|id| collection.binder(id));
    let binder = found.ok_or_else(|| {
        let names: Vec<_> = collection.shelf().map(Binder::name).collect();
        let near = hint(name, names.into_iter());
        CliError::usage(format!("there is no binder “{name}”{near}"))
            .hint("two arrangement files are planned with: ringbound plan BEFORE.json AFTER.json")
    })?;
    Ok(Target {
        binder: binder.id(),
        layout: binder.layout(),
    })
}
