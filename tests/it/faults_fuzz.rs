//! Broken files by the million, into every reader. The way is that of mutation-based fuzzing
//! (Miller, Fredriksen and So, "An Empirical Study of the Reliability of UNIX Utilities", 1990;
//! samples, words and splices as in later work): what comes out may be anything but a panic, an
//! end that does not come, memory without bounds, or a collection that is not whole.
//!
//! A short share runs with all tests; the long one tells its figures:
//! `cargo test --release --test it faults -- --ignored --nocapture --test-threads=1`.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::rc::Rc;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

use ringbound::hand::{Ground, draft_by_sections, propose};
use ringbound::intake::{BinderOptions, Checklist, ChecklistOptions, Copies, read_lines};
use ringbound::layout::Section;
use ringbound::model::{BinderKind, Change, Collection, PageFormat, Rules, Step};
use ringbound::session::{Access, Notice, Open, Session};
use ringbound::settings::{changed, example, read as read_settings};
use ringbound::store::arrangement::{pair, read_arrangement};
use ringbound::store::csv::{Reading, read_checklist, read_copies, read_prices};
use ringbound::store::files::Files;
use ringbound::store::{Position, read_snapshot, write_snapshot};
use ringbound::supplies::PriceList;
use ringbound::ui::known;

use crate::support::dice::Seeded;
use crate::support::files::InMemory;
use crate::support::kept::clock;
use crate::support::mutate::{mutated, of_later_version, resealed, sealed_snapshot};
use crate::support::script::{FOLDER, long_session, opened, play};
use crate::support::world::{MOSS, TIN, collection, head, state};

/// A reader with what it is fed from.
struct Reader {
    name: &'static str,
    samples: Vec<Vec<u8>>,
    /// Whether anything of the input was taken. Panics when a promise is broken.
    feed: fn(&[u8], &mut Seeded) -> bool,
    /// Inputs of the long share.
    long: u64,
}

