//! Sections, and what a hand did, over a small invented set.

mod exceptions;
mod pages;
mod written;

use super::*;
use crate::model::{
    BinderId, BinderKind, BinderSpec, Card, CardSize, Change, Collection, Finish, Layout,
    LayoutPage, Meaning, PageFormat, PrintingId, RingShape, Rules, SetHead, SetId,
};

const OWN: Option<SetId> = Some(SetId(0));
const BINDER: BinderId = BinderId(1);

/// A set of so many cards in two finishes, each fifth of them rare, with a binder. The last card
/// is larger than usual.
fn set_of(cards: u32) -> Collection {
    set_with_rarities(cards, ["common", "rare"])
}

fn set_with_rarities(cards: u32, rarities: [&str; 2]) -> Collection {
    let mut changes = vec![
        Change::AddSet {
            set: SetId(0),
            at: usize::from(SetId(0).0),
            head: Box::new(SetHead {
                code: "FEN".into(),
                ..SetHead::default()
            }),
        },
        Change::AddBinder {
            binder: BINDER,
            at: 0,
            spec: Box::new(BinderSpec {
                name: "FEN".into(),
                title: "The Fen".into(),
                set: OWN,
                kind: BinderKind::Rings {
                    size: 25,
                    shape: RingShape::D,
                },
                front_matter: Vec::new(),
            }),
        },
    ];
    for (name, mark) in [("regular", ""), ("reverse", "r")] {
        changes.push(Change::AddFinish {
            set: SetId(0),
            finish: Box::new(Finish {
                name: name.into(),
                mark: mark.into(),
            }),
        });
    }
    for name in rarities {
        changes.push(Change::AddRarity {
            set: SetId(0),
            name: name.into(),
        });
    }
    changes.push(Change::AddCards {
        set: SetId(0),
        first: 0,
        cards: (0..cards).map(|at| card(at, cards)).collect(),
    });
    let mut collection = Collection::new();
    Change::apply_all(&changes, &mut collection).unwrap();
    collection
}

fn card(at: u32, of: u32) -> Card {
    Card {
        number: (at + 1).to_string().into(),
        name: format!("Bird {}", of - at).into(),
        rarity: Some(u16::from(at % 5 == 4)),
        size: (at + 1 == of).then_some(CardSize {
            width: 1270,
            height: 889,
        }),
        finishes: 0b11,
    }
}

fn rules(lines: &[&str]) -> Rules {
    lines.iter().map(|line| Box::from(*line)).collect()
}

/// The card of this number, from 1, in this finish.
fn p(number: u32, finish: u8) -> PrintingId {
    PrintingId::new(SetId(0), number - 1, finish)
}

/// A page as numbers: `4`, `4r`, `-` for nothing yet, `x` for blank, `"…"` for a keepsake.
fn drawn(page: &LayoutPage) -> String {
    let pocket = |at| match page.meaning(at) {
        Meaning::Nothing => "-".to_owned(),
        Meaning::Blank => "x".to_owned(),
        Meaning::Keepsake(words) => format!("\"{words}\""),
        Meaning::Printing(id) => {
            let mark = if id.finish() == 0 { "" } else { "r" };
            format!("{}{mark}", id.card() + 1)
        }
    };
    let pockets: Vec<_> = (0..page.format().pockets()).map(pocket).collect();
    let side = page.format().per_side();
    let sides: Vec<_> = pockets.chunks(side).map(|side| side.join(" ")).collect();
    sides.join(" / ")
}

fn drawn_all(pages: &[LayoutPage]) -> Vec<String> {
    pages.iter().map(drawn).collect()
}

fn laid(collection: &Collection, lines: &[&str]) -> LaidOut {
    lay_out(collection, OWN, &rules(lines))
}
