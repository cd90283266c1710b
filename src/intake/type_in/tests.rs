//! No outside source: what is promised is this program's own; the laws of the model are checked
//! after every step.

use super::before::following;
use super::*;
use crate::model::{BinderKind, PocketState, RingShape};

fn begun() -> (Collection, BinderId) {
    let mut collection = Collection::new();
    let head = SetHead {
        code: "FEN".into(),
        ..SetHead::default()
    };
    let options = BinderOptions {
        format: PageFormat::new(2, 2, 2),
        kind: BinderKind::Rings {
            size: 0,
            shape: RingShape::Round,
        },
    };
    let step = begin_typing_in(&collection, &head, options).unwrap();
    Change::apply_all(&step.changes, &mut collection).unwrap();
    let binder = collection.binder_by_name("FEN").unwrap();
    (collection, binder)
}

fn key(collection: &mut Collection, binder: BinderId, at: usize, typed: &str) -> TypedIn {
    let place = Place {
        binder,
        page: at / 8,
        pocket: at % 8,
    };
    let typed_in = type_in(collection, place, typed).unwrap();
    let before = states(collection, binder, 24);
    Change::apply_all(&typed_in.step.changes, collection).unwrap();
    assert!(
        collection.check().is_empty(),
        "{typed}: {:?}",
        collection.check()
    );
    for change in typed_in.step.changes.iter().rev() {
        change.inverse().apply(collection).unwrap();
    }
    assert_eq!(
        states(collection, binder, 24),
        before,
        "{typed} is taken back"
    );
    assert!(collection.check().is_empty());
    Change::apply_all(&typed_in.step.changes, collection).unwrap();
    typed_in
}

fn states(collection: &Collection, binder: BinderId, pockets: usize) -> Vec<String> {
    let state = |at: usize| {
        let place = Place {
            binder,
            page: at / 8,
            pocket: at % 8,
        };
        let number = |p: PrintingId| collection.card(p).unwrap().number.to_string();
        match collection.pocket(place) {
            PocketState::InPlace(printing) => number(printing),
            PocketState::Gap(printing) => format!("gap {}", number(printing)),
            PocketState::Misplaced { held, .. } => format!("misplaced {}", number(held)),
            PocketState::Unassigned => "-".into(),
            other => format!("{other:?}"),
        }
    };
    (0..pockets).map(state).collect()
}

#[test]
fn checklist_layout_and_contents_grow_with_each_card() {
    let (mut collection, binder) = begun();
    for (at, typed) in ["1", "2", "3 gap", "4"].into_iter().enumerate() {
        assert!(key(&mut collection, binder, at, typed).is_new);
    }
    assert_eq!(
        states(&collection, binder, 5),
        ["1", "2", "gap 3", "4", "-"]
    );
    let set = collection.set(SetId(0)).unwrap();
    assert_eq!(set.cards().len(), 4);
    let tally = collection.binder(binder).unwrap().tally();
    assert_eq!((tally.in_place, tally.meant, tally.filled), (3, 4, 3));
}

#[test]
fn a_page_that_is_not_there_yet_comes_in_with_its_first_card() {
    let (mut collection, binder) = begun();
    key(&mut collection, binder, 0, "1");
    key(&mut collection, binder, 17, "P1");
    let binder = collection.binder(binder).unwrap();
    assert_eq!((binder.pages().len(), binder.layout().pages.len()), (3, 3));
}

#[test]
fn empty_pockets_between_are_kept_for_the_numbers_left_out_if_exactly_as_many() {
    let (mut collection, binder) = begun();
    key(&mut collection, binder, 0, "001");
    let typed_in = key(&mut collection, binder, 3, "004");
    assert_eq!(in_few_words(&typed_in.kept_before), "002 to 003");
    // One pocket left out, but no number: nothing is kept.
    let typed_in = key(&mut collection, binder, 5, "005");
    assert!(typed_in.kept_before.is_empty());
    // Over the edge of a page.
    key(&mut collection, binder, 7, "010");
    assert_eq!(key(&mut collection, binder, 9, "012").kept_before.len(), 1);
    assert_eq!(
        states(&collection, binder, 10),
        [
            "001", "gap 002", "gap 003", "004", "-", "005", "-", "010", "gap 011", "012"
        ]
    );
    // Another finish does not follow on.
    key(&mut collection, binder, 10, "001 reverse");
    assert!(
        key(&mut collection, binder, 12, "014")
            .kept_before
            .is_empty()
    );
}

#[test]
fn a_loose_copy_is_taken_for_the_card_and_a_known_gap_is_filled() {
    let (mut collection, binder) = begun();
    key(&mut collection, binder, 0, "1 gap");
    let printing = PrintingId::new(SetId(0), 0, 0);
    let came = Change::Acquire { printing, count: 1 };
    came.apply(&mut collection).unwrap();
    let typed_in = key(&mut collection, binder, 0, "1");
    assert!(typed_in.was_loose && !typed_in.is_new);
    assert_eq!(collection.tally(printing).copies(), 1);
    // Once more the same changes nothing.
    let place = Place {
        binder,
        page: 0,
        pocket: 0,
    };
    assert!(
        type_in(&collection, place, "1")
            .unwrap()
            .step
            .changes
            .is_empty()
    );
}

