//! The power is lost at every moment of a session, and again while what is left is mended. After
//! each, everything that was told as kept must be there. The model of the disk is in
//! `support/power.rs`; its source stands there.

use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use ringbound::store::files::Files;

use crate::support::files::{InMemory, Op, Watched};
use crate::support::power::{Held, Power, disk, hash};
use crate::support::script::{self, Act, FOLDER, play, recovered, states};
use crate::support::world::{acquire, moss};

/// Everything a session does to its disk, and how many entries were told as kept before each.
struct Recording {
    ops: Vec<Op>,
    kept: Vec<usize>,
    states: Vec<String>,
}

fn record(acts: &[Act]) -> Recording {
    let watched = Watched::new(Rc::new(InMemory::default()));
    let under: Rc<dyn Files> = Rc::new(watched.clone());
    let mut told = Vec::new();
    let came = play(acts, &under, Path::new(FOLDER), |kept, _| {
        told.push((watched.changes(), kept));
    });
    assert_eq!(came.failed, None);
    drop(came);
    let ops = watched.ops();
    // Told after so many changes: a crash before the next one comes after it.
    let kept_at = |at: usize| {
        let before = told.iter().rev().find(|(changes, _)| *changes <= at);
        before.map_or(0, |(_, kept)| *kept)
    };
    Recording {
        kept: (0..=ops.len()).map(kept_at).collect(),
        states: states(acts),
        ops,
    }
}

/// What was found.
#[derive(Debug, Default)]
struct Found {
    moments: usize,
    /// After one loss of power.
    first: usize,
    /// After a second one during the mending.
    second: usize,
    /// Different disks that these left, by their hashes: what is on an equal one was looked at.
    disks: usize,
    violations: Vec<String>,
}

impl Found {
    fn states(&self) -> usize {
        self.first + self.second
    }
}

fn is_temporary(path: &Path) -> bool {
    path.extension().is_some_and(|end| end == "tmp")
}

/// Nothing that was there is thrown away: each file is as it was, or it is the journal, cut, and
/// what was cut off stands in a file that was set aside.
fn ensure_nothing_lost(held: &Held, now: &[(PathBuf, Vec<u8>)]) -> Result<(), String> {
    for (path, before) in held {
        let Some(before) = before else { continue };
        if is_temporary(path) || path.ends_with("lock") {
            continue;
        }
        let after = now.iter().find(|(there, _)| there == path);
        let Some((_, after)) = after else {
            return Err(format!("{} is gone", path.display()));
        };
        if after == before || after.strip_suffix(b"\n") == Some(before) {
            continue;
        }
        let rest = before
            .strip_prefix(after.as_slice())
            .filter(|_| path.ends_with("journal"));
        let Some(rest) = rest else {
            return Err(format!("{} is another", path.display()));
        };
        let aside = |(path, bytes): &&(PathBuf, Vec<u8>)| {
            path.components()
                .any(|part| part.as_os_str() == "set-aside")
                && bytes == rest
        };
        if !now.iter().any(|file| aside(&file)) {
            return Err(format!("{} bytes were thrown away", rest.len()));
        }
    }
    Ok(())
}

/// Opens what is on the disk, and gives all that this did to it.
fn mend(held: &Held, kept: usize, states: &[String]) -> Result<Vec<Op>, String> {
    let memory = disk(held);
    let watched = Watched::new(Rc::new(memory.clone()));
    let under: Rc<dyn Files> = Rc::new(watched.clone());
    let (_, session) = recovered(&under, Path::new(FOLDER), states, kept)?;
    drop(session);
    ensure_nothing_lost(held, &memory.files())?;
    Ok(watched.ops())
}

/// Takes a further step on what was mended, and finds it again.
fn ensure_goes_on(held: &Held, kept: usize, states: &[String]) -> Result<(), String> {
    let files: Rc<dyn Files> = Rc::new(disk(held));
    let (number, mut session) = recovered(&files, Path::new(FOLDER), states, kept)?;
    let took = session.commit(acquire(moss(0, 0), 1)).is_ok();
    let now = crate::support::world::state(session.collection());
    drop(session);
    let session = script::on(&files, Path::new(FOLDER)).map_err(|error| error.to_string())?;
    if crate::support::world::state(session.collection()) != now {
        return Err(format!("a step after {number} was lost (taken: {took})"));
    }
    Ok(())
}

