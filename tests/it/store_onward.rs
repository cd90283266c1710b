//! A collection whose history was cut, and whose snapshot was then altered, damaged or exchanged:
//! it is as it was where all of it is kept, and what is not kept is told. And the power is lost
//! while one goes on from such damage.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use ringbound::model::Step;
use ringbound::session::{Access, Notice, Open, Session, StoreError};
use ringbound::store::files::Files;

use crate::support::files::{InMemory, Op, Watched};
use crate::support::kept::clock;
use crate::support::power::{Held, Power, disk, hash};
use crate::support::script::FOLDER;
use crate::support::world::{acquire, moss, sets, state};

/// What is done behind the last but one snapshot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Behind {
    Steps,
    /// A step is undone and another one done, so that the first leaves nothing but its number.
    Undo,
}

struct Shelf {
    disk: InMemory,
    now: String,
    steps: usize,
}

fn open(disk: &InMemory, how: Open) -> Result<(Session, Vec<Notice>), StoreError> {
    on(Rc::new(disk.clone()), how)
}

fn on(files: Rc<dyn Files>, how: Open) -> Result<(Session, Vec<Notice>), StoreError> {
    Session::open_on(files, Path::new(FOLDER), how, clock())
}

fn path(name: &str) -> PathBuf {
    Path::new(FOLDER).join(name)
}

impl Shelf {
    /// With more steps than are carried.
    fn cut(behind: Behind) -> Self {
        Self::with(1_005, 30, behind)
    }

    /// So many steps, a snapshot, so many more, a snapshot, and 3 steps.
    fn with(steps: usize, more_steps: usize, behind: Behind) -> Self {
        let disk = InMemory::default();
        let (mut session, notices) = open(&disk, Open::ForWriting).unwrap();
        assert_eq!(notices, []);
        session.commit(sets()).unwrap();
        let more = |session: &mut Session, steps| {
            for number in 0..steps {
                let step = Step::new(format!("step {number}"), acquire(moss(0, 0), 1).changes);
                session.commit(step).unwrap();
            }
        };
        more(&mut session, steps);
        session.rewrite().unwrap();
        more(&mut session, more_steps);
        if behind == Behind::Undo {
            session.undo().unwrap().unwrap();
            more(&mut session, 1);
        }
        session.rewrite().unwrap();
        more(&mut session, 3);
        Self {
            now: state(session.collection()),
            steps: session.done().count(),
            disk,
        }
    }

    fn read(&self, name: &str) -> Vec<u8> {
        let files = self.disk.files();
        let found = files.into_iter().find(|(there, _)| *there == path(name));
        found.unwrap().1
    }

    /// The newest of them.
    fn older(&self) -> (PathBuf, Vec<u8>) {
        let files = self.disk.files().into_iter();
        let older = files.filter(|(there, _)| there.starts_with(path("older")));
        older
            .max_by_key(|(there, _)| (there.as_os_str().len(), there.clone()))
            .unwrap()
    }

    /// By hand: five copies in the place of those that there are.
    fn edit(&self) {
        let text = String::from_utf8(self.read("collection.json")).unwrap();
        let place = text.find("\"MIR:1\",").unwrap() + 8;
        let end = place + text[place..].find(']').unwrap();
        let edited = format!("{}5{}", &text[..place], &text[end..]);
        assert_ne!(edited, text);
        self.disk.put(&path("collection.json"), edited);
    }

    fn ensure_as_it_was(&self, session: &Session) {
        assert_eq!(state(session.collection()), self.now);
        assert_eq!(session.done().count(), self.steps);
    }

    /// It is written to, closed and opened again, and undone step by step as far as it goes.
    fn ensure_goes_on(&self) {
        let (mut session, notices) = open(&self.disk, Open::ForWriting).unwrap();
        assert_eq!(notices, []);
        self.ensure_as_it_was(&session);
        session.commit(acquire(moss(1, 0), 1)).unwrap();
        let now = state(session.collection());
        drop(session);
        let (mut session, notices) = open(&self.disk, Open::ForWriting).unwrap();
        assert_eq!(notices, []);
        assert_eq!(state(session.collection()), now);
        let mut undone = 0;
        while session.undo().unwrap().is_some() {
            undone += 1;
        }
        assert_eq!(undone, self.steps + 1);
        assert_eq!(session.collection().check(), []);
    }
}

#[test]
fn an_edit_is_put_back_with_every_step_though_the_history_was_cut() {
    for behind in [Behind::Steps, Behind::Undo] {
        let shelf = Shelf::cut(behind);
        shelf.edit();
        let (session, notices) = open(&shelf.disk, Open::PutBack).unwrap();
        assert!(
            matches!(&notices[..], [Notice::PutBack { aside }] if aside.len() == 2),
            "{notices:?}"
        );
        assert_eq!(session.access(), Access::Writable);
        shelf.ensure_as_it_was(&session);
        drop(session);
        shelf.ensure_goes_on();
    }
}

