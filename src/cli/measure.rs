//! Measures and drafts, as the commands about supplies take them.

use super::args::{CountedArgs, MeasureArgs};
use super::error::CliError;
use super::named;
use crate::model::{Binder, BinderId, Collection};
use crate::supplies::{Choice, Thickness, parse_micrometres};

pub(super) fn thickness(args: &MeasureArgs) -> Result<Thickness, CliError> {
    Ok(Thickness {
        card: length("--card-mm", &args.card_mm, 20)?,
        film: length("--film-mm", &args.film_mm, 20)?,
        sleeve: length("--sleeve-mm", &args.sleeve_mm, 20)?,
        sleeves: args.sleeves,
        ..Thickness::default()
    })
}

/// Micrometres of an option, at most so many millimetres.
pub(super) fn length(option: &str, written: &str, most: u32) -> Result<u32, CliError> {
    let read = parse_micrometres(written.trim()).filter(|length| *length <= most * 1_000);
    read.ok_or_else(|| {
        CliError::usage(format!(
            "{option} {written} is no length; write millimetres up to {most}, such as 0.3"
        ))
    })
}

/// What is to be counted.
pub(super) fn choice(collection: &Collection, args: &CountedArgs) -> Result<Choice, CliError> {
    let only = args.binder.as_deref();
    let only = only
        .map(|name| named::binder(collection, name))
        .transpose()?;
    Ok(Choice {
        drafts: drafts(collection, &args.draft)?,
        only: only.map(Binder::id),
        anew: args.from_nothing,
        thickness: thickness(&args.measure)?,
    })
}

/// The drafts that `--draft BINDER=NAME` names.
pub(super) fn drafts(
    collection: &Collection,
    written: &[String],
) -> Result<Vec<(BinderId, usize)>, CliError> {
    let mut drafts: Vec<(BinderId, usize)> = Vec::new();
    for words in written {
        let Some((binder, name)) = words.split_once('=') else {
            let why = format!("--draft {words} names no draft");
            return Err(CliError::usage(why).hint("write BINDER=NAME: --draft \"FEN=rares first\""));
        };
        let binder = named::binder(collection, binder.trim())?;
        let at = named::draft(binder, name.trim())?;
        if drafts.iter().any(|(known, _)| *known == binder.id()) {
            let why = format!("--draft names binder {} twice", binder.name());
            return Err(CliError::usage(why));
        }
        drafts.push((binder.id(), at));
    }
    Ok(drafts)
}
