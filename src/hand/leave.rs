//! What leaves for good: a binder the shelf, a set the collection. Both come back whole when the
//! step is taken back.

use std::collections::HashSet;

use super::Cannot;
use super::cards::Foretold;
use crate::model::{
    Binder, BinderId, Change, Collection, Layout, LayoutPage, Meaning, PageFormat, Place,
    PrintingId, SetId, Step,
};
use crate::report::binder_words;
use crate::text::{all_of, count};

/// What would leave, and the changes by which it does.
#[derive(Clone, Debug, Default)]
struct Leaving {
    changes: Vec<Change>,
    binders: usize,
    pages: usize,
    /// Pockets of these binders that are for a keepsake.
    keepsakes: usize,
    drafts: usize,
    /// Copies that lie in these binders, stay in the collection and are loose afterwards.
    loosened: u64,
    /// Cards of the checklist.
    cards: usize,
    /// Copies that leave the collection, wherever they lie.
    copies: u64,
    /// Pockets of other binders that were meant for cards of the set and are free afterwards.
    freed: usize,
}

impl Leaving {
    fn beforehand(&self, way: &str) -> String {
        format!("{way}{}{}", self.with(), self.rest("then"))
    }

    fn afterwards(&self, done: &str) -> String {
        format!("{done}{}{}", self.with(), self.rest("now"))
    }

    /// What goes with it: `, with 1 binder, 34 pages and 2 drafts`; empty where nothing does.
    fn with(&self) -> String {
        let mut parts = Vec::new();
        let mut part = |many: u64, one: &str, more: &str| {
            if many > 0 {
                parts.push(count(many, one, more));
            }
        };
        part(self.binders as u64, "binder", "binders");
        part(self.pages as u64, "page", "pages");
        part(self.keepsakes as u64, "keepsake", "keepsakes");
        part(self.drafts as u64, "draft", "drafts");
        let cards = self.cards as u64;
        part(cards, "card of the checklist", "cards of the checklist");
        part(self.copies, "copy", "copies");
        match &parts[..] {
            [] => String::new(),
            parts => format!(", with {}", all_of(parts, ", ")),
        }
    }

    /// What becomes of the rest; empty where nothing does.
    fn rest(&self, when: &str) -> String {
        let mut words = String::new();
        if self.loosened > 0 {
            let cards = count(self.loosened, "card is", "cards are");
            words += &format!("; {cards} loose {when}");
        }
        if self.freed > 0 {
            let one = "pocket of another binder is";
            let pockets = count(self.freed as u64, one, "pockets of other binders are");
            words += &format!("; {pockets} free {when}");
        }
        words
    }
}

/// A binder is taken off the shelf: its cards are loose, its pages, its layout and its drafts go.
/// What it is for, the set, stays.
///
/// # Errors
/// The binder is gone.
pub fn take_off_shelf(collection: &Collection, binder: BinderId) -> Result<Foretold, Cannot> {
    let mut going = Going::of(collection);
    going.binder(binder, None)?;
    let name = binder_words(collection, binder);
    let leaving = Leaving {
        binders: 0,
        ..going.leaving
    };
    let set = collection.binder(binder).and_then(|b| b.spec().set);
    let set = set.and_then(|set| collection.set(set));
    let stays = set.map(|set| format!("; the set {} stays", set.code()));
    let before = leaving.beforehand(&format!("take {name} off the shelf"));
    Ok(Foretold {
        words: before + &stays.unwrap_or_default(),
        step: Step::new(
            leaving.afterwards(&format!("{name} is off the shelf")),
            leaving.changes,
        ),
    })
}

/// A set leaves the collection with its checklist, all its copies and the binders that are for it.
/// Cards of other sets that lie in these are loose then; in other binders the pockets that were
/// meant for it, in the layout and in drafts, are for nothing.
///
/// # Errors
/// The set is gone.
pub fn give_up(collection: &Collection, set: SetId) -> Result<Foretold, Cannot> {
    let code = collection.set(set).map_or("", |set| set.code());
    let leaving = Going::without(collection, set)?;
    Ok(Foretold {
        words: leaving.beforehand(&match leaving.binders {
            0 => format!("give up the set {code}, for which no binder stands here"),
            _ => format!("give up the set {code}"),
        }),
        step: Step::new(
            leaving.afterwards(&format!("the set {code} is given up")),
            leaving.changes,
        ),
    })
}