#[test]
fn what_cannot_be_put_back_whole_is_refused_and_what_would_be_lost_is_told() {
    let shelf = Shelf::cut(Behind::Undo);
    shelf.edit();
    // The checksum of the snapshot alone tells that the steps since are all.
    let text = String::from_utf8(shelf.read("collection.json")).unwrap();
    let (text, _) = text.rsplit_once("\"sum\"").unwrap();
    shelf.disk.put(
        &path("collection.json"),
        format!("{text}\"sum\":\"00000000\"}}\n"),
    );
    let before = shelf.disk.files();
    let error = open(&shelf.disk, Open::PutBack).unwrap_err().to_string();
    assert!(
        error.contains("the 35 steps since would be lost"),
        "{error}"
    );
    assert_eq!(shelf.disk.files(), before);
    // Without any other state.
    shelf.disk.remove(&shelf.older().0).unwrap();
    let error = open(&shelf.disk, Open::PutBack).unwrap_err().to_string();
    assert!(error.contains("no earlier state is kept"), "{error}");
}

#[test]
fn a_lost_or_damaged_snapshot_costs_no_step_though_the_history_was_cut() {
    for lost in [true, false] {
        let shelf = Shelf::cut(Behind::Steps);
        match lost {
            true => shelf.disk.remove(&path("collection.json")).unwrap(),
            false => shelf.disk.put(&path("collection.json"), "{\"format\":"),
        }
        let before = shelf.disk.files();
        let (session, notices) = open(&shelf.disk, Open::ForReading).unwrap();
        let [
            notice @ Notice::OlderOffered {
                since: 33,
                lost: Some(0),
                ..
            },
        ] = &notices[..]
        else {
            panic!("{notices:?}");
        };
        assert!(
            notice.to_string().contains("with the 33 steps since"),
            "{notice}"
        );
        shelf.ensure_as_it_was(&session);
        drop(session);
        assert_eq!(shelf.disk.files(), before);
        let how = if lost { Open::AsOffered } else { Open::PutBack };
        drop(open(&shelf.disk, how).unwrap());
        shelf.ensure_goes_on();
    }
}

/// What is not proven to be all is not shown as if it were.
#[test]
fn steps_that_are_missing_behind_an_older_snapshot_are_counted() {
    let shelf = Shelf::cut(Behind::Undo);
    shelf.disk.put(&path("collection.json"), "x");
    let (session, notices) = open(&shelf.disk, Open::ForReading).unwrap();
    let [
        notice @ Notice::OlderOffered {
            since: 0,
            lost: Some(35),
            ..
        },
    ] = &notices[..]
    else {
        panic!("{notices:?}");
    };
    assert!(
        notice.to_string().contains("without the 35 steps since"),
        "{notice}"
    );
    assert_eq!(session.collection().tally(moss(0, 0)).copies(), 1_005);
    let error = open(&shelf.disk, Open::PutBack).unwrap_err().to_string();
    assert!(
        error.contains("the 35 steps since would be lost"),
        "{error}"
    );
    // An older one of another collection does not pass for one of this.
    let (older, _) = shelf.older();
    let (other, bytes) = Shelf::with(1_004, 30, Behind::Steps).older();
    shelf.disk.remove(&older).unwrap();
    shelf.disk.put(&other, bytes);
    let (session, _) = open(&shelf.disk, Open::ForReading).unwrap();
    assert_eq!(session.collection().tally(moss(0, 0)).copies(), 1_004);
}

/// A part of a backup that was copied back.
#[test]
fn under_a_snapshot_of_an_earlier_time_the_newest_whole_state_is_shown() {
    let shelf = Shelf::cut(Behind::Steps);
    let first = Shelf::with(2, 30, Behind::Steps).older().1;
    for stale in [shelf.older().1, first] {
        shelf.disk.put(&path("collection.json"), stale);
        let (session, notices) = open(&shelf.disk, Open::ForWriting).unwrap();
        assert!(
            matches!(
                &notices[..],
                [Notice::OlderOffered {
                    since: 33,
                    lost: Some(0),
                    ..
                }]
            ),
            "{notices:?}"
        );
        assert!(matches!(session.access(), Access::ReadOnly(_)));
        shelf.ensure_as_it_was(&session);
    }
    drop(open(&shelf.disk, Open::AsOffered).unwrap());
    shelf.ensure_goes_on();
}

