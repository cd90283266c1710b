//! The planner on drafts as collectors make them: what it takes against reading the two
//! arrangements once, against a general-purpose solver on the same matrix, and how it grows.
//!
//! Pages of 18 pockets, about one printing in ten there two to four times. The drafts:
//! *a* pages in another order and 2 of 100 cards exchanged; *b* one rarity (15 of 100) gathered in
//! front, the rest pushed along; *c* all cards shuffled; *dup* only 50 printings, shuffled; *push*
//! 20 cards put in here and there, all behind them pushed along; *swap* 5 of 100 cards exchanged
//! with a neighbour a few pages away; *sort* every stretch of 50 pages sorted by another key.

use std::hint::black_box;

use pathfinding::prelude::{Matrix, kuhn_munkres};
use ringbound::plan::assign::assign;
use ringbound::plan::overlap::edges;
use ringbound::plan::task::{Binder, Card, Grid, Page, Pages, Task, Working};
use ringbound::plan::{Carried, cost_of_task, work};

use crate::common::random::Random;
use crate::common::scipy::Scipy;
use crate::common::shown::FRAME;
use crate::common::table::{Goal, median, paired, skipped, tell, timed};

const GRID: Grid = Grid {
    rows: 3,
    columns: 3,
    sides: 2,
    shared: false,
};
const POCKETS: usize = 18;
/// The last is the only one that is not sparse.
const DRAFTS: [&str; 7] = ["a", "b", "push", "swap", "sort", "c", "dup"];
const ROUNDS: usize = 9;

pub(crate) fn run() {
    against_scipy();
    growing();
    carried();
    whole();
}

/// Overlaps and assignment together: against reading, against another library, and how they grow.
fn growing() {
    println!("edges + assignment: ms (median), times reading both arrangements, and against");
    println!("the pathfinding library on the same matrix");
    let mut at_2000 = Vec::new();
    for pages in [60, 200, 1_000, 2_000, 8_000] {
        for draft in DRAFTS {
            if draft == "dup" && pages > 2_000 {
                continue;
            }
            let task = task(draft, pages);
            let rounds = if pages > 1_000 { 9 } else { 31 };
            let (mut solve, mut read, mut found) = (Vec::new(), Vec::new(), 0);
            for _ in 0..rounds {
                read.push(timed(|| reading(&task)));
                solve.push(timed(|| {
                    let (edges, columns) = edges(&task);
                    found = assign(&edges, columns).weight();
                }));
            }
            let against = against(&task, draft, pages, found);
            let (solve, read) = (median(solve), median(read));
            println!(
                "  {pages:>5} {draft:<4} {solve:>9.3} ms = {:>5.0} x reading{against}",
                solve / read
            );
            if pages == 2_000 {
                at_2000.push((draft, solve));
            }
            let before = at_2000.iter().find(|(other, _)| *other == draft);
            let Some((_, before)) = before.filter(|_| pages == 8_000) else {
                continue;
            };
            let what = format!("plan {draft}: exponent of growth from 2,000 pages");
            // All cards shuffled is no draft that a collector makes.
            let goal = if draft == "c" {
                Goal::Told
            } else {
                Goal::AtMost(1.2)
            };
            tell(&what, pages, (solve / before).ln() / 4f64.ln(), goal);
        }
    }
}

/// What a layout costs while a page of it is carried, from one place to the next.
fn carried() {
    println!("pages in hand, ms: taken up; at another place; and the same asked anew");
    for (pages, drafts) in [(60, &DRAFTS[..]), (2_000, &DRAFTS[..6])] {
        for draft in drafts {
            let task = task(draft, pages);
            let taken = timed(|| drop(black_box(Carried::of(task.clone()))));
            let carried = Carried::of(task.clone());
            let (mut ours, mut anew) = (Vec::new(), Vec::new());
            for round in 0..ROUNDS {
                let to = round * (pages - 2) / ROUNDS;
                ours.push(timed(|| {
                    black_box(carried.cost(pages / 2..pages / 2 + 1, to));
                }));
                anew.push(timed(|| {
                    black_box(cost_of_task(&task));
                }));
            }
            let (ours, anew) = (median(ours), median(anew));
            println!("  {pages:>5} {draft:<4} {taken:>9.3} {ours:>9.3} {anew:>9.3}");
            let what = format!("plan {draft}: cost while a page is carried / 16 ms");
            tell(&what, pages, ours / FRAME, Goal::AtMost(1.0));
        }
    }
}

/// The whole plan with its steps.
fn whole() {
    println!("the whole plan with its steps, ms: two passes, hand to hand");
    for pages in [60, 2_000, 8_000] {
        for draft in DRAFTS {
            if draft == "dup" && pages > 2_000 {
                continue;
            }
            let task = task(draft, pages);
            let mut taken = Vec::new();
            for working in [Working::TwoPasses, Working::HandToHand] {
                let rounds = if pages > 60 { 1 } else { 31 };
                let times = (0..rounds).map(|_| timed(|| drop(black_box(work(&task, working)))));
                taken.push(median(times.collect()));
            }
            let figures = work(&task, Working::TwoPasses).figures;
            println!(
                "  {pages:>5} {draft:<4} {:>9.2} {:>9.2}; {} lifts, {} page moves{}",
                taken[0],
                taken[1],
                figures.lifts,
                figures.page_moves,
                proven(figures.page_moves_proven_least)
            );
        }
    }
}

