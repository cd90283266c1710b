//! Every Unicode scalar in every text that a collection can hold, told by the real program: tables,
//! sheets, errors. No control reaches a line of any of them.

use std::collections::HashSet;

use ringbound::model::{
    BinderId, BinderKind, BinderSpec, Card, Change, Finish, LayoutPage, Meaning, PageFormat,
    PageId, Place, PrintingId, SetHead, SetId, Step,
};
use ringbound::session::{Open, Session};

use crate::faults_frames::let_through;
use crate::faults_scalars::{is_visible, scalars};
use crate::support::Table;
use crate::support::kept::clock;

/// Scalars in a short text, which holds at most 100 bytes, and in a long one of at most 1,000.
const SHORT: usize = 22;
const LONG: usize = 240;

/// The binder with all of the pockets.
const SHELVED: BinderId = BinderId(1);

fn word(scalars: &[char]) -> String {
    scalars.iter().collect()
}

/// As much of it as a name may have.
fn plain(scalars: &[char]) -> String {
    let is_plain = |c: &&char| !c.is_whitespace() && !c.is_control() && !"\":();,".contains(**c);
    scalars.iter().filter(is_plain).collect()
}

/// As much of it as a mark may have.
fn letters(scalars: &[char]) -> String {
    scalars.iter().filter(|c| c.is_alphanumeric()).collect()
}

fn sets(group: &[char]) -> Vec<Change> {
    let mut changes = Vec::new();
    for (number, scalars) in (0..).zip(group.chunks(SHORT)) {
        let (set, words) = (SetId(number), word(scalars));
        let head = SetHead {
            code: format!("S{number}{}", plain(scalars)).into(),
            title: words.as_str().into(),
            symbol: words.as_str().into(),
            shelf: words.as_str().into(),
        };
        let finish = |name: &str, mark: &str| {
            Box::new(Finish {
                name: name.into(),
                mark: mark.into(),
            })
        };
        let head = Box::new(head);
        changes.push(Change::AddSet {
            set,
            at: usize::from(set.0),
            head,
        });
        for finish in [
            finish(&format!("f{}", plain(scalars)), ""),
            finish(
                &format!("g{}", plain(scalars)),
                &format!("m{}", letters(scalars)),
            ),
        ] {
            changes.push(Change::AddFinish { set, finish });
        }
        let name = format!("r{words}").into();
        changes.push(Change::AddRarity { set, name });
        let card = |number: &str| Card {
            number: format!("{number}{words}").into(),
            name: format!("N{words}").into(),
            rarity: Some(0),
            size: None,
            finishes: 3,
        };
        let cards = vec![card("1"), card("2")];
        let first = 0;
        changes.push(Change::AddCards { set, first, cards });
        // One to go into its pocket, one to wait for its own, one spare.
        for (card, count) in [(0, 2), (1, 1)] {
            let printing = PrintingId::new(set, card, 0);
            changes.push(Change::Acquire { printing, count });
        }
    }
    changes
}

/// A binder with pockets for all, and others with nothing but names.
fn binders(group: &[char]) -> Vec<Change> {
    let mut changes = Vec::new();
    let spec = |name: String, scalars: &[char], lines: Vec<Box<str>>| BinderSpec {
        name: name.into(),
        title: word(scalars).into(),
        set: None,
        kind: BinderKind::Fixed,
        front_matter: lines,
    };
    let long: Vec<Box<str>> = group.chunks(LONG).map(|chars| word(chars).into()).collect();
    let of_sets = (0..group.chunks(SHORT).len()).flat_map(|set| {
        [(0, 0), (0, 1), (1, 0)].map(|(card, finish)| {
            Meaning::Printing(PrintingId::new(SetId(set as u16), card, finish))
        })
    });
    let keepsakes = long
        .iter()
        .map(|words| Meaning::Keepsake(format!("K{words}").into()));
    let meanings: Vec<Meaning> = of_sets.chain(keepsakes).collect();
    changes.push(Change::AddBinder {
        binder: SHELVED,
        at: 0,
        spec: Box::new(spec(
            "shelved".into(),
            &group[..LONG.min(group.len())],
            long,
        )),
    });
    let format = PageFormat::new(20, 20, 1);
    for (at, meant) in meanings.chunks(format.pockets()).enumerate() {
        let id = PageId(at as u32 + 1);
        changes.push(Change::AddPage {
            binder: SHELVED,
            at,
            page: id,
            format,
        });
        let mut page = LayoutPage::empty(format);
        for (pocket, meaning) in meant.iter().enumerate() {
            page.set_meaning(pocket, meaning.clone());
        }
        changes.push(Change::AddLayoutPage {
            binder: SHELVED,
            at,
            page: Box::new(page),
        });
        for (pocket, meaning) in meant.iter().enumerate() {
            if let Meaning::Printing(printing) = meaning
                && printing.card() == 0
                && printing.finish() == 0
            {
                changes.push(Change::Seat {
                    place: Place {
                        binder: SHELVED,
                        page: at,
                        pocket,
                    },
                    page: id,
                    printing: *printing,
                });
            }
        }
    }
    for (number, scalars) in (2..).zip(group.chunks(SHORT)) {
        changes.push(Change::AddBinder {
            binder: BinderId(number),
            at: number as usize - 1,
            spec: Box::new(spec(
                format!("b{number}{}", plain(scalars)),
                scalars,
                Vec::new(),
            )),
        });
    }
    changes
}

