//! `plan`: the work from what lies in the binders to what should, as a sheet on paper or as steps
//! for a program.

mod answer;
mod files;

use super::args::PlanArgs;
use super::error::CliError;
use super::named;
use super::open::Where;
use super::output::Output;
use crate::model::Collection;
use crate::paper::{Listing, Names, ReadBy, collection_sheet};
use crate::plan::{Target, Way, in_force, sheet};

pub(super) fn run(args: &PlanArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let way = way(args);
    if let (Some(before), Some(after)) = (&args.first, &args.after) {
        return files::run(before.as_ref(), after, way, out);
    }
    let session = at.read(out)?;
    let collection = session.collection();
    let targets = targets(args, collection)?;
    if out.is_json() {
        let found = sheet(collection, &targets, way);
        let names = Names::of_collection(collection, &targets, &found, ReadBy::Program);
        return out.json(&answer::Answer::new(&names, &found.work));
    }
    let draft = args.draft.as_deref();
    tell(&collection_sheet(collection, &targets, draft, way), out)
}

pub(super) fn way(args: &PlanArgs) -> Way {
    Way::new(args.working, args.pages_stay)
}

/// The binder that is named, or the whole shelf.
pub(super) fn targets<'c>(
    args: &PlanArgs,
    collection: &'c Collection,
) -> Result<Vec<Target<'c>>, CliError> {
    match &args.first {
        None => Ok(in_force(collection)),
        Some(name) => Ok(vec![target(collection, name, args.draft.as_deref())?]),
    }
}

fn tell(sheet: &Listing, out: &mut Output) -> Result<(), CliError> {
    sheet.lines().iter().try_for_each(|line| out.line(line))
}

fn target<'c>(
    collection: &'c Collection,
    name: &str,
    draft: Option<&str>,
) -> Result<Target<'c>, CliError> {
    let binder = named::binder(collection, name).map_err(|e| {
        e.hint("two arrangement files are planned with: ringbound plan BEFORE.json AFTER.json")
    })?;
    let layout = match draft {
        None => binder.layout(),
        Some(wanted) => &binder.drafts()[named::draft(binder, wanted)?].layout,
    };
    Ok(Target {
        binder: binder.id(),
        layout,
    })
}
