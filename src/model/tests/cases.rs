//! One change of every kind, and what is refused.

use super::same;
use crate::model::*;

const SET: SetId = SetId(0);

fn card(number: &str, finishes: u64) -> Card {
    Card {
        number: number.into(),
        name: "Fen Heron".into(),
        rarity: None,
        size: None,
        finishes,
    }
}

fn finish(name: &str, mark: &str) -> Box<Finish> {
    Box::new(Finish {
        name: name.into(),
        mark: mark.into(),
    })
}

fn spec(name: &str, kind: BinderKind) -> Box<BinderSpec> {
    Box::new(BinderSpec {
        name: name.into(),
        title: "".into(),
        set: None,
        kind,
        front_matter: vec!["a map".into()],
    })
}

const RINGS: BinderKind = BinderKind::Rings {
    size: 25,
    shape: RingShape::Round,
};

fn place(page: usize, pocket: usize) -> Place {
    Place {
        binder: BinderId(1),
        page,
        pocket,
    }
}

/// One change of every kind, each of which fits after those before it.
fn one_of_each() -> Vec<Change> {
    let head = |title: &str| {
        Box::new(SetHead {
            code: "FEN".into(),
            title: title.into(),
            ..SetHead::default()
        })
    };
    let (binder, page, format) = (BinderId(1), PageId(1), PageFormat::new(2, 2, 2));
    let printing = PrintingId::new(SET, 0, 0);
    let mut meant = LayoutPage::empty(format);
    meant.set_meaning(1, Meaning::Keepsake("a ticket".into()));
    let (card_1, card_2) = (card("1", 1), card("2", 1));
    vec![
        Change::AddSet {
            set: SET,
            at: usize::from(SET.0),
            head: head(""),
        },
        Change::EditSet {
            set: SET,
            old: head(""),
            new: head("The Fen"),
        },
        Change::AddFinish {
            set: SET,
            finish: finish("regular", ""),
        },
        Change::AddFinish {
            set: SET,
            finish: finish("reverse", "r"),
        },
        Change::DropFinish {
            set: SET,
            finish: finish("reverse", "r"),
        },
        Change::AddFinish {
            set: SET,
            finish: finish("lamplit", "e"),
        },
        Change::LeaveOut {
            set: SET,
            finish: 1,
        },
        Change::Collect {
            set: SET,
            finish: 1,
        },
        Change::AddRarity {
            set: SET,
            name: "common".into(),
        },
        Change::DropRarity {
            set: SET,
            name: "common".into(),
        },
        Change::AddCards {
            set: SET,
            first: 0,
            cards: vec![card_1.clone(), card_2.clone()],
        },
        Change::DropCards {
            set: SET,
            first: 1,
            cards: vec![card_2],
        },
        Change::EditCard {
            set: SET,
            card: 0,
            old: Box::new(card_1),
            new: Box::new(card("1", 3)),
        },
        Change::AddBinder {
            binder,
            at: 0,
            spec: spec("fen", RINGS),
        },
        Change::AddBinder {
            binder: BinderId(2),
            at: 0,
            spec: spec("odds", RINGS),
        },
        Change::MoveBinder {
            binder,
            from: 1,
            to: 0,
        },
        Change::EditBinder {
            binder,
            old: spec("fen", RINGS),
            new: spec("marsh", RINGS),
        },
        Change::AddPage {
            binder,
            at: 0,
            page,
            format,
        },
        Change::AddPage {
            binder,
            at: 1,
            page: PageId(2),
            format,
        },
        Change::MovePage {
            page,
            from: PagePlace::new(binder, 0),
            to: PagePlace::new(binder, 1),
        },
        Change::MovePage {
            page,
            from: PagePlace::new(binder, 1),
            to: PagePlace::new(BinderId(2), 0),
        },
        Change::MovePage {
            page,
            from: PagePlace::new(BinderId(2), 0),
            to: PagePlace::new(binder, 0),
        },
        Change::RemovePage {
            binder,
            at: 1,
            page: PageId(2),
            format,
        },
        Change::AddLayoutPage {
            binder,
            at: 0,
            page: Box::new(LayoutPage::empty(format)),
        },
        Change::AddLayoutPage {
            binder,
            at: 1,
            page: Box::new(meant.clone()),
        },
        Change::MoveLayoutPage {
            binder,
            from: 0,
            to: 1,
        },
        Change::RemoveLayoutPage {
            binder,
            at: 0,
            page: Box::new(meant),
        },
        Change::Mean {
            place: place(0, 0),
            old: Meaning::Nothing,
            new: Meaning::Printing(printing),
        },
        Change::Acquire { printing, count: 3 },
        Change::PartWith { printing, count: 1 },
        Change::Seat {
            place: place(0, 0),
            page,
            printing,
        },
        Change::Lift {
            place: place(0, 0),
            page,
            printing,
        },
        Change::RemoveBinder {
            binder: BinderId(2),
            at: 1,
            spec: spec("odds", RINGS),
        },
    ]
    .into_iter()
    .chain(drafts(binder, format, printing))
    .chain(sections(binder))
    .collect()
}

