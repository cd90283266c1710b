//! What an import promises is in the contract of the commands (import, "CSV in"); what a
//! collection may be is in `Collection::check`, which counts everything anew.

use super::*;
use crate::layout::default_format;
use crate::model::{
    BinderKind, Change, Collection, Meaning, PageFormat, Place, PrintingId, RingShape, SetHead,
    SetId,
};

fn binder(rows: u8, columns: u8, sides: u8) -> Option<BinderOptions> {
    Some(BinderOptions {
        format: PageFormat::new(rows, columns, sides),
        kind: BinderKind::Rings {
            size: 0,
            shape: RingShape::D,
        },
    })
}

fn options(update: bool) -> ChecklistOptions {
    ChecklistOptions {
        update,
        binder: binder(2, 1, 1),
    }
}

/// A row in one line: `set|number|name|rarity|finishes`.
fn row(line: u64, text: &str) -> CardRow<'_> {
    let mut fields = text.split('|');
    let mut next = || fields.next().unwrap_or_default();
    let (set, number, name, rarity, finishes) = (next(), next(), next(), next(), next());
    CardRow {
        line,
        set,
        number,
        name,
        rarity,
        finishes,
        ..CardRow::default()
    }
}

fn take(collection: &Collection, rows: &[&str], options: ChecklistOptions) -> Intake {
    let mut checklist = Checklist::new(collection, options);
    for (line, text) in (2..).zip(rows) {
        checklist.row(row(line, text)).unwrap();
    }
    checklist.finish()
}

fn import(collection: &mut Collection, rows: &[&str], update: bool) -> Intake {
    let intake = take(collection, rows, options(update));
    Change::apply_all(&intake.step.changes, collection).unwrap();
    assert_eq!(collection.check(), []);
    intake
}

/// What the layout of a binder is for, page by page: number and mark, `.` for nothing.
fn layout(collection: &Collection, name: &str) -> Vec<String> {
    let binder = collection.binder_by_name(name).unwrap();
    let binder = collection.binder(binder).unwrap();
    let words = |page: usize, pocket: usize| {
        let place = Place {
            binder: binder.id(),
            page,
            pocket,
        };
        match collection.meaning(place) {
            Meaning::Printing(printing) => {
                let set = collection.set(printing.set()).unwrap();
                let mark = &set.finishes()[usize::from(printing.finish())].mark;
                format!("{}{mark}", set.cards()[printing.card() as usize].number)
            }
            _ => ".".into(),
        }
    };
    let pages = binder.layout().pages.iter().enumerate();
    pages
        .map(|(at, page)| {
            let pockets = 0..page.format().pockets();
            pockets
                .map(|pocket| words(at, pocket))
                .collect::<Vec<_>>()
                .join(" ")
        })
        .collect()
}

#[test]
fn a_new_set_comes_with_its_cards_and_a_binder_in_which_each_finish_is_a_run() {
    let mut collection = Collection::new();
    let rows = [
        "FEN|10|Mire Lamp|rare|regular;reverse",
        "FEN|9|Reed Boat||regular;reverse",
        "FEN|P1|Ferry Bell||gold edge",
    ];
    let intake = import(&mut collection, &rows, false);
    assert_eq!(
        intake.added,
        Added {
            sets: 1,
            cards: 3,
            binders: 1,
            pages: 3,
            ..Added::default()
        }
    );
    assert_eq!(layout(&collection, "FEN"), ["9 10", "9r 10r", "P1g ."]);
    let id = collection.binder_by_name("FEN").unwrap();
    let binder = collection.binder(id).unwrap();
    assert_eq!(binder.pages().len(), 3);
    assert!((0..3).all(|page| binder.comparable(page)));
    assert_eq!(binder.tally().filled, 0);
    assert_eq!(binder.spec().set, Some(SetId(0)));
}

#[test]
fn the_same_checklist_again_changes_nothing() {
    let mut collection = Collection::new();
    let rows = [
        "FEN|1|Mire Lamp|rare|regular;reverse",
        "DAL|1|Ember|common|",
    ];
    import(&mut collection, &rows, false);
    for update in [false, true] {
        let again = import(&mut collection, &rows, update);
        assert_eq!(again, Intake::default());
    }
}

