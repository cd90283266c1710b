//! From the text of the file to settings, or to everything that is wrong with it.

use toml::de::DeTable;

use super::entries::{ENTRIES, TABLES};
use super::known::Known;
use super::line::{Line, Problems, line, lines};
use super::{Settings, SettingsError, keys, paint};
use crate::text::hint;

/// The largest file that is read.
pub const MOST_BYTES: usize = 1 << 20;

/// So many errors are told; a file of another kind would have thousands.
const MOST_ERRORS: usize = 20;

/// Tables besides those of plain entries.
const OTHER_TABLES: [&str; 3] = ["colours", "signs", "keys"];

/// Reads the whole file. What it does not say is as it is built in.
///
/// # Errors
/// Everything that is wrong, by lines (at most the first twenty); nothing is guessed.
pub fn read(text: &str, known: &Known) -> Result<Settings, Vec<SettingsError>> {
    let mut problems = Problems {
        text,
        found: Vec::new(),
    };
    let mut settings = Settings::default();
    if text.len() > MOST_BYTES {
        let why = format!("the file has more than {MOST_BYTES} bytes");
        problems.tell(1, why);
        return Err(problems.found);
    }
    let (table, wrong) = DeTable::parse_recoverable(text);
    for error in wrong {
        let line = problems.line_of(error.span().map_or(0, |span| span.start));
        problems.tell(line, error.message().replace('\n', "; "));
    }
    if problems.found.is_empty() {
        tables(table.get_ref(), known, &mut settings, &mut problems);
    }
    let mut found = problems.found;
    if found.is_empty() {
        return Ok(settings);
    }
    found.sort_by_key(|error| error.line);
    found.truncate(MOST_ERRORS);
    Err(found)
}

fn tables(
    table: &DeTable<'_>,
    known: &Known,
    settings: &mut Settings,
    problems: &mut Problems<'_>,
) {
    for (name, value) in table {
        let (word, line) = (name.get_ref().as_ref(), problems.line_of(name.span().start));
        let tables = TABLES.iter().map(|(table, _)| *table).chain(OTHER_TABLES);
        let Some(inner) = value.get_ref().as_table() else {
            let homes: Vec<_> = ENTRIES.iter().filter(|entry| entry.name == word).collect();
            let near = match &homes[..] {
                _ if tables.clone().any(|table| table == word) => {
                    format!("; write [{word}] in a line of its own")
                }
                [only] => format!("; it belongs under [{}]", only.table),
                _ => hint(word, tables),
            };
            problems.tell(line, format!("“{word}” is not known here{near}"));
            continue;
        };
        match word {
            "colours" => paint::colours(&lines(inner, problems), known, settings, problems),
            "signs" => paint::signs(&lines(inner, problems), known, settings, problems),
            "keys" => places(inner, known, settings, problems),
            _ if tables.clone().any(|table| table == word) => {
                plain(word, &lines(inner, problems), settings, problems);
            }
            _ => {
                let near = hint(word, tables);
                problems.tell(line, format!("[{word}] is not known{near}"));
            }
        }
    }
}

fn places(
    table: &DeTable<'_>,
    known: &Known,
    settings: &mut Settings,
    problems: &mut Problems<'_>,
) {
    let mut tables = Vec::new();
    for (name, value) in table {
        let place = line(name.get_ref(), name.span().start, value, problems);
        match value.get_ref().as_table() {
            Some(inner) => tables.push((place, lines(inner, problems))),
            None => {
                let why = format!(
                    "keys are set by places: write [keys.binder] or [keys.everywhere] above “{}”",
                    place.name
                );
                problems.tell(place.at, why);
            }
        }
    }
    keys::keys(&tables, known, settings, problems);
}

fn plain(table: &str, lines: &[Line<'_>], settings: &mut Settings, problems: &mut Problems<'_>) {
    let here = || ENTRIES.iter().filter(|entry| entry.table == table);
    for line in lines {
        let name = line.name;
        let Some(entry) = here().find(|entry| entry.name == name) else {
            let homes: Vec<_> = ENTRIES.iter().filter(|entry| entry.name == name).collect();
            let near = match &homes[..] {
                [only] => format!("; it belongs under [{}]", only.table),
                _ => hint(name, here().map(|entry| entry.name)),
            };
            problems.tell(line.at, format!("[{table}] has no “{name}”{near}"));
            continue;
        };
        if let Err(why) = (entry.read)(settings, &line.value) {
            problems.tell(line.at, format!("{table}.{name}: {why}"));
        }
    }
}
