//! `swap`: what could go either way between two collectors, and what goes for what.

use std::path::Path;

use serde::Serialize;

use super::args::SwapArgs;
use super::error::{CliError, say};
use super::import::Source;
use super::lists::{Entry, entry};
use super::open::{self, Where};
use super::output::Output;
use crate::hand;
use crate::model::{Collection, PrintingId};
use crate::paper::swap_sheet;
use crate::report::{self, Get, Stock, Swap};
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

pub(super) fn run(args: &SwapArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = if args.carry_out {
        at.write()?
    } else {
        at.read(out)?
    };
    let collection = &*hand::by_pages(session.collection(), None);
    let swap = work_out(collection, args, out)?;
    if !args.carry_out {
        return answer(collection, &swap, false, out);
    }
    // Told is what was there before, but only once it is done.
    let before = collection.clone();
    let step = hand::swapped(&swap);
    let told = format!("Carried out: {}. ringbound undo takes it back.", step.label);
    open::commit(at, session, step, out)?;
    answer(&before, &swap, true, out)?;
    if out.is_json() || swap.pairs.is_empty() {
        return Ok(());
    }
    out.apart()?;
    out.line(&told)
}

/// What could be swapped with the collector whose lists are named.
pub(super) fn work_out(
    collection: &Collection,
    args: &SwapArgs,
    out: &mut Output,
) -> Result<Swap, CliError> {
    let both = [&args.their_wants, &args.their_spares];
    if both.iter().all(|file| file.as_os_str() == "-") {
        return Err(CliError::usage(
            "only one of the files can be standard input",
        ));
    }
    let wants = stock(collection, &args.their_wants, args.skip_bad, out)?;
    let spares = stock(collection, &args.their_spares, args.skip_bad, out)?;
    Ok(report::swap(
        collection,
        &wants,
        &spares,
        args.keep,
        args.by_rarity,
    ))
}

/// Reads a list of the other collector. What is of sets and cards that are not here is counted and
/// told.
fn stock(
    collection: &Collection,
    file: &Path,
    skip_bad: bool,
    out: &mut Output,
) -> Result<Stock, CliError> {
    let source = Source::open(file, out)?;
    let mut list = TheirList::default();
    let reading = their_list(collection, source.input).map(|(reading, read)| {
        list = read;
        reading
    });
    source
        .name
        .judge(reading, skip_bad, "nothing was swapped", out)?;
    if let Some(words) = list.passed_over() {
        say(&format!("{}: {words}", file.display()));
    }
    Ok(list.stock)
}

fn answer(
    collection: &Collection,
    swap: &Swap,
    carried_out: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    if !out.is_json() {
        let sheet = swap_sheet(collection, swap).without_boxes();
        return sheet.body().iter().try_for_each(|line| out.line(line));
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
