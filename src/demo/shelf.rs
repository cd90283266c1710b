//! The invented binders: their pages, what each pocket is for, and the cards that lie in them.

use super::Dice;
use crate::layout::run;
use crate::model::{
    BinderId, BinderKind, BinderSpec, Change, Collection, LayoutPage, Meaning, Opening, PageFormat,
    PageId, Place, PrintingId, RingShape, Set, SetId, Step,
};

/// The code of the set that has hardly been begun. No loose copy is drawn for it.
pub(super) const NEARLY_EMPTY: &str = "POST";

/// A binder in outline.
pub(super) struct Sketch {
    name: &'static str,
    title: &'static str,
    set: &'static str,
    kind: BinderKind,
    front_matter: &'static [&'static str],
    /// Rows, columns, sides of the pages of the runs; whether front and back share a pocket.
    format: (u8, u8, u8, bool),
    /// Of 100 cards, how many are there: in the first finish and in the second.
    held: [u32; 2],
    /// What lies in the pockets after the last card, in order.
    keepsakes: &'static [&'static str],
    /// Cards of this size or larger go into pages of one pocket at the end.
    oversize: bool,
    /// Pages of the layout that have not been bought yet.
    unbought: usize,
    /// Pairs of pockets, counted along the meant ones, whose cards have been mixed up.
    mixed: &'static [(usize, usize)],
}

const PLAIN: Sketch = Sketch {
    name: "",
    title: "",
    set: "",
    kind: BinderKind::Fixed,
    front_matter: &[],
    format: (3, 3, 2, false),
    held: [0, 0],
    keepsakes: &[],
    oversize: false,
    unbought: 0,
    mixed: &[],
};

const fn rings(size: u16, shape: RingShape) -> BinderKind {
    BinderKind::Rings { size, shape }
}

pub(super) const BINDERS: &[Sketch] = &[
    Sketch {
        name: "wood",
        title: "The Long Wood",
        set: "WOOD",
        kind: rings(40, RingShape::D),
        front_matter: &[
            "Register of the Long Wood, printed by Quillhedge & Daughters, Lower Ommery",
            "Regulars first, by number; reverses after them.",
        ],
        held: [71, 34],
        mixed: &[(17, 40), (233, 234)],
        ..PLAIN
    },
    Sketch {
        name: "moss",
        title: "Moss Hall",
        set: "MOSS",
        kind: rings(30, RingShape::Round),
        front_matter: &["The folded map of the hall"],
        held: [90, 48],
        keepsakes: &["pack art: the owl", "pack art: the stove"],
        oversize: true,
        mixed: &[(3, 11)],
        ..PLAIN
    },
    Sketch {
        name: "hedge",
        title: "Hedgerow Almanac",
        set: "HEDGE",
        kind: rings(25, RingShape::D),
        front_matter: &["The first binder of all."],
        held: [100, 0],
        ..PLAIN
    },
    Sketch {
        name: "lamps",
        title: "A Hundred Lamps",
        set: "LAMP",
        kind: rings(25, RingShape::Round),
        format: (3, 4, 1, false),
        held: [64, 24],
        keepsakes: &["swap-day ticket, Ommery Corn Hall"],
        ..PLAIN
    },
    Sketch {
        name: "tide",
        title: "Tidewrack Notes",
        set: "TIDE",
        format: (2, 2, 2, false),
        held: [55, 0],
        mixed: &[(5, 20)],
        ..PLAIN
    },
    Sketch {
        name: "orchard",
        title: "Orchard Wakes",
        set: "ORCH",
        kind: rings(20, RingShape::Round),
        format: (3, 3, 2, true),
        held: [42, 0],
        ..PLAIN
    },
    Sketch {
        name: "stones",
        title: "Nine Stones",
        set: "STONE",
        format: (1, 1, 2, false),
        front_matter: &["A letter that came with the ninth stone"],
        held: [100, 0],
        ..PLAIN
    },
    Sketch {
        name: "kites",
        title: "Kite Weather",
        set: "KITE",
        kind: rings(20, RingShape::D),
        format: (3, 1, 2, false),
        held: [83, 0],
        keepsakes: &["a kite string"],
        ..PLAIN
    },
    Sketch {
        name: "market",
        title: "Lantern Market",
        set: "MARKET",
        kind: rings(25, RingShape::D),
        format: (2, 2, 2, false),
        held: [77, 19],
        ..PLAIN
    },
    Sketch {
        name: "post",
        title: "Winter Post",
        set: NEARLY_EMPTY,
        kind: rings(20, RingShape::Round),
        held: [7, 0],
        unbought: 3,
        ..PLAIN
    },
];

