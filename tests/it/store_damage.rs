//! Damaged journals: every cut, every bit, every line. The rules and their grounds are those of
//! published work on stores: SQLite's "How SQLite Is Tested", and "All File Systems Are Not
//! Created Equal" (Pillai and others, OSDI 2014), which found stores broken by garbage at the end
//! of appended files.

use ringbound::model::{Collection, Step};
use ringbound::session::Session;
use ringbound::store::{
    History, MemoryStore, Notice, Position, Recovered, Unreadable, recover, write_snapshot,
};

use crate::support::kept::{Memory, Place};
use crate::support::world::{acquire, moss, state, steps};

/// A journal with steps, an undo and a redo, with the state after each of its records.
fn sample() -> (Vec<u8>, Vec<String>) {
    let place = Memory::default();
    let mut session = place.open();
    let mut states = vec![state(session.collection())];
    let mut seen = |session: &Session| states.push(state(session.collection()));
    for step in steps() {
        session.commit(step).unwrap();
        seen(&session);
    }
    session.undo().unwrap();
    seen(&session);
    session.redo().unwrap();
    seen(&session);
    session.commit(acquire(moss(1, 0), 2)).unwrap();
    seen(&session);
    let journal = place.0.borrow().journal().to_vec();
    (journal, states)
}

/// A shorter one, so that every bit of it can be flipped.
fn small() -> (Vec<u8>, Vec<String>) {
    let place = Memory::default();
    let mut session = place.open();
    let mut states = vec![state(session.collection())];
    let head = crate::support::world::head("MIR");
    let set = crate::support::world::MOSS;
    let add = vec![ringbound::model::Change::AddSet {
        set,
        at: usize::from(set.0),
        head,
    }];
    session.commit(Step::new("set", add)).unwrap();
    states.push(state(session.collection()));
    session.undo().unwrap();
    states.push(state(session.collection()));
    session.redo().unwrap();
    states.push(state(session.collection()));
    let journal = place.0.borrow().journal().to_vec();
    (journal, states)
}

fn read(journal: &[u8]) -> Recovered {
    recover(None, Some(journal)).unwrap()
}

fn lines(journal: &[u8]) -> Vec<Vec<u8>> {
    journal
        .split_inclusive(|b| *b == b'\n')
        .map(<[u8]>::to_vec)
        .collect()
}

#[test]
fn every_cut_opens_to_the_steps_that_are_whole() {
    let (journal, states) = sample();
    let header = lines(&journal)[0].len();
    for length in 0..=journal.len() {
        let read = read(&journal[..length]);
        if length + 1 < header {
            // A header is put in place whole, so a part of one is no write that was cut off.
            assert!(matches!(
                read.damage[..],
                [Notice::JournalDamaged { line: 1, .. }]
            ));
            assert_eq!(state(&read.collection), states[0]);
            continue;
        }
        assert_eq!(read.damage, [], "{length} bytes");
        // A record is whole when only its line end is missing.
        let mut ends = lines(&journal)
            .into_iter()
            .skip(1)
            .scan(header, |end, line| {
                *end += line.len();
                Some(*end)
            });
        let whole = ends.by_ref().take_while(|end| *end <= length + 1).count();
        assert_eq!(state(&read.collection), states[whole], "{length} bytes");
        let rest = length - read.journal_whole;
        assert_eq!(read.torn.map_or(0, |torn| torn.bytes), rest);
    }
}

#[test]
fn no_flipped_bit_gives_a_wrong_state_or_goes_unnoticed() {
    let (journal, states) = small();
    let last = states.len() - 1;
    for bit in 0..journal.len() * 8 {
        let mut bytes = journal.clone();
        bytes[bit / 8] ^= 1 << (bit % 8);
        let Ok(read) = recover(None, Some(&bytes)) else {
            continue;
        };
        let noticed = !read.damage.is_empty() || read.torn.is_some();
        assert!(noticed, "bit {bit}");
        let now = state(&read.collection);
        assert!(states.contains(&now), "bit {bit}");
        // Of a torn end only the last line may be lost.
        if read.torn.is_some() {
            assert_eq!(now, states[last - 1], "bit {bit}");
        }
    }
}

