//! Measures, drafts and the price list, as the commands about supplies take them.

use std::path::Path;

use super::args::{MeasureArgs, PriceArgs, SleevesWord};
use super::error::CliError;
use super::import::Source;
use super::open;
use super::output::Output;
use crate::intake::hint;
use crate::model::{BinderId, Collection};
use crate::store::csv::read_prices;
use crate::supplies::{PriceList, Sleeves, Thickness, parse_micrometres};

/// Where the price list lies in the folder of the collection.
const PRICES_FILE: &str = "prices.csv";

pub(super) fn thickness(args: &MeasureArgs) -> Result<Thickness, CliError> {
    Ok(Thickness {
        card: length("--card-mm", &args.card_mm)?,
        film: length("--film-mm", &args.film_mm)?,
        sleeve: length("--sleeve-mm", &args.sleeve_mm)?,
        sleeves: match args.sleeves {
            SleevesWord::None => Sleeves::Bare,
            SleevesWord::One => Sleeves::One,
            SleevesWord::Two => Sleeves::Two,
        },
        ..Thickness::default()
    })
}

/// Micrometres of an option; at most 1 m, so that a binder's pages can be added up.
pub(super) fn length(option: &str, written: &str) -> Result<u32, CliError> {
    let read = parse_micrometres(written.trim()).filter(|length| *length <= 1_000_000);
    read.ok_or_else(|| {
        CliError::usage(format!(
            "{option} {written} is no length; write millimetres up to 1000, such as 0.3"
        ))
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
        let binder = open::binder(collection, binder.trim())?;
        let name = name.trim();
        let names = || binder.drafts().iter().map(|draft| draft.name.as_ref());
        let Some(at) = names().position(|known| known == name) else {
            let near = hint(name, names());
            let binder = binder.name();
            let why = format!("binder {binder} has no draft “{name}”{near}");
            return Err(CliError::usage(why));
        };
        if drafts.iter().any(|(known, _)| *known == binder.id()) {
            let why = format!("--draft names binder {} twice", binder.name());
            return Err(CliError::usage(why));
        }
        drafts.push((binder.id(), at));
    }
    Ok(drafts)
}

/// The price list that is named, or the one in the folder of the collection; `None` where there
/// is none.
pub(super) fn prices(
    args: &PriceArgs,
    folder: &Path,
    json: bool,
    out: &mut Output,
) -> Result<Option<PriceList>, CliError> {
    let usual = folder.join(PRICES_FILE);
    let file = match args.prices.as_deref() {
        Some(file) => file,
        None if usual.is_file() => &usual,
        None => return Ok(None),
    };
    let source = Source::open(file, json, out)?;
    let mut list = PriceList::default();
    let reading = read_prices(source.input, &mut list);
    source
        .name
        .judge(reading, args.skip_bad, "nothing was reckoned", json, out)?;
    Ok(Some(list))
}
