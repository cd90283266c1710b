//! Room on the last page of a run.

use crate::intake::row::Intake;
use crate::model::{Binder, Change, Meaning, Place, PrintingId};

/// The last page of the layout with a pocket for the same set and finish.
pub(super) fn last_page_of(binder: &Binder, like: PrintingId) -> Option<usize> {
    binder.layout().pages.iter().rposition(|page| {
        let mut meant = page.printings();
        meant.any(|(_, other)| other.set() == like.set() && other.finish() == like.finish())
    })
}

/// Puts printings into the pockets behind the last one that is for something, as far as these are
/// for nothing yet and nothing lies in them. Gives back those for which there was no room.
pub(super) fn fill(
    binder: &Binder,
    page: usize,
    printings: Vec<PrintingId>,
    intake: &mut Intake,
) -> Vec<PrintingId> {
    let meant = &binder.layout().pages[page];
    let pockets = meant.format().pockets();
    let used = (0..pockets).rposition(|pocket| meant.meaning(pocket) != Meaning::Nothing);
    let real = binder.pages().get(page).filter(|_| binder.comparable(page));
    let is_empty = |pocket: &usize| real.is_none_or(|page| page.cards()[*pocket].is_none());
    let room = (used.map_or(0, |at| at + 1)..pockets).filter(is_empty);
    let mut printings = printings.into_iter();
    // The room is asked first, so that no printing is taken in vain.
    for pocket in room {
        let Some(printing) = printings.next() else {
            break;
        };
        intake.step.changes.push(Change::Mean {
            place: Place {
                binder: binder.id(),
                page,
                pocket,
            },
            old: Meaning::Nothing,
            new: Meaning::Printing(printing),
        });
    }
    printings.collect()
}
