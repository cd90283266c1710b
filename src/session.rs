//! The one façade over a collection that is kept: query it, commit steps, undo, redo.

use crate::model::{Change, Collection, Refused, Step};

/// Whether changes can be kept, and if not, why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Access {
    Writable,
    /// Open for reading; the reason in words for a person.
    ReadOnly(String),
}

/// What was done or undone, as the list of steps tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
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
}

/// An open collection.
#[derive(Debug)]
pub struct Session {
    collection: Collection,
    done: Vec<Step>,
    undone: Vec<Step>,
    revision: u64,
}

impl Session {
    /// A collection that is kept nowhere: for trying things out and for tests.
    #[must_use]
    pub fn in_memory(collection: Collection) -> Self {
        Self {
            collection,
            done: Vec::new(),
            undone: Vec::new(),
            revision: 0,
        }
    }

    #[must_use]
    pub fn collection(&self) -> &Collection {
        &self.collection
    }

    #[must_use]
    pub fn access(&self) -> Access {
        Access::Writable
    }

    /// Grows by every step that is committed, undone or redone.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Applies the step and keeps it. A step without changes does nothing.
    ///
    /// # Errors
    /// The step does not fit the collection, or it could not be kept; nothing has changed then.
    pub fn commit(&mut self, step: Step) -> Result<(), SessionError> {
        if step.changes.is_empty() {
            return Ok(());
        }
        Change::apply_all(&step.changes, &mut self.collection)?;
        self.done.push(step);
        self.undone.clear();
        self.revision += 1;
        Ok(())
    }

    /// Takes the last step back, and tells which it was; `None` when there is none.
    ///
    /// # Errors
    /// It could not be kept; nothing has changed then.
    pub fn undo(&mut self) -> Result<Option<Told>, SessionError> {
        let Some(step) = self.done.pop() else {
            return Ok(None);
        };
        let back: Vec<_> = step.changes.iter().rev().map(Change::inverse).collect();
        Change::apply_all(&back, &mut self.collection)?;
        let told = Told {
            label: step.label.clone(),
            at: None,
        };
        self.undone.push(step);
        self.revision += 1;
        Ok(Some(told))
    }

    /// Takes the last undone step again.
    ///
    /// # Errors
    /// It could not be kept; nothing has changed then.
    pub fn redo(&mut self) -> Result<Option<Told>, SessionError> {
        let Some(step) = self.undone.pop() else {
            return Ok(None);
        };
        Change::apply_all(&step.changes, &mut self.collection)?;
        let told = Told {
            label: step.label.clone(),
            at: None,
        };
        self.done.push(step);
        self.revision += 1;
        Ok(Some(told))
    }

    /// The step that [`Session::undo`] would take back.
    #[must_use]
    pub fn last_done(&self) -> Option<Told> {
        self.done.last().map(|step| Told {
            label: step.label.clone(),
            at: None,
        })
    }

    /// The step that [`Session::redo`] would take again.
    #[must_use]
    pub fn last_undone(&self) -> Option<Told> {
        self.undone.last().map(|step| Told {
            label: step.label.clone(),
            at: None,
        })
    }
}
