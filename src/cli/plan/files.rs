//! Two arrangement files.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::{answer, tell};
use crate::cli::error::{CliError, say};
use crate::cli::output::Output;
use crate::paper::{Names, Ways, work_sheet};
use crate::plan::task::Card;
use crate::plan::{Pages, Way, Work, WorkStep, work};
use crate::session::cannot_read;
use crate::store::arrangement::{Arrangement, MOST_BYTES, Paired, Which, pair, read_arrangement};

pub(super) fn run(before: &Path, after: &Path, way: Way, out: &mut Output) -> Result<(), CliError> {
    if before.as_os_str() == "-" && after.as_os_str() == "-" {
        return Err(CliError::usage(
            "only one of the two arrangements can come from standard input",
        ));
    }
    let (was, meant) = (read(before)?, read(after)?);
    let mut paired = pair(&was, &meant).map_err(|wrong| {
        let file = match wrong.which {
            Which::Before => before,
            Which::After => after,
        };
        CliError::input(format!("{}, {}", file.display(), wrong.remark))
            .hint("pages of a binder whose pages_move is false stay where they are")
    })?;
    if paired
        .task
        .binders
        .iter()
        .map(|b| b.before.len())
        .sum::<usize>()
        > 2_000
    {
        say("this is a great many pages; planning takes a moment");
    }
    for binder in &mut paired.task.binders {
        binder.pages = way.pages(binder.pages == Pages::Move);
    }
    let found = work(&paired.task, way.working);
    for step in &found.steps {
        if matches!(step, WorkStep::AddPage { .. }) {
            paired.add_page();
        }
    }
    let names = names(&paired, &found);
    if out.is_json() {
        return out.json(&answer::Answer::new(&names, &found));
    }
    let work_by = |way: Way| {
        let mut task = paired.task.clone();
        for binder in &mut task.binders {
            binder.pages = way.pages(binder.pages != Pages::Fixed);
        }
        work(&task, way.working)
    };
    let ways = Ways::new(&found, way, work_by);
    let files = format!("from {} to {}", before.display(), after.display());
    let title = match &names.binders[..] {
        [only] => format!("binder {only}, {files}"),
        _ => files,
    };
    tell(&work_sheet(&title, &names, &found, &ways), out)
}

fn names(paired: &Paired, work: &Work) -> Names {
    let task = &paired.task;
    let pages = task.binders.iter().flat_map(|binder| &binder.before);
    let mut grids: Vec<_> = pages.map(|page| page.grid).collect();
    grids.extend(work.steps.iter().filter_map(|step| match step {
        WorkStep::AddPage { grid, .. } => Some(*grid),
        _ => None,
    }));
    let cards = 1..task.loose.len() as Card;
    let layouts = (task.binders.iter())
        .map(|binder| binder.after.iter().map(|page| page.grid).collect())
        .collect();
    Names::new(
        paired.binders.clone(),
        paired.pages.clone(),
        grids,
        cards.map(|card| paired.printing(card).into()).collect(),
        layouts,
    )
}

fn read(path: &Path) -> Result<Arrangement, CliError> {
    let name = if path.as_os_str() == "-" {
        "standard input".into()
    } else {
        path.display().to_string()
    };
    let unread = |e: io::Error| CliError::input(cannot_read(&name, &e));
    let mut bytes = Vec::new();
    let input: Box<dyn Read> = if path.as_os_str() == "-" {
        Box::new(io::stdin())
    } else {
        Box::new(File::open(path).map_err(unread)?)
    };
    let limit = MOST_BYTES + 1;
    input.take(limit).read_to_end(&mut bytes).map_err(unread)?;
    if bytes.len() as u64 == limit {
        return Err(CliError::input(format!(
            "{name} has more than {MOST_BYTES} bytes; plan fewer pages at a time"
        )));
    }
    let arrangement =
        read_arrangement(&bytes).map_err(|remark| CliError::input(format!("{name}, {remark}")))?;
    for note in &arrangement.notes {
        say(&format!("{name}, {note}"));
    }
    Ok(arrangement)
}
