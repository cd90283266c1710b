//! Places in which a session can be kept, closed and opened again.

use std::cell::RefCell;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use crate::support::files::InMemory;

use ringbound::model::Collection;
use ringbound::session::{Access, Open, Session, StoreError};
use ringbound::store::{Entry, History, MemoryStore, Store};
use tempfile::TempDir;

/// Somewhere to keep a collection. Only one session at a time is open there.
pub(crate) trait Place: Default {
    /// Opens what was kept so far, whole and for writing.
    fn open(&self) -> Session;
}

/// A folder of its own.
#[derive(Debug)]
pub(crate) struct Folder(TempDir);

impl Default for Folder {
    fn default() -> Self {
        Self(tempfile::tempdir().unwrap())
    }
}

impl Folder {
    /// In memory where the system has such a place (Linux, shm_overview(7)). For processes that are
    /// killed that is as good as a disk: what they wrote is the system's already.
    pub(crate) fn quick() -> Self {
        let made = tempfile::tempdir_in("/dev/shm").or_else(|_| tempfile::tempdir());
        Self(made.unwrap())
    }

    pub(crate) fn path(&self) -> PathBuf {
        self.0.path().join("collection")
    }

    pub(crate) fn file(&self, name: &str) -> PathBuf {
        self.path().join(name)
    }

    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.file(name)).unwrap()
    }

    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.file(name), bytes).unwrap();
    }

    pub(crate) fn open_as(&self, how: Open) -> (Session, Vec<ringbound::session::Notice>) {
        Session::open(&self.path(), how, clock()).unwrap()
    }
}

/// A clock that always tells the same time.
pub(crate) fn clock() -> Box<dyn Fn() -> String> {
    Box::new(|| "2026-03-01T12:00:00Z".to_owned())
}

impl Place for Folder {
    fn open(&self) -> Session {
        let (session, notices) = self.open_as(Open::ForWriting);
        assert_eq!(notices, []);
        assert_eq!(session.access(), Access::Writable);
        session
    }
}

/// The store of a folder on a disk in memory.
#[derive(Clone, Debug, Default)]
pub(crate) struct FolderInMemory(InMemory);

impl Place for FolderInMemory {
    fn open(&self) -> Session {
        let files = Rc::new(self.0.clone());
        let folder = Path::new("/home/shelf");
        let opened = Session::open_on(files, folder, Open::ForWriting, clock());
        let (session, notices) = opened.unwrap();
        assert_eq!(notices, []);
        assert_eq!(session.access(), Access::Writable);
        session
    }
}

/// The memory twin, shared between the sessions that come and go.
#[derive(Clone, Debug, Default)]
pub(crate) struct Memory(pub(crate) Rc<RefCell<MemoryStore>>);

impl Place for Memory {
    fn open(&self) -> Session {
        let (store, recovered) = self.0.borrow().clone().reopen().unwrap();
        assert_eq!(recovered.damage, []);
        assert_eq!(recovered.torn, None);
        *self.0.borrow_mut() = store;
        let shared = Box::new(self.clone());
        Session::over(shared, recovered.collection, recovered.history)
    }
}

impl Store for Memory {
    fn keep(&mut self, at: Option<&str>, entry: Entry<'_>) -> Result<u64, StoreError> {
        self.0.borrow_mut().keep(at, entry)
    }

    fn access(&self) -> Access {
        self.0.borrow().access()
    }

    fn is_rewrite_due(&self) -> bool {
        self.0.borrow().is_rewrite_due()
    }

    fn is_behind(&self) -> bool {
        self.0.borrow().is_behind()
    }

    fn rewrite(
        &mut self,
        collection: &Collection,
        history: &mut History,
    ) -> Result<(), StoreError> {
        self.0.borrow_mut().rewrite(collection, history)
    }
}
