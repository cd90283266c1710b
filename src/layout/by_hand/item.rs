//! What the rules place, told apart where several are alike.

use std::collections::HashMap;
use std::sync::Arc;

use crate::layout::gather::Gathered;
use crate::model::{LayoutPage, Meaning, PrintingId};

/// What is placed once: a printing, or a keepsake; of several keepsakes of the same words the
/// how-manieth. (A printing goes to the first rule that matches it, and to no other.)
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum Item {
    Printing(PrintingId),
    Keepsake(Arc<str>, usize),
}

impl Item {
    /// The nth of those that say the same; `None` where there is but one.
    pub(super) fn nth(&self, nth: usize) -> Option<Self> {
        match self {
            Self::Printing(_) => (nth == 0).then(|| self.clone()),
            Self::Keepsake(words, _) => Some(Self::Keepsake(words.clone(), nth)),
        }
    }
}

/// The first of those that say this.
pub(super) fn first(meaning: &Meaning) -> Option<Item> {
    match meaning {
        Meaning::Printing(printing) => Some(Item::Printing(*printing)),
        Meaning::Keepsake(words) => Some(Item::Keepsake(words.clone(), 0)),
        Meaning::Nothing | Meaning::Blank => None,
    }
}

/// Numbers keepsakes of the same words in the order in which they come.
#[derive(Default)]
pub(super) struct Numbering(HashMap<Arc<str>, usize>);

impl Numbering {
    pub(super) fn item(&mut self, meaning: &Meaning) -> Option<Item> {
        let mut item = first(meaning)?;
        if let Item::Keepsake(words, nth) = &mut item {
            let seen = self.0.entry(words.clone()).or_default();
            *nth = *seen;
            *seen += 1;
        }
        Some(item)
    }
}

/// What the rules place, by their sections.
pub(super) fn numbered(gathered: &Gathered) -> Vec<Vec<Item>> {
    let mut numbering = Numbering::default();
    let each = gathered.items.iter().map(|items| {
        let items = items.iter().filter_map(|item| numbering.item(item));
        items.collect()
    });
    each.collect()
}

pub(super) fn items_on(page: &LayoutPage) -> impl Iterator<Item = Item> + '_ {
    (0..page.format().pockets()).filter_map(|pocket| first(&page.meaning(pocket)))
}

/// How many there are of each, under the first of them.
pub(super) fn counts(items: impl Iterator<Item = Item>) -> HashMap<Item, usize> {
    let mut counts = HashMap::new();
    for item in items {
        *counts.entry(item).or_default() += 1;
    }
    counts
}
