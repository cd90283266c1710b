//! Files that a person names on a screen.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use directories::BaseDirs;

use super::job::Reins;
use crate::session::{Outside, OutsideError, Session};

/// The name as it was typed; `~/` is the person's own folder.
pub(super) fn path(typed: &str) -> PathBuf {
    let typed = typed.trim();
    let home = typed.strip_prefix("~/").zip(BaseDirs::new());
    home.map_or_else(
        || PathBuf::from(typed),
        |(rest, dirs)| dirs.home_dir().join(rest),
    )
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
    written(path, file, write)
}

/// The same beside the loop; `folder` is the collection's own, into which nothing is written. What
/// was asked to stop leaves no file.
///
/// # Errors
/// Why not, in words for a person.
pub(super) fn write_beside(
    reins: &Reins,
    (path, folder): (&Path, Option<&Path>),
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), String> {
    let stopped = || "Stopped: nothing is written".to_owned();
    let whole = |to: &mut dyn Write| {
        write(to)?;
        match reins.goes_on() {
            true => Ok(()),
            false => Err(io::Error::other("it was stopped")),
        }
    };
    let file = Outside::new(path, false, folder);
    let done = reins.with_file(|| written(path, file, whole));
    match done {
        Some(Err(_)) if !reins.goes_on() => Err(stopped()),
        done => done.unwrap_or_else(|| Err(stopped())),
    }
}

fn written(
    path: &Path,
    file: Result<Outside, OutsideError>,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), String> {
    let file = file.map_err(|why| format!("Not written: {why}"))?;
    let written = file.write(write);
    written.map_err(|why| format!("Could not write {}: {why}", path.display()))
}
