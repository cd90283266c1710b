//! `pictures`: which cards have pictures of their own, and which files are no card's.

use std::path::Path;

use serde::Serialize;

use super::args::PicturesArgs;
use super::error::CliError;
use super::open::Where;
use super::output::Output;
use super::words::count;
use crate::session::{Matched, Pictures, read_picture};

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    folder: String,
    /// Printings with a picture.
    pictured: usize,
    /// Files that are no card's.
    strays: Vec<String>,
    /// Files that cannot be read, with the reason; only where they were tried.
    #[serde(skip_serializing_if = "Option::is_none")]
    unreadable: Option<Vec<Unreadable>>,
}

#[derive(Serialize)]
struct Unreadable {
    file: String,
    why: String,
}

pub(super) fn run(args: &PicturesArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let folder = at.pictures();
    let session = at.read(out)?;
    let pictures = Pictures::in_folder(&folder);
    let pictures = pictures.map_err(|e| CliError::usage(format!("{}: {e}", folder.display())))?;
    let Matched { pictured, strays } = pictures.against(session.collection());
    let unreadable = args.read.then(|| tried(&pictures));
    let within = |file: &Path| {
        let inside = file.strip_prefix(&folder).unwrap_or(file);
        inside.display().to_string()
    };
    if !strays.is_empty() || unreadable.as_ref().is_some_and(|bad| !bad.is_empty()) {
        out.falls_short();
    }
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-pictures",
            version: 1,
            folder: folder.display().to_string(),
            pictured,
            strays: strays.iter().map(|file| within(file)).collect(),
            unreadable: unreadable.map(|bad| {
                let told = bad.into_iter().map(|(file, why)| Unreadable {
                    file: within(file),
                    why,
                });
                told.collect()
            }),
        });
    }
    out.line(&format!("Pictures are looked for in {}", folder.display()))?;
    if pictures.is_empty() && strays.is_empty() {
        out.prose("There are none. A folder for each set, called by its code; in it a file for each card:")?;
        out.line("  FEN/12.png            card 12, in every finish")?;
        out.line("  FEN/12 reverse.jpg    its reverse, where that looks otherwise")?;
        return out.line("PNG, JPEG and WebP are read. Zeros in front of a number do not count.");
    }
    let cards = count(pictured as u64, "printing has", "printings have");
    out.line(&format!("{cards} a picture."))?;
    if !strays.is_empty() {
        out.line("")?;
        out.line("These files belong to no card, by their folder, number or ending:")?;
        for file in strays {
            out.line(&format!("  {}", within(file)))?;
        }
    }
    if let Some(bad) = unreadable {
        out.line("")?;
        match bad.is_empty() {
            true => out.line("Every picture can be read.")?,
            false => out.line("These cannot be read:")?,
        }
        for (file, why) in bad {
            out.line(&format!("  {}: {why}", within(file)))?;
        }
    }
    Ok(())
}

fn tried(pictures: &Pictures) -> Vec<(&Path, String)> {
    let read = |file| read_picture(file).err().map(|why| (file, why));
    pictures.files().into_iter().filter_map(read).collect()
}
