//! Files outside of the collection's own folder: written whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Why a file must not be written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OutsideError {
    #[error("{0} names no file")]
    NoName(String),
    #[error("there is no folder {0}")]
    NoFolder(String),
    #[error("{0} is there and is no plain file")]
    NoPlainFile(String),
    #[error("{0} is there already")]
    Exists(String),
    #[error("{0} lies in the folder of the collection; write it somewhere else")]
    Inside(String),
}

/// A path as a person writes it, where `~/` is their own folder. `None` where there is none.
#[must_use]
pub fn at_home(path: &Path, home: impl FnOnce() -> Option<PathBuf>) -> Option<PathBuf> {
    match path.strip_prefix("~") {
        Ok(rest) => home().map(|home| home.join(rest)),
        Err(_) => Some(path.to_owned()),
    }
}

/// A file that is to be written.
#[derive(Debug)]
pub struct Outside {
    path: PathBuf,
    folder: PathBuf,
    overwrite: bool,
}

impl Outside {
    /// Refuses what must not be written over: a file without `overwrite`, anything that is no
    /// plain file, and what lies in the collection's own folder, if it has one.
    ///
    /// # Errors
    /// As told; nothing has been touched.
    pub fn new(path: &Path, overwrite: bool, data: Option<&Path>) -> Result<Self, OutsideError> {
        let shown = || path.display().to_string();
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        };
        if path.file_name().is_none() {
            return Err(OutsideError::NoName(shown()));
        }
        if !folder.is_dir() {
            return Err(OutsideError::NoFolder(folder.display().to_string()));
        }
        match fs::symlink_metadata(path) {
            Ok(there) if !there.is_file() => return Err(OutsideError::NoPlainFile(shown())),
            Ok(_) if !overwrite => return Err(OutsideError::Exists(shown())),
            _ => {}
        }
        let data = data.and_then(|data| fs::canonicalize(data).ok());
        let inside = data.is_some_and(|data| {
            fs::canonicalize(&folder).is_ok_and(|folder| folder.starts_with(data))
        });
        if inside {
            return Err(OutsideError::Inside(shown()));
        }
        Ok(Self {
            path: path.to_owned(),
            folder,
            overwrite,
        })
    }

    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Into a temporary file beside it, which takes its name when all of it is on the disk.
    ///
    /// # Errors
    /// It could not be written; what was there before is there still.
    pub fn write(&self, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> io::Result<()> {
        let mut builder = tempfile::Builder::new();
        builder.prefix(".ringbound-").suffix(".part");
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // As any new file: the umask takes away what is not wanted.
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        let mut file = builder.tempfile_in(&self.folder)?;
        // Who may read what is written over may read this, and nobody else.
        #[cfg(unix)]
        if self.overwrite
            && let Ok(there) = fs::symlink_metadata(&self.path)
        {
            file.as_file().set_permissions(there.permissions())?;
        }
        let mut buffered = io::BufWriter::new(file.as_file_mut());
        write(&mut buffered)?;
        buffered.flush()?;
        drop(buffered);
        file.as_file().sync_all()?;
        let put = if self.overwrite {
            file.persist(&self.path)
        } else {
            file.persist_noclobber(&self.path)
        };
        put.map(drop).map_err(|e| e.error)
    }
}
