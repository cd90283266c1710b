//! `recover`: what there is to go back to, what was set aside, and going back.

use serde::Serialize;

use super::args::RecoverArgs;
use super::error::{CliError, say};
use super::open::{self, Where};
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::model::Collection;
use crate::session::{Notice, Open};
use crate::store::{Aside, Beside, Older};

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    whole: bool,
    problems: Vec<String>,
    older: Vec<OlderAnswer>,
    set_aside: Vec<AsideAnswer>,
}

#[derive(Serialize)]
struct OlderAnswer {
    record: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    written: Option<String>,
    file: String,
    /// Why it cannot be gone back to.
    #[serde(skip_serializing_if = "Option::is_none")]
    unreadable: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sets: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    copies: Option<u64>,
}

#[derive(Serialize)]
struct AsideAnswer {
    file: String,
    bytes: u64,
}

pub(super) fn run(args: &RecoverArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    if at.is_missing() {
        if wanted(args).is_some() {
            return Err(CliError::usage(
                "there is nothing to accept, put back or go back to",
            ));
        }
        return tell(&[], &Beside::default(), false, out);
    }
    if let Some(how) = wanted(args) {
        go_back(how, at)?;
        out.kept();
    }
    let mut is_later = false;
    let problems: Vec<_> = match at.looked_at(out) {
        Err(e) => vec![e.to_string()],
        Ok((_, damage)) => {
            is_later = damage.iter().any(|p| matches!(p, Notice::Later { .. }));
            damage.iter().map(ToString::to_string).collect()
        }
    };
    let beside = at.beside().map_err(CliError::damaged)?;
    tell(&problems, &beside, is_later, out)
}

fn wanted(args: &RecoverArgs) -> Option<Open> {
    if args.accept {
        return Some(Open::AsOffered);
    }
    if args.put_back {
        return Some(Open::PutBack);
    }
    args.restore.map(Open::Older)
}

fn go_back(how: Open, at: &Where) -> Result<(), CliError> {
    let (_, found) = at.open(Open::ForReading).map_err(CliError::damaged)?;
    ensure_edited(how, &found)?;
    if let Open::Older(record) = how {
        let beside = at.beside().map_err(CliError::damaged)?;
        let Some(older) = beside.older.iter().find(|older| older.record == record) else {
            return Err(
                CliError::usage(format!("there is no earlier state {record}"))
                    .hint("ringbound recover lists them"),
            );
        };
        if let Err(why) = &older.collection {
            let file = older.path.display();
            return Err(CliError::damaged(format!("{file}: {why}"))
                .hint("nothing was changed; ringbound recover lists the others"));
        }
    }
    let (session, notices) = at.mended(how).map_err(|e| match how {
        Open::PutBack => e.or_hint(
            "nothing was changed; ringbound recover lists earlier states, and --restore goes \
             back to one",
        ),
        _ => e,
    })?;
    for notice in notices {
        match notice {
            Notice::SnapshotAltered => {}
            notice => say(&notice.to_string()),
        }
    }
    open::close(session);
    Ok(())
}

/// Only what was altered by hand is accepted or put back; what cannot be read any more can still be
/// put back.
fn ensure_edited(how: Open, found: &[Notice]) -> Result<(), CliError> {
    let is_unreadable = |notice: &Notice| {
        matches!(
            notice,
            Notice::OlderOffered { .. } | Notice::JournalOffered { .. }
        )
    };
    match how {
        Open::Older(_) => return Ok(()),
        Open::PutBack if found.iter().any(is_unreadable) => return Ok(()),
        _ if found.contains(&Notice::SnapshotAltered) => return Ok(()),
        _ => {}
    }
    let Some(damage) = found.iter().find(|notice| notice.is_damage()) else {
        return Err(CliError::usage(
            "collection.json is as it was written; nothing to accept or put back",
        )
        .hint("ringbound recover lists earlier states, and --restore goes back to one"));
    };
    let way_on = open::way_on(damage).unwrap_or_default();
    Err(CliError::damaged(damage).hint(format!("nothing was changed; {way_on}")))
}