/// What the mending depends on: a temporary file is only ever removed, whatever is in it.
fn essence(held: &Held) -> u64 {
    let names: Vec<_> = held
        .iter()
        .map(|(path, bytes)| (path, bytes.as_ref().filter(|_| !is_temporary(path))))
        .collect();
    hash(&names)
}

/// All states at one moment, and all that a second crash makes of them.
fn look(power: &Power, kept: usize, states: &[String], depth: Depth, found: &Mutex<Found>) {
    let mut mine = Found {
        moments: 1,
        ..Found::default()
    };
    let (mut mended, mut looked_at) = (HashSet::new(), HashSet::new());
    let mut number = 0usize;
    power.states(|held, hash| {
        looked_at.insert(hash);
        number += 1;
        mine.first += 1;
        let ops = match mend(&held, kept, states) {
            Ok(ops) => ops,
            Err(why) => {
                mine.violations.push(format!("{kept} kept: {why}"));
                return;
            }
        };
        if number.is_multiple_of(16)
            && let Err(why) = ensure_goes_on(&held, kept, states)
        {
            mine.violations.push(format!("{kept} kept: {why}"));
        }
        if depth == Depth::One || !mended.insert(essence(&held)) || !depth.takes(number) {
            return;
        }
        let mut again = Power::holding(&held);
        for op in &ops {
            again.apply(op);
            again.states(|held, hash| {
                mine.second += 1;
                if looked_at.insert(hash)
                    && let Err(why) = mend(&held, kept, states)
                {
                    mine.violations.push(format!("{kept} kept, mending: {why}"));
                }
            });
        }
    });
    mine.disks = looked_at.len();
    let mut found = found.lock().unwrap();
    found.disks += mine.disks;
    found.moments += mine.moments;
    found.first += mine.first;
    found.second += mine.second;
    found.violations.extend(mine.violations);
}

/// How far the second crash is followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Depth {
    /// Not at all.
    One,
    /// After every so many states of the first.
    Some(usize),
}

impl Depth {
    fn takes(self, number: usize) -> bool {
        match self {
            Self::One => false,
            Self::Some(step) => number.is_multiple_of(step),
        }
    }
}

/// Loses the power after each of these changes, and before the first. Ends at the first violation:
/// no more is needed to know that there is one.
fn lose_power(recording: &Recording, depth: Depth) -> Found {
    let Recording { ops, kept, states } = recording;
    let mut power = Power::holding(&Held::from([(PathBuf::from("/"), None)]));
    let mut moments = vec![(power.clone(), kept[0])];
    for (op, kept) in ops.iter().zip(&kept[1..]) {
        power.apply(op);
        moments.push((power.clone(), *kept));
    }
    let (next, found) = (AtomicUsize::new(0), Mutex::new(Found::default()));
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                while let Some((power, kept)) = moments.get(next.fetch_add(1, Ordering::SeqCst)) {
                    look(power, *kept, states, depth, &found);
                    if !found.lock().unwrap().violations.is_empty() {
                        return;
                    }
                }
            });
        }
    });
    found.into_inner().unwrap()
}

fn tell(what: &str, found: &Found) {
    println!(
        "{what}: {} moments, {} states after one loss of power and {} after a second, \
         on {} different disks, {} violations",
        found.moments,
        found.first,
        found.second,
        found.disks,
        found.violations.len()
    );
}

#[test]
fn no_loss_of_power_at_any_moment_loses_what_was_kept() {
    let found = lose_power(&record(&script::small_session()), Depth::Some(4));
    tell("crash model, a share", &found);
    assert_eq!(found.violations, Vec::<String>::new());
    assert!(found.states() >= 300_000, "{}", found.states());
}

/// All of them: with a collection that has something of everything, and every second crash.
#[test]
#[ignore = "the long run"]
fn long_crash_model() {
    let whole = lose_power(&record(&script::session()), Depth::Some(4));
    tell("crash model, everything in a collection", &whole);
    let small = lose_power(&record(&script::small_session()), Depth::Some(1));
    tell("crash model, every second crash", &small);
    println!("crash model: {} states", whole.states() + small.states());
    for found in [whole, small] {
        assert_eq!(found.violations, Vec::<String>::new());
        assert!(found.states() >= 300_000, "{}", found.states());
    }
}

/// What a store that forgot something would have done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Omission {
    /// Of the file with the journal, after a record.
    SyncOfAppend,
    /// Of a file that takes another's place.
    SyncBeforeRename,
    /// After a file took another's place.
    SyncOfFolder,
    /// The name is given before the file is whole.
    RenameTooEarly,
    /// A record does not carry the checksum of the one before it.
    ChainOfRecords,
}

