//! What is told while pages are still to be moved follows the page, not the number it has today: a
//! card that goes to its place with its page is in place, and the gaps of that page are its own.

use std::borrow::Cow;

use super::open_work::OpenWork;
use crate::model::{Binder, BinderId, BinderTally, Collection, Layout, Meaning};

/// The collection to tell from. Where pages are to be moved, put in or taken out, its binder's
/// layout has each page at the position where the page that becomes it stands today; what a page
/// that is to be taken out holds is meant for nowhere, and pages that are still to be put in come
/// last. So places are those of today, and nothing waits for a gap that the move will fill.
///
/// Of all binders, or of one `only`.
#[must_use]
pub fn by_pages(collection: &Collection, only: Option<BinderId>) -> Cow<'_, Collection> {
    let mut told = Cow::Borrowed(collection);
    let asked = |binder: &&Binder| only.is_none_or(|only| only == binder.id());
    for binder in collection.shelf().filter(asked) {
        if let Some(layout) = layout_by_pages(binder) {
            told = Cow::Owned(told.into_owned().with_layout(binder.id(), layout));
        }
    }
    told
}

/// How far a binder is, told likewise. Where cards lie elsewhere than they should this takes a look
/// at every pocket, and where pages may move a plan.
#[must_use]
pub fn tally_by_pages(binder: &Binder) -> BinderTally {
    let tally = binder.tally();
    let Some(layout) = layout_by_pages(binder) else {
        return tally;
    };
    let pages = binder.pages().iter().zip(&layout.pages);
    let in_place = pages.map(|(page, meant)| {
        let cards = page.cards().iter().enumerate();
        let is_there = |(pocket, card): (usize, &Option<_>)| {
            card.is_some_and(|card| meant.meaning(pocket) == Meaning::Printing(card))
        };
        cards.filter(|card| is_there(*card)).count() as u32
    });
    BinderTally {
        in_place: in_place.sum(),
        ..tally
    }
}

/// How many pockets [`tally_by_pages`] looks at, at the most; none where every card lies in its
/// place, or no page moves.
#[must_use]
pub fn looked_at(binder: &Binder) -> usize {
    match may_lie_elsewhere(binder) {
        true => binder.tally().pockets as usize,
        false => 0,
    }
}

fn may_lie_elsewhere(binder: &Binder) -> bool {
    let tally = binder.tally();
    tally.filled != tally.in_place && binder.spec().kind.pages_move()
}

fn layout_by_pages(binder: &Binder) -> Option<Layout> {
    work_by_pages(binder)?.layout().cloned()
}

/// The page of the layout that each page becomes, where one of them stands elsewhere today.
pub(super) fn becomes(binder: &Binder) -> Option<Vec<Option<usize>>> {
    let work = work_by_pages(binder)?;
    work.layout().is_some().then(|| work.becomes())
}

fn work_by_pages(binder: &Binder) -> Option<OpenWork> {
    may_move(binder).then(|| OpenWork::of(binder))?
}

