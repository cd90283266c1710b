//! What is asked for, and narrowed: one shape for gaps, wants, waiting and spare copies.

use super::gaps::{Gap, gaps};
use super::loose::{spares, waiting};
use super::wants::{WantFilter, fits, wants};
use crate::model::{BinderId, Collection, Place, PocketAt, PrintingId, SetId};

/// Which list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Asked {
    #[default]
    Wants,
    Gaps,
    Waiting,
    Spares,
}

/// How a list is narrowed. Nothing said means all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ListFilter<'a> {
    pub set: Option<SetId>,
    /// The name of a finish, in any case, or its mark.
    pub finish: Option<&'a str>,
    /// The name of a rarity, in any case.
    pub rarity: Option<&'a str>,
    /// Only what has its pocket in this binder.
    pub binder: Option<BinderId>,
    /// Of wants: runs that are not collected too.
    pub all_runs: bool,
    /// Of spares: so many copies of each are kept.
    pub keep: u32,
}

/// A line of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Listed {
    pub printing: PrintingId,
    /// More than one only of spares.
    pub count: u32,
    /// The pocket that is meant for it.
    pub place: Option<Place>,
    /// Side, row and column of that pocket on its page.
    pub at: Option<PocketAt>,
}

/// The list in the order of a walk along the shelf, spares in that of the checklists.
#[must_use]
pub fn listed(collection: &Collection, asked: Asked, filter: ListFilter<'_>) -> Vec<Listed> {
    let narrow = WantFilter {
        set: filter.set,
        finish: filter.finish,
        rarity: filter.rarity,
        all_runs: filter.all_runs,
    };
    let of_gap = |gap: Gap| Listed {
        printing: gap.printing,
        count: 1,
        place: gap.place,
        at: gap.at,
    };
    let mut found: Vec<Listed> = match asked {
        Asked::Wants => wants(collection, narrow).into_iter().map(of_gap).collect(),
        Asked::Gaps => gaps(collection, filter.set)
            .into_iter()
            .map(of_gap)
            .collect(),
        Asked::Waiting => (waiting(collection, filter.set).into_iter())
            .map(|copy| Listed {
                printing: copy.printing,
                count: 1,
                place: copy.place,
                at: copy.at,
            })
            .collect(),
        Asked::Spares => (spares(collection, filter.set).into_iter())
            .filter(|spare| spare.count > filter.keep)
            .map(|spare| Listed {
                printing: spare.printing,
                count: spare.count - filter.keep,
                place: spare.place,
                at: spare.at,
            })
            .collect(),
    };
    found.retain(|row| is_asked_for(collection, row, filter));
    found
}

/// Whether a line of the whole list is on the narrowed one.
#[must_use]
pub fn is_asked_for(collection: &Collection, row: &Listed, filter: ListFilter<'_>) -> bool {
    let narrow = WantFilter {
        finish: filter.finish,
        rarity: filter.rarity,
        ..WantFilter::default()
    };
    let binder = row.place.map(|place| place.binder);
    (filter.set.is_none_or(|set| set == row.printing.set()))
        && (filter.binder.is_none() || filter.binder == binder)
        && fits(collection, row.printing, narrow)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::model::random::collections;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn narrowing_leaves_out_and_alters_nothing(collection in collections(), keep in 0u32..2) {
            let all = ListFilter { keep, ..ListFilter::default() };
            for asked in [Asked::Wants, Asked::Gaps, Asked::Waiting, Asked::Spares] {
                let whole = listed(&collection, asked, all);
                prop_assert!(whole.iter().all(|row| row.place.is_some() == row.at.is_some()));
                let by = |filter: ListFilter<'_>, fits: &dyn Fn(&Listed) -> bool| {
                    let right: Vec<_> = whole.iter().copied().filter(|row| fits(row)).collect();
                    prop_assert_eq!(listed(&collection, asked, filter), right);
                    Ok(())
                };
                by(ListFilter { set: Some(SetId(1)), ..all }, &|row| row.printing.set() == SetId(1))?;
                by(ListFilter { finish: Some("Reverse"), ..all }, &|row| row.printing.finish() == 1)?;
                by(ListFilter { rarity: Some("COMMON"), ..all }, &|row| {
                    collection.card(row.printing).unwrap().rarity == Some(0)
                })?;
                by(ListFilter { binder: Some(BinderId(1)), ..all }, &|row| {
                    row.place.is_some_and(|place| place.binder == BinderId(1))
                })?;
            }
        }

        #[test]
        fn kept_spares_and_listed_ones_are_all_spares(collection in collections(), keep in 0u32..3) {
            let list = |keep| listed(&collection, Asked::Spares, ListFilter {
                keep,
                ..ListFilter::default()
            });
            let kept: u32 = list(0).iter().map(|row| row.count.min(keep)).sum();
            let sum = |rows: Vec<Listed>| rows.iter().map(|row| row.count).sum::<u32>();
            prop_assert_eq!(sum(list(keep)) + kept, sum(list(0)));
        }
    }
}
