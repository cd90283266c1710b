//! Keeping one change, against the least that any journal must do: append 120 bytes to a file and
//! have them on the disk. In turns on the same disk, at two sizes of the collection, since the
//! cost must not grow with it; and against one row changed in an SQLite file (WAL, synchronous
//! FULL). Goals: at most 1.15 times the append, at most 0.85 of SQLite.

use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::Path;
use std::time::Instant;

use ringbound::model::{Change, Collection, PrintingId, Step};
use ringbound::session::{Open, Session};
use ringbound::store::{Position, write_snapshot};

use crate::common::collection::{self, collection};
use crate::common::table::{Goal, median, paired, tell, timed};

const ROUNDS: usize = 301;

pub(crate) fn run() {
    // Beside the build, not in a temporary folder: that may be memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
    let mut medians = Vec::new();
    for pockets in [40_000, 1_000_000] {
        let ([append, kept, sqlite], [ratio, peer]) = measure(folder.path(), pockets);
        println!(
            "{pockets} pockets: append {append:.0} µs, kept {kept:.0} µs, SQLite {sqlite:.0} µs"
        );
        tell(
            "keep: a change / append and sync",
            pockets,
            ratio,
            Goal::AtMost(1.15),
        );
        tell(
            "keep: a change / a row of SQLite, WAL, FULL",
            pockets,
            peer,
            Goal::AtMost(0.85),
        );
        let rewrite = rewrite(folder.path(), pockets);
        tell(
            "keep: new snapshot / write and sync of its bytes",
            pockets,
            rewrite,
            Goal::AtMost(3.5),
        );
        replay(&folder.path().join(pockets.to_string()), pockets);
        medians.push(kept);
    }
    let grown = medians[1] / medians[0];
    tell(
        "keep: a change at 1,000,000 / at 40,000",
        "",
        grown,
        Goal::Told,
    );
}

/// Microseconds of an append, a kept change and a row of SQLite; and the second against the others.
fn measure(folder: &Path, pockets: usize) -> ([f64; 3], [f64; 2]) {
    let folder = folder.join(pockets.to_string());
    let mut session = session(&folder, &collection(pockets));
    let mut raw = appending(&folder.join("raw"));
    let database = database(&folder.join("peer.sqlite"));
    let line = [b'x'; 120];
    let mut times = [const { Vec::new() }; 3];
    let mut ratios = [const { Vec::new() }; 2];
    for round in 0..ROUNDS {
        let mut taken = [0.0; 3];
        for turn in 0..3 {
            let begun = Instant::now();
            let who = (round + turn) % 3;
            if who == 0 {
                raw.write_all(&line).expect("an append");
                raw.sync_data().expect("a sync");
            } else if who == 2 {
                let row = round as i64 % 1_000;
                let changed = database
                    .execute(
                        "UPDATE loose SET copies = copies + 1 WHERE printing = ?",
                        [row],
                    )
                    .expect("a row");
                assert_eq!(changed, 1);
            } else {
                session.commit(one_copy(round as u32)).expect("a step");
            }
            taken[who] = begun.elapsed().as_secs_f64() * 1e6;
        }
        for (times, taken) in times.iter_mut().zip(taken) {
            times.push(taken);
        }
        ratios[0].push(taken[1] / taken[0]);
        ratios[1].push(taken[1] / taken[2]);
    }
    (times.map(median), ratios.map(median))
}

/// A thousand rows, every change on the disk when it is done.
fn database(path: &Path) -> rusqlite::Connection {
    let file = rusqlite::Connection::open(path).expect("a database");
    file.execute_batch(
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;
         CREATE TABLE loose (printing INTEGER PRIMARY KEY, copies INTEGER);
         WITH RECURSIVE n(at) AS (SELECT 0 UNION ALL SELECT at + 1 FROM n WHERE at < 999)
         INSERT INTO loose SELECT at, 1 FROM n;",
    )
    .expect("a table");
    file
}

/// A folder that holds this collection, as the one that is opened for writing.
fn session(folder: &Path, collection: &Collection) -> Session {
    let clock = || Box::new(|| "2026-01-01T12:00:00Z".to_owned());
    drop(Session::open(folder, Open::ForWriting, clock()).expect("a new folder"));
    let bytes = write_snapshot(collection, Position::default());
    std::fs::write(folder.join("collection.json"), bytes).expect("a snapshot");
    let (session, notices) = Session::open(folder, Open::ForWriting, clock()).expect("a folder");
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(session.collection().sets().len(), collection.sets().len());
    session
}

/// One more copy of one of a hundred cards.
fn one_copy(at: u32) -> Step {
    let printing = PrintingId::new(collection::FIRST_SET, at % 100, 0);
    let change = Change::Acquire { printing, count: 1 };
    Step::new("1 copy", vec![change])
}

fn appending(path: &Path) -> File {
    OpenOptions::new()
        .create(true)
        .append(true)
        .open(path)
        .expect("a file")
}

/// How many times a raw write and sync of its bytes a new snapshot takes, as the program writes it:
/// the older one is kept, the new one takes its place, a new journal is begun, all of it synced.
fn rewrite(folder: &Path, pockets: usize) -> f64 {
    let collection = collection(pockets);
    let raw = folder.join("raw");
    let mut session = session(&folder.join(format!("rewritten-{pockets}")), &collection);
    let mut ratios = Vec::new();
    for round in 0..13 {
        let bytes = write_snapshot(&collection, Position::default());
        let (mut floor, mut whole) = (0.0, 0.0);
        for turn in 0..2 {
            let begun = Instant::now();
            if (round + turn) % 2 == 0 {
                let mut file = File::create(&raw).expect("a file");
                file.write_all(&bytes).expect("a write");
                file.sync_data().expect("a sync");
                floor = begun.elapsed().as_secs_f64();
            } else {
                session.rewrite().expect("a snapshot");
                whole = begun.elapsed().as_secs_f64();
                // So that the next one is of another record.
                session.commit(one_copy(round as u32)).expect("a step");
            }
        }
        ratios.push(whole / floor);
    }
    median(ratios)
}

/// What 10,000 lines of the journal add to opening, of which the rest is the snapshot. Opened for
/// reading: for writing, so long a journal would be made a new snapshot at once.
fn replay(folder: &Path, pockets: usize) {
    let clock = || Box::new(|| "2026-01-01T12:00:00Z".to_owned());
    let (mut session, _) = Session::open(folder, Open::ForWriting, clock()).expect("a folder");
    session.rewrite().expect("a snapshot");
    drop(session);
    let short = folder.join("short");
    std::fs::create_dir(&short).expect("a folder");
    for name in ["collection.json", "journal"] {
        std::fs::copy(folder.join(name), short.join(name)).expect("a copy");
    }
    let (mut session, _) = Session::open(folder, Open::ForWriting, clock()).expect("a folder");
    for line in 0..10_000 {
        session.commit(one_copy(line)).expect("a step");
    }
    drop(session);
    let (mut long, mut rest) = (Vec::new(), Vec::new());
    for round in 0..9 {
        for turn in 0..2 {
            let (folder, times) = match (round + turn) % 2 {
                0 => (folder, &mut long),
                _ => (short.as_path(), &mut rest),
            };
            times.push(timed(|| {
                let opened = Session::open(folder, Open::ForReading, clock());
                assert!(opened.expect("a folder").1.is_empty());
            }));
        }
    }
    let ratio = paired(&long, &rest) - 1.0;
    let what = "keep: replay of 10,000 lines / opening without";
    tell(what, pockets, ratio, Goal::AtMost(1.0));
}
