//! A file system that is watched: every call is counted, every change is written down, and any
//! call can be made to fail.

use std::cell::{Cell, RefCell};
use std::fmt;
use std::fs::TryLockError;
use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::time::Duration;

use ringbound::store::files::{Files, OpenFile};

/// A call that changes what is on the disk. A file that is open goes by the number of the call
/// that opened it, for its names may change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Op {
    Create { path: PathBuf, file: usize },
    OpenEnd { path: PathBuf, file: usize },
    Write { file: usize, bytes: Vec<u8> },
    Sync { file: usize },
    Truncate { file: usize, length: u64 },
    CreateFolder { path: PathBuf },
    Rename { from: PathBuf, to: PathBuf },
    Link { from: PathBuf, to: PathBuf },
    Remove { path: PathBuf },
    SyncFolder { path: PathBuf },
}

/// Says before each call, by its number from 1, whether it fails.
type Plan = Box<dyn Fn(usize) -> io::Result<()>>;

/// Another file system, watched. Clones are the same one.
#[derive(Clone)]
pub(crate) struct Watched {
    under: Rc<dyn Files>,
    watch: Rc<Watch>,
}

struct Watch {
    plan: Plan,
    calls: Cell<usize>,
    ops: RefCell<Vec<Op>>,
}

impl Watched {
    /// Only records.
    pub(crate) fn new(under: Rc<dyn Files>) -> Self {
        Self::planned(under, |_| Ok(()))
    }

    /// Asks `plan` before each call, with its number from 1. A call that fails does nothing, but
    /// of a write half of the bytes are written, as on a disk that is full.
    pub(crate) fn planned(
        under: Rc<dyn Files>,
        plan: impl Fn(usize) -> io::Result<()> + 'static,
    ) -> Self {
        let watch = Rc::new(Watch {
            plan: Box::new(plan),
            calls: Cell::new(0),
            ops: RefCell::default(),
        });
        Self { under, watch }
    }

    /// So many calls there were, failed ones too.
    pub(crate) fn calls(&self) -> usize {
        self.watch.calls.get()
    }

    /// The changes so far.
    pub(crate) fn ops(&self) -> Vec<Op> {
        self.watch.ops.borrow().clone()
    }

    /// How many changes there were so far.
    pub(crate) fn changes(&self) -> usize {
        self.watch.ops.borrow().len()
    }

    fn open(
        &self,
        op: impl FnOnce(usize) -> Op,
        open: impl FnOnce() -> io::Result<Box<dyn OpenFile>>,
    ) -> io::Result<Box<dyn OpenFile>> {
        self.watch.ask()?;
        let (under, file) = (open()?, self.calls());
        self.watch.note(op(file));
        let watch = self.watch.clone();
        Ok(Box::new(WatchedFile { under, file, watch }))
    }
}

impl Watch {
    fn ask(&self) -> io::Result<()> {
        self.calls.set(self.calls.get() + 1);
        (self.plan)(self.calls.get())
    }

    fn note(&self, op: Op) {
        self.ops.borrow_mut().push(op);
    }

    /// A change: asked for, done, written down.
    fn change(&self, op: Op, change: impl FnOnce() -> io::Result<()>) -> io::Result<()> {
        self.ask()?;
        change()?;
        self.note(op);
        Ok(())
    }
}

impl fmt::Debug for Watched {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut told = f.debug_struct("Watched");
        told.field("under", &self.under).finish_non_exhaustive()
    }
}

impl Files for Watched {
    fn read(&self, path: &Path, most: u64) -> io::Result<Option<Vec<u8>>> {
        self.watch.ask()?;
        self.under.read(path, most)
    }

    fn exists(&self, path: &Path) -> io::Result<bool> {
        self.watch.ask()?;
        self.under.exists(path)
    }

    fn is_folder(&self, path: &Path) -> bool {
        self.watch.ask().is_ok() && self.under.is_folder(path)
    }

    fn resolve(&self, path: &Path) -> io::Result<PathBuf> {
        self.watch.ask()?;
        self.under.resolve(path)
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<PathBuf>> {
        self.watch.ask()?;
        self.under.names(folder)
    }

    fn modified(&self, path: &Path) -> io::Result<Duration> {
        self.watch.ask()?;
        self.under.modified(path)
    }

    fn create_new(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        let op = |file| Op::Create {
            path: path.to_owned(),
            file,
        };
        self.open(op, || self.under.create_new(path))
    }

    fn open_end(&self, path: &Path) -> io::Result<Box<dyn OpenFile>> {
        let op = |file| Op::OpenEnd {
            path: path.to_owned(),
            file,
        };
        self.open(op, || self.under.open_end(path))
    }

    fn create_folder(&self, path: &Path) -> io::Result<()> {
        let op = Op::CreateFolder {
            path: path.to_owned(),
        };
        self.watch.change(op, || self.under.create_folder(path))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        let op = Op::Rename {
            from: from.to_owned(),
            to: to.to_owned(),
        };
        self.watch.change(op, || self.under.rename(from, to))
    }

    fn link(&self, from: &Path, to: &Path) -> io::Result<()> {
        let op = Op::Link {
            from: from.to_owned(),
            to: to.to_owned(),
        };
        self.watch.change(op, || self.under.link(from, to))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        let op = Op::Remove {
            path: path.to_owned(),
        };
        self.watch.change(op, || self.under.remove(path))
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        let op = Op::SyncFolder {
            path: path.to_owned(),
        };
        self.watch.change(op, || self.under.sync_folder(path))
    }

    fn lock(&self, path: &Path) -> Result<Box<dyn fmt::Debug>, TryLockError> {
        self.watch.ask().map_err(TryLockError::Error)?;
        self.under.lock(path)
    }

    fn is_locked(&self, path: &Path) -> bool {
        self.watch.ask().is_ok() && self.under.is_locked(path)
    }
}

struct WatchedFile {
    under: Box<dyn OpenFile>,
    file: usize,
    watch: Rc<Watch>,
}

impl fmt::Debug for WatchedFile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.under.fmt(f)
    }
}

impl OpenFile for WatchedFile {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        let asked = self.watch.ask();
        let bytes = match asked {
            Ok(()) => bytes,
            Err(_) => &bytes[..bytes.len() / 2],
        };
        self.under.write(bytes)?;
        self.watch.note(Op::Write {
            file: self.file,
            bytes: bytes.to_vec(),
        });
        asked
    }

    fn sync(&mut self) -> io::Result<()> {
        let op = Op::Sync { file: self.file };
        self.watch.change(op, || self.under.sync())
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        let file = self.file;
        let op = Op::Truncate { file, length };
        self.watch.change(op, || self.under.truncate(length))
    }
}
