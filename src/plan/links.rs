//! Who holds what others want: printings as points, with an arrow for each pocket that must
//! change, from what it holds to what it wants.

use super::task::{Card, NONE};

/// A pocket, by its place in the order of the binders.
pub(super) type PocketNumber = u32;

pub(super) struct Links {
    held: Vec<Card>,
    wanted: Vec<Card>,
    /// By printing: spots where a copy does not belong, ascending.
    copies: Vec<Vec<PocketNumber>>,
    /// By printing: spots that want one and do not hold it, ascending.
    wanting: Vec<Vec<PocketNumber>>,
    /// By printing: how many of those are empty; how many of its copies lie where nothing is
    /// wanted.
    empty: Vec<u32>,
    free: Vec<u32>,
    seen: Vec<u32>,
    round: u32,
}

impl Links {
    /// `pairs` are what each spot holds and what it wants.
    pub(super) fn new(printings: usize, pairs: Vec<(Card, Card)>) -> Self {
        let mut links = Self {
            held: Vec::with_capacity(pairs.len()),
            wanted: Vec::with_capacity(pairs.len()),
            copies: vec![Vec::new(); printings],
            wanting: vec![Vec::new(); printings],
            empty: vec![0; printings],
            free: vec![0; printings],
            seen: vec![0; printings],
            round: 0,
        };
        for (spot, (held, wanted)) in (0..).zip(pairs) {
            links.held.push(held);
            links.wanted.push(wanted);
            if held == wanted {
                continue;
            }
            if held != NONE {
                links.copies[held as usize].push(spot);
                links.free[held as usize] += u32::from(wanted == NONE);
            }
            if wanted != NONE {
                links.wanting[wanted as usize].push(spot);
                links.empty[wanted as usize] += u32::from(held == NONE);
            }
        }
        links
    }

    /// What a spot holds and what it wants.
    pub(super) fn pair(&self, spot: PocketNumber) -> (Card, Card) {
        (self.held[spot as usize], self.wanted[spot as usize])
    }

    /// Spots where a copy does not belong.
    pub(super) fn copies(&self, card: Card) -> &[PocketNumber] {
        &self.copies[card as usize]
    }

    pub(super) fn supply(&self, card: Card) -> usize {
        self.copies[card as usize].len()
    }

    /// Spots that want the printing and do not hold it.
    pub(super) fn demand(&self, card: Card) -> usize {
        self.wanting[card as usize].len()
    }

    /// A misplaced card leaves its spot.
    pub(super) fn lift(&mut self, spot: PocketNumber) {
        let (held, wanted) = self.pair(spot);
        remove(&mut self.copies[held as usize], spot);
        self.held[spot as usize] = NONE;
        if wanted == NONE {
            self.free[held as usize] -= 1;
        } else {
            self.empty[wanted as usize] += 1;
        }
    }

    /// The reverse of [`Links::lift`].
    pub(super) fn put_back(&mut self, spot: PocketNumber, card: Card) {
        let wanted = self.wanted[spot as usize];
        insert(&mut self.copies[card as usize], spot);
        self.held[spot as usize] = card;
        if wanted == NONE {
            self.free[card as usize] += 1;
        } else {
            self.empty[wanted as usize] -= 1;
        }
    }

    /// An empty spot gets what it wants.
    pub(super) fn fill(&mut self, spot: PocketNumber) {
        let wanted = self.wanted[spot as usize];
        remove(&mut self.wanting[wanted as usize], spot);
        self.empty[wanted as usize] -= 1;
        self.held[spot as usize] = wanted;
    }

    /// The reverse of [`Links::fill`].
    pub(super) fn empty_again(&mut self, spot: PocketNumber) {
        let wanted = self.wanted[spot as usize];
        insert(&mut self.wanting[wanted as usize], spot);
        self.empty[wanted as usize] += 1;
        self.held[spot as usize] = NONE;
    }

    /// Whether a walk over arrows, whichever way they point, leads from the printing to one that
    /// is not balanced, or of which a spot is empty, or of which a copy lies where nothing is
    /// wanted. If not, its arrows form closed groups. `near` is a printing that is tied, for a
    /// search from both ends: they mostly meet long before either has seen everything.
    pub(super) fn is_tied(&mut self, card: Card, near: Card) -> bool {
        if self.is_loose_end(card) {
            return true;
        }
        self.round += 2;
        let (here, there) = (self.round - 1, self.round);
        self.seen[card as usize] = here;
        let mut from_here = vec![card];
        let mut from_there = Vec::new();
        if near != NONE && near != card {
            self.seen[near as usize] = there;
            from_there.push(near);
        }
        let (mut next_here, mut next_there) = (0, 0);
        while let Some(at) = from_here.get(next_here) {
            next_here += 1;
            if self.spread(*at, here, there, &mut from_here) {
                return true;
            }
            if let Some(at) = from_there.get(next_there) {
                next_there += 1;
                if self.spread(*at, there, here, &mut from_there) {
                    return true;
                }
            }
        }
        false
    }

    /// Goes to the neighbours of a printing; says whether the other search was met, or, for the
    /// search that begins at the printing in question, a loose end.
    fn spread(&mut self, card: Card, own: u32, other: u32, to: &mut Vec<Card>) -> bool {
        let at = card as usize;
        let outward = self.copies[at]
            .iter()
            .map(|spot| self.wanted[*spot as usize]);
        let inward = self.wanting[at]
            .iter()
            .map(|spot| self.held[*spot as usize]);
        for next in outward.chain(inward) {
            if next == NONE || self.seen[next as usize] == own {
                continue;
            }
            if self.seen[next as usize] == other || (own < other && self.is_loose_end(next)) {
                return true;
            }
            self.seen[next as usize] = own;
            to.push(next);
        }
        false
    }

    fn is_loose_end(&self, card: Card) -> bool {
        let at = card as usize;
        let is_balanced = self.copies[at].len() == self.wanting[at].len();
        !is_balanced || self.empty[at] > 0 || self.free[at] > 0
    }
}

fn remove(list: &mut Vec<PocketNumber>, spot: PocketNumber) {
    if let Ok(at) = list.binary_search(&spot) {
        list.remove(at);
    }
}

fn insert(list: &mut Vec<PocketNumber>, spot: PocketNumber) {
    if let Err(at) = list.binary_search(&spot) {
        list.insert(at, spot);
    }
}
