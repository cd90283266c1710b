//! The one façade over a collection that is kept: query it, commit steps, undo, redo.

mod bring;
mod last_place;
mod lists;
mod ready;
mod watched;
mod words;

use std::fmt;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use crate::model::{Change, Collection, Refused, Step};
use crate::store::files::{Disk, Files};
use crate::store::{self, Entry, FileStore, History, Kept, MemoryStore, Store};

pub use crate::store::csv::Form;
pub use crate::store::pictures::{Matched, PictureName, Pictures, read_picture};
pub use crate::store::{Access, Notice, Open, Outside, OutsideError, StoreError, at_home};
pub use bring::{Brought, NotBrought, What, bring};
pub use last_place::LastPlace;
pub use lists::{PassedRow, TheirList, their_file, their_list, write_listed};
pub use ready::{Ready, ready};
pub use watched::Watched;
pub use words::cannot_read;

/// What was done or undone, as the list of steps tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PastStep {
    pub label: String,
    /// When, RFC 3339, if it was known.
    pub at: Option<String>,
}

/// Why a step was not taken. The collection is as it was.
#[derive(Debug, thiserror::Error)]
pub enum SessionError {
    #[error(transparent)]
    Refused(#[from] Refused),
    #[error("{0}")]
    ReadOnly(String),
    /// It was applied, could not be kept, and was taken back.
    #[error("{0}")]
    NotKept(StoreError),
}

/// Gives the present time as RFC 3339 text.
pub type Clock = Box<dyn Fn() -> String>;

/// What becomes of a step, for whoever wants to be told.
#[derive(Clone, Copy, Debug)]
pub enum Event<'e> {
    Kept(&'e str),
    TakenBack(&'e str),
    DoneAgain(&'e str),
    /// Of a step, why nothing has changed.
    Refused(&'e str, &'e SessionError),
    /// Work for a person ended by a fault of this program, which said this.
    Failed(&'e str),
}

/// Takes what is told.
pub type Witness = Box<dyn Fn(Event<'_>)>;

/// An open collection.
pub struct Session {
    collection: Collection,
    history: History,
    store: Box<dyn Store>,
    clock: Option<Clock>,
    witness: Option<Witness>,
    folder: Option<PathBuf>,
    revision: u64,
    /// Why what is in memory may be unlike what is kept: then nothing more is.
    torn: Option<String>,
}

impl Session {
    /// A collection that is kept nowhere: for trying things out and for tests.
    #[must_use]
    pub fn in_memory(collection: Collection) -> Self {
        Self::over(
            Box::<MemoryStore>::default(),
            collection,
            History::default(),
        )
    }

    /// A collection in a folder. A folder that is not there is made when it is opened for
    /// writing; for reading it is an empty collection.
    ///
    /// What comes with the session is to be told to the person.
    ///
    /// # Errors
    /// The files cannot be read at all, or a later version of the program wrote them.
    pub fn open(dir: &Path, how: Open, clock: Clock) -> Result<(Self, Vec<Notice>), StoreError> {
        Self::open_on(Rc::new(Disk), dir, how, clock)
    }

    /// The same on another file system than that of this machine.
    ///
    /// # Errors
    /// As [`Session::open`].
    pub fn open_on(
        files: Rc<dyn Files>,
        dir: &Path,
        how: Open,
        clock: Clock,
    ) -> Result<(Self, Vec<Notice>), StoreError> {
        let opened = FileStore::open_on(files, dir, how)?;
        let mut notices = opened.notices;
        let mut session = Self::over(Box::new(opened.store), opened.collection, opened.history);
        session.clock = Some(clock);
        session.folder = Some(dir.to_owned());
        if let Err(error) = session.rewrite_if_due() {
            notices.push(Notice::NotRewritten {
                why: error.to_string(),
            });
        }
        notices.extend(session.store.notice());
        Ok((session, notices))
    }

    /// A collection over a store of one's own, with what that store gave back.
    #[must_use]
    pub fn over(store: Box<dyn Store>, collection: Collection, history: History) -> Self {
        Self {
            collection,
            history,
            store,
            clock: None,
            witness: None,
            folder: None,
            revision: 0,
            torn: None,
        }
    }

    /// From now on `witness` is told what becomes of each step.
    pub fn tell(&mut self, witness: impl Fn(Event<'_>) + 'static) {
        self.witness = Some(Box::new(witness));
    }

    #[must_use]
    pub fn collection(&self) -> &Collection {
        &self.collection
    }

    #[must_use]
    pub fn access(&self) -> Access {
        match &self.torn {
            Some(why) => Access::ReadOnly(why.clone()),
            None => self.store.access(),
        }
    }

    /// The collection's own folder, if it has one.
    #[must_use]
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// A file outside of the collection's folder, if it may be written.
    ///
    /// # Errors
    /// It is there and is not to be written over, or it cannot lie there.
    pub fn outside(&self, path: &Path, overwrite: bool) -> Result<Outside, OutsideError> {
        Outside::new(path, overwrite, self.folder.as_deref())
    }

    /// Grows by every step that is committed, undone or redone.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Applies the step and keeps it for good. A step without changes does nothing.
    ///
    /// # Errors
    /// The step does not fit the collection, or it could not be kept; nothing has changed then.
    pub fn commit(&mut self, step: Step) -> Result<(), SessionError> {
        if step.changes.is_empty() {
            return Ok(());
        }
        let label = self.witness.is_some().then(|| step.label.clone());
        let kept = self.keep(step);
        let label = label.as_deref().unwrap_or_default();
        match &kept {
            Ok(()) => self.witnessed(Event::Kept(label)),
            Err(why) => self.witnessed(Event::Refused(label, why)),
        }
        kept
    }

    fn keep(&mut self, step: Step) -> Result<(), SessionError> {
        self.ensure_writable()?;
        let changes = store::apply(&step.changes, &mut self.collection);
        let changes = changes.inspect_err(|refused| self.note_torn(refused))?;
        let kept = self.keep_text(&step.label, changes.into());
        if kept.is_err() {
            let back = Change::take_back_all(&step.changes, &mut self.collection);
            self.note_back(back);
        }
        kept
    }

    /// After what could not be kept was to be taken back.
    fn note_back(&mut self, back: Result<(), Refused>) {
        debug_assert!(back.is_ok(), "what was done can be taken back: {back:?}");
        back.unwrap_or_else(|refused| self.note_torn(&refused));
    }

    /// From now on nothing is kept, if memory is not as it was before what was refused: steps on it
    /// would not be steps on what is kept.
    fn note_torn(&mut self, refused: &Refused) {
        if matches!(refused, Refused::NotTakenBack(_)) {
            self.torn = Some(format!("open the collection again to go on ({refused})"));
        }
    }

    /// Keeps a step that is applied already, or will be at once.
    fn keep_text(&mut self, label: &str, changes: Box<str>) -> Result<(), SessionError> {
        let at = self.now();
        let entry = Entry::Do {
            label,
            changes: &changes,
        };
        let seq = self.store.keep(at.as_deref(), entry);
        self.history.push(Kept {
            seq: seq.map_err(SessionError::NotKept)?,
            label: label.into(),
            at: at.map(Into::into),
            changes,
        });
        self.revision += 1;
        Ok(())
    }

    /// Tells the witness that work for a person ended by a fault of this program.
    pub fn note_failure(&self, said: &str) {
        self.witnessed(Event::Failed(said));
    }

    /// Takes the last step back, and tells which it was; `None` when there is none.
    ///
    /// # Errors
    /// It could not be kept; nothing has changed then.
    pub fn undo(&mut self) -> Result<Option<PastStep>, SessionError> {
        let taken_back = self.take_back();
        match &taken_back {
            Ok(Some(told)) => self.witnessed(Event::TakenBack(&told.label)),
            Ok(None) => {}
            Err(why) => self.witnessed(Event::Refused("taking back", why)),
        }
        taken_back
    }

    fn take_back(&mut self) -> Result<Option<PastStep>, SessionError> {
        let Some(step) = self.history.done.last() else {
            return Ok(None);
        };
        self.ensure_writable()?;
        let (seq, told) = (step.seq, told(step));
        let undone = store::undo(&step.changes, &mut self.collection);
        let undone = undone.inspect_err(|refused| self.note_torn(refused))?;
        if let Err(error) = self.store.keep(self.now().as_deref(), Entry::Undo(seq)) {
            let again = Change::apply_all(&undone, &mut self.collection);
            self.note_back(again.map_err(Refused::not_taken_back));
            return Err(SessionError::NotKept(error));
        }
        self.history.undo(seq);
        self.revision += 1;
        Ok(Some(told))
    }

    /// Takes the last undone step again.
    ///
    /// # Errors
    /// It could not be kept; nothing has changed then.
    pub fn redo(&mut self) -> Result<Option<PastStep>, SessionError> {
        let done_again = self.do_again();
        match &done_again {
            Ok(Some(told)) => self.witnessed(Event::DoneAgain(&told.label)),
            Ok(None) => {}
            Err(why) => self.witnessed(Event::Refused("doing again", why)),
        }
        done_again
    }

    fn do_again(&mut self) -> Result<Option<PastStep>, SessionError> {
        let Some(step) = self.history.undone.last() else {
            return Ok(None);
        };
        self.ensure_writable()?;
        let (seq, told) = (step.seq, told(step));
        let done = store::redo(&step.changes, &mut self.collection);
        let done = done.inspect_err(|refused| self.note_torn(refused))?;
        if let Err(error) = self.store.keep(self.now().as_deref(), Entry::Redo(seq)) {
            let back = Change::take_back_all(&done, &mut self.collection);
            self.note_back(back);
            return Err(SessionError::NotKept(error));
        }
        self.history.redo(seq);
        self.revision += 1;
        Ok(Some(told))
    }

    /// The step that [`Session::undo`] would take back.
    #[must_use]
    pub fn last_done(&self) -> Option<PastStep> {
        self.done().next()
    }

    /// The step that [`Session::redo`] would take again.
    #[must_use]
    pub fn last_undone(&self) -> Option<PastStep> {
        self.undone().next()
    }

    /// What can be undone, the last step first.
    pub fn done(&self) -> impl Iterator<Item = PastStep> + '_ {
        self.history.done.iter().rev().map(told)
    }

    /// What can be redone, in the order in which it would be.
    pub fn undone(&self) -> impl Iterator<Item = PastStep> + '_ {
        self.history.undone.iter().rev().map(told)
    }

    /// Whether older steps were let go, so that undo does not reach back to the beginning.
    #[must_use]
    pub fn is_history_cut(&self) -> bool {
        self.history.is_cut
    }

    /// Lets the collection go, with a new snapshot first if the old one is more than a little
    /// behind. Dropping a session loses nothing either. What comes back is to be told.
    ///
    /// # Errors
    /// The snapshot could not be written. What was committed is still kept.
    pub fn close(mut self) -> Result<Option<Notice>, StoreError> {
        if self.torn.is_none() && self.store.is_behind() {
            self.rewrite()?;
        }
        Ok(self.store.notice())
    }

    /// Writes a new snapshot now, however short the journal is.
    ///
    /// # Errors
    /// It could not be written. What was committed is still kept.
    pub fn rewrite(&mut self) -> Result<(), StoreError> {
        if let Some(why) = &self.torn {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        self.store.rewrite(&self.collection, &mut self.history)
    }

    fn rewrite_if_due(&mut self) -> Result<(), StoreError> {
        if self.store.is_rewrite_due() {
            self.rewrite()?;
        }
        Ok(())
    }

    fn ensure_writable(&self) -> Result<(), SessionError> {
        match self.access() {
            Access::Writable => Ok(()),
            Access::ReadOnly(why) => Err(SessionError::ReadOnly(why)),
        }
    }

    fn witnessed(&self, event: Event<'_>) {
        if let Some(witness) = &self.witness {
            witness(event);
        }
    }

    fn now(&self) -> Option<String> {
        self.clock.as_ref().map(|clock| clock())
    }
}

impl fmt::Debug for Session {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Session")
            .field("store", &self.store)
            .field("revision", &self.revision)
            .finish_non_exhaustive()
    }
}

fn told(step: &Kept) -> PastStep {
    PastStep {
        label: step.label.to_string(),
        at: step.at.as_deref().map(str::to_owned),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    #[test]
    fn what_could_not_be_taken_back_ends_writing_with_the_reason() {
        let mut session = Session::in_memory(demo::collection());
        let printing = session.collection().sets().next().map(|(id, set)| {
            let mut all = set.printings(id);
            all.next().unwrap()
        });
        let printing = printing.unwrap();
        let change = Change::Acquire { printing, count: 1 };
        // Taken back without having been done: no copy more is loose than there was.
        let loose = session.collection().tally(printing).loose;
        let never = vec![change.clone(); loose as usize + 1];
        let back = Change::take_back_all(&never, &mut session.collection);
        let refused = back.unwrap_err();
        session.note_torn(&refused);
        let Access::ReadOnly(why) = session.access() else {
            panic!("it goes on on what is unlike the disk");
        };
        assert!(why.contains("could not be taken back"), "{why}");
        assert!(session.commit(Step::new("more", vec![change])).is_err());
        assert!(session.rewrite().is_err());
        assert!(session.close().is_ok());
    }

    #[test]
    fn what_is_only_refused_ends_nothing() {
        let mut session = Session::in_memory(demo::collection());
        session.note_torn(&Refused::Unfit("no".into()));
        assert_eq!(session.access(), Access::Writable);
    }
}
