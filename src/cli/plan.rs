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
use crate::plan::{Figures, Target, Way, Work, Working, in_force, sheet};
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
    let way = Way::new(working, args.pages_stay);
    if let (Some(before), Some(after)) = (&args.first, &args.after) {
        return files::run(before.as_ref(), after, way, json, out);
    }
    let session = at.read(out)?;
    let collection = session.collection();
    let targets = match &args.first {
        None => in_force(collection),
        Some(name) => vec![target(collection, name, args.draft.as_deref())?],
    };
    let found = sheet(collection, &targets, way);
    let names = Names::of_collection(collection, &targets, &found, json);
    if json {
        return out.json(&answer::Answer::new(&names, &found.work));
    }
    let work_by = |way| sheet(collection, &targets, way).work;
    let title = match (&targets[..], &args.draft) {
        ([only], draft) => {
            let binder = collection.binder(only.binder).map_or("", Binder::name);
            let draft = draft.as_ref();
            let draft = draft.map_or_else(String::new, |name| format!(", draft {name}"));
            format!("binder {binder}{draft}")
        }
        _ => "the whole shelf".into(),
    };
    let ways = Ways::new(&found.work, way, work_by);
    paper::tell(&title, &names, &found.work, &ways, out)
}

/// What the other ways of going about it come to.
struct Ways {
    way: Way,
    /// The other way of working.
    other: Figures,
    /// This way of working, with the pages moved if they stay here, left where they are if not.
    /// Only where it makes a difference.
    pages: Option<Figures>,
}

impl Ways {
    fn new(work: &Work, way: Way, by: impl Fn(Way) -> Work) -> Self {
        let other = match way.working {
            Working::TwoPasses => Working::HandToHand,
            Working::HandToHand => Working::TwoPasses,
        };
        let pages_matter = way.pages_stay || work.figures.page_moves > 0;
        let pages = || by(Way::new(way.working, !way.pages_stay)).figures;
        Self {
            way,
            other: by(Way::new(other, way.pages_stay)).figures,
            pages: pages_matter
                .then(pages)
                .filter(|figures| *figures != work.figures),
        }
    }
}

fn target<'c>(
    collection: &'c Collection,
    name: &str,
    draft: Option<&str>,
) -> Result<Target<'c>, CliError> {
    let found = collection.binder_by_name(name);
    let found = found.and_then(|id| collection.binder(id));
    let binder = found.ok_or_else(|| {
        let names: Vec<_> = collection.shelf().map(Binder::name).collect();
        let near = hint(name, names.into_iter());
        CliError::usage(format!("there is no binder “{name}”{near}"))
            .hint("two arrangement files are planned with: ringbound plan BEFORE.json AFTER.json")
    })?;
    let layout = match draft {
        None => binder.layout(),
        Some(wanted) => {
            let names = binder.drafts().iter().map(|draft| &*draft.name);
            let known = binder.drafts().iter().find(|draft| *draft.name == *wanted);
            let draft = known.ok_or_else(|| {
                let near = hint(wanted, names);
                let binder = binder.name();
                CliError::usage(format!("binder {binder} has no draft “{wanted}”{near}"))
            })?;
            &draft.layout
        }
    };
    Ok(Target {
        binder: binder.id(),
        layout,
    })
}
