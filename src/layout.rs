//! Layouts made from rules: so far the default one, a run for each finish.

use crate::model::{LayoutPage, Meaning, PageFormat, PrintingId};

/// Pages of one format filled with the printings in their order, a pocket each, front then back.
#[must_use]
pub fn run(format: PageFormat, printings: &[PrintingId]) -> Vec<LayoutPage> {
    printings
        .chunks(format.pockets().max(1))
        .map(|chunk| {
            let mut page = LayoutPage::empty(format);
            for (at, printing) in chunk.iter().enumerate() {
                page.set_meaning(at, Meaning::Printing(*printing));
            }
            page
        })
        .collect()
}
