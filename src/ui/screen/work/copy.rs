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
    let lines = words.map(|words| format!("[ ] {words}"));
    let what = counted(work.open.len(), "step", "steps");
    let is_there = !work.is_choosing() && work.is_true(desk) && !work.open.is_empty();
    is_there.then(|| Copied::lines(what, lines))
}
