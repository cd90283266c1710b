//! Cards picked up and put down, as pictures: what the hands do at an open binder. What is
//! expected is common practice, no source, unless said otherwise.

use ringbound::hand::{Cannot, Foretold, Manner, to_back, to_front, to_page};
use ringbound::model::BinderKind;

use crate::support::picture::Picture;

fn rings(text: &str) -> Picture {
    Picture::rings(text)
}

#[test]
fn swapped_cards_take_their_meaning_along() {
    assert_eq!(rings("[1 2 .][3 - 5]").swap("1", "5"), "[5 2 .][3 - 1]");
    // Onto room, a gap, a blank and a keepsake, which go the other way.
    assert_eq!(rings("[1 2 .]").swap("1", "."), "[. 2 1]");
    assert_eq!(rings("[1 (2)]").swap("1", "(2)"), "[(2) 1]");
    assert_eq!(rings("[1 -]").swap("1", "-"), "[- 1]");
    assert_eq!(rings("[1 k]").swap("1", "k"), "[k 1]");
    // A gap, a blank and a keepsake are carried like a card.
    assert_eq!(rings("[1 (2)]").swap("(2)", "1"), "[(2) 1]");
    assert_eq!(rings("[- 2]").swap("-", "2"), "[2 -]");
    assert_eq!(rings("[k .]").swap("k", "."), "[. k]");
    // Finishes are cards of their own; rows and sides are one run of pockets.
    assert_eq!(
        rings("[1 1r / 2 3 | 4 . / . 5]").swap("1r", "5"),
        "[1 5 / 2 3 | 4 . / . 1r]"
    );
}

#[test]
fn a_run_is_swapped_pocket_by_pocket() {
    assert_eq!(rings("[1 2 3][4 5 6]").swap("1 2", "5"), "[5 6 3][4 1 2]");
    assert_eq!(rings("[1 2 3][4 5 6]").swap("2 3", "4"), "[1 4 5][2 3 6]");
    // As it is marked, in whatever order the pockets are named.
    assert_eq!(rings("[1 2 3][4 5 6]").swap("2 1", "5"), "[5 6 3][4 1 2]");
    assert_eq!(rings("[1 2 3][4 5 6]").swap("1 3", "5"), "[5 2 6][4 1 3]");
    assert_eq!(
        rings("[1 2 3]").swap("1 2", "3"),
        "no: there are not as many pockets from here on"
    );
    assert_eq!(
        rings("[1 2 3]").swap("1 2", "2"),
        "no: it would be put down on itself"
    );
    assert_eq!(
        rings("[1 2 3]").swap("1", "1"),
        "no: it would be put down on itself"
    );
}

#[test]
fn a_push_moves_the_others_along_to_the_next_room() {
    assert_eq!(rings("[1 2 .][. . 5]").push("5", "1"), "[5 1 2][. . .]");
    // No further than that.
    assert_eq!(rings("[1 . 3 .][5]").push("5", "1"), "[5 1 3 .][.]");
    // Nothing has to move where there is room.
    assert_eq!(rings("[1 . 3][5]").push("5", "."), "[1 5 3][.]");
    // Gaps are pushed like cards: their meaning is what stands there.
    assert_eq!(rings("[1 (2) .][5]").push("5", "1"), "[5 1 (2)][.]");
    // From page to page, side to side, row to row.
    assert_eq!(rings("[1 2][3 .][5]").push("5", "1"), "[5 1][2 3][.]");
    assert_eq!(rings("[1 2 | 3 .][5]").push("5", "1"), "[5 1 | 2 3][.]");
    assert_eq!(rings("[1 / 2 / .][5]").push("5", "1"), "[5 / 1 / 2][.]");
}

#[test]
fn a_push_goes_the_way_that_moves_fewer_others() {
    // Along 3, back 1.
    assert_eq!(rings("[. 2 3 4 .][6]").push("6", "2"), "[2 6 3 4 .][.]");
    assert_eq!(rings("[. 2 3 4 .][6]").push("6", "4"), "[. 2 3 6 4][.]");
    // As many either way: along.
    assert_eq!(rings("[. 2 .][6]").push("6", "2"), "[. 6 2][.]");
    // Its own pocket is the nearest room.
    assert_eq!(rings("[1 2 3 4]").push("1", "3"), "[2 3 1 4]");
    assert_eq!(rings("[1 2 3 4]").push("4", "2"), "[1 4 2 3]");
    // Onto the last pocket.
    assert_eq!(rings("[1 2 3 4]").push("1", "4"), "[2 3 4 1]");
    assert_eq!(rings("[1 2][3 .]").push("1", "."), "[. 2][3 1]");
}

