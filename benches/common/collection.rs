//! A seeded collection of any size.

use ringbound::model::{
    BinderId, BinderKind, BinderSpec, Builder, Card, Collection, Finish, Layout, LayoutPage,
    Meaning, PageFormat, PageId, PageParts, PrintingId, RingShape, SetHead, SetId, SetParts,
};

use super::random::Random;

const CARDS: u32 = 250;
const FINISHES: [(&str, &str); 2] = [("regular", ""), ("reverse", "r")];
const RARITIES: [&str; 4] = ["common", "uncommon", "rare", "pearl"];
const FIRST: [&str; 12] = [
    "Moss", "Tin", "Lantern", "River", "Quiet", "Amber", "Paper", "North", "Copper", "Salt",
    "Hollow", "Early",
];
const LAST: [&str; 12] = [
    "Owl", "Kettle", "Warden", "Finch", "Harbour", "Mill", "Weaver", "Badger", "Comet", "Orchard",
    "Bell", "Heron",
];

/// Every set in some binders of its own, as a trader would keep it, pages of 3 x 3 on both sides,
/// a run for each finish; 92 of 100 pockets filled, 1 of 200 with a card of another place, every
/// tenth printing with spares.
pub(crate) fn collection(pockets: usize) -> Collection {
    let mut random = Random(20_251_125);
    let mut builder = Builder::new();
    let format = PageFormat::new(3, 3, 2);
    let volumes = if pockets > 100_000 { 7 } else { 2 };
    let (mut left, mut page, mut number) = (pockets, 0, 0u32);
    while left > 0 {
        number += 1;
        let set = builder.set(set(number, &mut random)).expect("a set");
        let runs = (0..2u8).flat_map(|f| (0..CARDS).map(move |card| (card, f)));
        let there = |(card, finish): &(u32, u8)| *finish == 0 || card % 3 != 0;
        let runs = runs.filter(there);
        let runs: Vec<_> = runs
            .map(|(card, finish)| PrintingId::new(set, card, finish))
            .collect();
        for volume in 1..=volumes {
            let runs = &runs[..runs.len().min(left)];
            if runs.is_empty() {
                break;
            }
            left -= runs.len();
            let (pages, layout) = binder(runs, format, &mut page, &mut random);
            let spec = BinderSpec {
                name: format!("binder-{number}-{volume}").into(),
                title: format!("Season {number}, volume {volume}").into(),
                set: Some(set),
                kind: BinderKind::Rings {
                    size: 40,
                    shape: RingShape::D,
                },
                front_matter: Vec::new(),
            };
            let id = BinderId(number * 10 + volume);
            builder.binder(id, spec, pages, layout).expect("a binder");
        }
        for printing in runs.iter().step_by(10) {
            let copies = 1 + random.below(3) as u32;
            builder.loose(*printing, copies).expect("loose copies");
        }
    }
    builder.finish().expect("a whole collection")
}

pub(crate) fn set(number: u32, random: &mut Random) -> SetParts {
    let card = |at: u32| Card {
        number: (at + 1).to_string().into(),
        name: format!(
            "{} {}",
            FIRST[random.below(12) as usize],
            LAST[random.below(12) as usize]
        )
        .into(),
        rarity: Some(random.below(4) as u16),
        size: None,
        finishes: if at.is_multiple_of(3) { 1 } else { 3 },
    };
    SetParts {
        head: SetHead {
            code: format!("S{number:03}").into(),
            title: format!("Season {number}").into(),
            symbol: "◆".into(),
            shelf: number.to_string().into(),
        },
        finishes: FINISHES
            .iter()
            .map(|(name, mark)| Finish {
                name: (*name).into(),
                mark: (*mark).into(),
            })
            .collect(),
        rarities: RARITIES.iter().map(|name| (*name).into()).collect(),
        cards: (0..CARDS).map(card).collect(),
    }
}

fn binder(
    runs: &[PrintingId],
    format: PageFormat,
    page: &mut u32,
    random: &mut Random,
) -> (Vec<PageParts>, Layout) {
    let (mut pages, mut layout) = (Vec::new(), Layout::default());
    for chunk in runs.chunks(format.pockets()) {
        *page += 1;
        let mut meant = LayoutPage::empty(format);
        let mut cards = vec![None; format.pockets()];
        for (at, printing) in chunk.iter().enumerate() {
            meant.set_meaning(at, Meaning::Printing(*printing));
            cards[at] = match random.below(200) {
                0 => Some(runs[random.below(runs.len() as u64) as usize]),
                1..184 => Some(*printing),
                _ => None,
            };
        }
        pages.push((PageId(*page), format, cards.into()));
        layout.pages.push(meant);
    }
    (pages, layout)
}

/// The set that the first steps of a bench are about.
pub(crate) const FIRST_SET: SetId = SetId(0);
