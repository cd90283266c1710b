//! A million rows come in, against the csv crate reading the same file into typed rows and doing
//! nothing with them. The import reads, checks, looks up, applies and keeps them as one step with
//! one flush. Its memory is held against that of the collection it leads to. What nobody can go
//! below, writing the same bytes to a file and syncing it, is told as the part that it is.

use std::fs::File;
use std::hint::black_box;
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use std::time::Instant;

use ringbound::intake::{Checklist, ChecklistOptions, Copies};
use ringbound::model::Collection;
use ringbound::session::{Open, Session, ready};
use ringbound::store::csv::{read_checklist, read_copies};
use ringbound::store::{Position, write_snapshot};

use crate::common::collection::collection;
use crate::common::shown::FRAME;
use crate::common::table::{Goal, median, paired, tell};
use crate::load::{in_a_process, peak, told};

const ROWS: usize = 1_000_000;

/// What a fresh process does, once.
pub(crate) const WAYS: [&str; 9] = [
    "copies",
    "copies-read",
    "copies-csv",
    "copies-written",
    "cards",
    "cards-read",
    "cards-csv",
    "cards-written",
    "cards-ready",
];

pub(crate) fn run() {
    // Beside the build, not in a temporary folder: that may be memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
    let folder = folder.path();
    let known = collection(ROWS);
    let bytes = write_snapshot(&known, Position::default());
    std::fs::write(folder.join("collection.json"), bytes).expect("a snapshot");
    copies_file(&folder.join("copies.csv"), &known);
    cards_file(&folder.join("cards.csv"));
    // Leaves behind what it wrote.
    for way in ["copies", "cards"] {
        in_a_process(way, folder);
    }
    let mut times = [const { Vec::new() }; WAYS.len()];
    let mut memory = times.clone();
    for round in 0..9 {
        for turn in 0..WAYS.len() {
            let way = (round + turn) % WAYS.len();
            let (time, peak) = in_a_process(WAYS[way], folder);
            times[way].push(time);
            memory[way].push(peak);
        }
    }
    for (way, (times, memory)) in WAYS.iter().zip(times.iter().zip(&memory)) {
        let (time, memory) = (median(times.clone()), median(memory.clone()) / 1024.0);
        println!("  {way:<12} {time:>7.0} ms, {memory:>6.0} MiB");
    }
    let [
        copies,
        read,
        copies_csv,
        copies_written,
        cards,
        cards_read,
        cards_csv,
        cards_written,
        cards_ready,
    ] = &times;
    for (what, csv, own) in [
        ("copies, read and checked", copies_csv, read),
        ("copies, kept", copies_csv, copies),
        ("a checklist, read and checked", cards_csv, cards_read),
        ("a checklist, kept", cards_csv, cards),
    ] {
        let what = format!("import: speed of {what} / csv crate");
        tell(&what, ROWS, paired(csv, own), Goal::AtLeast(0.5));
    }
    for (what, written, own) in [
        ("copies", copies_written, copies),
        ("a checklist", cards_written, cards),
    ] {
        let what = format!("import: writing and syncing the bytes of {what}, of all");
        tell(&what, ROWS, paired(written, own), Goal::Told);
    }
    // On the screen all else is done beside the keys.
    let what = "import: a checklist made ready beside the keys, kept / 16 ms";
    let ready = median(cards_ready.clone()) / FRAME;
    tell(what, ROWS, ready, Goal::Told);
}

/// Each printing of the collection, over and over.
fn copies_file(path: &Path, known: &Collection) {
    let mut file = BufWriter::new(File::create(path).expect("a file"));
    writeln!(file, "set,number,finish,count").expect("a line");
    let sets = known.sets().map(|(id, set)| (set, set.printings(id)));
    let printings: Vec<_> = sets
        .flat_map(|(set, printings)| printings.map(move |printing| (set, printing)))
        .collect();
    for (set, printing) in printings.iter().cycle().take(ROWS) {
        let finish = &set.finishes()[usize::from(printing.finish())].name;
        let number = &set.cards()[printing.card() as usize].number;
        writeln!(file, "{},{number},{finish},1", set.code()).expect("a line");
    }
}

fn cards_file(path: &Path) {
    let mut file = BufWriter::new(File::create(path).expect("a file"));
    writeln!(file, "set,set_title,number,name,rarity,finishes").expect("a line");
    for row in 0..ROWS {
        let (set, number) = (row / 500 + 1, row % 500 + 1);
        writeln!(
            file,
            "N{set:04},New Season {set},{number},Lantern Heron {number},common,regular;reverse"
        )
        .expect("a line");
    }
}

