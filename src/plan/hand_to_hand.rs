//! Hand to hand: a card goes straight from its pocket to the empty one that wants it.
//!
//! Pages are put in order first, with all that is in them; then the cards; then the pages that
//! are empty now and of no more use are taken out.
//!
//! What comes next is read off the binders as they are, never remembered, so that the work can be
//! put down and taken up again:
//!
//! 1. A card for which no pocket is left leaves.
//! 2. The first empty pocket that can be filled is filled: with a loose copy, if there are not
//!    enough others, or with one from a pocket where it does not belong.
//! 3. No empty pocket can be filled: a surplus copy leaves, which makes one empty.
//! 4. Only closed groups are left: one card is put aside, and comes in when the group ends.
//!
//! Think of printings as points, with an arrow from what a pocket holds to what it wants. To fill
//! a pocket is to go along an arrow. A group of arrows that can be gone along in one go costs one
//! extra handling if nothing empty or surplus begins it, and nothing otherwise. So of several
//! copies the first is taken whose going leaves no closed group behind: what is left of its
//! printing must still be tied to something empty, missing or surplus. One such copy always is
//! there (every balanced connected part has an Euler walk), and so the fewest extra handlings for
//! the assignment are reached.

use std::collections::BTreeSet;

use super::hands::Hands;
use super::links::{Links, PocketNumber};
use super::step::PageNumber;
use super::task::{Card, NONE};

pub(super) fn work(hands: &mut Hands<'_>) {
    let binders = 0..hands.order.len();
    for binder in binders.clone() {
        hands.put_in_order(binder);
    }
    let mut carry = Carry::new(hands);
    while carry.next() {}
    for binder in binders {
        hands.take_out_left_over(binder);
    }
}

/// How many empty pockets are looked at for one that is no trouble to fill.
const LOOK: usize = 64;

struct Carry<'h, 't> {
    hands: &'h mut Hands<'t>,
    /// Page and pocket of each spot, and the spots of a page begin at.
    spots: Vec<(PageNumber, usize)>,
    first_spot: Vec<PocketNumber>,
    links: Links,
    /// Empty spots that want a card, the first to fill first. Those that never can be filled go
    /// when they are met.
    holes: BTreeSet<(u32, PocketNumber)>,
    fill_rank: Vec<u32>,
    /// Spots whose card has no pocket to go to, first to last.
    leaving: BTreeSet<PocketNumber>,
    /// Spots of which there may be surplus copies. What is no longer so goes when it is met.
    surplus: BTreeSet<PocketNumber>,
    /// Every spot before this one is as it should be, or empty.
    settled: PocketNumber,
}

impl<'h, 't> Carry<'h, 't> {
    fn new(hands: &'h mut Hands<'t>) -> Self {
        let mut spots = Vec::new();
        let mut first_spot = vec![0; hands.cards.len()];
        let mut fill_rank = Vec::new();
        for page in hands.order.iter().flatten().copied() {
            first_spot[page] = spots.len() as PocketNumber;
            let begin = spots.len() as u32;
            let pockets = hands.cards[page].len();
            spots.extend((0..pockets).map(|pocket| (page, pocket)));
            fill_rank.resize(spots.len(), 0);
            for (rank, pocket) in (0..).zip(super::two_passes::seating_order(hands.grids[page])) {
                fill_rank[begin as usize + pocket] = begin + rank;
            }
        }
        let pairs = spots.iter().map(|(page, pocket)| {
            let (held, wanted) = (hands.cards[*page][*pocket], hands.wanted(*page, *pocket));
            (held, wanted)
        });
        let links = Links::new(hands.loose.len(), pairs.collect());
        let mut carry = Self {
            hands,
            spots,
            first_spot,
            links,
            holes: BTreeSet::new(),
            fill_rank,
            leaving: BTreeSet::new(),
            surplus: BTreeSet::new(),
            settled: 0,
        };
        for spot in 0..carry.spots.len() as PocketNumber {
            let (held, wanted) = carry.links.pair(spot);
            if held == wanted {
                continue;
            }
            if held == NONE {
                carry.holes.insert((carry.fill_rank[spot as usize], spot));
            } else if carry.links.demand(held) == 0 {
                carry.leaving.insert(spot);
            } else if carry.links.supply(held) > carry.links.demand(held) {
                carry.surplus.insert(spot);
            }
        }
        carry
    }

    /// Does the next deed, if there is one.
    fn next(&mut self) -> bool {
        if let Some(spot) = self.leaving.pop_first() {
            self.take_out(spot);
            return true;
        }
        if let Some(hole) = self.first_hole() {
            self.fill(hole);
            return true;
        }
        if let Some(spot) = self.first_surplus() {
            self.take_out(spot);
            return true;
        }
        while let Some((page, pocket)) = self.spots.get(self.settled as usize) {
            let (held, wanted) = self.links.pair(self.settled);
            debug_assert_eq!(held, self.hands.cards[*page][*pocket]);
            if held != NONE && held != wanted {
                self.take_out(self.settled);
                return true;
            }
            self.settled += 1;
        }
        false
    }

