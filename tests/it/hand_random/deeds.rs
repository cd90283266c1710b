//! One deed at random, which may not be possible.

use ringbound::hand::{
    Behind, Cannot, Ground, Manner, adopt, begin_draft, blank, change_format, copy_draft,
    drop_draft, fill, gather, insert_page, keepsake, leave_room, make_free, move_pages,
    move_pages_over, put_down, remove_page, rename_draft, sort, to_back, to_front, to_page,
    turn_round,
};
use ringbound::layout::Order;
use ringbound::model::{Collection, PageFormat, Place, SetId, Step};

use super::shelf::BINDERS;
use crate::support::dice::Dice;

/// What may be expected of a deed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Things change their pockets.
    Carry,
    /// Whole pages move.
    Pages,
    /// Pages come, go or become others.
    Shape,
    /// Pockets get a meaning or lose it; drafts come and go.
    Mean,
    Adopt,
}

#[derive(Debug)]
pub(super) struct Deed {
    pub(super) name: &'static str,
    pub(super) kind: Kind,
    pub(super) ground: Ground,
    /// Whether the pages of the binder move.
    pub(super) rings: bool,
    pub(super) step: Result<Step, Cannot>,
}

/// Every deed, and whether it can be done on a real binder and in a draft.
pub(super) const ALL: [(&str, bool, bool); 27] = [
    ("swap", true, true),
    ("push", true, true),
    ("swap a run", true, true),
    ("push a run", true, true),
    ("to the front", true, true),
    ("to the back", true, true),
    ("to a page", true, true),
    ("leave room", true, true),
    ("turn round", true, true),
    ("sort", true, true),
    ("move pages", true, true),
    ("move pages over", true, false),
    ("insert a page", true, true),
    ("remove a page", true, true),
    ("change the format", true, true),
    ("blank", true, true),
    ("keepsake", true, true),
    ("make free", true, true),
    ("fill", true, true),
    ("gather", false, true),
    ("gather and close up", false, true),
    ("begin a draft", true, true),
    ("begin an empty draft", true, true),
    ("copy a draft", false, true),
    ("rename a draft", false, true),
    ("drop a draft", false, true),
    ("adopt", false, true),
];