#[test]
fn an_extended_checklist_adds_what_is_new_and_tells_what_differs() {
    let mut collection = Collection::new();
    import(
        &mut collection,
        &["FEN|1|Mire Lamp|rare|", "FEN|2|||"],
        false,
    );
    let rows = [
        "FEN|1|Mire Lantern|scarce|regular;reverse",
        "FEN|2|Reed Boat|common|",
        "FEN|3|Ferry Bell||",
    ];
    let intake = import(&mut collection, &rows, false);
    assert_eq!(intake.added.cards, 1);
    assert_eq!(intake.added.further_finishes, 1);
    assert_eq!(intake.added.filled_in, 1, "an empty name and rarity of 2");
    let told: Vec<_> = intake.differs.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "FEN 1: the name stays “Mire Lamp”, the file has “Mire Lantern”",
            "FEN 1: the rarity stays “rare”, the file has “scarce”",
        ]
    );
    let set = collection.set(SetId(0)).unwrap();
    assert_eq!(set.cards()[0].name, "Mire Lamp");
    assert_eq!(set.cards()[1].name, "Reed Boat");
    assert_eq!(set.rarity_name(&set.cards()[0]), "rare");
}

#[test]
fn with_update_what_differs_is_taken_over() {
    let mut collection = Collection::new();
    import(&mut collection, &["FEN|1|Mire Lamp|rare|"], false);
    let intake = import(&mut collection, &["FEN|1|Mire Lantern|scarce|"], true);
    assert!(
        intake
            .differs
            .iter()
            .all(|difference| difference.verdict == Verdict::TakenOver)
    );
    let set = collection.set(SetId(0)).unwrap();
    assert_eq!(set.cards()[0].name, "Mire Lantern");
    assert_eq!(set.rarity_name(&set.cards()[0]), "scarce");
}

#[test]
fn a_finish_is_never_taken_from_a_card() {
    let mut collection = Collection::new();
    import(&mut collection, &["FEN|1|||regular;reverse"], false);
    let intake = import(&mut collection, &["FEN|1|||regular"], true);
    assert_eq!(intake.step.changes, []);
    assert_eq!(
        intake.differs[0].to_string(),
        "FEN 1: the list of finishes stays “regular, reverse”, the file has “regular”"
    );
}

#[test]
fn new_cards_of_a_known_set_take_room_in_their_run_and_then_new_pages_at_the_end() {
    let mut collection = Collection::new();
    let first = ["FEN|1|||regular;reverse", "FEN|2|||", "FEN|3|||"];
    import(&mut collection, &first, false);
    assert_eq!(layout(&collection, "FEN"), ["1 2", "3 .", "1r ."]);
    let more = ["FEN|5|||regular;reverse", "FEN|4|||", "FEN|6|||gold"];
    let intake = import(&mut collection, &more, false);
    assert_eq!(
        layout(&collection, "FEN"),
        ["1 2", "3 4", "1r 5r", "5 .", "6g ."]
    );
    assert_eq!(intake.notes, ["binder FEN: 2 pages added at the end"]);
    let id = collection.binder_by_name("FEN").unwrap();
    assert_eq!(collection.binder(id).unwrap().pages().len(), 5);
}

#[test]
fn fixed_pages_are_not_added_to() {
    let mut collection = Collection::new();
    let mut fixed = options(false);
    fixed.binder.as_mut().unwrap().kind = BinderKind::Fixed;
    let intake = take(&collection, &["FEN|1|||"], fixed);
    Change::apply_all(&intake.step.changes, &mut collection).unwrap();
    let intake = take(&collection, &["FEN|2|||", "FEN|3|||"], fixed);
    Change::apply_all(&intake.step.changes, &mut collection).unwrap();
    assert_eq!(layout(&collection, "FEN"), ["1 2"]);
    assert!(intake.notes[0].contains("1 new printing has no pocket"));
}

