//! Pages put in, taken out and changed; pockets given a meaning; room made and filled: as
//! pictures. What is expected is common practice, no source, unless said otherwise.

use ringbound::hand::{Cannot, Foretold, Manner};
use ringbound::hand::{
    blank, change_format, fill, insert_page, keepsake, leave_room, make_free, put_down, remove_page,
};
use ringbound::model::{BinderKind, PageFormat, Step};

use crate::support::picture::{Picture, RINGS};

/// Pockets of the size of those in `[ ]`.
fn format(rows: u8, columns: u8, sides: u8) -> PageFormat {
    PageFormat {
        pocket_width: 640,
        pocket_height: 890,
        ..PageFormat::new(rows, columns, sides)
    }
}

fn insert(picture: &Picture, at: usize, format: PageFormat) -> Result<Foretold, Cannot> {
    insert_page(&picture.collection, picture.ground, at, format)
}

fn remove(picture: &Picture, at: usize) -> Result<Foretold, Cannot> {
    remove_page(&picture.collection, picture.ground, at)
}

fn change(picture: &Picture, at: usize, format: PageFormat) -> Result<Step, Cannot> {
    change_format(&picture.collection, picture.ground, at, format)
}

/// The picture afterwards, and the label.
#[track_caller]
fn does(picture: &Picture, step: Result<impl Into<Step>, Cannot>, after: &str, label: &str) {
    let step = step.map(Into::into);
    let told = step.clone().map(|step| step.label);
    assert_eq!(picture.after(step), after);
    assert_eq!(told.as_deref(), Ok(label));
}

const FIXED: &str = "no: the pages of this binder are fixed";

#[test]
fn a_page_is_put_in_anywhere_and_pushes_no_card_out_of_its_pocket() {
    let binder = Picture::rings("[1 2][3 9!4]");
    let f = format(1, 2, 1);
    does(
        &binder,
        insert(&binder, 0, f),
        "[. .][1 2][3 9!4]",
        "a page put in as page 1",
    );
    does(
        &binder,
        insert(&binder, 2, f),
        "[1 2][3 9!4][. .]",
        "a page put in as page 3",
    );
    let shared = PageFormat {
        shared: true,
        ..format(1, 1, 2)
    };
    assert_eq!(
        binder.after(insert(&binder, 1, shared)),
        "[1 2][. # .][3 9!4]"
    );
    assert_eq!(
        binder.after(insert(&binder, 3, f)),
        "no: there is no such place for a page"
    );
    assert_eq!(
        binder.after(insert(&binder, 0, format(21, 1, 1))),
        "no: a page has 1 to 20 rows and columns, and 1 or 2 sides"
    );
    let draft = Picture::draft("[1 2]");
    does(
        &draft,
        insert(&draft, 1, f),
        "[1 2][. .]",
        "a page put in as page 2, in draft “autumn”",
    );
    let fixed = Picture::fixed("[1]");
    assert_eq!(fixed.after(insert(&fixed, 0, f)), FIXED);
    let fixed = Picture::drafted(BinderKind::Fixed, "[1]");
    assert_eq!(fixed.after(insert(&fixed, 0, f)), FIXED);
}

#[test]
fn a_page_that_the_layout_was_waiting_for_is_that_page() {
    let binder = Picture::rings("[1 2]<(3) (4)><(5) .>");
    does(
        &binder,
        insert(&binder, 1, format(1, 2, 1)),
        "[1 2][(3) (4)]<(5) .>",
        "a page put in as page 2, as the layout has it",
    );
    // One of another kind comes before it.
    assert_eq!(
        binder.after(insert(&binder, 1, format(1, 1, 1))),
        "[1 2][.]<(3) (4)><(5) .>"
    );
    assert_eq!(
        binder.after(insert(&binder, 0, format(1, 2, 1))),
        "[. .][1 2]<(3) (4)><(5) .>"
    );
    // Behind a layout that ends before.
    let short = Picture::rings("[1][2!]^");
    assert_eq!(
        short.after(insert(&short, 2, format(1, 1, 1))),
        "[1][2!]^[.]^"
    );
    assert_eq!(
        short.after(insert(&short, 1, format(1, 1, 1))),
        "[1][.]^[2!]^"
    );
    assert_eq!(
        short.after(insert(&short, 0, format(1, 1, 1))),
        "[.][1][2!]^"
    );
}

