//! The file system of this machine.

use std::fmt::Debug;
use std::fs::{self, DirBuilder, File, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, UNIX_EPOCH};

use super::{Files, OpenFile};

/// The real one.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

/// Options under which a new file is for its owner only.
fn options() -> OpenOptions {
    #[cfg_attr(not(unix), expect(unused_mut, reason = "modes are set on unix only"))]
    let mut options = OpenOptions::new();
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options
}

/// `None` when it is not there. To open a pipe would wait for its other end for ever.
fn plain(path: &Path) -> io::Result<Option<fs::Metadata>> {
    match fs::metadata(path) {
        Ok(there) if there.is_file() => Ok(Some(there)),
        Ok(_) => Err(io::Error::new(
            ErrorKind::InvalidInput,
            "there is something else than a plain file",
        )),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}

impl Files for Disk {
    fn read(&self, path: &Path, most: u64) -> io::Result<Option<Vec<u8>>> {
        let Some(there) = plain(path)? else {
            return Ok(None);
        };
        if there.len() > most {
            return Err(ErrorKind::FileTooLarge.into());
        }
        let file = match File::open(path) {
            Ok(file) => file,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(error),
        };
        let mut content = Vec::with_capacity(there.len() as usize);
        // Another program may write to it while it is read.
        file.take(most + 1).read_to_end(&mut content)?;
        if content.len() as u64 > most {
            return Err(ErrorKind::FileTooLarge.into());
        }
        Ok(Some(content))
    }

    fn exists(&self, path: &Path) -> io::Result<bool> {
        path.try_exists()
    }

    fn is_folder(&self, path: &Path) -> bool {
        path.is_dir()
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        fs::canonicalize(path).or_else(|error| {
            let nothing = error.kind() == ErrorKind::NotFound
                && fs::symlink_metadata(path).is_err_and(|e| e.kind() == ErrorKind::NotFound);
            if nothing {
                Ok(path.to_owned())
            } else {
                Err(error)
            }
        })
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        match fs::read_dir(folder) {
            Ok(entries) => entries.map(|entry| Ok(entry?.path())).collect(),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(Vec::new()),
            Err(error) => Err(error),
        }
    }

    fn modified(&self, path: &Path) -> io::Result<Duration> {
        let written = fs::metadata(path)?.modified()?;
        let since = written.duration_since(UNIX_EPOCH);
        since.map_err(|_| io::Error::other("it was written before 1970"))
    }

    fn create_new(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        Ok(Box::new(options().write(true).create_new(true).open(path)?))
    }

    fn open_end(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        Ok(Box::new(options().append(true).open(path)?))
    }

    fn create_folder(&self, path: &Path) -> io::Result<()> {
        #[cfg_attr(not(unix), expect(unused_mut, reason = "modes are set on unix only"))]
        let mut builder = DirBuilder::new();
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        builder.create(path)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn link(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::hard_link(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        // Windows cannot open a folder as a file, and keeps names by itself.
        if cfg!(windows) {
            return Ok(());
        }
        File::open(path)?.sync_all()
    }

    fn lock(&self, path: &Path) -> Result<Box<dyn Debug>, TryLockError> {
        let mut options = options();
        options.read(true).write(true).create(true).truncate(false);
        let file = options.open(path).map_err(TryLockError::Error)?;
        file.try_lock()?;
        Ok(Box::new(file))
    }

    fn is_locked(&self, path: &Path) -> bool {
        let Ok(Some(_)) = plain(path) else {
            return false;
        };
        let tried = File::open(path).map(|file| file.try_lock_shared());
        matches!(tried, Ok(Err(TryLockError::WouldBlock)))
    }
}

impl OpenFile for File {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        // The data and the length, which is all that reading needs.
        self.sync_data()
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        self.set_len(length)
    }
}