#[test]
fn without_binders_only_the_checklist_comes_in() {
    let mut collection = Collection::new();
    let none = ChecklistOptions::default();
    let intake = take(&collection, &["FEN|1|||"], none);
    Change::apply_all(&intake.step.changes, &mut collection).unwrap();
    assert_eq!(collection.shelf().len(), 0);
    // A set that has no binder is told, and stays without.
    let intake = take(&collection, &["FEN|2|||"], options(false));
    assert_eq!(intake.added.binders, 0);
    assert!(intake.notes[0].starts_with("FEN has no binder"));
}

#[test]
fn a_binder_gets_a_name_of_its_own() {
    let mut collection = Collection::new();
    import(&mut collection, &["FEN|1|||"], false);
    let id = collection.binder_by_name("FEN").unwrap();
    let old = collection.binder(id).unwrap().spec().clone();
    let mut new = old.clone();
    new.name = "dal".into();
    let edit = Change::EditBinder {
        binder: id,
        old: Box::new(old),
        new: Box::new(new),
    };
    edit.apply(&mut collection).unwrap();
    import(&mut collection, &["DAL|1|||"], false);
    assert_eq!(layout(&collection, "DAL-2"), ["1 ."]);
}

fn refused(collection: &Collection, rows: &[&str]) -> BadRow {
    let mut checklist = Checklist::new(collection, options(false));
    let (last, before) = rows.split_last().unwrap();
    for (line, text) in (2..).zip(before) {
        checklist.row(row(line, text)).unwrap();
    }
    checklist.row(row(rows.len() as u64 + 1, last)).unwrap_err()
}

#[test]
fn a_bad_row_is_told_with_its_line_its_column_and_what_would_be_right() {
    let mut collection = Collection::new();
    import(&mut collection, &["FEN|1|||"], false);
    let long = format!("FEN|{}|||", "1".repeat(101));
    for (rows, column, words) in [
        (&["FEN|2|||", "FEN|2|||"][..], "number", "on line 2 already"),
        (&["fen|2|||"], "set", "“FEN” in capitals only"),
        (&["DAL|2|||", "dal|3|||"], "set", "“DAL” in capitals only"),
        (&["|2|||"], "set", "needs a set"),
        (&["a b|2|||"], "set", "one word"),
        (&["FEN||||"], "number", "needs a number"),
        (&[&long], "number", "longer than 100 bytes"),
        (&["FEN|2|||a;A"], "finishes", "named twice"),
        (&["FEN|2||| "], "finishes", "needs a name"),
    ] {
        let bad = refused(&collection, rows);
        assert_eq!(bad.line, rows.len() as u64 + 1);
        assert_eq!(bad.column, column, "{rows:?}");
        assert!(bad.why.contains(words), "{rows:?}: {}", bad.why);
    }
}

#[test]
fn words_on_the_set_that_contradict_an_earlier_row_are_refused() {
    let collection = Collection::new();
    let mut checklist = Checklist::new(&collection, options(false));
    let mut titled = |line, title| {
        checklist.row(CardRow {
            set_title: title,
            ..row(line, &format!("FEN|{line}|||"))
        })
    };
    titled(2, "").unwrap();
    titled(3, "The Fen").unwrap();
    titled(4, "").unwrap();
    let bad = titled(5, "The Marsh").unwrap_err();
    assert_eq!((bad.line, bad.column), (5, "set_title"));
    assert_eq!(bad.why, "the title is “The Fen” on line 3; a set has one");
    let intake = checklist.finish();
    assert_eq!(intake.added.cards, 3);
}

#[test]
fn a_set_that_only_bad_rows_name_does_not_come_in() {
    let collection = Collection::new();
    let mut checklist = Checklist::new(&collection, options(false));
    let names: Vec<_> = (0..65).map(|n| format!("f{n}")).collect();
    let bad = format!("FEN|1|||{}", names.join(";"));
    assert_eq!(checklist.row(row(2, &bad)).unwrap_err().column, "finishes");
    assert_eq!(checklist.finish(), Intake::default());
}

