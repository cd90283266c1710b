//! Writing CSV of RFC 4180: CRLF, quotes where they are needed, always in the same order.

use std::io::{self, Write};

use super::guard::{Form, guard};
use super::{card_rows, copy_rows};
use crate::model::{Card, Collection, Place, PocketAt, PrintingId, Set, SetId};
use crate::text::tenths;

/// Rows on their way out.
pub struct CsvWriter<W: Write> {
    out: csv::Writer<W>,
    form: Form,
}

impl<W: Write> std::fmt::Debug for CsvWriter<W> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CsvWriter").finish_non_exhaustive()
    }
}

impl<W: Write> CsvWriter<W> {
    /// Begins with the row of column names.
    ///
    /// # Errors
    /// Writing fails.
    pub fn new(out: W, columns: &[&str], form: Form) -> io::Result<Self> {
        let mut builder = csv::WriterBuilder::new();
        builder.terminator(csv::Terminator::CRLF);
        let out = builder.from_writer(out);
        let mut writer = Self { out, form };
        writer.row(columns)?;
        Ok(writer)
    }

    /// One row, with as many fields as there are columns.
    ///
    /// # Errors
    /// Writing fails.
    pub fn row<T: AsRef<str>>(&mut self, fields: &[T]) -> io::Result<()> {
        let fields = fields.iter().map(AsRef::as_ref);
        let written = match self.form {
            Form::Raw => self.out.write_record(fields),
            Form::Guarded => self
                .out
                .write_record(fields.map(|field| guard(field).into_owned())),
        };
        // The error as it was, so that its kind is not lost.
        written.map_err(|e| match e.into_kind() {
            csv::ErrorKind::Io(e) => e,
            other => io::Error::other(format!("{other:?}")),
        })
    }

    /// Writes what is still held back.
    ///
    /// # Errors
    /// Writing fails.
    pub fn finish(mut self) -> io::Result<()> {
        self.out.flush()
    }
}

/// The sets in the order in which they came in, or the one that is asked for.
fn sets(collection: &Collection, only: Option<SetId>) -> impl Iterator<Item = (SetId, &Set)> {
    let asked = move |id: &SetId| only.is_none_or(|only| only == *id);
    collection.sets().filter(move |(id, _)| asked(id))
}

/// The cards in the order of their checklists, as `read_checklist` reads them.
///
/// # Errors
/// Writing fails.
pub fn write_checklist(
    out: impl Write,
    collection: &Collection,
    only: Option<SetId>,
    form: Form,
) -> io::Result<()> {
    let columns = card_rows::COLUMNS.map(|column| column.name);
    let mut out = CsvWriter::new(out, &columns, form)?;
    for (_, set) in sets(collection, only) {
        let head = set.head();
        for card in set.cards() {
            let (width, height) = card.size.map_or_else(Default::default, |size| {
                (tenths(size.width), tenths(size.height))
            });
            out.row(&[
                &*head.code,
                &card.number,
                &card.name,
                &head.title,
                &head.symbol,
                &head.shelf,
                set.rarity_name(card),
                &finishes(set, card),
                &width,
                &height,
            ])?;
        }
    }
    out.finish()
}

fn finishes(set: &Set, card: &Card) -> String {
    let there = (0u8..).zip(set.finishes());
    let there = there.filter(|(at, _)| card.has_finish(*at));
    let names: Vec<_> = there.map(|(_, finish)| finish.name.as_ref()).collect();
    names.join(";")
}

/// The copies of every printing of which there are any, wherever they lie, as `read_copies` reads
/// them.
///
/// # Errors
/// Writing fails.
pub fn write_copies(
    out: impl Write,
    collection: &Collection,
    only: Option<SetId>,
    form: Form,
) -> io::Result<()> {
    let columns = copy_rows::COLUMNS.map(|column| column.name);
    let mut out = CsvWriter::new(out, &columns, form)?;
    for (id, set) in sets(collection, only) {
        for printing in set.printings(id) {
            let copies = set.tally(printing).copies();
            if copies > 0 {
                out.row(&[
                    set.code(),
                    &set.cards()[printing.card() as usize].number,
                    &set.finishes()[usize::from(printing.finish())].name,
                    &copies.to_string(),
                ])?;
            }
        }
    }
    out.finish()
}

/// A row of a list: copies of a printing, and the pocket that they have to do with.
#[derive(Clone, Copy, Debug)]
pub struct PlacedRow {
    pub printing: PrintingId,
    pub count: u32,
    pub place: Option<(Place, PocketAt)>,
}

/// What `read_copies` reads, and further columns that tell the card and the pocket.
///
/// # Errors
/// Writing fails.
pub fn write_placed(
    out: impl Write,
    collection: &Collection,
    rows: impl IntoIterator<Item = PlacedRow>,
    form: Form,
) -> io::Result<()> {
    let columns = [
        "set", "number", "finish", "count", "name", "rarity", "binder", "page", "side", "row",
        "column",
    ];
    let mut out = CsvWriter::new(out, &columns, form)?;
    for row in rows {
        let set = collection.set(row.printing.set());
        let card = collection.card(row.printing);
        let (Some(set), Some(card)) = (set, card) else {
            continue;
        };
        let finish = set.finishes().get(usize::from(row.printing.finish()));
        let binder = row.place.and_then(|(place, at)| {
            let binder = collection.binder(place.binder)?;
            Some((binder.name(), place.page + 1, at))
        });
        let [name, page, side, line, column] = binder.map_or_else(Default::default, |place| {
            let (name, page, at) = place;
            [
                name.to_owned(),
                page.to_string(),
                at.side.to_string(),
                (u32::from(at.row) + 1).to_string(),
                (u32::from(at.column) + 1).to_string(),
            ]
        });
        out.row(&[
            set.code(),
            &card.number,
            finish.map_or("", |finish| &finish.name),
            &row.count.to_string(),
            &card.name,
            set.rarity_name(card),
            &name,
            &page,
            &side,
            &line,
            &column,
        ])?;
    }
    out.finish()
}
