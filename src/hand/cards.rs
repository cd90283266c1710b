//! Cards are picked up and put down: one, or a run of them.

use super::Cannot;
use super::ground::{Ground, Unit, same_pocket};
use super::pocket::named;
use super::rewrite::Front;
use super::row::{Direction, Row};
use crate::model::{Collection, Meaning, Place, Step};
use crate::report::printing_words;
use crate::text::count;

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
pub struct Foretold {
    pub step: Step,
    pub words: String,
}

impl From<Foretold> for Step {
    fn from(foretold: Foretold) -> Self {
        foretold.step
    }
}

/// Cards put down where there may be others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PutDown {
    pub deed: Foretold,
    /// Whether others make way for them.
    pub meets_others: bool,
}

/// The run of pockets `from` (one or more) is carried to the pocket `to` and those after it.
///
/// A card in its place takes its meaning with it, and so does a gap. A misplaced card goes alone:
/// what its old pocket is for stays there, and it comes home if the new one is meant for it.
/// With [`Manner::Push`] blanks and keepsakes stay, and the others are pushed past them.
///
/// # Errors
/// There is nothing to carry, no room, another pocket size, or a card in front of a shared pocket.
pub fn put_down(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
    to: Place,
    manner: Manner,
) -> Result<Foretold, Cannot> {
    put_down_among(collection, ground, from, to, manner).map(|down| down.deed)
}

/// The same, and whether others make way for it.
///
/// # Errors
/// What [`put_down`] refuses.
pub fn put_down_among(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
    to: Place,
    manner: Manner,
) -> Result<PutDown, Cannot> {
    let first = *from.first().ok_or(Cannot::NothingInHand)?;
    if from.iter().chain([&to]).any(|p| p.binder != ground.binder) {
        return Err(Cannot::OtherBinder);
    }
    let formats = ground.formats(collection);
    let format = |place: Place| formats.get(place.page).copied();
    let there = format(to).ok_or(Cannot::NoPageYet)?;
    if !format(first).is_some_and(|here| same_pocket(here, there)) {
        return Err(Cannot::OtherSize);
    }
    let mut row = Row::of(collection, ground, first);
    let (run, start) = (row.indices(from)?, row.index(to)?);
    if run.iter().all(|at| row.units[*at].is_room()) {
        return Err(Cannot::NothingToCarry);
    }
    let what = several_words(collection, ground, run.iter().map(|at| &row.units[*at]));
    let alone = match run[..] {
        [at] if ground.is_real() => row.units[at].held,
        [at] => row.units[at].printing(),
        _ => None,
    };
    let (others, meets_others) = match manner {
        Manner::Swap => row.swap(collection, ground, &run, start)?,
        Manner::Push => row.push_from(&run, start)?,
    };
    let whither = format!("to {}{others}", ground.words(collection, to));
    let words = format!("{what} {whither}");
    let changes = ground.rewrite(collection, &row.wanted(), Front::InTheWay)?;
    if changes.is_empty() {
        return Err(Cannot::SameThere);
    }
    // Afterwards it stands in one list with the cards of all sets.
    let what = alone.map_or(what, |printing| named(collection, printing));
    let step = ground.step(collection, &format!("carried {what} {whither}"), changes);
    Ok(PutDown {
        deed: Foretold { step, words },
        meets_others,
    })
}

/// The run goes to the first pockets of its size; the others are pushed along.
///
/// # Errors
/// What [`put_down`] refuses; it stands in front already.
pub fn to_front(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
) -> Result<Foretold, Cannot> {
    let (row, run) = taken_out(collection, ground, from)?;
    let slots = row.slots();
    let there = run.iter().zip(&slots).take_while(|(at, slot)| at == slot);
    let there = there.count();
    if there == run.len() {
        return Err(Cannot::StandsInFront);
    }
    let to = *slots.get(there).ok_or(Cannot::NoSuchPocket)?;
    let rest: Vec<Place> = run[there..].iter().map(|at| row.places[*at]).collect();
    put_down(collection, ground, &rest, row.places[to], Manner::Push)
}

/// The run goes behind the last card of the binder; where there is no such room, to the last
/// pockets of its size, and the others are pushed back.
///
/// # Errors
/// What [`put_down`] refuses; it stands at the back already.
pub fn to_back(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
) -> Result<Foretold, Cannot> {
    let (row, run) = taken_out(collection, ground, from)?;
    let slots = row.slots();
    let used = slots.iter().rposition(|at| !row.units[*at].is_room());
    let behind = used.map_or(0, |used| used + 1);
    let start = behind.min(slots.len().saturating_sub(run.len()));
    if slots[start..].starts_with(&run) {
        return Err(Cannot::StandsAtBack);
    }
    let to = *slots.get(start).ok_or(Cannot::NoSuchPocket)?;
    put_down(collection, ground, from, row.places[to], Manner::Push)
}

/// The run goes to the first pockets of a page; the others are pushed on.
///
/// # Errors
/// What [`put_down`] refuses; there is no such page.
pub fn to_page(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
    page: usize,
) -> Result<Foretold, Cannot> {
    let (row, _) = taken_out(collection, ground, from)?;
    if page >= ground.formats(collection).len() {
        return Err(Cannot::NoSuchPage);
    }
    let mut on_page = (0..row.places.len()).filter(|at| row.places[*at].page == page);
    let first = on_page.next();
    first.ok_or(Cannot::OtherSize)?;
    let free = first.into_iter().chain(on_page).find(|at| !row.stays(*at));
    let to = free.ok_or(Cannot::TakesNoCard)?;
    put_down(collection, ground, from, row.places[to], Manner::Push)
}

