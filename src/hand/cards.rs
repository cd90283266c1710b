//! Cards are picked up and put down: one, or a run of them.

use std::collections::VecDeque;

use super::Cannot;
use super::ground::{Ground, Unit, same_pocket};
use crate::model::{Collection, Place, Step};
use crate::report::{place_words, printing_words};

/// What happens to the cards where others are put down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Manner {
    /// They go where those came from.
    Swap,
    /// They are pushed along, to the nearest room.
    Push,
}

/// A deed that has been thought through: the step, and what it does in words, said beforehand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Put {
    pub step: Step,
    pub words: String,
}

/// The run of pockets `from` (in reading order, one or more) is carried to the pocket `to` and
/// those after it.
///
/// # Errors
/// There is nothing to carry, no room, another pocket size, or a card in front of a shared pocket.
pub fn put_down(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
    to: Place,
    manner: Manner,
) -> Result<Put, Cannot> {
    let first = *from.first().ok_or("nothing is in hand")?;
    if from.contains(&to) {
        return Err("it lies there already");
    }
    let formats = ground.formats(collection);
    let format = |place: Place| formats.get(place.page).copied();
    let (source, target) = (format(first), format(to));
    let fits = source.zip(target).is_some_and(|(a, b)| same_pocket(a, b));
    if !fits {
        return Err("the pockets there are of another size");
    }
    if from
        .iter()
        .all(|place| ground.unit(collection, *place).is_room())
    {
        return Err("there is nothing to carry in this pocket");
    }
    let row = Row::of(collection, ground, first);
    let (wanted, moved, way) = match manner {
        Manner::Swap => row.swap(from, to)?,
        Manner::Push => row.push(from, to)?,
    };
    let changes = ground.rewrite(collection, &wanted)?;
    let what = carried_words(collection, ground, from);
    let place = place_words(collection, to);
    let others = match (manner, moved) {
        (_, 0) => String::new(),
        (Manner::Swap, 1) => ", and what lies there comes back here".into(),
        (Manner::Swap, many) => format!(", and the {many} that lie there come back here"),
        (Manner::Push, 1) => format!(", and 1 other moves {way}"),
        (Manner::Push, many) => format!(", and {many} others move {way}"),
    };
    let words = format!("{what} to {place}{others}");
    Ok(Put {
        step: Step::new(words.clone(), changes),
        words,
    })
}

/// What is in hand, in words.
pub(super) fn carried_words(collection: &Collection, ground: Ground, from: &[Place]) -> String {
    let first = from.first().map(|place| ground.unit(collection, *place));
    match (from.len(), first.and_then(|unit| unit.printing())) {
        (1, Some(printing)) => printing_words(collection, printing),
        (1, None) => "what is in this pocket".into(),
        (many, _) => format!("{many} pockets"),
    }
}

/// What each pocket of the row is to hold, how many others move, and which way.
type Moved = (Vec<(Place, Unit)>, usize, &'static str);

/// The pockets of one size in reading order, with what stands in each.
pub(super) struct Row {
    pub(super) places: Vec<Place>,
    pub(super) units: Vec<Unit>,
}

impl Row {
    /// All pockets of the size that this place has.
    pub(super) fn of(collection: &Collection, ground: Ground, like: Place) -> Self {
        let formats = ground.formats(collection);
        let size = formats.get(like.page).copied();
        let mut row = Self {
            places: Vec::new(),
            units: Vec::new(),
        };
        for (page, format) in formats.iter().enumerate() {
            if !size.is_some_and(|size| same_pocket(size, *format)) {
                continue;
            }
            for pocket in 0..format.pockets() {
                let place = ground.place(page, pocket);
                row.places.push(place);
                row.units.push(ground.unit(collection, place));
            }
        }
        row
    }

    pub(super) fn index(&self, place: Place) -> Result<usize, Cannot> {
        self.places
            .binary_search(&place)
            .map_err(|_| "the pockets there are of another size")
    }

    /// The units that differ from those of the collection are what is to be written.
    pub(super) fn wanted(self) -> Vec<(Place, Unit)> {
        self.places.into_iter().zip(self.units).collect()
    }

    fn swap(mut self, from: &[Place], to: Place) -> Result<Moved, Cannot> {
        let start = self.index(to)?;
        let mut others = 0;
        let end = start + from.len();
        if end > self.places.len() {
            return Err("there are not as many pockets from here on");
        }
        if from
            .iter()
            .any(|place| self.places[start..end].contains(place))
        {
            return Err("what is in hand would be put down on itself");
        }
        for (place, at) in from.iter().zip(start..) {
            let here = self.index(*place)?;
            others += usize::from(!self.units[at].is_room());
            self.units.swap(here, at);
        }
        Ok((self.wanted(), others, ""))
    }

    /// Along to the nearest room, forward or back, whichever moves fewer others.
    fn push(self, from: &[Place], to: Place) -> Result<Moved, Cannot> {
        let start = self.index(to)?;
        let run = from
            .iter()
            .map(|place| self.index(*place))
            .collect::<Result<Vec<_>, _>>()?;
        let forward = pushed(self.units.clone(), &run, start);
        let mut mirrored = self.units.clone();
        mirrored.reverse();
        let last = mirrored.len() - 1;
        let mut run_back: Vec<_> = run.iter().map(|at| last - at).collect();
        run_back.reverse();
        let back = pushed(mirrored, &run_back, last - start);
        let (units, others, way) = match (forward, back) {
            (Some((units, moved)), Some((_, other))) if moved <= other => (units, moved, "along"),
            (_, Some((mut units, moved))) => {
                units.reverse();
                (units, moved, "back")
            }
            (Some((units, moved)), None) => (units, moved, "along"),
            (None, None) => return Err("there is no room to push the others to"),
        };
        let places = self.places;
        Ok((places.into_iter().zip(units).collect(), others, way))
    }
}

/// Takes the run out and puts it in from `start` on; each card that was there moves to the next
/// pocket, until room has taken the last. Gives the units and how many others moved.
fn pushed(mut units: Vec<Unit>, run: &[usize], start: usize) -> Option<(Vec<Unit>, usize)> {
    let mut hand: VecDeque<Unit> = VecDeque::new();
    for &at in run {
        hand.push_back(std::mem::take(&mut units[at]));
    }
    let mut others = 0;
    for unit in units.iter_mut().skip(start) {
        if hand.is_empty() {
            break;
        }
        if unit.stays() {
            continue;
        }
        let next = hand.pop_front()?;
        let before = std::mem::replace(unit, next);
        if !before.is_room() {
            others += 1;
            hand.push_back(before);
        }
    }
    hand.is_empty().then_some((units, others))
}
