//! `export`: CSV out, whole or not at all.

use std::io::{self, Write};
use std::path::Path;

use serde::Serialize;

use super::args::{ExportArgs, ExportWhat};
use super::error::CliError;
use super::lists::narrowed;
use super::open::Where;
use super::output::Output;
use crate::hand;
use crate::model::Collection;
use crate::report::{Asked, ListFilter, listed};
use crate::session::{Outside, OutsideError, Session, write_listed};
use crate::store::csv::{Form, write_checklist, write_copies};

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    file: String,
}

pub(super) fn run(args: &ExportArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let to_stdout = args.file.as_os_str() == "-";
    if to_stdout && out.is_json() {
        return Err(CliError::usage(
            "--json and an export to standard output do not go together",
        ));
    }
    let session = at.read(out)?;
    let collection = &*hand::by_pages(session.collection(), None);
    let filter = ListFilter {
        keep: args.keep,
        ..narrowed(collection, &args.narrow)?
    };
    ensure_apt(args)?;
    let form = if args.raw { Form::Raw } else { Form::Guarded };
    let write = |to: &mut dyn Write| write(args.what, to, collection, filter, form);
    if to_stdout {
        return out.raw(write);
    }
    let file = outside(&session, &args.file, args.overwrite)?;
    let failed = |e| CliError::output(args.file.display(), e);
    file.write(write).map_err(failed)?;
    let file = args.file.display().to_string();
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-export",
            version: 1,
            file,
        });
    }
    out.line(&format!("Written: {file}"))
}

/// What narrows a list only is of no use to a table of everything.
fn ensure_apt(args: &ExportArgs) -> Result<(), CliError> {
    let narrow = &args.narrow;
    let is_list = !matches!(args.what, ExportWhat::Copies | ExportWhat::Checklist);
    let narrowed = narrow.finish.is_some() || narrow.rarity.is_some() || narrow.binder.is_some();
    if !is_list && narrowed {
        return Err(CliError::usage(
            "copies and checklists are written whole, or of one set with --set",
        ));
    }
    if args.what != ExportWhat::Spares && args.keep > 0 {
        return Err(CliError::usage("--keep is for spares"));
    }
    Ok(())
}

fn write(
    what: ExportWhat,
    to: &mut dyn Write,
    collection: &Collection,
    filter: ListFilter<'_>,
    form: Form,
) -> io::Result<()> {
    let asked = match what {
        ExportWhat::Copies => return write_copies(to, collection, filter.set, form),
        ExportWhat::Checklist => return write_checklist(to, collection, filter.set, form),
        ExportWhat::Gaps => Asked::Gaps,
        ExportWhat::Spares => Asked::Spares,
        ExportWhat::Wants => Asked::Wants,
    };
    write_listed(to, collection, listed(collection, asked, filter), form)
}

/// The file, if it may be written.
pub(super) fn outside(
    session: &Session,
    path: &Path,
    overwrite: bool,
) -> Result<Outside, CliError> {
    session.outside(path, overwrite).map_err(|e| {
        let error = CliError::usage(&e);
        match e {
            OutsideError::Exists(_) => {
                error.hint("name another file, or write over it with --overwrite")
            }
            _ => error,
        }
    })
}
