//! Faults of this program in work beside the keys: none is lost, whatever a screen says of the work.

use super::Desk;
use crate::ui::job::{Job, NoAnswer};

impl Desk {
    /// What came of the work that is waited for, once. A fault of this program is told of itself,
    /// behind what the screen says of the work.
    pub(in crate::ui) fn ended<T: Send + 'static>(
        &self,
        waited: &mut Option<Job<T>>,
    ) -> Option<Result<T, NoAnswer>> {
        let ended = Job::ended(waited);
        if let Some(Err(NoAnswer::Failed(said))) = &ended {
            self.faults.borrow_mut().push(said.clone());
        }
        ended
    }

    /// What there is to tell of faults since this was last asked.
    pub(in crate::ui) fn take_fault(&self) -> Option<String> {
        let faults = self.faults.take();
        (!faults.is_empty()).then(|| faults.join("; "))
    }

    /// Work ended by a fault of this program, which said this: for the log, and behind what is told
    /// of the work already.
    pub(in crate::ui) fn tell_fault(&mut self, said: &str) {
        self.session.note_failure(said);
        let told = self.message.as_ref().filter(|message| message.is_amiss());
        let told = told.map(|message| message.words.as_str());
        let before = told.unwrap_or("A fault of this program");
        self.warn(format!("{before}: {said}"));
    }
}
