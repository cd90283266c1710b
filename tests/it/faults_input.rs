//! Files as other programs and hands leave them: what RFC 8259 (December 2017) leaves to readers,
//! and sizes that no collection has.

use std::fs::File;
use std::path::Path;
use std::rc::Rc;

use ringbound::model::Collection;
use ringbound::session::{Notice, Open, Session, StoreError};
use ringbound::store::arrangement::read_arrangement;
use ringbound::store::csv::{CsvError, read_checklist};
use ringbound::store::files::Files;
use ringbound::store::{Position, read_snapshot, recover, write_snapshot};

use crate::support::files::InMemory;
use crate::support::kept::{Folder, Memory, Place, clock};
use crate::support::mutate::resealed;
use crate::support::script::FOLDER;
use crate::support::world::{collection, state, steps};

/// One text of each kind, in which `"1"` stands for a number and `"NAME"` for a text.
fn arrangement() -> String {
    r#"{"format":"ringbound-arrangement","version":1,"binders":[{"id":"NAME","pages_move":true,
"pages":[{"id":"p1","rows":1,"columns":1,"front":[["7"]]}]}],"loose":[]}"#
        .into()
}

fn snapshot() -> String {
    state(&collection())
        .replace("Moss Owl", "NAME")
        .replace("\"rows\":2,", "\"rows\":2 ,")
}

fn journal() -> String {
    let place = Memory::default();
    let mut session = place.open();
    for step in steps() {
        session.commit(step).unwrap();
    }
    let journal = place.0.borrow().journal().to_vec();
    let text = String::from_utf8(journal).unwrap();
    sealed(&text.replace("Moss Owl", "NAME"))
}

fn sealed(journal: &str) -> String {
    String::from_utf8(resealed(journal.as_bytes())).unwrap()
}

/// How each of the three readers takes its text after the same change: `None` when it refuses it.
struct Taken {
    snapshot: Option<Collection>,
    journal: Option<Collection>,
    arrangement: bool,
}

fn taken(change: impl Fn(&str) -> String) -> Taken {
    let journal = sealed(&change(&journal()));
    let read = recover(None, Some(journal.as_bytes())).unwrap();
    let is_whole = read.damage.is_empty() && read.torn.is_none();
    let snapshot = read_snapshot(change(&snapshot()).as_bytes());
    Taken {
        snapshot: snapshot.ok().map(|read| read.collection),
        journal: is_whole.then_some(read.collection),
        arrangement: read_arrangement(change(&arrangement()).as_bytes()).is_ok(),
    }
}

fn ensure_refused(what: &str, change: impl Fn(&str) -> String) {
    for (kind, text) in [
        ("snapshot", snapshot()),
        ("journal", journal()),
        ("arrangement", arrangement()),
    ] {
        assert_ne!(change(&text), text, "{what} changes nothing in the {kind}");
    }
    let taken = taken(change);
    assert!(taken.snapshot.is_none(), "{what}: the snapshot is taken");
    assert!(taken.journal.is_none(), "{what}: the journal is taken");
    assert!(!taken.arrangement, "{what}: the arrangement is taken");
}

#[test]
fn the_texts_themselves_are_taken() {
    let taken = taken(str::to_owned);
    assert_eq!(taken.snapshot.unwrap().check(), []);
    assert_eq!(taken.journal.unwrap().check(), []);
    assert!(taken.arrangement);
}

/// RFC 8259, section 6: numbers have no NaN, infinity, leading zero or plus sign, and readers may
/// set limits; what does not fit is never rounded into something that does.
#[test]
fn numbers_that_are_none_or_do_not_fit_are_refused_by_every_reader() {
    for number in [
        "NaN",
        "Infinity",
        "-Infinity",
        "01",
        "+1",
        "0x1",
        "1.",
        ".5",
        "-1",
        "1e999",
        "1.5",
        "18446744073709551616",
        "-9223372036854775809",
        "340282366920938463463374607431768211456",
        &"9".repeat(5_000),
    ] {
        // The number of rows or columns, which all three have.
        ensure_refused(number, |text| {
            let rows = ["\"rows\":1,", "\"rows\":2,", "\"rows\":2 ,"];
            rows.iter().fold(text.to_owned(), |text, old| {
                text.replacen(old, &format!("\"rows\":{number},"), 1)
            })
        });
    }
}

