//! The planner against tables, other people's solvers, and searching everything.

mod groups;
mod matching;
mod pages;
mod replay;
mod steps;

use serde_json::Value;

use super::task::{Binder, Grid, Page, Pages, Task};

fn cases(text: &str, kind: &str) -> Vec<Value> {
    let all: Value = serde_json::from_str(text).unwrap();
    let cases = all["cases"].as_array().unwrap().iter();
    let found: Vec<_> = cases.filter(|case| case["kind"] == kind).cloned().collect();
    assert!(!found.is_empty(), "no cases of the kind {kind}");
    found
}

fn numbers(value: &Value) -> Vec<u32> {
    let numbers = value.as_array().unwrap().iter();
    numbers
        .map(|number| u32::try_from(number.as_u64().unwrap()).unwrap())
        .collect()
}

fn lists(value: &Value) -> Vec<Vec<u32>> {
    value.as_array().unwrap().iter().map(numbers).collect()
}

/// A single-sided page of one row with these cards.
fn page(cards: &[u32]) -> Page {
    Page {
        grid: Grid {
            rows: 1,
            columns: cards.len() as u8,
            sides: 1,
            shared: false,
        },
        pockets: cards.into(),
    }
}

fn binder(before: &[Vec<u32>], after: &[Vec<u32>]) -> Binder {
    Binder {
        pages: Pages::Move,
        before: before.iter().map(|cards| page(cards)).collect(),
        after: after.iter().map(|cards| page(cards)).collect(),
    }
}

fn task(binders: Vec<Binder>) -> Task {
    let pages = binders.iter();
    let pages = pages.flat_map(|binder| binder.before.iter().chain(&binder.after));
    let most = pages.flat_map(|page| &page.pockets).max();
    let most = most.map_or(0, |most| *most as usize);
    Task {
        binders,
        loose: vec![0; most + 1],
    }
}

/// Every order of 0..n.
fn orders(n: usize) -> Vec<Vec<usize>> {
    let mut all = vec![vec![]];
    for next in 0..n {
        let longer = all.iter().flat_map(|order: &Vec<usize>| {
            (0..=order.len()).map(move |at| {
                let mut order = order.clone();
                order.insert(at, next);
                order
            })
        });
        all = longer.collect();
    }
    all
}

/// Longest increasing subsequence, the slow and plain way.
fn longest_increasing(of: &[usize]) -> usize {
    let mut best = vec![0; of.len()];
    for at in 0..of.len() {
        let before = (0..at).filter(|other| of[*other] < of[at]);
        best[at] = 1 + before.map(|other| best[other]).max().unwrap_or(0);
    }
    best.into_iter().max().unwrap_or(0)
}
