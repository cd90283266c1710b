//! Loading a snapshot, against a bare parse of the same file into borrowed strings, and against
//! reading the file, and against an SQLite full scan of the same data. Goals: at most 2.0 times the
//! borrowed parse and 0.7 of the scan, memory at most 5 times the file; the file at most 0.4 of
//! compact JSON with an object a pocket.
//!
//! Of these only the loading works on more than one thread: three read sets and binders. Where
//! other work leaves it one processor alone, it takes longer than these ratios say.

use std::borrow::Cow;
use std::hint::black_box;
use std::time::Instant;

use ringbound::model::Collection;
use ringbound::store::{Position, read_snapshot, write_snapshot};
use serde::de::{Deserialize, Deserializer, MapAccess, Visitor};

use crate::common::collection::collection;
use crate::common::sqlite;
use crate::common::table::{Goal, median, tell};

/// The least that any typed reader must do: every object and every string, looked up nowhere.
#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct Bare<'a> {
    format: &'a str,
    version: u64,
    #[serde(borrow)]
    through: BareThrough<'a>,
    sets: Vec<BareSet<'a>>,
    binders: Vec<BareBinder<'a>>,
    loose: Vec<(&'a str, u32)>,
    sum: &'a str,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BareThrough<'a> {
    seq: u64,
    chain: &'a str,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BareSet<'a> {
    code: &'a str,
    title: &'a str,
    symbol: &'a str,
    shelf: &'a str,
    #[serde(borrow)]
    finishes: Vec<(&'a str, &'a str)>,
    rarities: Vec<&'a str>,
    cards: Vec<BareCard<'a>>,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BareCard<'a> {
    number: &'a str,
    #[serde(borrow)]
    name: Cow<'a, str>,
    rarity: &'a str,
    finishes: Option<Vec<&'a str>>,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BareBinder<'a> {
    id: &'a str,
    #[serde(borrow)]
    spec: BareSpec<'a>,
    format: BareFormat,
    pages: Vec<BarePage<'a>>,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BareSpec<'a> {
    name: &'a str,
    title: &'a str,
    set: &'a str,
    kind: &'a str,
    size: u16,
    shape: &'a str,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BareFormat {
    rows: u8,
    columns: u8,
    sides: u8,
}

#[derive(serde::Deserialize)]
#[expect(dead_code, reason = "parsed for its cost")]
struct BarePage<'a> {
    id: &'a str,
    #[serde(borrow, default)]
    front: Vec<BarePocket<'a>>,
    #[serde(borrow, default)]
    back: Vec<BarePocket<'a>>,
}

/// A pocket: a string, or now and then an object.
#[expect(dead_code, reason = "parsed for its cost")]
enum BarePocket<'a> {
    Text(&'a str),
    Unusual(Vec<(&'a str, &'a str)>),
}

impl<'de: 'a, 'a> Deserialize<'de> for BarePocket<'a> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Pocket;

        impl<'de> Visitor<'de> for Pocket {
            type Value = BarePocket<'de>;

            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("a pocket")
            }

            fn visit_borrowed_str<E>(self, text: &'de str) -> Result<Self::Value, E> {
                Ok(BarePocket::Text(text))
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut parts = Vec::new();
                while let Some(part) = map.next_entry()? {
                    parts.push(part);
                }
                Ok(BarePocket::Unusual(parts))
            }
        }

        from.deserialize_any(Pocket)
    }
}

/// What one fresh process does, once: so that no run finds memory that an earlier one left warm.
const WAYS: [&str; 4] = ["read", "bare", "load", "sqlite"];

pub(crate) fn run() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for (pockets, rounds) in [(40_000, 21), (1_000_000, 9)] {
        let collection = collection(pockets);
        let database = folder.path().join(format!("{pockets}.sqlite"));
        sqlite::write(&database, &collection);
        let bytes = write_snapshot(&collection, Position::default());
        objects(&collection, pockets, bytes.len());
        let size = bytes.len() as f64;
        let path = folder.path().join("collection.json");
        std::fs::write(&path, bytes).expect("a snapshot");
        let mut times = [const { Vec::new() }; 4];
        let (mut ratios, mut peers, mut memory) = (Vec::new(), Vec::new(), Vec::new());
        for round in 0..rounds {
            let mut figures = [(0.0, 0.0); 4];
            // The order turns, so that none is always first.
            for turn in 0..WAYS.len() {
                let way = (round + turn) % WAYS.len();
                let file = if WAYS[way] == "sqlite" {
                    &database
                } else {
                    &path
                };
                figures[way] = in_a_process(WAYS[way], file);
                times[way].push(figures[way].0);
            }
            ratios.push(figures[2].0 / figures[1].0);
            peers.push(figures[2].0 / figures[3].0);
            memory.push(figures[2].1 * 1024.0 / size);
        }
        let [read, bare, load, scan] = times.map(median);
        println!(
            "{pockets} pockets, {:.2} MB, ms: read {read:.1}, bare {bare:.1}, load {load:.1}, \
             SQLite {scan:.1}",
            size / 1e6,
        );
        tell(
            "load / borrowed parse",
            pockets,
            median(ratios),
            Goal::AtMost(2.0),
        );
        tell(
            "load / SQLite full scan",
            pockets,
            median(peers),
            Goal::AtMost(0.7),
        );
        // A small file's share of the process itself is no measure of the reader.
        let goal = if pockets < 1_000_000 {
            Goal::Told
        } else {
            Goal::AtMost(5.0)
        };
        tell("load: peak memory / file", pockets, median(memory), goal);
    }
}

