//! An invented collection: the cards of a made-up publisher from a made-up valley, as they might
//! stand on somebody's shelf after some years. To try the program on, and for tests.
//!
//! It is made of the same changes as a real one, so it can be committed step by step, and it is
//! the same every time: which cards are there is drawn from a generator with a fixed seed.

mod prices;
mod shelf;
mod sketch;
mod words;

pub use prices::prices;

use crate::model::{Change, Collection, PrintingId, SetId, Step};

/// The steps that lead from an empty collection to the invented one.
#[must_use]
pub fn step_by_step() -> Vec<Step> {
    Making::all().steps
}

/// The invented collection.
#[must_use]
pub fn collection() -> Collection {
    Making::all().collection
}

/// The collection so far, which the next step is made on.
#[derive(Default)]
struct Making {
    collection: Collection,
    steps: Vec<Step>,
}

impl Making {
    fn all() -> Self {
        let mut made = Self::default();
        for (at, sketch) in (0..).zip(sketch::SETS) {
            made.take(sketch::step(SetId(at), sketch));
        }
        for sketch in shelf::BINDERS {
            let step = shelf::binder(&made.collection, sketch);
            made.take(step);
        }
        let cards = shelf::cards(&made.collection);
        for step in cards {
            made.take(step);
        }
        let loose = loose(&made.collection);
        made.take(loose);
        made
    }

    fn take(&mut self, step: Step) {
        let applied = Change::apply_all(&step.changes, &mut self.collection);
        debug_assert!(applied.is_ok(), "{}: {applied:?}", step.label);
        self.steps.push(step);
    }
}

/// What came home from the last swap day and still lies on the table: every so often a card that
/// is missing, double copies of cards that are there, and a few of a set without a binder.
fn loose(collection: &Collection) -> Step {
    let mut dice = Dice::new(0x5EED);
    let mut changes = Vec::new();
    let mut take = |printing: PrintingId, count: u32| {
        changes.push(Change::Acquire { printing, count });
    };
    for (id, set) in collection.sets() {
        let homeless = collection.binders_of(id).next().is_none();
        for printing in set.printings(id) {
            let tally = collection.tally(printing);
            if homeless {
                match printing.card() {
                    0 | 4 => take(printing, 1),
                    7 => take(printing, 2),
                    _ => {}
                }
            } else if tally.copies() == 0 && set.code() != shelf::NEARLY_EMPTY {
                if dice.percent(7) {
                    take(printing, 1);
                }
            } else if tally.in_place > 0 && dice.percent(9) {
                take(printing, 1 + u32::from(dice.percent(30)));
            }
        }
    }
    Step::new("home from the swap day, still to be put away", changes)
}

