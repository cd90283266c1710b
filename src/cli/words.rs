//! Words that several commands say.

use super::error::CliError;
use super::output::Output;
use crate::intake::{Intake, Verdict};
pub(super) use crate::text::count;

/// What `new` and a checklist came to, in words.
pub(super) fn tell_intake(intake: &Intake, out: &mut Output) -> Result<(), CliError> {
    let added = &intake.added;
    match added.words() {
        None if intake.step.changes.is_empty() => out.line("Nothing is new.")?,
        None => {}
        Some(words) => out.line(&words)?,
    }
    let further = added.further_finishes as u64;
    if further > 0 {
        let cards = count(further, "known card comes", "known cards come");
        out.line(&format!("{cards} in a further finish now."))?;
    }
    if added.filled_in > 0 {
        let cards = count(added.filled_in as u64, "known card", "known cards");
        out.line(&format!("Filled in what was not known yet of {cards}."))?;
    }
    for difference in &intake.differs {
        out.line(&difference.to_string())?;
    }
    if intake.differs.iter().any(|d| d.verdict == Verdict::Left) {
        out.line("What differs was left as it is; --update takes the file's word for it.")?;
    }
    for note in &intake.notes {
        out.line(note)?;
    }
    Ok(())
}
