//! Every command, by the real program.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use ringbound::session::{Open, Session};
use ringbound::store::{Position, write_snapshot};

use super::{Grown, SIZES, files, middle};
use crate::common::collection::collection;
use crate::common::table::{missed, timed};

/// Commands that only read, in the folder of the bench.
const READING: &[&str] = &[
    "check",
    "completion",
    "gaps",
    "wants",
    "spares",
    "waiting",
    "shelf",
    "find moss",
    "drafts binder-1-1",
    "show binder-1-1",
    "show binder-1-1 1",
    "layout show binder-1-1 --template Regulars",
    "layout growth binder-1-1 --template Regulars",
    "layout templates",
    "plan",
    "plan --working hand-to-hand",
    "plan binder-1-1",
    "sort-pile --set S001 --cards 500",
    "packs S001 --pack-size 10",
    "runs",
    "swap swap-wants.csv swap-spares.csv",
    "print labels --out out.pdf",
    "print index binder-1-1 --out out.txt",
    "print wants --out out.txt",
    "print spares --out out.txt",
    "print work-sheet --out out.txt",
    "print shopping --out out.txt",
    "print pile --set S001 --cards 500 --out out.txt",
    "print pockets --set S001 --out out.pdf",
    "print page binder-1-1 1 --out out.svg",
    "fit",
    "supplies",
    "history",
    "recover",
    "export copies out.csv",
    "export checklist out.csv",
    "export gaps out.csv",
    "export wants out.csv",
    "export spares out.csv",
];

/// Commands that change the collection, each on a copy of it. What is before `;` makes it ready.
const WRITING: &[&str] = &[
    "new NEW 1 to 100",
    "new NEW 1 to 100; undo",
    "new NEW 1 to 100; undo; redo",
    "rings binder-1-1 50 D",
    "layout draft binder-1-1 --template Regulars",
    "import checklist checklist.csv",
    "import copies copies.csv",
];

pub(super) fn measured() -> Vec<Grown> {
    let mut all: Vec<Grown> = (READING.iter().chain(WRITING))
        .map(|what| Grown::new((*what).to_owned()))
        .collect();
    for size in SIZES {
        let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
        let folder = folder.path();
        kept(&folder.join("data"), size);
        ready(folder, "data", "export checklist checklist.csv");
        ready(folder, "data", "export copies copies.csv");
        files::swapped(folder);
        let (reading, writing) = all.split_at_mut(READING.len());
        for grown in reading {
            let run = |()| took(folder, "data", &grown.what);
            let time = middle(|| without_outputs(folder), run);
            grown.push(time);
        }
        for grown in writing {
            let (before, last) = grown.what.rsplit_once("; ").unwrap_or(("", &grown.what));
            let fresh = || {
                let copy = folder.join("copy");
                drop(fs::remove_dir_all(&copy));
                fs::create_dir(&copy).expect("a folder");
                for file in ["collection.json", "journal"] {
                    fs::copy(folder.join("data").join(file), copy.join(file)).expect("a copy");
                }
                let before = before.split("; ").filter(|words| !words.is_empty());
                before.for_each(|words| ready(folder, "copy", words));
            };
            grown.push(middle(fresh, |()| took(folder, "copy", last)));
        }
    }
    all.retain(|grown| {
        let is_done = grown.times.iter().all(|time| !time.is_nan());
        if !is_done {
            let what = format!("growth: NOT MEASURED: ringbound {}", grown.what);
            missed(&what, "", "FAILED");
        }
        is_done
    });
    all
}

/// What has to be done before something is measured.
fn ready(folder: &Path, data: &str, words: &str) {
    assert!(ringbound(folder, data, words), "{words}");
}

/// All that a command takes is its own. No number where it was not done.
fn took(folder: &Path, data: &str, words: &str) -> (f64, f64) {
    let mut done = false;
    let time = timed(|| done = ringbound(folder, data, words));
    let time = if done { time } else { f64::NAN };
    (time, time)
}

fn kept(folder: &Path, size: usize) {
    let clock = Box::new(|| "2026-01-01T12:00:00Z".to_owned());
    drop(Session::open(folder, Open::ForWriting, clock).expect("a new folder"));
    let bytes = write_snapshot(&collection(size), Position::default());
    fs::write(folder.join("collection.json"), bytes).expect("a snapshot");
}

/// No file is written over.
fn without_outputs(folder: &Path) {
    for ending in ["csv", "pdf", "svg", "txt"] {
        drop(fs::remove_file(folder.join(format!("out.{ending}"))));
    }
}

/// One command in this folder; whether it was done. What falls short and is told (1) is done too.
fn ringbound(folder: &Path, data: &str, words: &str) -> bool {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ringbound"));
    command
        .current_dir(folder)
        .args(["--data", data])
        .args(words.split(' '));
    let output = command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .output();
    let output = output.expect("a run");
    let told = String::from_utf8_lossy(&output.stderr);
    let done = matches!(output.status.code(), Some(0 | 1));
    if !done {
        println!("  FAILED: {words}: {told}");
    }
    done
}