/// The changes of sections and of templates.
fn sections(binder: BinderId) -> Vec<Change> {
    let rules = |words: &str| vec![Box::<str>::from(words)];
    vec![
        Change::SetSections {
            binder,
            old: Rules::new(),
            new: rules("all: page 3x3"),
        },
        Change::SetSections {
            binder,
            old: rules("all: page 3x3"),
            new: Rules::new(),
        },
        Change::SetTemplate {
            name: "mine".into(),
            old: None,
            new: Some(rules("all: page 3x3")),
        },
        Change::SetTemplate {
            name: "mine".into(),
            old: Some(rules("all: page 3x3")),
            new: Some(rules("all: page 2x2")),
        },
        Change::SetTemplate {
            name: "mine".into(),
            old: Some(rules("all: page 2x2")),
            new: None,
        },
    ]
}

/// The changes of drafts; the layout in force is the same afterwards.
fn drafts(binder: BinderId, format: PageFormat, printing: PrintingId) -> Vec<Change> {
    let draft = |name: &str, pages| {
        let name = name.into();
        let layout = Layout::of_pages(pages);
        Box::new(Draft { name, layout })
    };
    let within = |change| Change::InDraft {
        draft: 0,
        change: Box::new(change),
    };
    let mut meant = LayoutPage::empty(format);
    meant.set_meaning(0, Meaning::Printing(printing));
    let large = Box::new(LayoutPage::empty(PageFormat::new(3, 3, 1)));
    vec![
        Change::AddDraft {
            binder,
            at: 0,
            draft: draft("autumn", vec![LayoutPage::empty(format)]),
        },
        within(Change::AddLayoutPage {
            binder,
            at: 0,
            page: large.clone(),
        }),
        within(Change::MoveLayoutPage {
            binder,
            from: 0,
            to: 1,
        }),
        within(Change::Mean {
            place: place(0, 0),
            old: Meaning::Nothing,
            new: Meaning::Printing(printing),
        }),
        within(Change::RemoveLayoutPage {
            binder,
            at: 1,
            page: large,
        }),
        Change::SwapLayout { binder, at: 0 },
        Change::SwapLayout { binder, at: 0 },
        Change::RenameDraft {
            binder,
            at: 0,
            old: "autumn".into(),
            new: "winter".into(),
        },
        Change::DropDraft {
            binder,
            at: 0,
            draft: draft("winter", vec![meant]),
        },
    ]
}

#[test]
fn every_kind_of_change_is_undone_by_its_inverse() {
    let mut collection = Collection::new();
    let mut stages = vec![collection.clone()];
    for change in one_of_each() {
        change
            .apply(&mut collection)
            .unwrap_or_else(|why| panic!("{change:?}: {why}"));
        stages.push(collection.clone());
    }
    for (change, before) in one_of_each().iter().zip(&stages).rev() {
        assert_eq!(change.inverse().inverse(), *change);
        change.inverse().apply(&mut collection).unwrap();
        assert!(same(&collection, before), "{change:?}");
    }
}

/// What [`one_of_each`] leaves, with a card in the first pocket and two loose ones.
fn fen() -> Collection {
    let mut collection = Collection::new();
    Change::apply_all(&one_of_each(), &mut collection).unwrap();
    let printing = PrintingId::new(SET, 0, 0);
    let seat = [
        Change::Acquire { printing, count: 1 },
        Change::Seat {
            place: place(0, 0),
            page: PageId(1),
            printing,
        },
    ];
    Change::apply_all(&seat, &mut collection).unwrap();
    collection
}

