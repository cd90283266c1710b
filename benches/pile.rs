//! Entering a pile: from Enter to the finished frame with the answer, at 40,000 and at 1,000,000
//! pockets, beside drawing the same frame again, which is the least that any answer takes.
//!
//! `cargo bench --bench pile`. Goal: within a frame of 16 ms, and the same at both sizes.

#[path = "common/collection.rs"]
mod common;

use std::time::Instant;

use crossterm::event::Event;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ringbound::model::Collection;
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Key, Look, Theme, view};

const ROUNDS: u32 = 201;
const FRAME: f64 = 16.0;

fn main() {
    println!("ms from Enter to the finished frame with the answer (median, worst of {ROUNDS})");
    let mut medians = Vec::new();
    for pockets in [40_000, 1_000_000] {
        let collection = common::collection(pockets);
        let last = collection.sets().len();
        for size in [(80, 24), (120, 40), (200, 60)] {
            for (what, set) in [("the first set", 1), ("the last set", last)] {
                let (times, floor) = entered(&collection, &format!("S{set:03}"), size);
                let worst = times.iter().copied().fold(0.0, f64::max);
                let (median, floor) = (common::median(times), common::median(floor));
                let verdict = if worst <= FRAME { "met" } else { "MISSED" };
                println!(
                    "  {pockets:>9} pockets, {:>3}x{}, {what:<13} {median:.3} {worst:.3}  goal {FRAME} {verdict}; \
                     the frame alone {floor:.3}, ratio {:.2}",
                    size.0,
                    size.1,
                    median / floor
                );
                if set == 1 {
                    medians.push((pockets, median));
                }
            }
        }
    }
    let at = |asked: usize| {
        let of = medians.iter().filter(|(pockets, _)| *pockets == asked);
        common::median(of.map(|(_, median)| *median).collect())
    };
    println!(
        "  at 1,000,000 pockets to 40,000: {:.2}",
        at(1_000_000) / at(40_000)
    );
}

struct Shown {
    app: App,
    buffer: Buffer,
}

impl Shown {
    fn keys(&mut self, words: &str) {
        for word in words.split_whitespace() {
            let key = Key::parse(word).expect("a key");
            self.app.handle(&Event::Key(key.event()));
        }
    }

    fn text(&mut self, words: &str) {
        for letter in words.chars() {
            self.keys(&letter.to_string());
        }
    }

    fn draw(&mut self) {
        self.buffer.reset();
        view(&self.app, &mut self.buffer);
    }
}

/// One card of the set after the other, in both finishes. Kept in memory: what the disk takes is
/// measured by the bench `keep`.
fn entered(
    collection: &Collection,
    code: &str,
    (width, height): (u16, u16),
) -> (Vec<f64>, Vec<f64>) {
    let look = Look {
        colours: Colours::Indexed,
        ascii: false,
    };
    let session = Session::in_memory(collection.clone());
    let mut shown = Shown {
        app: App::new(session, Theme::new(look), (width, height)),
        buffer: Buffer::empty(Rect::new(0, 0, width, height)),
    };
    shown.keys("e");
    shown.text(code);
    shown.keys("enter");
    let (mut times, mut floor) = (Vec::new(), Vec::new());
    for round in 0..ROUNDS {
        shown.text(&(round % 250 + 1).to_string());
        if round % 2 == 1 && round % 3 != 0 {
            shown.keys("space r");
        }
        times.push(timed(|| {
            shown.keys("enter");
            shown.draw();
        }));
        floor.push(timed(|| shown.draw()));
    }
    (times, floor)
}

/// Milliseconds.
fn timed(deed: impl FnOnce()) -> f64 {
    let start = Instant::now();
    deed();
    start.elapsed().as_secs_f64() * 1e3
}