#[test]
fn blanks_and_keepsakes_stay_when_others_are_pushed_past_them() {
    assert_eq!(rings("[1 - 2 k .][5]").push("5", "1"), "[5 - 1 k 2][.]");
    assert_eq!(rings("[. - 2 k 4][5 6]").push("5", "4"), "[. - 2 k 5][4 6]");
    assert_eq!(rings("[. - 2 k 4][. 6]").push("6", "4"), "[. - 2 k 6][4 .]");
    assert_eq!(rings("[. - 2 k 4]").push("4", "2"), "[. - 4 k 2]");
    assert_eq!(
        rings("[1 -][5]").push("5", "-"),
        "no: this pocket is left empty on purpose: swap with it, or make it free first"
    );
    assert_eq!(
        rings("[1 k][5]").push("5", "k"),
        "no: a keepsake is here: swap with it, or make the pocket free first"
    );
    // One that is carried itself gives way.
    assert_eq!(rings("[- 2 3]").push("-", "3"), "[2 3 -]");
}

#[test]
fn a_run_is_pushed_in_with_its_first_card_on_the_pocket_pointed_at() {
    assert_eq!(rings("[1 2 . .][5 6]").push("5 6", "1"), "[5 6 1 2][. .]");
    assert_eq!(rings("[1 2 . .][5 6]").push("5 6", "2"), "[1 5 6 2][. .]");
    assert_eq!(rings("[. . 3 4][5 6]").push("5 6", "3"), "[. . 5 6][3 4]");
    assert_eq!(
        rings("[. . 3 4][5 6][7 8]").push("7 8", "3"),
        "[3 4 7 8][5 6][. .]"
    );
    // By less than its own length.
    assert_eq!(rings("[1 2 3 4]").push("1 2", "2"), "[3 1 2 4]");
    assert_eq!(rings("[1 2 3 4]").push("3 4", "2"), "[1 3 4 2]");
    // Marked here and there, it comes together.
    assert_eq!(rings("[1 2 3 4]").push("1 3", "2"), "[2 1 3 4]");
    // Room within the run stays within it.
    assert_eq!(
        rings("[1 . 3][. . .][.]").push("1 @2 3", "@4"),
        "[. . .][1 . 3][.]"
    );
    assert_eq!(
        rings("[1 2 3 4]").push("1 2", "4"),
        "no: there are not as many pockets from here on"
    );
    assert_eq!(
        rings("[1 2 3]").push("1 2", "1"),
        "no: it lies there already"
    );
    assert_eq!(rings("[1 2 3]").push("2", "2"), "no: it lies there already");
}

#[test]
fn what_cannot_be_carried_is_refused_with_the_reason() {
    assert_eq!(
        rings("[1 .]").swap(".", "1"),
        "no: there is nothing to carry in this pocket"
    );
    assert_eq!(
        rings("[1]{2}").swap("1", "2"),
        "no: the pockets there are of another size"
    );
    assert_eq!(
        rings("[1]{2}").push("2", "1"),
        "no: the pockets there are of another size"
    );
    assert_eq!(
        rings("[1] & [2]").swap("1", "2"),
        "no: the card and the pocket are in different binders"
    );
    // The others go past the larger pockets, as they would on the shelf.
    assert_eq!(rings("[1 2]{.}[. 5]").push("5", "1"), "[5 1]{.}[2 .]");
    // A full one with no room to push to: a second copy from another page does not fit.
    assert_eq!(
        Picture::fixed("[1 2 3!4]").push("3!4", "1"),
        "no: there is no room to push the others to"
    );
    assert_eq!(
        rings("[1 1]").swap("@1", "@2"),
        "no: the same is there already"
    );
    assert_eq!(
        rings("[1 2]")
            .put("", "1", Manner::Swap)
            .map(|put| put.words),
        Err(Cannot::NothingInHand)
    );
}

#[test]
fn the_back_of_a_shared_pocket_is_refused_while_a_card_is_in_front_of_it() {
    const IN_THE_WAY: &str = "no: front and back share a pocket: the card in front is in the way";
    let page = rings("[1 . # 3 .][5]");
    assert_eq!(page.swap("3", "5"), IN_THE_WAY);
    assert_eq!(page.swap("5", "3"), IN_THE_WAY);
    // Nothing in front of this one.
    assert_eq!(page.swap("5", "@4"), "[1 . # 3 5][.]");
    // The one in front comes out as well.
    assert_eq!(page.swap("1", "3"), "[3 . # 1 .][5]");
    assert_eq!(rings("[1 # 3][5 6]").swap("1 3", "5"), "[5 # 6][1 3]");
    // A gap behind a card is only a word in the layout.
    assert_eq!(rings("[1 # (3)][.]").swap("(3)", "."), "[1 # .][(3)]");
    // Where each side has pockets of its own nothing is in the way.
    assert_eq!(rings("[1 . | 3 .][5]").swap("3", "5"), "[1 . | 5 .][3]");
}

