//! The sheet for the clipboard.

use super::{Work, counted};
use crate::hand;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;

/// The deeds that are left, with boxes to tick; `None` while a way is chosen, and without deeds.
pub(super) fn deeds(work: &Work, desk: &Desk) -> Option<Copied> {
    let whole = work.binder.is_none();
    let deeds = work.open.iter().map(|at| &work.sheet.deeds[*at]);
    let words = deeds.map(|deed| hand::deed_words(desk.collection(), &work.sheet, deed, whole));
    let lines: Vec<_> = words.map(|words| format!("[ ] {words}")).collect();
    let what = counted(lines.len(), "step", "steps");
    let lines = (!work.is_choosing() && !lines.is_empty()).then_some(lines)?;
    Some(Copied::lines(what, lines.iter().map(String::as_str)))
}
