//! Whole pages moved, as pictures. That a page keeps its cards, and that a fixed binder costs
//! every card, is common practice, no source.

use std::ops::Range;

use ringbound::hand::{Cannot, PageMove, move_pages, move_pages_over};
use ringbound::model::{BinderId, BinderKind};

use crate::support::picture::{Picture, RINGS};

fn moved(picture: &Picture, run: Range<usize>, to: usize) -> String {
    let page_move = move_pages(&picture.collection, picture.ground, run, to);
    picture.after(page_move.map(|page_move| page_move.step))
}

fn told(picture: &Picture, run: Range<usize>, to: usize) -> PageMove {
    move_pages(&picture.collection, picture.ground, run, to).unwrap()
}

#[test]
fn a_page_of_a_ring_binder_goes_with_all_that_is_on_it() {
    let binder = Picture::rings("[1 2][3 -]{k}[(4) 5!]");
    assert_eq!(moved(&binder, 0..1, 3), "[3 -]{k}[(4) 5!][1 2]");
    assert_eq!(moved(&binder, 0..1, 1), "[3 -][1 2]{k}[(4) 5!]");
    assert_eq!(moved(&binder, 3..4, 0), "[(4) 5!][1 2][3 -]{k}");
    let step = told(&binder, 3..4, 1);
    assert_eq!(step.words, "page 4 becomes page 2: no card comes out");
    assert_eq!(step.step.label, "page 4 moved, now page 2");
    assert_eq!(step.cards, 0);
}

#[test]
fn a_run_of_pages_keeps_its_order() {
    let binder = Picture::rings("[1][2]{3}[4][5]");
    assert_eq!(moved(&binder, 1..3, 0), "[2]{3}[1][4][5]");
    assert_eq!(moved(&binder, 0..2, 3), "{3}[4][5][1][2]");
    assert_eq!(moved(&binder, 0..2, 1), "{3}[1][2][4][5]");
    assert_eq!(moved(&binder, 2..5, 1), "[1]{3}[4][5][2]");
    let step = told(&binder, 1..3, 0);
    assert_eq!(
        step.words,
        "pages 2 to 3 become pages 1 to 2: no card comes out"
    );
    assert_eq!(step.step.label, "pages 2 to 3 moved, now pages 1 to 2");
}

#[test]
fn the_pages_themselves_go_and_keep_their_identity() {
    let binder = Picture::rings("[1][2][3]");
    let before = binder.page_ids()[&BinderId(1)].clone();
    let step = told(&binder, 0..2, 1).step;
    let mut after = binder.collection.clone();
    ringbound::model::Change::apply_all(&step.changes, &mut after).unwrap();
    let ids: Vec<u32> = after
        .binder(BinderId(1))
        .unwrap()
        .pages()
        .iter()
        .map(|page| page.id().0)
        .collect();
    assert_eq!(ids, [before[2], before[0], before[1]]);
}

#[test]
fn what_is_no_move_is_refused_with_the_reason() {
    let binder = Picture::rings("[1][2][3]");
    for (run, to) in [
        (1..1, 0),
        (2..4, 0),
        (0..2, 2),
        (0..1, usize::MAX),
        (7..9, 0),
    ] {
        assert_eq!(moved(&binder, run, to), "no: there are no such pages");
    }
    assert_eq!(moved(&binder, 1..2, 1), "no: the page is there already");
}

/// The pages of contents and layout keep step, so that nothing becomes misplaced.
#[test]
fn a_layout_that_ends_before_the_binder_keeps_step() {
    assert_eq!(moved(&Picture::rings("[1][2][3!]^"), 2..3, 0), "[3!][1][2]");
    assert_eq!(
        moved(&Picture::rings("[1][2][3!]^[4!]^"), 0..1, 2),
        "[2][3!][1][4!]^"
    );
    assert_eq!(
        moved(&Picture::rings("[1][2!]^[3!]^"), 2..3, 1),
        "[1][3!]^[2!]^"
    );
    assert_eq!(
        moved(&Picture::rings("[1][2]<(3)>"), 1..2, 0),
        "[2][1]<(3)>"
    );
    assert_eq!(
        moved(&Picture::rings("[1][2!]~<(3) (4)>"), 1..2, 0),
        "[2!]~<(3) (4)>[1]"
    );
}

#[test]
fn in_a_fixed_binder_every_card_of_it_is_carried() {
    let binder = Picture::fixed("[1 2][3 .][. (5)]{7}");
    assert_eq!(moved(&binder, 0..1, 2), "[3 .][. (5)][1 2]{7}");
    assert_eq!(moved(&binder, 1..3, 0), "[3 .][. (5)][1 2]{7}");
    let step = told(&binder, 0..1, 2);
    assert_eq!(step.cards, 3);
    assert_eq!(
        step.words,
        "page 1 becomes page 3: the pages are fixed, 3 cards come out"
    );
    assert_eq!(
        step.step.label,
        "3 cards carried: what was on page 1 is on page 3 now"
    );
    let before = binder.page_ids();
    let mut after = Picture::fixed("[1 2][3 .][. (5)]{7}");
    ringbound::model::Change::apply_all(&step.step.changes, &mut after.collection).unwrap();
    assert_eq!(after.page_ids(), before);
    assert_eq!(
        moved(&binder, 0..1, 3),
        "no: the pages of this binder are fixed, and those in between have other pockets"
    );
    assert_eq!(
        moved(&Picture::fixed("[. .][. .]"), 0..1, 1),
        "no: the same is there already"
    );
}

