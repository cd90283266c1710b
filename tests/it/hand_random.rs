//! What holds for every deed on every binder: copies are conserved, pages keep their identity,
//! nothing becomes misplaced by being carried, and undo gives back the identical state.

mod deeds;
mod shelf;

use std::collections::BTreeMap;

use proptest::prelude::*;
use ringbound::hand::Ground;
use ringbound::model::{
    Binder, Change, Collection, LayoutPage, Meaning, Page, PageFormat, PageId, Place, PocketState,
    PrintingId, Side,
};
use ringbound::session::Session;

use crate::support::dice::Dice;
use crate::support::world::state;

use deeds::{Deed, Kind, deed};

/// Rolls for a shelf and some forty deeds.
fn dice() -> impl Strategy<Value = Dice> {
    prop::collection::vec(any::<u32>(), 150..900).prop_map(Dice::new)
}

fn copies(of: &Collection) -> BTreeMap<PrintingId, u32> {
    let sets = of.sets();
    let printings = sets.flat_map(|(id, set)| set.printings(id));
    printings.map(|p| (p, of.tally(p).copies())).collect()
}

/// Every pocket of the physical pages.
fn pockets(of: &Collection) -> impl Iterator<Item = Place> + '_ {
    of.shelf().flat_map(|binder| {
        let pages = binder.pages().iter().enumerate();
        pages.flat_map(move |(page, real)| {
            (0..real.format().pockets()).map(move |pocket| Place {
                binder: binder.id(),
                page,
                pocket,
            })
        })
    })
}

/// How many copies of each printing lie where they are not meant to.
fn misplaced(of: &Collection) -> BTreeMap<PrintingId, usize> {
    let mut found = BTreeMap::new();
    for place in pockets(of) {
        if let PocketState::Misplaced { held, .. } = of.pocket(place) {
            *found.entry(held).or_default() += 1;
        }
    }
    found
}

fn pages(of: &Collection) -> BTreeMap<PageId, Page> {
    let pages = of.shelf().flat_map(Binder::pages);
    pages.map(|page| (page.id(), page.clone())).collect()
}

/// What the pockets of a layout are for, wherever; nothing left out.
fn meanings<'l>(pages: impl Iterator<Item = &'l LayoutPage>) -> Vec<String> {
    let mut all: Vec<String> = pages
        .flat_map(|page| (0..page.format().pockets()).map(|pocket| page.meaning(pocket)))
        .filter(|meaning| *meaning != Meaning::Nothing)
        .map(|meaning| format!("{meaning:?}"))
        .collect();
    all.sort();
    all
}

fn meant(of: &Collection, ground: Ground) -> Vec<String> {
    if ground.is_real() {
        return meanings(of.shelf().flat_map(|binder| &binder.layout().pages));
    }
    meanings(ground.layout(of).unwrap().pages.iter())
}

/// All but the drafts.
fn in_force(of: &Collection) -> String {
    let mut bare = of.clone();
    for binder in of.shelf() {
        for (at, draft) in binder.drafts().iter().enumerate().rev() {
            let drop = Change::DropDraft {
                binder: binder.id(),
                at,
                draft: Box::new(draft.clone()),
            };
            drop.apply(&mut bare).unwrap();
        }
    }
    state(&bare)
}

/// Whether a card of a shared pocket's back is touched while another lies in front of it.
fn reaches_behind(of: &Collection, changes: &[Change]) -> bool {
    let mut now = of.clone();
    changes.iter().any(|change| {
        let behind = match change {
            Change::Lift { place, .. } | Change::Seat { place, .. } => {
                let binder = now.binder(place.binder).unwrap();
                in_front(binder.pages()[place.page].format(), *place)
            }
            _ => None,
        };
        let in_the_way = behind.is_some_and(|front| now.held(front).is_some());
        change.apply(&mut now).unwrap();
        in_the_way
    })
}

fn in_front(format: PageFormat, place: Place) -> Option<Place> {
    let back = format.at(place.pocket)?.side == Side::Back;
    (format.shared && back).then(|| Place {
        pocket: place.pocket - format.per_side(),
        ..place
    })
}