fn tell(
    problems: &[String],
    beside: &Beside,
    is_later: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let whole = problems.is_empty();
    if !whole {
        out.damaged();
    }
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-recover",
            version: 1,
            whole,
            problems: problems.to_vec(),
            older: beside.older.iter().map(older_answer).collect(),
            set_aside: beside.aside.iter().map(aside_answer).collect(),
        });
    }
    verdict(problems, out)?;
    tell_older(&beside.older, is_later, out)?;
    tell_aside(&beside.aside, out)
}

/// Whether the collection is whole, and if not, why.
pub(super) fn verdict(problems: &[String], out: &mut Output) -> Result<(), CliError> {
    if problems.is_empty() {
        return out.line("The collection is whole.");
    }
    out.line("The collection is not whole:")?;
    for problem in problems {
        out.line(problem)?;
    }
    Ok(())
}

/// Beside a file of a later version nothing is changed, so there is no going back either.
fn tell_older(older: &[Older], is_later: bool, out: &mut Output) -> Result<(), CliError> {
    out.line("")?;
    if older.is_empty() {
        return out.line("No earlier state is kept yet.");
    }
    out.prose(match is_later {
        true => "Earlier states of the collection, the newest first:",
        false => "Earlier states of the collection, the newest first; ringbound recover --restore STATE goes back:",
    })?;
    let mut table = Table::new(&[
        ("state", Align::Right),
        ("written", Align::Left),
        ("sets", Align::Right),
        ("copies", Align::Right),
        ("", Align::Left),
    ]);
    for older in older {
        let record = older.record.to_string();
        let written = written(older).unwrap_or_default();
        table.row(match &older.collection {
            Ok(collection) => [
                record,
                written,
                collection.sets().len().to_string(),
                copies(collection).to_string(),
                String::new(),
            ],
            Err(why) => {
                let why = format!("there is no going back to it: {why}");
                [record, written, String::new(), String::new(), why]
            }
        });
    }
    table.print(out)
}

fn tell_aside(aside: &[Aside], out: &mut Output) -> Result<(), CliError> {
    let Some(folder) = aside.first().and_then(|first| first.path.parent()) else {
        return Ok(());
    };
    out.line("")?;
    let folder = folder.display();
    out.line(&format!(
        "Set aside in {folder}, and never removed by this program:"
    ))?;
    for file in aside {
        let name = file.path.file_name().unwrap_or_default().to_string_lossy();
        let bytes = count(file.bytes, "byte", "bytes");
        out.line(&format!("  {name}, {bytes}: {}", what_it_is(&name)))?;
    }
    Ok(())
}

/// By the names that the store gives them.
fn what_it_is(name: &str) -> &'static str {
    if name.starts_with("journal-after-") {
        "the end of a line that was cut off while it was written; that step was never kept"
    } else if name.starts_with("journal") {
        "the list of steps (journal) as it was before the collection was mended or put back"
    } else {
        "a state of the collection as it was before the collection was mended or put back"
    }
}

fn written(older: &Older) -> Option<String> {
    let seconds = i64::try_from(older.written?.as_secs()).ok()?;
    let at = jiff::Timestamp::from_second(seconds).ok()?;
    Some(at.to_string())
}

/// Of all printings together.
pub(super) fn copies(collection: &Collection) -> u64 {
    let printings = collection
        .sets()
        .flat_map(|(id, set)| set.printings(id).map(|printing| set.tally(printing)));
    printings.map(|tally| u64::from(tally.copies())).sum()
}

fn older_answer(older: &Older) -> OlderAnswer {
    let collection = older.collection.as_ref().ok();
    OlderAnswer {
        record: older.record,
        written: written(older),
        file: older.path.display().to_string(),
        unreadable: older.collection.as_ref().err().cloned(),
        sets: collection.map(|collection| collection.sets().len()),
        copies: collection.map(copies),
    }
}

fn aside_answer(aside: &Aside) -> AsideAnswer {
    AsideAnswer {
        file: aside.path.display().to_string(),
        bytes: aside.bytes,
    }
}
