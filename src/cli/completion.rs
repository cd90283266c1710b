//! `completion`: how far each set is.

use serde::Serialize;

use super::args::Only;
use super::error::CliError;
use super::named;
use super::open::Where;
use super::output::Output;
use super::table::{Align, Table};
use crate::hand;
use crate::report::{Counts, SetCompletion, completion, percent};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    sets: Vec<SetAnswer<'a>>,
}

#[derive(Serialize)]
struct SetAnswer<'a> {
    set: &'a str,
    #[serde(flatten)]
    all: CountsAnswer,
    /// Of these, what is collected; where runs are left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    collected: Option<CountsAnswer>,
    by_finish: Vec<FinishAnswer<'a>>,
    by_rarity: Vec<RarityAnswer<'a>>,
}

#[derive(Serialize)]
struct FinishAnswer<'a> {
    finish: &'a str,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    left_out: bool,
    #[serde(flatten)]
    counts: CountsAnswer,
}

#[derive(Serialize)]
struct RarityAnswer<'a> {
    rarity: &'a str,
    #[serde(flatten)]
    counts: CountsAnswer,
}

#[derive(Serialize)]
struct CountsAnswer {
    held: u32,
    in_place: u32,
    total: u32,
}

impl From<Counts> for CountsAnswer {
    fn from(counts: Counts) -> Self {
        Self {
            held: counts.held,
            in_place: counts.in_place,
            total: counts.total,
        }
    }
}

pub(super) fn run(only: &Only, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = &*hand::by_pages(session.collection(), None);
    let only = named::only(collection, only.set.as_deref())?;
    let sets = completion(collection, only);
    let is_out = |of: &SetCompletion, finish: &str| {
        let set = collection.set(of.set);
        let at = set.and_then(|set| set.finish_by_name(finish));
        set.zip(at).is_some_and(|(set, at)| set.is_left_out(at))
    };
    let code = |of: &SetCompletion| collection.set(of.set).map_or("", |set| set.code());
    if out.is_json() {
        let sets = sets.iter().map(|of| SetAnswer {
            set: code(of),
            all: of.all.into(),
            collected: (of.collected != of.all).then(|| of.collected.into()),
            by_finish: (of.by_finish.iter())
                .map(|(finish, counts)| FinishAnswer {
                    finish,
                    left_out: is_out(of, finish),
                    counts: (*counts).into(),
                })
                .collect(),
            by_rarity: (of.by_rarity.iter())
                .map(|(rarity, counts)| RarityAnswer {
                    rarity,
                    counts: (*counts).into(),
                })
                .collect(),
        });
        return out.json(&Answer {
            format: "ringbound-completion",
            version: 1,
            sets: sets.collect(),
        });
    }
    if sets.is_empty() {
        return out.line("There are no sets yet.");
    }
    let mut table = Table::new(&[
        ("set", Align::Left),
        ("part", Align::Left),
        ("held", Align::Right),
        ("in place", Align::Right),
        ("missing", Align::Right),
        ("total", Align::Right),
        ("share", Align::Right),
    ]);
    for of in &sets {
        table.row(line(code(of), "all", of.all));
        if of.collected != of.all {
            table.row(line("", "collected", of.collected));
        }
        for (finish, counts) in parts(&of.by_finish) {
            let out = if is_out(of, finish) {
                ", not collected"
            } else {
                ""
            };
            table.row(line("", &format!("{finish}{out}"), *counts));
        }
        for (rarity, counts) in parts(&of.by_rarity) {
            let named = if rarity.is_empty() {
                "no rarity told"
            } else {
                rarity
            };
            table.row(line("", named, *counts));
        }
    }
    table.print(out)
}

/// Parts tell something new only where there are several.
fn parts(of: &[(Box<str>, Counts)]) -> &[(Box<str>, Counts)] {
    if of.len() > 1 { of } else { &[] }
}

fn line(set: &str, part: &str, counts: Counts) -> [String; 7] {
    [
        set.into(),
        part.into(),
        counts.held.to_string(),
        counts.in_place.to_string(),
        counts.missing().to_string(),
        counts.total.to_string(),
        percent(counts.held, counts.total).unwrap_or_default(),
    ]
}