/// A folder in which these stand everywhere.
fn everywhere(group: &[char]) -> Table {
    let table = Table::new();
    let (mut session, _) = Session::open(&table.shelf(), Open::ForWriting, clock()).unwrap();
    session.commit(Step::new("sets", sets(group))).unwrap();
    session
        .commit(Step::new("binders", binders(group)))
        .unwrap();
    let templates = group.chunks(LONG).map(|scalars| Change::SetTemplate {
        name: format!("T{}", word(scalars)).into(),
        old: None,
        new: Some(vec![format!("{}: the rest", plain(scalars)).into()]),
    });
    session
        .commit(Step::new("templates", templates.collect()))
        .unwrap();
    for scalars in group.chunks(4 * LONG) {
        let acquire = Change::Acquire {
            printing: PrintingId::new(SetId(0), 0, 0),
            count: 1,
        };
        session
            .commit(Step::new(word(scalars), vec![acquire]))
            .unwrap();
    }
    session.close().unwrap();
    // A file of the byte 0 is refused whole.
    let quoted = |scalars: &[char]| word(scalars).replace('"', "\"\"").replace('\0', "");
    let rows = group
        .chunks(SHORT)
        .map(|scalars| format!("\"{}\",\"{}\"\n", quoted(scalars), quoted(scalars)));
    table.file(
        "bad.csv",
        format!("set,number\n{}", rows.collect::<String>()),
    );
    let rows = group
        .chunks(LONG)
        .map(|scalars| format!("ring binder,25 D,1,7.90,EUR,\"{}\"\n", quoted(scalars)));
    let rows: String = rows.collect();
    table.file(
        "prices.csv",
        format!("item,size,pack,price,currency,note\n{rows}"),
    );
    let rules = group
        .chunks(LONG)
        .map(|scalars| format!("{0}: cards \"{0}\"\n", plain(scalars)));
    table.file("rules.txt", rules.take(190).collect::<String>());
    table
}

/// What the program is asked whose answer has every name of a card, or every text of its kind.
const WHOLE: &[&[&str]] = &[
    &["gaps"],
    &["wants"],
    &["wants", "--all"],
    &["spares"],
    &["waiting"],
    &["history"],
    &["show", "shelved"],
    &["layout", "templates"],
    &["layout", "templates", "shelved"],
    &["plan", "shelved"],
];

/// Other answers, and errors.
const ASKED: &[&[&str]] = &[
    &["completion"],
    &["completion", "--set", "S0"],
    &["runs"],
    &["fit"],
    &["layout", "show", "shelved", "--rules", "rules.txt"],
    &["layout", "show", "shelved", "--rules", "bad.csv"],
    &["sort-pile", "--loose"],
    &["supplies"],
    &["supplies", "--prices", "prices.csv"],
    &["supplies", "--prices", "bad.csv"],
    &["packs", "S0", "--pack-size", "2"],
    &["check"],
    &["recover"],
    &["plan", "bad.csv", "bad.csv"],
    &["swap", "bad.csv", "bad.csv"],
    &["import", "copies", "bad.csv"],
    &["import", "checklist", "bad.csv"],
];