fn reader(name: &str) -> Reader {
    let texts = |all: &[&str]| all.iter().map(|text| text.as_bytes().to_vec()).collect();
    match name {
        "checklist" => Reader {
            name: "CSV checklists",
            samples: texts(&[
                "set,number,name,rarity,finishes\nFEN,1,Mire Lamp,common,regular;reverse\n\
                 FEN,2,\"Owl, \"\"Old\"\"\",rare,regular\nFEN,TG 3,,,\nMIR,7,New Moss,common,\n",
                "\u{feff}set,number,name,set_title,symbol,shelf,width_mm,height_mm\r\n\
                 BOG,001a,\"two\nlines\",The bog,☂,12,63,88\r\nBOG,2,'=x,,,,127.5,89\r\n\r\n",
            ]),
            feed: checklist,
            long: 2_000_000,
        },
        "copies" => Reader {
            name: "CSV copies",
            samples: texts(&[
                "set,number,finish,count\nMIR,1,,2\nMIR,Q 4,reverse,1\nTIN,1,regular,1000000\n",
                "number,set,other\r\n\"2\",MIR,x\r\n3a,\"MIR\",\"a,\"\"b\"\r\n",
            ]),
            feed: copies,
            long: 2_000_000,
        },
        "prices" => Reader {
            name: "CSV price lists",
            samples: texts(&[
                "item,size,pack,price,currency,on_hand,note\npage,3x3 backed,10,6.00,EUR,1,\n\
                 page,3x4 clear,10,5.80,EUR,,near\nring binder,25 D,1,7.90,EUR,,\n\
                 sleeve,127x177.8,10,2.60,EUR,1500,\n",
                "item,size,on_hand\r\nsleeve,,200\r\nfixed binder,20 3x3 backed,2\r\n",
            ]),
            feed: prices,
            long: 2_100_000,
        },
        "snapshot" => Reader {
            name: "snapshots",
            samples: snapshots(),
            feed: snapshot,
            long: 1_500_000,
        },
        "journal" => Reader {
            name: "journals",
            samples: journals(),
            feed: journal,
            long: 600_000,
        },
        "arrangement" => Reader {
            name: "arrangements",
            samples: texts(&[
                ARRANGEMENT,
                "{\"format\":\"ringbound-arrangement\",\"version\":1,\
                 \"binders\":[{\"id\":\"b\",\"pages_move\":false,\"pages\":[]}]}",
            ]),
            feed: arrangement,
            long: 2_000_000,
        },
        "later" => Reader {
            name: "snapshots of a later version",
            samples: snapshots()
                .into_iter()
                .map(|text| of_later_version(&String::from_utf8(text).unwrap()).into_bytes())
                .collect(),
            feed: later,
            long: 400_000,
        },
        "rules" => Reader {
            name: "rules of a layout",
            samples: texts(&[
                "# the fronts first\nregulars: set MIR; finish regular; by number; page 2x2; \
                 fronts only\nrares: rarity not common, \"rare, old\"; new side; room 2 pages\n",
                "\u{feff}tickets: keepsakes 3 x \"a \"\"ticket\"\"\", \"map\"; page 1x2 top; \
                 flowing on\r\nall: the rest; side by side; by rarity; top row empty\r\n",
                "some: numbers 1 to 3a, Q 4; oversize; new row; room 1 pocket\n\
                 list: cards 1, \"Q 4\", 2; by list; both sides\n",
            ]),
            feed: rules,
            long: 400_000,
        },
        "pile" => Reader {
            name: "pasted piles",
            samples: texts(&[
                "MIR:\n1\n2 r x3\nQ 4 reverse\n3a, 2; 1 x2\nTIN\n1\n",
                "\u{feff}1x 2\r\n\r\nTIN 1 x 7\r\n004, 12/80, nothing\r\n◆ 1\r\n",
            ]),
            feed: pile,
            long: 800_000,
        },
        "settings" => Reader {
            name: "settings",
            samples: vec![
                example(known()).into_bytes(),
                // What stands there as a remark, said.
                example(known()).replace("\n# ", "\n").into_bytes(),
                b"[screen]\ncolours = \"light\"\n[colours]\ngap = \"#e69f00 bold\"\n[signs]\n\
                  gap = \"o\"\n[keys.binder]\nhelp = \"? f1\"\n[keys.everywhere]\nleave = \"esc\"\n"
                    .to_vec(),
            ],
            feed: settings,
            long: 300_000,
        },
        other => panic!("no reader {other}"),
    }
}

/// Every reader there is.
const READERS: [&str; 10] = [
    "checklist",
    "copies",
    "prices",
    "snapshot",
    "later",
    "journal",
    "arrangement",
    "rules",
    "pile",
    "settings",
];

const ARRANGEMENT: &str = r#"{"format":"ringbound-arrangement","version":1,"binders":[
{"id":"b1","pages_move":true,"pages":[
{"id":"p1","rows":2,"columns":2,"front":[["7",null],["8","9"]],"back":[["10",null],[null,null]]},
{"id":"p4","rows":1,"columns":2,"shared_pockets":true,"front":[["30","31"]],"back":[["32","33"]]}]},
{"id":"b3","pages_move":false,"pages":[
{"id":"r1","rows":1,"columns":3,"front":[["51","50","5"]]}]}],
"loose":["12","12","5"]}"#;

fn whole() -> &'static Collection {
    static WHOLE: OnceLock<Collection> = OnceLock::new();
    WHOLE.get_or_init(collection)
}

/// What is told of a file is bounded by the file, and every row is told of once.
fn ensure_bounded(input: &[u8], reading: &Reading) {
    let lines = input.iter().filter(|b| **b == b'\n').count() as u64 + 1;
    assert!(reading.taken + reading.bad <= lines, "more rows than lines");
    assert!(reading.problems.len() <= 100);
    let told = reading.problems.iter().map(ToString::to_string);
    let told: usize = told.map(|told| told.len()).sum();
    let most = reading.problems.len() * (4 * input.len().min(4_000) + 600);
    assert!(told <= most, "{told} bytes are told");
}

/// An import that was offered fits the collection that it was made for.
fn ensure_fits(step: &Step) {
    let mut made = whole().clone();
    Change::apply_all(&step.changes, &mut made).unwrap();
    assert_eq!(made.check(), []);
}

