//! Files that a person names on a screen.

use std::io::{self, Write};
use std::path::PathBuf;

use directories::BaseDirs;

use crate::session::Session;

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
    path: &std::path::Path,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> Result<(), String> {
    let shown = path.display();
    let file = session.outside(path, false);
    let file = file.map_err(|why| format!("Not written: {why}"))?;
    let written = file.write(write);
    written.map_err(|why| format!("Could not write {shown}: {why}"))
}