#[test]
fn another_number_typed_over_a_card_takes_back_that_it_was_typed_in() {
    let (mut collection, binder) = begun();
    key(&mut collection, binder, 0, "5");
    key(&mut collection, binder, 1, "9");
    key(&mut collection, binder, 2, "7");
    let typed_in = key(&mut collection, binder, 1, "6");
    assert_eq!(typed_in.instead_of.as_deref(), Some("9"));
    assert_eq!(states(&collection, binder, 3), ["5", "6", "7"]);
    let copies = |number: &str| {
        let set = collection.set(SetId(0)).unwrap();
        let card = set.card_by_number(number).unwrap();
        collection
            .tally(PrintingId::new(SetId(0), card, 0))
            .copies()
    };
    assert_eq!([copies("9"), copies("6")], [0, 1]);
    // A card that has its own pocket is not made to belong here.
    let place = Place {
        binder,
        page: 0,
        pocket: 1,
    };
    let why = type_in(&collection, place, "7").unwrap_err();
    assert_eq!(why, "6 lies in this pocket already: take it out first");
    // Nor does one that only lies here leave.
    key(&mut collection, binder, 3, "8 gap");
    key(&mut collection, binder, 3, "7");
    let place = Place { pocket: 3, ..place };
    let why = type_in(&collection, place, "10").unwrap_err();
    assert_eq!(why, "7 lies in this pocket already: take it out first");
}

#[test]
fn a_known_card_in_a_new_finish_and_a_card_in_a_foreign_pocket() {
    let (mut collection, binder) = begun();
    key(&mut collection, binder, 0, "7");
    let typed_in = key(&mut collection, binder, 1, "7 r");
    assert_eq!((&*typed_in.finish, typed_in.is_new), ("reverse", true));
    key(&mut collection, binder, 2, "8 gap");
    assert!(key(&mut collection, binder, 2, "9").is_misplaced);
    assert_eq!(states(&collection, binder, 3)[2], "misplaced 9");
    let place = Place {
        binder,
        page: 0,
        pocket: 4,
    };
    let why = type_in(&collection, place, "7 q").unwrap_err();
    assert_eq!(
        why,
        "“q” is no finish: write a new one out, such as reverse"
    );
    for (typed, why) in [
        ("7 x2", "a pocket holds one card: type each where it lies"),
        (
            "11 x2",
            "“x2” is a count, and a pocket holds one card: type each where it lies",
        ),
        (
            "BOG 7",
            "“7” is no finish: write a new one out, such as reverse. A number with a space in it comes in by a checklist",
        ),
    ] {
        assert_eq!(
            type_in(&collection, place, typed).unwrap_err(),
            why,
            "{typed}"
        );
    }
}

#[test]
fn the_number_that_follows_keeps_zeros_letters_before_and_what_follows_a_slash() {
    let next = |number| following(number).unwrap_or_default();
    assert_eq!(next("9"), "10");
    assert_eq!(next("P1"), "P2");
    assert_eq!(next("009"), "010");
    assert_eq!(next("12/120"), "13/120");
    assert_eq!(next("12a"), "13");
    assert_eq!(next("ß9"), "ß10");
    assert_eq!(next("Wren"), "");
    assert_eq!(next("18446744073709551615"), "");
}

#[test]
fn a_number_alone_is_a_regular_also_where_a_reverse_lies_first() {
    let (mut collection, binder) = begun();
    let finish = |put: TypedIn| put.finish;
    assert_eq!(
        &*finish(key(&mut collection, binder, 0, "1 reverse")),
        "reverse"
    );
    assert_eq!(&*finish(key(&mut collection, binder, 1, "2")), "regular");
    let names: Vec<_> = collection
        .set(SetId(0))
        .unwrap()
        .finishes()
        .iter()
        .map(|f| &*f.name)
        .collect();
    assert_eq!(names, ["regular", "reverse"]);
}

#[test]
fn the_word_gap_may_stand_before_the_finish() {
    for typed in ["18 gap reverse", "18 reverse gap", "18 GAP r"] {
        let (mut collection, binder) = begun();
        let put = key(&mut collection, binder, 0, typed);
        assert!(put.is_gap, "{typed}");
        assert_eq!((&*put.number, &*put.finish), ("18", "reverse"), "{typed}");
    }
}

#[test]
fn a_number_typed_twice_says_where_the_first_lies() {
    let (mut collection, binder) = begun();
    assert_eq!(key(&mut collection, binder, 0, "7").first, None);
    let first = Place {
        binder,
        page: 0,
        pocket: 0,
    };
    assert_eq!(key(&mut collection, binder, 5, "007").first, Some(first));
    assert_eq!(key(&mut collection, binder, 6, "7 reverse").first, None);
}

/// The grammar of a line of the pile: a count in each of its forms is no card and no finish.
#[test]
fn a_count_is_no_new_card_and_no_finish() {
    let (mut collection, binder) = begun();
    key(&mut collection, binder, 0, "12");
    let place = Place {
        binder,
        page: 0,
        pocket: 1,
    };
    for typed in [
        "3x2",
        "14 x 3",
        "14 3x",
        "14 *3",
        "14 x3",
        "3x 14",
        "14 x 3 reverse",
    ] {
        let why = type_in(&collection, place, typed).unwrap_err();
        assert!(why.contains("count"), "{typed}: {why}");
    }
    // A letter is part of a number.
    assert!(type_in(&collection, place, "x3").is_ok());
    let why = type_in(&collection, place, "TG 12").unwrap_err();
    assert!(
        why.ends_with("A number with a space in it comes in by a checklist"),
        "{why}"
    );
}
