//! Writes that fail half-way, planted behind the seam where the journal is written.

use std::io;
use std::sync::{Arc, Mutex};

use super::disk::{self, Tail};
use super::*;

/// What the planted end of the journal does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fault {
    /// Some bytes are written, then the disk is full (ENOSPC).
    Short,
    /// All bytes are written, but the sync fails (EIO): they may or may not last.
    Sync,
    /// Some bytes are written, and nothing can be taken away again either.
    ShortForGood,
}

#[derive(Debug)]
struct Failing {
    tail: Box<dyn Tail>,
    fault: Fault,
    calls: Arc<Mutex<u32>>,
}

impl Tail for Failing {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        *self.calls.lock().unwrap() += 1;
        let written = match self.fault {
            Fault::Sync => bytes.len(),
            Fault::Short | Fault::ShortForGood => bytes.len() / 2,
        };
        self.tail.append(&bytes[..written])?;
        Err(io::Error::from(io::ErrorKind::StorageFull))
    }

    fn truncate(&mut self, length: u64) -> io::Result<()> {
        match self.fault {
            Fault::ShortForGood => Err(io::Error::from(io::ErrorKind::StorageFull)),
            Fault::Short | Fault::Sync => self.tail.truncate(length),
        }
    }
}

fn step(label: &str) -> Entry<'_> {
    Entry::Do {
        label,
        changes: "[]",
    }
}

/// "After a failed write or sync: the step is not kept, and nothing more is taken until the store
/// is opened again"; a failed sync is never tried again, since the system may have dropped what
/// it could not write (Rebello and others, "Can Applications Recover from fsync Failures?",
/// USENIX ATC 2020).
#[test]
fn after_a_write_that_fails_what_was_kept_stays_and_nothing_more_is_taken() {
    for fault in [Fault::Short, Fault::Sync, Fault::ShortForGood] {
        let folder = tempfile::tempdir().unwrap();
        let (mut store, ..) = FileStore::open(folder.path(), Open::ForWriting).unwrap();
        store.keep(None, step("first")).unwrap();
        let calls = Arc::new(Mutex::new(0));
        store.journal = Some(Box::new(Failing {
            tail: disk::open_tail(&store.folder.journal).unwrap(),
            fault,
            calls: calls.clone(),
        }));
        let error = store.keep(None, step("second")).unwrap_err();
        let path = store.folder.journal.display().to_string();
        assert!(error.to_string().contains(&path), "{error}");
        assert!(matches!(store.access(), Access::ReadOnly(_)));
        assert!(store.keep(None, step("third")).is_err());
        let nothing = &mut History::default();
        assert!(store.rewrite(&Collection::new(), nothing).is_err());
        assert_eq!(*calls.lock().unwrap(), 1, "no write is tried again");
        drop(store);
        let (store, _, history, notices) =
            FileStore::open(folder.path(), Open::ForWriting).unwrap();
        let labels: Vec<_> = history.done.iter().map(|step| &*step.label).collect();
        assert_eq!(labels, ["first"], "{fault:?}");
        assert_eq!(store.access(), Access::Writable);
        let torn = notices
            .iter()
            .any(|told| matches!(told, Notice::TornTail { .. }));
        assert_eq!(torn, fault == Fault::ShortForGood, "{notices:?}");
    }
}

#[test]
fn a_snapshot_that_cannot_be_written_leaves_the_store_as_it_was() {
    let folder = tempfile::tempdir().unwrap();
    let (mut store, ..) = FileStore::open(folder.path(), Open::ForWriting).unwrap();
    store.keep(None, step("first")).unwrap();
    let before = disk::read(&store.folder.snapshot).unwrap();
    // A folder that is gone can take no file.
    let right = store.folder.snapshot.clone();
    store.folder.snapshot = folder.path().join("gone").join("collection.json");
    assert!(
        store
            .rewrite(&Collection::new(), &mut History::default())
            .is_err()
    );
    store.folder.snapshot = right;
    assert_eq!(disk::read(&store.folder.snapshot).unwrap(), before);
    store.keep(None, step("second")).unwrap();
    drop(store);
    let (_, _, history, notices) = FileStore::open(folder.path(), Open::ForWriting).unwrap();
    assert_eq!(history.done.len(), 2);
    assert_eq!(notices, []);
}

#[test]
fn a_journal_that_cannot_be_begun_leaves_the_old_one_in_force() {
    let folder = tempfile::tempdir().unwrap();
    let (mut store, ..) = FileStore::open(folder.path(), Open::ForWriting).unwrap();
    store.keep(None, step("first")).unwrap();
    let right = store.folder.journal.clone();
    store.folder.journal = folder.path().join("gone").join("journal");
    assert!(
        store
            .rewrite(&Collection::new(), &mut History::default())
            .is_err()
    );
    store.folder.journal = right;
    store.keep(None, step("second")).unwrap();
    drop(store);
    let (_, _, history, notices) = FileStore::open(folder.path(), Open::ForWriting).unwrap();
    assert_eq!(history.done.len(), 2);
    assert_eq!(notices, []);
}
