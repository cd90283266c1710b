//! Measures, drafts and the price list, as the commands about supplies take them.

use std::fs::File;
use std::path::Path;

use super::args::{CountedArgs, MeasureArgs, PriceArgs, SleevesWord};
use super::error::CliError;
use super::import::Source;
use super::open::{self, Where};
use super::output::Output;
use crate::intake::hint;
use crate::model::{Binder, BinderId, Collection};
use crate::session::unread;
use crate::store::csv::{CsvError, read_prices};
use crate::supplies::{Choice, Currency, PriceList, Sleeves, Thickness, parse_micrometres};
use crate::text::count;

/// Where the price list lies in the folder of the collection.
const PRICES_FILE: &str = "prices.csv";

pub(super) fn thickness(args: &MeasureArgs) -> Result<Thickness, CliError> {
    Ok(Thickness {
        card: length("--card-mm", &args.card_mm, 20)?,
        film: length("--film-mm", &args.film_mm, 20)?,
        sleeve: length("--sleeve-mm", &args.sleeve_mm, 20)?,
        sleeves: match args.sleeves {
            SleevesWord::None => Sleeves::Bare,
            SleevesWord::One => Sleeves::One,
            SleevesWord::Two => Sleeves::Two,
        },
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
        .map(|name| open::binder(collection, name))
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
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<Option<PriceList>, CliError> {
    let usual = at.dir.join(PRICES_FILE);
    let file = match args.prices.as_deref() {
        Some(file) => file,
        None if usual.is_file() => &usual,
        None => return Ok(None),
    };
    let source = Source::open(file, json, out)?;
    let mut list = PriceList::usually_in(at.settings.supplies.currency);
    let reading = read_prices(source.input, &mut list);
    source
        .name
        .judge(reading, args.skip_bad, "nothing was worked out", json, out)?;
    Ok(Some(list))
}

/// The price list in the folder of the collection, for the screen, which tells itself what could
/// not be taken.
pub(super) fn prices_for_screen(
    folder: &Path,
    currency: Option<Currency>,
) -> (PriceList, Vec<String>) {
    let mut list = PriceList::usually_in(currency);
    let file = folder.join(PRICES_FILE);
    if !file.is_file() {
        return (list, Vec::new());
    }
    let read = File::open(&file).map_err(CsvError::from);
    let read = read.and_then(|input| read_prices(input, &mut list));
    let amiss = match read {
        Err(CsvError::Io(e)) => vec![unread(PRICES_FILE, &e)],
        Err(e) => vec![e.told(PRICES_FILE)],
        Ok(reading) => {
            let problems = reading.problems.iter();
            let mut amiss: Vec<_> = problems
                .map(|problem| format!("{PRICES_FILE}, {problem}"))
                .collect();
            let further = reading.bad - reading.problems.len() as u64;
            if further > 0 {
                let further = count(further, "further bad row", "further bad rows");
                amiss.push(format!("{PRICES_FILE}: and {further}"));
            }
            amiss
        }
    };
    (list, amiss)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::supplies::Item;

    #[test]
    fn the_screen_gets_the_price_list_of_the_folder_and_what_is_wrong_with_it() {
        let folder = tempfile::tempdir().unwrap();
        let read = || prices_for_screen(folder.path(), None);
        let offers = |list: &PriceList| list.offers(Item::read("page 3x3 clear").unwrap()).len();
        let (list, amiss) = read();
        assert_eq!((offers(&list), amiss.len()), (0, 0), "there is none");
        let file = folder.path().join(PRICES_FILE);
        let rows = "item,size,price,currency\npage,3x3 clear,1.00,EUR\npage,3x3,1.00,EUR\n";
        std::fs::write(&file, rows).unwrap();
        let (list, amiss) = read();
        assert_eq!(offers(&list), 1);
        assert!(amiss[0].starts_with("prices.csv, line 3, column 2 (size): "));
        std::fs::write(&file, "").unwrap();
        let (list, amiss) = read();
        assert_eq!((offers(&list), amiss.len()), (0, 1));
    }

    #[test]
    fn the_screen_is_told_of_semicolons_and_of_how_many_more_rows_are_bad() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(PRICES_FILE);
        let told = |rows: &str| {
            std::fs::write(&file, rows).unwrap();
            prices_for_screen(folder.path(), None).1
        };
        let amiss = told("item;size;price;currency\npage;3x3 clear;1.00;EUR\n");
        assert!(
            amiss[0].contains("separated by semicolons: save the file with commas"),
            "{amiss:?}"
        );
        let amiss = |rows| {
            let bad = "page,3x3,1.00,EUR\n".repeat(rows);
            told(&format!("item,size,price,currency\n{bad}"))
        };
        let many = amiss(100);
        assert_eq!(many.len(), 100, "all that are kept");
        let more = amiss(103);
        assert_eq!(more.len(), 101);
        assert_eq!(more[100], "prices.csv: and 3 further bad rows");
    }
}