/// On the real binder contents and meaning go together; what is misplaced already is not led any
/// further astray, nor does it drag the meaning of a pocket along that is not its own.
#[test]
fn a_misplaced_card_goes_alone_and_comes_home() {
    assert_eq!(rings("[9!4 (9)]").swap("9!4", "(9)"), "[(4) 9]");
    assert_eq!(rings("[9!4 (9)]").push("9!4", "(9)"), "[(4) 9]");
    assert_eq!(rings("[9!4 4!9]").swap("9!4", "4!9"), "[4 9]");
    assert_eq!(rings("[9!- .]").swap("9!-", "."), "[- 9!]");
    assert_eq!(rings("[9!4 (5)]").swap("9!4", "(5)"), "[(4) 9!5]");
    // One in its place is not made to lose it.
    assert_eq!(rings("[9!4 5]").swap("9!4", "5"), "[5 9!4]");
    assert_eq!(rings("[9!4 5 .]").push("9!4", "5"), "[(4) 9! 5]");
    assert_eq!(rings("[5 9!4]").swap("5", "9!4"), "[9!4 5]");
}

#[test]
fn the_layout_gets_a_page_where_it_has_none_and_another_kind_is_left_alone() {
    assert_eq!(rings("[1 2][.]^[.]^").swap("1", "@4"), "[. 2][.][1]");
    let other = rings("[1 2][3! .]~<(3)>");
    assert_eq!(
        other.swap("1", "."),
        "no: the layout has another page format there"
    );
    assert_eq!(
        other.push("1", "."),
        "no: the layout has another page format there"
    );
    // A card that is misplaced anyway can go from there.
    assert_eq!(
        rings("[1 .][3! .]~<(3)>").swap("3!", "."),
        "[1 3!][. .]~<(3)>"
    );
    assert_eq!(
        rings("[1 (3)][3! .]~<(3)>").swap("3!", "(3)"),
        "[1 3][. .]~<(3)>"
    );
    // Others are pushed past it.
    assert_eq!(
        rings("[1 2][. .]~<.>[. 5]").push("5", "1"),
        "[5 1][. .]~<.>[2 .]"
    );
    assert_eq!(
        rings("[1]<(2)>").put("1", "1", Manner::Swap).err(),
        Some(Cannot::OnItself)
    );
}

#[test]
fn in_a_draft_only_meanings_move() {
    let draft = Picture::draft("[1 2 .][3 - 5]");
    assert_eq!(draft.swap("1", "5"), "[5 2 .][3 - 1]");
    assert_eq!(draft.push("5", "1"), "[5 1 2][3 - .]");
    assert_eq!(Picture::draft("[1 # 3][5]").swap("3", "5"), "[1 # 5][3]");
    assert_eq!(
        Picture::draft("[1]{2}").swap("1", "2"),
        "no: the pockets there are of another size"
    );
    assert_eq!(
        Picture::drafted(BinderKind::Fixed, "[1 2]").swap("1", "2"),
        "[2 1]"
    );
}

fn far(
    picture: &Picture,
    run: &str,
    deed: fn(
        &ringbound::model::Collection,
        ringbound::hand::Ground,
        &[ringbound::model::Place],
    ) -> Result<Foretold, Cannot>,
) -> String {
    let run = picture.places(run);
    let put = deed(&picture.collection, picture.ground, &run);
    picture.after(put.map(|put| put.step))
}

#[test]
fn a_run_goes_to_the_front_and_the_others_move_along() {
    assert_eq!(
        far(&rings("[1 2 3][4 5 6]"), "5 6", to_front),
        "[5 6 1][2 3 4]"
    );
    assert_eq!(
        far(&rings("[- 2 3][4 . .]"), "4", to_front),
        "[- 4 2][3 . .]"
    );
    assert_eq!(far(&rings("{7}[1 2][3 .]"), "3", to_front), "{7}[3 1][2 .]");
    // What stands there already stays.
    assert_eq!(far(&rings("[1 2 3]"), "1 3", to_front), "[1 3 2]");
    assert_eq!(
        far(&rings("[1 2 3]"), "2 1", to_front),
        "no: it stands in front already"
    );
    assert_eq!(
        far(&rings("[- 2 3]"), "2", to_front),
        "no: it stands in front already"
    );
}