/// Changes one after the other, each on what those before it have left.
struct Going {
    now: Collection,
    leaving: Leaving,
}

impl Going {
    fn of(collection: &Collection) -> Self {
        Self {
            now: collection.clone(),
            leaving: Leaving::default(),
        }
    }

    /// What leaves with a set.
    fn without(collection: &Collection, set: SetId) -> Result<Leaving, Cannot> {
        let mut going = Self::of(collection);
        let own = collection
            .shelf()
            .filter(|binder| binder.spec().set == Some(set));
        for binder in own.map(Binder::id) {
            going.binder(binder, Some(set))?;
        }
        going.set(set)?;
        Ok(going.leaving)
    }

    fn make(&mut self, change: Change) -> Result<(), Cannot> {
        change.apply(&mut self.now)?;
        self.leaving.changes.push(change);
        Ok(())
    }

    /// A binder goes. Cards of the set that `leaves` too are not told as loose.
    fn binder(&mut self, id: BinderId, leaves: Option<SetId>) -> Result<(), Cannot> {
        let binder = self.now.binder(id).ok_or(Cannot::BinderGone)?.clone();
        let lying = lying(&binder);
        self.leaving.binders += 1;
        self.leaving.pages += binder.pages().len();
        self.leaving.drafts += binder.drafts().len();
        let stay = lying.iter().filter(|lying| Some(lying.1.set()) != leaves);
        self.leaving.loosened += stay.count() as u64;
        self.leaving.keepsakes += keepsakes(binder.layout());
        for (change, _) in lying {
            self.make(change)?;
        }
        for (at, draft) in binder.drafts().iter().enumerate().rev() {
            let draft = Box::new(draft.clone());
            self.make(Change::DropDraft {
                binder: id,
                at,
                draft,
            })?;
        }
        for (at, page) in binder.layout().pages.iter().enumerate().rev() {
            let page = Box::new(page.clone());
            self.make(Change::RemoveLayoutPage {
                binder: id,
                at,
                page,
            })?;
        }
        if !binder.layout().sections.is_empty() {
            let old = binder.layout().sections.clone();
            let new = Layout::default().sections;
            self.make(Change::SetSections {
                binder: id,
                old,
                new,
            })?;
        }
        for (at, page) in binder.pages().iter().enumerate().rev() {
            let (page, format): (_, PageFormat) = (page.id(), page.format());
            self.make(Change::RemovePage {
                binder: id,
                at,
                page,
                format,
            })?;
        }
        let at = self.now.shelf_place(id).ok_or(Cannot::BinderGone)?;
        let spec = Box::new(binder.spec().clone());
        self.make(Change::RemoveBinder {
            binder: id,
            at,
            spec,
        })
    }

    fn set(&mut self, id: SetId) -> Result<(), Cannot> {
        // Drafts are no part of what the collection knows of a set.
        let own: HashSet<_> = self.now.binders_of(id).map(Binder::id).collect();
        let has_part = |binder: &&Binder| own.contains(&binder.id()) || !binder.drafts().is_empty();
        let others: Vec<_> = self.now.shelf().filter(has_part).cloned().collect();
        for binder in others {
            let lying = lying(&binder).into_iter();
            for (change, _) in lying.filter(|(_, printing)| printing.set() == id) {
                self.make(change)?;
            }
            for change in freeing(binder.id(), binder.layout(), id) {
                self.leaving.freed += 1;
                self.make(change)?;
            }
            for (draft, of) in binder.drafts().iter().enumerate() {
                for change in freeing(binder.id(), &of.layout, id) {
                    let change = Box::new(change);
                    self.make(Change::InDraft { draft, change })?;
                }
            }
        }
        let set = self.now.set(id).ok_or(Cannot::SetGone)?.clone();
        for printing in set.printings(id) {
            let count = set.tally(printing).loose;
            if count > 0 {
                self.leaving.copies += u64::from(count);
                self.make(Change::PartWith { printing, count })?;
            }
        }
        self.leaving.cards += set.cards().len();
        for finish in (0u8..)
            .take(set.finishes().len())
            .filter(|at| set.is_left_out(*at))
        {
            self.make(Change::Collect { set: id, finish })?;
        }
        if !set.cards().is_empty() {
            let cards = set.cards().to_vec();
            self.make(Change::DropCards {
                set: id,
                first: 0,
                cards,
            })?;
        }
        for name in set.rarities().iter().rev().cloned() {
            self.make(Change::DropRarity { set: id, name })?;
        }
        for finish in set.finishes().iter().rev().cloned().map(Box::new) {
            self.make(Change::DropFinish { set: id, finish })?;
        }
        let at = self.now.set_place(id).ok_or(Cannot::SetGone)?;
        let head = Box::new(set.head().clone());
        self.make(Change::DropSet { set: id, at, head })
    }
}

