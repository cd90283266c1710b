//! `export`: CSV out, whole or not at all.

use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;

use super::args::{ExportArgs, ExportWhat};
use super::error::CliError;
use super::lists::{Entry, gap_entries, place_cells, spare_entries};
use super::open::{self, Where};
use super::output::Output;
use super::wants::want_entries;
use crate::model::{Collection, SetId};
use crate::session::{Outside, OutsideError, Session};
use crate::store::csv::{CsvWriter, write_checklist, write_copies};

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    file: String,
}

pub(super) fn run(
    args: &ExportArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let to_stdout = args.file.as_os_str() == "-";
    if to_stdout && json {
        return Err(CliError::usage(
            "--json and an export to standard output do not go together",
        ));
    }
    let session = at.read(out)?;
    let collection = session.collection();
    let only = open::only(collection, args.only.set.as_deref())?;
    let write = |to: &mut dyn Write| write(args.what, to, collection, only);
    if to_stdout {
        return out.raw(write);
    }
    let file = outside(&session, &args.file, args.force, "--force")?;
    let failed = |e| CliError::output(args.file.display(), e);
    file.write(write).map_err(failed)?;
    let file = args.file.display().to_string();
    if json {
        return out.json(&Answer {
            format: "ringbound-export",
            version: 1,
            file,
        });
    }
    out.line(&format!("Written: {file}"))
}

fn write(
    what: ExportWhat,
    to: &mut dyn Write,
    collection: &Collection,
    only: Option<SetId>,
) -> io::Result<()> {
    match what {
        ExportWhat::Copies => write_copies(to, collection, only),
        ExportWhat::Checklist => write_checklist(to, collection, only),
        ExportWhat::Gaps => write_entries(to, &gap_entries(collection, only)),
        ExportWhat::Spares => write_entries(to, &spare_entries(collection, only, 0)),
        ExportWhat::Wants => write_entries(to, &want_entries(collection, only)),
    }
}

/// What `import copies` reads, and further columns that tell the card and the pocket.
fn write_entries(to: &mut dyn Write, entries: &[Entry<'_>]) -> io::Result<()> {
    let columns = [
        "set", "number", "finish", "count", "name", "rarity", "binder", "page", "side", "row",
        "column",
    ];
    let mut out = CsvWriter::new(to, &columns)?;
    for entry in entries {
        let count = entry.count.unwrap_or(1).to_string();
        let [binder, page, side, row, column] = place_cells(entry.pocket.as_ref());
        out.row(&[
            entry.set,
            entry.number,
            entry.finish,
            &count,
            entry.name,
            entry.rarity,
            &binder,
            &page,
            &side,
            &row,
            &column,
        ])?;
    }
    out.finish()
}

/// The file, if it may be written. `option` is the one that lets a file be written over.
pub(super) fn outside(
    session: &Session,
    path: &Path,
    overwrite: bool,
    option: &str,
) -> Result<Outside, CliError> {
    session.outside(path, overwrite).map_err(|e| {
        let error = CliError::usage(&e);
        match e {
            OutsideError::Exists(_) => {
                error.hint(format!("name another file, or write over it with {option}"))
            }
            _ => error,
        }
    })
}
