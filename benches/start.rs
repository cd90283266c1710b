//! From the start of the program to its first whole frame on a real terminal, against
//! `vim -u NONE` on the same file; and what it takes of the processor while nothing happens.
//!
//! The clock starts before the program does. It stops when words of the first and of the last
//! line are on the screen (of a large collection also when the words are that say that it is
//! opened, before anything is read); for vim a line of the file far down, and the file's name, which it
//! writes last. No program is answered any question that it asks the terminal.

use std::path::{Path, PathBuf};
use std::time::Duration;

use ringbound::session::{Open, Session};
use ringbound::store::{Position, write_snapshot};

use crate::common::collection::collection;
use crate::common::pty::Pty;
use crate::common::table::{Goal, median, paired, skipped, tell};

const PROGRAM: &str = env!("CARGO_BIN_EXE_ringbound");
/// In the first line and in the last.
const SHELF: [&str; 2] = ["The shelf:", "q quit"];
/// How long nothing happens, and how long before that the program may still be at its start.
const REST: Duration = Duration::from_secs(2);
const SETTLE: Duration = Duration::from_millis(500);

pub(crate) fn run() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for (pockets, rounds, goal) in [(40_000, 21, 1.8), (1_000_000, 15, 2.8)] {
        let folder = folder.path().join(pockets.to_string());
        let file = kept(&folder, pockets);
        let (mut first, mut shelf, mut theirs) = (Vec::new(), Vec::new(), Vec::new());
        for round in 0..rounds {
            for turn in 0..2 {
                if (round + turn) % 2 == 0 {
                    let (words, whole) = own(&folder, pockets);
                    first.push(words);
                    shelf.push(whole);
                } else if let Some(time) = vim(&file) {
                    theirs.push(time);
                }
            }
        }
        let [words, whole] = [&first, &shelf].map(|times| median(times.clone()));
        println!("{pockets} pockets: first frame {words:.1} ms, the shelf {whole:.1} ms");
        let what = "start to first frame / vim -u NONE, same file";
        if theirs.len() < rounds {
            skipped(what, pockets, "no vim");
        } else {
            println!("vim: {:.1} ms", median(theirs.clone()));
            tell(what, pockets, paired(&first, &theirs), Goal::AtMost(goal));
            let what = "start to the shelf / vim -u NONE, same file";
            tell(what, pockets, paired(&shelf, &theirs), Goal::AtMost(goal));
        }
        rest(&folder, pockets);
    }
}

/// A folder with such a collection, and its snapshot.
fn kept(folder: &Path, pockets: usize) -> PathBuf {
    let clock = Box::new(|| "2026-01-01T12:00:00Z".to_owned());
    drop(Session::open(folder, Open::ForWriting, clock).expect("a new folder"));
    let file = folder.join("collection.json");
    let bytes = write_snapshot(&collection(pockets), Position::default());
    std::fs::write(&file, bytes).expect("a snapshot");
    file
}

fn started(folder: &Path) -> Pty {
    let folder = folder.to_str().expect("a path in UTF-8");
    Pty::start(&[PROGRAM, "--at-shelf", "--data", folder]).expect("the program")
}

/// Milliseconds to the first frame, and to the shelf. Of a large collection the first frame says
/// that it is opened; of others it is the shelf.
fn own(folder: &Path, pockets: usize) -> (f64, f64) {
    let mut pty = started(folder);
    let words = (pockets > 300_000).then(|| pty.until(&["Opening the collection"]));
    let shelf = pty.until(&SHELF);
    pty.end("q");
    (words.unwrap_or(shelf), shelf)
}

fn vim(file: &Path) -> Option<f64> {
    let path = file.to_str().expect("a path in UTF-8");
    let mut pty = Pty::start(&["vim", "-u", "NONE", path])?;
    // The card of the 25th line or so, and the message at the foot.
    let time = pty.until(&["{\"number\":\"20\"", "collection.json\""]);
    pty.end(":q!\r");
    Some(time)
}

/// Processor time of two seconds in which nothing happens, on the shelf and over an open binder.
fn rest(folder: &Path, pockets: usize) {
    for (what, keys) in [("shelf", ""), ("binder", "\r"), ("finder", "fowl")] {
        let mut pty = started(folder);
        pty.until(&SHELF);
        pty.send(keys);
        std::thread::sleep(SETTLE);
        let before = pty.on_processor();
        std::thread::sleep(REST);
        let after = pty.on_processor();
        pty.vanish();
        let what = format!("rest, {what}: processor time / time");
        match before.zip(after) {
            Some((before, after)) => {
                let share = (after - before) / 1e3 / REST.as_secs_f64();
                tell(&what, pockets, share, Goal::AtMost(0.0));
            }
            None => skipped(&what, pockets, "not told"),
        }
    }
}
