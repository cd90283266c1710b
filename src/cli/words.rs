//! Words that several commands say.

use super::error::CliError;
use super::output::Output;
use crate::intake::{Intake, Verdict};
pub(super) use crate::text::count;

/// What `new` and a checklist came to, in words.
pub(super) fn tell_intake(intake: &Intake, out: &mut Output) -> Result<(), CliError> {
    for words in intake.words() {
        out.line(&words)?;
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