fn checklist(input: &[u8], dice: &mut Seeded) -> bool {
    let binder = BinderOptions {
        format: PageFormat::new(2, 2, 2),
        kind: BinderKind::Fixed,
    };
    let options = ChecklistOptions {
        update: dice.below(2) == 0,
        binder: (dice.below(2) == 0).then_some(binder),
    };
    let mut checklist = Checklist::new(whole(), options);
    let Ok(reading) = read_checklist(input, |row| checklist.row(row)) else {
        return false;
    };
    ensure_bounded(input, &reading);
    ensure_fits(&checklist.finish().step);
    reading.taken > 0
}

fn copies(input: &[u8], dice: &mut Seeded) -> bool {
    let mut copies = Copies::new(whole());
    let Ok(reading) = read_copies(input, |row| copies.row(&row)) else {
        return false;
    };
    ensure_bounded(input, &reading);
    ensure_fits(&copies.finish_step(dice.below(2) == 0).step);
    reading.taken > 0
}

fn prices(input: &[u8], _: &mut Seeded) -> bool {
    let mut list = PriceList::default();
    let Ok(reading) = read_prices(input, &mut list) else {
        return false;
    };
    ensure_bounded(input, &reading);
    let offers: usize = list.items().map(|(_, offers)| offers.len()).sum();
    assert!(offers as u64 <= reading.taken);
    reading.taken > 0
}

/// The small world whole, with contents and layout apart, and with drafts and sections.
fn snapshots() -> Vec<Vec<u8>> {
    let mut apart = collection();
    let swap = Change::MoveLayoutPage {
        binder: crate::support::world::FIRST,
        from: 0,
        to: 1,
    };
    swap.apply(&mut apart).unwrap();
    let mut rich = state(&collection());
    for (old, new) in [
        (
            "\"pages\":[\n{\"id\":\"p1\"",
            "\"sections\":[\"MIR 1-2\"],\n\"drafts\":[{\"name\":\"d\",\"pages\":[{}],\
             \"sections\":[\"TIN\"]}],\n\"pages\":[\n{\"id\":\"p1\"",
        ),
        (
            "\"loose\":[",
            "\"templates\":[{\"name\":\"t\",\"sections\":[\"MIR\"]}],\n\"loose\":[",
        ),
    ] {
        rich = rich.replacen(old, new, 1);
    }
    read_snapshot(rich.as_bytes()).unwrap();
    vec![
        state(&collection()).into_bytes(),
        state(&apart).into_bytes(),
        rich.into_bytes(),
        state(&Collection::new()).into_bytes(),
    ]
}

fn snapshot(input: &[u8], _: &mut Seeded) -> bool {
    let Ok(read) = read_snapshot(input) else {
        return false;
    };
    assert_eq!(read.collection.check(), []);
    let written = write_snapshot(&read.collection, read.through);
    let again = read_snapshot(&written).unwrap();
    assert!(!again.is_altered);
    assert_eq!(again.through, read.through);
    assert_eq!(again.collection.check(), []);
    assert!(write_snapshot(&again.collection, again.through) == written);
    true
}

/// Whatever it says, no byte of it is touched, and what is shown is whole.
fn later(input: &[u8], dice: &mut Seeded) -> bool {
    let bytes = match std::str::from_utf8(input) {
        Ok(text) if text.contains(",\n\"sum\":\"") => sealed_snapshot(text).into_bytes(),
        _ => input.to_vec(),
    };
    // One that is of this version after all may be taken.
    let is_later = bytes.windows(11).any(|w| w == b"\"version\":2");
    let how = *dice.pick(&[Open::ForReading, Open::ForWriting, Open::AsOffered]);
    let disk = InMemory::default();
    let path = Path::new(FOLDER).join("collection.json");
    disk.put(&path, bytes.clone());
    let files: Rc<dyn Files> = Rc::new(disk.clone());
    let opened = Session::open_on(files, Path::new(FOLDER), how, clock());
    let Ok((session, notices)) = opened else {
        assert!(
            file(&disk, "collection.json") == bytes,
            "not opened, yet changed"
        );
        return false;
    };
    assert_eq!(session.collection().check(), []);
    let shown = |notice: &Notice| matches!(notice, Notice::Later { shown: None, .. });
    if !notices.iter().any(shown) {
        return false;
    }
    assert!(is_later || bytes.windows(9).any(|w| w == b"\"version\""));
    assert_ne!(session.access(), Access::Writable);
    assert!(
        file(&disk, "collection.json") == bytes,
        "read only, yet changed"
    );
    true
}