/// The binder with its pages and its layout, still without a card, as the last of the shelf.
pub(super) fn binder(collection: &Collection, sketch: &Sketch) -> Step {
    let id = collection.fresh_binder();
    let set = collection.set_by_code(sketch.set);
    let spec = BinderSpec {
        name: sketch.name.into(),
        title: sketch.title.into(),
        set,
        kind: sketch.kind,
        front_matter: sketch.front_matter.iter().map(|&l| l.into()).collect(),
    };
    let mut changes = vec![Change::AddBinder {
        binder: id,
        at: collection.shelf().len(),
        spec: Box::new(spec),
    }];
    let found = set.and_then(|id| Some((id, collection.set(id)?)));
    let layout = found.map_or_else(Vec::new, |(id, set)| layout(id, set, sketch));
    let bought = layout.len() - sketch.unbought;
    let bought = layout.iter().take(bought).enumerate();
    for ((at, page), fresh) in bought.zip(collection.fresh_pages()) {
        changes.push(Change::AddPage {
            binder: id,
            at,
            page: fresh,
            format: page.format(),
        });
    }
    for (at, page) in layout.into_iter().enumerate() {
        changes.push(Change::AddLayoutPage {
            binder: id,
            at,
            page: Box::new(page),
        });
    }
    Step::new(format!("binder {}", sketch.title), changes)
}

/// A run for each finish, each on pages of its own; then pages of one pocket for large cards.
fn layout(id: SetId, set: &Set, sketch: &Sketch) -> Vec<LayoutPage> {
    let (rows, columns, sides, shared) = sketch.format;
    let format = PageFormat {
        shared,
        opening: if shared { Opening::Top } else { Opening::Side },
        pocket_width: 660,
        pocket_height: 920,
        ..PageFormat::new(rows, columns, sides)
    };
    let large = |printing: &PrintingId| {
        let card = set.card(printing.card());
        sketch.oversize && card.is_some_and(|card| card.size.is_some())
    };
    let mut pages = Vec::new();
    for finish in 0..set.finishes().len() as u8 {
        let wanted = |printing: &PrintingId| printing.finish() == finish && !large(printing);
        let printings: Vec<_> = set.printings(id).filter(wanted).collect();
        let mut run = run(format, &printings);
        // The next run begins on a page of its own: what is left of this one stays empty.
        if finish + 1 < set.finishes().len() as u8 {
            fill(&mut run, |_| Some(Meaning::Blank));
        }
        pages.extend(run);
    }
    let words = |at: usize| sketch.keepsakes.get(at);
    fill(&mut pages, |at| {
        words(at).map(|words| Meaning::Keepsake((*words).into()))
    });
    let oversize: Vec<_> = set.printings(id).filter(large).collect();
    let single = PageFormat {
        opening: Opening::Top,
        pocket_width: 1300,
        pocket_height: 1810,
        ..PageFormat::new(1, 1, 1)
    };
    pages.extend(run(single, &oversize));
    pages
}

/// Gives meanings to the pockets of the last page that are for nothing yet, in their order.
fn fill(pages: &mut [LayoutPage], meaning: impl Fn(usize) -> Option<Meaning>) {
    let Some(page) = pages.last_mut() else {
        return;
    };
    let pockets = page.format().pockets();
    let free = (0..pockets).filter(|&at| page.meaning(at) == Meaning::Nothing);
    for (at, pocket) in free.collect::<Vec<_>>().into_iter().enumerate() {
        if let Some(meaning) = meaning(at) {
            page.set_meaning(pocket, meaning);
        }
    }
}

/// The cards that have been put away, a step for each binder.
pub(super) fn cards(collection: &Collection) -> Vec<Step> {
    let mut dice = Dice::new(0x0B1D);
    let mut steps = Vec::new();
    for (sketch, binder) in BINDERS.iter().zip(collection.shelf()) {
        let mut held: Vec<(Place, PageId, Option<PrintingId>)> = Vec::new();
        let pages = binder.pages().iter().zip(&binder.layout().pages);
        for (page, (real, meant)) in pages.enumerate() {
            for (pocket, printing) in meant.printings() {
                let chance = sketch.held[usize::from(printing.finish() > 0)];
                let there = dice.percent(chance).then_some(printing);
                held.push((place(binder.id(), page, pocket), real.id(), there));
            }
        }
        for &(a, b) in sketch.mixed {
            let both = (held[a].2, held[b].2);
            (held[b].2, held[a].2) = both;
        }
        let mut changes = Vec::new();
        for (place, page, printing) in held {
            let Some(printing) = printing else {
                continue;
            };
            changes.push(Change::Acquire { printing, count: 1 });
            changes.push(Change::Seat {
                place,
                page,
                printing,
            });
        }
        steps.push(Step::new(format!("cards into {}", sketch.title), changes));
    }
    steps.extend(stray(collection));
    steps
}

/// A kite that was put down in a pocket of Moss Hall which is blank on purpose.
fn stray(collection: &Collection) -> Option<Step> {
    let printing = PrintingId::new(collection.set_by_code("KITE")?, 2, 0);
    let binder = collection.binder(collection.binder_by_name("moss")?)?;
    let pages = binder.layout().pages.iter().enumerate();
    let mut blanks = pages.flat_map(|(page, meant)| {
        (0..meant.format().pockets())
            .filter(|&pocket| meant.meaning(pocket) == Meaning::Blank)
            .map(move |pocket| place(binder.id(), page, pocket))
    });
    let place = blanks.next()?;
    let seat = Change::Seat {
        place,
        page: binder.pages().get(place.page)?.id(),
        printing,
    };
    let changes = vec![Change::Acquire { printing, count: 1 }, seat];
    Some(Step::new("a kite put down in Moss Hall for now", changes))
}

fn place(binder: BinderId, page: usize, pocket: usize) -> Place {
    Place {
        binder,
        page,
        pocket,
    }
}