    fn can_fill(&self, spot: PocketNumber) -> bool {
        let (_, wanted) = self.links.pair(spot);
        self.links.supply(wanted) > 0 || self.hands.loose[wanted as usize] > 0
    }

    /// The first empty spot that can be filled; rather one that is no trouble.
    fn first_hole(&mut self) -> Option<PocketNumber> {
        let (mut first, mut looked) = (None, 0);
        let mut never = Vec::new();
        for (rank, spot) in &self.holes {
            if !self.can_fill(*spot) {
                // What lacks a copy now lacks it to the end: copies only ever come to the table
                // from pockets.
                never.push((*rank, *spot));
                continue;
            }
            if !self.is_trouble(*spot) {
                first = Some(*spot);
                break;
            }
            first = first.or(Some(*spot));
            looked += 1;
            if looked == LOOK {
                break;
            }
        }
        for hole in never {
            self.holes.remove(&hole);
        }
        first
    }

    /// Whether filling it now makes for a touch that can be spared: the card before it is still
    /// to be lifted, or the pocket behind it still to be seen to.
    fn is_trouble(&self, spot: PocketNumber) -> bool {
        let (page, pocket) = self.spots[spot as usize];
        let grid = self.hands.grids[page];
        let Some(partner) = grid.partner(pocket) else {
            return false;
        };
        let (held, wanted) = self
            .links
            .pair(self.first_spot[page] + partner as PocketNumber);
        if held == wanted {
            return false;
        }
        if held != NONE {
            return true;
        }
        let can = self.links.supply(wanted) > 0 || self.hands.loose[wanted as usize] > 0;
        grid.is_front(pocket) && can
    }

    fn fill(&mut self, hole: PocketNumber) {
        let (_, card) = self.links.pair(hole);
        let loose = self.hands.loose[card as usize];
        if loose > 0 && self.links.demand(card) > self.links.supply(card) {
            self.links.fill(hole);
            if self.links.supply(card) == 0 || self.links.is_tied(card, NONE) {
                self.seat(hole, card);
                return;
            }
            self.links.empty_again(hole);
        }
        let copies = self.links.copies(card).to_vec();
        let behind = |spot: &PocketNumber| {
            let (page, pocket) = self.spots[*spot as usize];
            self.hands.is_behind(page, pocket)
        };
        let (later, mut candidates): (Vec<PocketNumber>, Vec<PocketNumber>) =
            copies.iter().copied().partition(behind);
        candidates.extend(later);
        let last = candidates.len().saturating_sub(1);
        for (number, from) in candidates.into_iter().enumerate() {
            let (_, near) = self.links.pair(from);
            self.links.lift(from);
            self.links.fill(hole);
            // That one of them is right is known, so the last need not be asked.
            let is_right =
                self.links.supply(card) == 0 || number == last || self.links.is_tied(card, near);
            if is_right {
                self.lift(from);
                self.seat(hole, card);
                return;
            }
            self.links.empty_again(hole);
            self.links.put_back(from, card);
        }
    }

    /// The first surplus copy whose going leaves no closed group.
    fn first_surplus(&mut self) -> Option<PocketNumber> {
        let mut over = Vec::new();
        let mut found = None;
        for spot in &self.surplus {
            let (card, wanted) = self.links.pair(*spot);
            let is_misplaced = card != NONE && card != wanted;
            if !is_misplaced || self.links.supply(card) <= self.links.demand(card) {
                over.push(*spot);
                continue;
            }
            self.links.lift(*spot);
            let is_right = self.links.supply(card) == 0 || self.links.is_tied(card, wanted);
            self.links.put_back(*spot, card);
            if is_right {
                found = Some(*spot);
                break;
            }
        }
        for spot in over {
            self.surplus.remove(&spot);
        }
        found
    }

    fn take_out(&mut self, spot: PocketNumber) {
        self.links.lift(spot);
        self.lift(spot);
    }

    /// The card is lifted, and `links` know.
    fn lift(&mut self, spot: PocketNumber) {
        let (page, pocket) = self.spots[spot as usize];
        self.hands.lift(page, pocket);
        let (_, wanted) = self.links.pair(spot);
        if wanted != NONE {
            self.holes.insert((self.fill_rank[spot as usize], spot));
        }
    }

    /// The card is seated, and `links` know.
    fn seat(&mut self, spot: PocketNumber, card: Card) {
        let (page, pocket) = self.spots[spot as usize];
        self.hands.seat(page, pocket, card);
        self.holes.remove(&(self.fill_rank[spot as usize], spot));
        if self.links.demand(card) == 0 {
            self.leaving.extend(self.links.copies(card));
        }
    }
}