#[test]
fn the_cards_of_a_page_that_goes_become_loose_and_are_told() {
    let binder = Picture::rings("[1 2][(3) 9!4][- k][5 .] + 9");
    does(
        &binder,
        remove(&binder, 0),
        "[(3) 9!4][- k][5 .] + 1 2 9",
        "page 1 taken out, 2 cards become loose",
    );
    does(
        &binder,
        remove(&binder, 1),
        "[1 2][- k][5 .] + 9 9",
        "page 2 taken out, 1 card becomes loose, 2 more without a pocket",
    );
    does(
        &binder,
        remove(&binder, 2),
        "[1 2][(3) 9!4][5 .] + 9",
        "page 3 taken out, 1 keepsake to put elsewhere",
    );
    does(
        &binder,
        remove(&binder, 3),
        "[1 2][(3) 9!4][- k] + 5 9",
        "page 4 taken out, 1 card becomes loose",
    );
    assert_eq!(
        binder.after(remove(&binder, 4)),
        "no: there is no such page"
    );
    let draft = Picture::draft("[1 2][3 .]");
    does(
        &draft,
        remove(&draft, 0),
        "[3 .]",
        "page 1 taken out, 2 cards without a pocket then, in draft “autumn”",
    );
    let fixed = Picture::fixed("[1]");
    assert_eq!(fixed.after(remove(&fixed, 0)), FIXED);
    // A layout that ends before, and one with another page format there.
    let short = Picture::rings("[1][2!]^");
    assert_eq!(short.after(remove(&short, 1)), "[1] + 2");
    let other = Picture::rings("[1!]~<(1) (2)>[3]");
    does(
        &other,
        remove(&other, 0),
        "[3] + 1",
        "page 1 taken out, 1 card becomes loose, 1 more without a pocket",
    );
}

#[test]
fn a_page_of_another_format_keeps_what_it_has_pockets_for() {
    let binder = Picture::rings("[. 1 - (2)][3]");
    does(
        &binder,
        change(&binder, 0, format(2, 3, 1)),
        "[. 1 - / (2) . .][3]",
        "page 1 becomes 2x3, front only",
    );
    // Room goes first, the last cards next.
    assert_eq!(
        binder.after(change(&binder, 0, format(1, 3, 1))),
        "[1 - (2)][3]"
    );
    does(
        &binder,
        change(&binder, 0, format(1, 1, 2)),
        "[1 | -][3]",
        "page 1 becomes 1x1, front and back, 1 card without a pocket then",
    );
    let full = Picture::rings("[1 2 / 9!4 k]");
    does(
        &full,
        change(&full, 0, format(1, 1, 1)),
        "[1] + 2 9",
        "page 1 becomes 1x1, front only, 2 cards become loose, 1 more without a pocket, 1 keepsake to put elsewhere",
    );
    let shared = PageFormat {
        shared: true,
        ..format(1, 2, 2)
    };
    assert_eq!(full.after(change(&full, 0, shared)), "[1 2 # 9!4 k]");
    let same = binder
        .collection
        .binder(binder.ground.binder)
        .unwrap()
        .pages()[0]
        .format();
    assert_eq!(
        binder.after(change(&binder, 0, same)),
        "no: the page is of this format already"
    );
    assert_eq!(
        binder.after(change(&binder, 9, same)),
        "no: there is no such page"
    );
    let draft = Picture::draft("[1 2]");
    does(
        &draft,
        change(&draft, 0, format(1, 1, 1)),
        "[1]",
        "page 1 becomes 1x1, front only, 1 card without a pocket then, in draft “autumn”",
    );
    let fixed = Picture::fixed("[1 2]");
    assert_eq!(fixed.after(change(&fixed, 0, format(1, 1, 1))), FIXED);
}

