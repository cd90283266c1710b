//! A CSV file on its way in: read, and made a step. What it is made on is given, so that it can be
//! done beside everything else; nothing is altered until the step is committed.

use std::io;
use std::path::Path;

use super::lists::open_plain;
use super::watched::Watched;
use super::words::cannot_read;
use crate::intake::{BinderOptions, Checklist, ChecklistOptions, Copies};
use crate::model::{Collection, Step};
use crate::store::csv::{CsvError, Reading, read_checklist, read_copies};
use crate::text;

/// What is in the file.
#[derive(Clone, Copy, Debug)]
pub enum What {
    /// Cards; each new set gets this binder.
    Checklist(BinderOptions),
    /// Copies, loose or, as far as there are pockets for them, in place.
    Copies { in_place: bool },
}

/// What came of it.
#[derive(Clone, Debug, Default)]
pub struct Brought {
    /// Without changes where nothing is new.
    pub step: Step,
    /// What it brings, a sentence each.
    pub told: Vec<String>,
}

/// Why nothing comes in.
#[derive(Clone, Debug)]
pub enum NotBrought {
    /// It was asked to stop.
    Stopped,
    /// The file as a whole, as a sentence. One that begins with its name has that as it is written.
    File(String),
    /// So many rows are bad; these are the first of them, in words.
    Rows { bad: u64, rows: Vec<String> },
}

