//! One frame, as ratios against the floor in the same run: filling every cell of a buffer and
//! finding the difference, which any full-screen program has to do for a new page.
//!
//! `cargo bench --bench frame`

#[path = "common/collection.rs"]
mod common;

use std::cell::Cell as Counter;
use std::hint::black_box;
use std::io::{self, Write};
use std::rc::Rc;
use std::time::Instant;

use crossterm::event::Event;
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use ratatui::{TerminalOptions, Viewport};
use ringbound::model::Collection;
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Key, Look, Theme, view};

/// Frames in a round, and rounds.
const FRAMES: usize = 20;
const ROUNDS: usize = 60;

/// Goals of a page flip against the floor, by size.
const GOALS: [((u16, u16), f64); 3] = [((80, 24), 3.5), ((120, 40), 2.2), ((200, 60), 1.6)];

fn main() {
    for pockets in [40_000, 1_000_000] {
        let collection = common::collection(pockets);
        println!("{pockets} pockets: µs a frame (median), and times the floor");
        for (size, goal) in GOALS {
            measure(&collection, size, goal);
        }
    }
}

fn measure(collection: &Collection, (width, height): (u16, u16), goal: f64) {
    let area = Rect::new(0, 0, width, height);
    let mut flips = Shown::new(collection, area);
    let mut cursor = Shown::new(collection, area);
    let mut samples = Samples::default();
    for round in 0..ROUNDS {
        let mut both = [Buffer::empty(area), Buffer::empty(area)];
        samples.floor.push(time(|frame| floor(&mut both, frame)));
        let flip = if round % 2 == 0 { "pgdn" } else { "pgup" };
        samples.flip.push(time(|_| flips.key(flip)));
        let (there, back) = ("down", "up");
        samples.cursor.push(time(|frame| {
            cursor.key(if frame % 2 == 0 { there } else { back });
        }));
    }
    let bytes = (flips.bytes_a_key(), cursor.bytes_a_key());
    let [floor, flip, step] = [&samples.floor, &samples.flip, &samples.cursor]
        .map(|samples| common::median(samples.clone()));
    let ratio = paired(&samples.flip, &samples.floor);
    println!(
        "  {width}x{height}: floor {floor:.1}; flip {flip:.1} = {ratio:.2} (goal {goal}) {}; \
         cursor {step:.1}; bytes: flip {}, cursor {} ({:.2} of a flip, goal 0.50)",
        if ratio <= goal { "met" } else { "MISSED" },
        bytes.0,
        bytes.1,
        bytes.1 as f64 / bytes.0 as f64,
    );
}

#[derive(Default)]
struct Samples {
    floor: Vec<f64>,
    flip: Vec<f64>,
    cursor: Vec<f64>,
}

/// Microseconds a frame.
fn time(mut frame: impl FnMut(usize)) -> f64 {
    let start = Instant::now();
    for at in 0..FRAMES {
        frame(at);
    }
    start.elapsed().as_secs_f64() * 1e6 / FRAMES as f64
}

/// Fills one buffer, every cell with something else than the other has, and takes the difference.
fn floor(both: &mut [Buffer; 2], frame: usize) {
    let (next, before) = both.split_at_mut(1);
    let (next, before) = if frame.is_multiple_of(2) {
        (&mut next[0], &before[0])
    } else {
        (&mut before[0], &next[0])
    };
    next.reset();
    let symbol = if frame.is_multiple_of(2) { "a" } else { "b" };
    for cell in &mut next.content {
        Cell::set_symbol(cell, symbol);
    }
    black_box(before.diff(next));
}

/// The program over a terminal that keeps only how many bytes it was sent.
struct Shown {
    app: App,
    terminal: Terminal<CrosstermBackend<Sink>>,
    sent: Rc<Counter<usize>>,
    bytes: Vec<usize>,
}

/// Takes what a terminal would be sent, and counts it.
struct Sink {
    buffer: Vec<u8>,
    sent: Rc<Counter<usize>>,
}

impl Write for Sink {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.buffer.extend_from_slice(bytes);
        self.sent.set(self.sent.get() + bytes.len());
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        black_box(&self.buffer);
        self.buffer.clear();
        Ok(())
    }
}

impl Shown {
    fn new(collection: &Collection, area: Rect) -> Self {
        let look = Look {
            colours: Colours::Indexed,
            ascii: false,
        };
        let session = Session::in_memory(collection.clone());
        let mut app = App::new(session, Theme::new(look), (area.width, area.height));
        app.handle(&Event::Key(Key::parse("enter").expect("a key").event()));
        let options = TerminalOptions {
            viewport: Viewport::Fixed(area),
        };
        let sent = Rc::new(Counter::new(0));
        let backend = CrosstermBackend::new(Sink {
            buffer: Vec::new(),
            sent: Rc::clone(&sent),
        });
        let terminal = Terminal::with_options(backend, options).expect("a terminal in memory");
        let mut shown = Self {
            app,
            terminal,
            sent,
            bytes: Vec::new(),
        };
        shown.draw();
        shown.bytes.clear();
        shown
    }

    /// From the key to the finished frame.
    fn key(&mut self, key: &str) {
        let event = Event::Key(Key::parse(key).expect("a key").event());
        self.app.handle(&event);
        self.draw();
    }

    fn draw(&mut self) {
        self.sent.set(0);
        let app = &self.app;
        self.terminal
            .draw(|frame| view(app, frame.buffer_mut()))
            .expect("a frame in memory");
        self.bytes.push(self.sent.get());
    }

    fn bytes_a_key(&self) -> usize {
        let mut sorted = self.bytes.clone();
        sorted.sort_unstable();
        sorted[sorted.len() / 2]
    }
}

/// Median of the ratios round by round.
fn paired(samples: &[f64], floor: &[f64]) -> f64 {
    let ratios: Vec<_> = samples.iter().zip(floor).map(|(a, b)| a / b).collect();
    common::median(ratios)
}
