//! Random steps over all changes: most fit the collection that they are made for, some do not.

use ringbound::model::{
    Binder, BinderId, BinderKind, BinderSpec, Card, CardSize, Change, Collection, Finish,
    LayoutPage, Meaning, Opening, Page, PageFormat, PageId, PagePlace, Place, PrintingId,
    RingShape, SetHead, SetId,
};

use super::dice::Dice;
use super::drafts;

const CODES: [&str; 8] = ["MIR", "mvl", "Ä1", "x\\y", "S.2", "☂", "A-B", "Z"];
/// Ambiguous, escaped, bidirectional and plain ones.
const NUMBERS: [&str; 18] = [
    "1",
    "2",
    "3",
    "12",
    "12a",
    "P-3",
    "TG 12",
    "a:b",
    "(7)",
    "\"q\"",
    "1/9",
    "\u{202e}x",
    "é",
    "0012",
    "\\",
    " ",
    "7)",
    "\u{7f}",
];
const TEXTS: [&str; 6] = [
    "",
    "Moss Owl",
    "Tin \"Kettle\"",
    "a\nb",
    "🦉",
    "\u{2028}\u{85}\0",
];
const MARKS: [&str; 5] = ["", "r", "ß", "2", "xx"];
const NAMES: [&str; 5] = ["regular", "reverse", "pearl inlay", "2", "ÄÖ"];
const RARITIES: [&str; 4] = ["common", "rare", "ultra rare", "*"];

/// A step for this collection.
pub(crate) fn step(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let kinds = 1 + dice.below(3);
    let mut changes = Vec::new();
    let mut after = on.clone();
    for _ in 0..kinds {
        for change in propose(&after, dice) {
            // What comes later in a step is made for what stands earlier in it.
            if change.apply(&mut after).is_err() && !dice.once_in(40) {
                continue;
            }
            changes.push(change);
        }
    }
    changes
}

/// Some changes that belong together; they may be refused.
pub(crate) fn propose(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    match dice.below(36) {
        0 | 1 => new_set(on, dice),
        2 => set(on, dice).map_or_else(Vec::new, |set| vec![more_cards(on, set, dice)]),
        3 | 4 => checklist(on, dice),
        5 => drop_end(on, dice),
        6..9 => copies(on, dice),
        9 => new_binder(on, dice),
        10 | 33 => binder_itself(on, dice),
        11..14 => pages(on, dice),
        14..20 => pockets(on, dice),
        20..23 => layout_pages(on, dice),
        28..30 => drafts::drafts(on, dice),
        30..33 => drafts::in_draft(on, dice),
        34..36 => drafts::sections(on, dice),
        _ => meaning(on, dice),
    }
}

fn head(dice: &mut Dice) -> SetHead {
    SetHead {
        code: dice.text(&CODES),
        title: dice.text(&TEXTS),
        symbol: dice.text(&["", "◆", "☂"]),
        shelf: dice.text(&["", "7", "12b"]),
    }
}

fn new_set(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    // Seldom not as the last: so they come when a set is taken out and that is taken back.
    let at = match dice.once_in(4) {
        true => dice.below(on.sets().len() + 1),
        false => on.sets().len(),
    };
    let set = on.fresh_sets(at).next().unwrap();
    let mut changes = vec![Change::AddSet {
        set,
        at,
        head: Box::new(head(dice)),
    }];
    for at in 0..1 + dice.below(2) {
        changes.push(add_finish(set, NAMES[at], MARKS[at]));
    }
    if dice.once_in(2) {
        changes.push(Change::AddRarity {
            set,
            name: RARITIES[0].into(),
        });
    }
    let cards = (0..dice.below(5)).map(|at| card(NUMBERS[at * 3], 1, dice));
    changes.push(Change::AddCards {
        set,
        first: 0,
        cards: cards.collect(),
    });
    changes
}

fn add_finish(set: SetId, name: &str, mark: &str) -> Change {
    Change::AddFinish {
        set,
        finish: Box::new(Finish {
            name: name.into(),
            mark: mark.into(),
        }),
    }
}