/// The row without the run, and where the run was.
fn taken_out(
    collection: &Collection,
    ground: Ground,
    from: &[Place],
) -> Result<(Row, Vec<usize>), Cannot> {
    let first = *from.first().ok_or(Cannot::NothingInHand)?;
    let mut row = Row::of(collection, ground, first);
    let run = row.indices(from)?;
    if run.iter().all(|at| row.units[*at].is_room()) {
        return Err(Cannot::NothingToCarry);
    }
    row.take_out(&run);
    Ok((row, run))
}

/// What would be in hand, in words: `12a Moss Owl`, `5 cards`.
#[must_use]
pub fn carried(collection: &Collection, ground: Ground, from: &[Place]) -> String {
    let units = from.iter().map(|place| ground.unit(collection, *place));
    let units: Vec<Unit> = units.collect();
    several_words(collection, ground, units.iter())
}

/// Several cards in words, and what is no card among them.
pub(super) fn several_words<'u>(
    collection: &Collection,
    ground: Ground,
    mut units: impl ExactSizeIterator<Item = &'u Unit> + Clone,
) -> String {
    let many = units.len();
    if many == 1 {
        let words = units
            .next()
            .map(|unit| unit_words(collection, ground, unit));
        return words.unwrap_or_default();
    }
    // On the real binder a pocket that is meant for a card has none before one lies in it.
    let (mut cards, mut gaps) = (0, 0);
    for unit in units {
        match unit.printing() {
            Some(_) if unit.held.is_some() || !ground.is_real() => cards += 1,
            Some(_) => gaps += 1,
            None => {}
        }
    }
    let (of_cards, of_gaps) = (count(cards, "card", "cards"), count(gaps, "gap", "gaps"));
    match (cards, gaps) {
        _ if cards + gaps < many as u64 => format!("{many} pockets"),
        (_, 0) => of_cards,
        (0, _) => of_gaps,
        _ => format!("{of_cards} and {of_gaps}"),
    }
}

/// One of them in words: the card, or what the pocket is for.
fn unit_words(collection: &Collection, ground: Ground, unit: &Unit) -> String {
    match (unit.held, &unit.meaning) {
        (Some(held), _) => printing_words(collection, held),
        (None, Meaning::Printing(meant)) if ground.is_real() => {
            format!("the gap for {}", printing_words(collection, *meant))
        }
        (None, Meaning::Printing(meant)) => printing_words(collection, *meant),
        (None, Meaning::Blank) => "the blank".into(),
        (None, Meaning::Keepsake(words)) => words.to_string(),
        (None, Meaning::Nothing) => "room".into(),
    }
}

impl Row {
    /// The run and what stands from `start` on change places. Gives what else moves, in words, and
    /// whether anything does.
    fn swap(
        &mut self,
        collection: &Collection,
        ground: Ground,
        run: &[usize],
        start: usize,
    ) -> Result<(String, bool), Cannot> {
        let end = start + run.len();
        if end > self.places.len() {
            return Err(Cannot::TooFewPockets);
        }
        if run.iter().any(|at| (start..end).contains(at)) {
            return Err(Cannot::OnItself);
        }
        let (mut others, mut home) = (Vec::new(), 0);
        for (&here, there) in run.iter().zip(start..) {
            let (unit, other) = (self.units[here].clone(), self.units[there].clone());
            if unit.is_misplaced() && !other.is_in_place() {
                // It goes alone, and so does a misplaced card that comes back for it.
                self.units[here].held = other.held;
                self.units[there].held = unit.held;
                home += usize::from(self.units[there].is_in_place());
                others.extend(other.held.is_some().then_some(other));
            } else {
                others.extend((!other.is_room()).then_some(other.clone()));
                self.units[here] = other;
                self.units[there] = unit;
            }
        }
        let mut words = String::new();
        if home == run.len() {
            words.push_str(", where it belongs");
        }
        match &others[..] {
            [] => {}
            [other] => {
                let other = unit_words(collection, ground, other);
                words.push_str(&format!(", {other} the other way"));
            }
            many => words.push_str(&format!(", {} others the other way", many.len())),
        }
        Ok((words, !others.is_empty()))
    }

    /// The run is put down from `start` on and others make way. Gives what else moves, in words,
    /// and whether anything does.
    fn push_from(&mut self, run: &[usize], start: usize) -> Result<(String, bool), Cannot> {
        let hand = self.take_out(run);
        if self.stays(start) {
            return Err(match &self.units[start].meaning {
                Meaning::Blank => Cannot::BlankThere,
                Meaning::Keepsake(_) => Cannot::KeepsakeThere,
                _ => Cannot::OtherFormat,
            });
        }
        let slots = self.slots();
        let from = slots.partition_point(|at| *at < start);
        let targets = &slots[from..];
        if targets.starts_with(run) {
            return Err(Cannot::LiesThere);
        }
        let comes_home = |(unit, at): (&Unit, &usize)| {
            let there = &self.units[*at];
            let meant = unit.held.map(Meaning::Printing);
            there.held.is_none() && meant.as_ref() == Some(&there.meaning)
        };
        let all = hand.len() <= targets.len() && hand.iter().zip(targets).all(comes_home);
        // A card in its place took its meaning out with it, so only misplaced ones come home.
        if all && hand.iter().all(|unit| unit.meaning == Meaning::Nothing) {
            for (unit, at) in hand.iter().zip(targets) {
                self.units[*at].held = unit.held;
            }
            return Ok((", where it belongs".into(), false));
        }
        Ok(match self.push(hand, from)? {
            (0, _) => (String::new(), false),
            (many, way) => {
                let others = count(many as u64, "other", "others");
                let way = match way {
                    Direction::Along => "along",
                    Direction::Back => "back",
                };
                (format!(", {others} pushed {way}"), true)
            }
        })
    }
}