#[test]
fn a_set_takes_as_many_finishes_as_the_model_and_no_more() {
    let mut collection = Collection::new();
    let names: Vec<_> = (0..64).map(|n| format!("f{n}")).collect();
    let all = format!("FEN|1|||{}", names.join(";"));
    import(&mut collection, &[&all], false);
    let card = &collection.set(SetId(0)).unwrap().cards()[0];
    assert_eq!(card.finishes, u64::MAX);
    assert_eq!(import(&mut collection, &[&all], false), Intake::default());
    let one_more = refused(&collection, &["FEN|2|||f64"]);
    assert!(one_more.why.contains("at most 64"));
}

#[test]
fn a_phrase_makes_a_set() {
    let mut collection = Collection::new();
    let head = SetHead {
        code: "FEN".into(),
        title: "The Fen".into(),
        ..SetHead::default()
    };
    let phrase = Phrase::parse("1 to 120 and P1 to P6, in regular and reverse").unwrap();
    let options = Some(BinderOptions {
        format: default_format(),
        ..binder(1, 1, 1).unwrap()
    });
    let intake = new_set(&collection, &head, &phrase, options).unwrap();
    Change::apply_all(&intake.step.changes, &mut collection).unwrap();
    assert_eq!(collection.check(), []);
    // 126 cards, 18 pockets a page: 7 pages for each of two finishes.
    assert_eq!(intake.added.cards, 126);
    assert_eq!(intake.added.pages, 14);
    assert_eq!(collection.set(SetId(0)).unwrap().title(), "The Fen");
    let again = new_set(&collection, &head, &phrase, options);
    assert!(again.unwrap_err().to_string().contains("FEN"));
}

fn copies(line: u64, text: &str, count: u32) -> CopyRow<'_> {
    let mut fields = text.split('|');
    let mut next = || fields.next().unwrap_or_default();
    CopyRow {
        line,
        set: next(),
        number: next(),
        finish: next(),
        count,
    }
}

#[test]
fn copies_come_in_loose_and_in_place_as_far_as_there_are_pockets() {
    for in_place in [false, true] {
        let mut collection = Collection::new();
        import(
            &mut collection,
            &["FEN|1|||regular;reverse", "FEN|2|||"],
            false,
        );
        let mut taken = Copies::new(&collection);
        taken.row(&copies(2, "FEN|1|", 1)).unwrap();
        taken.row(&copies(3, "fen|1|Reverse", 3)).unwrap();
        taken.row(&copies(4, "FEN|1|regular", 1)).unwrap();
        taken.row(&copies(5, "FEN|2|r", 0)).unwrap_err();
        taken.row(&copies(6, "FEN|2|", 0)).unwrap();
        let intake = taken.finish_step(in_place);
        Change::apply_all(&intake.step.changes, &mut collection).unwrap();
        assert_eq!(collection.check(), []);
        assert_eq!(intake.acquired, 5);
        assert_eq!(intake.seated, if in_place { 2 } else { 0 });
        let tally = |card, finish| collection.tally(PrintingId::new(SetId(0), card, finish));
        assert_eq!(tally(0, 0).copies(), 2);
        assert_eq!(tally(0, 1).copies(), 3);
        assert_eq!(tally(0, 1).in_place, u32::from(in_place));
        assert_eq!(tally(1, 0).copies(), 0);
    }
}

#[test]
fn copies_of_what_is_not_known_are_refused_with_the_nearest_that_is() {
    let mut collection = Collection::new();
    let empty = Copies::new(&collection)
        .row(&copies(2, "FEN|1|", 1))
        .unwrap_err();
    assert!(empty.why.contains("import its checklist first"));
    import(
        &mut collection,
        &["FEN|12a|||regular;reverse", "FEN|7|||"],
        false,
    );
    for (text, column, words) in [
        ("FNE|7|", "set", "did you mean “FEN”?"),
        ("FEN|12b|", "number", "did you mean “12a”?"),
        ("FEN|007|", "number", "did you mean “7”?"),
        ("FEN|7|revers", "finish", "did you mean “reverse”?"),
        ("FEN|7|reverse", "finish", "it comes in “regular”"),
    ] {
        let bad = Copies::new(&collection)
            .row(&copies(9, text, 1))
            .unwrap_err();
        assert_eq!((bad.line, bad.column), (9, column), "{text}");
        assert!(bad.why.contains(words), "{text}: {}", bad.why);
    }
}

