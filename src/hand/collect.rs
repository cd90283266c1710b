//! Which runs are collected: the cards of a set in one finish, or not.

use super::Cannot;
use super::cards::Foretold;
use crate::model::{Binder, Change, Collection, Meaning, Place, SetId, Step};
use crate::text::count;

/// The run is not collected any more. Its pockets that do not hold their card are meant for nothing
/// then, pages of the layout that are not on the rings yet and are left without any meaning go;
/// cards that lie in their pockets stay there, and loose copies are spare.
///
/// # Errors
/// The run is left out already, or there is none such.
pub fn leave_out(collection: &Collection, id: SetId, finish: u8) -> Result<Foretold, Cannot> {
    let set = collection.set(id).ok_or(Cannot::NoSuchSet)?;
    let name = set.finishes().get(usize::from(finish));
    let name = name.ok_or(Cannot::NoSuchFinish)?;
    if set.is_left_out(finish) {
        return Err(Cannot::LeftOut);
    }
    let mut changes = Vec::new();
    let mut pages = Vec::new();
    for binder in collection.binders_of(id) {
        free(binder, (id, finish), &mut changes, &mut pages);
    }
    let freed = changes.len() as u64;
    // From the back, so that each is where it was when its turn comes.
    changes.extend(pages.into_iter().rev());
    changes.push(Change::LeaveOut { set: id, finish });
    let pockets = match freed {
        0 => String::new(),
        freed => format!(", {} free", count(freed, "pocket", "pockets")),
    };
    let run = format!("{} {}", set.code(), name.name);
    let label = format!("{run} not collected any more{pockets}");
    Ok(Foretold {
        step: Step::new(label, changes),
        words: format!("do not collect {run} any more{pockets}"),
    })
}

/// The pockets of a binder that are meant for the run and do not hold their card.
fn free(binder: &Binder, run: (SetId, u8), free: &mut Vec<Change>, pages: &mut Vec<Change>) {
    let layout = &binder.layout().pages;
    for (page, meant) in layout.iter().enumerate() {
        let held = binder.pages().get(page);
        let held = held.filter(|_| binder.comparable(page));
        let mut without = meant.clone();
        for (pocket, printing) in meant.printings() {
            let there = held.is_some_and(|held| held.cards()[pocket] == Some(printing));
            if (printing.set(), printing.finish()) != run || there {
                continue;
            }
            without.set_meaning(pocket, Meaning::Nothing);
            free.push(Change::Mean {
                place: Place {
                    binder: binder.id(),
                    page,
                    pocket,
                },
                old: Meaning::Printing(printing),
                new: Meaning::Nothing,
            });
        }
        let empty =
            (0..meant.format().pockets()).all(|pocket| without.meaning(pocket) == Meaning::Nothing);
        if page >= binder.pages().len() && empty && without != *meant {
            pages.push(Change::RemoveLayoutPage {
                binder: binder.id(),
                at: page,
                page: Box::new(without),
            });
        }
    }
}

/// The run is collected again. No pocket is meant for it by that.
///
/// # Errors
/// It is collected already, or there is none such.
pub fn collect(collection: &Collection, id: SetId, finish: u8) -> Result<Foretold, Cannot> {
    let set = collection.set(id).ok_or(Cannot::NoSuchSet)?;
    let name = set.finishes().get(usize::from(finish));
    let name = name.ok_or(Cannot::NoSuchFinish)?;
    if !set.is_left_out(finish) {
        return Err(Cannot::Collected);
    }
    let run = format!("{} {}", set.code(), name.name);
    let label = format!("{run} is collected again");
    Ok(Foretold {
        step: Step::new(label, vec![Change::Collect { set: id, finish }]),
        words: format!("collect {run} again"),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::demo;
    use crate::model::random::collections;
    use crate::report::{gaps, waiting};

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn leaving_a_run_out_moves_no_card_and_leaves_no_gap_of_it(
            mut collection in collections(), finish in 0u8..2,
        ) {
            let held = |of: &Collection| -> Vec<_> {
                crate::model::random::places(of).map(|place| of.held(place)).collect()
            };
            let set = SetId(0);
            // It may be left out already, and pockets have been meant for it since.
            if let Ok(put) = collect(&collection, set, finish) {
                Change::apply_all(&put.step.changes, &mut collection).unwrap();
            }
            {
                let Foretold { step, .. } = leave_out(&collection, set, finish).unwrap();
                let before: Vec<_> = held(&collection).into_iter().flatten().collect();
                Change::apply_all(&step.changes, &mut collection).unwrap();
                let after: Vec<_> = held(&collection).into_iter().flatten().collect();
                prop_assert_eq!(before, after);
            }
            let of_run = |of: crate::model::PrintingId| (of.set(), of.finish()) == (set, finish);
            prop_assert!(!gaps(&collection, None).iter().any(|gap| of_run(gap.printing)));
            prop_assert!(!waiting(&collection, None).iter().any(|copy| of_run(copy.printing)));
        }
    }

    #[test]
    fn a_run_is_left_out_and_collected_again_as_one_step_each() {
        let mut collection = demo::collection();
        let moss = collection.set_by_code("MOSS").unwrap();
        let Foretold { step, words } = leave_out(&collection, moss, 1).unwrap();
        let begin = "MOSS reverse not collected any more, ";
        assert!(step.label.starts_with(begin));
        assert!(words.starts_with("do not collect MOSS reverse any more, "));
        let pockets = gaps(&collection, Some(moss))
            .iter()
            .filter(|gap| gap.printing.finish() == 1 && gap.place.is_some())
            .count();
        assert!(step.label.contains(&format!(", {pockets} pockets free")));
        Change::apply_all(&step.changes, &mut collection).unwrap();
        assert!(leave_out(&collection, moss, 1).is_err());
        let Foretold { step, .. } = collect(&collection, moss, 1).unwrap();
        Change::apply_all(&step.changes, &mut collection).unwrap();
        assert!(collect(&collection, moss, 1).is_err());
    }
}
