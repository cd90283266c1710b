//! `gaps`, `spares`, `waiting` and what is like them: printings with the pocket they have to do with.

use serde::Serialize;

use super::args::{Narrow, SparesArgs, WantsArgs};
use super::error::CliError;
use super::named;
use super::open::Where;
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::hand;
use crate::model::{Binder, Collection, Place, PocketAt, PrintingId, Set, SetId};
use crate::report::{Asked, ListFilter, listed};
use crate::text::hint;

/// One entry of a list, in the words of the contract. Positions count from 1.
#[derive(Debug, Serialize)]
pub(super) struct Entry<'a> {
    pub(super) set: &'a str,
    pub(super) number: &'a str,
    pub(super) finish: &'a str,
    pub(super) name: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) count: Option<u32>,
    #[serde(flatten)]
    pub(super) pocket: Option<Pocket<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Pocket<'a> {
    pub(super) binder: &'a str,
    pub(super) page: usize,
    pub(super) side: String,
    pub(super) row: u32,
    pub(super) column: u32,
}

pub(super) fn entry(
    collection: &Collection,
    printing: PrintingId,
    place: Option<Place>,
    at: Option<PocketAt>,
    count: Option<u32>,
) -> Option<Entry<'_>> {
    let set = collection.set(printing.set())?;
    let card = set.card(printing.card())?;
    let finish = set.finishes().get(usize::from(printing.finish()))?;
    let pocket = place.zip(at).and_then(|(place, at)| {
        Some(Pocket {
            binder: collection.binder(place.binder)?.name(),
            page: place.page + 1,
            side: at.side.to_string(),
            row: u32::from(at.row) + 1,
            column: u32::from(at.column) + 1,
        })
    });
    Some(Entry {
        set: set.code(),
        number: &card.number,
        finish: &finish.name,
        name: &card.name,
        count,
        pocket,
    })
}

/// The entries of a list, as it was asked for.
fn entries<'c>(collection: &'c Collection, asked: Asked, filter: ListFilter<'_>) -> Vec<Entry<'c>> {
    let rows = listed(collection, asked, filter).into_iter();
    rows.filter_map(|row| {
        let count = (asked == Asked::Spares).then_some(row.count);
        entry(collection, row.printing, row.place, row.at, count)
    })
    .collect()
}

/// The filter that the arguments ask for.
pub(super) fn narrowed<'a>(
    collection: &Collection,
    args: &'a Narrow,
) -> Result<ListFilter<'a>, CliError> {
    let set = named::only(collection, args.only.set.as_deref())?;
    ensure_known(collection, set, args)?;
    let binder = args.binder.as_deref();
    let binder = binder.map(|name| named::binder(collection, name).map(Binder::id));
    Ok(ListFilter {
        set,
        finish: args.finish.as_deref(),
        rarity: args.rarity.as_deref(),
        binder: binder.transpose()?,
        ..ListFilter::default()
    })
}

/// A mistyped finish or rarity looks like a complete collection otherwise.
fn ensure_known(
    collection: &Collection,
    only: Option<SetId>,
    args: &Narrow,
) -> Result<(), CliError> {
    let sets = || {
        let sets = collection.sets();
        sets.filter(move |(id, _)| only.is_none_or(|only| only == *id))
            .map(|(_, set)| set)
    };
    let same = |a: &str, b: &str| a.to_lowercase() == b.to_lowercase();
    if let Some(name) = &args.finish
        && !sets().any(|set| set.finish_by_name(name).is_some())
    {
        let names = |set: &'_ Set| set.finishes().iter().map(|f| f.name.to_string()).collect();
        return Err(unknown("finish", name, sets().map(names)));
    }
    if let Some(name) = &args.rarity
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

/// What is the same for the lists, and what is not.
struct List<'l> {
    asked: Asked,
    format: &'static str,
    /// The name of the list in JSON.
    key: &'static str,
    none: &'static str,
    one: &'static str,
    many: &'static str,
    /// What is to be said beside the number.
    beside: &'l dyn Fn(&Collection, ListFilter<'_>) -> String,
}

fn nothing(_: &Collection, _: ListFilter<'_>) -> String {
    String::new()
}

/// A gap that a loose copy goes to need not be looked for elsewhere.
fn waited_for(collection: &Collection, filter: ListFilter<'_>) -> String {
    match listed(collection, Asked::Waiting, filter).len() {
        0 => String::new(),
        1 if listed(collection, Asked::Gaps, filter).len() == 1 => {
            "; a loose copy waits for it".into()
        }
        1 => "; a loose copy waits for 1 of them".into(),
        many => format!("; loose copies wait for {many} of them"),
    }
}