#[test]
fn a_run_goes_to_the_back_behind_the_last_card() {
    assert_eq!(
        far(&rings("[1 2 3][4 . .]"), "1 2", to_back),
        "[. . 3][4 1 2]"
    );
    // Where there is no room behind, the others move up.
    assert_eq!(far(&rings("[1 2 3 4]"), "1 2", to_back), "[3 4 1 2]");
    assert_eq!(far(&rings("[1 2 3][4 .]"), "1 2", to_back), "[. 3 4][1 2]");
    assert_eq!(far(&rings("[1 2 -]"), "1", to_back), "[2 1 -]");
    assert_eq!(far(&rings("[1 2]{7}"), "1", to_back), "[2 1]{7}");
    assert_eq!(
        far(&rings("[1 2 3 .]"), "2 3", to_back),
        "no: it stands at the back already"
    );
    assert_eq!(
        far(&rings("[1 2 3 .]"), ".", to_back),
        "no: there is nothing to carry in this pocket"
    );
}

#[test]
fn a_run_goes_to_a_page_from_its_first_pocket_on() {
    let onto = |text: &str, run: &str, page: usize| {
        let picture = rings(text);
        let run = picture.places(run);
        let put = to_page(&picture.collection, picture.ground, &run, page);
        picture.after(put.map(|put| put.step))
    };
    assert_eq!(onto("[1 2][3 .][. .]", "1 2", 1), "[. .][1 2][3 .]");
    assert_eq!(onto("[1 2][3 .][. 6]", "6", 1), "[1 2][6 3][. .]");
    assert_eq!(onto("[1 2][- 4][. .]", "1", 1), "[. 2][- 1][4 .]");
    assert_eq!(
        onto("[1 2]{7}", "1", 1),
        "no: the pockets there are of another size"
    );
    assert_eq!(
        onto("[1 2][- k]", "1", 1),
        "no: no pocket of this page takes a card"
    );
    assert_eq!(onto("[1 2]<(3)>", "1", 1), "no: there is no such page");
    assert_eq!(onto("[1 2]", "1", 0), "no: it lies there already");
}

/// The sentence is said beforehand, and stands in the list of what was done: "…. u takes it back."
#[test]
fn a_deed_is_told_in_words_beforehand() {
    let told = |picture: &Picture, from: &str, to: &str, manner| {
        let put = picture.put(from, to, manner).unwrap();
        assert!(put.step.label.ends_with(&put.words));
        put.words
    };
    let binder = rings("[1 2 . (4)][- k 9!8 (9)]");
    for (from, to, manner, words) in [
        (
            "1",
            ".",
            Manner::Push,
            "1 z Owl to page 1, front, row 1, pocket 3",
        ),
        (
            "1",
            "2",
            Manner::Swap,
            "1 z Owl to page 1, front, row 1, pocket 2, 2 y Owl the other way",
        ),
        (
            "1",
            "(4)",
            Manner::Swap,
            "1 z Owl to page 1, front, row 1, pocket 4, the gap for 4 w Owl the other way",
        ),
        (
            "1",
            "-",
            Manner::Swap,
            "1 z Owl to page 2, front, row 1, pocket 1, the blank the other way",
        ),
        (
            "k",
            ".",
            Manner::Swap,
            "a ticket to page 1, front, row 1, pocket 3",
        ),
        (
            "1 2",
            ".",
            Manner::Swap,
            "2 cards to page 1, front, row 1, pocket 3, the gap for 4 w Owl the other way",
        ),
        (
            "1 2 .",
            "-",
            Manner::Swap,
            "3 pockets to page 2, front, row 1, pocket 1, 3 others the other way",
        ),
        (
            "(4)",
            "2",
            Manner::Push,
            "the gap for 4 w Owl to page 1, front, row 1, pocket 2, 1 other pushed along",
        ),
        (
            "9!8",
            "(9)",
            Manner::Swap,
            "9 p Owl to page 2, front, row 1, pocket 4, where it belongs",
        ),
    ] {
        assert_eq!(told(&binder, from, to, manner), words);
    }
    let draft = Picture::draft("[1 2 . .]");
    let put = draft.put("2", "1", Manner::Push).unwrap();
    assert_eq!(
        put.words,
        "2 y Owl to page 1, front, row 1, pocket 1, 1 other pushed along"
    );
    // In the list of what was done it stands among the cards of all sets, and of all drafts.
    assert_eq!(
        put.step.label,
        "carried FEN 2 y Owl to page 1, front, row 1, pocket 1, 1 other pushed along, in draft “autumn”"
    );
    let label = |from| binder.put(from, "@3", Manner::Push).unwrap().step.label;
    assert_eq!(
        label("1"),
        "carried FEN 1 z Owl to page 1, front, row 1, pocket 3"
    );
    assert_eq!(
        label("1 2"),
        "carried 2 cards to page 1, front, row 1, pocket 3, 1 other pushed back"
    );
    assert_eq!(
        label("(4)"),
        "carried the gap for 4 w Owl to page 1, front, row 1, pocket 3"
    );
}
