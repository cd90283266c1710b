//! `swap`: what could go either way between two collectors, and what goes for what.

use std::path::Path;

use serde::Serialize;

use super::args::SwapArgs;
use super::error::{CliError, say};
use super::import::Source;
use super::lists::{Entry, entry};
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::model::{Collection, PrintingId};
use crate::report::{self, Get, Stock, Swap, pocket_words, printing_words};
use crate::session::{TheirList, their_list};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    could_get: Vec<GetAnswer<'a>>,
    could_give: Vec<Entry<'a>>,
    pairs: Vec<Pair<'a>>,
    carried_out: bool,
}

#[derive(Serialize)]
struct GetAnswer<'a> {
    #[serde(flatten)]
    card: Entry<'a>,
    /// Cards in place on its page, and pockets meant for one.
    #[serde(skip_serializing_if = "Option::is_none")]
    page_filled: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    page_meant: Option<u32>,
}

#[derive(Serialize)]
struct Pair<'a> {
    get: Entry<'a>,
    give: Entry<'a>,
}

pub(super) fn run(
    args: &SwapArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let both = [&args.their_wants, &args.their_spares];
    if both.iter().all(|file| file.as_os_str() == "-") {
        return Err(CliError::usage(
            "only one of the files can be standard input",
        ));
    }
    let session = if args.carry_out {
        at.write()?
    } else {
        at.read(out)?
    };
    let collection = session.collection();
    let wants = stock(collection, &args.their_wants, args.skip_bad, json, out)?;
    let spares = stock(collection, &args.their_spares, args.skip_bad, json, out)?;
    let swap = report::swap(collection, &wants, &spares, args.keep, args.by_rarity);
    if !args.carry_out {
        return answer(collection, &swap, false, json, out);
    }
    // Told is what was there before, but only once it is done.
    let before = collection.clone();
    let step = swap.step();
    let told = format!("Carried out: {}. ringbound undo takes it back.", step.label);
    open::commit(session, step)?;
    answer(&before, &swap, true, json, out)?;
    if json || swap.pairs.is_empty() {
        return Ok(());
    }
    out.apart()?;
    out.line(&told)
}

/// Reads a list of the other collector. What is of sets that are not here is counted and told.
fn stock(
    collection: &Collection,
    file: &Path,
    skip_bad: bool,
    json: bool,
    out: &mut Output,
) -> Result<Stock, CliError> {
    let source = Source::open(file, json, out)?;
    let mut list = TheirList::default();
    let reading = their_list(collection, source.input).map(|(reading, read)| {
        list = read;
        reading
    });
    source
        .name
        .judge(reading, skip_bad, "nothing was swapped", json, out)?;
    if list.foreign > 0 {
        let rows = count(list.foreign, "row is", "rows are");
        say(&format!(
            "{}: {rows} of sets that are not here",
            file.display()
        ));
    }
    Ok(list.stock)
}

fn answer(
    collection: &Collection,
    swap: &Swap,
    carried_out: bool,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    if !json {
        return tell(collection, swap, out);
    }
    let card = |of: PrintingId| entry(collection, of, None, None, None);
    let get = |get: &Get| {
        let gap = get.gap;
        let page = gap.place.map(|_| get.page);
        Some(GetAnswer {
            card: entry(collection, gap.printing, gap.place, gap.at, None)?,
            page_filled: page.map(|(filled, _)| filled),
            page_meant: page.map(|(_, meant)| meant),
        })
    };
    let give = |(of, count): &(PrintingId, u32)| entry(collection, *of, None, None, Some(*count));
    let pair = |(at, give): &(usize, PrintingId)| {
        Some(Pair {
            get: card(swap.could_get[*at].gap.printing)?,
            give: card(*give)?,
        })
    };
    out.json(&Answer {
        format: "ringbound-swap",
        version: 1,
        could_get: swap.could_get.iter().filter_map(get).collect(),
        could_give: swap.could_give.iter().filter_map(give).collect(),
        pairs: swap.pairs.iter().filter_map(pair).collect(),
        carried_out,
    })
}

/// The sheet to talk over.
fn tell(collection: &Collection, swap: &Swap, out: &mut Output) -> Result<(), CliError> {
    let code = |of: PrintingId| collection.set(of.set()).map_or("", |set| set.code());
    let words = |of: PrintingId| format!("{} {}", code(of), printing_words(collection, of));
    let rarity = |of: PrintingId| {
        let set = collection.set(of.set());
        let card = collection.card(of);
        let name = set.zip(card).map(|(set, card)| set.rarity_name(card));
        name.unwrap_or_default().to_owned()
    };
    let (gets, gives) = (&swap.could_get, &swap.could_give);
    if gets.is_empty() {
        out.line("They have nothing to spare that you want.")?;
    } else {
        out.line("You could get, the fullest pages first:")?;
        let mut table = Table::new(&[
            ("card", Align::Left),
            ("rarity", Align::Left),
            ("binder", Align::Left),
            ("goes to", Align::Left),
            ("page filled", Align::Right),
        ]);
        for get in gets {
            let gap = get.gap;
            let place = gap.place.zip(gap.at);
            let binder = place.and_then(|(place, _)| collection.binder(place.binder));
            table.row([
                words(gap.printing),
                rarity(gap.printing),
                binder.map_or_else(String::new, |binder| binder.name().to_owned()),
                place.map_or_else(String::new, |(place, at)| pocket_words(place.page, at)),
                place.map_or_else(String::new, |_| format!("{} of {}", get.page.0, get.page.1)),
            ]);
        }
        table.print(out)?;
    }
    out.apart()?;
    if gives.is_empty() {
        out.line("You have nothing to spare that they want.")?;
    } else {
        out.line("You could give:")?;
        let mut table = Table::new(&[
            ("card", Align::Left),
            ("rarity", Align::Left),
            ("count", Align::Right),
        ]);
        for (printing, count) in gives {
            table.row([words(*printing), rarity(*printing), count.to_string()]);
        }
        table.print(out)?;
    }
    if swap.pairs.is_empty() {
        out.apart()?;
        return out.line("Nothing goes one for one.");
    }
    out.apart()?;
    let cards = count(swap.pairs.len() as u64, "card", "cards");
    out.line(&format!("One for one, {cards} each way:"))?;
    let mut table = Table::new(&[("you get", Align::Left), ("for", Align::Left)]);
    for (at, give) in &swap.pairs {
        table.row([words(gets[*at].gap.printing), words(*give)]);
    }
    table.print(out)
}
