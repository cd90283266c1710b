//! Runs put in order, and a rarity gathered in front, as pictures. The numbers stand in natural
//! order (7 < 12 < 12a), the names run backwards, 3, 6 and 9 are rare and 8 has no rarity.

use ringbound::hand::{Behind, gather, sort, turn_round};
use ringbound::layout::Order;
use ringbound::model::{BinderKind, SetId};

use crate::support::picture::Picture;

fn turned(picture: &Picture, run: &str) -> String {
    let run = picture.places(run);
    picture.after(turn_round(&picture.collection, picture.ground, &run))
}

fn sorted(picture: &Picture, run: &str, by: Order) -> String {
    let run = picture.places(run);
    picture.after(sort(&picture.collection, picture.ground, &run, by))
}

#[test]
fn marked_cards_are_turned_round_and_what_is_no_card_stays() {
    let binder = Picture::rings("[1 - (2)][. 4 k]");
    assert_eq!(turned(&binder, "1 (2) 4"), "[4 - (2)][. 1 k]");
    assert_eq!(turned(&binder, "1 - (2) . 4 k"), "[4 - (2)][. 1 k]");
    assert_eq!(turned(&binder, "(2) 4"), "[1 - 4][. (2) k]");
    assert_eq!(turned(&Picture::draft("[1 2][3]"), "3 1 2"), "[3 2][1]");
    assert_eq!(turned(&binder, "1 -"), "no: mark two cards or more first");
    assert_eq!(turned(&binder, ""), "no: mark two cards or more first");
    assert_eq!(
        turned(&Picture::rings("[1]{2}"), "1 2"),
        "no: the pockets there are of another size"
    );
    assert_eq!(
        turned(&Picture::rings("[1 1]"), "@1 @2"),
        "no: the cards are in this order already"
    );
    let run = binder.places("1 - (2)");
    let put = turn_round(&binder.collection, binder.ground, &run).unwrap();
    let told = "1 card and 1 gap put in the opposite order";
    assert_eq!(put.step.label, told);
    let words = "put what is marked, 1 card and 1 gap, in the opposite order";
    assert_eq!(put.words, words);
}

#[test]
fn a_run_is_sorted_by_what_is_asked_for() {
    let binder = Picture::rings("[12a 9 12 3][10 - 8 6]");
    let all = "12a 9 12 3 10 - 8 6";
    for (by, after) in [
        (Order::Number, "[3 6 8 9][10 - 12 12a]"),
        // Backwards through the checklist.
        (Order::Name, "[10 9 12a 12][8 - 6 3]"),
        (Order::Rarity, "[10 12 12a 3][6 - 9 8]"),
        (Order::Checklist, "[3 6 8 12][12a - 9 10]"),
    ] {
        assert_eq!(sorted(&binder, all, by), after, "{by:?}");
    }
    // A part of it.
    assert_eq!(
        sorted(&binder, "12a 12 3", Order::Number),
        "[3 9 12 12a][10 - 8 6]"
    );
    let done = Picture::rings("[1 2]");
    assert_eq!(
        sorted(&done, "1 2", Order::Number),
        "no: the cards are in this order already"
    );
    let run = binder.places(all);
    let put = sort(&binder.collection, binder.ground, &run, Order::Rarity).unwrap();
    assert_eq!(put.words, "sort the 7 marked cards by rarity");
    assert_eq!(put.step.label, "7 cards sorted by rarity");
}

#[test]
fn sets_stand_by_themselves_and_finishes_side_by_side() {
    let binder = Picture::rings("[b2 3r 3][b1 1 (2)]");
    assert_eq!(
        sorted(&binder, "b2 3r 3 b1 1 (2)", Order::Number),
        "[1 (2) 3][3r b1 b2]"
    );
    let draft = Picture::draft("[b2 3r 3]");
    assert_eq!(sorted(&draft, "b2 3r 3", Order::Rarity), "[3 3r b2]");
}