/// Runs that are not collected are left out, and that is said.
fn further_runs(collection: &Collection, filter: ListFilter<'_>) -> String {
    let count = |all_runs| {
        let filter = ListFilter { all_runs, ..filter };
        listed(collection, Asked::Wants, filter).len()
    };
    match count(true) - count(filter.all_runs) {
        0 => String::new(),
        more => format!("; {more} more of runs that you do not collect (--all)"),
    }
}

pub(super) fn gaps(args: &Narrow, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let list = List {
        asked: Asked::Gaps,
        format: "ringbound-gaps",
        key: "gaps",
        none: "There are no gaps.",
        one: "gap",
        many: "gaps",
        beside: &waited_for,
    };
    list.tell(args, (0, false), at, out)
}

pub(super) fn wants(args: &WantsArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let list = List {
        asked: Asked::Wants,
        format: "ringbound-wants",
        key: "wants",
        none: "Nothing is wanted.",
        one: "card wanted",
        many: "cards wanted",
        beside: &further_runs,
    };
    list.tell(&args.narrow, (0, args.all), at, out)
}

pub(super) fn spares(args: &SparesArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let list = List {
        asked: Asked::Spares,
        format: "ringbound-spares",
        key: "spares",
        none: "There are no spare copies.",
        one: "spare copy",
        many: "spare copies",
        beside: &nothing,
    };
    list.tell(&args.narrow, (args.keep, false), at, out)
}

pub(super) fn waiting(args: &Narrow, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let list = List {
        asked: Asked::Waiting,
        format: "ringbound-waiting",
        key: "waiting",
        none: "No copies are waiting.",
        one: "copy waiting",
        many: "copies waiting",
        beside: &nothing,
    };
    list.tell(args, (0, false), at, out)
}

impl List<'_> {
    fn tell(
        &self,
        args: &Narrow,
        (keep, all_runs): (u32, bool),
        at: &Where,
        out: &mut Output,
    ) -> Result<(), CliError> {
        let session = at.read(out)?;
        let collection = &*hand::by_pages(session.collection(), None);
        let filter = ListFilter {
            keep,
            all_runs,
            ..narrowed(collection, args)?
        };
        let entries = entries(collection, self.asked, filter);
        if out.is_json() {
            return out.json(&Answer {
                list: self,
                entries: &entries,
            });
        }
        if entries.is_empty() {
            return out.line(self.none);
        }
        table(&entries).print(out)?;
        let copies = entries
            .iter()
            .map(|entry| u64::from(entry.count.unwrap_or(1)));
        let number = count(copies.sum(), self.one, self.many);
        out.line(&format!("{number}{}.", (self.beside)(collection, filter)))
    }
}

fn table(entries: &[Entry<'_>]) -> Table {
    let mut table = Table::new(&[
        ("set", Align::Left),
        ("number", Align::Right),
        ("finish", Align::Left),
        ("name", Align::Left),
        ("count", Align::Right),
        ("binder", Align::Left),
        ("page", Align::Right),
        ("side", Align::Left),
        ("row", Align::Right),
        ("pocket", Align::Right),
    ]);
    for entry in entries {
        let mut cells = vec![
            entry.set.to_owned(),
            entry.number.into(),
            entry.finish.into(),
            entry.name.into(),
            entry.count.map_or_else(String::new, |n| n.to_string()),
        ];
        cells.extend(place_cells(entry.pocket.as_ref()));
        table.row(cells);
    }
    table
}

/// Binder, page, side, row and column; empty where no pocket is meant.
fn place_cells(pocket: Option<&Pocket<'_>>) -> [String; 5] {
    pocket.map_or_else(Default::default, |pocket| {
        [
            pocket.binder.into(),
            pocket.page.to_string(),
            pocket.side.clone(),
            pocket.row.to_string(),
            pocket.column.to_string(),
        ]
    })
}

struct Answer<'a> {
    list: &'a List<'a>,
    entries: &'a [Entry<'a>],
}

impl Serialize for Answer<'_> {
    fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap;
        let mut map = to.serialize_map(Some(3))?;
        map.serialize_entry("format", self.list.format)?;
        map.serialize_entry("version", &1)?;
        map.serialize_entry(self.list.key, self.entries)?;
        map.end()
    }
}