#[test]
fn a_line_that_is_dropped_doubled_or_swapped_is_noticed_where_it_stands() {
    let (journal, states) = sample();
    let whole = lines(&journal);
    let last = whole.len() - 1;
    for at in 0..last {
        let mut dropped = whole.clone();
        dropped.remove(at);
        let mut doubled = whole.clone();
        doubled.insert(at, whole[at].clone());
        let mut swapped = whole.clone();
        swapped.swap(at, at + 1);
        for (how, lines, line) in [
            ("dropped", dropped, at + 1),
            ("doubled", doubled, at + 2),
            ("swapped", swapped, at + 1),
        ] {
            let read = read(&lines.concat());
            let [Notice::JournalDamaged { line: told, .. }] = read.damage[..] else {
                panic!("line {at} {how}: {:?}", read.damage);
            };
            assert_eq!(told, line, "line {at} {how}");
            let prefix = line.saturating_sub(2);
            assert_eq!(state(&read.collection), states[prefix], "line {at} {how}");
        }
    }
    // The last line doubled is in the wrong place too, not torn.
    let mut doubled = whole.clone();
    doubled.push(whole[last].clone());
    assert!(matches!(
        read(&doubled.concat()).damage[..],
        [Notice::JournalDamaged { .. }]
    ));
}

#[test]
fn what_follows_the_last_line_is_torn_off_whatever_it_is() {
    let (journal, states) = sample();
    for tail in [
        &b"\0\0\0\0"[..],
        b"\n",
        b"{\"seq\":7",
        b"\xff\xfe",
        b"garbage\n",
        b" ",
    ] {
        let read = read(&[&journal, tail].concat());
        assert_eq!(read.damage, []);
        assert_eq!(read.torn.unwrap().bytes, tail.len());
        assert_eq!(state(&read.collection), *states.last().unwrap());
    }
}

#[test]
fn a_bad_line_with_lines_after_it_is_damage_and_not_torn() {
    let (journal, states) = sample();
    let mut lines = lines(&journal);
    lines[2] = b"\n".to_vec();
    let read = read(&lines.concat());
    let [Notice::JournalDamaged { line: 3, ref what }] = read.damage[..] else {
        panic!("{:?}", read.damage);
    };
    assert!(what.contains("checksum"), "{what}");
    assert_eq!(state(&read.collection), states[1]);
}

#[test]
fn capital_letters_in_a_checksum_are_not_another_way_to_write_it() {
    let (journal, _) = sample();
    let text = String::from_utf8(journal).unwrap();
    let sums: Vec<&str> = text
        .lines()
        .filter_map(|line| line.get(line.len() - 10..))
        .collect();
    let sum = sums
        .iter()
        .find(|sum| sum.contains(|c: char| c.is_ascii_lowercase()))
        .unwrap();
    let read = read(text.replace(*sum, &sum.to_uppercase()).as_bytes());
    assert!(!read.damage.is_empty() || read.torn.is_some());
}

#[test]
fn other_line_ends_and_a_byte_order_mark_are_let_pass() {
    let (journal, states) = sample();
    let text = String::from_utf8(journal).unwrap();
    for other in [format!("\u{feff}{text}"), text.replace('\n', "\r\n")] {
        let read = read(other.as_bytes());
        assert_eq!((read.damage, read.torn), (vec![], None));
        assert_eq!(state(&read.collection), *states.last().unwrap());
    }
}

#[test]
fn a_later_version_of_the_journal_is_named() {
    let (journal, _) = sample();
    let later = String::from_utf8(journal)
        .unwrap()
        .replacen("\"version\":1", "\"version\":3", 1);
    let read = recover(None, Some(later.as_bytes()));
    assert_eq!(read.map(drop), Err(Unreadable::JournalLater(3)));
}

/// JSON Lines (jsonlines.org): a line ends at `\n` alone and holds one value.
#[test]
fn every_line_of_a_journal_is_one_value_whatever_the_labels_hold() {
    let labels = [
        "\u{2028}", "\u{85}", "a\nb", "a\r\nb", "\"", "\\", "\0", "\u{feff}", "漢字",
    ];
    let place = Memory::default();
    let mut session = place.open();
    session.commit(crate::support::world::sets()).unwrap();
    for label in labels {
        let step = Step::new(label, acquire(moss(0, 0), 1).changes);
        session.commit(step).unwrap();
    }
    session.rewrite().unwrap();
    session.commit(acquire(moss(0, 0), 1)).unwrap();
    let journal = String::from_utf8(place.0.borrow().journal().to_vec()).unwrap();
    assert!(journal.ends_with('\n'));
    let lines: Vec<&str> = journal.strip_suffix('\n').unwrap().split('\n').collect();
    assert_eq!(lines.len(), 1 + 1 + labels.len() + 1);
    for line in lines {
        let value: serde_json::Value = serde_json::from_str(line).unwrap();
        assert!(value.is_object());
    }
    let told: Vec<_> = place.open().done().map(|told| told.label).skip(1).collect();
    assert!(told.iter().rev().skip(1).eq(labels.iter()), "{told:?}");
}

