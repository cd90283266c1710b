//! The work sheet as hands go through it: what each deed says, and whether it can be done now.

use super::pocket::named;
use crate::model::{
    BinderId, Change, Collection, PageFormat, PageId, PagePlace, Place, PrintingId, Step,
};
use crate::plan::{Deed, Target, Way, WorkSheet, in_force, sheet};
use crate::report::{binder_words, pocket_words, printing_words};

/// The sheet of one binder, or of the whole shelf: from what lies there to the layouts in force.
#[must_use]
pub fn work_sheet(collection: &Collection, binder: Option<BinderId>, way: Way) -> WorkSheet {
    let mut targets: Vec<Target<'_>> = in_force(collection);
    if let Some(only) = binder {
        targets.retain(|target| target.binder == only);
    }
    sheet(collection, &targets, way)
}

/// Where a deed is done: the pocket that a card comes from or goes to, or the first of a page.
#[must_use]
pub fn deed_place(deed: &Deed) -> Option<Place> {
    let change = deed.changes.last()?;
    let page = |binder, page| Place {
        binder,
        page,
        pocket: 0,
    };
    Some(match change {
        Change::Lift { place, .. } | Change::Seat { place, .. } => *place,
        Change::MovePage { from, .. } => page(from.binder, from.page),
        Change::AddPage { binder, at, .. } | Change::RemovePage { binder, at, .. } => {
            page(*binder, *at)
        }
        _ => return None,
    })
}

/// A deed as one would say it to whoever is to do it. `whole_shelf` names the binder too. What lies
/// in the front of a shared pocket is named where the deed is done behind it.
#[must_use]
pub fn deed_words(
    collection: &Collection,
    sheet: &WorkSheet,
    deed: &Deed,
    whole_shelf: bool,
) -> String {
    let says = Says {
        collection,
        sheet,
        whole_shelf,
    };
    says.behind(says.to_do(&deed.changes), deed)
}

struct Says<'s> {
    collection: &'s Collection,
    sheet: &'s WorkSheet,
    whole_shelf: bool,
}

impl Says<'_> {
    /// The words, and what lies before the pocket.
    fn behind(&self, words: String, deed: &Deed) -> String {
        let before = deed.in_front.iter().map(|of| self.number(*of));
        let before: Vec<_> = before.collect();
        if before.is_empty() {
            return words;
        }
        format!("{words}, behind {}", before.join(" and "))
    }

    fn to_do(&self, changes: &[Change]) -> String {
        match Kind::of(changes) {
            Kind::Lift(from, printing) => {
                format!("Take out {}: {}", self.card(printing), self.pocket(from))
            }
            Kind::Seat(to, printing) => {
                format!("Put in {}: {}", self.card(printing), self.pocket(to))
            }
            Kind::Carry(from, to, printing) => format!(
                "Carry {} from {} to {}",
                self.card(printing),
                self.pocket(from),
                self.pocket(to)
            ),
            Kind::MovePage(from, to) => {
                let (page, place) = self.moved(from, to);
                format!("Move {page}, to be {place}")
            }
            Kind::AddPage(binder, at, format) => {
                let (page, place) = self.added(binder, at, format);
                format!("Put in {page} as {place}")
            }
            Kind::RemovePage(binder, at) => {
                format!("Take page {} out{}, it is empty", at + 1, self.of(binder))
            }
            Kind::Several(many) => format!("{many} changes"),
        }
    }

    /// In the words of what is done by hand at a pocket or with a page.
    fn done(&self, changes: &[Change]) -> String {
        let card = |printing| named(self.collection, printing);
        match Kind::of(changes) {
            Kind::Lift(from, printing) => {
                format!("{} out of {}", card(printing), self.pocket(from))
            }
            Kind::Seat(to, printing) => format!("{} into {}", card(printing), self.pocket(to)),
            Kind::Carry(from, to, printing) => format!(
                "{} carried from {} to {}",
                card(printing),
                self.pocket(from),
                self.pocket(to)
            ),
            Kind::MovePage(from, to) => {
                let (page, place) = self.moved(from, to);
                format!("{page} moved, now {place}")
            }
            Kind::AddPage(binder, at, format) => {
                let (page, place) = self.added(binder, at, format);
                format!("{page} put in as {place}")
            }
            Kind::RemovePage(binder, at) => {
                format!("page {} taken out{}, it was empty", at + 1, self.of(binder))
            }
            Kind::Several(many) => format!("{many} changes"),
        }
    }

    fn number(&self, printing: PrintingId) -> String {
        let card = self.collection.card(printing);
        card.map_or_else(String::new, |card| card.number.to_string())
    }

    fn card(&self, printing: PrintingId) -> String {
        printing_words(self.collection, printing)
    }

    /// The page that is moved, and where it stands then.
    fn moved(&self, from: PagePlace, to: PagePlace) -> (String, String) {
        let other = match from.binder == to.binder {
            true => String::new(),
            false => self.of(to.binder),
        };
        (
            format!("page {}{}", from.page + 1, self.of(from.binder)),
            format!("page {}{other}", to.page + 1),
        )
    }

    /// The page that is put in, and where it stands then.
    fn added(&self, binder: BinderId, at: usize, format: PageFormat) -> (String, String) {
        (
            format!("an empty page of {}x{}", format.rows, format.columns),
            format!("page {}{}", at + 1, self.of(binder)),
        )
    }

    /// The page stands where the deeds before this one have left it, so its format is asked by id.
    fn pocket(&self, (place, page): (Place, PageId)) -> String {
        let format = self.sheet.format(page);
        let at = format.and_then(|format| format.at(place.pocket));
        let words = at.map_or_else(
            || format!("page {}", place.page + 1),
            |at| pocket_words(place.page, at),
        );
        format!("{words}{}", self.of(place.binder))
    }

    fn of(&self, binder: BinderId) -> String {
        match self.whole_shelf {
            true => format!(" of {}", binder_words(self.collection, binder)),
            false => String::new(),
        }
    }
}

