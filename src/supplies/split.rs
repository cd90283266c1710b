//! A set over two binders: where to divide it.

use std::collections::BTreeSet;

use super::thickness::{LayoutOf, Thickness};
use crate::layout::lay_out;
use crate::model::{Binder, Collection, Layout, LayoutPage};

/// A place to divide: the pages before it stay, the others go into a second binder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Split {
    /// Pages in the first binder.
    pub at: usize,
    /// Micrometres of both.
    pub thickness: (u32, u32),
    /// A section ends here. In a layout that was not made by sections: what stands on the pages
    /// is of another set or finish from here on, or on other pages.
    pub ends_section: bool,
    /// As the caller counts it.
    pub handling: u64,
}

impl Split {
    fn uneven(&self) -> u32 {
        self.thickness.0.abs_diff(self.thickness.1)
    }
}

/// The places that have something for them, where both parts close.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Splits {
    /// The two are as equally thick as can be.
    pub balanced: Option<Split>,
    /// At the end of a section, the two as equal as can be.
    pub at_section: Option<Split>,
    /// The least handling, of those the most equal.
    pub least_handling: Option<Split>,
}

/// Where to divide a binder so that both parts take at most `room` micrometres. `handling` is
/// what it takes to divide before a page. The front matter stays in the first.
#[must_use]
pub fn splits(
    collection: &Collection,
    binder: &Binder,
    of: LayoutOf,
    thickness: Thickness,
    room: u32,
    handling: impl Fn(usize) -> u64,
) -> Splits {
    let pages = of.pages(binder, thickness);
    let ends = ends(collection, binder, of.layout(binder));
    let thick = pages.iter().map(|(_, thick)| *thick);
    let all = thick.fold(0, u32::saturating_add);
    let leaves = binder.spec().front_matter.len() as u32 * thickness.leaf;
    let mut before = 0;
    let mut possible: Vec<Split> = Vec::new();
    for at in 1..pages.len() {
        before = u32::saturating_add(before, pages[at - 1].1);
        let split = Split {
            at,
            thickness: (before + leaves, all - before),
            ends_section: ends.contains(&at),
            handling: handling(at),
        };
        if split.thickness.0 <= room && split.thickness.1 <= room {
            possible.push(split);
        }
    }
    let possible = || possible.iter().copied();
    Splits {
        balanced: possible().min_by_key(|split| (split.uneven(), !split.ends_section)),
        at_section: (possible().filter(|split| split.ends_section)).min_by_key(Split::uneven),
        least_handling: possible().min_by_key(|split| (split.handling, split.uneven())),
    }
}

/// The pages before which a section ends and the next begins on a page of its own.
fn ends(collection: &Collection, binder: &Binder, layout: &Layout) -> BTreeSet<usize> {
    if !layout.sections.is_empty() {
        let laid = lay_out(collection, binder.spec().set, &layout.sections);
        // Pages that a hand put in or took out would shift the sections.
        if laid.pages.len() == layout.pages.len() {
            let mut ends = BTreeSet::new();
            let mut after = 0;
            for filled in laid.filled {
                let Some(first) = filled.first_page else {
                    continue;
                };
                if first >= after {
                    ends.insert(first);
                }
                after = after.max(first + filled.pages);
            }
            return ends;
        }
    }
    let pages = &layout.pages;
    (1..pages.len())
        .filter(|at| run(pages.get(at - 1)) != run(pages.get(*at)))
        .collect()
}

/// How many binders the pages fill one after the other, each with so many micrometres.
#[must_use]
pub fn binders(binder: &Binder, of: LayoutOf, thickness: Thickness, room: u32) -> u64 {
    let mut binders = 1;
    let mut filled = binder.spec().front_matter.len() as u32 * thickness.leaf;
    for (_, page) in of.pages(binder, thickness) {
        if filled > 0 && page > room.saturating_sub(filled) {
            binders += 1;
            filled = 0;
        }
        filled = u32::saturating_add(filled, page);
    }
    binders
}

/// What tells runs apart: set, finish and grid of a page, by its first card.
fn run(page: Option<&LayoutPage>) -> Option<impl PartialEq + use<>> {
    let page = page?;
    let format = page.format();
    let first = page.printings().next();
    let first = first.map(|(_, printing)| (printing.set(), printing.finish()));
    Some((
        format.rows,
        format.columns,
        format.sides,
        format.shared,
        first,
    ))
}
