//! Files that survive: what is written here is on the disk before its function returns. The name of
//! a file that is new or put in place of another is so when its folder has been synced too; where that
//! is left to the caller, the function says so.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::store::StoreError;
use crate::store::files::Files;

/// Larger files are not read: no collection comes near it, and a broken file should not fill the
/// memory.
pub(super) const MOST: u64 = 2 << 30;

/// What new files are named until they are whole.
const TEMPORARY: (&str, &str) = (".ringbound-", ".tmp");

/// The bytes of a file; `None` when it is not there.
pub(super) fn read(files: &dyn Files, path: &Path) -> Result<Option<Vec<u8>>, StoreError> {
    files.read(path, MOST).map_err(|error| match error.kind() {
        ErrorKind::FileTooLarge => StoreError::TooLarge {
            path: path.to_owned(),
            most: MOST,
        },
        _ => StoreError::io("read", path)(error),
    })
}

/// A file that is whole and on the disk, but not in its place yet.
#[must_use = "the file is not in its place yet"]
pub(super) struct Ready<'f> {
    files: &'f dyn Files,
    temporary: PathBuf,
    path: &'f Path,
}

/// Writes what `path` is to hold beside it.
pub(super) fn prepare<'f>(
    files: &'f dyn Files,
    path: &'f Path,
    bytes: &[u8],
) -> Result<Ready<'f>, StoreError> {
    let beside = |error| StoreError::io("write beside", path)(error);
    let mut number = 0u32;
    let (temporary, mut file) = loop {
        number += 1;
        let name = format!("{}{number}{}", TEMPORARY.0, TEMPORARY.1);
        let temporary = folder_of(path).join(name);
        match files.create_new(&temporary) {
            Ok(file) => break (temporary, file),
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            Err(error) => return Err(beside(error)),
        }
    };
    if let Err(error) = file.write(bytes).and_then(|()| file.sync()) {
        // What cannot be taken away now is when the folder is opened next.
        files.remove(&temporary).ok();
        return Err(beside(error));
    }
    Ok(Ready {
        files,
        temporary,
        path,
    })
}

impl Ready<'_> {
    /// Puts the file in its place, in one step. It lasts when [`sync_folder_of`] has returned too.
    pub(super) fn put(self) -> Result<(), StoreError> {
        let renamed = self.files.rename(&self.temporary, self.path);
        renamed.map_err(|error| {
            self.files.remove(&self.temporary).ok();
            let doing = match error.kind() {
                ErrorKind::ResourceBusy => "replace, since it is a mount point of its own,",
                _ => "replace",
            };
            StoreError::io(doing, self.path)(error)
        })
    }

    /// Lets it go again.
    pub(super) fn discard(self) {
        self.files.remove(&self.temporary).ok();
    }
}

/// Replaces a file whole: at every moment either the old or the new one stands there.
pub(super) fn replace(files: &dyn Files, path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    prepare(files, path, bytes)?.put()?;
    sync_folder_of(files, path)
}

/// Writes a file that must not be there yet; `None` when it is. Its name lasts when
/// [`sync_folder_of`] has returned too.
pub(super) fn create_new(
    files: &dyn Files,
    path: &Path,
    bytes: &[u8],
) -> Result<Option<()>, StoreError> {
    let mut file = match files.create_new(path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Ok(None),
        Err(error) => return Err(StoreError::io("create", path)(error)),
    };
    let written = file.write(bytes).and_then(|()| file.sync());
    written.map_err(StoreError::io("write", path))?;
    Ok(Some(()))
}

/// Makes the names in a folder last. A file's own sync does not do that.
pub(super) fn sync_folder(files: &dyn Files, path: &Path) -> Result<(), StoreError> {
    let synced = files.sync_folder(path);
    synced.map_err(StoreError::io("sync the folder", path))
}

/// The same for the folder in which this is.
pub(super) fn sync_folder_of(files: &dyn Files, path: &Path) -> Result<(), StoreError> {
    sync_folder(files, folder_of(path))
}

/// Makes a folder for its owner only, and those above it, as far as they are missing.
pub(super) fn create_folder(files: &dyn Files, path: &Path) -> Result<(), StoreError> {
    if files.is_folder(path) {
        return Ok(());
    }
    if let Some(parent) = path.parent().filter(|p| !p.as_os_str().is_empty()) {
        create_folder(files, parent)?;
    }
    match files.create_folder(path) {
        Err(error) if error.kind() != ErrorKind::AlreadyExists => {
            Err(StoreError::io("create the folder", path)(error))
        }
        _ => sync_folder_of(files, path),
    }
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Takes away files that an earlier run began and did not finish. Only under the lock.
pub(super) fn clear_temporaries(files: &dyn Files, folder: &Path) -> Result<(), StoreError> {
    for path in names(files, folder)? {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.starts_with(TEMPORARY.0) && name.ends_with(TEMPORARY.1) {
            let removed = files.remove(&path);
            removed.map_err(StoreError::io("remove", &path))?;
        }
    }
    Ok(())
}

/// Everything in a folder; nothing when there is no such folder.
pub(super) fn names(files: &dyn Files, folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    files.names(folder).map_err(StoreError::io("list", folder))
}