#[test]
fn where_the_layout_has_another_kind_of_page_only_the_physical_one_changes() {
    let binder = Picture::rings("[1! 2!]~<(1) (2) (3)>");
    assert_eq!(
        binder.after(change(&binder, 0, format(1, 3, 1))),
        "[1 2 (3)]"
    );
    let short = Picture::rings("[1! 2!]^");
    assert_eq!(
        short.after(change(&short, 0, format(1, 3, 1))),
        "[1! 2! .]^"
    );
}

#[test]
fn a_pocket_is_left_blank_given_a_keepsake_or_made_free() {
    let binder = Picture::rings("[1 (2) . k -]<(3)>");
    let (c, g) = (&binder.collection, binder.ground);
    let at = |token| binder.at(token);
    does(
        &binder,
        blank(c, g, at(".")),
        "[1 (2) - k -]<(3)>",
        "page 1, front, row 1, pocket 3 left empty on purpose",
    );
    does(
        &binder,
        blank(c, g, at("(2)")),
        "[1 - . k -]<(3)>",
        "page 1, front, row 1, pocket 2 left empty on purpose, 2 y Owl without a pocket then",
    );
    does(
        &binder,
        keepsake(c, g, at("-"), "  a ticket "),
        "[1 (2) . k k]<(3)>",
        "a ticket in page 1, front, row 1, pocket 5",
    );
    does(
        &binder,
        make_free(c, g, at("k")),
        "[1 (2) . . -]<(3)>",
        "page 1, front, row 1, pocket 4 made free",
    );
    assert_eq!(
        binder.after(blank(c, g, at("-"))),
        "no: the pocket is so already"
    );
    assert_eq!(
        binder.after(make_free(c, g, at("."))),
        "no: the pocket is so already"
    );
    let holds = "no: the pocket holds a card; take it out first";
    assert_eq!(binder.after(blank(c, g, at("1"))), holds);
    assert_eq!(binder.after(keepsake(c, g, at("1"), "x")), holds);
    assert_eq!(
        binder.after(keepsake(c, g, at("."), " ")),
        "no: say what the keepsake is"
    );
    let long = "x".repeat(1001);
    assert_eq!(
        binder.after(keepsake(c, g, at("."), &long)),
        "no: these are too many words for a keepsake"
    );
    // Also where only the layout has a page yet, and where it has none.
    assert_eq!(binder.after(blank(c, g, g.place(1, 0))), "[1 (2) . k -]<->");
    let short = Picture::rings("[1][.]^[.]^");
    let step = blank(&short.collection, short.ground, short.at("@2"));
    assert_eq!(short.after(step), "[1][-][.]^");
    for place in [g.place(0, 5), g.place(2, 0)] {
        assert_eq!(
            binder.after(blank(c, g, place)),
            "no: there is no such pocket"
        );
    }
    let closed = Picture::rings("[.]~<(3) .>");
    assert_eq!(
        closed.after(blank(&closed.collection, closed.ground, closed.at("."))),
        "no: the layout has another page format there"
    );
    let draft = Picture::draft("[1 .]");
    does(
        &draft,
        blank(&draft.collection, draft.ground, draft.at("1")),
        "[- .]",
        "page 1, front, row 1, pocket 1 left empty on purpose, 1 z Owl without a pocket then, in draft “autumn”",
    );
}

#[test]
fn room_is_made_where_it_is_asked_for_and_the_others_move_along() {
    let room = |picture: &Picture, token: &str, pockets| {
        put(leave_room(
            &picture.collection,
            picture.ground,
            picture.at(token),
            pockets,
        ))
    };
    let binder = Picture::rings("[1 2 . 3][- 4 . .]");
    does(
        &binder,
        room(&binder, "1", 1),
        "[. 1 2 3][- 4 . .]",
        "room made for 1 card from page 1, front, row 1, pocket 1; \
         2 cards lie further on, as far as page 1",
    );
    does(
        &binder,
        room(&binder, "2", 3),
        "[1 . . .][- 2 3 4]",
        "room made for 3 cards from page 1, front, row 1, pocket 2; \
         3 cards lie further on, as far as page 2",
    );
    assert_eq!(binder.after(room(&binder, "3", 2)), "[1 2 . .][- . 3 4]");
    assert_eq!(binder.after(room(&binder, "-", 1)), "[1 2 . 3][- . 4 .]");
    assert_eq!(
        binder.after(room(&binder, "1", 4)),
        "no: there is no room further on; put in a page first"
    );
    assert_eq!(
        binder.after(room(&binder, "4", 4)),
        "no: there are not as many pockets from here on"
    );
    assert_eq!(
        binder.after(room(&binder, "@7", 2)),
        "no: there is room here already"
    );
    assert_eq!(
        binder.after(room(&binder, "1", 0)),
        "no: say how many pockets"
    );
    assert_eq!(
        binder.after(room(&binder, "1", usize::MAX)),
        "no: there are not as many pockets from here on"
    );
    let draft = Picture::draft("[1 .]");
    assert_eq!(draft.after(room(&draft, "1", 1)), "[. 1]");
    let shared = Picture::rings("[1 2 # 3 .]");
    assert_eq!(
        shared.after(room(&shared, "3", 1)),
        "no: front and back share a pocket: the card in front is in the way"
    );
}

