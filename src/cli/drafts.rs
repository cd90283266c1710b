//! `drafts`: the drafts of a binder side by side, with what each would cost; and putting one in
//! force.

use serde::Serialize;

use super::args::DraftsArgs;
use super::cost::{COLUMNS, CostAnswer, cells};
use super::error::CliError;
use super::named;
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use crate::hand::{self, Ground};
use crate::model::Binder;
use crate::plan::Cost;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    binder: &'a str,
    in_force: CostAnswer,
    drafts: Vec<DraftAnswer<'a>>,
}

#[derive(Serialize)]
struct DraftAnswer<'a> {
    draft: &'a str,
    #[serde(flatten)]
    cost: CostAnswer,
}

pub(super) fn run(args: &DraftsArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    if let Some(name) = &args.adopt {
        return adopt(args, name, at, out);
    }
    let session = at.read(out)?;
    let collection = session.collection();
    let binder = named::binder(collection, &args.binder)?;
    let cost = |draft| hand::cost(collection, ground(binder, draft)).unwrap_or_default();
    if out.is_json() {
        let drafts = binder.drafts().iter().enumerate();
        return out.json(&Answer {
            format: "ringbound-drafts",
            version: 1,
            binder: binder.name(),
            in_force: cost(None).into(),
            drafts: drafts
                .map(|(at, draft)| DraftAnswer {
                    draft: &draft.name,
                    cost: cost(Some(at)).into(),
                })
                .collect(),
        });
    }
    let mut table = Table::new(&[&[("draft", Align::Left)], &COLUMNS[..]].concat());
    let mut row = |name: &str, cost: Cost| {
        table.row([name.to_owned()].into_iter().chain(cells(&cost)));
    };
    row("as it is now", cost(None));
    for (at, draft) in binder.drafts().iter().enumerate() {
        row(&draft.name, cost(Some(at)));
    }
    table.print(out)?;
    if binder.drafts().is_empty() {
        let name = binder.name();
        out.line(&format!(
            "No draft yet; ringbound layout draft {name} makes one."
        ))?;
    }
    Ok(())
}

fn ground(binder: &Binder, draft: Option<usize>) -> Ground {
    Ground {
        binder: binder.id(),
        draft,
    }
}

#[derive(Serialize)]
struct Adopted<'a> {
    format: &'static str,
    version: u32,
    binder: &'a str,
    draft: &'a str,
}

fn adopt(args: &DraftsArgs, name: &str, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.write()?;
    let collection = session.collection();
    let binder = named::binder(collection, &args.binder)?;
    let ground = ground(binder, Some(named::draft(binder, name)?));
    let step = hand::adopt(collection, ground).map_err(CliError::usage)?;
    let binder = binder.name().to_owned();
    open::commit(at, session, step, out)?;
    if out.is_json() {
        return out.json(&Adopted {
            format: "ringbound-adopted",
            version: 1,
            binder: &binder,
            draft: name,
        });
    }
    out.line(&format!(
        "{name} is in force. No card has moved: ringbound plan {binder} tells the work; \
         ringbound undo takes it back."
    ))
}