/// RFC 8259, section 8.2: a surrogate that stands alone is no character.
#[test]
fn lone_surrogates_are_refused_by_every_reader_and_pairs_are_read() {
    for alone in [
        "\\ud800",
        "\\udc00",
        "\\ud800x",
        "\\udc00\\ud800",
        "\\ud83d\\u0041",
    ] {
        ensure_refused(alone, |text| text.replace("NAME", alone));
    }
    let taken = taken(|text| text.replace("NAME", "\\ud83d\\ude00"));
    assert!(state(&taken.snapshot.unwrap()).contains("😀"));
    assert!(state(&taken.journal.unwrap()).contains("😀"));
    assert!(taken.arrangement);
}

/// RFC 8259, section 4: names should be unique, or readers disagree on what is meant.
#[test]
fn a_name_that_stands_twice_is_refused_by_every_reader() {
    ensure_refused("rows twice", |text| {
        let text = text.replacen("\"rows\":1,", "\"rows\":1,\"rows\":1,", 1);
        let text = text.replacen("\"rows\":2 ,", "\"rows\":2,\"rows\":2,", 1);
        text.replacen(
            "\"rows\":2,\"columns\"",
            "\"rows\":2,\"rows\":2,\"columns\"",
            1,
        )
    });
    // Written in another way it is the same name.
    ensure_refused("rows twice, escaped", |text| {
        let text = text.replacen("\"rows\":1,", "\"rows\":1,\"r\\u006fws\":1,", 1);
        let text = text.replacen("\"rows\":2 ,", "\"rows\":2,\"r\\u006fws\":2,", 1);
        text.replacen(
            "\"rows\":2,\"columns\"",
            "\"rows\":2,\"r\\u006fws\":2,\"columns\"",
            1,
        )
    });
}

/// RFC 8259, section 9: readers may limit the depth. A thread's stack must not be what does.
#[test]
fn nesting_without_end_is_refused_by_every_reader() {
    const DEEP: usize = 200_000;
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        for closed in [true, false] {
            let mut deep = open.repeat(DEEP);
            if closed {
                deep.push('0');
                deep.push_str(&close.repeat(DEEP));
            }
            ensure_refused("nesting", |text| text.replace("\"NAME\"", &deep));
            for text in [deep.as_bytes(), &[b"[", deep.as_bytes()].concat()] {
                assert!(read_snapshot(text).is_err());
                assert!(read_arrangement(text).is_err());
                let read = recover(None, Some(text)).unwrap();
                assert!(matches!(
                    read.damage[..],
                    [Notice::JournalDamaged { line: 1, .. }]
                ));
            }
        }
    }
    // A change within a change, which would be a draft within a draft.
    let mut change = "{\"in_draft\":[1,".repeat(DEEP);
    change.push_str("null");
    change.push_str(&"]}".repeat(DEEP));
    let journal = journal();
    let (before, after) = journal.split_once("\"changes\":[").unwrap();
    let deep = sealed(&format!("{before}\"changes\":[{change},{after}"));
    let read = recover(None, Some(deep.as_bytes())).unwrap();
    assert!(!read.damage.is_empty());
    assert_eq!(read.collection.check(), []);
}

/// RFC 8259, section 8.1: a mark may be let pass; section 2: line ends are white space.
#[test]
fn a_byte_order_mark_and_other_line_ends_are_let_pass_by_every_reader() {
    let plain = taken(str::to_owned);
    let (snapshot, journal) = (plain.snapshot.unwrap(), plain.journal.unwrap());
    let changes: [fn(&str) -> String; 3] = [
        |text| format!("\u{feff}{text}"),
        |text| text.replace('\n', "\r\n"),
        |text| format!("\u{feff}{}", text.replace('\n', "\r\n")),
    ];
    for change in changes {
        let taken = taken(change);
        assert_eq!(state(&taken.snapshot.unwrap()), state(&snapshot));
        assert_eq!(state(&taken.journal.unwrap()), state(&journal));
        assert!(taken.arrangement);
    }
}

