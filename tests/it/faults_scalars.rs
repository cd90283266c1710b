//! Every Unicode scalar in every place where text is drawn: none that steers a terminal gets
//! through to a cell of the screen or a line of an answer.

use std::collections::HashSet;
use std::sync::atomic::{AtomicUsize, Ordering};

use crossterm::event::Event;
use ringbound::hand::{self, Ground};
use ringbound::intake::{self, BinderOptions, Phrase};
use ringbound::model::{BinderKind, Change, Collection, PageFormat, Place, SetHead, Step};
use ringbound::session::{Open, Session};

use crate::faults_frames::{assert_harmless, let_through};
use crate::scene::{PLAIN, Scene};
use crate::support::Table;
use crate::support::kept::clock;

/// Scalars in one collection: a title has them all, each of its eight cards a share.
const MANY: usize = 64;
const SHARE: usize = 8;

pub(crate) fn scalars() -> Vec<char> {
    ('\0'..=char::MAX).collect()
}

/// A collection of which every text is made of these.
fn spoken(chunk: &[char]) -> Collection {
    let all: String = chunk.iter().collect();
    let mut collection = Collection::new();
    let head = SetHead {
        code: "ALL".into(),
        title: all.as_str().into(),
        // Words are kept short: at most 100 bytes.
        symbol: chunk[..16].iter().collect::<String>().into(),
        shelf: chunk[16..32].iter().collect::<String>().into(),
    };
    let phrase = Phrase::parse("1 to 8").unwrap();
    let binder = BinderOptions {
        format: PageFormat::new(3, 3, 2),
        kind: BinderKind::Fixed,
    };
    let made = intake::new_set(&collection, &head, &phrase, Some(binder)).unwrap();
    Change::apply_all(&made.step.changes, &mut collection).unwrap();
    let (set, cards) = {
        let (id, set) = collection.sets().next().unwrap();
        (id, set.cards().to_vec())
    };
    let mut changes = vec![Change::AddRarity {
        set,
        name: chunk[32..48].iter().collect::<String>().into(),
    }];
    for ((card, old), share) in (0..).zip(cards).zip(chunk.chunks(SHARE)) {
        let mut new = old.clone();
        new.name = share.iter().collect::<String>().into();
        new.rarity = Some(0);
        changes.push(Change::EditCard {
            set,
            card,
            old: Box::new(old),
            new: Box::new(new),
        });
    }
    let binder = collection.binder_at(0).unwrap();
    let (id, spec) = (binder.id(), binder.spec().clone());
    let mut new = spec.clone();
    new.title = all.as_str().into();
    new.front_matter = vec![all.as_str().into()];
    changes.push(Change::EditBinder {
        binder: id,
        old: Box::new(spec),
        new: Box::new(new),
    });
    Change::apply_all(&changes, &mut collection).unwrap();
    // Names that begin as words, so that none is refused as missing.
    let draft = hand::begin_draft(&collection, id, &format!("D{all}"), false).unwrap();
    Change::apply_all(&draft.changes, &mut collection).unwrap();
    let pocket = Place {
        binder: id,
        page: 0,
        pocket: 8,
    };
    let words = format!("K{all}");
    let kept = hand::keepsake(&collection, Ground::real(id), pocket, &words).unwrap();
    Change::apply_all(&kept.step.changes, &mut collection).unwrap();
    collection
}

/// Keys that lead to every place where text is drawn; `*` pastes the text itself into the field.
const TOUR: &[&str] = &[
    "enter right right down down right",
    "enter + u",
    "enter pgup",
    "enter d",
    "enter d r *",
    "enter d enter",
    "enter a",
    "enter h",
    "l",
    "l *",
    "l f2 *",
    "f *",
    "s *",
    "e *",
    "b",
    "b tab",
    "x *",
    "P",
    "enter P *",
    "enter + esc w enter",
];

/// Draws the tour and gives the number of frames; what was seen is added up.
fn draw(chunk: &[char], seen: &mut HashSet<char>) -> usize {
    let collection = spoken(chunk);
    let text: String = chunk.iter().collect();
    let mut frames = 0;
    for keys in TOUR {
        let session = Session::in_memory(collection.clone());
        let mut scene = Scene::new(session, PLAIN, (199, 30));
        for key in ["ctrl-l"].into_iter().chain(keys.split(' ')) {
            if key == "*" {
                scene.event(&Event::Paste(text.clone()));
            } else {
                scene.keys(key);
            }
            frames += 1;
            assert_harmless(&scene.frame);
        }
        let symbols = scene
            .frame
            .content
            .iter()
            .map(ratatui::buffer::Cell::symbol);
        seen.extend(symbols.filter(|s| *s != " ").flat_map(str::chars));
    }
    frames
}

/// Whether the scalar fills a cell of its own and is shown as it is.
pub(crate) fn is_visible(c: char) -> bool {
    let width = unicode_width::UnicodeWidthChar::width(c);
    width.is_some_and(|width| width > 0) && let_through(&c.to_string()).is_none()
}

