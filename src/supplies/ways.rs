//! Ways to keep so many cards, side by side.

use super::item::{Item, PageKind};
use super::packs::{Offer, Purchase, cheapest};
use super::prices::PriceList;
use super::rings::room;
use super::thickness::{Thickness, sheets};
use crate::model::PageFormat;

/// What is asked: these cards on pages of this grid.
#[derive(Clone, Copy, Debug)]
pub struct Question {
    pub cards: u64,
    pub rows: u8,
    pub columns: u8,
    pub thickness: Thickness,
}

/// A way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HousingKind {
    /// Rings, backed pages, front and back loaded.
    Backed,
    /// Rings, clear pages, two cards back to back in a pocket.
    BackToBack,
    /// Rings, clear pages, one card in a pocket, seen from both sides.
    OneSide,
    /// Binders with fixed pages, backed, front and back loaded.
    Fixed,
}

impl HousingKind {
    const ALL: [Self; 4] = [Self::Backed, Self::BackToBack, Self::OneSide, Self::Fixed];

    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Backed => "rings, backed pages, both sides",
            Self::BackToBack => "rings, clear pages, two cards back to back",
            Self::OneSide => "rings, clear pages, one card a pocket",
            Self::Fixed => "fixed backed pages, both sides",
        }
    }

    fn format(self, rows: u8, columns: u8) -> PageFormat {
        let sides = if self == Self::OneSide { 1 } else { 2 };
        PageFormat {
            shared: self == Self::BackToBack,
            ..PageFormat::new(rows, columns, sides)
        }
    }
}

/// A way to house so many cards, and what it takes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Housing {
    pub kind: HousingKind,
    /// Pages to buy; those of fixed binders are not bought by themselves.
    pub pages: u64,
    /// Places for a card on them, or in the fixed binders.
    pub places: u64,
    /// Binders of each kind.
    pub binders: Vec<(Item, u64)>,
    /// Minor units, of pages and binders; `None` while a price is missing.
    pub housing: Option<u64>,
    /// The same, with the sleeves.
    pub cost: Option<u64>,
    /// What the list has no price for.
    pub holes: Vec<String>,
}

/// The ways. A ring binder is filled as far as it surely closes; among binders of several sizes
/// the cheapest mix is taken, as among packs. Sleeves are part of each.
#[must_use]
pub fn ways(question: Question, list: &PriceList) -> Vec<Housing> {
    HousingKind::ALL
        .into_iter()
        .map(|kind| way(question, kind, list))
        .collect()
}

fn way(question: Question, kind: HousingKind, list: &PriceList) -> Housing {
    let format = kind.format(question.rows, question.columns);
    let page = PageKind::of(format);
    let per_page = format.pockets() as u64;
    let mut way = Housing {
        kind,
        pages: 0,
        places: 0,
        binders: Vec::new(),
        housing: None,
        cost: Some(0),
        holes: Vec::new(),
    };
    if kind == HousingKind::Fixed {
        let places = |item: &Item| match item {
            Item::FixedBinder { pages, page: of } if *of == page => {
                Some(u64::from(*pages) * per_page)
            }
            _ => None,
        };
        way.binders(question.cards, list, places);
        let full = way.binders.iter();
        way.places = full
            .filter_map(|(item, count)| Some(places(item)? * count))
            .sum();
        if way.binders.is_empty() && question.cards > 0 {
            let grid = format!("{}x{}", page.rows, page.columns);
            way.holes.push(format!("fixed binder of {grid} backed"));
        }
    } else {
        way.pages = question.cards.div_ceil(per_page);
        way.places = way.pages * per_page;
        way.buy(Item::Page(page), way.pages, list);
        let thick = question.thickness.full_page(format);
        let holds = |item: &Item| match item {
            Item::RingBinder(rings) => sheets(room(*rings).sure, thick).map(u64::from),
            _ => None,
        };
        way.binders(way.pages, list, holds);
        if way.binders.is_empty() && question.cards > 0 {
            way.holes.push("ring binder".into());
        }
    }
    if way.holes.is_empty() {
        way.housing = way.cost;
    }
    for layer in question.thickness.sleeves.layers() {
        way.buy(Item::sleeve(*layer, None), question.cards, list);
    }
    if !way.holes.is_empty() {
        way.cost = None;
    }
    way
}

impl Housing {
    fn pay(&mut self, purchase: &Purchase) {
        self.cost = self.cost.and_then(|cost| cost.checked_add(purchase.cost));
    }

    fn buy(&mut self, item: Item, need: u64, list: &PriceList) {
        match cheapest(need, list.offers(item)) {
            Some(purchase) => self.pay(&purchase),
            None => self.holes.push(item.words()),
        }
    }

    /// Takes the cheapest binders, of which each holds so many (pages or cards), for `need` of them.
    fn binders(&mut self, need: u64, list: &PriceList, holds: impl Fn(&Item) -> Option<u64>) {
        let mut offers = Vec::new();
        let mut items = Vec::new();
        for (item, sold) in list.items() {
            let Some(each) = holds(&item).filter(|each| *each > 0) else {
                continue;
            };
            for offer in sold {
                if let Ok(pack) = u32::try_from(each * u64::from(offer.pack)) {
                    items.push((item, offer.pack));
                    offers.push(Offer { pack, ..*offer });
                }
            }
        }
        let Some(purchase) = cheapest(need, &offers) else {
            return;
        };
        self.pay(&purchase);
        for (packs, (item, pack)) in purchase.packs.iter().zip(items) {
            let count = u64::from(*packs) * u64::from(pack);
            match self.binders.iter_mut().find(|(known, _)| *known == item) {
                Some((_, known)) => *known += count,
                None if count > 0 => self.binders.push((item, count)),
                None => {}
            }
        }
    }
}
