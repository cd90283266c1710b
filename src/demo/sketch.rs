//! The invented sets: their heads, and how their checklists are written.

use super::words::{self, Theme};
use crate::model::{Card, CardSize, Change, Finish, SetHead, SetId, Step};

/// Which cards come in the second finish of a set.
#[derive(Clone, Copy)]
pub(super) enum Second {
    Every,
    /// The last cards of the numbered run.
    Last(usize),
}

/// A set in outline.
pub(super) struct Sketch {
    code: &'static str,
    title: &'static str,
    symbol: &'static str,
    shelf: &'static str,
    theme: Theme,
    /// The first name it takes from its theme.
    start: usize,
    /// Cards of the numbered run.
    count: usize,
    /// What follows the number, `/100` for instance.
    tail: &'static str,
    /// Name and mark of the second finish, if it has one.
    second: Option<(&'static str, &'static str, Second)>,
    /// How many of [`RARITIES`] it names; 0 for a set that tells none.
    rarities: usize,
    extras: &'static [Extra],
}

/// A card with a number or name of its own. One whose number stands in the numbered run already
/// gives that card its name.
struct Extra {
    number: &'static str,
    /// Comes after this card of the numbered run; 0 for the end of the checklist.
    after: usize,
    name: &'static str,
    /// Tenths of a millimetre.
    size: Option<(u32, u32)>,
}

const RARITIES: [&str; 4] = ["common", "scarce", "rare", "heirloom"];

const fn extra(number: &'static str, after: usize, name: &'static str) -> Extra {
    Extra {
        number,
        after,
        name,
        size: None,
    }
}

const PLAIN: Sketch = Sketch {
    code: "",
    title: "",
    symbol: "",
    shelf: "",
    theme: Theme::Wood,
    start: 0,
    count: 0,
    tail: "",
    second: None,
    rarities: 0,
    extras: &[],
};

pub(super) const SETS: &[Sketch] = &[
    Sketch {
        code: "WOOD",
        title: "Register of the Long Wood",
        symbol: "✦",
        shelf: "1",
        count: 300,
        second: Some(("reverse", "r", Second::Every)),
        rarities: 4,
        ..PLAIN
    },
    Sketch {
        code: "MOSS",
        title: "Moss Hall",
        symbol: "✥",
        shelf: "2",
        start: 312,
        count: 130,
        second: Some(("reverse", "r", Second::Every)),
        rarities: 4,
        extras: &[
            extra("12", 0, "Moss Owl"),
            extra("12a", 12, "Moss Owl, Asleep"),
            extra("77", 0, "Сова изо мха"),
            extra("103", 0, "Zaunkönig im Gewölbe"),
            Extra {
                number: "P1",
                after: 0,
                name: "The Hall at Dusk",
                size: Some((1270, 1778)),
            },
            extra("P2", 0, "Doorkeeper Snail"),
            extra("P3", 0, "A Seat by the Stove"),
        ],
        ..PLAIN
    },
    Sketch {
        code: "HEDGE",
        title: "The Hedgerow Almanac",
        symbol: "✿",
        shelf: "3",
        start: 450,
        count: 54,
        rarities: 3,
        ..PLAIN
    },
    Sketch {
        code: "LAMP",
        title: "A Hundred Lamps",
        symbol: "☾",
        shelf: "4",
        theme: Theme::Town,
        count: 101,
        tail: "/100",
        second: Some(("lamplit", "e", Second::Last(21))),
        rarities: 4,
        extras: &[extra("100/100", 0, "The Hundredth Lamp")],
        ..PLAIN
    },
    Sketch {
        code: "TIDE",
        title: "Tidewrack Notes",
        symbol: "≈",
        shelf: "5",
        theme: Theme::Shore,
        count: 60,
        rarities: 3,
        extras: &[
            extra("9", 0, "潮だまりの番人"),
            extra("17", 0, "Épave à la dérive"),
            extra("23", 0, "灯台の猫と長い長い夜"),
            extra("38", 0, "Паромщик в тумане"),
            extra("52", 0, "갯벌의 게"),
        ],
        ..PLAIN
    },
    Sketch {
        code: "ORCH",
        title: "Orchard Wakes",
        symbol: "❦",
        shelf: "6",
        start: 510,
        count: 72,
        rarities: 3,
        ..PLAIN
    },
    Sketch {
        code: "STONE",
        title: "The Nine Stones",
        symbol: "♜",
        shelf: "7",
        count: 9,
        extras: &[
            extra("1", 0, "The Leaning Stone"),
            extra("2", 0, "The Stone with a Nest"),
            extra("3", 0, "The Humming Stone"),
            extra("4", 0, "The Stone That Moved"),
            extra("5", 0, "The Table Stone"),
            extra("6", 0, "The Split Stone"),
            extra("7", 0, "The Stone in the Pond"),
            extra("8", 0, "The Warm Stone"),
            extra("9", 0, "The Far Stone"),
        ],
        ..PLAIN
    },
    Sketch {
        code: "KITE",
        title: "Kite Weather",
        symbol: "✤",
        shelf: "8",
        theme: Theme::Shore,
        start: 240,
        count: 16,
        rarities: 2,
        ..PLAIN
    },
    Sketch {
        code: "MARKET",
        title: "The Lantern Market",
        symbol: "☼",
        shelf: "9",
        theme: Theme::Town,
        start: 200,
        count: 48,
        second: Some(("lamplit", "e", Second::Every)),
        rarities: 4,
        extras: &[extra("31", 0, "Café aux Étoiles")],
        ..PLAIN
    },
    Sketch {
        code: "POST",
        title: "The Winter Post",
        symbol: "✺",
        shelf: "10",
        theme: Theme::Town,
        start: 400,
        count: 81,
        rarities: 3,
        ..PLAIN
    },
    Sketch {
        code: "FERRY",
        title: "Songs of the Ferry",
        symbol: "♪",
        theme: Theme::Shore,
        start: 330,
        count: 12,
        ..PLAIN
    },
];

