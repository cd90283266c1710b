//! How every command and every key grows with the collection, from a thousand to a million
//! pockets. A command is the real program on a folder; a key goes from the press to the finished
//! frame, and where something is made beside the keys or between them, the longest of the frames
//! until it is there. The exponent is that of the power of the size which fits the times best, by
//! least squares on their logarithms over the upper two decades: 1 is linear, 0 does not grow.
//!
//! Each time is the median of nine runs; of three where one takes longer than [`LONG`].

mod commands;
mod files;
mod keys;

use crate::common::shown::FRAME;
use crate::common::table::{Goal, median, tell, timed};

/// Pockets. The fit leaves the first out: there the start of everything is all there is.
const SIZES: [usize; 4] = [1_000, 10_000, 100_000, 1_000_000];

/// Runs of what is measured, and of what takes longer than `LONG`, in milliseconds, with all that
/// comes of it.
const RUNS: usize = 9;
const FEW: usize = 3;
const LONG: f64 = 200.0;

/// What something took at each size, in milliseconds; at the first size it may be lacking.
struct Grown {
    what: String,
    times: Vec<f64>,
    /// The same without what a key waits for a short answer, which is not more for more.
    own: Vec<f64>,
}

pub(crate) fn run() {
    let keys = keys::measured();
    told("keys", &keys, 0.3);
    let slow = keys.iter().filter(|key| key.last() > FRAME);
    for key in slow {
        println!("  longer than a frame: {key:?}");
    }
    let worst = keys.iter().map(Grown::last).fold(0.0, f64::max);
    tell(
        "growth: slowest key of any screen / 16 ms",
        "1,000,000",
        worst / FRAME,
        Goal::AtMost(1.0),
    );
    let commands = commands::measured();
    told("commands", &commands, 1.2);
}

/// Tells each that grows faster than the goal, and the steepest as a line of the table.
fn told(what: &str, all: &[Grown], goal: f64) {
    println!("{what}: {} measured; ms at {SIZES:?}; exponent", all.len());
    for grown in all {
        println!("  {grown:?}");
    }
    let steep: Vec<_> = all.iter().filter(|grown| grown.exponent() > goal).collect();
    println!("{what} with an exponent above {goal}: {}", steep.len());
    for grown in steep {
        println!("  {grown:?}");
    }
    let steepest = all.iter().map(Grown::exponent).fold(0.0, f64::max);
    let line = format!("growth: steepest exponent of {} {what}", all.len());
    tell(&line, "10^4 to 10^6", steepest, Goal::AtMost(goal));
}

impl Grown {
    fn last(&self) -> f64 {
        self.times.last().copied().unwrap_or(0.0)
    }

    /// The slope of the line through the logarithms of sizes and own times, where less than a
    /// hundredth of a frame is no less than that.
    fn exponent(&self) -> f64 {
        let points = SIZES.iter().zip(&self.own).skip(1);
        let points: Vec<_> = points
            .map(|(n, t)| ((*n as f64).ln(), t.max(FRAME / 100.0).ln()))
            .collect();
        let many = points.len() as f64;
        let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / many;
        let (x, y) = (mean(|p| p.0), mean(|p| p.1));
        let both: f64 = points.iter().map(|p| (p.0 - x) * (p.1 - y)).sum();
        let square: f64 = points.iter().map(|p| (p.0 - x).powi(2)).sum();
        both / square
    }
}

impl std::fmt::Debug for Grown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:<44}", self.what)?;
        for time in &self.times {
            write!(f, " {time:>10.3}")?;
        }
        write!(f, "   {:.2}", self.exponent())
    }
}

impl Grown {
    fn new(what: String) -> Self {
        Self {
            what,
            times: Vec::new(),
            own: Vec::new(),
        }
    }

    fn push(&mut self, (time, own): (f64, f64)) {
        self.times.push(time);
        self.own.push(own);
    }
}

/// The median times of some runs, each of which is made ready before: the time, and what of it is
/// its own.
fn middle<T>(mut ready: impl FnMut() -> T, mut run: impl FnMut(T) -> (f64, f64)) -> (f64, f64) {
    let (mut times, mut own, mut runs) = (Vec::new(), Vec::new(), RUNS);
    while times.len() < runs {
        let before = ready();
        let whole = timed(|| {
            let (time, of_it) = run(before);
            times.push(time);
            own.push(of_it);
        });
        if whole > LONG {
            runs = FEW;
        }
    }
    (median(times), median(own))
}
