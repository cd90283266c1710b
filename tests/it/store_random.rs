//! Properties of the model and the codec over random steps of all changes.

use proptest::prelude::*;
use ringbound::model::{Change, Collection, SetHead, SetId};
use ringbound::store;

use crate::support::changes::{step, stray};
use crate::support::dice::Dice;
use crate::support::world::state;

/// Rolls for some thirty steps.
fn dice() -> impl Strategy<Value = Dice> {
    prop::collection::vec(any::<u32>(), 0..600).prop_map(Dice::new)
}

fn copies(of: &Collection) -> u64 {
    let sets = of.sets();
    sets.flat_map(|(id, set)| set.printings(id).map(|printing| set.tally(printing)))
        .map(|tally| u64::from(tally.copies()))
        .sum()
}

fn brings(change: &Change) -> i64 {
    match change {
        Change::Acquire { count, .. } => i64::from(*count),
        Change::PartWith { count, .. } => -i64::from(*count),
        _ => 0,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    /// "Copies are conserved", "can be undone", "refuses stale ground": the model's own promises.
    #[test]
    fn every_change_conserves_copies_keeps_the_counts_and_is_undone_exactly(mut dice in dice()) {
        let mut collection = Collection::new();
        while !dice.is_spent() {
            let before = state(&collection);
            let changes = step(&collection, &mut dice);
            let had = copies(&collection) as i64;
            match Change::apply_all(&changes, &mut collection) {
                Ok(()) => {
                    let brought: i64 = changes.iter().map(brings).sum();
                    prop_assert_eq!(copies(&collection) as i64, had + brought);
                    let after = state(&collection);
                    let back: Vec<_> = changes.iter().rev().map(Change::inverse).collect();
                    prop_assert!(Change::apply_all(&back, &mut collection).is_ok());
                    prop_assert_eq!(&state(&collection), &before);
                    prop_assert!(Change::apply_all(&changes, &mut collection).is_ok());
                    prop_assert_eq!(state(&collection), after);
                }
                Err(_) => prop_assert_eq!(state(&collection), before),
            }
            prop_assert_eq!(collection.check(), vec![]);
        }
    }

    #[test]
    fn a_change_that_is_refused_alters_nothing(mut dice in dice()) {
        let mut collection = Collection::new();
        while !dice.is_spent() {
            let changes = step(&collection, &mut dice);
            // Whether it fits is looked at above; here it makes the ground.
            drop(Change::apply_all(&changes, &mut collection));
            for _ in 0..3 {
                let change = stray(&collection, &mut dice);
                let before = state(&collection);
                if change.apply(&mut collection).is_err() {
                    prop_assert_eq!(state(&collection), before);
                } else {
                    prop_assert!(change.inverse().apply(&mut collection).is_ok());
                    prop_assert_eq!(state(&collection), before);
                }
                prop_assert_eq!(collection.check(), vec![]);
            }
        }
    }

    #[test]
    fn the_text_of_a_step_takes_it_and_takes_it_back(mut dice in dice()) {
        let mut collection = Collection::new();
        while !dice.is_spent() {
            let mut twin = collection.clone();
            let before = state(&collection);
            let changes = step(&collection, &mut dice);
            let Ok(text) = store::apply(&changes, &mut collection) else {
                prop_assert_eq!(state(&collection), before);
                continue;
            };
            let after = state(&collection);
            prop_assert_eq!(store::redo(&text, &mut twin), Ok(changes.clone()));
            prop_assert_eq!(&state(&twin), &after);
            prop_assert_eq!(store::undo(&text, &mut twin), Ok(changes.clone()));
            prop_assert_eq!(state(&twin), before);
        }
    }

    #[test]
    fn a_snapshot_reads_back_as_the_same_bytes(mut dice in dice()) {
        let mut collection = Collection::new();
        while !dice.is_spent() {
            let changes = step(&collection, &mut dice);
            let fits = Change::apply_all(&changes, &mut collection).is_ok();
            let written = state(&collection);
            let read = store::read_snapshot(written.as_bytes());
            let read = read.map_err(|error| TestCaseError::fail(format!("{error}\n{written}")))?;
            prop_assert!(!read.is_altered);
            prop_assert_eq!(read.collection.check(), vec![]);
            prop_assert_eq!(state(&read.collection), written, "{}", fits);
        }
    }
}

/// Without this, the properties above could hold because hardly anything happens.
#[test]
fn random_steps_make_every_change_and_most_of_them_fit() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    use std::collections::BTreeMap;

    let mut runner = TestRunner::deterministic();
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let (mut fits, mut all) = (0, 0);
    for _ in 0..200 {
        let mut dice = dice().new_tree(&mut runner).unwrap().current();
        let mut collection = Collection::new();
        while !dice.is_spent() {
            let changes = step(&collection, &mut dice);
            all += 1;
            if Change::apply_all(&changes, &mut collection).is_ok() {
                fits += 1;
                for change in &changes {
                    let kind = |change: &Change| {
                        let told = format!("{change:?}");
                        told.split([' ', '{']).next().unwrap_or_default().to_owned()
                    };
                    let name = match change {
                        Change::InDraft { change, .. } => format!("in a draft {}", kind(change)),
                        change => kind(change),
                    };
                    *seen.entry(name).or_default() += 1;
                }
            }
        }
    }
    assert!(fits * 10 > all * 9, "{fits} of {all}");
    assert_eq!(seen.len(), 38, "{seen:?}");
    assert!(seen.values().all(|times| *times >= 5), "{seen:?}");
}

/// A journal may tell of a last set without its place and number.
#[test]
fn the_last_set_goes_and_comes_without_its_place_being_told() {
    let head = |code: &str| {
        Box::new(SetHead {
            code: code.into(),
            ..SetHead::default()
        })
    };
    let mut collection = Collection::new();
    for (at, code) in ["FEN", "MOOR"].into_iter().enumerate() {
        let set = SetId(at as u16);
        let add = Change::AddSet {
            set,
            at,
            head: head(code),
        };
        let text = store::apply(std::slice::from_ref(&add), &mut collection).unwrap();
        assert!(text.starts_with("[{\"add_set\":"), "{text}");
        let before = state(&collection);
        let drop = text.replace("add_set", "drop_set");
        let dropped = store::redo(&drop, &mut collection).unwrap();
        assert_eq!(dropped, [add.inverse()]);
        assert_eq!(store::undo(&drop, &mut collection).unwrap(), dropped);
        assert_eq!(state(&collection), before);
    }
}
