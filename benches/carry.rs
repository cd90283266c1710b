//! Something in hand: from one event to the finished frame, in a binder of 60 pages of 18 pockets
//! that stands alone and in a collection of a million pockets.
//!
//! `cargo bench --bench carry`. Goal: within a frame of 16 ms, and the same in both.

#[path = "common/collection.rs"]
mod common;

use std::time::Instant;

use crossterm::event::{Event, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ringbound::hand;
use ringbound::intake::{self, BinderOptions, Phrase};
use ringbound::model::{BinderKind, Change, Collection, PageFormat, RingShape, SetHead};
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Key, Look, Theme, view};

const ROUNDS: usize = 200;
const FRAME: f64 = 16.0;

fn main() {
    println!("ms from an event to the finished frame at 120x40 (median, worst of {ROUNDS})");
    for (name, rest) in [("alone", 0), ("among 1,000,000 pockets", 1_000_000)] {
        let collection = with_sixty_pages(common::collection(rest));
        for (what, keys) in [
            ("a card by keys", ["c", "right", "left"]),
            ("a card pushing others", ["c x", "pgdn", "pgup"]),
            ("a page by keys", ["C", "pgdn", "pgup"]),
            ("a page in a draft", ["d down enter C", "pgdn", "pgup"]),
        ] {
            let times = keyed(&collection, keys);
            tell(name, what, times);
        }
        tell(name, "a card by the mouse", dragged(&collection));
    }
}

fn tell(name: &str, what: &str, times: Vec<f64>) {
    let worst = times.iter().copied().fold(0.0, f64::max);
    let median = common::median(times);
    let verdict = if worst <= FRAME { "met" } else { "MISSED" };
    println!("  {what:<24} {name:<24} {median:.3} {worst:.3}  goal {FRAME} {verdict}");
}

/// A binder of 60 pages as the last of the shelf, with a draft of it.
fn with_sixty_pages(mut collection: Collection) -> Collection {
    let head = SetHead {
        code: "SIXTY".into(),
        title: "Sixty Pages".into(),
        ..SetHead::default()
    };
    let phrase = Phrase::parse("1 to 1080").expect("a phrase");
    let binder = BinderOptions {
        format: PageFormat::new(3, 3, 2),
        kind: BinderKind::Rings {
            size: 60,
            shape: RingShape::D,
        },
    };
    let made = intake::new_set(&collection, &head, &phrase, Some(binder)).expect("a set");
    Change::apply_all(&made.step.changes, &mut collection).expect("a set");
    let id = collection.shelf().next_back().expect("a binder").id();
    let draft = hand::begin_draft(&collection, id, "autumn", false).expect("a draft");
    Change::apply_all(&draft.changes, &mut collection).expect("a draft");
    collection
}

struct Shown {
    app: App,
    buffer: Buffer,
}

impl Shown {
    fn new(collection: &Collection) -> Self {
        let look = Look {
            colours: Colours::Indexed,
            ascii: false,
        };
        let app = App::new(
            Session::in_memory(collection.clone()),
            Theme::new(look),
            (120, 40),
        );
        let mut shown = Self {
            app,
            buffer: Buffer::empty(Rect::new(0, 0, 120, 40)),
        };
        shown.keys("end enter g");
        shown.keys("3 0 enter");
        shown
    }

    fn event(&mut self, event: &Event) {
        self.app.handle(event);
        self.buffer.reset();
        view(&self.app, &mut self.buffer);
    }

    fn keys(&mut self, words: &str) {
        for word in words.split_whitespace() {
            let key = Key::parse(word).expect("a key");
            self.event(&Event::Key(key.event()));
        }
    }
}

fn keyed(collection: &Collection, [begin, there, back]: [&str; 3]) -> Vec<f64> {
    let mut shown = Shown::new(collection);
    shown.keys(begin);
    let one = |round: usize| if round.is_multiple_of(2) { there } else { back };
    (0..ROUNDS)
        .map(|round| timed(|| shown.keys(one(round))))
        .collect()
}

fn dragged(collection: &Collection) -> Vec<f64> {
    let mut shown = Shown::new(collection);
    let mouse = |kind, column, row| {
        Event::Mouse(MouseEvent {
            kind,
            column,
            row,
            modifiers: KeyModifiers::NONE,
        })
    };
    shown.event(&mouse(MouseEventKind::Down(MouseButton::Left), 55, 6));
    let drag = MouseEventKind::Drag(MouseButton::Left);
    (0..ROUNDS)
        .map(|round| {
            let event = mouse(drag, 55 + (round % 30) as u16, 6 + (round % 25) as u16);
            timed(|| shown.event(&event))
        })
        .collect()
}

/// Milliseconds.
fn timed(deed: impl FnOnce()) -> f64 {
    let start = Instant::now();
    deed();
    start.elapsed().as_secs_f64() * 1e3
}