pub(super) fn deed(on: &Collection, dice: &mut Dice) -> Deed {
    let ground = ground(on, dice);
    let formats = ground.formats(on);
    let pages = formats.len();
    let name = ALL[weighted(dice)].0;
    let (place, run) = (place(&formats, ground, dice), run(&formats, ground, dice));
    let page = dice.below(pages + 1);
    let put = |step: Result<ringbound::hand::Foretold, Cannot>| step.map(|put| put.step);
    let to = place;
    let one = &run[..run.len().min(1)];
    let (kind, step) = match name {
        "swap" => (
            Kind::Carry,
            put(put_down(on, ground, one, to, Manner::Swap)),
        ),
        "push" => (
            Kind::Carry,
            put(put_down(on, ground, one, to, Manner::Push)),
        ),
        "swap a run" => (
            Kind::Carry,
            put(put_down(on, ground, &run, to, Manner::Swap)),
        ),
        "push a run" => (
            Kind::Carry,
            put(put_down(on, ground, &run, to, Manner::Push)),
        ),
        "to the front" => (Kind::Carry, put(to_front(on, ground, &run))),
        "to the back" => (Kind::Carry, put(to_back(on, ground, &run))),
        "to a page" => (Kind::Carry, put(to_page(on, ground, &run, page))),
        "leave room" => (
            Kind::Carry,
            put(leave_room(on, ground, place, dice.below(4))),
        ),
        "turn round" => (Kind::Carry, put(turn_round(on, ground, &run))),
        "sort" => {
            let by = [Order::Number, Order::Name, Order::Rarity, Order::Checklist];
            (Kind::Carry, put(sort(on, ground, &run, by[dice.below(4)])))
        }
        "move pages" => {
            let (end, to) = (page + 1 + dice.below(2), dice.below(pages + 1));
            let step = move_pages(on, ground, page..end, to);
            (Kind::Pages, step.map(|page_move| page_move.step))
        }
        "move pages over" => {
            let end = page + 1 + dice.below(2);
            let other = BINDERS[usize::from(ground.binder == BINDERS[0])];
            let step = move_pages_over(on, ground, page..end, other, dice.below(5));
            (Kind::Pages, step.map(|page_move| page_move.step))
        }
        "insert a page" => (
            Kind::Shape,
            put(insert_page(on, ground, page, format(dice))),
        ),
        "remove a page" => (Kind::Shape, put(remove_page(on, ground, page))),
        "change the format" => (Kind::Shape, change_format(on, ground, page, format(dice))),
        "blank" => (Kind::Mean, put(blank(on, ground, place))),
        "keepsake" => (Kind::Mean, put(keepsake(on, ground, place, "pack art"))),
        "make free" => (Kind::Mean, put(make_free(on, ground, place))),
        "fill" => (Kind::Mean, put(fill(on, ground, place))),
        "gather" => (
            Kind::Mean,
            gather(on, ground, SetId(0), dice.below(2) as u16, Behind::LeftFree),
        ),
        "gather and close up" => {
            let rarity = dice.below(2) as u16;
            (
                Kind::Mean,
                gather(on, ground, SetId(0), rarity, Behind::ClosedUp),
            )
        }
        "begin a draft" => (
            Kind::Mean,
            begin_draft(on, ground.binder, name_of(dice), false),
        ),
        "begin an empty draft" => (
            Kind::Mean,
            begin_draft(on, ground.binder, name_of(dice), true),
        ),
        "copy a draft" => (Kind::Mean, copy_draft(on, ground, name_of(dice))),
        "rename a draft" => (Kind::Mean, rename_draft(on, ground, name_of(dice))),
        "drop a draft" => (Kind::Mean, drop_draft(on, ground)),
        _ => (Kind::Adopt, adopt(on, ground)),
    };
    let binder = on.binder(ground.binder).unwrap();
    Deed {
        name,
        kind,
        ground,
        rings: binder.spec().kind.pages_move(),
        step,
    }
}

/// Mostly what is carried.
fn weighted(dice: &mut Dice) -> usize {
    if dice.once_in(2) {
        dice.below(12)
    } else {
        dice.below(ALL.len())
    }
}

fn ground(on: &Collection, dice: &mut Dice) -> Ground {
    let binder = BINDERS[dice.below(2)];
    let drafts = on.binder(binder).unwrap().drafts().len();
    let draft = dice.once_in(2).then(|| dice.below(drafts.max(1)));
    Ground {
        binder,
        draft: draft.filter(|_| drafts > 0),
    }
}

fn name_of(dice: &mut Dice) -> &'static str {
    ["autumn", "rares in front", "3"][dice.below(3)]
}

/// A pocket; now and then one that is not there.
fn place(formats: &[PageFormat], ground: Ground, dice: &mut Dice) -> Place {
    let beyond = dice.once_in(8) || formats.is_empty();
    let page = dice.below(formats.len() + usize::from(beyond));
    let pockets = formats.get(page).map_or(9, PageFormat::pockets);
    ground.place(page, dice.below(pockets))
}

/// Pockets from one on, over the ends of pages; now and then with some left out.
fn run(formats: &[PageFormat], ground: Ground, dice: &mut Dice) -> Vec<Place> {
    let all: Vec<Place> = formats
        .iter()
        .enumerate()
        .flat_map(|(page, format)| (0..format.pockets()).map(move |at| ground.place(page, at)))
        .collect();
    let start = dice.below(all.len().max(1));
    let long = 1 + dice.below(5);
    let skip = dice.once_in(4);
    let run = all.into_iter().skip(start).take(long);
    run.filter(|_| !skip || !dice.once_in(3)).collect()
}

fn format(dice: &mut Dice) -> PageFormat {
    let sides = 1 + dice.below(2) as u8;
    let large = dice.once_in(5);
    PageFormat {
        shared: sides == 2 && dice.once_in(2),
        pocket_width: if large { 900 } else { 640 },
        pocket_height: if large { 1280 } else { 890 },
        ..PageFormat::new(1 + dice.below(2) as u8, 1 + dice.below(3) as u8, sides)
    }
}