fn card(number: &str, finishes: u64, dice: &mut Dice) -> Card {
    let size = CardSize {
        width: 635,
        height: 881 + dice.below(2) as u32 * 9,
    };
    Card {
        number: number.into(),
        name: dice.text(&TEXTS).into(),
        rarity: dice.once_in(3).then_some(0),
        size: dice.once_in(5).then_some(size),
        finishes,
    }
}

fn set(on: &Collection, dice: &mut Dice) -> Option<SetId> {
    let sets = on.sets().len();
    (sets > 0).then(|| SetId(dice.below(sets) as u16))
}

fn bits(on: &Collection, set: SetId, dice: &mut Dice) -> u64 {
    let finishes = on.set(set).map_or(1, |set| set.finishes().len());
    1 + dice.below(((1 << finishes) - 1).max(1)) as u64
}

fn more_cards(on: &Collection, set: SetId, dice: &mut Dice) -> Change {
    let first = on.set(set).map_or(0, |set| set.cards().len()) as u32;
    let mut cards = Vec::new();
    for _ in 0..1 + dice.below(2) {
        let (number, finishes) = (dice.text(&NUMBERS), bits(on, set, dice).max(1));
        cards.push(card(&number, finishes, dice));
    }
    Change::AddCards { set, first, cards }
}

fn checklist(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some(id) = set(on, dice) else {
        return Vec::new();
    };
    let Some(set) = on.set(id) else {
        return Vec::new();
    };
    let finish = dice.below(set.finishes().len().max(1)) as u8;
    vec![match dice.below(6) {
        4 | 5 if set.is_left_out(finish) => Change::Collect { set: id, finish },
        4 | 5 => Change::LeaveOut { set: id, finish },
        0 => Change::EditSet {
            set: id,
            old: Box::new(set.head().clone()),
            new: Box::new(head(dice)),
        },
        1 => add_finish(id, &dice.text(&NAMES), &dice.text(&MARKS)),
        2 => Change::AddRarity {
            set: id,
            name: dice.text(&RARITIES),
        },
        _ => {
            let at = dice.below(set.cards().len().max(1));
            let Some(old) = set.card(at as u32) else {
                return Vec::new();
            };
            let new = card(&old.number, bits(on, id, dice), dice);
            Change::EditCard {
                set: id,
                card: at as u32,
                old: Box::new(old.clone()),
                new: Box::new(new),
            }
        }
    }]
}

/// The end of a checklist, finish by finish, and at last the set.
fn drop_end(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let at = dice.below(on.sets().len() + 1);
    let Some((id, set)) = on.sets().nth(at) else {
        return Vec::new();
    };
    let mut changes = Vec::new();
    let from = dice.below(set.cards().len() + 1);
    changes.push(Change::DropCards {
        set: id,
        first: from as u32,
        cards: set.cards()[from..].to_vec(),
    });
    let finishes = set
        .finishes()
        .iter()
        .rev()
        .map(|finish| Change::DropFinish {
            set: id,
            finish: Box::new(finish.clone()),
        });
    let rarities = set.rarities().iter().rev().map(|name| Change::DropRarity {
        set: id,
        name: name.clone(),
    });
    changes.extend(finishes.chain(rarities).take(dice.below(6)));
    changes.push(Change::DropSet {
        set: id,
        at,
        head: Box::new(set.head().clone()),
    });
    changes
}

fn printing(on: &Collection, dice: &mut Dice) -> Option<PrintingId> {
    let all: Vec<_> = on.sets().flat_map(|(id, set)| set.printings(id)).collect();
    dice.pick(&all).copied()
}

fn loose(on: &Collection, dice: &mut Dice) -> Option<PrintingId> {
    let all = on.sets().flat_map(|(id, set)| set.printings(id));
    let loose: Vec<_> = all
        .filter(|printing| on.tally(*printing).loose > 0)
        .collect();
    dice.pick(&loose).copied()
}

fn copies(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let change = if dice.once_in(4) {
        loose(on, dice).map(|printing| Change::PartWith { printing, count: 1 })
    } else {
        let count = dice.below(4) as u32;
        printing(on, dice).map(|printing| Change::Acquire { printing, count })
    };
    change.into_iter().collect()
}