#[test]
fn what_lies_in_front_in_a_shared_pocket_is_taken_out_too() {
    let binder = Picture::fixed("[1 # 2][1 # 3]");
    assert_eq!(moved(&binder, 0..1, 1), "[1 # 3][1 # 2]");
    // Two behind, and the two before them, though they are copies of one card.
    assert_eq!(told(&binder, 0..1, 1).cards, 4);
}

#[test]
fn in_a_draft_pages_move_and_the_cost_is_told() {
    let draft = Picture::draft("[1 2]{k}[3 4]");
    assert_eq!(moved(&draft, 0..1, 2), "{k}[3 4][1 2]");
    assert_eq!(
        told(&draft, 0..1, 2).step.label,
        "page 1 moved, now page 3, in draft “autumn”"
    );
    let fixed = Picture::drafted(BinderKind::Fixed, "[1 2][3 .]{5}");
    assert_eq!(moved(&fixed, 0..1, 1), "[3 .][1 2]{5}");
    let step = told(&fixed, 0..1, 1);
    assert_eq!(step.cards, 3);
    assert_eq!(
        step.words,
        "page 1 becomes page 2: the pages are fixed, 3 cards to take out"
    );
    assert_eq!(
        moved(&fixed, 0..1, 2),
        "no: the pages of this binder are fixed, and those in between have other pockets"
    );
}

fn over(picture: &Picture, run: Range<usize>, to: usize) -> String {
    let other = BinderId(2);
    let page_move = move_pages_over(&picture.collection, picture.ground, run, other, to);
    picture.after(page_move.map(|page_move| page_move.step))
}

#[test]
fn pages_go_into_another_ring_binder_with_their_meaning() {
    let two = Picture::rings("[1 2]{3}[(4) -] & [5][6]");
    assert_eq!(over(&two, 0..1, 1), "{3}[(4) -] & [5][1 2][6]");
    assert_eq!(over(&two, 1..3, 2), "[1 2] & [5][6]{3}[(4) -]");
    assert_eq!(over(&Picture::rings("[1] & "), 0..1, 0), " & [1]");
    let step = move_pages_over(&two.collection, two.ground, 1..3, BinderId(2), 0).unwrap();
    assert_eq!(
        step.words,
        "pages 2 to 3 into Fen 2, as page 1: no card comes out"
    );
    assert_eq!(step.step.label, "pages 2 to 3 moved into Fen 2, as page 1");
    let mut after = Picture::rings("[1 2]{3}[(4) -] & [5][6]");
    ringbound::model::Change::apply_all(&step.step.changes, &mut after.collection).unwrap();
    assert_eq!(after.page_ids()[&BinderId(2)], [101, 102, 200, 201]);
}

#[test]
fn pages_keep_step_with_the_layouts_of_both_binders() {
    // Pages that only a layout has stay behind what is there.
    assert_eq!(
        over(&Picture::rings("[1]<(2)> & [5]<(6)>"), 0..1, 1),
        "<(2)> & [5][1]<(6)>"
    );
    // A layout that ends before.
    assert_eq!(
        over(&Picture::rings("[1][2!]^ & [5][6]"), 1..2, 1),
        "[1] & [5][2!][6]"
    );
    assert_eq!(
        over(&Picture::rings("[1][2] & [5][6!]^"), 0..1, 2),
        "[2] & [5][6!][1]"
    );
    assert_eq!(
        over(&Picture::rings("[1!]^ & [5][6!]^"), 0..1, 2),
        " & [5][6!]^[1!]^"
    );
    assert_eq!(
        over(&Picture::rings("[1][2!]^ & [5!]^"), 0..2, 0),
        " & [1][2!][5!]^"
    );
}

#[test]
fn pages_that_cannot_go_into_another_binder_are_refused_with_the_reason() {
    let fixed = "no: the pages of a fixed binder cannot come out, and none can go in";
    for kinds in [[RINGS, BinderKind::Fixed], [BinderKind::Fixed, RINGS]] {
        assert_eq!(over(&Picture::real(&kinds, "[1] & [2]"), 0..1, 0), fixed);
    }
    let two = Picture::rings("[1] & [2]");
    assert_eq!(over(&two, 0..2, 0), "no: there are no such pages");
    assert_eq!(over(&two, 0..1, 2), "no: there are no such pages");
    let same = move_pages_over(&two.collection, two.ground, 0..1, BinderId(1), 0);
    assert_eq!(same.err(), Some(Cannot::SameBinder));
    let closed = Picture::rings("[1!]~<(1) .> & [2]");
    assert_eq!(
        over(&closed, 0..1, 0),
        "no: the layout has another page format there"
    );
    let draft = Picture::draft("[1]");
    let out = move_pages_over(&draft.collection, draft.ground, 0..1, BinderId(2), 0);
    assert_eq!(out.err(), Some(Cannot::DraftOfOneBinder));
}

#[test]
fn the_binder_that_pages_go_into_is_told_apart_from_another_of_its_title() {
    let mut two = Picture::rings("[1 2] & [5]");
    let mut title = |binder, title: &str| {
        let old = two.collection.binder(binder).unwrap().spec().clone();
        let mut new = old.clone();
        new.title = title.into();
        let edit = ringbound::model::Change::EditBinder {
            binder,
            old: Box::new(old),
            new: Box::new(new),
        };
        edit.apply(&mut two.collection).unwrap();
    };
    title(BinderId(1), "The Fen");
    title(BinderId(2), "The Fen");
    let name = two.collection.binder(BinderId(2)).unwrap().name();
    let step = move_pages_over(&two.collection, two.ground, 0..1, BinderId(2), 0).unwrap();
    let label = format!("page 1 moved into The Fen ({name}), as page 1");
    assert_eq!(step.step.label, label);
}
