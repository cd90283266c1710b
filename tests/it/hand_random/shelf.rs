//! Two binders at random, as text in the notation of the pictures, each with a draft.

use ringbound::hand::begin_draft;
use ringbound::model::{BinderId, BinderKind, Change};

use crate::support::dice::Dice;
use crate::support::picture::{Picture, RINGS};

pub(super) const BINDERS: [BinderId; 2] = [BinderId(1), BinderId(2)];
const CARDS: [&str; 10] = ["1", "2", "2r", "3", "3r", "6", "8", "12a", "9", "b1"];

pub(super) fn shelf(dice: &mut Dice) -> Picture {
    let kinds = [kind(dice), kind(dice)];
    let mut text = format!("{} & {}", binder(dice), binder(dice));
    if dice.once_in(2) {
        text.push_str(" + 1 1r 4 9");
    }
    let mut shelf = Picture::real(&kinds, &text);
    for (binder, empty) in BINDERS.into_iter().zip([false, true]) {
        let step = begin_draft(&shelf.collection, binder, "spring", empty).unwrap();
        Change::apply_all(&step.changes, &mut shelf.collection).unwrap();
    }
    shelf
}

fn kind(dice: &mut Dice) -> BinderKind {
    if dice.once_in(3) {
        BinderKind::Fixed
    } else {
        RINGS
    }
}

/// Some pages in step with their layout, now and then one for which it has another kind; at the
/// end perhaps one that has none, or one that only the layout has.
fn binder(dice: &mut Dice) -> String {
    let mut text = String::new();
    for _ in 0..1 + dice.below(4) {
        if dice.once_in(12) {
            text.push_str(&page(dice, '[', bare));
            // Of another kind than any physical page.
            text.push_str("~<(4) . . - .>");
        } else {
            let open = if dice.once_in(6) { '{' } else { '[' };
            text.push_str(&page(dice, open, pocket));
        }
    }
    match dice.below(5) {
        0 => text.push_str(&format!("{}^", page(dice, '[', bare))),
        1 => text.push_str(&page(dice, '<', meant)),
        _ => {}
    }
    text
}

fn page(dice: &mut Dice, open: char, mut token: impl FnMut(&mut Dice) -> String) -> String {
    let (rows, columns) = [(1, 2), (1, 3), (2, 2), (2, 2)][dice.below(4)];
    let between = [None, Some(" | "), Some(" # ")][dice.below(3)];
    let mut side = |dice: &mut Dice| {
        let row = |dice: &mut Dice| {
            let tokens = (0..columns).map(|_| token(dice));
            tokens.collect::<Vec<_>>().join(" ")
        };
        let mut row = row;
        let rows: Vec<String> = (0..rows).map(|_| row(dice)).collect();
        rows.join(" / ")
    };
    let front = side(dice);
    let text = match between {
        Some(between) => format!("{front}{between}{}", side(dice)),
        None => front,
    };
    let close = match open {
        '[' => ']',
        '{' => '}',
        _ => '>',
    };
    format!("{open}{text}{close}")
}

fn card(dice: &mut Dice) -> String {
    CARDS[dice.below(CARDS.len())].to_owned()
}

fn pocket(dice: &mut Dice) -> String {
    match dice.below(14) {
        0..6 => card(dice),
        6 => other(&card(dice), &card(dice)),
        7 => format!("{}!{}", card(dice), ["", "-", "k"][dice.below(3)]),
        8 | 9 => ".".into(),
        _ => meant(dice),
    }
}

fn other(held: &str, meant: &str) -> String {
    if held == meant {
        held.into()
    } else {
        format!("{held}!{meant}")
    }
}

fn meant(dice: &mut Dice) -> String {
    match dice.below(6) {
        0 => "-".into(),
        1 => "k".into(),
        2 => ".".into(),
        _ => format!("({})", card(dice)),
    }
}

fn bare(dice: &mut Dice) -> String {
    if dice.once_in(2) {
        ".".into()
    } else {
        format!("{}!", card(dice))
    }
}
