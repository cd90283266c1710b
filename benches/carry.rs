//! Something in hand: from one event to the finished frame, in a binder of 60 pages of 18 pockets
//! that stands alone and in a collection of a million pockets. Goal: within a frame of 16 ms, and
//! the same in both, but for a fifth.

use crossterm::event::{Event, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use ringbound::hand;
use ringbound::intake::{self, BinderOptions, Copies, CopyRow, Phrase};
use ringbound::model::{BinderKind, Change, Collection, PageFormat, RingShape, SetHead};

use crate::common::collection::collection;
use crate::common::shown::{FRAME, Shown};
use crate::common::table::{self, Goal, median, timed};

const ROUNDS: usize = 200;

/// The two collections in turns.
const TURNS: usize = 9;

pub(crate) fn run() {
    println!("ms from an event to the finished frame at 120x40 (median, worst of {ROUNDS})");
    let both = [0, 1_000_000].map(|rest| with_pages(collection(rest), 60));
    for (what, keys) in [
        ("a card by keys", Some(["c", "right", "left"])),
        ("a card pushing others", Some(["c x", "pgdn", "pgup"])),
        ("a page by keys", Some(["C", "pgdn", "pgup"])),
        (
            "a page in a draft",
            Some(["d down enter C", "pgdn", "pgup"]),
        ),
        ("a card by the mouse", None),
    ] {
        let times = |collection| match keys {
            Some(keys) => keyed(collection, keys),
            None => dragged(collection),
        };
        let mut same = Vec::new();
        for _ in 0..TURNS {
            let [alone, among] = both.each_ref().map(times);
            same.push(median(among.clone()) / median(alone.clone()));
            if same.len() == TURNS {
                tell("alone", what, alone);
                tell("among 1,000,000 pockets", what, among);
            }
        }
        let what = format!("carry: {what} among 1,000,000 pockets / alone");
        table::tell(&what, "", median(same), Goal::AtMost(1.2));
    }
    let collection = with_pages(collection(0), 2_000);
    for (what, keys) in [
        ("a page by keys", ["C", "pgdn", "pgup"]),
        ("a page in a draft", ["d down enter C", "pgdn", "pgup"]),
    ] {
        tell("of 2,000", what, keyed(&collection, keys));
    }
}

fn tell(name: &str, what: &str, times: Vec<f64>) {
    let worst = times.iter().copied().fold(0.0, f64::max);
    println!("  {what:<24} {name:<24} {:.3} {worst:.3}", median(times));
    let what = format!("carry: {what} {name}, worst of {ROUNDS} / 16 ms");
    table::tell(&what, "", worst / FRAME, Goal::AtMost(1.0));
}

/// A binder of so many pages as the last of the shelf, every card in its pocket, with a draft of
/// it.
fn with_pages(mut collection: Collection, pages: usize) -> Collection {
    let head = SetHead {
        code: "MANY".into(),
        title: "Many Pages".into(),
        ..SetHead::default()
    };
    let format = PageFormat::new(3, 3, 2);
    let cards = pages * format.pockets();
    let phrase = Phrase::parse(&format!("1 to {cards}")).expect("a phrase");
    let binder = BinderOptions {
        format,
        kind: BinderKind::Rings {
            size: 60,
            shape: RingShape::D,
        },
    };
    let made = intake::new_set(&collection, &head, &phrase, Some(binder)).expect("a set");
    Change::apply_all(&made.step.changes, &mut collection).expect("a set");
    let mut copies = Copies::new(&collection);
    for number in 1..=cards {
        let row = CopyRow {
            line: 1,
            set: "MANY",
            number: &number.to_string(),
            finish: "",
            count: 1,
        };
        copies.row(&row).expect("a copy");
    }
    let seated = copies.finish_step(true).step;
    Change::apply_all(&seated.changes, &mut collection).expect("copies in their pockets");
    let id = collection.shelf().next_back().expect("a binder").id();
    let draft = hand::begin_draft(&collection, id, "autumn", false).expect("a draft");
    Change::apply_all(&draft.changes, &mut collection).expect("a draft");
    collection
}

fn shown(collection: &Collection) -> Shown {
    let mut shown = Shown::new(collection, (120, 40));
    drawn(&mut shown, "end enter g");
    drawn(&mut shown, "3 0 enter");
    shown
}

/// Keys, with a frame after each.
fn drawn(shown: &mut Shown, words: &str) {
    for word in words.split_whitespace() {
        shown.keys(word);
        shown.draw();
    }
}

fn keyed(collection: &Collection, [begin, there, back]: [&str; 3]) -> Vec<f64> {
    let mut shown = shown(collection);
    drawn(&mut shown, begin);
    let one = |round: usize| if round.is_multiple_of(2) { there } else { back };
    (0..ROUNDS)
        .map(|round| timed(|| drawn(&mut shown, one(round))))
        .collect()
}

fn dragged(collection: &Collection) -> Vec<f64> {
    let mut shown = shown(collection);
    let mouse = |kind, column, row| {
        Event::Mouse(MouseEvent {
            kind,
            column,
            row,
            modifiers: KeyModifiers::NONE,
        })
    };
    shown.handle(&mouse(MouseEventKind::Down(MouseButton::Left), 55, 6));
    let drag = MouseEventKind::Drag(MouseButton::Left);
    (0..ROUNDS)
        .map(|round| {
            let event = mouse(drag, 55 + (round % 30) as u16, 6 + (round % 25) as u16);
            timed(|| {
                shown.handle(&event);
                shown.draw();
            })
        })
        .collect()
}