/// How large the file is against compact JSON with an object a pocket.
fn objects(collection: &Collection, pockets: usize, size: usize) {
    #[derive(serde::Serialize)]
    struct Pocket<'a> {
        binder: &'a str,
        page: u32,
        side: &'a str,
        row: usize,
        column: usize,
        set: &'a str,
        number: &'a str,
        finish: &'a str,
        held: bool,
    }
    let mut written = 0;
    for binder in collection.shelf() {
        for (page, meant) in binder.pages().iter().zip(&binder.layout().pages) {
            let (format, held) = (page.format(), page.cards());
            for (at, held) in held.iter().enumerate() {
                let place = at % format.per_side();
                let Some(printing) = held.or(meant.printing(at)) else {
                    continue;
                };
                let set = collection.set(printing.set()).expect("a set");
                let pocket = Pocket {
                    binder: binder.name(),
                    page: page.id().0,
                    side: if at < format.per_side() {
                        "front"
                    } else {
                        "back"
                    },
                    row: place / usize::from(format.columns) + 1,
                    column: place % usize::from(format.columns) + 1,
                    set: set.code(),
                    number: &set.card(printing.card()).expect("a card").number,
                    finish: &set.finishes()[usize::from(printing.finish())].name,
                    held: held.is_some(),
                };
                written += serde_json::to_vec(&pocket).expect("JSON").len() + 1;
            }
        }
    }
    let ratio = size as f64 / written as f64;
    tell(
        "load: file / JSON with an object a pocket",
        pockets,
        ratio,
        Goal::AtMost(0.4),
    );
}

/// Milliseconds and the most memory in KiB.
pub(crate) fn in_a_process(way: &str, path: &std::path::Path) -> (f64, f64) {
    let program = std::env::current_exe().expect("this program");
    let output = std::process::Command::new(program)
        .args([crate::ALONE, "once", way])
        .arg(path)
        .output();
    let output = String::from_utf8(output.expect("a run").stdout).expect("figures");
    let (time, memory) = output.trim().split_once(' ').expect("two figures");
    (
        time.parse().expect("a time"),
        memory.parse().expect("a size"),
    )
}

pub(crate) fn once(way: &str, path: &str) {
    let begun = Instant::now();
    if way == "sqlite" {
        let rows = sqlite::scan(path.as_ref());
        told(begun);
        assert!(rows > 0);
        return;
    }
    let bytes = std::fs::read(path).expect("a snapshot");
    match way {
        "bare" => {
            let text = std::str::from_utf8(&bytes).expect("text");
            let parsed: Bare<'_> = serde_json::from_str(text).expect("a snapshot");
            told(begun);
            drop(black_box(parsed));
        }
        "load" => {
            let loaded = read_snapshot(&bytes).expect("a snapshot");
            told(begun);
            drop(black_box(loaded));
        }
        _ => told(begun),
    }
}

pub(crate) fn told(begun: Instant) {
    println!("{} {}", begun.elapsed().as_secs_f64() * 1e3, peak());
}

/// The most memory that this process had, in KiB, as Linux tells it; 0 elsewhere.
pub(crate) fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let mut lines = status.lines();
    let line = lines.find_map(|line| line.strip_prefix("VmHWM:"));
    let figure = line.and_then(|line| line.trim().strip_suffix(" kB"));
    figure.and_then(|figure| figure.parse().ok()).unwrap_or(0)
}
