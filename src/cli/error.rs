//! Errors at the edge: what kind, a hint, and the exit code.

use std::fmt::{self, Display};
use std::io::{self, Write};
use std::process::ExitCode;

use super::log;
use crate::session::SessionError;
use crate::text::safe;

/// How a command ended. Documented in the help.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    #[default]
    Done = 0,
    FallsShort = 1,
    Usage = 2,
    BadInput = 3,
    Damaged = 4,
    Locked = 5,
    /// As a shell tells a program that an interrupt (signal 2) ended.
    Stopped = 130,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

/// Why a command was not done.
#[derive(Debug)]
pub struct CliError {
    exit: Exit,
    /// Nobody reads the answer any more: nothing to tell.
    quiet: bool,
    source: anyhow::Error,
    /// More of the same kind.
    further: Vec<String>,
    hint: Option<String>,
}

impl CliError {
    fn new(exit: Exit, source: impl Into<anyhow::Error>) -> Self {
        Self {
            exit,
            quiet: false,
            source: source.into(),
            further: Vec::new(),
            hint: None,
        }
    }

    pub(super) fn usage(why: impl Display) -> Self {
        Self::new(Exit::Usage, anyhow::anyhow!("{why}"))
    }

    pub(super) fn input(why: impl Display) -> Self {
        Self::new(Exit::BadInput, anyhow::anyhow!("{why}"))
    }

    /// Several things are wrong with an input, a line each.
    pub(super) fn input_lines(lines: Vec<String>) -> Self {
        let (first, further) = lines.split_first().map_or_else(
            || (String::new(), Vec::new()),
            |(first, further)| (first.clone(), further.to_vec()),
        );
        Self {
            further,
            ..Self::input(first)
        }
    }

    pub(super) fn damaged(why: impl Display) -> Self {
        Self::new(Exit::Damaged, anyhow::anyhow!("{why}"))
    }

    pub(super) fn locked(why: impl Display) -> Self {
        Self::new(Exit::Locked, anyhow::anyhow!("{why}"))
    }

    /// The person has stopped it.
    pub(super) fn stopped(undone: impl Display) -> Self {
        Self::new(Exit::Stopped, anyhow::anyhow!("stopped; {undone}"))
    }

    /// The answer could not be written to `to`.
    pub(super) fn output(to: impl Display, source: io::Error) -> Self {
        let quiet = source.kind() == io::ErrorKind::BrokenPipe;
        let exit = if quiet { Exit::Done } else { Exit::FallsShort };
        let source = anyhow::Error::new(source).context(format!("could not write {to}"));
        Self {
            quiet,
            ..Self::new(exit, source)
        }
    }

    /// Where there is no hint yet.
    pub(super) fn or_hint(self, hint: &str) -> Self {
        Self {
            hint: self.hint.or_else(|| Some(hint.to_owned())),
            ..self
        }
    }

    pub(super) fn hint(self, hint: impl Into<String>) -> Self {
        Self {
            hint: Some(hint.into()),
            ..self
        }
    }
}

impl Display for CliError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:#}", self.source)
    }
}

impl From<SessionError> for CliError {
    fn from(e: SessionError) -> Self {
        match e {
            SessionError::Refused(_) => Self::new(Exit::Usage, e),
            SessionError::NotKept(_) => {
                Self::new(Exit::Damaged, e).hint("the collection is as it was before")
            }
            _ => Self::new(Exit::Damaged, e),
        }
    }
}

/// Tells the error on standard error, and says how the program ends.
pub(super) fn tell(e: &CliError) -> Exit {
    if !e.quiet {
        say(&format!("error: {:#}", e.source));
        for why in &e.further {
            say(&format!("error: {why}"));
        }
        if let Some(hint) = &e.hint {
            say(&format!("hint: {hint}"));
        }
    }
    e.exit
}

/// Lines on standard error.
pub(super) fn say_lines(lines: &str) {
    lines.lines().for_each(say);
}

/// A line on standard error. If that cannot be written there is nobody to tell.
pub(super) fn say(line: &str) {
    log::note(line);
    writeln!(io::stderr(), "{}", safe(line)).ok();
}
