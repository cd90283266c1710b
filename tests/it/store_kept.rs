//! One suite over every store: what is committed is there after opening again.

use proptest::prelude::*;
use ringbound::model::{Change, Collection, Step};
use ringbound::session::{Access, Session, SessionError};
use ringbound::store::{History, MemoryStore};

use crate::support::changes;
use crate::support::dice::Dice;
use crate::support::kept::{Folder, FolderInMemory, Memory, Place};
use crate::support::world::{acquire, collection, moss, state, steps};

/// The same test over a folder, over one on a disk in memory, and over its memory twin.
macro_rules! over_every_store {
    ($($test:ident),* $(,)?) => {
        mod in_a_folder {
            $(#[test] fn $test() { super::$test::<super::Folder>(); })*
        }
        mod in_a_folder_in_memory {
            $(#[test] fn $test() { super::$test::<super::FolderInMemory>(); })*
        }
        mod in_memory {
            $(#[test] fn $test() { super::$test::<super::Memory>(); })*
        }
    };
}

over_every_store!(
    a_new_place_is_an_empty_collection,
    what_was_committed_is_there_after_opening_again,
    undo_and_redo_reach_back_over_opening_and_new_snapshots,
    a_new_step_ends_what_could_be_redone,
    a_refused_step_keeps_nothing,
    a_step_without_changes_does_nothing,
    an_import_is_one_step,
    a_new_snapshot_carries_the_newest_thousand_steps_and_says_so,
    random_steps_undone_redone_and_opened_again_give_the_same_states,
    a_set_that_was_given_up_comes_back_in_its_place,
);

fn labels(told: impl Iterator<Item = ringbound::session::PastStep>) -> Vec<String> {
    told.map(|told| told.label).collect()
}

fn a_new_place_is_an_empty_collection<P: Place>() {
    let session = P::default().open();
    assert_eq!(state(session.collection()), state(&Collection::new()));
    assert_eq!(session.last_done(), None);
    assert_eq!(session.last_undone(), None);
    assert!(!session.is_history_cut());
}

fn what_was_committed_is_there_after_opening_again<P: Place>() {
    let place = P::default();
    let mut session = place.open();
    for (done, step) in steps().into_iter().enumerate() {
        assert_eq!(session.revision(), done as u64);
        session.commit(step).unwrap();
    }
    session.close().unwrap();
    let session = place.open();
    assert_eq!(state(session.collection()), state(&collection()));
    assert_eq!(session.collection().check(), vec![]);
    assert_eq!(
        labels(session.done()),
        ["some cards", "a binder", "two sets"]
    );
}

fn undo_and_redo_reach_back_over_opening_and_new_snapshots<P: Place>() {
    let place = P::default();
    let mut session = place.open();
    let mut states = vec![state(session.collection())];
    for step in steps() {
        session.commit(step).unwrap();
        states.push(state(session.collection()));
    }
    session.undo().unwrap();
    session.rewrite().unwrap();
    drop(session);
    for expected in states[..2].iter().rev() {
        let mut session = place.open();
        session.undo().unwrap().unwrap();
        assert_eq!(state(session.collection()), *expected);
        session.rewrite().unwrap();
    }
    let mut session = place.open();
    assert_eq!(session.undo().unwrap(), None);
    assert_eq!(
        labels(session.undone()),
        ["two sets", "a binder", "some cards"]
    );
    drop(session);
    for (expected, step) in states[1..].iter().zip(steps()) {
        let mut session = place.open();
        assert_eq!(session.redo().unwrap().unwrap().label, step.label);
        assert_eq!(state(session.collection()), *expected);
    }
    assert_eq!(place.open().redo().unwrap(), None);
}

fn a_new_step_ends_what_could_be_redone<P: Place>() {
    let place = P::default();
    let mut session = place.open();
    for step in steps() {
        session.commit(step).unwrap();
    }
    session.undo().unwrap();
    session.commit(acquire(moss(1, 0), 2)).unwrap();
    assert_eq!(session.last_undone(), None);
    drop(session);
    let mut session = place.open();
    assert_eq!(session.redo().unwrap(), None);
    assert_eq!(labels(session.done()), ["2 copies", "a binder", "two sets"]);
}

fn a_refused_step_keeps_nothing<P: Place>() {
    let place = P::default();
    let mut session = place.open();
    for step in steps() {
        session.commit(step).unwrap();
    }
    let (before, revision) = (state(session.collection()), session.revision());
    let half = vec![
        Change::Acquire {
            printing: moss(1, 0),
            count: 1,
        },
        Change::PartWith {
            printing: moss(1, 0),
            count: 2,
        },
    ];
    let refused = session.commit(Step::new("too many", half));
    assert!(
        matches!(refused, Err(SessionError::Refused(_))),
        "{refused:?}"
    );
    assert_eq!(state(session.collection()), before);
    assert_eq!(session.revision(), revision);
    drop(session);
    assert_eq!(state(place.open().collection()), before);
}

fn a_step_without_changes_does_nothing<P: Place>() {
    let mut session = P::default().open();
    session.commit(Step::new("nothing", Vec::new())).unwrap();
    assert_eq!((session.revision(), session.last_done()), (0, None));
}

/// Whichever of the sets it is, and whatever else is kept and read in between.
fn a_set_that_was_given_up_comes_back_in_its_place<P: Place>() {
    let sets = collection().sets().len();
    assert!(sets > 1);
    for at in 0..sets {
        let place = P::default();
        let mut session = place.open();
        for step in steps() {
            session.commit(step).unwrap();
        }
        let whole = state(session.collection());
        let (id, set) = session.collection().sets().nth(at).unwrap();
        let code = set.code().to_owned();
        let given_up = ringbound::hand::give_up(session.collection(), id).unwrap();
        session.commit(given_up.step).unwrap();
        assert!(session.collection().set_by_code(&code).is_none());
        let without = state(session.collection());
        session.close().unwrap();
        let mut session = place.open();
        assert_eq!(state(session.collection()), without);
        session.undo().unwrap();
        assert_eq!(state(session.collection()), whole, "{code}");
        session.close().unwrap();
        let mut session = place.open();
        assert_eq!(state(session.collection()), whole, "{code}");
        session.redo().unwrap();
        assert_eq!(state(session.collection()), without, "{code}");
    }
}

fn an_import_is_one_step<P: Place>() {
    let place = P::default();
    let mut session = place.open();
    session.commit(crate::support::world::sets()).unwrap();
    let before = state(session.collection());
    let printing = moss(0, 0);
    let many = (0..2_000).map(|_| Change::Acquire { printing, count: 1 });
    session
        .commit(Step::new("an import", many.collect()))
        .unwrap();
    drop(session);
    let mut session = place.open();
    assert_eq!(session.collection().tally(printing).loose, 2_000);
    assert_eq!(session.undo().unwrap().unwrap().label, "an import");
    assert_eq!(state(session.collection()), before);
}

fn a_new_snapshot_carries_the_newest_thousand_steps_and_says_so<P: Place>() {
    let place = P::default();
    let mut session = place.open();
    session.commit(crate::support::world::sets()).unwrap();
    for _ in 0..History::MOST_STEPS {
        session.commit(acquire(moss(0, 0), 1)).unwrap();
    }
    assert!(!session.is_history_cut());
    session.rewrite().unwrap();
    drop(session);
    let mut session = place.open();
    assert!(session.is_history_cut());
    assert_eq!(session.done().count(), History::MOST_STEPS);
    assert_eq!(session.collection().tally(moss(0, 0)).loose, 1_000);
    while session.undo().unwrap().is_some() {}
    assert_eq!(session.collection().tally(moss(0, 0)).loose, 0);
    assert_eq!(session.collection().sets().len(), 2);
}

/// What a session should be: the states that its steps made, and how many are undone.
struct Expected {
    states: Vec<String>,
    at: usize,
}

fn random_steps_undone_redone_and_opened_again_give_the_same_states<P: Place>() {
    let rolls = prop::collection::vec(any::<u32>(), 200..900);
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        cases: 24,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let result = runner.run(&rolls, |rolls| {
        let place = P::default();
        let mut session = place.open();
        let mut expected = Expected {
            states: vec![state(session.collection())],
            at: 0,
        };
        let mut dice = Dice::new(rolls);
        while !dice.is_spent() {
            session = act(&place, session, &mut expected, &mut dice);
            let now = state(session.collection());
            prop_assert_eq!(&now, &expected.states[expected.at]);
            prop_assert_eq!(session.done().count(), expected.at);
            let undone = expected.states.len() - 1 - expected.at;
            prop_assert_eq!(session.undone().count(), undone);
            prop_assert_eq!(session.collection().check(), vec![]);
        }
        Ok(())
    });
    result.unwrap();
}

fn act<P: Place>(
    place: &P,
    mut session: Session,
    expected: &mut Expected,
    dice: &mut Dice,
) -> Session {
    match dice.below(10) {
        0 => {
            drop(session);
            return place.open();
        }
        1 => session.rewrite().unwrap(),
        2 | 3 => {
            let told = session.undo().unwrap();
            assert_eq!(told.is_some(), expected.at > 0);
            expected.at -= usize::from(told.is_some());
        }
        4 => {
            let told = session.redo().unwrap();
            assert_eq!(told.is_some(), expected.at + 1 < expected.states.len());
            expected.at += usize::from(told.is_some());
        }
        _ => {
            let changes = changes::step(session.collection(), dice);
            let is_empty = changes.is_empty();
            let kept = session.commit(Step::new("a step \u{2028}\n\"", changes));
            if kept.is_ok() && !is_empty {
                expected.states.truncate(expected.at + 1);
                expected.states.push(state(session.collection()));
                expected.at += 1;
            }
        }
    }
    session
}

type Act = fn(&mut Session) -> Result<(), SessionError>;

/// What the store cannot keep is taken back, and nothing more is taken: the planted failure of a
/// full disk.
#[test]
fn a_step_that_cannot_be_kept_is_taken_back_and_nothing_more_is_taken() {
    for good in 0..5 {
        let store = MemoryStore::failing_after(good);
        let mut session = Session::over(Box::new(store), Collection::new(), History::default());
        let mut before = state(session.collection());
        let acts: [Act; 6] = [
            |session| session.commit(crate::support::world::sets()),
            |session| session.commit(acquire(moss(0, 0), 1)),
            |session| session.undo().map(drop),
            |session| session.redo().map(drop),
            |session| session.commit(crate::support::world::binder()),
            |session| session.undo().map(drop),
        ];
        for (done, act) in acts.into_iter().enumerate() {
            let revision = session.revision();
            let result = act(&mut session);
            if done < good {
                result.unwrap();
                before = state(session.collection());
                continue;
            }
            match result {
                Err(SessionError::NotKept(_)) => assert_eq!(done, good),
                Err(SessionError::ReadOnly(_)) => assert!(done > good),
                // Where there is nothing to undo or redo, nothing has to be kept.
                Ok(()) if done == 3 => assert_eq!(session.last_undone(), None),
                Ok(()) => {
                    assert!(done == 2 || done == 5, "{done}");
                    assert_eq!(session.last_done(), None);
                }
                Err(SessionError::Refused(refused)) => panic!("{refused}"),
            }
            assert_eq!(state(session.collection()), before);
            assert_eq!(session.revision(), revision);
            assert!(matches!(session.access(), Access::ReadOnly(_)));
        }
    }
}