#[track_caller]
fn refused(change: Change, why: &Refused) {
    let mut collection = fen();
    assert_eq!(change.apply(&mut collection).as_ref(), Err(why));
    assert!(same(&collection, &fen()), "a trace was left");
}

#[test]
fn pockets_refuse_what_is_not_so() {
    let printing = PrintingId::new(SET, 0, 0);
    let lamplit = PrintingId::new(SET, 0, 1);
    let (page, full) = (PageId(1), place(0, 0));
    refused(
        Change::Seat {
            place: full,
            page,
            printing,
        },
        &Refused::PocketFilled {
            place: full,
            held: printing,
        },
    );
    refused(
        Change::Lift {
            place: full,
            page,
            printing: lamplit,
        },
        &Refused::PocketNotHolding {
            place: full,
            expected: lamplit,
        },
    );
    refused(
        Change::Lift {
            place: place(0, 1),
            page,
            printing,
        },
        &Refused::PocketNotHolding {
            place: place(0, 1),
            expected: printing,
        },
    );
    refused(
        Change::Seat {
            place: place(0, 1),
            page,
            printing: lamplit,
        },
        &Refused::TooFewLoose {
            printing: lamplit,
            loose: 0,
            asked: 1,
        },
    );
    refused(
        Change::Seat {
            place: place(0, 8),
            page,
            printing,
        },
        &Refused::NoSuchPlace(place(0, 8)),
    );
    refused(
        Change::Seat {
            place: place(0, 1),
            page: PageId(7),
            printing,
        },
        &Refused::Stale("the page's place"),
    );
    refused(
        Change::Seat {
            place: place(1, 0),
            page,
            printing,
        },
        &Refused::NoSuchPage(page),
    );
    let unknown = PrintingId::new(SET, 9, 0);
    refused(
        Change::Acquire {
            printing: unknown,
            count: 1,
        },
        &Refused::NoSuchPrinting(unknown),
    );
    refused(
        Change::PartWith { printing, count: 3 },
        &Refused::TooFewLoose {
            printing,
            loose: 2,
            asked: 3,
        },
    );
    refused(
        Change::Acquire {
            printing,
            count: limits::COPIES,
        },
        &Refused::TooManyCopies(printing),
    );
    refused(
        Change::Mean {
            place: full,
            old: Meaning::Blank,
            new: Meaning::Nothing,
        },
        &Refused::Stale("what the pocket is for"),
    );
}

#[test]
fn pages_and_binders_refuse_what_would_lose_cards() {
    let (binder, page, format) = (BinderId(1), PageId(1), PageFormat::new(2, 2, 2));
    refused(
        Change::RemovePage {
            binder,
            at: 0,
            page,
            format,
        },
        &Refused::PageNotEmpty(page),
    );
    refused(
        Change::RemoveBinder {
            binder,
            at: 0,
            spec: spec("marsh", RINGS),
        },
        &Refused::InUse("the binder"),
    );
    refused(
        Change::AddPage {
            binder,
            at: 0,
            page,
            format,
        },
        &Refused::PageTaken(page),
    );
    refused(
        Change::AddBinder {
            binder: BinderId(9),
            at: 0,
            spec: spec("marsh", RINGS),
        },
        &Refused::NameTaken("marsh".into()),
    );
    refused(
        Change::DropCards {
            set: SET,
            first: 0,
            cards: vec![card("1", 3)],
        },
        &Refused::InUse("a card"),
    );
    refused(
        Change::DropSet {
            set: SET,
            at: usize::from(SET.0),
            head: Box::new(fen().set(SET).unwrap().head().clone()),
        },
        &Refused::InUse("the set"),
    );
    refused(
        Change::EditCard {
            set: SET,
            card: 0,
            old: Box::new(card("1", 3)),
            new: Box::new(card("1", 2)),
        },
        &Refused::InUse("the card in that finish"),
    );
    refused(
        Change::AddCards {
            set: SET,
            first: 1,
            cards: vec![card("2", 1), card("1", 1)],
        },
        &Refused::NumberTaken("1".into()),
    );
}

