//! Files that a person names on a screen.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use directories::BaseDirs;

use super::job::Progress;
use crate::session::{Outside, OutsideError, Session, at_home};

/// The name as it was typed; `~/` is the person's own folder.
pub(super) fn path(typed: &str) -> PathBuf {
    let typed = Path::new(typed.trim());
    let home = || BaseDirs::new().map(|dirs| dirs.home_dir().to_owned());
    at_home(typed, home).unwrap_or_else(|| typed.to_owned())
}

/// Writes a new file, whole or not at all; never over one that is there.
///
/// # Errors
/// Why not, in words for a person.
pub(super) fn write(
    session: &Session,
    path: &Path,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), String> {
    let file = session.outside(path, false);
    let file = file.map_err(|why| not_written(&why))?;
    file.write(write).map_err(|why| could_not(path, &why))
}

/// The same beside the loop; `folder` is the collection's own, into which nothing is written. What
/// was asked to stop leaves no file.
///
/// # Errors
/// Why not, in words for a person.
pub(super) fn write_beside(
    progress: &Progress,
    (path, folder): (&Path, Option<&Path>),
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), String> {
    let file = Outside::new(path, false, folder).map_err(|why| not_written(&why))?;
    let written = put_beside(progress, file, write);
    written.unwrap_or_else(|| Err("Stopped: nothing is written".into()))
}

/// A file beside the loop, whole or not at all. `None` when it was asked to stop, which is looked
/// for at the end, so that `write` looks while it takes long.
///
/// # Errors
/// Why it is not written, in words for a person.
pub(super) fn put_beside(
    progress: &Progress,
    file: Outside,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Option<Result<(), String>> {
    let path = file.path().to_owned();
    let whole = |to: &mut dyn Write| {
        write(to)?;
        match progress.goes_on() {
            true => Ok(()),
            false => Err(io::Error::other("it was stopped")),
        }
    };
    let written = progress.with_file(|| file.write(whole))?;
    match written {
        Err(_) if !progress.goes_on() => None,
        written => Some(written.map_err(|why| could_not(&path, &why))),
    }
}

/// That a file is not one to write to.
pub(super) fn not_written(why: &OutsideError) -> String {
    format!("Not written: {why}")
}

fn could_not(path: &Path, why: &io::Error) -> String {
    format!("Could not write {}: {why}", path.display())
}