/// The same for sheets that go into files.
const SHEETS: &[&[&str]] = &[
    &["print", "index", "shelved"],
    &["print", "wants"],
    &["print", "spares"],
    &["print", "work-sheet"],
    &["print", "shopping"],
    &["print", "pile", "--loose"],
];

/// Tells the first control that got through.
fn ensure_harmless(what: &[&str], bytes: &[u8], seen: &mut HashSet<char>) -> usize {
    let text = std::str::from_utf8(bytes).unwrap_or_else(|error| panic!("{what:?}: {error}"));
    for line in text.split('\n') {
        for c in line.chars() {
            // A joiner between two signs makes one of them.
            let bad = c != '\u{200d}' && let_through(c.encode_utf8(&mut [0; 4])).is_some();
            assert!(!bad, "{what:?}: {c:?} in {line:?}");
            seen.insert(c);
        }
    }
    text.len()
}

/// Gives the bytes that were told.
fn ask(group: &[char], seen: &mut HashSet<char>) -> usize {
    let table = everywhere(group);
    let mut bytes = 0;
    for what in WHOLE.iter().chain(ASKED) {
        let mut here = HashSet::new();
        let output = table.output(what);
        assert!(
            output.status.code().is_some(),
            "{what:?}: {}",
            output.status
        );
        bytes += ensure_harmless(what, &output.stdout, &mut here);
        bytes += ensure_harmless(what, &output.stderr, &mut here);
        assert!(!here.is_empty(), "{what:?} says nothing");
        if WHOLE.contains(what) {
            ensure_all(what, group, &here);
        }
        seen.extend(here);
    }
    for what in SHEETS {
        for name in ["sheet.txt", "sheet.md"] {
            let mut what = what.to_vec();
            what.extend(["--out", name]);
            let output = table.output(&what);
            bytes += ensure_harmless(&what, &output.stderr, seen);
            assert_eq!(output.status.code(), Some(0), "{what:?}");
            let sheet = std::fs::read(table.path(name)).unwrap();
            bytes += ensure_harmless(&what, &sheet, seen);
            std::fs::remove_file(table.path(name)).unwrap();
        }
    }
    // As an argument, which an error names. An argument has no zero byte (execve(2)).
    for scalars in group.chunks(20 * LONG) {
        let scalars: Vec<char> = scalars.iter().copied().filter(|c| *c != '\0').collect();
        let word = format!("x{}", word(&scalars));
        for what in [
            &["show", &word][..],
            &["completion", "--set", &word],
            &[&word],
        ] {
            let output = table.output(what);
            assert!(output.status.code().is_some_and(|code| code != 0));
            bytes += ensure_harmless(&what[..1], &output.stderr, seen);
        }
    }
    bytes
}

/// Whatever can be seen is told: nothing is thrown away to be safe.
fn ensure_all(what: &[&str], group: &[char], seen: &HashSet<char>) {
    let visible = group.iter().filter(|c| is_visible(**c));
    let missed: Vec<_> = visible.filter(|c| !seen.contains(*c)).collect();
    assert!(missed.is_empty(), "{what:?}: {missed:?}");
}

fn told(all: &[char], groups: usize) {
    let mut seen = HashSet::new();
    let groups = all.chunks(all.len().div_ceil(groups));
    let bytes: usize = groups.map(|group| ask(group, &mut seen)).sum();
    ensure_all(&["all"], all, &seen);
    println!(
        "scalars in every text that is told: {}, in {} kB of answers",
        all.len(),
        bytes / 1_000
    );
}

#[test]
fn no_text_of_a_collection_steers_the_terminal_of_who_asks() {
    // Nearly all that steer, and a few of all others.
    let all = scalars().into_iter().enumerate();
    let steers = |c: &char| let_through(&c.to_string()).is_some();
    let mut tags = 0;
    let share = all.filter(|(at, c)| {
        let is_tag = *c >= '\u{e0000}' && steers(c);
        tags += usize::from(is_tag);
        (is_tag && tags < 200) || (!is_tag && steers(c)) || at % 997 == 0 || *at < 0x250
    });
    let share: Vec<char> = share.map(|(_, c)| c).collect();
    told(&share, 1);
}

#[test]
#[ignore = "the long run"]
fn long_every_scalar_in_every_text_that_is_told() {
    told(&scalars(), 40);
}
