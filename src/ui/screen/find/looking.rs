//! Looking for what is typed, a slice at a time: no key waits for a search through a million cards,
//! nor for the index of them. Up to some thousand cards it is one slice.

use crate::hand::Today;
use crate::model::Collection;
use crate::report::{Ask, Found, Search};
use crate::ui::desk::Desk;

/// The most cards that are listed; with more the words are not yet narrow enough.
const MOST: usize = 100;
/// Cards looked at before the next key has its turn: a tenth of a frame where all of them meet
/// the words.
const SLICE: usize = 1 << 13;
/// Cards taken into the index likewise.
const INDEX_SLICE: usize = 1 << 12;

/// Pockets that are meant for a card are told where they stand today, also while pages are still to
/// be moved.
fn stand_today(collection: &Collection, found: &mut [Found]) {
    let mut today = Today::default();
    for found in found {
        let meant = found.place;
        let meant = meant.filter(|place| collection.held(*place) != Some(found.printing));
        if let Some(place) = meant {
            found.place = Some(today.stands(collection, place));
        }
    }
}

/// What is looked for.
#[derive(Debug, Default)]
pub(super) struct Looking {
    /// Typed, and not begun with.
    query: Option<String>,
    /// Still to be asked, the last first: the next only if nothing is found before.
    asks: Vec<Ask>,
    search: Option<Search>,
    /// The last one that came to its end, at this revision of the collection.
    last: Option<(u64, Search)>,
    /// How many cards were found last, where more than [`MOST`] were.
    of: Option<usize>,
}

impl Looking {
    /// Looks for this from now on.
    pub(super) fn begin(&mut self, query: &str) {
        self.query = Some(query.to_owned());
        self.asks.clear();
        self.search = None;
    }

    /// Whether there is something left to do: to look, or to make the index.
    pub(super) fn is_at_work(&self, desk: &Desk) -> bool {
        self.is_looking() || !desk.has_finder()
    }

    pub(super) fn is_looking(&self) -> bool {
        self.query.is_some() || !self.asks.is_empty()
    }

    /// Goes on for a slice. What was found, when it has come to its end.
    pub(super) fn go_on(&mut self, desk: &mut Desk) -> Option<Vec<Found>> {
        let revision = desk.session.revision();
        let (finder, collection) = desk.finder(INDEX_SLICE)?;
        if let Some(query) = self.query.take() {
            self.asks = Ask::all(finder, &query);
            self.asks.reverse();
        }
        self.last = (self.last.take()).filter(|(searched, _)| *searched == revision);
        let mut cards = SLICE;
        while let Some(ask) = self.asks.last() {
            let last = self.last.as_ref().map(|(_, last)| last);
            let search = self.search.take();
            let mut search = search.unwrap_or_else(|| Search::new(finder, &ask.words, MOST, last));
            if !search.go_on(finder, &mut cards) {
                self.search = Some(search);
                return None;
            }
            let mut found = ask.found(collection, &search.best(finder));
            stand_today(collection, &mut found);
            self.of = search.met();
            self.last = Some((revision, search));
            self.asks.pop();
            if !found.is_empty() {
                self.asks.clear();
            }
            if self.asks.is_empty() {
                return Some(found);
            }
        }
        None
    }

    /// How many cards are listed, and of how many, where that is not all.
    pub(super) fn first_of(&self) -> Option<(usize, usize)> {
        Some((MOST, self.of?))
    }

    /// Goes on to the end.
    pub(super) fn finish(&mut self, desk: &mut Desk) -> Option<Vec<Found>> {
        let mut found = None;
        while found.is_none() && self.is_looking() {
            found = self.go_on(desk);
        }
        found
    }
}
