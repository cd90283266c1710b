//! A step that is tried beside everything else, so that to take it is only to keep it: for steps
//! of a hundred thousand changes.

use super::{Event, Session, SessionError};
use crate::model::{Collection, Refused, Step};
use crate::store;

/// A step with what the collection is after it.
#[derive(Clone, Debug)]
pub struct Ready {
    step: Step,
    /// The changes as the journal has them.
    changes: Box<str>,
    after: Collection,
}

/// Tries a step on a collection, which is a clone of the one that it is for.
///
/// # Errors
/// The step does not fit.
pub fn ready(mut collection: Collection, step: Step) -> Result<Ready, Refused> {
    let changes = store::apply(&step.changes, &mut collection)?;
    Ok(Ready {
        step,
        changes: changes.into(),
        after: collection,
    })
}

impl Ready {
    #[must_use]
    pub fn step(&self) -> &Step {
        &self.step
    }
}

impl Session {
    /// As [`Session::commit`], for a step that was made ready on the collection as it was at
    /// `revision`. One that was made ready on another is tried anew. Gives back the collection as
    /// it was and the step, which can take a while to be let go.
    ///
    /// # Errors
    /// As [`Session::commit`].
    pub fn commit_ready(
        &mut self,
        ready: Ready,
        revision: u64,
    ) -> Result<Option<(Collection, Step)>, SessionError> {
        let Ready {
            step,
            changes,
            after,
        } = ready;
        if step.changes.is_empty() || revision != self.revision() {
            return self.commit(step).map(|()| None);
        }
        let kept = (self.ensure_writable()).and_then(|()| self.keep_text(&step.label, changes));
        match &kept {
            Ok(()) => self.witnessed(Event::Kept(&step.label)),
            Err(why) => self.witnessed(Event::Refused(&step.label, why)),
        }
        kept.map(|()| Some((std::mem::replace(&mut self.collection, after), step)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::model::Change;
    use crate::store::{History, MemoryStore, Position, write_snapshot};

    fn acquired(collection: &Collection) -> Step {
        let (id, set) = collection.sets().next().unwrap();
        let printing = set.printings(id).next().unwrap();
        let change = Change::Acquire { printing, count: 2 };
        Step::new("two came in", vec![change])
    }

    fn bytes(collection: &Collection) -> Vec<u8> {
        write_snapshot(collection, Position::default())
    }

    #[test]
    fn a_step_that_was_made_ready_is_kept_as_one_that_is_committed() {
        let collection = demo::collection();
        let step = acquired(&collection);
        let mut plain = Session::in_memory(collection.clone());
        plain.commit(step.clone()).unwrap();
        let mut session = Session::in_memory(collection.clone());
        let made = ready(session.collection().clone(), step).unwrap();
        // The clone was altered, and nothing of it is seen in the collection that it is of.
        assert_eq!(bytes(session.collection()), bytes(&collection));
        let (before, _) = session.commit_ready(made, 0).unwrap().unwrap();
        assert_eq!(bytes(&before), bytes(&collection));
        assert_eq!(bytes(session.collection()), bytes(plain.collection()));
        assert_eq!(
            (session.revision(), session.collection().check()),
            (1, Vec::new())
        );
        assert_eq!(session.undo().unwrap().unwrap().label, "two came in");
        assert_eq!(bytes(session.collection()), bytes(&collection));
    }

    #[test]
    fn what_was_changed_meanwhile_is_not_lost() {
        let collection = demo::collection();
        let step = acquired(&collection);
        let mut session = Session::in_memory(collection.clone());
        let made = ready(session.collection().clone(), step.clone()).unwrap();
        session.commit(step).unwrap();
        session.commit_ready(made, 0).unwrap();
        let printing = match session.collection().sets().next() {
            Some((id, set)) => set.printings(id).next().unwrap(),
            None => unreachable!(),
        };
        let (before, after) = (
            collection.tally(printing),
            session.collection().tally(printing),
        );
        assert_eq!(after.loose, before.loose + 4);
    }

    #[test]
    fn one_that_cannot_be_kept_changes_nothing() {
        let collection = demo::collection();
        let store = Box::new(MemoryStore::failing_after(0));
        let mut session = Session::over(store, collection.clone(), History::default());
        let made = ready(session.collection().clone(), acquired(&collection)).unwrap();
        let kept = session.commit_ready(made, 0);
        assert!(matches!(kept, Err(SessionError::NotKept(_))));
        assert_eq!(bytes(session.collection()), bytes(&collection));
    }
}