/// RFC 8259, section 8.1: UTF-8 and nothing else.
#[test]
fn other_encodings_are_refused_by_every_reader() {
    let utf16 = |text: &str| -> Vec<u8> {
        let units = "\u{feff}".encode_utf16().chain(text.encode_utf16());
        units.flat_map(u16::to_le_bytes).collect()
    };
    assert!(read_snapshot(&utf16(&snapshot())).is_err());
    assert!(read_arrangement(&utf16(&arrangement())).is_err());
    let read = recover(None, Some(&utf16(&journal()))).unwrap();
    assert!(!read.damage.is_empty());
    let read = read_checklist(&utf16("set,number,name\n")[..], |_| Ok(()));
    assert!(matches!(read, Err(CsvError::Utf16)));
}

/// What this thread has asked the system to read so far. Linux only (proc(5)).
fn bytes_read() -> Option<u64> {
    let told = std::fs::read_to_string("/proc/thread-self/io").ok()?;
    let told = told.lines().find_map(|line| line.strip_prefix("rchar: "))?;
    told.parse().ok()
}

/// 40 GB, of which nothing is on the disk. `false`, said aloud, where no such file can be.
fn make_huge(path: &Path) -> bool {
    let file = File::create(path).unwrap();
    let made = file.set_len(40_000_000_000);
    if let Err(error) = &made {
        println!("skipped: a file of 40 GB: {error}");
    }
    made.is_ok()
}

#[test]
fn a_file_of_40_gb_is_refused_with_its_name_and_not_read() {
    for name in ["collection.json", "journal"] {
        let folder = Folder::default();
        drop(folder.open_as(Open::ForWriting));
        if !make_huge(&folder.file(name)) {
            return;
        }
        for how in [
            Open::ForReading,
            Open::ForWriting,
            Open::AsOffered,
            Open::PutBack,
        ] {
            let before = bytes_read();
            let opened = Session::open(&folder.path(), how, clock());
            let why = opened.map(drop).unwrap_err().to_string();
            assert!(why.contains(name), "{why}");
            assert!(
                why.contains("more than") && why.contains("not read"),
                "{why}"
            );
            if let (Some(before), Some(after)) = (before, bytes_read()) {
                assert!(
                    after - before < 1 << 20,
                    "{} bytes were read",
                    after - before
                );
            }
        }
        let there = std::fs::metadata(folder.file(name)).unwrap();
        assert_eq!(there.len(), 40_000_000_000);
    }
}

#[test]
fn a_checklist_of_40_gb_of_zeros_is_given_up_at_its_first_byte() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("cards.csv");
    if !make_huge(&path) {
        return;
    }
    let before = bytes_read();
    let read = read_checklist(File::open(&path).unwrap(), |_| Ok(()));
    let why = read.unwrap_err().to_string();
    assert!(why.contains("line 1, byte 1"), "{why}");
    if let (Some(before), Some(after)) = (before, bytes_read()) {
        assert!(
            after - before < 1 << 20,
            "{} bytes were read",
            after - before
        );
    }
}

/// A row that does not end is given up after 256 MiB.
#[test]
#[ignore = "the long run"]
fn long_row_without_end_is_given_up() {
    use std::io::Read;
    let input = b"set,number,name\n".chain(std::io::repeat(b'x'));
    let why = read_checklist(input, |_| Ok(())).unwrap_err().to_string();
    assert!(why.contains("line 2 does not end"), "{why}");
    println!("a row without end: {why}");
}

/// However late the version is that it names, up to the largest number of 64 bits.
#[test]
fn a_snapshot_that_says_it_is_later_is_named_so_and_left_as_it_is() {
    let disk = InMemory::default();
    let written = write_snapshot(&collection(), Position::default());
    let later = String::from_utf8(written).unwrap();
    let later = later.replacen("\"version\":1", "\"version\":18446744073709551615", 1);
    let path = Path::new(FOLDER).join("collection.json");
    disk.put(&path, later.clone());
    let files: Rc<dyn Files> = Rc::new(disk.clone());
    let opened = Session::open_on(files, Path::new(FOLDER), Open::ForWriting, clock());
    // There is nothing older that could stand in for it.
    let why = opened.map(drop).unwrap_err();
    assert!(matches!(
        why,
        StoreError::Later {
            version: u64::MAX,
            ..
        }
    ));
    assert!(disk.files().contains(&(path, later.into_bytes())));
}
