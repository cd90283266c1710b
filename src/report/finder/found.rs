//! What was found, as printings with their pockets; and what words may be meant to ask.

use super::{Finder, Hit};
use crate::model::{Collection, Place, PrintingId};

/// A printing that was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Found {
    pub printing: PrintingId,
    /// The pocket that holds it, else the one that is meant for it.
    pub place: Option<Place>,
}

/// Words to look for, in one finish or in all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    pub words: String,
    finish: Option<String>,
}

impl Ask {
    /// What these words may mean, the likeliest first: the next counts only where nothing is found
    /// before. "12 rev" means the reverse of 12, unless nothing is found that way.
    #[must_use]
    pub fn all(finder: &Finder, query: &str) -> Vec<Self> {
        let mut asks = vec![Self {
            words: query.to_owned(),
            finish: None,
        }];
        let mut words: Vec<&str> = query.split_whitespace().collect();
        let is_finish = |word: &&str| word.len() >= 3 && finder.begins_finish(&word.to_lowercase());
        let at = words.iter().position(is_finish);
        if let Some(at) = at.filter(|_| words.len() > 1) {
            let finish = words.remove(at).to_lowercase();
            asks.insert(
                0,
                Self {
                    words: words.join(" "),
                    finish: Some(finish),
                },
            );
        }
        asks
    }

    /// The printings of the cards that were found with the words, in the finish that is asked for.
    #[must_use]
    pub fn found(&self, collection: &Collection, hits: &[Hit]) -> Vec<Found> {
        let is_meant = |printing: &PrintingId| {
            let Some(word) = &self.finish else {
                return true;
            };
            let set = collection.set(printing.set());
            let finish = set.and_then(|set| set.finishes().get(usize::from(printing.finish())));
            finish.is_some_and(|finish| finish.name.to_lowercase().starts_with(word))
        };
        let printings = hits.iter().flat_map(|hit| printings(collection, *hit));
        let found = printings.filter(is_meant).map(|printing| Found {
            printing,
            place: (collection.places_holding(printing).next())
                .or_else(|| collection.places_meant(printing).next()),
        });
        found.collect()
    }
}

/// The printings of a card.
fn printings(collection: &Collection, hit: Hit) -> impl Iterator<Item = PrintingId> + '_ {
    let finishes = collection
        .set(hit.set)
        .map_or(0, |set| set.finishes().len()) as u8;
    (0..finishes)
        .map(move |finish| PrintingId::new(hit.set, hit.card, finish))
        .filter(|printing| collection.has_printing(*printing))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_more_cards_than_are_asked_for_the_number_is_known() {
        let collection = crate::demo::collection();
        let finder = Finder::new(&collection);
        let all = finder.search("wood", usize::MAX).len();
        let of = |limit| finder.printings_of(&collection, "wood", limit).1;
        assert_eq!((of(1), of(all - 1)), (Some(all), Some(all)));
        assert_eq!((of(all), of(all + 1)), (None, None));
    }
}