#[test]
fn the_rares_come_to_the_front_on_pages_of_their_own() {
    let draft = Picture::draft("[1 3 k][6 2 -][3r 4 .]");
    let step = gather(
        &draft.collection,
        draft.ground,
        SetId(0),
        1,
        Behind::LeftFree,
    );
    let label = step.clone().map(|step| step.label);
    assert_eq!(
        label.as_deref(),
        Ok("3 cards (rare) gathered in front, in draft “autumn”")
    );
    assert_eq!(draft.after(step), "[3 6 3r][1 . k][. 2 -][. 4 .]");
    // Twice is once.
    let again = Picture::draft("[3 6 3r][1 . k][. 2 -][. 4 .]");
    assert_eq!(
        again.after(gather(
            &again.collection,
            again.ground,
            SetId(0),
            1,
            Behind::LeftFree
        )),
        "no: they stand in front already"
    );
    // A page that does not get full, and each size on its own.
    let sizes = Picture::draft("[1 3 6]{9}[6r 3r 4]");
    assert_eq!(
        sizes.after(gather(
            &sizes.collection,
            sizes.ground,
            SetId(0),
            1,
            Behind::LeftFree
        )),
        "[3 6 6r][3r . .]{9}[1 . .]{.}[. . 4]"
    );
}

#[test]
fn what_stood_behind_the_gathered_moves_up_as_far_as_the_next_room() {
    let closed = |text: &str| {
        let draft = Picture::draft(text);
        let step = gather(
            &draft.collection,
            draft.ground,
            SetId(0),
            1,
            Behind::ClosedUp,
        );
        draft.after(step)
    };
    assert_eq!(closed("[1 3 2][6 4 5]"), "[3 6 .][1 2 4][5 . .]");
    // A run that begins behind room begins there still; blanks and keepsakes stay.
    assert_eq!(closed("[1 3 2 .][6 - 4 k]"), "[3 6 . .][1 2 . .][4 - . k]");
    // A page on which nothing is left goes; one that was empty before stays.
    assert_eq!(closed("[1 2][3 6][. .][4 -]"), "[3 6][1 2][. .][4 -]");
    assert_eq!(closed("[1 3 2]{9}[6 4 .]"), "[3 6 .]{9}[1 2 4]");
    assert_eq!(closed("[3 6][1 2]"), "no: they stand in front already");
}

#[test]
fn in_a_fixed_binder_they_go_to_the_first_pockets() {
    for behind in [Behind::LeftFree, Behind::ClosedUp] {
        let draft = Picture::drafted(BinderKind::Fixed, "[1 - 3][2 6 4][. k 9]");
        let step = gather(&draft.collection, draft.ground, SetId(0), 1, behind);
        assert_eq!(draft.after(step), "[3 - 6][9 1 2][4 k .]");
    }
    let draft = Picture::drafted(BinderKind::Fixed, "[3 - 6][9 1 2]");
    assert_eq!(
        draft.after(gather(
            &draft.collection,
            draft.ground,
            SetId(0),
            1,
            Behind::LeftFree
        )),
        "no: they stand in front already"
    );
}

#[test]
fn a_rarity_is_one_of_its_set() {
    // The second rarity of the other set is another one.
    let draft = Picture::draft("[1 b1 3]");
    assert_eq!(
        draft.after(gather(
            &draft.collection,
            draft.ground,
            SetId(0),
            1,
            Behind::LeftFree
        )),
        "[3 . .][1 b1 .]"
    );
    let other = gather(
        &draft.collection,
        draft.ground,
        SetId(1),
        1,
        Behind::LeftFree,
    );
    assert_eq!(draft.after(other), "[b1 . .][1 . 3]");
    let none = gather(
        &draft.collection,
        draft.ground,
        SetId(1),
        0,
        Behind::LeftFree,
    );
    assert_eq!(
        draft.after(none),
        "no: no card of that rarity has a pocket here"
    );
    let real = Picture::rings("[1 3]");
    assert_eq!(
        real.after(gather(
            &real.collection,
            real.ground,
            SetId(0),
            1,
            Behind::LeftFree
        )),
        "no: gather in a draft; adopting it gives the work sheet"
    );
}
