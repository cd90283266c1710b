//! What the binders, pages and cards of a plan are called.

use std::collections::HashMap;

use crate::model::{Collection, PrintingId};
use crate::plan::task::{Card, Grid};
use crate::plan::{At, PageNumber, Target, WorkSheet};
use crate::report::{binder_words, printing_words};

/// Who reads the names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadBy {
    Person,
    Program,
}

/// By number, as the plan speaks of them.
#[derive(Clone, Debug)]
pub struct Names {
    pub binders: Vec<String>,
    pages: Vec<String>,
    grids: Vec<Grid>,
    /// By printing, from 1.
    printings: Vec<String>,
    layouts: Vec<Vec<Grid>>,
}

impl Names {
    /// Names that are given: of binders, of pages with their grids, of printings by their number
    /// (from 1), and the grids of the layout's pages by binder.
    #[must_use]
    pub fn new(
        binders: Vec<String>,
        pages: Vec<String>,
        grids: Vec<Grid>,
        printings: Vec<String>,
        layouts: Vec<Vec<Grid>>,
    ) -> Self {
        Self {
            binders,
            pages,
            grids,
            printings,
            layouts,
        }
    }

    /// For a program a printing is `CODE:number finish`, the first finish not named; for a
    /// person it is told in words, with the code where the sheet holds cards of several sets.
    #[must_use]
    pub fn of_collection(
        collection: &Collection,
        targets: &[Target<'_>],
        sheet: &WorkSheet,
        read_by: ReadBy,
    ) -> Self {
        let printings: Vec<PrintingId> = (1..).map_while(|card| sheet.printing(card)).collect();
        let mixed = printings
            .windows(2)
            .any(|pair| pair[0].set() != pair[1].set());
        let name = |printing: &PrintingId| {
            let code = collection.set(printing.set()).map_or("", |set| set.code());
            if read_by == ReadBy::Program {
                return token(collection, *printing, code);
            }
            let words = printing_words(collection, *printing);
            if mixed {
                format!("{code} {words}")
            } else {
                words
            }
        };
        let targets = targets.iter().rev();
        let layouts: HashMap<_, _> = targets.map(|to| (to.binder, to.layout)).collect();
        let binders = sheet.binders.iter().filter_map(|id| collection.binder(*id));
        Self {
            binders: binders
                .map(|binder| match read_by {
                    ReadBy::Program => binder.name().into(),
                    ReadBy::Person => binder_words(collection, binder.id()),
                })
                .collect(),
            pages: (sheet.pages.iter())
                .map(|(page, _)| page.to_string())
                .collect(),
            grids: (sheet.pages.iter())
                .map(|(_, format)| Grid::from(*format))
                .collect(),
            printings: printings.iter().map(name).collect(),
            layouts: (sheet.binders.iter())
                .map(|id| {
                    let layout = layouts.get(id);
                    let pages = layout.map_or(&[][..], |layout| &layout.pages);
                    pages.iter().map(|page| page.format().into()).collect()
                })
                .collect(),
        }
    }

    #[must_use]
    pub fn printing(&self, card: Card) -> &str {
        let at = (card as usize).checked_sub(1);
        at.and_then(|at| self.printings.get(at))
            .map_or("", String::as_str)
    }

    #[must_use]
    pub fn page(&self, page: PageNumber) -> &str {
        &self.pages[page]
    }

    #[must_use]
    pub fn grid(&self, page: PageNumber) -> Grid {
        self.grids[page]
    }

    /// The grid of a page of the layout.
    #[must_use]
    pub fn layout(&self, (binder, page): At) -> Grid {
        self.layouts[binder][page]
    }
}

fn token(collection: &Collection, printing: PrintingId, code: &str) -> String {
    let Some(set) = collection.set(printing.set()) else {
        return String::new();
    };
    let number = set.card(printing.card()).map_or("", |card| &card.number);
    match set.finishes().get(usize::from(printing.finish())) {
        Some(finish) if printing.finish() > 0 => format!("{code}:{number} {}", finish.name),
        _ => format!("{code}:{number}"),
    }
}
