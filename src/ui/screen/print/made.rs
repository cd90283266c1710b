//! The document that the form asks for.

use std::ops::RangeInclusive;

use super::{Kind, Print, READINGS};
use crate::hand;
use crate::model::{Binder, BinderId, Collection};
use crate::paper::{
    Document, Drawing, Fonts, LabelLook, PageView, Size, Spine, Turn, basket_list,
    collection_sheet, index, labels, page_picture, pile_sheet, pocket_cards, spares_list,
    stand_ins, wants_list,
};
use crate::plan::{Target, Way, in_force};
use crate::report::{Asked, LEAST_HEAPS, ListFilter, MOST_HEAPS, StackOrder, listed, sorting};
use crate::supplies::{Choice, PriceList, Sleeves, basket, needs};
use crate::ui::desk::Desk;

/// The most cards of a stack that are taken.
const MOST_CARDS: u64 = 1_000_000;

/// The sheets as they are seen and written.
#[derive(Debug)]
pub(super) struct Made {
    pub(super) document: Document,
    pub(super) drawing: Drawing,
    pub(super) told: Vec<String>,
}

impl Made {
    pub(super) fn of(wish: &Wish, collection: &Collection) -> Result<Self, String> {
        let fonts = Fonts::own();
        let document = wish.document(collection, &fonts)?;
        let drawing = document.drawing(wish.paper, &fonts);
        Ok(Self {
            told: drawing.told(&fonts),
            document,
            drawing,
        })
    }
}

/// What the form asks for, and what else the sheets depend on.
#[derive(Debug)]
pub(super) struct Wish {
    kind: Kind,
    binder: BinderId,
    page: usize,
    all: bool,
    paper: Size,
    turn: Turn,
    spine: String,
    cards: String,
    heaps: String,
    margin: f64,
    foot: f64,
    prices: PriceList,
    sleeves: Sleeves,
    /// Spare copies of each card that are kept.
    keep: u32,
    /// Heaps on the table when a pile is sorted and nothing else is said.
    usual_heaps: u32,
    way: Way,
}

impl Print {
    pub(super) fn wish(&self, desk: &Desk) -> Wish {
        Wish {
            kind: self.kind(),
            binder: self.binder,
            page: self.page,
            all: self.all,
            paper: self.paper(),
            turn: READINGS[self.reading].0,
            spine: self.spine.value().trim().replace(',', "."),
            cards: self.cards.value().trim().to_owned(),
            heaps: self.heaps.value().trim().to_owned(),
            margin: desk.settings.paper.label_margin,
            foot: desk.settings.paper.label_foot,
            prices: desk.prices.clone(),
            sleeves: desk.settings.supplies.sleeves,
            keep: desk.settings.collecting.keep,
            usual_heaps: desk.settings.collecting.heaps,
            way: desk.way,
        }
    }
}

impl Wish {
    fn document(&self, collection: &Collection, fonts: &Fonts<'_>) -> Result<Document, String> {
        let binder = collection.binder(self.binder);
        let binder = binder.ok_or("the binder is gone")?;
        let filter = ListFilter {
            binder: (!self.all).then_some(self.binder),
            ..ListFilter::default()
        };
        let listing = match self.kind {
            Kind::Labels => return self.labels(collection, binder, fonts),
            Kind::Pockets => {
                let gaps = listed(&hand::by_pages(collection, None), Asked::Wants, filter);
                let cards = stand_ins(collection, &gaps, Size::CARD);
                let drawn = pocket_cards(&cards, self.paper, fonts);
                return drawn.map(Document::Drawing).map_err(|e| e.to_string());
            }
            Kind::Page => {
                let (view, paper) = (PageView::Spread(self.page), Some(self.paper));
                let told = hand::by_pages(collection, Some(self.binder));
                let stands = told.binder(self.binder).unwrap_or(binder);
                let drawn = page_picture(&told, stands, view, paper, fonts);
                let none = "the binder has no pages yet";
                return drawn.map(Document::Drawing).ok_or_else(|| none.into());
            }
            Kind::Index => {
                let told = hand::by_pages(collection, Some(self.binder));
                index(&told, told.binder(self.binder).unwrap_or(binder))
            }
            Kind::Wants => wants_list(
                collection,
                &listed(&hand::by_pages(collection, None), Asked::Wants, filter),
            ),
            Kind::Spares => {
                let filter = ListFilter {
                    keep: self.keep,
                    ..filter
                };
                spares_list(
                    collection,
                    &listed(&hand::by_pages(collection, None), Asked::Spares, filter),
                )
            }
            Kind::Sheet => {
                let targets = if self.all {
                    in_force(collection)
                } else {
                    vec![Target {
                        binder: self.binder,
                        layout: binder.layout(),
                    }]
                };
                collection_sheet(collection, &targets, None, self.way)
            }
            Kind::Shopping => {
                let mut choice = Choice {
                    only: filter.binder,
                    ..Choice::default()
                };
                choice.thickness.sleeves = self.sleeves;
                let needs = needs(collection, &choice, &self.prices);
                basket_list(&basket(&needs.needs, &self.prices), &self.prices)
            }
            Kind::Pile => {
                let own = binder.spec().set.into_iter();
                let sets: Vec<_> = own.filter(|_| !self.all).collect();
                let order = StackOrder::new(collection, &sets, |_| true);
                let all = order.printings.len() as u64;
                let cards = number(&self.cards, "cards", 1..=MOST_CARDS)?.unwrap_or(all);
                let some = u64::from(LEAST_HEAPS)..=MOST_HEAPS.into();
                let heaps = number(&self.heaps, "heaps", some)?;
                let heaps = heaps.and_then(|heaps| u32::try_from(heaps).ok());
                let plan = sorting(&order.breaks, cards, heaps.unwrap_or(self.usual_heaps));
                let plan = plan.ok_or("there is nothing to sort")?;
                pile_sheet(collection, &order, &plan)
            }
        };
        Ok(Document::Listing(listing))
    }

    fn labels(
        &self,
        collection: &Collection,
        binder: &Binder,
        fonts: &Fonts<'_>,
    ) -> Result<Document, String> {
        let spines: Vec<Spine> = if self.all {
            let shelf = collection.shelf();
            shelf.map(|binder| Spine::of(collection, binder)).collect()
        } else {
            vec![Spine::of(collection, binder)]
        };
        let spine = match self.spine.as_str() {
            "" => None,
            words => {
                let width: f64 = words
                    .parse()
                    .map_err(|_| "write the width of the spine in millimetres, such as 32")?;
                Some(width).filter(|width| width.is_finite())
            }
        };
        let look = LabelLook {
            spine,
            turn: self.turn,
            margin: self.margin,
            foot: self.foot,
            ..LabelLook::on(self.paper)
        };
        let drawn = labels(&spines, &look, fonts);
        drawn.map(Document::Drawing).map_err(|e| e.to_string())
    }
}

/// A number that was typed, if one was.
fn number(words: &str, of: &str, range: RangeInclusive<u64>) -> Result<Option<u64>, String> {
    if words.is_empty() {
        return Ok(None);
    }
    let number = words.parse().ok().filter(|number| range.contains(number));
    let (least, most) = (range.start(), range.end());
    let wrong = || format!("the number of {of} is a whole number from {least} to {most}");
    number.map(Some).ok_or_else(wrong)
}