/// Rules as a file has them, a section a line.
fn rules(input: &[u8], dice: &mut Seeded) -> bool {
    let Ok(text) = std::str::from_utf8(input) else {
        return false;
    };
    let mut rules = Rules::new();
    for line in text.trim_start_matches('\u{feff}').lines().take(40) {
        match line.trim().parse::<Section>() {
            Ok(section) => {
                let written = section.to_string();
                let again: Section = written.parse().unwrap();
                assert_eq!(again.to_string(), written);
                rules.push(written.into());
            }
            Err(why) => assert!(why.to_string().len() < 2 * line.len() + 400, "{why}"),
        }
    }
    if rules.is_empty() {
        return false;
    }
    let ground = Ground {
        draft: None,
        ..Ground::real(crate::support::world::FIRST)
    };
    let proposal = propose(whole(), ground, &rules).unwrap();
    let pages = proposal.layout.pages.len();
    assert!(pages <= 100_000, "{pages} pages of {} rules", rules.len());
    if dice.below(4) == 0
        && let Ok(draft) = draft_by_sections(whole(), ground, Some("d"), &rules)
    {
        ensure_fits(&draft.step);
    }
    true
}

/// A pile as it is pasted.
fn pile(input: &[u8], dice: &mut Seeded) -> bool {
    let text = String::from_utf8_lossy(input);
    let set = *dice.pick(&[None, Some(MOSS), Some(TIN)]);
    let pasted = read_lines(whole(), set, &text);
    let parts = 1 + text.matches(['\n', '\r', ',', ';']).count();
    assert!(pasted.taken.len() + pasted.not_taken.len() <= parts);
    let told = pasted
        .not_taken
        .iter()
        .map(|(_, words, why)| words.len() + why.to_string().len());
    let told: usize = told.sum();
    assert!(
        told <= 6 * text.len() + 600 * parts,
        "{told} bytes are told"
    );
    let changes = pasted.taken.iter().map(|(_, entry)| Change::Acquire {
        printing: entry.printing,
        count: entry.count,
    });
    let mut made = whole().clone();
    // More copies than there may be are refused, and then nothing is changed.
    let before = (Change::apply_all(&changes.collect::<Vec<_>>(), &mut made).is_err())
        .then(|| state(whole()));
    assert_eq!(made.check(), []);
    assert!(before.is_none_or(|before| state(&made) == before));
    !pasted.taken.is_empty()
}

/// The file of settings: what it changes, read again, is the same.
fn settings(input: &[u8], _: &mut Seeded) -> bool {
    let Ok(text) = std::str::from_utf8(input) else {
        return false;
    };
    match read_settings(text, known()) {
        Ok(settings) => {
            let changes = changed(&settings, known()).join("\n");
            let again = read_settings(&changes, known());
            assert_eq!(again.as_ref(), Ok(&settings), "{changes}");
            true
        }
        Err(errors) => {
            assert!((1..=20).contains(&errors.len()));
            let lines = text.lines().count() + 1;
            assert!(errors.iter().all(|error| (1..=lines).contains(&error.line)));
            let told: usize = errors.iter().map(|error| error.why.len()).sum();
            assert!(told < 20 * (text.len() + 2_000), "{told} bytes are told");
            false
        }
    }
}

/// A script's journals: without a snapshot, and with steps carried over, an undo and a redo.
fn journals() -> Vec<Vec<u8>> {
    [0, 2, 6].map(kept_journal).into()
}

