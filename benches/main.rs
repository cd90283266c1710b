//! What the program promises of its speed, each as a ratio beside its goal.
//!
//! `cargo bench` measures all of it and ends with the table; `cargo bench -- frame plan` only
//! these two. Ratios are of runs in turns in one process or of fresh processes in turns, the
//! median of at least nine rounds; absolute times belong to the machine.

mod carry;
mod common;
mod finder;
mod frame;
mod growth;
mod import;
mod keep;
mod load;
mod pile;
mod plan;
mod start;

use std::io::{BufRead, BufReader};
use std::process::{Command, ExitCode, ExitStatus, Stdio};

use common::table;

/// What is measured, and how. Each in a process of its own, so that none finds memory that
/// another left warm or in pieces.
const SUBJECTS: &[(&str, fn())] = &[
    ("start", start::run),
    ("load", load::run),
    ("keep", keep::run),
    ("frame", frame::run),
    ("carry", carry::run),
    ("pile", pile::run),
    ("plan", plan::run),
    ("finder", finder::run),
    ("import", import::run),
    ("growth", growth::run),
];

/// The word before a subject or a part of one that this process is to measure itself.
const ALONE: &str = "--alone";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let mut words = words.iter().map(String::as_str);
    // Cargo says that this is a bench.
    let mut asked: Vec<_> = words.clone().filter(|word| *word != "--bench").collect();
    if words.next() == Some(ALONE) {
        return alone(&asked[1..]);
    }
    if let Some(other) = asked.iter().find(|word| !is_known(word)) {
        let known: Vec<_> = SUBJECTS.iter().map(|(name, _)| *name).collect();
        eprintln!("{other} is no bench; there are {}", known.join(", "));
        return ExitCode::FAILURE;
    }
    if asked.is_empty() {
        asked = SUBJECTS.iter().map(|(name, _)| *name).collect();
    }
    let (mut lines, mut has_failed) = (Vec::new(), false);
    for name in asked {
        let (more, ended) = measured(name);
        lines.extend(more);
        has_failed |= !ended.success();
    }
    println!("\nThe ratios beside their goals\n");
    table::head();
    lines.iter().for_each(|line| println!("{line}"));
    match has_failed {
        true => ExitCode::FAILURE,
        false => ExitCode::SUCCESS,
    }
}

fn is_known(name: &str) -> bool {
    SUBJECTS.iter().any(|(known, _)| *known == name)
}

/// Measures one subject in a process of its own, passes on what it says, and gives the lines of
/// the table that were in it, and how it ended.
fn measured(name: &str) -> (Vec<String>, ExitStatus) {
    println!("\n== {name}");
    let mut process = Command::new(std::env::current_exe().expect("this program"))
        .args([ALONE, name])
        .stdout(Stdio::piped())
        .spawn()
        .expect("a process");
    let output = process.stdout.take().expect("its output");
    let mut lines = Vec::new();
    for line in BufReader::new(output).lines() {
        let line = line.expect("text");
        println!("{line}");
        if table::is_line(&line) {
            lines.push(line);
        }
    }
    let ended = process.wait().expect("an end");
    if !ended.success() {
        println!("{name} ended with {ended}");
        table::skipped(name, "", "FAILED");
        lines.push(format!("| {name} FAILED: {ended}"));
    }
    (lines, ended)
}

/// Measures in this process.
fn alone(words: &[&str]) -> ExitCode {
    match words {
        ["once", way, path] if import::WAYS.contains(way) => import::once(way, path.as_ref()),
        ["once", way, path] => load::once(way, path),
        [name] => match SUBJECTS.iter().find(|(known, _)| known == name) {
            Some((_, run)) => run(),
            None => return ExitCode::FAILURE,
        },
        _ => return ExitCode::FAILURE,
    }
    ExitCode::SUCCESS
}