/// The changes by which the cards of a binder come out, each with the card.
fn lying(binder: &Binder) -> Vec<(Change, PrintingId)> {
    let pages = binder.pages().iter().enumerate();
    let pockets = pages.flat_map(|(at, page)| {
        let cards = page.cards().iter().enumerate();
        cards.filter_map(move |(pocket, card)| Some((at, page.id(), pocket, (*card)?)))
    });
    let lift = |(at, page, pocket, printing)| {
        let place = Place {
            binder: binder.id(),
            page: at,
            pocket,
        };
        let lift = Change::Lift {
            place,
            page,
            printing,
        };
        (lift, printing)
    };
    pockets.map(lift).collect()
}

/// The changes by which a layout is meant for no card of a set any more.
fn freeing(binder: BinderId, layout: &Layout, set: SetId) -> Vec<Change> {
    let pages = layout.pages.iter().enumerate();
    let meant = pages.flat_map(|(at, page)| page.printings().map(move |meant| (at, meant)));
    let of_set = meant.filter(|(_, (_, printing))| printing.set() == set);
    let free = |(page, (pocket, printing))| Change::Mean {
        place: Place {
            binder,
            page,
            pocket,
        },
        old: Meaning::Printing(printing),
        new: Meaning::Nothing,
    };
    of_set.map(free).collect()
}