#[test]
fn more_copies_than_the_limit_are_refused_on_their_row() {
    let mut collection = Collection::new();
    import(&mut collection, &["FEN|1|||"], false);
    let mut taken = Copies::new(&collection);
    taken.row(&copies(2, "FEN|1|", 999_999)).unwrap();
    assert_eq!(
        taken.row(&copies(3, "FEN|1|", 2)).unwrap_err().column,
        "count"
    );
    taken.row(&copies(4, "FEN|1|", 1)).unwrap();
}

#[test]
fn a_set_without_a_binder_gets_one_with_a_pocket_for_each_card_that_has_none() {
    let before = crate::demo::collection();
    let options = BinderOptions {
        format: crate::model::PageFormat::new(3, 3, 2),
        kind: crate::model::BinderKind::RINGS,
    };
    for (id, set) in before.sets() {
        let mut collection = before.clone();
        let refused = binder_for_set(&collection, id, options);
        let own = before.shelf().find(|b| b.spec().set == Some(id));
        match own.map(crate::model::Binder::id) {
            None => assert!(refused.is_ok(), "{}", set.code()),
            Some(binder) => {
                assert!(refused.is_err(), "{} has one", set.code());
                let off = crate::hand::take_off_shelf(&collection, binder).unwrap();
                Change::apply_all(&off.step.changes, &mut collection).unwrap();
            }
        }
        let made = binder_for_set(&collection, id, options).unwrap();
        Change::apply_all(&made.step.changes, &mut collection).unwrap();
        let binder = collection.shelf().next_back().unwrap();
        assert_eq!(binder.spec().set, Some(id));
        let set = collection.set(id).unwrap();
        let collected = |p: &crate::model::PrintingId| !set.is_left_out(p.finish());
        for printing in set.printings(id).filter(collected) {
            assert_eq!(set.tally(printing).meant, 1, "{}", set.code());
        }
        assert!(binder_for_set(&collection, id, options).is_err());
    }
}

/// Each name is looked up, not held against all that were given out before.
#[test]
fn very_many_sets_come_in_at_once_each_with_a_binder_of_a_name_of_its_own() {
    let collection = Collection::new();
    let mut checklist = Checklist::new(&collection, options(false));
    let many = 60_000;
    for at in 0..many {
        let text = format!("S{at}|1|Mire Lamp");
        checklist.row(row(at + 2, &text)).unwrap();
    }
    let intake = checklist.finish();
    assert_eq!(intake.added.binders, many as usize);
    let names = intake
        .step
        .changes
        .iter()
        .filter_map(|change| match change {
            Change::AddBinder { spec, .. } => Some(spec.name.clone()),
            _ => None,
        });
    let names: std::collections::HashSet<_> = names.collect();
    assert_eq!(names.len(), many as usize);
}

#[test]
fn where_the_highest_ids_are_in_use_what_comes_in_gets_free_ones() {
    use crate::model::{BinderId, BinderSpec, PageId};
    let mut collection = Collection::new();
    let top = u32::MAX - 1;
    let spec = BinderSpec {
        name: "TOP".into(),
        title: "".into(),
        set: None,
        kind: BinderKind::RINGS,
        front_matter: Vec::new(),
    };
    let changes = [
        Change::AddBinder {
            binder: BinderId(top),
            at: 0,
            spec: Box::new(spec),
        },
        Change::AddPage {
            binder: BinderId(top),
            at: 0,
            page: PageId(top),
            format: default_format(),
        },
    ];
    Change::apply_all(&changes, &mut collection).unwrap();
    for code in ["FEN", "MOOR"] {
        let rows: Vec<_> = (1..10).map(|n| format!("{code}|{n}|Mire Lamp")).collect();
        let rows: Vec<_> = rows.iter().map(String::as_str).collect();
        import(&mut collection, &rows, false);
    }
    assert_eq!(collection.shelf().len(), 3);
}