fn spec(on: &Collection, dice: &mut Dice) -> BinderSpec {
    BinderSpec {
        name: dice.text(&["one", "two", "three", "vier", "fünf"]),
        title: dice.text(&TEXTS),
        set: set(on, dice).filter(|_| !dice.once_in(3)),
        kind: match dice.below(4) {
            0 => BinderKind::Fixed,
            1 => BinderKind::Rings {
                size: 0,
                shape: RingShape::Round,
            },
            _ => BinderKind::Rings {
                size: 25,
                shape: RingShape::D,
            },
        },
        front_matter: (0..dice.below(3)).map(|_| dice.text(&TEXTS)).collect(),
    }
}

fn new_binder(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    vec![Change::AddBinder {
        binder: on.fresh_binder(),
        at: dice.below(on.shelf().len() + 1),
        spec: Box::new(spec(on, dice)),
    }]
}

pub(crate) fn binder(on: &Collection, dice: &mut Dice) -> Option<(BinderId, usize)> {
    let all: Vec<_> = on.shelf().map(Binder::id).collect();
    let at = dice.below(all.len().max(1));
    all.get(at).map(|id| (*id, at))
}

fn binder_itself(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((id, at)) = binder(on, dice) else {
        return new_binder(on, dice);
    };
    let old = on.binder(id).map(|binder| Box::new(binder.spec().clone()));
    let Some(old) = old else {
        return Vec::new();
    };
    vec![match dice.below(3) {
        0 => Change::MoveBinder {
            binder: id,
            from: at,
            to: dice.below(on.shelf().len()),
        },
        1 => Change::RemoveBinder {
            binder: id,
            at,
            spec: old,
        },
        _ => Change::EditBinder {
            binder: id,
            old,
            new: Box::new(spec(on, dice)),
        },
    }]
}

pub(crate) fn format(dice: &mut Dice) -> PageFormat {
    let sides = 1 + dice.below(2) as u8;
    let mut format = PageFormat::new(2, 2 - u8::from(dice.once_in(4)), sides);
    if dice.once_in(4) {
        format.opening = Opening::Top;
        format.pocket_width = 645;
        format.pocket_height = 890;
        format.shared = sides == 2;
    }
    format
}

fn pages(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((id, _)) = binder(on, dice) else {
        return new_binder(on, dice);
    };
    let pages = on.binder(id).map_or(&[][..], |binder| binder.pages());
    let at = dice.below(pages.len().max(1));
    let Some(page) = pages.get(at).filter(|_| !dice.once_in(3)) else {
        let add = Change::AddPage {
            binder: id,
            at: dice.below(pages.len() + 1),
            page: on.fresh_page(),
            format: format(dice),
        };
        return vec![add];
    };
    let (other, _) = binder(on, dice).unwrap_or((id, 0));
    vec![match dice.below(3) {
        0 => Change::RemovePage {
            binder: id,
            at,
            page: page.id(),
            format: page.format(),
        },
        _ => Change::MovePage {
            page: page.id(),
            from: PagePlace::new(id, at),
            to: PagePlace::new(other, dice.below(pages.len())),
        },
    }]
}

fn pockets(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((id, _)) = binder(on, dice) else {
        return new_binder(on, dice);
    };
    let pages = on.binder(id).map_or(&[][..], |binder| binder.pages());
    let at = dice.below(pages.len().max(1));
    let Some(page) = pages.get(at) else {
        return self::pages(on, dice);
    };
    let pocket = dice.below(page.format().pockets());
    let place = Place {
        binder: id,
        page: at,
        pocket,
    };
    let change = match page.cards()[pocket] {
        Some(printing) => Some(Change::Lift {
            place,
            page: page.id(),
            printing,
        }),
        None => {
            // Mostly what it is meant for, if there is one.
            let wanted = on.pocket(place).wanted().filter(|_| !dice.once_in(4));
            let wanted = wanted.filter(|printing| on.tally(*printing).loose > 0);
            let printing = wanted.or_else(|| loose(on, dice));
            printing.map(|printing| Change::Seat {
                place,
                page: page.id(),
                printing,
            })
        }
    };
    change.into_iter().collect()
}

pub(crate) fn some_meaning(on: &Collection, dice: &mut Dice) -> Meaning {
    match dice.below(8) {
        0 => Meaning::Nothing,
        1 => Meaning::Blank,
        2 => Meaning::Keepsake(dice.text(&TEXTS).into()),
        _ => printing(on, dice).map_or(Meaning::Nothing, Meaning::Printing),
    }
}

