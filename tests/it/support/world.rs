//! A small invented collection in which everything unusual happens once.

use ringbound::model::{
    BinderId, BinderKind, BinderSpec, Card, CardSize, Change, Collection, Finish, LayoutPage,
    Meaning, Opening, PageFormat, PageId, Place, PrintingId, RingShape, SetHead, SetId, Step,
};
use ringbound::store::{Position, write_snapshot};

pub(crate) const MOSS: SetId = SetId(0);
pub(crate) const TIN: SetId = SetId(1);
pub(crate) const FIRST: BinderId = BinderId(1);

/// The state of a collection as bytes: two collections are the same if these are.
pub(crate) fn state(collection: &Collection) -> String {
    String::from_utf8(write_snapshot(collection, Position::default())).unwrap()
}

pub(crate) fn moss(card: u32, finish: u8) -> PrintingId {
    PrintingId::new(MOSS, card, finish)
}

pub(crate) fn at(page: usize, pocket: usize) -> Place {
    Place {
        binder: FIRST,
        page,
        pocket,
    }
}

pub(crate) fn acquire(printing: PrintingId, count: u32) -> Step {
    Step::new(
        format!("{count} copies"),
        vec![Change::Acquire { printing, count }],
    )
}

pub(crate) fn head(code: &str) -> Box<SetHead> {
    Box::new(SetHead {
        code: code.into(),
        title: format!("The {code} season").into(),
        symbol: "◆".into(),
        shelf: "7".into(),
    })
}

fn finish(name: &str, mark: &str) -> Box<Finish> {
    Box::new(Finish {
        name: name.into(),
        mark: mark.into(),
    })
}

fn card(number: &str, finishes: u64) -> Card {
    Card {
        number: number.into(),
        name: "Moss Owl".into(),
        rarity: Some(0),
        size: None,
        finishes,
    }
}

/// Two sets; the first has the numbers 1, 2, 3a and "Q 4", regular and reverse.
pub(crate) fn sets() -> Step {
    let wide = CardSize {
        width: 1275,
        height: 890,
    };
    Step::new(
        "two sets",
        vec![
            Change::AddSet {
                set: MOSS,
                at: usize::from(MOSS.0),
                head: head("MIR"),
            },
            Change::AddFinish {
                set: MOSS,
                finish: finish("regular", ""),
            },
            Change::AddFinish {
                set: MOSS,
                finish: finish("reverse", "r"),
            },
            Change::AddRarity {
                set: MOSS,
                name: "common".into(),
            },
            Change::AddCards {
                set: MOSS,
                first: 0,
                cards: vec![card("1", 3), card("2", 3), card("3a", 1), card("Q 4", 3)],
            },
            Change::AddSet {
                set: TIN,
                at: usize::from(TIN.0),
                head: head("TIN"),
            },
            Change::AddFinish {
                set: TIN,
                finish: finish("regular", ""),
            },
            Change::AddCards {
                set: TIN,
                first: 0,
                cards: vec![Card {
                    rarity: None,
                    size: Some(wide),
                    ..card("1", 1)
                }],
            },
        ],
    )
}

/// A binder of two pages; the layout has a gap, a blank, a keepsake and a number with a space.
pub(crate) fn binder() -> Step {
    let format = PageFormat::new(2, 2, 1);
    let top = PageFormat {
        opening: Opening::Top,
        pocket_width: 645,
        pocket_height: 890,
        ..format
    };
    let mut first = LayoutPage::empty(format);
    for (pocket, meaning) in [
        Meaning::Printing(moss(0, 0)),
        Meaning::Printing(moss(3, 1)),
        Meaning::Blank,
        Meaning::Keepsake("a \"ticket\"".into()),
    ]
    .into_iter()
    .enumerate()
    {
        first.set_meaning(pocket, meaning);
    }
    let mut second = LayoutPage::empty(top);
    second.set_meaning(1, Meaning::Printing(PrintingId::new(TIN, 0, 0)));
    let spec = BinderSpec {
        name: "moss".into(),
        title: "Moss".into(),
        set: Some(MOSS),
        kind: BinderKind::Rings {
            size: 25,
            shape: RingShape::D,
        },
        front_matter: vec!["a contents sheet".into()],
    };
    let page = |at, page, format| Change::AddPage {
        binder: FIRST,
        at,
        page: PageId(page),
        format,
    };
    let meant = |at, page: LayoutPage| Change::AddLayoutPage {
        binder: FIRST,
        at,
        page: Box::new(page),
    };
    Step::new(
        "a binder",
        vec![
            Change::AddBinder {
                binder: FIRST,
                at: 0,
                spec: Box::new(spec),
            },
            page(0, 1, format),
            page(1, 2, top),
            meant(0, first),
            meant(1, second),
        ],
    )
}

/// One card in its place, one misplaced, one of the other set, some loose.
pub(crate) fn cards() -> Step {
    let seat = |page: usize, pocket, printing| Change::Seat {
        place: at(page, pocket),
        page: PageId(page as u32 + 1),
        printing,
    };
    let tin = PrintingId::new(TIN, 0, 0);
    let acquire = |printing, count| Change::Acquire { printing, count };
    Step::new(
        "some cards",
        vec![
            acquire(moss(0, 0), 3),
            acquire(moss(3, 1), 1),
            acquire(tin, 1),
            seat(0, 0, moss(0, 0)),
            seat(0, 2, moss(3, 1)),
            seat(1, 0, moss(0, 0)),
            seat(1, 1, tin),
        ],
    )
}

/// All of it.
pub(crate) fn steps() -> Vec<Step> {
    vec![sets(), binder(), cards()]
}

pub(crate) fn collection() -> Collection {
    let mut made = Collection::new();
    for step in steps() {
        Change::apply_all(&step.changes, &mut made).unwrap();
    }
    made
}
