//! Entering a pile: from Enter to the finished frame with the answer, at 40,000 and at 1,000,000
//! pockets, beside drawing the same frame again, which is the least that any answer takes. Goal:
//! within a frame of 16 ms, and the same at both sizes.

use ringbound::model::Collection;

use crate::common::collection::collection;
use crate::common::shown::{FRAME, Shown};
use crate::common::table::{Goal, median, tell, timed};

const ROUNDS: u32 = 201;

pub(crate) fn run() {
    println!("ms from Enter to the finished frame with the answer (median, worst of {ROUNDS})");
    let mut medians = Vec::new();
    for pockets in [40_000, 1_000_000] {
        let collection = collection(pockets);
        let last = collection.sets().len();
        for size in [(80, 24), (120, 40), (200, 60)] {
            for (what, set) in [("first", 1), ("last", last)] {
                let (times, floor) = entered(&collection, &format!("S{set:03}"), size);
                let worst = times.iter().copied().fold(0.0, f64::max);
                let (median, floor) = (median(times), median(floor));
                let (width, height) = size;
                println!(
                    "  {pockets:>9} pockets, {width:>3}x{height}, the {what:<5} set: {median:.3} \
                     {worst:.3}; the frame alone {floor:.3}",
                );
                let what = format!("pile {width}x{height}: answer, {what} set, worst / 16 ms");
                tell(&what, pockets, worst / FRAME, Goal::AtMost(1.0));
                if set == 1 {
                    medians.push((pockets, median));
                }
            }
        }
    }
    let at = |asked: usize| {
        let of = medians.iter().filter(|(pockets, _)| *pockets == asked);
        median(of.map(|(_, median)| *median).collect())
    };
    let grown = at(1_000_000) / at(40_000);
    tell(
        "pile: answer at 1,000,000 / at 40,000",
        "",
        grown,
        Goal::Told,
    );
}

/// One card of the set after the other, in both finishes. Kept in memory: what the disk takes is
/// measured by the bench `keep`.
fn entered(collection: &Collection, code: &str, size: (u16, u16)) -> (Vec<f64>, Vec<f64>) {
    let mut shown = Shown::new(collection, size);
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
