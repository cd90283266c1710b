//! Files that survive: every write here is on the disk before its function returns.

use std::fmt::Debug;
use std::fs::{self, DirBuilder, File, OpenOptions};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use crate::store::StoreError;

/// Larger files are not read: no collection comes near it, and a broken file should not fill the
/// memory.
const MOST: u64 = 2 << 30;

/// What new files are named until they are whole.
const TEMPORARY: (&str, &str) = (".ringbound-", ".tmp");

/// Options under which a new file is for its owner only.
pub(super) fn options() -> OpenOptions {
    #[cfg_attr(not(unix), expect(unused_mut, reason = "modes are set on unix only"))]
    let mut options = OpenOptions::new();
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
}

/// The bytes of a file; `None` when it is not there.
pub(super) fn read(path: &Path) -> Result<Option<Vec<u8>>, StoreError> {
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(StoreError::io("open", path)(error)),
    };
    let bytes = file.metadata().map_err(StoreError::io("read", path))?.len();
    if bytes > MOST {
        return Err(StoreError::TooLarge {
            path: path.to_owned(),
            bytes,
        });
    }
    let mut content = Vec::with_capacity(bytes as usize);
    file.read_to_end(&mut content)
        .map_err(StoreError::io("read", path))?;
    Ok(Some(content))
}

/// A file that is whole and on the disk, but not in its place yet.
#[must_use = "the file is not in its place yet"]
pub(super) struct Ready<'p> {
    file: NamedTempFile,
    path: &'p Path,
}

/// Writes what `path` is to hold beside it.
pub(super) fn prepare<'p>(path: &'p Path, bytes: &[u8]) -> Result<Ready<'p>, StoreError> {
    let file = tempfile::Builder::new()
        .prefix(TEMPORARY.0)
        .suffix(TEMPORARY.1)
        .tempfile_in(folder_of(path));
    let mut file = file.map_err(StoreError::io("write beside", path))?;
    let written = file
        .write_all(bytes)
        .and_then(|()| file.as_file().sync_all());
    written.map_err(StoreError::io("write beside", path))?;
    Ok(Ready { file, path })
}

impl Ready<'_> {
    /// Puts the file in its place, in one step, for good.
    pub(super) fn put(self) -> Result<(), StoreError> {
        let put = self.file.persist(self.path);
        put.map_err(|error| StoreError::io("replace", self.path)(error.error))?;
        sync_folder(folder_of(self.path))
    }
}

/// Replaces a file whole: at every moment either the old or the new one stands there.
pub(super) fn replace(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    prepare(path, bytes)?.put()
}

/// Writes a file that must not be there yet; `None` when it is.
pub(super) fn create_new(path: &Path, bytes: &[u8]) -> Result<Option<()>, StoreError> {
    let mut file = match options().write(true).create_new(true).open(path) {
        Ok(file) => file,
        Err(error) if error.kind() == ErrorKind::AlreadyExists => return Ok(None),
        Err(error) => return Err(StoreError::io("create", path)(error)),
    };
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    written.map_err(StoreError::io("write", path))?;
    Ok(Some(()))
}

/// Makes the names in a folder last. A file's own sync does not do that.
pub(super) fn sync_folder(path: &Path) -> Result<(), StoreError> {
    // Windows cannot open a folder as a file, and keeps names by itself.
    if cfg!(windows) {
        return Ok(());
    }
    let synced = File::open(path).and_then(|folder| folder.sync_all());
    synced.map_err(StoreError::io("sync the folder", path))
}

/// Makes a folder for its owner only, and those above it, as far as they are missing.
pub(super) fn create_folder(path: &Path) -> Result<(), StoreError> {
    if path.is_dir() {
        return Ok(());
    }
    let parent = folder_of(path);
    create_folder(parent)?;
    #[cfg_attr(not(unix), expect(unused_mut, reason = "modes are set on unix only"))]
    let mut builder = DirBuilder::new();
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    match builder.create(path) {
        Err(error) if error.kind() != ErrorKind::AlreadyExists => {
            Err(StoreError::io("create the folder", path)(error))
        }
        _ => sync_folder(parent),
    }
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Takes away files that an earlier run began and did not finish. Only under the lock.
pub(super) fn clear_temporaries(folder: &Path) -> Result<(), StoreError> {
    for path in names(folder)? {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.starts_with(TEMPORARY.0) && name.ends_with(TEMPORARY.1) {
            fs::remove_file(&path).map_err(StoreError::io("remove", &path))?;
        }
    }
    Ok(())
}

/// Everything in a folder; nothing when there is no such folder.
pub(super) fn names(folder: &Path) -> Result<Vec<PathBuf>, StoreError> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(StoreError::io("list", folder)(error)),
    };
    let paths = entries.map(|entry| entry.map(|entry| entry.path()));
    paths
        .collect::<Result<_, _>>()
        .map_err(StoreError::io("list", folder))
}

/// The end of a journal, to which lines are added. A seam: tests put one here that fails.
pub(super) trait Tail: Debug {
    /// Adds the bytes in one write and has them on the disk when it returns.
    fn append(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Takes away everything beyond this length.
    fn truncate(&mut self, length: u64) -> io::Result<()>;
}

impl Tail for File {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_all(bytes)?;
        self.sync_data()
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        self.set_len(length)?;
        self.sync_data()
    }
}

pub(super) fn open_tail(path: &Path) -> Result<Box<dyn Tail>, StoreError> {
    let file = options().append(true).open(path);
    Ok(Box::new(file.map_err(StoreError::io("open", path))?))
}