/// One way of reading, in a process of its own.
pub(crate) fn once(way: &str, folder: &Path) {
    let file = |name: &str| File::open(folder.join(name)).expect("a file");
    match way {
        "copies-csv" => {
            #[derive(serde::Deserialize)]
            struct Row {
                set: String,
                number: String,
                finish: String,
                count: u32,
            }
            bare(file("copies.csv"), |row: Row| {
                row.set.len() + row.number.len() + row.finish.len() + row.count as usize
            });
        }
        "cards-csv" => {
            #[derive(serde::Deserialize)]
            struct Row {
                set: String,
                set_title: String,
                number: String,
                name: String,
                rarity: String,
                finishes: String,
            }
            bare(file("cards.csv"), |row: Row| {
                row.set.len()
                    + row.set_title.len()
                    + row.number.len()
                    + row.name.len()
                    + row.rarity.len()
                    + row.finishes.len()
            });
        }
        "cards" | "cards-read" | "cards-ready" => {
            let mut session = session(&folder.join("new"), None);
            let mut begun = Instant::now();
            let options = ChecklistOptions {
                update: false,
                binder: None,
            };
            let mut checklist = Checklist::new(session.collection(), options);
            let reading = read_checklist(file("cards.csv"), |row| checklist.row(row));
            assert_eq!(reading.expect("rows").taken, ROWS as u64);
            let mut left = None;
            if way == "cards" {
                let intake = checklist.finish();
                session.commit(intake.step).expect("a step");
            } else if way == "cards-ready" {
                let step = checklist.finish().step;
                let ready = ready(session.collection().clone(), step).expect("a step");
                begun = Instant::now();
                left = session.commit_ready(ready, 0).expect("a step");
            }
            told(begun);
            drop(left);
            leave(folder, "new", "cards");
        }
        "copies-written" => written(folder, "copies"),
        "cards-written" => written(folder, "cards"),
        _ => {
            let mut session = session(&folder.join("known"), Some(folder));
            let begun = Instant::now();
            let mut copies = Copies::new(session.collection());
            let reading = read_copies(file("copies.csv"), |row| copies.row(&row));
            assert_eq!(reading.expect("rows").taken, ROWS as u64);
            if way == "copies" {
                let intake = copies.finish_step(false);
                session.commit(intake.step).expect("a step");
            }
            told(begun);
            leave(folder, "known", "copies");
        }
    }
    assert!(peak() > 0 || !cfg!(target_os = "linux"));
}

/// Where the bytes are that were written of this kind.
fn left(folder: &Path, kind: &str) -> PathBuf {
    folder.join(kind).with_extension("written")
}

/// Leaves the journal of the folder as what was written of this kind, if it is the first.
fn leave(folder: &Path, from: &str, kind: &str) {
    let left = left(folder, kind);
    if !left.exists() {
        std::fs::copy(folder.join(from).join("journal"), left).expect("a copy");
    }
}

/// The same bytes, written and synced by themselves.
fn written(folder: &Path, kind: &str) {
    let bytes = std::fs::read(left(folder, kind)).expect("what was written");
    let path = folder.join("again");
    drop(std::fs::remove_file(&path));
    let begun = Instant::now();
    let mut file = File::create(&path).expect("a file");
    file.write_all(&bytes).expect("room for them");
    file.sync_data().expect("all on the disk");
    told(begun);
}

/// The csv crate alone.
fn bare<R: serde::de::DeserializeOwned>(file: File, size: impl Fn(R) -> usize) {
    let begun = Instant::now();
    let mut reader = csv::Reader::from_reader(file);
    let rows = reader.deserialize::<R>();
    let sum: usize = rows.map(|row| size(row.expect("a row"))).sum();
    told(begun);
    black_box(sum);
}

/// A folder of its own, with the snapshot that lies in the other, opened for writing.
fn session(folder: &Path, from: Option<&Path>) -> Session {
    let clock = || Box::new(|| "2026-01-01T12:00:00Z".to_owned());
    if folder.exists() {
        std::fs::remove_dir_all(folder).expect("a folder taken away");
    }
    drop(Session::open(folder, Open::ForWriting, clock()).expect("a new folder"));
    if let Some(from) = from {
        let name = "collection.json";
        std::fs::copy(from.join(name), folder.join(name)).expect("a snapshot");
    }
    let (session, notices) = Session::open(folder, Open::ForWriting, clock()).expect("a folder");
    assert!(notices.is_empty(), "{notices:?}");
    session
}