/// The set with its whole checklist.
pub(super) fn step(set: SetId, sketch: &Sketch) -> Step {
    let head = SetHead {
        code: sketch.code.into(),
        title: sketch.title.into(),
        symbol: sketch.symbol.into(),
        shelf: sketch.shelf.into(),
    };
    let finish = |name: &str, mark: &str| Change::AddFinish {
        set,
        finish: Box::new(Finish {
            name: name.into(),
            mark: mark.into(),
        }),
    };
    let mut changes = vec![
        Change::AddSet {
            set,
            at: usize::from(set.0),
            head: Box::new(head),
        },
        finish("regular", ""),
    ];
    if let Some((name, mark, _)) = sketch.second {
        changes.push(finish(name, mark));
    }
    changes.extend(
        RARITIES[..sketch.rarities]
            .iter()
            .map(|name| Change::AddRarity {
                set,
                name: (*name).into(),
            }),
    );
    changes.push(Change::AddCards {
        set,
        first: 0,
        cards: checklist(sketch),
    });
    Step::new(format!("checklist of {}", sketch.title), changes)
}

fn checklist(sketch: &Sketch) -> Vec<Card> {
    let mut cards = Vec::new();
    for at in 1..=sketch.count {
        let number = format!("{at}{}", sketch.tail);
        let own = sketch.extras.iter().find(|extra| extra.number == number);
        let name = match own {
            Some(extra) => extra.name.into(),
            None => words::name(sketch.theme, sketch.start + at),
        };
        let second = match sketch.second {
            Some((_, _, Second::Every)) => true,
            Some((_, _, Second::Last(count))) => at + count > sketch.count,
            None => false,
        };
        cards.push(Card {
            number: number.into(),
            name: name.into(),
            rarity: rarity(sketch.rarities, at),
            size: None,
            finishes: if second { 0b11 } else { 0b01 },
        });
        cards.extend((sketch.extras.iter().filter(|e| e.after == at)).map(single));
    }
    let numbered = |extra: &&Extra| {
        let own = |card: &Card| *card.number == *extra.number;
        extra.after == 0 && !cards.iter().any(own)
    };
    let last: Vec<_> = (sketch.extras.iter().filter(numbered).map(single)).collect();
    cards.extend(last);
    cards
}

/// A card outside the numbered run: regular only, and no rarity is told.
fn single(extra: &Extra) -> Card {
    Card {
        number: extra.number.into(),
        name: extra.name.into(),
        rarity: None,
        size: (extra.size).map(|(width, height)| CardSize { width, height }),
        finishes: 0b01,
    }
}

/// Six of ten cards are common; the last of twenty is the rarest that the set knows.
fn rarity(known: usize, at: usize) -> Option<u16> {
    let wanted = match at % 20 {
        0 => 3,
        9 | 10 | 19 => 2,
        4 | 7 | 14 | 17 => 1,
        _ => 0,
    };
    u16::try_from(wanted.min(known.checked_sub(1)?)).ok()
}