/// Reads the file and makes a step of it. Bad rows are left out with `skip_bad`, else nothing is
/// taken. `watch` is told how many bytes of how many are read, and says whether to go on.
///
/// # Errors
/// As [`NotBrought`] says.
pub fn bring(
    collection: &Collection,
    path: &Path,
    what: What,
    skip_bad: bool,
    watch: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<Brought, NotBrought> {
    let shown = path.display();
    let unread = |e: &io::Error| NotBrought::File(text::sentence(cannot_read(&shown, e)));
    let file = open_plain(path).map_err(|e| unread(&e))?;
    let bytes = file.metadata().map_err(|e| unread(&e))?.len();
    let mut watched = Watched::new(file, |read| watch(read, bytes));
    let not_csv = |e: CsvError, stopped: bool| match e {
        _ if stopped => NotBrought::Stopped,
        CsvError::Io(e) => unread(&e),
        e => NotBrought::File(e.told(&shown)),
    };
    let brought = match what {
        What::Checklist(binder) => {
            let options = ChecklistOptions {
                update: false,
                binder: Some(binder),
            };
            let mut checklist = Checklist::new(collection, options);
            let reading = read_checklist(&mut watched, |row| checklist.row(row));
            let reading = reading.map_err(|e| not_csv(e, watched.is_stopped()))?;
            let bad = judge(&reading, skip_bad)?;
            let intake = checklist.finish();
            let mut told = intake.words();
            told.extend(bad);
            told.extend(intake.notes);
            let differs = intake.differs.len() as u64;
            if differs > 0 {
                let words = text::count(differs, "entry differs", "entries differ");
                told.push(format!("{words} from what is kept, and was left as it is."));
            }
            Brought {
                step: intake.step,
                told,
            }
        }
        What::Copies { in_place } => {
            let mut copies = Copies::new(collection);
            let reading = read_copies(&mut watched, |row| copies.row(&row));
            let reading = reading.map_err(|e| not_csv(e, watched.is_stopped()))?;
            let bad = judge(&reading, skip_bad)?;
            let intake = copies.finish_step(in_place);
            let mut told = vec![intake.words(in_place)];
            told.extend(bad);
            Brought {
                step: intake.step,
                told,
            }
        }
    };
    // Stopped after the last byte is stopped all the same.
    match watched.goes_on() {
        true => Ok(brought),
        false => Err(NotBrought::Stopped),
    }
}

/// Whether the rows are taken, and what is to be told of those that are not.
fn judge(reading: &Reading, skip_bad: bool) -> Result<Vec<String>, NotBrought> {
    if let Some(ask) = reading.ask_of_mistyped().filter(|_| !skip_bad) {
        return Err(NotBrought::File(format!(
            "{} Nothing has come in. Mend the first line of the file, or let the good rows come in: \
             the column is left out then.",
            text::sentence(&ask)
        )));
    }
    if reading.bad > 0 && !skip_bad {
        return Err(NotBrought::Rows {
            bad: reading.bad,
            rows: bad_rows(reading),
        });
    }
    let mut told = Vec::new();
    if reading.bad > 0 {
        let rows = text::count(reading.bad, "row was bad", "rows were bad");
        told.push(format!("{rows} and left out:"));
        told.extend(bad_rows(reading));
    }
    let names: Vec<_> = reading
        .unknown
        .iter()
        .map(|(_, name)| name.as_str())
        .collect();
    // What a list written here tells besides is not read, and nobody has to be told each time.
    if !names.is_empty() && !reading.is_of_own_list() {
        let more = match reading.unknown_more {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        told.push(format!(
            "Columns that are not known, left out: {}{more}.",
            names.join(", ")
        ));
    }
    Ok(told)
}

/// The bad rows in words, as far as they are kept, and how many more there are.
fn bad_rows(reading: &Reading) -> Vec<String> {
    let mut rows: Vec<_> = reading.problems.iter().map(ToString::to_string).collect();
    let more = reading.bad.saturating_sub(rows.len() as u64);
    if more > 0 {
        let more = text::count(more, "more row is bad", "more rows are bad");
        rows.push(format!("{more}."));
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::default_format;
    use crate::model::{BinderKind, Change};

    const BINDER: fn() -> What = || {
        What::Checklist(BinderOptions {
            format: default_format(),
            kind: BinderKind::RINGS,
        })
    };

    /// RFC 4180: comma, CRLF, a header row.
    const CARDS: &str = "set,number,name\r\nFEN,1,Heron\r\nFEN,2,\"Reed, old\"\r\n";

    fn file(words: &str) -> (tempfile::TempDir, std::path::PathBuf) {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("cards.csv");
        std::fs::write(&path, words).unwrap();
        (dir, path)
    }

    #[test]
    fn a_checklist_and_then_copies_come_in_as_a_step_each() {
        let (_dir, path) = file(CARDS);
        let mut collection = Collection::new();
        let brought = bring(&collection, &path, BINDER(), false, &mut |_, _| true).unwrap();
        assert_eq!(brought.told, ["New: 1 set, 2 cards, 1 binder and 1 page."]);
        Change::apply_all(&brought.step.changes, &mut collection).unwrap();
        let (_dir, path) = file("set,number\nFEN,2\nFEN,2\n");
        let what = What::Copies { in_place: true };
        let brought = bring(&collection, &path, what, false, &mut |_, _| true).unwrap();
        assert_eq!(
            brought.told,
            ["2 copies came in: 1 in its pocket, 1 loose."]
        );
    }

    #[test]
    fn a_bad_row_is_told_with_its_line_and_nothing_comes_in_unless_asked() {
        let (_dir, path) = file("set,number,name\nFEN,1,Heron\nFEN,,Nobody\n");
        let collection = Collection::new();
        let bad = bring(&collection, &path, BINDER(), false, &mut |_, _| true);
        let Err(NotBrought::Rows { bad: 1, rows }) = bad else {
            panic!("{bad:?}");
        };
        assert!(rows[0].starts_with("line 3, column 2 (number)"), "{rows:?}");
        let good = bring(&collection, &path, BINDER(), true, &mut |_, _| true).unwrap();
        assert_eq!(good.told[1], "1 row was bad and left out:");
        assert_eq!(good.told[2..], rows);
    }

    #[test]
    fn of_very_many_bad_rows_the_others_are_counted() {
        let words = format!("set,number,name\n{}", "FEN,,Nobody\n".repeat(3_000));
        let (_dir, path) = file(&words);
        let collection = Collection::new();
        let bad = bring(&collection, &path, BINDER(), false, &mut |_, _| true);
        let Err(NotBrought::Rows { bad: 3_000, rows }) = bad else {
            panic!("{bad:?}");
        };
        let more = 3_000 - (rows.len() - 1);
        assert_eq!(rows.last(), Some(&format!("{more} more rows are bad.")));
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_regular_file_is_not_opened() {
        // Opening a socket is refused at once, a pipe is waited for: neither is tried.
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("pipe");
        let _socket = std::os::unix::net::UnixListener::bind(&path).unwrap();
        let brought = bring(&Collection::new(), &path, BINDER(), false, &mut |_, _| true);
        let Err(NotBrought::File(why)) = brought else {
            panic!("{brought:?}");
        };
        assert!(why.ends_with("pipe: it is no regular file"), "{why}");
    }

    #[test]
    fn a_file_that_is_stopped_at_any_moment_brings_nothing() {
        let (_dir, path) = file(CARDS);
        let collection = Collection::new();
        let mut calls = 0;
        let mut count = |_, _| {
            calls += 1;
            true
        };
        bring(&collection, &path, BINDER(), false, &mut count).unwrap();
        for stop in 0..calls {
            let mut left = stop;
            let mut watch = |_, _| {
                left -= 1;
                left >= 0
            };
            let stopped = bring(&collection, &path, BINDER(), false, &mut watch);
            assert!(
                matches!(stopped, Err(NotBrought::Stopped)),
                "{stop}: {stopped:?}"
            );
        }
    }

    #[test]
    fn a_folder_and_a_missing_file_are_told_by_name() {
        let dir = tempfile::tempdir().unwrap();
        let why = |path: &Path| match bring(
            &Collection::new(),
            path,
            BINDER(),
            false,
            &mut |_, _| true,
        ) {
            Err(NotBrought::File(why)) => why,
            other => panic!("{other:?}"),
        };
        assert!(why(dir.path()).ends_with("is a folder, no file"));
        let missing = dir.path().join("no.csv");
        assert!(why(&missing).contains("There is no file") && why(&missing).contains("no.csv"));
    }
}
