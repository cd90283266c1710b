//! What all layouts and drafts take, against what is there.

use std::collections::{BTreeMap, HashMap};

use super::fit::{Verdict, fit};
use super::item::{Item, PageKind};
use super::prices::PriceList;
use super::rings::Rings;
use super::split::binders;
use super::thickness::{LayoutOf, Sleeves, Thickness};
use crate::model::{Binder, BinderId, CardSize, Collection, LayoutPage, PrintingId};

/// Whose supplies are counted, and how.
#[derive(Clone, Debug, Default)]
pub struct Choice {
    /// Binders that are counted by a draft instead of the layout in force.
    pub drafts: Vec<(BinderId, usize)>,
    /// This binder only.
    pub only: Option<BinderId>,
    /// As if no binder and no page were there yet: what it takes in all.
    pub anew: bool,
    pub thickness: Thickness,
}

impl Choice {
    #[must_use]
    pub fn of(&self, binder: BinderId) -> LayoutOf {
        let draft = self.drafts.iter().find(|(id, _)| *id == binder);
        draft.map_or(LayoutOf::InForce, |(_, at)| LayoutOf::Draft(*at))
    }

    /// The binders that are counted.
    pub fn binders<'c>(&self, collection: &'c Collection) -> impl Iterator<Item = &'c Binder> {
        let only = self.only;
        let shelf = collection.shelf();
        shelf.filter(move |binder| only.is_none_or(|only| only == binder.id()))
    }
}

/// How many of one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    pub item: Item,
    /// That the layouts take.
    pub wanted: u64,
    /// Of these, in the binders already, where they are wanted or can be put there.
    pub there: u64,
    /// In the drawer, as the price list says.
    pub on_hand: u64,
}

impl Need {
    #[must_use]
    pub fn to_buy(&self) -> u64 {
        self.wanted.saturating_sub(self.there + self.on_hand)
    }
}

/// All of them, by item.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Needs {
    pub needs: Vec<Need>,
    /// Binders with rings of unknown size: whether they close is not known.
    pub unknown_rings: usize,
    /// Pages that are in a binder with rings and that no layout wants.
    pub pages_free: u64,
}

/// What the layouts take.
///
/// Pages are counted by grid and kind; one that a ring binder does not want serves in another
/// one. Fixed pages stay where they are, and a fixed binder that lacks pages wants another like
/// it. A ring binder that does not close wants as many like it as its pages fill. Sleeves are
/// counted for every pocket that is meant for a card; the cards that lie in binders are in theirs.
#[must_use]
pub fn needs(collection: &Collection, choice: &Choice, list: &PriceList) -> Needs {
    let mut count = Count::default();
    for binder in choice.binders(collection) {
        count.binder(collection, binder, choice);
    }
    let mut needs = count.found;
    for (kind, there) in &count.pages_there {
        let Some(need) = needs.get_mut(&Item::Page(*kind)) else {
            continue;
        };
        need.there = need.wanted.min(*there);
    }
    for (sleeve, there) in &count.sleeves_there {
        if let Some(need) = needs.get_mut(sleeve) {
            need.there = need.wanted.min(*there);
        }
    }
    let all = (count.pages_there.iter()).map(|(kind, there)| {
        let used = needs.get(&Item::Page(*kind)).map_or(0, |need| need.there);
        there - used
    });
    let pages_free = all.sum();
    let mut needs: Vec<Need> = needs.into_values().collect();
    for need in &mut needs {
        need.on_hand = list.on_hand(need.item);
    }
    Needs {
        needs,
        unknown_rings: count.unknown_rings,
        pages_free,
    }
}

#[derive(Default)]
struct Count {
    found: BTreeMap<Item, Need>,
    /// In binders with rings.
    pages_there: BTreeMap<PageKind, u64>,
    /// Of the cards that lie in pockets.
    sleeves_there: BTreeMap<Item, u64>,
    unknown_rings: usize,
}

impl Count {
    fn add(&mut self, item: Item, wanted: u64, there: u64) {
        if wanted == 0 {
            return;
        }
        let need = self.found.entry(item).or_insert(Need {
            item,
            wanted: 0,
            there: 0,
            on_hand: 0,
        });
        need.wanted += wanted;
        need.there += there;
    }

    fn binder(&mut self, collection: &Collection, binder: &Binder, choice: &Choice) {
        let of = choice.of(binder.id());
        let layout = of.layout(binder);
        let kind = binder.spec().kind;
        let there = u64::from(!choice.anew);
        if kind.pages_move() {
            for page in &layout.pages {
                self.add(Item::Page(PageKind::of(page.format())), 1, 0);
            }
            let real = binder.pages().iter().filter(|_| !choice.anew);
            for page in real {
                let kind = PageKind::of(page.format());
                *self.pages_there.entry(kind).or_default() += 1;
            }
            match Rings::of(kind) {
                Some(rings) => {
                    let fit = fit(binder, of, choice.thickness, None);
                    // One that may close counts as one that does.
                    let over = fit.room.filter(|_| fit.verdict == Verdict::DoesNotClose);
                    let binders =
                        over.map_or(1, |room| binders(binder, of, choice.thickness, room.sure));
                    self.add(Item::RingBinder(rings), binders, there);
                }
                None => self.unknown_rings += 1,
            }
        } else if let Some(item) = fixed_binder(binder) {
            let lacks = match fit(binder, of, choice.thickness, None).verdict {
                Verdict::FixedLacks(lacks) => lacks,
                _ => 0,
            };
            let more = lacks.div_ceil(binder.pages().len().max(1));
            self.add(item, 1 + more as u64, there);
        }
        let how = choice.thickness.sleeves;
        let meant = layout.pages.iter().flat_map(LayoutPage::printings);
        let meant = meant.map(|(_, printing)| printing);
        for (sleeve, many) in sleeves(collection, meant, how) {
            self.add(sleeve, many, 0);
        }
        let pages = binder.pages().iter().filter(|_| !choice.anew);
        let cards = pages.flat_map(|page| page.cards().iter().flatten().copied());
        for (sleeve, many) in sleeves(collection, cards, how) {
            *self.sleeves_there.entry(sleeve).or_default() += many;
        }
    }
}

/// The sleeves of so many cards, by size and layer.
fn sleeves(
    collection: &Collection,
    cards: impl Iterator<Item = PrintingId>,
    how: Sleeves,
) -> Vec<(Item, u64)> {
    // Nearly all cards are of the usual size.
    let mut usual = 0;
    let mut others: HashMap<CardSize, u64> = HashMap::new();
    for printing in cards {
        let size = collection.card(printing).and_then(|card| card.size);
        match size.filter(|size| *size != CardSize::USUAL) {
            None => usual += 1,
            Some(size) => *others.entry(size).or_default() += 1,
        }
    }
    let others = others.into_iter().map(|(size, many)| (Some(size), many));
    let sizes = std::iter::once((None, usual)).chain(others);
    sizes
        .flat_map(|(size, many)| how.layers().iter().map(move |layer| (*layer, size, many)))
        .map(|(layer, size, many)| (Item::sleeve(layer, size), many))
        .collect()
}

/// A binder with as many fixed pages, of the kind that most of them have.
fn fixed_binder(binder: &Binder) -> Option<Item> {
    let mut kinds: BTreeMap<PageKind, usize> = BTreeMap::new();
    for page in binder.pages() {
        *kinds.entry(PageKind::of(page.format())).or_default() += 1;
    }
    let (page, _) = kinds.into_iter().max_by_key(|(_, count)| *count)?;
    let pages = u16::try_from(binder.pages().len()).ok()?;
    Some(Item::FixedBinder { pages, page })
}