fn keepsakes(layout: &Layout) -> usize {
    let meant = |page: &LayoutPage| {
        let pockets = 0..page.format().pockets();
        let kept = |pocket: &usize| matches!(page.meaning(*pocket), Meaning::Keepsake(_));
        pockets.filter(kept).count()
    };
    layout.pages.iter().map(meant).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::hand::{self, Ground};
    use crate::report;

    fn done(collection: &mut Collection, step: &Step) {
        Change::apply_all(&step.changes, collection).unwrap();
    }

    /// What is told of every set but this one, and of every binder in which it has no part.
    fn told(collection: &Collection, but: &str, has_part: &[BinderId]) -> Vec<String> {
        let sets = collection.sets().filter(|(_, set)| set.code() != but);
        let sets = sets.map(|(id, set)| {
            let completion = report::completion(collection, Some(id));
            let wants = report::wants(collection, report::WantFilter::default());
            let wants: Vec<_> = wants
                .iter()
                .filter(|gap| gap.printing.set() == id)
                .collect();
            format!("{} {completion:?} {wants:?}", set.code())
        });
        let binders = collection.shelf();
        let binders = binders.filter(|binder| !has_part.contains(&binder.id()));
        let binders = binders.map(|b| format!("{} {:?}", b.name(), b.tally()));
        sets.chain(binders).collect()
    }

    fn copies(collection: &Collection, set: SetId) -> u64 {
        let found = collection.set(set).unwrap();
        let printings = found.printings(set);
        printings.map(|p| u64::from(found.tally(p).copies())).sum()
    }

    /// With a draft, so that there is one to go.
    fn collection() -> Collection {
        let mut collection = demo::collection();
        let binder = collection.binder_by_name("wood").unwrap();
        let step = hand::begin_draft(&collection, binder, "other", false).unwrap();
        done(&mut collection, &step);
        collection
    }

    #[test]
    fn a_binder_that_leaves_the_shelf_leaves_every_copy_in_the_collection() {
        let before = collection();
        for binder in before.shelf() {
            let mut after = before.clone();
            let mut going = Going::of(&before);
            going.binder(binder.id(), None).unwrap();
            let leaving = going.leaving;
            assert_eq!(leaving.loosened, u64::from(binder.tally().filled));
            assert_eq!((leaving.copies, leaving.cards), (0, 0));
            assert_eq!(leaving.pages, binder.pages().len());
            done(&mut after, &Step::new("", leaving.changes));
            assert_eq!(after.check(), Vec::new());
            assert!(after.binder(binder.id()).is_none());
            for (id, set) in before.sets() {
                assert_eq!(copies(&after, id), copies(&before, id), "{}", set.code());
            }
        }
    }

    #[test]
    fn a_set_that_leaves_takes_its_cards_from_everywhere_and_touches_no_other_set() {
        let before = collection();
        for (id, set) in before.sets() {
            let mut after = before.clone();
            let leaving = Going::without(&before, id).unwrap();
            assert_eq!(leaving.copies, copies(&before, id), "{}", set.code());
            assert_eq!(leaving.cards, set.cards().len());
            done(&mut after, &Step::new("", leaving.changes));
            assert_eq!(after.check(), Vec::new());
            assert!(after.set_by_code(set.code()).is_none());
            let has_part: Vec<_> = before.binders_of(id).map(Binder::id).collect();
            let is = told(&after, set.code(), &has_part);
            let was = told(&before, set.code(), &has_part);
            assert_eq!(is, was, "without {}", set.code());
        }
    }

    #[test]
    fn what_left_comes_back_whole_and_in_its_place() {
        let before = collection();
        let words = |of: &Collection| {
            let sets: Vec<_> = of
                .sets()
                .map(|(id, set)| (id, set.code().to_owned()))
                .collect();
            let shelf: Vec<_> = of.shelf().map(|b| (b.clone(), b.tally())).collect();
            format!("{sets:?}{shelf:?}{:?}", told(of, "", &[]))
        };
        for (id, _) in before.sets() {
            let step = give_up(&before, id).unwrap().step;
            let mut back = before.clone();
            done(&mut back, &step);
            for change in step.changes.iter().rev() {
                change.inverse().apply(&mut back).unwrap();
            }
            assert_eq!(words(&back), words(&before));
        }
    }

    /// Cards of a set may lie, and be meant to lie, in the binder of another.
    #[test]
    fn pockets_of_other_binders_are_free_and_cards_of_other_sets_are_loose() {
        let mut collection = collection();
        let [own, other] = ["wood", "moss"].map(|name| collection.binder_by_name(name));
        let (own, other) = (own.unwrap(), other.unwrap());
        let set = collection.binder(own).unwrap().spec().set.unwrap();
        let place = |binder| Ground::real(binder).place(0, 0);
        // The first card of each binder goes into the first pocket of the other, and is meant to.
        let held = [own, other].map(|binder| collection.held(place(binder)).unwrap());
        let mut changes = Vec::new();
        for (binder, is, new) in [(own, held[0], held[1]), (other, held[1], held[0])] {
            let page = collection.binder(binder).unwrap().pages()[0].id();
            let lift = Change::Lift {
                place: place(binder),
                page,
                printing: is,
            };
            let old = collection.meaning(place(binder));
            let new_meaning = Meaning::Printing(new);
            changes.insert(0, lift);
            changes.push(Change::Mean {
                place: place(binder),
                old,
                new: new_meaning,
            });
            changes.push(Change::Seat {
                place: place(binder),
                page,
                printing: new,
            });
        }
        done(&mut collection, &Step::new("exchanged", changes));
        let leaving = Going::without(&collection, set).unwrap();
        assert_eq!((leaving.loosened, leaving.freed), (1, 1));
        assert_eq!(
            leaving.rest("then"),
            "; 1 card is loose then; 1 pocket of another binder is free then"
        );
        done(&mut collection, &Step::new("", leaving.changes));
        assert_eq!(collection.held(place(other)), None);
        assert_eq!(collection.meaning(place(other)), Meaning::Nothing);
        assert!(collection.tally(held[1]).loose > 0);
    }

    #[test]
    fn what_goes_is_told_in_full() {
        let leaving = Leaving {
            binders: 1,
            pages: 34,
            keepsakes: 1,
            drafts: 2,
            cards: 306,
            copies: 1,
            ..Leaving::default()
        };
        assert_eq!(
            leaving.afterwards("the set WOOD is given up"),
            "the set WOOD is given up, with 1 binder, 34 pages, 1 keepsake, 2 drafts, 306 cards of the \
             checklist and 1 copy"
        );
    }
}