#[test]
fn scalars_that_steer_and_a_share_of_all_others_are_drawn_harmlessly() {
    let all = scalars();
    let (mut drawn, mut tags) = (0, 0);
    let mut seen = HashSet::new();
    for (at, chunk) in all.chunks(MANY).enumerate() {
        let is_tag = chunk[0] >= '\u{e0000}';
        let steers = chunk.iter().any(|c| let_through(&c.to_string()).is_some());
        tags += usize::from(is_tag && steers);
        if steers && (!is_tag || tags < 2) || at % 2_000 == 3 {
            draw(chunk, &mut seen);
            drawn += chunk.len();
        }
    }
    println!("scalars drawn everywhere, a share: {drawn}");
    assert!(drawn > 1_200 && seen.len() > 500, "{drawn}, {}", seen.len());
}

#[test]
#[ignore = "the long run"]
fn long_every_scalar_is_drawn_harmlessly_everywhere() {
    let all = scalars();
    assert_eq!(all.len(), 1_112_064);
    let chunks: Vec<&[char]> = all.chunks(MANY).collect();
    let next = AtomicUsize::new(0);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let drawn = || {
        let mut seen = HashSet::new();
        let more = || chunks.get(next.fetch_add(1, Ordering::SeqCst));
        let frames: usize = std::iter::from_fn(more)
            .map(|chunk| draw(chunk, &mut seen))
            .sum();
        (frames, seen)
    };
    let (mut frames, mut seen) = (0, HashSet::new());
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..threads).map(|_| scope.spawn(drawn)).collect();
        for thread in threads {
            let (more, also) = thread.join().unwrap();
            frames += more;
            seen.extend(also);
        }
    });
    let visible: Vec<char> = all.into_iter().filter(|c| is_visible(*c)).collect();
    let shown = visible.iter().filter(|c| seen.contains(*c)).count();
    println!(
        "scalars drawn everywhere: 1112064, frames: {frames}, of {} that are visible seen: {shown}",
        visible.len()
    );
    assert_eq!(shown, visible.len());
}

#[test]
fn a_share_of_all_scalars_is_told_harmlessly_in_answers() {
    // Those of the first 8,192 are nearly all that steer.
    let all = scalars().into_iter().enumerate();
    let share = all.filter(|(at, _)| *at < 8_192 || (at / MANY).is_multiple_of(40));
    told(share.map(|(_, c)| c).collect());
}

#[test]
#[ignore = "the long run"]
fn long_every_scalar_is_told_harmlessly_in_answers() {
    told(scalars());
}

/// Scalars as names of cards, told by the real program in tables.
fn told(all: Vec<char>) {
    let table = Table::new();
    let (mut session, _) = Session::open(&table.shelf(), Open::ForWriting, clock()).unwrap();
    let many = all.len();
    let names: Vec<&[char]> = all.chunks(MANY).collect();
    for (set, names) in names.chunks(1_000).enumerate() {
        let head = SetHead {
            code: format!("S{set}").into(),
            title: names[0].iter().collect::<String>().into(),
            ..SetHead::default()
        };
        let phrase = Phrase::parse(&format!("1 to {}", names.len())).unwrap();
        let binder = BinderOptions {
            format: PageFormat::new(3, 3, 2),
            kind: BinderKind::Fixed,
        };
        let made = intake::new_set(session.collection(), &head, &phrase, Some(binder)).unwrap();
        session.commit(made.step).unwrap();
        let id = session.collection().set_by_code(&head.code).unwrap();
        let cards = session.collection().set(id).unwrap().cards().to_vec();
        let edits = (0..).zip(cards).zip(names).map(|((card, old), name)| {
            let mut new = old.clone();
            new.name = name.iter().collect::<String>().into();
            Change::EditCard {
                set: id,
                card,
                old: Box::new(old),
                new: Box::new(new),
            }
        });
        session.commit(Step::new("named", edits.collect())).unwrap();
    }
    session.close().unwrap();
    let mut seen = HashSet::new();
    for arguments in [&["gaps"][..], &["completion"], &["history"]] {
        let told = table.ok(arguments);
        for line in told.lines() {
            for c in line.chars() {
                let bad = c != '\u{200d}' && let_through(&c.to_string()).is_some();
                assert!(!bad, "{arguments:?}: {c:?} in {line:?}");
                seen.insert(c);
            }
        }
    }
    let visible: Vec<char> = all.into_iter().filter(|c| is_visible(*c)).collect();
    let shown = visible.iter().filter(|c| seen.contains(*c)).count();
    println!(
        "scalars told in words: {many}, of {} that are visible seen: {shown}",
        visible.len()
    );
    let missed: Vec<_> = visible.iter().filter(|c| !seen.contains(*c)).collect();
    assert!(missed.is_empty(), "{missed:?}");
}
