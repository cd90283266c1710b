//! What the store asks of a file system: a narrow seam, so that tests can put another one under
//! it, see every call and let any of them fail.

mod disk;

use std::fmt::Debug;
use std::fs::TryLockError;
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

pub use disk::Disk;

/// A file system. Whatever a call has done is seen by the next one at once, but it is sure to
/// outlast a loss of power only after [`OpenFile::sync`] for what is in a file, and after
/// [`Files::sync_folder`] for a name in a folder.
pub trait Files: Debug {
    /// The bytes of a plain file; `None` when it is not there. One of more than `most` bytes is
    /// refused, as [`io::ErrorKind::FileTooLarge`], before it is read.
    ///
    /// # Errors
    /// Also where there is something else than a plain file.
    fn read(&self, path: &Path, most: u64) -> io::Result<Option<Vec<u8>>>;

    /// # Errors
    /// It cannot be known.
    fn exists(&self, path: &Path) -> io::Result<bool>;

    fn is_folder(&self, path: &Path) -> bool;

    /// The whole path, links followed; the same path when nothing is there.
    ///
    /// # Errors
    /// A link leads nowhere, or the path cannot be looked for.
    fn resolve(&self, path: &Path) -> io::Result<PathBuf>;

    /// All that is in a folder; nothing when there is no such folder.
    ///
    /// # Errors
    /// It cannot be listed.
    fn names(&self, folder: &Path) -> io::Result<Vec<PathBuf>>;

    /// When a file was last written, since the beginning of 1970 (UTC).
    ///
    /// # Errors
    /// It cannot be told.
    fn modified(&self, path: &Path) -> io::Result<Duration>;

    /// Makes a file that must not be there yet, for its owner only.
    ///
    /// # Errors
    /// [`io::ErrorKind::AlreadyExists`] among others.
    fn create_new(&self, path: &Path) -> io::Result<Box<dyn OpenFile>>;

    /// Opens a file that is there, to add to its end.
    ///
    /// # Errors
    /// It cannot be written, or is not there.
    fn open_end(&self, path: &Path) -> io::Result<Box<dyn OpenFile>>;

    /// Makes a folder for its owner only.
    ///
    /// # Errors
    /// [`io::ErrorKind::AlreadyExists`] among others.
    fn create_folder(&self, path: &Path) -> io::Result<()>;

    /// Gives a file another name, in one step; what had that name is gone.
    ///
    /// # Errors
    /// Nothing has changed then.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Gives a file a second name.
    ///
    /// # Errors
    /// [`io::ErrorKind::AlreadyExists`] among others; not every file system has second names.
    fn link(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// # Errors
    /// Nothing has changed then.
    fn remove(&self, path: &Path) -> io::Result<()>;

    /// Makes the names in a folder last.
    ///
    /// # Errors
    /// They may or may not last.
    fn sync_folder(&self, path: &Path) -> io::Result<()>;

    /// Takes the lock on a file, which is made if it is not there, and never waits for it. It is
    /// let go when what is given is dropped.
    ///
    /// # Errors
    /// Another has it, or it cannot be had.
    fn lock(&self, path: &Path) -> Result<Box<dyn Debug>, TryLockError>;

    /// Whether another has the lock now. Makes no file; where it cannot be known, no.
    fn is_locked(&self, path: &Path) -> bool;
}

/// A file that is open for writing at its end.
pub trait OpenFile: Debug {
    /// # Errors
    /// Some of the bytes may be there.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Has all that was written on the disk when it returns.
    ///
    /// # Errors
    /// What was written may or may not last, and the system may have forgotten about it: trying
    /// again proves nothing.
    fn sync(&mut self) -> io::Result<()>;

    /// Takes away everything beyond this length.
    ///
    /// # Errors
    /// It may still be there.
    fn truncate(&mut self, length: u64) -> io::Result<()>;
}
