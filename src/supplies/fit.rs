//! Does a binder close over its pages.

use super::rings::{Rings, Room, USUAL_RINGS, room};
use super::thickness::{LayoutOf, Thickness, sheets};
use crate::model::{Binder, Page, PageFormat, RingShape, SetId};

/// Whether it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// With room left for the pages to turn.
    Closes,
    /// It may close; how much rings take is not known well enough to say.
    Tight,
    /// The stack is thicker than the rings are wide.
    DoesNotClose,
    /// The size of the rings is not known.
    Unknown,
    /// Pages are fixed, and they are the ones that are meant.
    Fixed,
    /// Pages are fixed, and so many that are meant are not there, or of another format.
    FixedLacks(usize),
}

/// What fits where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    pub pages: usize,
    /// Pages and front matter with all that is in them, in micrometres.
    pub thickness: u32,
    pub rings: Option<Rings>,
    pub room: Option<Room>,
    pub verdict: Verdict,
    /// Pages as thick as these are on average that go in: surely, and at most.
    pub takes: Option<(u32, u32)>,
    /// The smallest usual rings in which all of it surely closes, round and D.
    pub wants: (Option<u16>, Option<u16>),
}

/// The fit of one binder. `usable` is the depth that the collector has measured between the
/// covers, in micrometres; it takes the place of the estimate.
#[must_use]
pub fn fit(binder: &Binder, of: LayoutOf, thickness: Thickness, usable: Option<u32>) -> Fit {
    let pages = of.pages(binder, thickness);
    let leaves = binder.spec().front_matter.len() as u32 * thickness.leaf;
    let kind = binder.spec().kind;
    let mut fit = stack(&pages, leaves, Rings::of(kind), usable);
    if !kind.pages_move() {
        let there = binder.pages();
        let same = |(at, (format, _)): (usize, &(PageFormat, u32))| {
            let real = there.get(at).map(Page::format);
            real.is_some_and(|real| real.same_grid(format))
        };
        let lacks = pages.iter().enumerate().filter(|page| !same(*page)).count();
        fit.verdict = match lacks {
            0 => Verdict::Fixed,
            lacks => Verdict::FixedLacks(lacks),
        };
        fit.room = None;
        fit.takes = None;
        fit.wants = (None, None);
    }
    fit
}

/// The fit of all these together in one binder with rings.
#[must_use]
pub fn fit_together(
    binders: &[(&Binder, LayoutOf)],
    thickness: Thickness,
    rings: Option<Rings>,
    usable: Option<u32>,
) -> Fit {
    let pages: Vec<_> = (binders.iter())
        .flat_map(|(binder, of)| of.pages(binder, thickness))
        .collect();
    let leaves = binders
        .iter()
        .map(|(binder, _)| binder.spec().front_matter.len() as u32);
    stack(&pages, leaves.sum::<u32>() * thickness.leaf, rings, usable)
}

fn stack(
    pages: &[(PageFormat, u32)],
    leaves: u32,
    rings: Option<Rings>,
    usable: Option<u32>,
) -> Fit {
    let thick = pages.iter().map(|(_, thick)| *thick);
    let paper = thick.fold(0, u32::saturating_add);
    let thickness = paper.saturating_add(leaves);
    let room = usable.map(Room::measured).or(rings.map(room));
    let verdict = match room {
        None => Verdict::Unknown,
        Some(room) if thickness <= room.sure => Verdict::Closes,
        Some(room) if thickness <= room.most => Verdict::Tight,
        Some(_) => Verdict::DoesNotClose,
    };
    // Rounded up: so that as many as are told do go in.
    let average = paper.div_ceil((pages.len() as u32).max(1));
    let number = |depth: u32| sheets(depth.saturating_sub(leaves), average);
    let takes = room.and_then(|room| number(room.sure).zip(number(room.most)));
    Fit {
        pages: pages.len(),
        thickness,
        rings,
        room,
        verdict,
        takes,
        wants: (
            smallest(thickness, RingShape::Round),
            smallest(thickness, RingShape::D),
        ),
    }
}

/// The smallest usual rings that surely take a stack.
fn smallest(thickness: u32, shape: RingShape) -> Option<u16> {
    let takes = |size: &u16| room(Rings { size: *size, shape }).sure >= thickness;
    USUAL_RINGS.into_iter().find(takes)
}

/// What one set has of a binder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    pub set: SetId,
    /// Pockets that are meant for a card of it.
    pub pockets: usize,
    /// Pages with such a pocket.
    pub pages: usize,
}

/// The sets that live in a binder, in the order in which they begin.
#[must_use]
pub fn shares(binder: &Binder, of: LayoutOf) -> Vec<Share> {
    let mut shares: Vec<Share> = Vec::new();
    let mut last_page: Vec<usize> = Vec::new();
    for (at, page) in of.layout(binder).pages.iter().enumerate() {
        for (_, printing) in page.printings() {
            let set = printing.set();
            let known = shares.iter().position(|share| share.set == set);
            let known = known.unwrap_or_else(|| {
                shares.push(Share {
                    set,
                    pockets: 0,
                    pages: 0,
                });
                last_page.push(usize::MAX);
                shares.len() - 1
            });
            shares[known].pockets += 1;
            if last_page[known] != at {
                shares[known].pages += 1;
                last_page[known] = at;
            }
        }
    }
    shares
}
