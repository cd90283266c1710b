//! The face of words: a subcommand in, an answer in words or JSON out, and an exit code.
//!
//! Environment, clock and home directory are read here and nowhere below.

mod args;
mod check;
mod clock;
mod completion;
mod cost;
mod demo;
mod drafts;
mod error;
mod export;
mod find;
mod fit;
mod folder;
mod import;
mod json;
mod layout;
mod lists;
mod log;
mod manual;
mod measure;
mod named;
mod new;
mod open;
mod output;
mod packs;
mod pages;
mod pictures;
mod plan;
mod prices;
mod print;
mod recover;
mod rings;
mod runs;
mod screen;
mod settings;
mod shelf;
mod show;
mod sort_pile;
mod steps;
mod supplies;
mod swap;
mod table;
mod words;

pub use args::Cli;
pub use error::{CliError, Exit};
pub use log::note;
pub use open::close;
pub use screen::{ScreenOpened, ScreenRequest};

use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;

use args::Command;
use clap::parser::ValueSource;
use clap::{CommandFactory, FromArgMatches};
use output::Output;

use crate::settings::{Known, Palette, Settings};

/// What the arguments ask for.
#[derive(Debug)]
pub enum Face {
    /// A command, which is done and told.
    Done(Exit),
    /// The screen.
    Screen(Box<ScreenRequest>),
}

/// Reads the arguments of this process. What the terminal is found to be is told with the version.
/// Help and version are told here, and wrong usage is.
///
/// # Errors
/// How the process ends where there is nothing more to do.
pub fn parse(screen: &str) -> Result<Cli, Exit> {
    try_parse(screen).map_err(|e| {
        let usage = e.use_stderr();
        if usage {
            // It repeats the arguments, which may hold anything.
            error::say_lines(&e.render().to_string());
            if std::env::var_os("RINGBOUND_DATA").is_some_and(|folder| folder.is_empty()) {
                error::say(
                    "hint: RINGBOUND_DATA is set and empty; unset it, or let it name a folder",
                );
            }
            return Exit::Usage;
        }
        match e.print().and_then(|()| std::io::stdout().flush()) {
            Err(e) => error::tell(&CliError::output("to standard output", e)),
            Ok(()) => Exit::Done,
        }
    })
}

fn try_parse(screen: &str) -> Result<Cli, clap::Error> {
    let mut command = Cli::command().long_version(about(screen).leak() as &str);
    let arguments = help_first(std::env::args_os().collect());
    let matches = command.try_get_matches_from_mut(arguments)?;
    let mut cli = Cli::from_arg_matches(&matches).map_err(|e| e.format(&mut command))?;
    let mut level = Some(&matches);
    while let Some(matches) = level {
        let ids = matches.ids().map(clap::Id::as_str);
        let given = ids.filter(|id| matches.value_source(id) != Some(ValueSource::DefaultValue));
        cli.given.extend(given.map(str::to_owned));
        level = matches.subcommand().map(|(_, inner)| inner);
    }
    Ok(cli)
}

/// `help` before a command asks for the help of that command, as many programs have it.
fn help_first(mut arguments: Vec<OsString>) -> Vec<OsString> {
    if arguments.get(1).is_some_and(|first| first == "help") {
        arguments.remove(1);
        arguments.push("--help".into());
    }
    arguments
}

/// What a report of a fault should begin with.
fn about(screen: &str) -> String {
    let settings = settings::usual_path();
    let settings = settings.map_or("no home folder".into(), |path| path.display().to_string());
    format!(
        "{}\nsettings: {settings}\nscreen: {screen}",
        args::LONG_VERSION
    )
}