/// What a deed does, by its changes.
enum Kind {
    Lift((Place, PageId), PrintingId),
    Seat((Place, PageId), PrintingId),
    Carry((Place, PageId), (Place, PageId), PrintingId),
    MovePage(PagePlace, PagePlace),
    AddPage(BinderId, usize, PageFormat),
    RemovePage(BinderId, usize),
    /// None that a sheet has.
    Several(usize),
}

impl Kind {
    fn of(changes: &[Change]) -> Self {
        match *changes {
            [
                Change::Lift {
                    place,
                    page,
                    printing,
                },
            ] => Self::Lift((place, page), printing),
            [
                Change::Seat {
                    place,
                    page,
                    printing,
                },
            ] => Self::Seat((place, page), printing),
            [
                Change::Lift {
                    place,
                    page,
                    printing,
                },
                Change::Seat {
                    place: to,
                    page: other,
                    ..
                },
            ] => Self::Carry((place, page), (to, other), printing),
            [Change::MovePage { from, to, .. }] => Self::MovePage(from, to),
            [
                Change::AddPage {
                    binder, at, format, ..
                },
            ] => Self::AddPage(binder, at, format),
            [Change::RemovePage { binder, at, .. }] => Self::RemovePage(binder, at),
            _ => Self::Several(changes.len()),
        }
    }
}

/// The step that records these deeds as done, in their order.
#[must_use]
pub fn deeds_done(collection: &Collection, sheet: &WorkSheet, deeds: &[Deed]) -> Step {
    let changes = deeds.iter().flat_map(|deed| deed.changes.clone());
    let says = Says {
        collection,
        sheet,
        whole_shelf: false,
    };
    let label = match deeds {
        [one] => says.behind(says.done(&one.changes), one),
        many => format!("{} lines of the work sheet", many.len()),
    };
    Step::new(label, changes.collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    /// The demo, every binder of which has this title.
    fn titled(title: &str) -> Collection {
        let mut demo = demo::collection();
        let ids: Vec<BinderId> = demo.shelf().map(crate::model::Binder::id).collect();
        for binder in ids {
            let old = demo.binder(binder).unwrap().spec().clone();
            let mut new = old.clone();
            new.title = title.into();
            let edit = Change::EditBinder {
                binder,
                old: Box::new(old),
                new: Box::new(new),
            };
            edit.apply(&mut demo).unwrap();
        }
        demo
    }

    #[test]
    fn on_a_sheet_of_the_whole_shelf_no_binder_is_nameless_and_no_two_are_told_alike() {
        for (title, named) in [("", "moss"), ("The Fen", "The Fen (moss)")] {
            let demo = titled(title);
            let sheet = work_sheet(&demo, None, Way::default());
            let moss = demo.binder_by_name("moss").unwrap();
            let of_moss = |deed: &&Deed| deed_place(deed).is_some_and(|at| at.binder == moss);
            let deed = sheet.deeds.iter().find(of_moss).unwrap();
            let words = deed_words(&demo, &sheet, deed, true);
            assert!(words.ends_with(&format!(" of {named}")), "{words}");
        }
    }
}
