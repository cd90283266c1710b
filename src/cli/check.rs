//! `check`: is the collection whole?

use serde::Serialize;

use super::error::{CliError, say};
use super::open::Where;
use super::output::Output;
use crate::session::Open;

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    whole: bool,
    problems: Vec<String>,
}

/// Damage of the files and broken counts are problems; a step that was cut off while it was
/// written was never kept, so that the collection is whole without it.
pub(super) fn run(at: &Where, json: bool, out: &mut Output) -> Result<(), CliError> {
    at.is_missing();
    let mut problems = Vec::new();
    match at.open(Open::ForReading) {
        Err(e) => problems.push(e.to_string()),
        Ok((session, notices)) => {
            for notice in notices {
                if notice.is_damage() {
                    problems.push(notice.to_string());
                } else {
                    say(&format!("warning: {notice}"));
                }
            }
            let broken = session.collection().check();
            problems.extend(broken.iter().map(ToString::to_string));
        }
    }
    let whole = problems.is_empty();
    if !whole {
        out.damaged();
    }
    if json {
        return out.json(&Answer {
            format: "ringbound-check",
            version: 1,
            whole,
            problems,
        });
    }
    if whole {
        return out.line("The collection is whole.");
    }
    out.line("The collection is not whole:")?;
    for problem in problems {
        out.line(&problem)?;
    }
    Ok(())
}