/// Does what the arguments say, as far as it can be done without the screen. `terminal` says
/// whether a person sits at both ends, `known` what can be set of the screen.
#[must_use]
pub fn run(mut cli: Cli, terminal: bool, known: &Known) -> Face {
    let mut out = Output::stdout(cli.json);
    match dispatch(&mut cli, terminal, known, &mut out) {
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
    cli: &mut Cli,
    terminal: bool,
    known: &Known,
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
        Some(Command::Settings(args)) => {
            return settings::run(args, cli, known, out).map(|()| None);
        }
        _ => {}
    }
    let mut settings = usual(cli, known)?;
    cli.fill(&settings);
    settings.screen.pictures = cli.pictures;
    begin_log(cli, &settings);
    let asked = asked(cli)?;
    let with_colours = |mut request: Box<ScreenRequest>| {
        request.asked = asked;
        request
    };
    if let Some(Command::Demo(args)) = &cli.command {
        let request = demo::run(args, settings, terminal, out)?;
        return Ok(request.map(with_colours));
    }
    let at = open::Where::new(cli, settings)?;
    let Some(command) = &cli.command else {
        return screen::screen(at, terminal, cli.at_shelf)
            .map(with_colours)
            .map(Some);
    };
    match command {
        Command::Import { what } => import::run(what, &at, out),
        Command::Export(args) => export::run(args, &at, out),
        Command::New(args) => new::run(args, &at, out),
        Command::Shelf => shelf::run(&at, out),
        Command::Drafts(args) => drafts::run(args, &at, out),
        Command::Find(args) => find::run(args, &at, out),
        Command::Show(args) => show::run(args, &at, out),
        Command::Completion(only) => completion::run(only, &at, out),
        Command::Gaps(only) => lists::gaps(only, &at, out),
        Command::Wants(args) => lists::wants(args, &at, out),
        Command::Spares(args) => lists::spares(args, &at, out),
        Command::Waiting(only) => lists::waiting(only, &at, out),
        Command::Layout { what } => layout::run(what, &at, out),
        Command::Plan(args) => plan::run(args, &at, out),
        Command::SortPile(args) => sort_pile::run(args, &at, out),
        Command::Packs(args) => packs::run(args, &at, out),
        Command::Runs(args) => runs::run(args, &at, out),
        Command::Swap(args) => swap::run(args, &at, out),
        Command::Print { what } => print::run(what, &at, out),
        Command::Fit(args) => fit::run(args, &at, out),
        Command::Supplies(args) => supplies::run(args, &at, out),
        Command::Rings(args) => rings::run(args, &at, out),
        Command::Pictures(args) => pictures::run(args, &at, out),
        Command::Check(args) => check::run(args, &at, out),
        Command::Recover(args) => recover::run(args, &at, out),
        Command::Undo => steps::undo(&at, out),
        Command::Redo => steps::redo(&at, out),
        Command::History(args) => steps::history(args, &at, out),
        Command::Demo(_)
        | Command::Settings(_)
        | Command::ShellCompletions { .. }
        | Command::Man { .. } => return Ok(None),
    }
    .map(|()| None)
}

/// The settings. What mends a collection must not wait for a file of another kind to be right.
fn usual(cli: &Cli, known: &Known) -> Result<Settings, CliError> {
    let mends = matches!(cli.command, Some(Command::Check(_) | Command::Recover(_)));
    match settings::load(cli, known) {
        Err(e) if mends => {
            error::say(&format!("warning: the settings are passed over: {e}"));
            Ok(Settings::default())
        }
        read => read,
    }
}

/// The log that was asked for, if one was.
fn begin_log(cli: &Cli, settings: &Settings) {
    let named = cli
        .log
        .clone()
        .unwrap_or_else(|| PathBuf::from(&*settings.log.file));
    if named.as_os_str().is_empty() {
        return;
    }
    let folder = folder::find(cli.data.as_deref()).ok();
    if let Err(why) = log::begin(&named, folder.as_deref()) {
        error::say(&format!("warning: {why}"));
    }
    let words: Vec<_> = std::env::args_os().skip(1).collect();
    let words: Vec<_> = words.iter().map(|word| word.to_string_lossy()).collect();
    log::note(&format!(
        "ringbound {} begins: {}",
        env!("CARGO_PKG_VERSION"),
        words.join(" ")
    ));
}

/// The colours that an option names. A word of the environment is only looked at: what it asks for
/// is weighed where the terminal is known.
fn asked(cli: &Cli) -> Result<Option<Palette>, CliError> {
    let word = std::env::var("RINGBOUND_COLOURS").unwrap_or_default();
    if !word.is_empty() {
        args::colours(&word)
            .map_err(|why| CliError::usage(format!("RINGBOUND_COLOURS is “{word}”; {why}")))?;
    }
    Ok(cli.colours)
}
