//! `print`: labels, lists and sheets on paper.

mod made;
mod target;

use std::fs::File;
use std::io::Read;
use std::path::Path;

use serde::Serialize;

use super::args::Print;
use super::error::{CliError, say};
use super::open::Where;
use super::output::Output;
use crate::demo;
use crate::paper::{Document, Fonts, parse_paper};
use crate::session::{self, Session};
use target::Target;

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    files: Vec<String>,
    /// What is shortened or assumed.
    notes: Vec<String>,
}

pub(super) fn run(what: &Print, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let args = what.paper();
    if out.is_json() && args.out.as_os_str() == "-" {
        return Err(CliError::usage(
            "--json and a document to standard output do not go together",
        ));
    }
    let paper =
        parse_paper(args.paper.as_deref().unwrap_or(&args.usual)).map_err(CliError::usage)?;
    let session = if args.demo {
        Session::in_memory(demo::collection())
    } else {
        at.read(out)?
    };
    // Before any work: whether it may be written at all.
    let target = Target::new(args, &session)?;
    let named = args.font.iter().map(|file| read(file, MOST_FONT));
    let named: Vec<Vec<u8>> = named.collect::<Result<_, _>>()?;
    let mut fonts = Fonts::own();
    for (file, data) in args.font.iter().zip(&named) {
        let why = |e| CliError::input(format!("{}: {e}", file.display()));
        fonts.add(data).map_err(why)?;
    }
    let from = made::From {
        at,
        collection: session.collection(),
        paper,
        natural: matches!(what, Print::Page(_)) && target.is_picture(),
        fonts: &fonts,
    };
    let made = made::document(what, &from, out)?;
    let files = made.write(target.format, paper, &fonts, args.sheet);
    let files = files.map_err(|e| {
        let drawn = matches!(e, crate::paper::DocumentError::Drawn);
        let error = CliError::usage(e);
        if drawn {
            error.hint("end the file's name in .pdf, .svg or .png")
        } else {
            error
        }
    })?;
    let notes = match (&made, target.format.is_drawn()) {
        (Document::Listing(_), false) => Vec::new(),
        _ => made.drawing(paper, &fonts).told(&fonts),
    };
    for note in &notes {
        say(&format!("note: {note}"));
    }
    if !notes.is_empty() {
        out.falls_short();
    }
    let written = target.write(&session, &files, out)?;
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-print",
            version: 1,
            files: written,
            notes,
        });
    }
    for file in written {
        out.line(&format!("Written: {file}"))?;
    }
    Ok(())
}

/// A font has at most so many bytes; those with all of Unicode's ideographs have half of it.
const MOST_FONT: u64 = 64_000_000;

/// A file that a document is made with.
fn read(path: &Path, most: u64) -> Result<Vec<u8>, CliError> {
    let shown = path.display();
    let unread = |e| CliError::input(session::cannot_read(&shown, &e));
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(unread)?;
    file.take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(unread)?;
    if bytes.len() as u64 > most {
        return Err(CliError::input(format!(
            "{shown} has more than {most} bytes"
        )));
    }
    Ok(bytes)
}
