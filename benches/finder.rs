//! Finding a card as one types. At 40,000 names against bare matching of prebuilt strings by the
//! same library, ranking included; at a million cards key by key on the screen, where the index is
//! made and the search goes on in slices: neither a key nor a slice may take longer than a frame.

use std::hint::black_box;

use nucleo_matcher::{Config, Matcher, Utf32String};
use ringbound::model::{Builder, Collection};
use ringbound::report::Finder;
use ringbound::ui::Flow;

use crate::common::collection::set;
use crate::common::random::Random;
use crate::common::shown::{FRAME, Shown};
use crate::common::table::{Goal, median, tell, timed};

const ROUNDS: usize = 15;
/// From nearly all names to none; several words; with letters left out.
const QUERIES: [&str; 8] = [
    "o",
    "mo",
    "moss",
    "lntrn",
    "amber ba",
    "q",
    "quiet heron",
    "zqx",
];
/// As many as the window lists.
const MOST: usize = 100;

pub(crate) fn run() {
    against_bare(&cards(40_000));
    key_by_key(&cards(1_000_000));
}

/// A catalogue without binders.
fn cards(many: usize) -> Collection {
    let mut random = Random(20_251_125);
    let mut builder = Builder::new();
    let mut left = many;
    for number in 1.. {
        if left == 0 {
            break;
        }
        let mut set = set(number, &mut random);
        set.cards.truncate(left);
        left -= set.cards.len();
        builder.set(set).expect("a set");
    }
    builder.finish().expect("a catalogue")
}

fn against_bare(collection: &Collection) {
    let finder = Finder::new(collection);
    let cards = collection.sets().flat_map(|(_, set)| set.cards());
    let names: Vec<Utf32String> = cards.map(|card| (*card.name).into()).collect();
    let (mut all, mut worst) = (Vec::new(), 0.0);
    for query in QUERIES {
        let (mut ours, mut theirs, mut ratios) = (Vec::new(), Vec::new(), Vec::new());
        for round in 0..ROUNDS {
            let (mut own, mut other) = (0.0, 0.0);
            for turn in 0..2 {
                if (round + turn) % 2 == 0 {
                    own = timed(|| drop(black_box(finder.search(query, MOST))));
                } else {
                    other = timed(|| {
                        black_box(bare(&names, query));
                    });
                }
            }
            ours.push(own);
            theirs.push(other);
            ratios.push(own / other);
        }
        let ratio = median(ratios.clone());
        println!(
            "  {query:<12} {:.2} ms, bare {:.2} ms, {ratio:.2}",
            median(ours),
            median(theirs)
        );
        worst = f64::max(worst, ratio);
        all.extend(ratios);
    }
    let goal = Goal::AtMost(2.0);
    tell(
        "finder: with ranking / bare nucleo, all queries",
        40_000,
        median(all),
        goal,
    );
    tell("finder: the same, worst query", 40_000, worst, goal);
}

/// How many names meet every word: the least that a search has to do.
fn bare(names: &[Utf32String], query: &str) -> usize {
    let mut matcher = Matcher::new(Config::DEFAULT);
    let words: Vec<Utf32String> = query.split(' ').map(Into::into).collect();
    let meets = |name: &&Utf32String| {
        let mut words = words.iter();
        words.all(|word| {
            matcher
                .fuzzy_match(name.slice(..), word.slice(..))
                .is_some()
        })
    };
    names.iter().filter(meets).count()
}

/// The window opened and words typed letter by letter, each letter when the one before has come to
/// its end. Nine rounds, and of each slice its median.
fn key_by_key(collection: &Collection) {
    let rounds: Vec<_> = (0..9).map(|_| typed(collection)).collect();
    let (mut slice, mut whole) = (0.0, 0.0);
    for key in 0..rounds[0].len() {
        let slices = rounds.iter().map(|keys| keys[key].1).collect();
        let wholes = rounds.iter().map(|keys| keys[key].2).collect();
        let (longest, all) = (median(slices), median(wholes));
        println!(
            "  {:<8} longest slice {longest:.2} ms, in all {all:.1} ms",
            rounds[0][key].0
        );
        slice = f64::max(slice, longest);
        whole = f64::max(whole, all);
    }
    let what = "finder: longest that a key or a slice takes / 16 ms";
    tell(what, "1,000,000", slice / FRAME, Goal::AtMost(1.0));
    let what = "finder: from a key to its last result / 16 ms";
    tell(what, "1,000,000", whole / FRAME, Goal::Told);
}

/// Of each key its longest slice, and all of them until there is nothing left to do.
fn typed(collection: &Collection) -> Vec<(String, f64, f64)> {
    let mut shown = Shown::new(collection, (120, 40));
    let mut keys: Vec<String> = vec!["f".into()];
    for word in ["quiet heron", "moss 12", "rev"] {
        keys.extend(word.chars().map(|c| match c {
            ' ' => "space".into(),
            c => c.to_string(),
        }));
        keys.extend(std::iter::repeat_n("backspace".to_owned(), word.len()));
    }
    let mut times = Vec::new();
    for key in keys {
        let mut longest = timed(|| {
            shown.keys(&key);
            shown.draw();
        });
        let mut all = longest;
        while shown.app.is_at_work() {
            let slice = timed(|| {
                if shown.app.work_on() == Flow::Draw {
                    shown.draw();
                }
            });
            longest = f64::max(longest, slice);
            all += slice;
        }
        times.push((key, longest, all));
    }
    times
}
