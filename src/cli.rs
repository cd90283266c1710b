//! The face of words: a subcommand in, an answer in words or JSON out, and an exit code.
//!
//! Environment, clock and home directory are read here and nowhere below.

mod args;
mod check;
mod completion;
mod demo;
mod error;
mod export;
mod fit;
mod folder;
mod import;
mod json;
mod layout;
mod lists;
mod manual;
mod measure;
mod new;
mod open;
mod output;
mod packs;
mod pages;
mod pictures;
mod plan;
mod print;
mod recover;
mod rings;
mod runs;
mod show;
mod sort_pile;
mod steps;
mod supplies;
mod swap;
mod table;
mod words;

pub use args::{Cli, PictureWord};
pub use error::{CliError, Exit};
pub use open::{ScreenOpened, ScreenRequest, close};

use std::io::Write;

use args::Command;
use clap::Parser;
use output::Output;

/// What the arguments ask for.
#[derive(Debug)]
pub enum Face {
    /// A command, which is done and told.
    Done(Exit),
    /// The screen.
    Screen(Box<ScreenRequest>),
}

/// Reads the arguments of this process. Help and version are told here, and wrong usage is.
///
/// # Errors
/// How the process ends where there is nothing more to do.
pub fn parse() -> Result<Cli, Exit> {
    Cli::try_parse().map_err(|e| {
        let usage = e.use_stderr();
        if usage {
            // It repeats the arguments, which may hold anything.
            error::say_lines(&e.render().to_string());
            return Exit::Usage;
        }
        match e.print().and_then(|()| std::io::stdout().flush()) {
            Err(e) => error::tell(&CliError::output("to standard output", e)),
            Ok(()) => Exit::Done,
        }
    })
}

/// Does what the arguments say, as far as it can be done without the screen. `terminal` says
/// whether a person sits at both ends.
#[must_use]
pub fn run(cli: &Cli, terminal: bool) -> Face {
    let mut out = Output::stdout();
    match dispatch(cli, terminal, &mut out) {
        Ok(Some(request)) => Face::Screen(request),
        Ok(None) => Face::Done(match out.finish() {
            Ok(exit) => exit,
            Err(e) => error::tell(&e),
        }),
        Err(e) => {
            // What was answered before the error is still of use; the error is what counts.
            drop(out.finish());
            Face::Done(error::tell(&e))
        }
    }
}

/// The collection could not be opened for the screen.
#[must_use]
pub fn refused(e: &CliError) -> Exit {
    error::tell(e)
}

/// The screen could not be shown.
#[must_use]
pub fn failed(e: &impl std::fmt::Display) -> Exit {
    error::tell(&CliError::usage(e))
}

fn dispatch(
    cli: &Cli,
    terminal: bool,
    out: &mut Output,
) -> Result<Option<Box<ScreenRequest>>, CliError> {
    // These know of no collection, and must be had where there is none and no home.
    match &cli.command {
        Some(Command::ShellCompletions { shell }) => {
            return manual::completions(*shell, out).map(|()| None);
        }
        Some(Command::Man { into }) => {
            return manual::pages(into.as_deref(), out).map(|()| None);
        }
        _ => {}
    }
    let at = open::Where::new(cli)?;
    let Some(command) = &cli.command else {
        return open::screen(at, terminal, cli.pictures).map(Some);
    };
    match command {
        Command::Import { what } => import::run(what, &at, cli.json, out),
        Command::Export(args) => export::run(args, &at, cli.json, out),
        Command::New(args) => new::run(args, &at, cli.json, out),
        Command::Show(args) => show::run(args, &at, cli.json, out),
        Command::Completion(only) => completion::run(only, &at, cli.json, out),
        Command::Gaps(only) => lists::gaps(only, &at, cli.json, out),
        Command::Wants(args) => lists::wants(args, &at, cli.json, out),
        Command::Spares(args) => lists::spares(args, &at, cli.json, out),
        Command::Waiting(only) => lists::waiting(only, &at, cli.json, out),
        Command::Layout { what } => layout::run(what, &at, cli.json, out),
        Command::Plan(args) => plan::run(args, &at, cli.json, out),
        Command::SortPile(args) => sort_pile::run(args, &at, cli.json, out),
        Command::Packs(args) => packs::run(args, &at, cli.json, out),
        Command::Runs(args) => runs::run(args, &at, cli.json, out),
        Command::Swap(args) => swap::run(args, &at, cli.json, out),
        Command::Print { what } => print::run(what, &at, cli.json, out),
        Command::Fit(args) => fit::run(args, &at, cli.json, out),
        Command::Supplies(args) => supplies::run(args, &at, cli.json, out),
        Command::Rings(args) => rings::run(args, &at, cli.json, out),
        Command::Pictures(args) => pictures::run(args, &at, cli.json, out),
        Command::Check(args) => check::run(args, &at, cli.json, out),
        Command::Recover(args) => recover::run(args, &at, cli.json, out),
        Command::Undo => steps::undo(&at, cli.json, out),
        Command::Redo => steps::redo(&at, cli.json, out),
        Command::History(args) => steps::history(args, &at, cli.json, out),
        Command::Demo(args) => return demo::run(args, terminal, cli.pictures, cli.json, out),
        Command::ShellCompletions { .. } | Command::Man { .. } => return Ok(None),
    }
    .map(|()| None)
}