/// All that is on a disk, with the folders.
fn held(disk: &InMemory) -> Held {
    let mut held = Held::from([(PathBuf::from("/"), None)]);
    for (path, bytes) in disk.files() {
        let folders = path.ancestors().skip(1);
        held.extend(folders.map(|folder| (folder.to_owned(), None)));
        held.insert(path, Some(bytes));
    }
    held
}

/// What is found at the end of going on, and what was shown before it.
struct Expected {
    told: Vec<Notice>,
    was: (String, usize),
    now: (String, usize),
}

impl Expected {
    /// Goes on and gives all that this did to the disk.
    fn of(disk: &InMemory, how: Open) -> (Self, Vec<Op>, usize) {
        let (session, told) = open(disk, Open::ForReading).unwrap();
        let was = found(&session);
        drop(session);
        let watched = Watched::new(Rc::new(disk.clone()));
        let (session, _) = on(Rc::new(watched.clone()), how).unwrap();
        assert_eq!(session.access(), Access::Writable);
        let now = found(&session);
        drop(session);
        (Self { told, was, now }, watched.ops(), watched.calls())
    }

    /// It is as before, altered or damaged, or as it is when all went well, with its history; and
    /// the way on from there leads to the same.
    fn ensure(&self, disk: &InMemory, how: Open) {
        let (session, notices) = open(disk, Open::ForWriting).unwrap();
        let there = found(&session);
        drop(session);
        if there == self.now && notices.is_empty() {
            let (session, notices) = open(disk, Open::ForWriting).unwrap();
            assert_eq!((notices, session.access()), (vec![], Access::Writable));
            assert!(found(&session) == there);
            return;
        }
        assert_eq!(notices, self.told, "{how:?}");
        assert!(there == self.was, "{how:?}");
        let (session, _) = open(disk, how).unwrap();
        assert!(found(&session) == self.now, "{how:?}");
    }
}

fn found(session: &Session) -> (String, usize) {
    (state(session.collection()), session.done().count())
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Damage {
    None,
    Edited,
    Lost,
    Cut,
}

impl Shelf {
    fn damage(&self, damage: Damage) {
        match damage {
            Damage::None => {}
            Damage::Edited => self.edit(),
            Damage::Lost => self.disk.remove(&path("collection.json")).unwrap(),
            Damage::Cut => self.disk.put(&path("collection.json"), "{\"format\":"),
        }
    }
}

#[test]
fn no_loss_of_power_while_one_goes_on_from_damage_leaves_other_damage() {
    let mut looked_at = HashSet::new();
    for (damage, how) in [
        (Damage::Edited, Open::AsOffered),
        (Damage::Edited, Open::PutBack),
        (Damage::Edited, Open::Older(3)),
        (Damage::None, Open::Older(3)),
        (Damage::Lost, Open::AsOffered),
    ] {
        let shelf = Shelf::with(2, 2, Behind::Undo);
        shelf.damage(damage);
        let before = held(&shelf.disk);
        let (expected, ops, _) = Expected::of(&shelf.disk, how);
        let mut power = Power::holding(&before);
        for op in &ops {
            power.apply(op);
            let mut number = 0;
            power.states(|held, _| {
                number += 1;
                // A file that has no name yet is only ever removed, whatever is in it.
                let named = held.iter().map(|(path, bytes)| {
                    let is_temporary = path.extension().is_some_and(|end| end == "tmp");
                    (path, bytes.as_ref().filter(|_| !is_temporary))
                });
                let named: Vec<_> = named.collect();
                if (number < 12 || number % 61 == 0)
                    && looked_at.insert((format!("{how:?} {damage:?}"), hash(&named)))
                {
                    expected.ensure(&disk(&held), how);
                }
            });
        }
    }
    println!("looked at {} disks", looked_at.len());
    assert!(looked_at.len() > 200, "{}", looked_at.len());
}

/// The same with a history that was cut, for every call after which the process may end.
#[test]
fn no_end_of_the_process_while_one_goes_on_from_damage_leaves_other_damage() {
    let shelf = Shelf::cut(Behind::Steps);
    let whole = held(&shelf.disk);
    for (damage, how) in [
        (Damage::Edited, Open::AsOffered),
        (Damage::Edited, Open::PutBack),
        (Damage::Cut, Open::AsOffered),
    ] {
        shelf.disk.put(
            &path("collection.json"),
            whole[&path("collection.json")].clone().unwrap(),
        );
        shelf.damage(damage);
        let before = held(&shelf.disk);
        let (expected, _, calls) = Expected::of(&disk(&before), how);
        for last in 0..calls {
            let disk = disk(&before);
            let under = Rc::new(disk.clone());
            let watched = Watched::planned(under, move |call| match call > last {
                true => Err(std::io::ErrorKind::Other.into()),
                false => Ok(()),
            });
            drop(on(Rc::new(watched), how));
            expected.ensure(&disk, how);
        }
    }
}