#[test]
fn pages_of_a_fixed_binder_stay() {
    let mut collection = fen();
    let fixed = Change::EditBinder {
        binder: BinderId(1),
        old: spec("marsh", RINGS),
        new: spec("marsh", BinderKind::Fixed),
    };
    fixed.apply(&mut collection).unwrap();
    let mv = Change::MovePage {
        page: PageId(1),
        from: PagePlace::new(BinderId(1), 0),
        to: PagePlace::new(BinderId(1), 0),
    };
    assert_eq!(
        mv.apply(&mut collection),
        Err(Refused::PagesFixed(BinderId(1)))
    );
}

#[test]
fn codes_and_names_are_one_plain_word() {
    for code in [
        "",
        "two words",
        "a:b",
        "a;b",
        "a,b",
        "(a)",
        "a\"b",
        "a\nb",
        &"x".repeat(101),
    ] {
        let head = SetHead {
            code: code.into(),
            ..SetHead::default()
        };
        let change = Change::AddSet {
            set: SetId(1),
            at: usize::from(SetId(1).0),
            head: Box::new(head),
        };
        let answer = change.apply(&mut fen());
        assert!(matches!(answer, Err(Refused::Unfit(_))), "{code:?}");
        let change = Change::AddBinder {
            binder: BinderId(9),
            at: 0,
            spec: spec(code, RINGS),
        };
        let answer = change.apply(&mut fen());
        assert!(matches!(answer, Err(Refused::Unfit(_))), "{code:?}");
    }
}

/// A loose copy waits while a pocket is meant for it and open; without any such pocket, while no
/// copy is in a pocket. Common practice, no source.
#[test]
fn loose_copies_wait_while_there_is_somewhere_to_go() {
    let tally = |loose, pocketed, meant, in_place| Tally {
        loose,
        pocketed,
        meant,
        in_place,
        left_out: false,
    };
    for (tally, waiting, spares) in [
        (tally(0, 0, 1, 0), 0, 0),
        (tally(1, 0, 1, 0), 1, 0),
        (tally(3, 0, 1, 0), 1, 2),
        (tally(3, 0, 2, 0), 2, 1),
        (tally(2, 1, 1, 1), 0, 2),
        // The one in a pocket is misplaced: its own pocket is still open.
        (tally(2, 1, 1, 0), 1, 1),
        (tally(2, 0, 0, 0), 1, 1),
        (tally(2, 1, 0, 0), 0, 2),
    ] {
        assert_eq!(
            (tally.waiting(), tally.spares()),
            (waiting, spares),
            "{tally:?}"
        );
        // Of a run that is not collected only what a pocket is meant for has somewhere to go.
        let left_out = Tally {
            left_out: true,
            ..tally
        };
        let waiting = if tally.meant > 0 { waiting } else { 0 };
        assert_eq!(left_out.waiting(), waiting, "{left_out:?}");
        assert_eq!(left_out.waiting() + left_out.spares(), tally.loose);
    }
}

#[test]
fn a_finish_is_left_out_once_and_does_not_go_while_it_is() {
    let mut collection = fen();
    let (out, again) = (
        Change::LeaveOut {
            set: SET,
            finish: 0,
        },
        Change::Collect {
            set: SET,
            finish: 0,
        },
    );
    let stale = |answer| matches!(answer, Err(Refused::Stale(_)));
    assert!(stale(again.apply(&mut collection)));
    out.apply(&mut collection).unwrap();
    assert!(stale(out.apply(&mut collection)));
    let unknown = Change::LeaveOut {
        set: SET,
        finish: 9,
    };
    assert!(stale(unknown.apply(&mut collection)));
    Change::AddFinish {
        set: SET,
        finish: finish("gilded", "g"),
    }
    .apply(&mut collection)
    .unwrap();
    let last = collection.set(SET).unwrap().finishes().len() as u8 - 1;
    Change::LeaveOut {
        set: SET,
        finish: last,
    }
    .apply(&mut collection)
    .unwrap();
    let drop = Change::DropFinish {
        set: SET,
        finish: finish("gilded", "g"),
    };
    let answer = drop.apply(&mut collection);
    assert!(matches!(answer, Err(Refused::InUse(_))), "{answer:?}");
}