/// Whether letting every page stay could be less than the best. Where each page has at least as
/// many cards in place as others, no other place would have more of them in place, and the sum
/// over all pages cannot either.
fn may_move(binder: &Binder) -> bool {
    if !may_lie_elsewhere(binder) {
        return false;
    }
    (binder.pages().iter().enumerate()).any(|(at, page)| {
        let cards = page.cards().iter().enumerate();
        let held = cards.filter_map(|(pocket, card)| Some((pocket, (*card)?)));
        let (mut in_place, mut others) = (0, 0);
        for (pocket, card) in held {
            if binder.comparable(at) && binder.meaning(at, pocket) == Meaning::Printing(card) {
                in_place += 1;
            } else {
                others += 1;
            }
        }
        others > in_place
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::hand::{self, Ground};
    use crate::model::{Change, LayoutPage, Place, Step};
    use crate::plan::Cost;
    use crate::report;

    fn apply(collection: &mut Collection, step: &Step) {
        Change::apply_all(&step.changes, collection).unwrap();
    }

    /// The demo, where the layout now in force has pages of a binder elsewhere than they stand.
    fn reordered(moves: &[(usize, usize)]) -> (Collection, BinderId) {
        moved(demo::collection(), moves)
    }

    fn moved(mut collection: Collection, moves: &[(usize, usize)]) -> (Collection, BinderId) {
        let id = collection.binder_by_name("wood").unwrap();
        let step = hand::begin_draft(&collection, id, "moved", false).unwrap();
        apply(&mut collection, &step);
        let draft = Ground {
            binder: id,
            draft: Some(0),
        };
        for (from, to) in moves {
            let moved = hand::move_pages(&collection, draft, *from..from + 1, *to).unwrap();
            apply(&mut collection, &moved.step);
        }
        let step = hand::adopt(&collection, draft).unwrap();
        apply(&mut collection, &step);
        (collection, id)
    }

    /// What the collection is told to be: how far, what is missing and where, what waits and what
    /// is spare.
    fn told(collection: &Collection) -> String {
        let listed = |asked| report::listed(collection, asked, report::ListFilter::default());
        use report::Asked::{Gaps, Spares, Waiting, Wants};
        format!(
            "{:?}\n{:?}",
            report::completion(collection, None),
            [Gaps, Spares, Waiting, Wants].map(listed)
        )
    }

    /// Common practice, no source: to move a page changes nothing of what a collector lacks, and
    /// until it has been moved every pocket lies where it lay.
    #[test]
    fn pages_that_are_to_be_moved_make_no_gap_and_no_copy_wait() {
        let before = demo::collection();
        for moves in [&[(0, 33)][..], &[(33, 0)], &[(2, 0), (20, 5), (9, 30)]] {
            let (after, id) = reordered(moves);
            assert_ne!(told(&after), told(&before), "by the numbers of today");
            let by_pages = by_pages(&after, None);
            assert_eq!(told(&by_pages), told(&before), "{moves:?}");
            assert_eq!(by_pages.check(), Vec::new());
            let [was, is] = [&before, &after].map(|of| of.binder(id).unwrap());
            assert_eq!(tally_by_pages(is), was.tally());
            assert_eq!(by_pages.binder(id).unwrap().tally(), was.tally());
            for (page, real) in was.pages().iter().enumerate() {
                for pocket in 0..real.format().pockets() {
                    let place = Place {
                        binder: id,
                        page,
                        pocket,
                    };
                    assert_eq!(by_pages.pocket(place), before.pocket(place));
                }
            }
        }
    }

    #[test]
    fn a_card_that_comes_into_a_gap_of_a_page_to_be_moved_has_not_to_come_out_again() {
        let (mut after, id) = reordered(&[(0, 33)]);
        let cost = |of: &Collection| hand::cost(of, Ground::real(id)).unwrap();
        let before = cost(&after);
        let gaps = report::gaps(&by_pages(&after, Some(id)), None);
        let of_binder = gaps.iter().filter_map(|gap| gap.place);
        let places: Vec<_> = of_binder
            .filter(|place| place.binder == id)
            .take(40)
            .collect();
        assert_eq!(places.len(), 40);
        for place in places {
            let state = by_pages(&after, Some(id)).pocket(place);
            let step = hand::acquire(&after, place, &state).unwrap();
            apply(&mut after, &step);
        }
        let still = Cost {
            in_place: before.in_place,
            ..cost(&after)
        };
        assert_eq!(still, before);
    }

    /// However many pages a binder has: common practice, no source, as above.
    #[test]
    fn a_binder_of_more_than_a_thousand_pages_is_told_likewise() {
        let mut collection = demo::collection();
        let id = collection.binder_by_name("wood").unwrap();
        let format = collection.binder(id).unwrap().pages()[0].format();
        let pages: Vec<_> = collection.fresh_pages().take(1_200).collect();
        let further = pages.into_iter().zip(34..).flat_map(|(page, at)| {
            [
                Change::AddPage {
                    binder: id,
                    at,
                    page,
                    format,
                },
                Change::AddLayoutPage {
                    binder: id,
                    at,
                    page: Box::new(LayoutPage::empty(format)),
                },
            ]
        });
        let step = Step::new("many pages", further.collect());
        apply(&mut collection, &step);
        let before = told(&collection);
        let (after, _) = moved(collection, &[(0, 33)]);
        assert_ne!(told(&after), before, "by the numbers of today");
        assert_eq!(told(&by_pages(&after, None)), before);
    }

    #[test]
    fn where_no_page_is_to_be_moved_the_collection_itself_is_told() {
        assert!(matches!(
            by_pages(&demo::collection(), None),
            Cow::Borrowed(_)
        ));
    }

    #[test]
    fn cards_of_a_page_that_is_taken_out_are_meant_for_nowhere_on_it() {
        let mut collection = demo::collection();
        let id = collection.binder_by_name("wood").unwrap();
        let step = hand::begin_draft(&collection, id, "less", false).unwrap();
        apply(&mut collection, &step);
        let draft = Ground {
            binder: id,
            draft: Some(0),
        };
        let removed = hand::remove_page(&collection, draft, 0).unwrap();
        apply(&mut collection, &removed.step);
        let step = hand::adopt(&collection, draft).unwrap();
        apply(&mut collection, &step);
        let before = demo::collection();
        let told = by_pages(&collection, Some(id));
        for page in 0..34 {
            for pocket in 0..18 {
                let place = Place {
                    binder: id,
                    page,
                    pocket,
                };
                let is = told.pocket(place);
                match page {
                    0 => assert_eq!(is.wanted(), None),
                    _ => assert_eq!(is, before.pocket(place)),
                }
            }
        }
    }
}
