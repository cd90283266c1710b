//! What the program did, written to a file that a person has named: for the report of a fault.
//!
//! There is one for the process, as there is one standard error. It adds to its file, never
//! writes over another, and is never a reason for anything to fail.

use std::fs::{File, OpenOptions};
use std::io::{BufRead, BufReader, Read, Write};
use std::path::{Path, PathBuf};
use std::process;
use std::sync::Mutex;

use super::open::clock;
use crate::session::{Access, Event, Notice, Session};
use crate::text::safe;

/// The first line of each such file, by which it is known again.
const HEAD: &str = "# what ringbound did";

static LOG: Mutex<Option<File>> = Mutex::new(None);

/// From now on everything is written to this file, which may not lie in the folder of the
/// collection.
///
/// # Errors
/// Why not, for a person. The program goes on without.
pub(super) fn begin(path: &Path, folder: Option<&Path>) -> Result<(), String> {
    let told = |why: &str| format!("no log is written: {} {why}", path.display());
    let file = open(path, folder).map_err(|why| told(&why))?;
    if let Ok(mut log) = LOG.lock() {
        *log = Some(file);
    }
    Ok(())
}

fn open(path: &Path, folder: Option<&Path>) -> Result<File, String> {
    let path = &whole(path).ok_or("is no whole path")?;
    let home = path.parent().and_then(|parent| parent.canonicalize().ok());
    let home = home.ok_or("is in a folder that is not there")?;
    let folder = folder.and_then(|folder| folder.canonicalize().ok());
    if folder.is_some_and(|folder| home.starts_with(folder)) {
        return Err("is in the folder of the collection".into());
    }
    let is_new = match path.metadata() {
        Ok(there) if !there.is_file() => return Err("is no file".into()),
        Ok(there) => there.len() == 0,
        Err(_) => true,
    };
    if !is_new {
        let mut first = String::new();
        let file = File::open(path).map_err(|e| format!("cannot be read: {e}"))?;
        let read = BufReader::new(file.take(HEAD.len() as u64 + 1)).read_line(&mut first);
        if read.is_err() || first.trim_end() != HEAD {
            return Err("is another file, which is left alone".into());
        }
    }
    let mut options = OpenOptions::new();
    options.append(true).create(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    let mut file = (options.open(path)).map_err(|e| format!("cannot be written: {e}"))?;
    if is_new {
        writeln!(file, "{HEAD}").map_err(|e| format!("cannot be written: {e}"))?;
    }
    Ok(file)
}

/// `~/` is the person's own folder.
fn whole(path: &Path) -> Option<PathBuf> {
    match path.strip_prefix("~") {
        Ok(rest) => directories::BaseDirs::new().map(|dirs| dirs.home_dir().join(rest)),
        Err(_) => std::path::absolute(path).ok(),
    }
}

/// Adds a line, with the time (RFC 3339) and the process; nothing without a log.
pub fn note(words: &str) {
    let Ok(mut log) = LOG.lock() else { return };
    if let Some(file) = log.as_mut() {
        let line = format!("{} {} {}\n", clock()(), process::id(), safe(words));
        // In one write, so that two programs do not mix their lines.
        if file.write_all(line.as_bytes()).is_err() {
            *log = None;
        }
    }
}

/// A collection was opened; what becomes of its steps is noted from now on.
pub(super) fn opened(folder: &Path, session: &mut Session, notices: &[Notice]) {
    let access = match session.access() {
        Access::Writable => "for writing".into(),
        Access::ReadOnly(why) => format!("for reading: {why}"),
    };
    note(&format!("opened {} {access}", folder.display()));
    for notice in notices {
        note(&format!("told: {notice}"));
    }
    session.tell(|event| match event {
        Event::Kept(label) => note(&format!("kept: {label}")),
        Event::TakenBack(label) => note(&format!("taken back: {label}")),
        Event::DoneAgain(label) => note(&format!("done again: {label}")),
        Event::Refused(label, why) => note(&format!("not kept: {label}: {why}")),
        Event::Failed(said) => note(&format!("a fault of this program: {said}")),
    });
}
