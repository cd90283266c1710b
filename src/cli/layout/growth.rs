//! Both ways for a layout whose set has grown.

use serde::Serialize;

use super::rules::{BEGIN_WITH, ground, rules_or_none};
use crate::cli::args::{GrowthArgs, WayWord};
use crate::cli::cost::{COLUMNS, CostAnswer, cells};
use crate::cli::error::CliError;
use crate::cli::open::{self, Where};
use crate::cli::output::Output;
use crate::cli::table::{Align, Table};
use crate::hand::{self, Ground, Grown};
use crate::model::{Binder, Collection};
use crate::text::count;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    binder: &'a str,
    new_cards: usize,
    ways: Vec<WayAnswer<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    draft: Option<&'a str>,
}

#[derive(Serialize)]
struct WayAnswer<'a> {
    way: &'static str,
    pages: usize,
    #[serde(flatten)]
    cost: CostAnswer,
    /// Times a card is picked up, in two passes.
    handlings: usize,
    told: &'a [String],
}

const WAYS: [&str; 2] = ["keep-places", "in-order"];

pub(super) fn run(args: &GrowthArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let Some(make) = args.make else {
        let session = at.read(out)?;
        let (here, grown) = compare(session.collection(), args)?;
        return tell(session.collection(), here, &grown, None, out);
    };
    let mut session = at.write()?;
    let (here, grown) = compare(session.collection(), args)?;
    let way = &grown.ways[usize::from(make == WayWord::InOrder)];
    let made = hand::draft_of_way(session.collection(), here.binder, way);
    let made = made.map_err(CliError::usage)?;
    session.commit(made.step)?;
    out.kept();
    tell(session.collection(), here, &grown, Some(made.ground), out)?;
    open::close(session);
    Ok(())
}

fn compare(collection: &Collection, args: &GrowthArgs) -> Result<(Ground, Grown), CliError> {
    let ground = ground(collection, &args.binder, args.draft.as_deref())?;
    let rules = rules_or_none(collection, ground, &args.rules)?;
    let grown = hand::compare_growth(collection, ground, &rules);
    let grown = grown.map_err(|why| match rules.is_empty() {
        true => CliError::usage(why).hint(BEGIN_WITH),
        false => CliError::input(why),
    })?;
    Ok((ground, grown))
}

fn tell(
    collection: &Collection,
    ground: Ground,
    grown: &Grown,
    made: Option<Ground>,
    out: &mut Output,
) -> Result<(), CliError> {
    let binder = collection.binder(ground.binder);
    let made = made.and_then(|made| binder?.drafts().get(made.draft?));
    let draft = made.map(|draft| &*draft.name);
    if out.is_json() {
        let ways = WAYS.iter().zip(&grown.ways).map(|(word, way)| WayAnswer {
            way: word,
            pages: way.pages,
            cost: way.cost.into(),
            handlings: way.handlings,
            told: &way.told,
        });
        return out.json(&Answer {
            format: "ringbound-growth",
            version: 1,
            binder: binder.map_or("", Binder::name),
            new_cards: grown.new,
            ways: ways.collect(),
            draft,
        });
    }
    out.line(&match grown.new {
        0 => "Every card of the sections has a pocket already.".into(),
        new => format!(
            "{} no pocket yet.",
            count(new as u64, "card has", "cards have")
        ),
    })?;
    let further = [("pages in all", Align::Right), ("picked up", Align::Right)];
    let mut table = Table::new(&[&[("way", Align::Left)], &COLUMNS[..], &further].concat());
    for way in &grown.ways {
        let name = [way.name.to_owned()].into_iter();
        let further = [way.pages, way.handlings].map(|number| number.to_string());
        table.row(name.chain(cells(&way.cost)).chain(further));
    }
    table.print(out)?;
    for way in &grown.ways {
        for words in &way.told {
            out.line(&format!("{}: {words}.", way.name))?;
        }
    }
    match draft {
        Some(draft) => out.line(&format!("Draft {draft} is made.")),
        None => out.line("--make keep-places or --make in-order makes a draft of one."),
    }
}
