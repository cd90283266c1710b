//! `gaps`, `spares`, `waiting` and what is like them: printings with the pocket they have to do with.

use serde::Serialize;

use super::args::{Only, SparesArgs};
use super::error::CliError;
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::model::{Collection, Place, PocketAt, PrintingId, SetId};
use crate::report::{self, Gap};

/// One entry of a list, in the words of the contract. Positions count from 1.
#[derive(Debug, Serialize)]
pub(super) struct Entry<'a> {
    pub(super) set: &'a str,
    pub(super) number: &'a str,
    pub(super) finish: &'a str,
    pub(super) name: &'a str,
    #[serde(skip)]
    pub(super) rarity: &'a str,
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
        rarity: set.rarity_name(card),
        count,
        pocket,
    })
}

pub(super) fn gap_entries(collection: &Collection, only: Option<SetId>) -> Vec<Entry<'_>> {
    let found = report::gaps(collection, only).into_iter();
    found
        .filter_map(|gap| gap_entry(collection, &gap))
        .collect()
}

pub(super) fn gap_entry<'c>(collection: &'c Collection, gap: &Gap) -> Option<Entry<'c>> {
    entry(collection, gap.printing, gap.place, gap.at, None)
}

/// Those beyond so many of each that are to be kept.
pub(super) fn spare_entries(
    collection: &Collection,
    only: Option<SetId>,
    keep: u32,
) -> Vec<Entry<'_>> {
    let found = report::spares(collection, only).into_iter();
    found
        .filter(|spare| spare.count > keep)
        .filter_map(|spare| {
            let meant = collection.tally(spare.printing).meant > 0;
            let place = spare.place.filter(|_| meant);
            entry(
                collection,
                spare.printing,
                place,
                spare.at,
                Some(spare.count - keep),
            )
        })
        .collect()
}

fn waiting_entries(collection: &Collection, only: Option<SetId>) -> Vec<Entry<'_>> {
    let found = report::waiting(collection, only).into_iter();
    found
        .filter_map(|copy| entry(collection, copy.printing, copy.place, copy.at, None))
        .collect()
}

/// What is the same for the lists, and what is not.
pub(super) struct List<'l> {
    pub(super) format: &'static str,
    /// The name of the list in JSON.
    pub(super) key: &'static str,
    pub(super) none: &'static str,
    pub(super) one: &'static str,
    pub(super) many: &'static str,
    /// What is to be said beside the number.
    pub(super) beside: &'l dyn Fn(&Collection, Option<SetId>) -> String,
}

fn nothing(_: &Collection, _: Option<SetId>) -> String {
    String::new()
}

/// A gap that a loose copy goes to need not be looked for elsewhere.
fn waited_for(collection: &Collection, only: Option<SetId>) -> String {
    match report::waiting(collection, only).len() {
        0 => String::new(),
        1 => "; a loose copy waits for 1 of them".into(),
        many => format!("; loose copies wait for {many} of them"),
    }
}

pub(super) fn gaps(only: &Only, at: &Where, json: bool, out: &mut Output) -> Result<(), CliError> {
    let list = List {
        format: "ringbound-gaps",
        key: "gaps",
        none: "There are no gaps.",
        one: "gap",
        many: "gaps",
        beside: &waited_for,
    };
    list.tell(only, at, json, out, |collection, only| {
        Ok(gap_entries(collection, only))
    })
}

pub(super) fn spares(
    args: &SparesArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let list = List {
        format: "ringbound-spares",
        key: "spares",
        none: "There are no spare copies.",
        one: "spare copy",
        many: "spare copies",
        beside: &nothing,
    };
    list.tell(&args.only, at, json, out, |collection, only| {
        Ok(spare_entries(collection, only, args.keep))
    })
}

pub(super) fn waiting(
    only: &Only,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let list = List {
        format: "ringbound-waiting",
        key: "waiting",
        none: "No copies are waiting.",
        one: "copy waiting",
        many: "copies waiting",
        beside: &nothing,
    };
    list.tell(only, at, json, out, |collection, only| {
        Ok(waiting_entries(collection, only))
    })
}

impl List<'_> {
    pub(super) fn tell(
        &self,
        only: &Only,
        at: &Where,
        json: bool,
        out: &mut Output,
        entries: impl for<'c> FnOnce(&'c Collection, Option<SetId>) -> Result<Vec<Entry<'c>>, CliError>,
    ) -> Result<(), CliError> {
        let session = at.read(out)?;
        let collection = session.collection();
        let only = open::only(collection, only.set.as_deref())?;
        let entries = entries(collection, only)?;
        if json {
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
        out.line(&format!("{number}{}.", (self.beside)(collection, only)))
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
pub(super) fn place_cells(pocket: Option<&Pocket<'_>>) -> [String; 5] {
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
