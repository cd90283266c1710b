//! The price list, as the commands about supplies and the screen take it.

use std::fs::File;
use std::path::Path;

use super::args::PriceArgs;
use super::error::CliError;
use super::import::Source;
use super::open::Where;
use super::output::Output;
use crate::session::cannot_read;
use crate::store::csv::{CsvError, read_prices};
use crate::supplies::{Currency, PriceList};
use crate::text::count;

/// Where the price list lies in the folder of the collection.
const PRICES_FILE: &str = "prices.csv";

/// The price list that is named, or the one in the folder of the collection; `None` where there
/// is none.
pub(super) fn given(
    args: &PriceArgs,
    at: &Where,
    out: &mut Output,
) -> Result<Option<PriceList>, CliError> {
    let usual = at.dir.join(PRICES_FILE);
    let file = match args.prices.as_deref() {
        Some(file) => file,
        None if usual.is_file() => &usual,
        None => return Ok(None),
    };
    let source = Source::open(file, out)?;
    let mut list = PriceList::usually_in(at.settings.supplies.currency);
    let reading = read_prices(source.input, &mut list);
    source
        .name
        .judge(reading, args.skip_bad, "nothing was worked out", out)?;
    Ok(Some(list))
}

/// The price list in the folder of the collection, for the screen, which tells itself what could
/// not be taken.
pub(super) fn for_screen(folder: &Path, currency: Option<Currency>) -> (PriceList, Vec<String>) {
    let mut list = PriceList::usually_in(currency);
    let file = folder.join(PRICES_FILE);
    if !file.is_file() {
        return (list, Vec::new());
    }
    let read = File::open(&file).map_err(CsvError::from);
    let read = read.and_then(|input| read_prices(input, &mut list));
    let amiss = match read {
        Err(CsvError::Io(e)) => vec![cannot_read(PRICES_FILE, &e)],
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
        let read = || for_screen(folder.path(), None);
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
            for_screen(folder.path(), None).1
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