/// Overlaps and assignment together, against the assignment alone by scipy on the same matrix, in
/// turns. The goal for all but *dup*, where it is the time itself: 0.15.
fn against_scipy() {
    let Some(mut scipy) = Scipy::start() else {
        return skipped("plan / scipy", 2_000, "no scipy here");
    };
    println!("overlaps and assignment at 2,000 pages, against scipy's assignment alone");
    for draft in DRAFTS {
        let task = task(draft, 2_000);
        let (all, columns) = edges(&task);
        let triples = (0..2_000).flat_map(|row| {
            let of = all.of(row).iter();
            of.map(move |(column, weight)| (row, *column, *weight))
        });
        scipy.matrix(2_000, columns, &triples.collect::<Vec<_>>());
        let (mut ours, mut theirs) = (Vec::new(), Vec::new());
        for round in 0..ROUNDS {
            let mut found = 0;
            let mut solve = || {
                timed(|| {
                    let (edges, columns) = edges(&task);
                    found = assign(&edges, columns).weight();
                })
            };
            let (our, (their, best)) = if round % 2 == 0 {
                (solve(), scipy.solve())
            } else {
                let theirs = scipy.solve();
                (solve(), theirs)
            };
            assert_eq!(found, best, "both find the best");
            ours.push(our);
            theirs.push(their);
        }
        let ratio = paired(&ours, &theirs);
        println!(
            "  {draft:<4} {:.2} ms, scipy {:.1} ms",
            median(ours),
            median(theirs)
        );
        let goal = if draft == "dup" { 1.0 } else { 0.15 };
        let what = format!("plan {draft}: overlaps and assignment / scipy's assignment");
        tell(&what, 2_000, ratio, Goal::AtMost(goal));
    }
}

fn proven(least: bool) -> &'static str {
    if least {
        ", proven least"
    } else {
        ", not proven least"
    }
}

/// The same matrix solved by a general-purpose library, where that is not hopeless.
fn against(task: &Task, draft: &str, pages: usize, found: u64) -> String {
    let hopeless = pages > 2_000 || (pages > 200 && (draft == "c" || draft == "dup"));
    if hopeless {
        return String::new();
    }
    let (edges, columns) = edges(task);
    let mut weights = Matrix::new(pages, columns, 0i64);
    for row in 0..pages {
        for (column, weight) in edges.of(row) {
            weights[(row, *column as usize)] = i64::from(*weight);
        }
    }
    let mut best = 0;
    let rounds = if pages > 200 { 1 } else { 9 };
    let theirs = (0..rounds).map(|_| timed(|| best = kuhn_munkres(&weights).0));
    let theirs = median(theirs.collect());
    assert_eq!(best as u64, found, "the two solvers agree");
    let ours = (0..rounds).map(|_| timed(|| drop(black_box(assign(&edges, columns)))));
    format!(
        "; solving alone {:.4} of pathfinding",
        median(ours.collect()) / theirs
    )
}

/// Every pocket of both arrangements looked at once.
fn reading(task: &Task) {
    let pages = task.binders.iter();
    let pages = pages.flat_map(|binder| binder.before.iter().zip(&binder.after));
    let same = pages.map(|(real, meant)| {
        let both = real.pockets.iter().zip(&meant.pockets);
        both.filter(|(a, b)| a == b).count()
    });
    black_box(same.sum::<usize>());
}

fn task(draft: &str, pages: usize) -> Task {
    let mut random = Random(20_251_125 + pages as u64);
    let most = pages * POCKETS;
    let mut cards: Vec<Card> = Vec::with_capacity(most + 4);
    let mut next = 1;
    while cards.len() < most {
        if draft == "dup" {
            cards.push(1 + random.below(50) as Card);
            continue;
        }
        let copies = if random.below(10) == 0 {
            2 + random.below(3)
        } else {
            1
        };
        cards.extend((0..copies).map(|_| next));
        next += 1;
    }
    cards.truncate(most);
    let mut after = cards.clone();
    match draft {
        "a" => {
            let mut order: Vec<usize> = (0..pages).collect();
            random.shuffle(&mut order);
            after = (order.iter())
                .flat_map(|page| cards[page * POCKETS..(page + 1) * POCKETS].to_vec())
                .collect();
            for _ in 0..most / 100 {
                let (a, b) = (random.below(most as u64), random.below(most as u64));
                after.swap(a as usize, b as usize);
            }
        }
        "b" => {
            let rare = |card: &Card| card.wrapping_mul(2_654_435_761) % 100 < 15;
            let (front, rest): (Vec<Card>, Vec<Card>) = cards.iter().partition(|card| rare(card));
            after = [front, rest].concat();
        }
        "push" => {
            for _ in 0..20 {
                let from = random.below(most as u64) as usize;
                let card = after.remove(from);
                after.insert(random.below(most as u64) as usize, card);
            }
        }
        "swap" => {
            for _ in 0..most / 20 {
                let at = random.below(most as u64) as usize;
                let near = at + random.below(3 * POCKETS as u64) as usize;
                after.swap(at, near.min(most - 1));
            }
        }
        "sort" => {
            for stretch in after.chunks_mut(50 * POCKETS) {
                stretch.sort_by_key(|card| card.wrapping_mul(2_654_435_761));
            }
        }
        _ => random.shuffle(&mut after),
    }
    let page = |cards: &[Card]| Page {
        grid: GRID,
        pockets: cards.into(),
    };
    let loose = cards.iter().max().map_or(1, |most| *most as usize + 1);
    Task {
        binders: vec![Binder {
            pages: Pages::Move,
            before: cards.chunks(POCKETS).map(page).collect(),
            after: after.chunks(POCKETS).map(page).collect(),
        }],
        loose: vec![0; loose],
    }
}