fn kept_journal(steps: usize) -> Vec<u8> {
    let disk = InMemory::default();
    let files: Rc<dyn Files> = Rc::new(disk.clone());
    let mut acts = long_session(steps);
    acts.retain(|act| !matches!(act, crate::support::script::Act::Rewrite));
    if steps == 2 {
        acts.insert(5, crate::support::script::Act::Rewrite);
    }
    assert_eq!(
        play(&acts, &files, Path::new(FOLDER), |_, _| {}).failed,
        None
    );
    file(&disk, "journal")
}

fn file(disk: &InMemory, name: &str) -> Vec<u8> {
    let path = Path::new(FOLDER).join(name);
    disk.read(&path, u64::MAX).unwrap().unwrap_or_default()
}

fn journal(input: &[u8], dice: &mut Seeded) -> bool {
    let bytes = match dice.below(4) {
        0 => input.to_vec(),
        _ => resealed(input),
    };
    let how = *dice.pick(&[
        Open::ForReading,
        Open::ForWriting,
        Open::ForWriting,
        Open::AsOffered,
        Open::PutBack,
    ]);
    let disk = InMemory::default();
    disk.put(&Path::new(FOLDER).join("journal"), bytes.clone());
    if dice.below(8) == 0 {
        let snapshot = write_snapshot(whole(), Position::default());
        disk.put(&Path::new(FOLDER).join("collection.json"), snapshot);
    }
    let files: Rc<dyn Files> = Rc::new(disk.clone());
    let open = Session::open_on(files.clone(), Path::new(FOLDER), how, clock());
    let Ok((mut session, _)) = open else {
        assert!(file(&disk, "journal") == bytes, "not opened, yet changed");
        return false;
    };
    assert_eq!(session.collection().check(), []);
    if session.access() != Access::Writable {
        assert!(file(&disk, "journal") == bytes, "read only, yet changed");
        return false;
    }
    // What could not be read is kept somewhere, and what is there goes on from there.
    let kept = disk.files();
    let is_kept = |part: &[u8]| kept.iter().any(|(_, held)| holds(held, part));
    let lost = bytes.split(|b| *b == b'\n').find(|line| !is_kept(line));
    assert!(lost.is_none(), "a line is gone: {lost:?}");
    for _ in 0..dice.below(3) {
        session.undo().unwrap();
    }
    let at = session.collection().sets().len();
    let set = session.collection().fresh_sets(at).next().unwrap();
    let add = Change::AddSet {
        set,
        at,
        head: head("a-code-of-its-own"),
    };
    session.commit(Step::new("one more", vec![add])).unwrap();
    let now = state(session.collection());
    drop(session);
    let (again, notices) = opened(&files, Path::new(FOLDER)).unwrap();
    assert!(
        !notices.iter().any(ringbound::session::Notice::is_damage),
        "{notices:?}"
    );
    assert!(state(again.collection()) == now, "not as it was kept");
    true
}

fn holds(held: &[u8], part: &[u8]) -> bool {
    part.is_empty() || held.windows(part.len()).any(|window| window == part)
}

fn arrangement(input: &[u8], _: &mut Seeded) -> bool {
    static BEFORE: OnceLock<ringbound::store::arrangement::Arrangement> = OnceLock::new();
    let before = BEFORE.get_or_init(|| read_arrangement(ARRANGEMENT.as_bytes()).unwrap());
    let Ok(read) = read_arrangement(input) else {
        return false;
    };
    // It always goes together with itself, whether or not with another.
    let paired = pair(&read, &read).unwrap();
    assert!(paired.pages.len() <= input.len());
    drop(pair(before, &read));
    true
}

/// What a share of inputs came to.
#[derive(Clone, Copy, Debug, Default)]
struct Came {
    inputs: u64,
    bytes: u64,
    taken: u64,
    slowest: Duration,
}

fn run(reader: &Reader, seed: u64, inputs: u64) -> Came {
    let mut came = Came::default();
    for number in 0..inputs {
        // Each input from a seed of its own, so that one can be looked at alone.
        let mut dice = Seeded(seed.wrapping_add(number.wrapping_mul(0x1_0001)));
        let input = mutated(&mut dice, &reader.samples);
        let begun = Instant::now();
        let fed = catch_unwind(AssertUnwindSafe(|| (reader.feed)(&input, &mut dice)));
        let Ok(taken) = fed else {
            panic!(
                "{}, seed {seed}, input {number}:\n{}",
                reader.name,
                input.escape_ascii()
            );
        };
        came.slowest = came.slowest.max(begun.elapsed());
        came.inputs += 1;
        came.bytes += input.len() as u64;
        came.taken += u64::from(taken);
    }
    came
}

