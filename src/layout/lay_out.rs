//! From rules to pages: who has which card, and what there is to tell.

use super::gather::{Gathered, Known, gather};
use super::pour::{Pins, Poured};
use super::told::Told;
use crate::model::{Collection, LayoutPage, Rules, SetId};

/// The pages that rules make.
#[derive(Clone, Debug, Default)]
pub struct LaidOut {
    pub pages: Vec<LayoutPage>,
    /// In the order of the sections, what no rule matches last.
    pub told: Vec<Told>,
    /// For each rule what it fills pockets with, in order: how many, and the first page and the
    /// pages that it has to do with.
    pub filled: Vec<Filled>,
}

/// What a section comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Filled {
    /// Cards or keepsakes.
    pub items: usize,
    /// The page on which it begins, from 0, if it has any pocket.
    pub first_page: Option<usize>,
    /// Pages on which it has a pocket; one that it shares counts for each.
    pub pages: usize,
}

impl LaidOut {
    /// Whether a rule has to be mended before a draft can be made.
    #[must_use]
    pub fn has_fault(&self) -> bool {
        self.told.iter().any(Told::is_fault)
    }
}

/// Lays a binder out by its rules; `own` is the set that rules speak of that name none.
#[must_use]
pub fn lay_out(collection: &Collection, own: Option<SetId>, rules: &Rules) -> LaidOut {
    let gathered = gather(collection, own, rules, &Known::default());
    gathered.finish(gathered.pour(|_| false, &Pins::new()))
}

impl Gathered {
    pub(super) fn finish(&self, poured: Poured) -> LaidOut {
        let mut told = self.told.clone();
        let moved = poured.on_new_page.iter();
        told.extend(moved.map(|section| Told::OnNewPage { section: *section }));
        told.sort_by_key(|told| told.section().unwrap_or(usize::MAX));
        let mut filled = vec![Filled::default(); self.items.len()];
        for (number, spots) in poured.spots.iter().enumerate() {
            let mut seen = None;
            for spot in spots {
                if seen == Some(spot.section) {
                    continue;
                }
                seen = Some(spot.section);
                if let Some(filled) = filled.get_mut(spot.section) {
                    filled.first_page.get_or_insert(number);
                    filled.pages += 1;
                }
            }
        }
        for (filled, items) in filled.iter_mut().zip(&self.items) {
            filled.items = items.len();
        }
        LaidOut {
            pages: poured.pages,
            told,
            filled,
        }
    }
}
