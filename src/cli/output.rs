//! The one writer to standard output: everything is checked, and flushed at the end.

use std::io::{self, BufWriter, IsTerminal, Write};

use super::error::{CliError, Exit, say};
use super::json;
use crate::text::{safe, wrap};

/// Columns of a line of sentences.
const PROSE: usize = 80;

/// Where answers go, and how the command will have ended.
pub(super) struct Output {
    out: BufWriter<Box<dyn Write>>,
    exit: Exit,
    /// Whether the answer is one JSON document instead of lines of words.
    json: bool,
    /// Whether a terminal reads it, which raw bytes could steer.
    terminal: bool,
    /// Whether a line was written.
    begun: bool,
    /// Whether something was changed for good.
    kept: bool,
    /// What can be done about it, told beside the answer and after it.
    hints: Vec<String>,
}

impl Output {
    /// Answers in words, or as JSON where `json` says so.
    pub(super) fn stdout(json: bool) -> Self {
        Self {
            out: BufWriter::with_capacity(1 << 16, Box::new(io::stdout())),
            exit: Exit::Done,
            json,
            terminal: io::stdout().is_terminal(),
            begun: false,
            kept: false,
            hints: Vec::new(),
        }
    }

    /// Whether the answer is to be one JSON document.
    pub(super) fn is_json(&self) -> bool {
        self.json
    }

    /// One line of words, made harmless.
    pub(super) fn line(&mut self, line: &str) -> Result<(), CliError> {
        self.begun = true;
        let written = writeln!(self.out, "{}", safe(line));
        written.map_err(|e| self.lost(e))
    }

    /// Sentences, broken where a line has no room for more.
    pub(super) fn prose(&mut self, words: &str) -> Result<(), CliError> {
        let lines = wrap(&safe(words), PROSE, usize::MAX, '…');
        lines.iter().try_for_each(|line| self.line(line))
    }

    /// A blank line to what comes before, if there is anything.
    pub(super) fn apart(&mut self) -> Result<(), CliError> {
        if self.begun { self.line("") } else { Ok(()) }
    }

    /// One JSON document.
    pub(super) fn json(&mut self, document: &impl serde::Serialize) -> Result<(), CliError> {
        let written = json::write(&mut self.out, document);
        written.map_err(|e| self.lost(e))
    }

    /// Writes raw bytes, for an export to standard output; on a terminal the lines are made
    /// harmless.
    pub(super) fn raw(
        &mut self,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), CliError> {
        if !self.terminal {
            let written = write(&mut self.out);
            return written.map_err(|e| self.lost(e));
        }
        let mut bytes = Vec::new();
        write(&mut bytes).map_err(|e| self.lost(e))?;
        for line in String::from_utf8_lossy(&bytes).lines() {
            self.line(line)?;
        }
        Ok(())
    }

    /// What the command changed is kept, whatever becomes of its answer.
    pub(super) fn kept(&mut self) {
        self.kept = true;
    }

    /// Who does not see the answer must not take the command for not done.
    fn lost(&self, e: io::Error) -> CliError {
        let error = CliError::output("to standard output", e);
        match self.kept {
            true => error.hint("it is done and kept all the same; ringbound history tells it"),
            false => error,
        }
    }

    /// What can be done about what was answered. It is told when the answer is out, though not in
    /// it.
    pub(super) fn hint(&mut self, words: &str) {
        self.hints.push(format!("hint: {words}"));
    }

    /// The command is done, but not all of it.
    pub(super) fn falls_short(&mut self) {
        self.exit = Exit::FallsShort;
    }

    /// A file of the person's cannot be taken, which was told.
    pub(super) fn bad_input(&mut self) {
        self.exit = Exit::BadInput;
    }

    /// The collection is not whole.
    pub(super) fn damaged(&mut self) {
        self.exit = Exit::Damaged;
    }

    pub(super) fn finish(mut self) -> Result<Exit, CliError> {
        let written = self.out.flush();
        let written = written.map_err(|e| self.lost(e));
        for hint in std::mem::take(&mut self.hints) {
            say(&hint);
        }
        // What could not be written must not be tried again when it is dropped.
        drop(self.out.into_parts());
        written.map(|()| self.exit)
    }
}