const OMISSIONS: [Omission; 5] = [
    Omission::SyncOfAppend,
    Omission::SyncBeforeRename,
    Omission::SyncOfFolder,
    Omission::RenameTooEarly,
    Omission::ChainOfRecords,
];

/// The places in a recording where it could be forgotten.
fn places(ops: &[Op], omission: Omission) -> Vec<usize> {
    let after_rename = |at: usize| {
        matches!(
            at.checked_sub(1).map(|at| &ops[at]),
            Some(Op::Rename { .. })
        )
    };
    let before_rename = |at: usize| {
        let next = ops[at + 1..]
            .iter()
            .find(|op| matches!(op, Op::Rename { .. } | Op::Write { .. }));
        matches!(next, Some(Op::Rename { .. }))
    };
    (0..ops.len())
        .filter(|at| match (&ops[*at], omission) {
            (Op::Sync { .. }, Omission::SyncOfAppend) => !before_rename(*at),
            (Op::Sync { .. }, Omission::SyncBeforeRename) => before_rename(*at),
            (Op::SyncFolder { .. }, Omission::SyncOfFolder) => after_rename(*at),
            (Op::Rename { .. }, Omission::RenameTooEarly) => true,
            // The first record of all follows nothing, and says so.
            (Op::Write { bytes, .. }, Omission::ChainOfRecords) => unchained(bytes) != *bytes,
            _ => false,
        })
        .collect()
}

/// A record whose checksum is right and which says nothing of the one before it. What is no record
/// is left as it is.
fn unchained(line: &[u8]) -> Vec<u8> {
    const PREV: &str = "\"prev\":\"";
    const SUM: &str = ",\"sum\":\"";
    let text = String::from_utf8_lossy(line);
    let place = text.find(PREV).filter(|_| text.starts_with("{\"seq\":"));
    let (Some(prev), Some(sum)) = (place, text.rfind(SUM)) else {
        return line.to_vec();
    };
    let mut text = text.into_owned();
    let prev = prev + PREV.len();
    text.replace_range(prev..prev + 8, "00000000");
    let right = format!("{:08x}", crc32fast::hash(&text.as_bytes()[..sum]));
    let sum = sum + SUM.len();
    text.replace_range(sum..sum + 8, &right);
    text.into_bytes()
}

fn plant(recording: &Recording, omission: Omission, at: usize) -> Recording {
    let (mut ops, mut kept) = (recording.ops.clone(), recording.kept.clone());
    let states = recording.states.clone();
    if let (Omission::ChainOfRecords, Op::Write { bytes, .. }) = (omission, &mut ops[at]) {
        *bytes = unchained(bytes);
        return Recording { ops, kept, states };
    }
    let op = ops.remove(at);
    let told = kept.remove(at + 1);
    if omission == Omission::RenameTooEarly {
        let created = ops[..at]
            .iter()
            .rposition(|op| matches!(op, Op::Create { .. }))
            .unwrap();
        ops.insert(created + 1, op);
        kept.insert(created + 2, kept[created + 1]);
    } else if told > kept[at] {
        // What was told after it is told now without it.
        kept[at] = told;
    }
    Recording { ops, kept, states }
}

/// The test of the test: a store that forgets one sync, gives a name too early, or does not chain
/// its records, is caught.
#[test]
fn a_sync_that_is_forgotten_a_rename_too_early_and_a_chain_that_breaks_are_caught() {
    let recording = record(&script::small_session());
    for omission in OMISSIONS {
        let places = places(&recording.ops, omission);
        assert!(!places.is_empty(), "{omission:?}");
        // Not the first of its kind: there may be nothing to lose yet.
        let at = places[places.len() / 2];
        let found = lose_power(&plant(&recording, omission, at), Depth::One);
        assert!(!found.violations.is_empty(), "{omission:?} was not caught");
        println!("planted {omission:?}: caught ({})", found.violations[0]);
    }
}

/// Every sync that is forgotten, wherever it stands.
#[test]
#[ignore = "the long run"]
fn long_planted_omissions() {
    let recording = record(&script::small_session());
    for omission in OMISSIONS {
        let places = places(&recording.ops, omission);
        let caught = places
            .iter()
            .filter(|at| {
                let planted = plant(&recording, omission, **at);
                !lose_power(&planted, Depth::One).violations.is_empty()
            })
            .count();
        println!("planted {omission:?}: {caught} of {} caught", places.len());
        assert!(caught > 0, "{omission:?}");
    }
}
