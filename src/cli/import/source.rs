//! The file that comes in, and what is told of it.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use crate::cli::error::{CliError, say};
use crate::cli::output::Output;
use crate::cli::words::count;
use crate::store::csv::{CsvError, Reading};

/// The file as the person named it.
pub(in crate::cli) struct Name(String);

pub(in crate::cli) struct Source {
    pub(in crate::cli) name: Name,
    pub(in crate::cli) input: Box<dyn Read>,
}

impl Source {
    pub(in crate::cli) fn open(path: &Path) -> Result<Self, CliError> {
        if path.as_os_str() == "-" {
            return Ok(Self {
                name: Name("standard input".into()),
                input: Box::new(io::stdin()),
            });
        }
        let name = path.display().to_string();
        match File::open(path) {
            Ok(file) => Ok(Self {
                name: Name(name),
                input: Box::new(file),
            }),
            Err(e) => Err(CliError::input(format!("could not read {name}: {e}"))),
        }
    }
}

impl Name {
    /// Tells what is wrong with the file, and says whether the rest of it is taken. `undone` are
    /// the words for that nothing was.
    pub(in crate::cli) fn judge(
        &self,
        reading: Result<Reading, CsvError>,
        skip_bad: bool,
        undone: &str,
        out: &mut Output,
    ) -> Result<Reading, CliError> {
        let file = &self.0;
        let reading = reading.map_err(|e| match e {
            CsvError::Io(e) => CliError::input(format!("could not read {file}: {e}")),
            e => {
                let hint = format!("{undone}{}", separated_otherwise(&e));
                CliError::input(format!("{file}: {e}")).hint(hint)
            }
        })?;
        for (number, name) in &reading.unknown {
            say(&format!(
                "{file}: column {number} (“{name}”) is not known and was left out"
            ));
        }
        for problem in &reading.problems {
            say(&format!("{file}, {problem}"));
        }
        let further = reading.bad - reading.problems.len() as u64;
        if further > 0 {
            say(&format!(
                "{file}: and {}",
                count(further, "further bad row", "further bad rows")
            ));
        }
        if reading.bad == 0 {
            return Ok(reading);
        }
        let bad = count(reading.bad, "row is bad", "rows are bad");
        if !skip_bad {
            return Err(CliError::input(format!("{file}: {bad}; {undone}"))
                .hint("mend the file, or take the good rows with --skip-bad"));
        }
        say(&format!("{file}: {bad} and left out"));
        out.falls_short();
        Ok(reading)
    }
}

/// A word on a file whose columns are apart, but not by commas: spreadsheets of many countries
/// write semicolons.
fn separated_otherwise(e: &CsvError) -> String {
    let CsvError::Missing { found, .. } = e else {
        return String::new();
    };
    let by = match found {
        _ if found.contains(',') => return String::new(),
        _ if found.contains(';') => "semicolons",
        _ if found.contains('\t') => "tabs",
        _ => return String::new(),
    };
    format!("; the columns seem to be separated by {by}: save the file with commas")
}
