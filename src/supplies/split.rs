//! A set over two binders: where to divide it.

use super::thickness::{LayoutOf, Thickness};
use crate::model::{Binder, LayoutPage};

/// A place to divide: the pages before it stay, the others go into a second binder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Split {
    /// Pages in the first binder.
    pub at: usize,
    /// Micrometres of both.
    pub thickness: (u32, u32),
    /// A run (a set in one finish, on one page format) ends here.
    pub ends_run: bool,
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
    /// At the end of a run, the two as equal as can be.
    pub at_run: Option<Split>,
    /// The least handling, of those the most equal.
    pub least_handling: Option<Split>,
}

/// Where to divide a binder so that both parts take at most `room` micrometres. `handling` is
/// what it takes to divide before a page. The front matter stays in the first.
#[must_use]
pub fn splits(
    binder: &Binder,
    of: LayoutOf,
    thickness: Thickness,
    room: u32,
    handling: impl Fn(usize) -> u64,
) -> Splits {
    let pages = of.pages(binder, thickness);
    let layout = &of.layout(binder).pages;
    let all: u32 = pages.iter().map(|(_, thick)| *thick).sum();
    let leaves = binder.spec().front_matter.len() as u32 * thickness.leaf;
    let mut before = 0;
    let mut possible: Vec<Split> = Vec::new();
    for at in 1..pages.len() {
        before += pages[at - 1].1;
        let split = Split {
            at,
            thickness: (before + leaves, all - before),
            ends_run: run(layout.get(at - 1)) != run(layout.get(at)),
            handling: handling(at),
        };
        if split.thickness.0 <= room && split.thickness.1 <= room {
            possible.push(split);
        }
    }
    let possible = || possible.iter().copied();
    Splits {
        balanced: possible().min_by_key(|split| (split.uneven(), !split.ends_run)),
        at_run: (possible().filter(|split| split.ends_run)).min_by_key(Split::uneven),
        least_handling: possible().min_by_key(|split| (split.handling, split.uneven())),
    }
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