/// The share that runs with all tests.
fn short(name: &str, inputs: u64) {
    let came = run(&reader(name), 1, inputs);
    // Were nothing taken, only the first check of the reader would have been tried.
    assert!(came.taken * 50 > inputs, "{came:?}");
    assert!(came.taken < inputs, "{came:?}");
}

#[test]
fn broken_checklists_are_told_or_taken_in_part() {
    short("checklist", 2_000);
}

#[test]
fn broken_lists_of_copies_are_told_or_taken_in_part() {
    short("copies", 3_000);
}

#[test]
fn broken_price_lists_are_told_or_taken_in_part() {
    short("prices", 5_000);
}

#[test]
fn a_broken_snapshot_is_refused_or_is_a_whole_collection() {
    short("snapshot", 3_000);
}

#[test]
fn a_broken_journal_opens_to_a_whole_collection_and_no_line_is_lost() {
    short("journal", 500);
}

#[test]
fn a_broken_snapshot_of_a_later_version_is_never_written_over() {
    short("later", 1_000);
}

#[test]
fn broken_rules_of_a_layout_are_told_or_lay_out() {
    short("rules", 1_000);
}

#[test]
fn broken_settings_are_told_by_their_lines_or_taken_whole() {
    short("settings", 1_500);
}

#[test]
fn a_broken_pile_is_told_or_taken_in_part() {
    short("pile", 2_000);
}

#[test]
fn a_broken_arrangement_is_refused_or_can_be_planned_with() {
    short("arrangement", 5_000);
}

/// Bytes of memory that this program holds, now or at most since it was last asked to forget.
/// Linux only (proc(5)); `None` elsewhere.
fn memory(line: &str) -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|told| told.strip_prefix(line))?;
    let told: u64 = line.trim().strip_suffix(" kB")?.trim().parse().ok()?;
    Some(told << 10)
}

/// Ten million inputs.
#[test]
#[ignore = "the long run"]
fn long_fuzz_of_every_reader() {
    let threads = std::thread::available_parallelism().map_or(1, |n| n.get() as u64);
    let mut all = 0;
    // "5" resets the peak (proc(5)); where that cannot be done the peak is an older one.
    std::fs::write("/proc/self/clear_refs", "5").ok();
    let before = memory("VmRSS:");
    for name in READERS {
        let reader = &reader(name);
        let begun = Instant::now();
        let share = reader.long.div_ceil(threads);
        let came = std::thread::scope(|scope| {
            let threads: Vec<_> = (0..threads)
                .map(|thread| scope.spawn(move || run(reader, (thread + 2) << 40, share)))
                .collect();
            let came = threads.into_iter().map(|thread| thread.join().unwrap());
            came.reduce(|a, b| Came {
                inputs: a.inputs + b.inputs,
                bytes: a.bytes + b.bytes,
                taken: a.taken + b.taken,
                slowest: a.slowest.max(b.slowest),
            })
        });
        let came = came.unwrap();
        println!(
            "fuzz, {}: {} inputs of {} MB in {:.1?}, {} taken in whole or part, slowest {:.1?}",
            reader.name,
            came.inputs,
            came.bytes / 1_000_000,
            begun.elapsed(),
            came.taken,
            came.slowest
        );
        all += came.inputs;
    }
    println!("fuzz: {all} inputs in all");
    assert!(all >= 10_000_000);
    match (before, memory("VmHWM:")) {
        (Some(before), Some(peak)) => {
            let grown = peak.saturating_sub(before) >> 20;
            println!("fuzz: at most {grown} MiB of memory beyond what was held before");
            assert!(grown < 256, "{grown} MiB");
        }
        _ => println!("fuzz: memory skipped, for it cannot be told here"),
    }
}