fn put(thought: Result<Foretold, Cannot>) -> Result<Step, Cannot> {
    thought.map(|put| put.step)
}

/// By hand: from `1` on two cards have no room before the free pocket is reached; a gap that goes
/// further on is no card.
#[test]
fn before_room_is_made_it_is_told_how_many_cards_go_further_on() {
    let told = |picture: &Picture, token: &str, pockets| {
        let (collection, ground) = (&picture.collection, picture.ground);
        let put = leave_room(collection, ground, picture.at(token), pockets);
        put.unwrap().words
    };
    let binder = Picture::rings("[1 2 . 3][- 4 . .]");
    assert_eq!(
        told(&binder, "1", 1),
        "2 cards go further on, as far as page 1"
    );
    assert_eq!(
        told(&binder, "2", 3),
        "3 cards go further on, as far as page 2"
    );
    assert_eq!(
        told(&binder, "4", 1),
        "1 card goes further on, as far as page 2"
    );
    let gaps = Picture::rings("[(1) (2) . 3]");
    assert_eq!(told(&gaps, "(1)", 1), "no card lies further on");
    let draft = Picture::draft("[1 2 . .]");
    assert_eq!(
        told(&draft, "1", 2),
        "2 cards go further on, as far as page 1"
    );
}

/// In natural order of the numbers, finish by finish: the order of the default layout.
#[test]
fn what_has_no_pocket_yet_fills_the_room_in_natural_order() {
    let filled = |picture: &Picture, token: &str| {
        fill(&picture.collection, picture.ground, picture.at(token))
    };
    let draft = Picture::draft("[5 . - .][2 . . .][. . . .][. . . .][. . . .]");
    does(
        &draft,
        filled(&draft, "@3"),
        "[5 . - 1][2 3 4 6][7 8 9 10][12 12a 1r 2r][3r 4r 5r 6r]",
        "pockets for 16 cards, 6 still without, in draft “autumn”",
    );
    let binder = Picture::rings("[1 2! .]{.} & [(3) 4]");
    does(
        &binder,
        filled(&binder, "1"),
        "[1 2! (2)]{.} & [(3) 4]",
        "a pocket for 1 card, 20 still without",
    );
    assert_eq!(
        binder.after(filled(&binder, "@4")),
        "[1 2! .]{(2)} & [(3) 4]"
    );
    // Never onto a page that the layout has otherwise.
    let closed = Picture::rings("[. .]~<.>[.]");
    assert_eq!(closed.after(filled(&closed, "@1")), "[. .]~<.>[(1)]");
}

#[test]
fn a_binder_without_pages_refuses_and_does_not_fall_over() {
    let binder = Picture::real(&[RINGS], "");
    let place = binder.ground.place(0, 0);
    let (c, g) = (&binder.collection, binder.ground);
    assert!(put_down(c, g, &[place], place, Manner::Push).is_err());
    assert!(leave_room(c, g, place, 1).is_err());
    assert!(fill(c, g, place).is_err());
    assert!(blank(c, g, place).is_err());
    assert!(remove_page(c, g, 0).is_err());
    assert_eq!(binder.after(insert(&binder, 0, format(1, 1, 1))), "[.]");
}
