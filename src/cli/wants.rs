//! `wants`: what is to be looked for elsewhere.

use super::args::WantsArgs;
use super::error::CliError;
use super::lists::{Entry, List, gap_entry};
use super::open::Where;
use super::output::Output;
use crate::intake::hint;
use crate::model::{Collection, Set, SetId};
use crate::report::{self, WantFilter};

pub(super) fn run(
    args: &WantsArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let beside = |collection: &Collection, only: Option<SetId>| {
        let listed = filter(args, only);
        let all = WantFilter {
            all_runs: true,
            ..listed
        };
        let listed = report::wants(collection, listed).len();
        let all = report::wants(collection, all).len();
        match all - listed {
            0 => String::new(),
            more => format!("; {more} more of runs for which no pocket is meant (--all)"),
        }
    };
    let list = List {
        format: "ringbound-wants",
        key: "wants",
        none: "Nothing is wanted.",
        one: "card wanted",
        many: "cards wanted",
        beside: &beside,
    };
    list.tell(&args.only, at, json, out, |collection, only| {
        ensure_known(collection, only, &filter(args, only))?;
        let wants = report::wants(collection, filter(args, only));
        let entries = wants.iter().filter_map(|gap| gap_entry(collection, gap));
        Ok(entries.collect())
    })
}

/// What the arguments ask for.
pub(super) fn filter(args: &WantsArgs, only: Option<SetId>) -> WantFilter<'_> {
    WantFilter {
        set: only,
        finish: args.finish.as_deref(),
        rarity: args.rarity.as_deref(),
        all_runs: args.all,
    }
}

pub(super) fn want_entries(collection: &Collection, only: Option<SetId>) -> Vec<Entry<'_>> {
    let filter = WantFilter {
        set: only,
        ..WantFilter::default()
    };
    let wants = report::wants(collection, filter);
    let entries = wants.iter().filter_map(|gap| gap_entry(collection, gap));
    entries.collect()
}

/// A mistyped finish or rarity looks like a complete collection otherwise.
pub(super) fn ensure_known(
    collection: &Collection,
    only: Option<SetId>,
    filter: &WantFilter<'_>,
) -> Result<(), CliError> {
    let sets = || {
        let sets = collection.sets();
        sets.filter(move |(id, _)| only.is_none_or(|only| only == *id))
            .map(|(_, set)| set)
    };
    let same = |a: &str, b: &str| a.to_lowercase() == b.to_lowercase();
    if let Some(name) = filter.finish
        && !sets().any(|set| set.finish_by_name(name).is_some())
    {
        let names = |set: &'_ Set| set.finishes().iter().map(|f| f.name.to_string()).collect();
        return Err(unknown("finish", name, sets().map(names)));
    }
    if let Some(name) = filter.rarity
        && !sets().any(|set| set.rarities().iter().any(|rarity| same(rarity, name)))
    {
        let names = |set: &'_ Set| set.rarities().iter().map(ToString::to_string).collect();
        return Err(unknown("rarity", name, sets().map(names)));
    }
    Ok(())
}

fn unknown(what: &str, name: &str, known: impl Iterator<Item = Vec<String>>) -> CliError {
    let mut known: Vec<String> = known.flatten().collect();
    known.sort_unstable();
    known.dedup();
    let near = hint(name, known.iter().map(String::as_str));
    CliError::usage(format!("there is no {what} “{name}”{near}"))
}
