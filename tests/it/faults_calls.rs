//! Every call to the file system fails: the first, the second, and so on to the last; once, and
//! from then on for ever. After "How SQLite Is Tested", sections 3.2 and 3.3: a failure is planted
//! at each call in turn, until the whole passes without meeting it.

use std::cell::Cell;
use std::io;
use std::path::Path;
use std::rc::Rc;

use ringbound::session::{Access, Session};
use ringbound::store::files::Files;

use crate::support::files::{InMemory, Op, Watched};
use crate::support::script::{self, Came, FOLDER, play, recovered, session, states};
use crate::support::world::{acquire, moss, state};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum How {
    Once,
    FromThenOn,
}

/// A disk in memory, and the same one with a failure at the `at`th call.
fn failing(at: usize, how: How, kind: io::ErrorKind) -> (Rc<dyn Files>, Watched) {
    let disk: Rc<dyn Files> = Rc::new(InMemory::default());
    let watched = Watched::planned(disk.clone(), move |call| {
        if call == at || how == How::FromThenOn && call > at {
            Err(kind.into())
        } else {
            Ok(())
        }
    });
    (disk, watched)
}

/// What was not kept is not shown, and nothing more is taken.
fn ensure_told(came: &mut Came, states: &[String], watched: &Watched) {
    let kept = came.kept;
    let Some(session) = &mut came.session else {
        return;
    };
    assert_eq!(state(session.collection()), states[kept], "shown as kept");
    if came.failed.is_none() {
        return;
    }
    let Access::ReadOnly(why) = session.access() else {
        panic!("writes on after a failure");
    };
    assert!(!why.is_empty());
    let before = watched.calls();
    assert!(session.commit(acquire(moss(0, 0), 1)).is_err());
    assert!(session.rewrite().is_err());
    assert_eq!(watched.calls(), before, "the disk is left alone");
}

/// Takes one more step and finds it again.
fn ensure_goes_on(mut session: Session, files: &Rc<dyn Files>) {
    let step = || acquire(moss(0, 0), 1);
    // An empty collection has no such card.
    let took = session.commit(step()).is_ok();
    let now = state(session.collection());
    drop(session);
    let session = script::on(files, Path::new(FOLDER)).unwrap();
    assert_eq!(state(session.collection()), now);
    assert_eq!(
        session
            .last_done()
            .is_some_and(|told| told.label == step().label),
        took
    );
}

fn fail_each_call(how: How, kind: io::ErrorKind) -> usize {
    let acts = session();
    let states = states(&acts);
    let (mut at, mut failed) = (0, 0);
    loop {
        at += 1;
        let (disk, watched) = failing(at, how, kind);
        let under: Rc<dyn Files> = Rc::new(watched.clone());
        let mut came = play(&acts, &under, Path::new(FOLDER), |_, _| {});
        if watched.calls() < at {
            break;
        }
        failed += usize::from(came.failed.is_some());
        ensure_told(&mut came, &states, &watched);
        let kept = came.kept;
        drop(came);
        let opened = recovered(&disk, Path::new(FOLDER), &states, kept);
        let (_, session) = opened.unwrap_or_else(|why| panic!("call {at} {how:?}: {why}"));
        ensure_goes_on(session, &disk);
    }
    assert!(failed > 20, "hardly any call mattered");
    at - 1
}

#[test]
fn a_call_that_fails_once_loses_nothing_that_was_kept() {
    let full = fail_each_call(How::Once, io::ErrorKind::StorageFull);
    println!("calls failed once: {full}");
}

#[test]
fn a_disk_that_fails_from_some_call_on_loses_nothing_that_was_kept() {
    let full = fail_each_call(How::FromThenOn, io::ErrorKind::StorageFull);
    let broken = fail_each_call(How::FromThenOn, io::ErrorKind::Other);
    println!("calls failed from then on: {}", full + broken);
}

/// A second failure while what the first one left is read and mended.
#[test]
fn a_call_that_fails_during_recovery_loses_nothing_either() {
    let acts = session();
    let states = states(&acts);
    let mut recoveries = 0;
    for first in (1..).step_by(7) {
        let mut second = 0;
        let more = loop {
            second += 1;
            let (disk, watched) = failing(first, How::FromThenOn, io::ErrorKind::StorageFull);
            let under: Rc<dyn Files> = Rc::new(watched.clone());
            let kept = play(&acts, &under, Path::new(FOLDER), |_, _| {}).kept;
            let more = watched.calls() >= first;
            let mending = Watched::planned(disk.clone(), move |call| match call >= second {
                true => Err(io::ErrorKind::Other.into()),
                false => Ok(()),
            });
            drop(script::on(
                &(Rc::new(mending.clone()) as Rc<dyn Files>),
                Path::new(FOLDER),
            ));
            recoveries += 1;
            let opened = recovered(&disk, Path::new(FOLDER), &states, kept);
            opened.unwrap_or_else(|why| panic!("call {first}, then {second}: {why}"));
            if mending.calls() < second {
                break more;
            }
        };
        if !more {
            break;
        }
    }
    println!("recoveries that failed: {recoveries}");
}

/// "A failed sync is not tried again": Rebello and others, "Can Applications Recover from fsync
/// Failures?", USENIX ATC 2020. What is synced after it is what takes the step out again.
#[test]
fn a_sync_that_failed_is_not_tried_again_and_its_step_is_taken_out() {
    let disk: Rc<dyn Files> = Rc::new(InMemory::default());
    let fail = Rc::new(Cell::new(usize::MAX));
    let at = fail.clone();
    let watched = Watched::planned(disk.clone(), move |call| match call == at.get() {
        true => Err(io::ErrorKind::Other.into()),
        false => Ok(()),
    });
    let under: Rc<dyn Files> = Rc::new(watched.clone());
    let acts = &session()[..2];
    let mut session = play(acts, &under, Path::new(FOLDER), |_, _| {})
        .session
        .unwrap();
    // One call writes the record, the next one syncs it.
    fail.set(watched.calls() + 2);
    let before = watched.changes();
    assert!(session.commit(acquire(moss(0, 0), 1)).is_err());
    let ops = watched.ops();
    let done: Vec<_> = ops[before..].iter().collect();
    assert!(
        matches!(
            done[..],
            [Op::Write { .. }, Op::Truncate { .. }, Op::Sync { .. }]
        ),
        "{done:?}"
    );
    drop(session);
    let session = script::on(&disk, Path::new(FOLDER)).unwrap();
    assert_eq!(session.done().count(), 2);
}

/// The hot path: a step is one write and one sync, whatever the size of the collection.
#[test]
fn keeping_a_step_is_one_write_and_one_sync() {
    let watched = Watched::new(Rc::new(InMemory::default()));
    let under: Rc<dyn Files> = Rc::new(watched.clone());
    let mut session = play(&session()[..3], &under, Path::new(FOLDER), |_, _| {})
        .session
        .unwrap();
    let (calls, changes) = (watched.calls(), watched.changes());
    session.commit(acquire(moss(0, 0), 1)).unwrap();
    assert_eq!(watched.calls(), calls + 2);
    assert!(matches!(
        watched.ops()[changes..],
        [Op::Write { .. }, Op::Sync { .. }]
    ));
}