#[test]
fn a_set_in_the_middle_goes_and_comes_back_between_its_neighbours() {
    let mut collection = Collection::new();
    let head = |code: &str| {
        Box::new(SetHead {
            code: code.into(),
            ..SetHead::default()
        })
    };
    let codes = |collection: &Collection| -> Vec<String> {
        let sets = collection.sets();
        sets.map(|(_, set)| set.code().to_owned()).collect()
    };
    let in_order = |collection: &Collection| collection.sets().is_sorted_by_key(|(id, _)| id);
    for (at, code) in ["A", "B", "C", "D"].into_iter().enumerate() {
        let set = collection.fresh_sets(at).next().unwrap();
        let head = head(code);
        Change::AddSet { set, at, head }
            .apply(&mut collection)
            .unwrap();
    }
    let drop = |collection: &mut Collection, code: &str| {
        let set = collection.set_by_code(code).unwrap();
        let at = collection.set_place(set).unwrap();
        let head = head(code);
        let change = Change::DropSet { set, at, head };
        change.apply(collection).unwrap();
        at
    };
    let add = |collection: &mut Collection, code: &str, at: usize| {
        let set = collection.fresh_sets(at).next().unwrap();
        let head = head(code);
        Change::AddSet { set, at, head }.apply(collection).unwrap();
    };
    let at = drop(&mut collection, "B");
    assert_eq!(codes(&collection), ["A", "C", "D"]);
    add(&mut collection, "B", at);
    assert_eq!(codes(&collection), ["A", "B", "C", "D"]);
    assert!(in_order(&collection));
    // One that comes in later is the last, also where others have gone.
    drop(&mut collection, "A");
    let at = drop(&mut collection, "D");
    add(&mut collection, "E", at);
    assert_eq!(codes(&collection), ["B", "C", "E"]);
    assert!(in_order(&collection));
    assert_eq!(collection.check(), Vec::new());
    // An id that another has, or a place that is not there.
    let taken = collection.set_by_code("C").unwrap();
    for (set, at) in [(taken, 3), (SetId(4), 9), (SetId(40), 3)] {
        let head = head("F");
        let change = Change::AddSet { set, at, head };
        let refused = change.apply(&mut collection);
        assert_eq!(refused, Err(Refused::Stale("the number of sets")));
    }
}

#[test]
fn a_set_that_comes_whole_has_no_more_rarities_and_no_longer_ones_than_one_that_grows() {
    let build = |rarities: Vec<Box<str>>| {
        let parts = SetParts {
            head: SetHead {
                code: "FEN".into(),
                ..SetHead::default()
            },
            rarities,
            ..SetParts::default()
        };
        Builder::new().set(parts)
    };
    let grow = |rarities: &[Box<str>]| {
        let mut made = Collection::new();
        let head = Box::new(SetHead {
            code: "FEN".into(),
            ..SetHead::default()
        });
        Change::AddSet {
            set: SET,
            at: 0,
            head,
        }
        .apply(&mut made)?;
        rarities.iter().try_for_each(|name| {
            let name = name.clone();
            Change::AddRarity { set: SET, name }.apply(&mut made)
        })
    };
    let many = |count: usize| -> Vec<Box<str>> {
        (0..count).map(|at| format!("rarity {at}").into()).collect()
    };
    assert!(build(many(limits::RARITIES)).is_ok());
    for refused in [
        many(limits::RARITIES + 1),
        vec!["rare".into(), "rare".into()],
        vec!["".into()],
        vec!["r".repeat(limits::WORD + 1).into()],
    ] {
        let grown = grow(&refused);
        assert!(matches!(grown, Err(Refused::Unfit(_))), "{grown:?}");
        assert_eq!(build(refused).map(|_| ()), grown);
    }
    // More than could ever be held against each other.
    assert!(build(many(1_000_000)).is_err());
}

#[test]
fn copies_in_pockets_count_towards_the_most_that_a_whole_collection_may_have() {
    let mut builder = Builder::new();
    let parts = SetParts {
        head: SetHead {
            code: "FEN".into(),
            ..SetHead::default()
        },
        finishes: vec![*finish("regular", "")],
        rarities: Vec::new(),
        cards: vec![card("1", 1)],
    };
    let set = builder.set(parts).unwrap();
    let printing = PrintingId::new(set, 0, 0);
    let page = (PageId(1), PageFormat::new(1, 1, 1), [Some(printing)].into());
    builder
        .binder(
            BinderId(1),
            *spec("FEN", RINGS),
            vec![page],
            Layout::default(),
        )
        .unwrap();
    builder.loose(printing, limits::COPIES).unwrap();
    let made = builder.finish();
    assert_eq!(made.err(), Some(Refused::TooManyCopies(printing)));
}