/// Snapshot and journal of two histories, as a partial restore or a sync tool leaves them.
#[test]
fn a_snapshot_and_a_journal_that_do_not_belong_together_are_told_apart() {
    let kept = |count: u32, rewrite: bool| {
        let place = Memory::default();
        let mut session = place.open();
        session.commit(crate::support::world::sets()).unwrap();
        session.commit(acquire(moss(0, 0), count)).unwrap();
        if rewrite {
            session.rewrite().unwrap();
        }
        session.commit(acquire(moss(1, 0), count)).unwrap();
        let store = place.0.borrow().clone();
        (store, state(session.collection()))
    };
    let (one, whole) = kept(1, true);
    let (other, _) = kept(2, true);
    let (early, _) = kept(1, false);
    let read = |snapshot: &MemoryStore, journal: &MemoryStore| {
        recover(snapshot.snapshot(), Some(journal.journal())).unwrap()
    };
    assert_eq!(state(&read(&one, &one).collection), whole);
    // The journal from before the snapshot still covers it.
    assert_eq!(state(&read(&one, &early).collection), whole);
    let snapshot_alone = recover(one.snapshot(), None).unwrap();
    for (snapshot, journal) in [(&one, &other), (&early, &one)] {
        let read = read(snapshot, journal);
        assert!(
            matches!(read.damage[..], [Notice::NotTogether { .. }]),
            "{:?}",
            read.damage
        );
    }
    assert_eq!(
        state(&read(&one, &other).collection),
        state(&snapshot_alone.collection)
    );
    assert!(matches!(
        snapshot_alone.damage[..],
        [Notice::NotTogether { .. }]
    ));
    // A snapshot beyond the journal's end.
    let far = Position { seq: 9, chain: 1 };
    let far = write_snapshot(&Collection::new(), far);
    let read = recover(Some(&far), Some(one.journal())).unwrap();
    assert!(matches!(read.damage[..], [Notice::NotTogether { .. }]));
}

/// What the chain is for: a record of another history, as a folder that was merged leaves it, has
/// the right number and a checksum that holds. Only what it says of the one before it gives it away.
#[test]
fn a_record_of_another_history_is_noticed_though_its_number_and_checksum_are_right() {
    let kept = |count: u32| {
        let place = Memory::default();
        let mut session = place.open();
        session.commit(crate::support::world::sets()).unwrap();
        for _ in 0..4 {
            session.commit(acquire(moss(0, 0), count)).unwrap();
        }
        let journal = place.0.borrow().journal().to_vec();
        lines(&journal)
    };
    let (one, other) = (kept(1), kept(2));
    assert_eq!(one[..2], other[..2], "they begin alike");
    for at in 3..one.len() {
        let mut spliced = one.clone();
        spliced[at] = other[at].clone();
        let read = read(&spliced.concat());
        let [Notice::JournalDamaged { line, ref what }] = read.damage[..] else {
            panic!("line {at}: {:?}", read.damage);
        };
        assert_eq!(line, at + 1);
        assert!(what.contains("does not follow"), "{what}");
        assert_eq!(read.collection.tally(moss(0, 0)).loose as usize, at - 2);
    }
}

/// The state that a flipped bit in carried-over steps leaves is the snapshot's.
#[test]
fn damage_in_steps_carried_over_is_noticed() {
    let place = Memory::default();
    let mut session = place.open();
    for step in steps() {
        session.commit(step).unwrap();
    }
    session.undo().unwrap();
    session.rewrite().unwrap();
    let expected = state(session.collection());
    let store = place.0.borrow().clone();
    let journal = store.journal();
    assert!(journal.windows(8).any(|w| w == b"\"undone\""));
    for at in 0..journal.len() {
        let mut bytes = journal.to_vec();
        bytes[at] ^= 1;
        let Ok(read) = recover(store.snapshot(), Some(&bytes)) else {
            continue;
        };
        assert!(!read.damage.is_empty(), "byte {at}");
        assert_eq!(state(&read.collection), expected);
        assert_eq!(read.history, History::default());
    }
}