fn check(before: &Collection, after: &Collection, deed: &Deed) {
    let name = deed.name;
    assert_eq!(after.check(), vec![], "{name}");
    assert_eq!(copies(after), copies(before), "{name}");
    let (old, new) = (pages(before), pages(after));
    if deed.kind != Kind::Shape {
        assert!(old.keys().eq(new.keys()), "{name} keeps every page");
    }
    if deed.kind == Kind::Pages && deed.rings {
        assert_eq!(old, new, "{name} leaves every card in its pocket");
    }
    if matches!(deed.kind, Kind::Carry | Kind::Pages) {
        let was = misplaced(before);
        for (printing, now) in misplaced(after) {
            let was = was.get(&printing).copied().unwrap_or(0);
            assert!(now <= was, "{name} misplaces {printing:?}");
        }
        assert_eq!(
            meant(after, deed.ground),
            meant(before, deed.ground),
            "{name}"
        );
    }
    if !deed.ground.is_real() && deed.kind != Kind::Adopt {
        assert_eq!(in_force(after), in_force(before), "{name} is in a draft");
    }
}

/// "…. u takes it back." is what follows it.
fn reads_well(label: &str) -> bool {
    let ends = label.ends_with(|c: char| c.is_alphanumeric() || "!”".contains(c));
    ends && !label.contains("  ") && !label.contains('\n')
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn deeds_conserve_copies_keep_pages_misplace_nothing_and_are_undone(mut dice in dice()) {
        let shelf = shelf::shelf(&mut dice);
        let mut session = Session::in_memory(shelf.collection);
        let mut states = vec![state(session.collection())];
        while !dice.is_spent() {
            let before = session.collection().clone();
            let deed = deed(&before, &mut dice);
            let Ok(step) = deed.step.clone() else {
                continue;
            };
            prop_assert!(!step.changes.is_empty(), "{} does nothing", deed.name);
            prop_assert!(reads_well(&step.label), "{}", step.label);
            prop_assert!(!reaches_behind(&before, &step.changes), "{}", deed.name);
            let taken = session.commit(step);
            prop_assert!(taken.is_ok(), "{}: {:?}", deed.name, taken);
            check(&before, session.collection(), &deed);
            states.push(state(session.collection()));
        }
        for state_then in states.iter().rev() {
            prop_assert_eq!(&state(session.collection()), state_then);
            session.undo().unwrap();
        }
        for state_then in &states[1..] {
            session.redo().unwrap();
            prop_assert_eq!(&state(session.collection()), state_then);
        }
    }
}

/// Without this, the property above could hold because hardly anything can be done.
#[test]
fn every_deed_is_done_many_times_on_real_binders_and_on_drafts() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;

    let mut runner = TestRunner::deterministic();
    let mut done: BTreeMap<(&str, bool), usize> = BTreeMap::new();
    let mut refused: BTreeMap<String, usize> = BTreeMap::new();
    for _ in 0..96 {
        let mut dice = dice().new_tree(&mut runner).unwrap().current();
        let mut collection = shelf::shelf(&mut dice).collection;
        while !dice.is_spent() {
            let deed = deed(&collection, &mut dice);
            match deed.step {
                Ok(step) => {
                    Change::apply_all(&step.changes, &mut collection).unwrap();
                    *done.entry((deed.name, deed.ground.is_real())).or_default() += 1;
                }
                Err(why) => *refused.entry(why.to_string()).or_default() += 1,
            }
        }
    }
    for (name, on_real, on_draft) in deeds::ALL {
        for (real, wanted) in [(true, on_real), (false, on_draft)] {
            let times = done.get(&(name, real)).copied().unwrap_or(0);
            assert_eq!(
                times >= 5,
                wanted,
                "{name} {real}: {times} in {done:?}, {refused:?}"
            );
        }
    }
    assert!(refused.len() > 30, "{refused:?}");
}