fn layout_pages(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((id, _)) = binder(on, dice) else {
        return new_binder(on, dice);
    };
    let Some(binder) = on.binder(id) else {
        return Vec::new();
    };
    let (real, pages) = (binder.pages(), &binder.layout().pages);
    let at = dice.below(pages.len().max(1));
    let Some(page) = pages
        .get(at)
        .filter(|_| pages.len() >= real.len() || dice.once_in(3))
    else {
        // The format of the physical page that stands there, most of the time.
        let format = real.get(pages.len()).filter(|_| !dice.once_in(8));
        let format = format.map_or_else(|| self::format(dice), Page::format);
        let mut page = LayoutPage::empty(format);
        for pocket in 0..format.pockets() {
            page.set_meaning(pocket, some_meaning(on, dice));
        }
        return vec![Change::AddLayoutPage {
            binder: id,
            at: pages.len(),
            page: Box::new(page),
        }];
    };
    vec![match dice.below(2) {
        0 => Change::RemoveLayoutPage {
            binder: id,
            at,
            page: Box::new(page.clone()),
        },
        _ => Change::MoveLayoutPage {
            binder: id,
            from: at,
            to: dice.below(pages.len()),
        },
    }]
}

fn meaning(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((id, _)) = binder(on, dice) else {
        return new_binder(on, dice);
    };
    let pages = on
        .binder(id)
        .map_or(&[][..], |binder| &binder.layout().pages);
    let at = dice.below(pages.len().max(1));
    let Some(page) = pages.get(at) else {
        return layout_pages(on, dice);
    };
    let pocket = dice.below(page.format().pockets());
    let place = Place {
        binder: id,
        page: at,
        pocket,
    };
    vec![Change::Mean {
        place,
        old: page.meaning(pocket),
        new: some_meaning(on, dice),
    }]
}

/// A change that names things by chance, and so hardly ever fits.
pub(crate) fn stray(on: &Collection, dice: &mut Dice) -> Change {
    let change = stray_beside_drafts(on, dice);
    if dice.once_in(3) {
        drafts::stray(on, change, dice)
    } else {
        change
    }
}

fn stray_beside_drafts(on: &Collection, dice: &mut Dice) -> Change {
    let binder = BinderId(dice.below(4) as u32);
    let page = PageId(dice.below(6) as u32);
    let printing = PrintingId::new(
        SetId(dice.below(3) as u16),
        dice.below(5) as u32,
        dice.below(3) as u8,
    );
    let place = Place {
        binder,
        page: dice.below(4),
        pocket: dice.below(10),
    };
    let set = printing.set();
    match dice.below(12) {
        0 => Change::AddSet {
            set,
            at: dice.below(4),
            head: Box::new(head(dice)),
        },
        1 => Change::DropSet {
            set,
            at: dice.below(4),
            head: Box::new(head(dice)),
        },
        2 => Change::AddCards {
            set,
            first: dice.below(4) as u32,
            cards: vec![card("1", 1, dice), card("1", 9, dice)],
        },
        3 => Change::PartWith {
            printing,
            count: u32::MAX,
        },
        4 => Change::Acquire {
            printing,
            count: u32::MAX,
        },
        5 => Change::Seat {
            place,
            page,
            printing,
        },
        6 => Change::Lift {
            place,
            page,
            printing,
        },
        7 => Change::MovePage {
            page,
            from: PagePlace::new(binder, dice.below(3)),
            to: PagePlace::new(BinderId(2), dice.below(9)),
        },
        8 => Change::AddPage {
            binder,
            at: dice.below(9),
            page,
            format: PageFormat::new(dice.below(30) as u8, 2, dice.below(4) as u8),
        },
        9 => Change::AddBinder {
            binder,
            at: dice.below(9),
            spec: Box::new(spec(on, dice)),
        },
        10 => Change::Mean {
            place,
            old: Meaning::Blank,
            new: Meaning::Printing(printing),
        },
        _ => Change::MoveLayoutPage {
            binder,
            from: dice.below(5),
            to: dice.below(5),
        },
    }
}
