//! The file that comes in, and what is told of it.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::answer::RefusedAnswer;
use super::name::Name;
use super::progress::{Progress, Stop};
use crate::cli::error::{CliError, say};
use crate::cli::output::Output;
use crate::cli::words::count;
use crate::session::Watched;
use crate::store::csv::{CsvError, Reading, USUALLY_KEPT};

pub(in crate::cli) struct Source {
    pub(in crate::cli) name: Name,
    pub(in crate::cli) input: Box<dyn Read>,
    /// How many there are; `None` where that is not known.
    bytes: Option<u64>,
}

impl Source {
    pub(in crate::cli) fn open(path: &Path, out: &mut Output) -> Result<Self, CliError> {
        if path.as_os_str() == "-" {
            return Ok(Self {
                name: Name("standard input".into()),
                input: Box::new(io::stdin()),
                bytes: None,
            });
        }
        let name = Name(path.display().to_string());
        match File::open(path) {
            Ok(file) => Ok(Self {
                name,
                bytes: file.metadata().ok().map(|about| about.len()),
                input: Box::new(file),
            }),
            Err(e) => {
                let why = name.cannot_read(&e);
                if out.is_json() {
                    out.json(&RefusedAnswer::of_file(&name, &why))?;
                }
                Err(CliError::input(why))
            }
        }
    }
}

impl Source {
    /// The same, with words on how far it is, and with the way to stop it.
    pub(super) fn watched(self) -> (Self, Stop) {
        // Standard input may keep one waiting: there an interrupt ends the process at once.
        let stop = match self.bytes {
            Some(_) => Stop::listen(),
            None => Stop::default(),
        };
        let (mut progress, asked) = (Progress::new(self.bytes), stop.clone());
        let input = Watched::new(self.input, move |read| {
            progress.tell(read);
            !asked.is_asked()
        });
        let input = Box::new(input);
        (Self { input, ..self }, stop)
    }
}

impl Name {
    /// Tells what is wrong with the file, and says whether the rest of it is taken. `undone` are
    /// the words for that nothing was. With `json` a file that is not taken is answered by a
    /// document.
    pub(in crate::cli) fn judge(
        &self,
        reading: Result<Reading, CsvError>,
        skip_bad: bool,
        undone: &str,
        out: &mut Output,
    ) -> Result<Reading, CliError> {
        let file = &self.0;
        let reading = match reading {
            Ok(reading) => reading,
            Err(e) => {
                let (why, hint) = match &e {
                    CsvError::Io(e) => (self.cannot_read(e), undone.into()),
                    e => {
                        let hint = format!("{undone}{}", e.separated_otherwise());
                        (format!("{file}: {e}"), hint)
                    }
                };
                if out.is_json() {
                    out.json(&RefusedAnswer::of_csv(self, &why, &e))?;
                }
                return Err(CliError::input(why).hint(hint));
            }
        };
        if let Some(ask) = reading.ask_of_mistyped().filter(|_| !skip_bad) {
            let why = format!("{file}: {ask}");
            if out.is_json() {
                out.json(&RefusedAnswer::of_file(self, &why))?;
            }
            let hint =
                format!("{undone}; mend the first line, or leave the column out with --skip-bad");
            return Err(CliError::input(why).hint(hint));
        }
        let own = reading.is_of_own_list();
        if own {
            let names: Vec<_> = reading.unknown.iter().map(|(_, name)| &**name).collect();
            say(&format!(
                "{file} is a list that ringbound wrote; not read: {}",
                names.join(", ")
            ));
        }
        for (number, name) in reading.unknown.iter().filter(|_| !own) {
            say(&format!(
                "{file}: column {number} (“{name}”) is not known and was left out"
            ));
        }
        if reading.unknown_more > 0 {
            let more = count(
                reading.unknown_more as u64,
                "more column is",
                "more columns are",
            );
            say(&format!("{file}: {more} not known and left out"));
        }
        let told = match skip_bad {
            true => &reading.problems[..],
            false => &reading.problems[..reading.problems.len().min(USUALLY_KEPT)],
        };
        for problem in told {
            say(&format!("{file}, {problem}"));
        }
        let further = reading.bad - told.len() as u64;
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
            let why = format!("{file}: {bad}; {undone}");
            if out.is_json() {
                out.json(&RefusedAnswer::of_rows(self, &why, &reading))?;
            }
            let hint = "mend the file, or take the good rows with --skip-bad";
            return Err(CliError::input(why).hint(hint));
        }
        say(&format!("{file}: {bad} and left out"));
        out.falls_short();
        Ok(reading)
    }
}