/// A linear congruential generator with the multiplier and increment of D. E. Knuth's MMIX
/// (TAOCP 2, 3.3.4); the high bits are the good ones.
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// True in about `chance` of 100 cases.
    fn percent(&mut self, chance: u32) -> bool {
        self.0 = (self.0)
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % 100 < u64::from(chance)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;
    use crate::model::{BinderKind, Meaning, PageFormat, Place, PocketState, RingShape};
    use crate::session::Session;
    use crate::text::columns;

    fn pockets(collection: &Collection) -> Vec<PocketState> {
        let places = collection.shelf().flat_map(|binder| {
            let pages = binder.pages().iter().enumerate();
            pages.flat_map(move |(page, real)| {
                (0..real.format().pockets()).map(move |pocket| Place {
                    binder: binder.id(),
                    page,
                    pocket,
                })
            })
        });
        places.map(|place| collection.pocket(place)).collect()
    }

    #[test]
    fn the_collection_is_whole_and_can_be_committed_and_undone_step_by_step() {
        assert!(collection().check().is_empty());
        let mut session = Session::in_memory(Collection::new());
        let steps = step_by_step();
        let count = steps.len();
        for step in steps {
            assert!(!step.label.is_empty() && !step.changes.is_empty());
            session.commit(step).unwrap();
        }
        for _ in 0..count {
            assert!(session.undo().unwrap().is_some());
        }
        assert_eq!(session.collection().sets().len(), 0);
        assert_eq!(session.collection().shelf().len(), 0);
        assert!(session.collection().check().is_empty());
    }

    #[test]
    fn it_is_the_same_every_time() {
        assert_eq!(step_by_step(), step_by_step());
    }

    #[test]
    fn two_sets_are_complete_one_is_hardly_begun_and_the_rest_lie_between() {
        let collection = collection();
        let mut complete = 0;
        let mut shares = HashSet::new();
        for (id, set) in collection.sets() {
            let total = set.printings(id).count();
            let held = set
                .printings(id)
                .filter(|p| collection.tally(*p).copies() > 0)
                .count();
            if held == total {
                complete += 1;
            } else if set.code() == shelf::NEARLY_EMPTY {
                assert!(held > 0 && held * 20 < total, "{held} of {total}");
            } else {
                assert!(held * 5 > total, "{}: {held} of {total}", set.code());
                shares.insert(held * 100 / total);
            }
        }
        assert_eq!(complete, 2);
        assert!(collection.sets().len() >= 9);
        assert!(shares.len() >= 6, "degrees of completion: {shares:?}");
        let sizes = || collection.sets().map(|(_, set)| set.cards().len());
        assert_eq!((sizes().min(), sizes().max()), (Some(9), Some(300)));
    }

    #[test]
    fn every_kind_of_binder_page_and_pocket_is_there() {
        let collection = collection();
        let kinds: Vec<_> = collection.shelf().map(|b| b.spec().kind).collect();
        let ring = |shape| {
            let is = |kind: &BinderKind| matches!(kind, BinderKind::Rings { shape: s, .. } if *s == shape);
            kinds.iter().any(is)
        };
        assert!(ring(RingShape::Round) && ring(RingShape::D));
        assert!(kinds.contains(&BinderKind::Fixed));
        let formats: Vec<PageFormat> = collection
            .shelf()
            .flat_map(|binder| binder.pages().iter().map(crate::model::Page::format))
            .collect();
        for (rows, columns, sides) in [(2, 2, 2), (3, 3, 2), (3, 1, 2), (3, 4, 1), (1, 1, 1)] {
            let wanted = PageFormat::new(rows, columns, sides);
            assert!(
                formats.iter().any(|format| format.same_grid(&wanted)),
                "{rows} x {columns}"
            );
        }
        assert!(formats.iter().any(|format| format.shared));
        let states = pockets(&collection);
        let count = |is: fn(&PocketState) -> bool| states.iter().filter(|s| is(s)).count();
        assert!(count(|s| matches!(s, PocketState::Unassigned)) > 0);
        assert!(count(|s| matches!(s, PocketState::Blank)) > 0);
        assert!(count(|s| matches!(s, PocketState::Keepsake(_))) >= 3);
        assert!(count(|s| matches!(s, PocketState::Gap(_))) > 100);
        assert!(count(|s| matches!(s, PocketState::Waiting(_))) > 5);
        let lost = |s: &PocketState| matches!(s, PocketState::Misplaced { wanted: None, .. });
        assert_eq!(states.iter().filter(|s| lost(s)).count(), 1);
        let mixed = count(|s| {
            matches!(
                s,
                PocketState::Misplaced {
                    wanted: Some(_),
                    ..
                }
            )
        });
        assert!((4..=8).contains(&mixed), "{mixed} in another card's pocket");
    }

    #[test]
    fn spare_and_waiting_copies_and_an_oversize_card_are_there() {
        let collection = collection();
        let printings = collection.sets().flat_map(|(id, set)| set.printings(id));
        let tallies: Vec<_> = printings.map(|p| collection.tally(p)).collect();
        assert!(tallies.iter().any(|t| t.spares() > 1));
        assert!(tallies.iter().any(|t| t.waiting() > 0 && t.meant > 0));
        assert!(tallies.iter().any(|t| t.waiting() > 0 && t.meant == 0));
        let moss = collection.set_by_code("MOSS").unwrap();
        let large = collection.set(moss).unwrap().card_by_number("P1").unwrap();
        let places: Vec<_> = collection
            .places_meant(PrintingId::new(moss, large, 0))
            .collect();
        let [place] = places[..] else {
            panic!("one pocket for the oversize card, not {}", places.len());
        };
        let page = &collection.binder(place.binder).unwrap().layout().pages[place.page];
        assert!(page.format().same_grid(&PageFormat::new(1, 1, 1)));
        assert_eq!(
            page.meaning(0),
            Meaning::Printing(PrintingId::new(moss, large, 0))
        );
    }

    #[test]
    fn names_are_unique_within_a_set_and_symbols_take_one_column() {
        for (_, set) in collection().sets() {
            let names: HashSet<_> = set.cards().iter().map(|card| &card.name).collect();
            assert_eq!(names.len(), set.cards().len(), "{}", set.code());
            assert_eq!(columns(&set.head().symbol), 1, "{}", set.code());
        }
        let collection = collection();
        let wide = |text: &str| text.chars().any(|c| ('\u{3040}'..'\u{9FFF}').contains(&c));
        let cyrillic = |text: &str| text.chars().any(|c| ('\u{400}'..'\u{4FF}').contains(&c));
        let names = || {
            collection
                .sets()
                .flat_map(|(_, set)| set.cards().iter().map(|card| card.name.as_ref()))
        };
        assert!(names().any(wide) && names().any(cyrillic));
        assert!(names().any(|name| name.contains('É')));
    }

    #[test]
    fn odd_numbers_and_a_finish_of_its_own_are_there() {
        let collection = collection();
        let set = |code| {
            collection
                .set(collection.set_by_code(code).unwrap())
                .unwrap()
        };
        for number in ["12a", "P3"] {
            assert!(set("MOSS").card_by_number(number).is_some());
        }
        for number in ["100/100", "101/100"] {
            assert!(set("LAMP").card_by_number(number).is_some());
        }
        assert_eq!(set("LAMP").finish_by_name("lamplit"), Some(1));
        assert_eq!(set("MOSS").finish_by_name("reverse"), Some(1));
        assert_eq!(set("WOOD").rarities().len(), 4);
    }
}
