//! `find`: cards by number or name over all binders, and where each lies; binders by their titles.

use serde::Serialize;

use super::args::FindArgs;
use super::error::CliError;
use super::open::Where;
use super::output::Output;
use crate::hand;
use crate::model::{Binder, Collection};
use crate::report::{self, Finder, Found};
use crate::text;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    binders: Vec<BinderAnswer<'a>>,
    found: Vec<FoundAnswer<'a>>,
}

#[derive(Serialize)]
struct BinderAnswer<'a> {
    binder: &'a str,
    title: &'a str,
    pages: usize,
}

#[derive(Serialize)]
struct FoundAnswer<'a> {
    set: &'a str,
    number: &'a str,
    finish: &'a str,
    name: &'a str,
    copies: u32,
    loose: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    binder: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    page: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    side: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    row: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    column: Option<u32>,
}

pub(super) fn run(args: &FindArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = &*hand::by_pages(session.collection(), None);
    let query = args.words.join(" ");
    let finder = Finder::new(collection);
    let (found, of) = finder.printings_of(collection, &query, args.most);
    let binders = report::binders_named(collection, &query, args.most);
    let binders = binders.iter().filter_map(|id| collection.binder(*id));
    let binders: Vec<_> = binders.collect();
    if found.is_empty() && binders.is_empty() {
        out.falls_short();
    }
    if out.is_json() {
        let found = found.iter().filter_map(|found| answer(collection, *found));
        return out.json(&Answer {
            format: "ringbound-find",
            version: 1,
            binders: binders.into_iter().map(of_binder).collect(),
            found: found.collect(),
        });
    }
    if found.is_empty() && binders.is_empty() {
        return out.line("Nothing is found. Look for a number, a part of a name or a set's code.");
    }
    for binder in binders {
        let words = report::binder_words(collection, binder.id());
        let name = binder.name();
        let pages = report::pages_words(binder);
        out.line(&format!("{words}: the binder {name}, {pages}"))?;
    }
    for Found { printing, place } in found {
        let code = collection.set(printing.set()).map_or("", |set| set.code());
        let words = report::printing_words(collection, printing);
        let tally = collection.tally(printing);
        let many = text::count(tally.copies().into(), "copy", "copies");
        let copies = match (tally.copies(), tally.loose) {
            (0, _) => "no copy".to_owned(),
            (_, 0) => many,
            (1, _) => format!("{many}, loose"),
            (_, loose) => format!("{many}, {loose} loose"),
        };
        let lies = place.map_or_else(
            || "no pocket is meant for it".to_owned(),
            |place| {
                let binder = collection.binder(place.binder);
                let name = binder.map_or("", |binder| binder.name());
                format!("{name}, {}", report::place_words(collection, place))
            },
        );
        out.line(&format!("{code} {words}: {copies}; {lies}"))?;
    }
    if let Some(of) = of {
        let first = match args.most {
            1 => "The first card".to_owned(),
            most => format!("The first {most} cards"),
        };
        out.apart()?;
        out.line(&format!("{first} of {of}; --most shows more."))?;
    }
    Ok(())
}

fn of_binder(binder: &Binder) -> BinderAnswer<'_> {
    BinderAnswer {
        binder: binder.name(),
        title: &binder.spec().title,
        pages: binder.pages().len(),
    }
}

fn answer(collection: &Collection, found: Found) -> Option<FoundAnswer<'_>> {
    let Found { printing, place } = found;
    let set = collection.set(printing.set())?;
    let card = set.card(printing.card())?;
    let finish = set.finishes().get(usize::from(printing.finish()))?;
    let tally = collection.tally(printing);
    let at = place.and_then(|place| report::pocket_at(collection, place));
    Some(FoundAnswer {
        set: set.code(),
        number: &card.number,
        finish: &finish.name,
        name: &card.name,
        copies: tally.copies(),
        loose: tally.loose,
        binder: place.and_then(|place| Some(collection.binder(place.binder)?.name())),
        page: place.map(|place| place.page + 1),
        side: at.map(|at| at.side.to_string()),
        row: at.map(|at| u32::from(at.row) + 1),
        column: at.map(|at| u32::from(at.column) + 1),
    })
}
