//! `export`: CSV out, whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use serde::Serialize;

use super::args::{ExportArgs, ExportWhat};
use super::error::CliError;
use super::lists::{Entry, gap_entries, place_cells, spare_entries};
use super::open::{self, Where};
use super::output::Output;
use super::wants::want_entries;
use crate::model::{Collection, SetId};
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
    let file = Target::new(&args.file, args.force, &at.dir)?;
    file.write(write)?;
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

/// A file that is to be written.
struct Target<'a> {
    path: &'a Path,
    folder: PathBuf,
    force: bool,
}

impl<'a> Target<'a> {
    /// Refuses what must not be written over: a file without `force`, anything that is no plain
    /// file, and what lies in the collection's own folder.
    fn new(path: &'a Path, force: bool, data: &Path) -> Result<Self, CliError> {
        let shown = path.display();
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        };
        if path.file_name().is_none() {
            return Err(CliError::usage(format!("{shown} names no file")));
        }
        if !folder.is_dir() {
            let folder = folder.display();
            return Err(CliError::usage(format!("there is no folder {folder}")));
        }
        match fs::symlink_metadata(path) {
            Ok(there) if !there.is_file() => {
                return Err(CliError::usage(format!(
                    "{shown} is there and is no plain file"
                )));
            }
            Ok(_) if !force => {
                return Err(CliError::usage(format!("{shown} is there already"))
                    .hint("name another file, or write over it with --force"));
            }
            _ => {}
        }
        let inside = fs::canonicalize(data).is_ok_and(|data| {
            fs::canonicalize(&folder).is_ok_and(|folder| folder.starts_with(data))
        });
        if inside {
            return Err(CliError::usage(format!(
                "{shown} lies in the folder of the collection; write it somewhere else"
            )));
        }
        Ok(Self {
            path,
            folder,
            force,
        })
    }

    /// Into a temporary file beside it, which takes its name when all of it is on the disk.
    fn write(&self, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), CliError> {
        let failed = |e| CliError::output(self.path.display(), e);
        let mut builder = tempfile::Builder::new();
        builder.prefix(".ringbound-").suffix(".part");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // As any new file: the umask takes away what is not wanted.
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        let mut file = builder.tempfile_in(&self.folder).map_err(failed)?;
        let mut buffered = io::BufWriter::new(file.as_file_mut());
        write(&mut buffered).map_err(failed)?;
        buffered.flush().map_err(failed)?;
        drop(buffered);
        file.as_file().sync_all().map_err(failed)?;
        let put = if self.force {
            file.persist(self.path)
        } else {
            file.persist_noclobber(self.path)
        };
        put.map(drop).map_err(|e| failed(e.error))
    }
}
