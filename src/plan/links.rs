//! Who holds what others want: printings as points, with an arrow for each pocket that must
//! change, from what it holds to what it wants.

use super::task::{Card, NONE};

/// A pocket, by its place in the order of the binders.
pub(super) type Spot = u32;

pub(super) struct Links {
    held: Vec<Card>,
    wanted: Vec<Card>,
    /// By printing: spots where a copy does not belong, ascending.
    copies: Vec<Vec<Spot>>,
    /// By printing: spots that want one and do not hold it, ascending.
    wanting: Vec<Vec<Spot>>,
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
    pub(super) fn pair(&self, spot: Spot) -> (Card, Card) {
        (self.held[spot as usize], self.wanted[spot as usize])
    }

    /// Spots where a copy does not belong.
    pub(super) fn copies(&self, card: Card) -> &[Spot] {
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
    pub(super) fn lift(&mut self, spot: Spot) {
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
    pub(super) fn put_back(&mut self, spot: Spot, card: Card) {
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
    pub(super) fn fill(&mut self, spot: Spot) {
        let wanted = self.wanted[spot as usize];
        remove(&mut self.wanting[wanted as usize], spot);
        self.empty[wanted as usize] -= 1;
        self.held[spot as usize] = wanted;
    }

    /// The reverse of [`Links::fill`].
    pub(super) fn empty_again(&mut self, spot: Spot) {
        let wanted = self.wanted[spot as usize];
        insert(&mut self.wanting[wanted as usize], spot);
        self.empty[wanted as usize] += 1;
        self.held[spot as usize] = NONE;
    }

    /// Whether a walk over arrows, whichever way they point, leads from the printing to one that
    /// is not balanced, or of which a spot is empty, or of which a copy lies where nothing is
    /// wanted. If not, its arrows form closed groups.
    pub(super) fn is_tied(&mut self, card: Card) -> bool {
        self.round += 1;
        self.seen[card as usize] = self.round;
        if self.is_loose_end(card) {
            return true;
        }
        let mut stack = vec![card];
        while let Some(card) = stack.pop() {
            let at = card as usize;
            let outward = self.copies[at]
                .iter()
                .map(|spot| self.wanted[*spot as usize]);
            let inward = self.wanting[at]
                .iter()
                .map(|spot| self.held[*spot as usize]);
            for next in outward.chain(inward) {
                if self.seen[next as usize] == self.round {
                    continue;
                }
                self.seen[next as usize] = self.round;
                if self.is_loose_end(next) {
                    return true;
                }
                stack.push(next);
            }
        }
        false
    }

    fn is_loose_end(&self, card: Card) -> bool {
        let at = card as usize;
        let is_balanced = self.copies[at].len() == self.wanting[at].len();
        !is_balanced || self.empty[at] > 0 || self.free[at] > 0
    }
}

fn remove(list: &mut Vec<Spot>, spot: Spot) {
    if let Ok(at) = list.binary_search(&spot) {
        list.remove(at);
    }
}

fn insert(list: &mut Vec<Spot>, spot: Spot) {
    if let Err(at) = list.binary_search(&spot) {
        list.insert(at, spot);
    }
}
