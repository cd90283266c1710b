//! `check`: is the collection whole? And with `--mend`, the way on from damage.

use serde::Serialize;

use super::args::CheckArgs;
use super::error::{CliError, say};
use super::open::{self, Where};
use super::output::Output;
use super::recover;
use super::words::count;
use crate::session::{Notice, Open};

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    whole: bool,
    problems: Vec<String>,
}

pub(super) fn run(args: &CheckArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let is_mended = !at.is_missing() && args.mend && mend(at, out)?;
    tell(at, is_mended, out)
}

/// Takes what can be read of damaged files as the collection. What is lost is told and falls
/// short; where nothing is damaged nothing is done. Says whether something was.
fn mend(at: &Where, out: &mut Output) -> Result<bool, CliError> {
    let (session, notices) = at.mended(Open::AsOffered)?;
    for notice in &notices {
        say(&format!("warning: {notice}"));
        if notice.is_damage() {
            out.falls_short();
        }
    }
    let is_mended = notices.iter().any(Notice::is_damage);
    if is_mended {
        out.kept();
        let collection = session.collection();
        say(&format!(
            "the collection now has {}, {} and {}",
            count(collection.sets().len() as u64, "set", "sets"),
            count(recover::copies(collection), "copy", "copies"),
            count(collection.shelf().len() as u64, "binder", "binders"),
        ));
    }
    open::close(session);
    Ok(is_mended)
}

/// Damage of the files and broken counts are problems; a step that was cut off while it was
/// written was never kept, so that the collection is whole without it.
fn tell(at: &Where, is_mended: bool, out: &mut Output) -> Result<(), CliError> {
    let mut problems = Vec::new();
    match at.looked_at(out) {
        Err(e) => problems.push(e.to_string()),
        Ok((session, damage)) => {
            problems.extend(damage.iter().map(ToString::to_string));
            let broken = session.collection().check();
            problems.extend(broken.iter().map(ToString::to_string));
        }
    }
    let whole = problems.is_empty();
    if !whole {
        out.damaged();
    }
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-check",
            version: 1,
            whole,
            problems,
        });
    }
    if whole && is_mended {
        return out.line("The collection is mended, and is whole as it now is.");
    }
    recover::verdict(&problems, out)
}
