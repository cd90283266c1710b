//! One frame, as ratios against the floor in the same run: filling every cell of a buffer and
//! finding the difference, which any full-screen program has to do for a new page.

use std::cell::Cell as Counter;
use std::hint::black_box;
use std::io::{self, Write};
use std::rc::Rc;
use std::time::Instant;

use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;
use ringbound::model::Collection;
use ringbound::ui::{App, Frames};

use crate::common::collection::collection;
use crate::common::shown::{self, FRAME};
use crate::common::table::{Goal, median, paired, tell};

/// Frames in a round, and rounds.
const FRAMES: usize = 20;
const ROUNDS: usize = 60;

/// Goals of a page flip against the floor, by size.
const GOALS: [((u16, u16), f64); 3] = [((80, 24), 3.5), ((120, 40), 2.2), ((200, 60), 1.6)];

pub(crate) fn run() {
    for pockets in [40_000, 1_000_000] {
        let collection = collection(pockets);
        println!("{pockets} pockets: µs a frame (median), bytes sent");
        for (size, goal) in GOALS {
            measure(&collection, pockets, size, goal);
        }
    }
}

fn measure(collection: &Collection, pockets: usize, (width, height): (u16, u16), goal: f64) {
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
    let (flip_bytes, cursor_bytes) = (flips.bytes_a_key(), cursor.bytes_a_key());
    flips.draw();
    let unchanged = flips.bytes.last().copied().unwrap_or(0);
    let flip = median(samples.flip.clone());
    println!(
        "  {width}x{height}: floor {:.1}; flip {flip:.1}, {flip_bytes} bytes; cursor {:.1}, \
         {cursor_bytes} bytes; the same frame again {unchanged} bytes",
        median(samples.floor.clone()),
        median(samples.cursor),
    );
    let what = |what: &str| format!("frame {width}x{height}: {what}");
    let size = || pockets;
    let ratio = paired(&samples.flip, &samples.floor);
    tell(
        &what("page flip / fill and diff"),
        size(),
        ratio,
        Goal::AtMost(goal),
    );
    let ratio = flip / 1e3 / FRAME;
    tell(&what("page flip / 16 ms"), size(), ratio, Goal::AtMost(1.0));
    let ratio = cursor_bytes as f64 / flip_bytes as f64;
    tell(
        &what("bytes of a cursor move / of a flip"),
        size(),
        ratio,
        Goal::AtMost(0.5),
    );
    tell(
        &what("bytes of an unchanged frame"),
        size(),
        unchanged as f64,
        Goal::AtMost(0.0),
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
    frames: Frames<Sink>,
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
        let mut app = shown::app(collection, (area.width, area.height));
        app.handle(&shown::event("enter"));
        let sent = Rc::new(Counter::new(0));
        let frames = Frames::new(Sink {
            buffer: Vec::new(),
            sent: Rc::clone(&sent),
        });
        let mut shown = Self {
            app,
            frames,
            sent,
            bytes: Vec::new(),
        };
        shown.draw();
        shown.bytes.clear();
        shown
    }

    /// From the key to the finished frame.
    fn key(&mut self, key: &str) {
        self.app.handle(&shown::event(key));
        self.draw();
    }

    fn draw(&mut self) {
        self.sent.set(0);
        self.frames.draw(&self.app).expect("a frame in memory");
        self.bytes.push(self.sent.get());
    }

    fn bytes_a_key(&self) -> usize {
        let mut sorted = self.bytes.clone();
        sorted.sort_unstable();
        sorted[sorted.len() / 2]
    }
}
