//! The document that the form asks for.

use super::{Kind, Print};
use crate::model::Binder;
use crate::paper::{
    Document, LabelLook, PageView, Size, Spine, Turn, basket_list, collection_sheet, index, labels,
    page_picture, pile_sheet, pocket_cards, spares_list, stand_ins, wants_list,
};
use crate::plan::{Target, Way, in_force};
use crate::report::{Asked, ListFilter, StackOrder, listed, sorting};
use crate::supplies::{Choice, basket, needs};
use crate::ui::desk::Desk;

/// Heaps on the table when a stack is sorted; the command takes another number.
const PLACES: u32 = 6;

impl Print {
    pub(super) fn document(&self, desk: &Desk) -> Result<Document, String> {
        let collection = desk.collection();
        let binder = collection.binder(self.binder);
        let binder = binder.ok_or("the binder is gone")?;
        let filter = ListFilter {
            binder: (!self.all).then_some(self.binder),
            ..ListFilter::default()
        };
        let listing = match self.kind() {
            Kind::Labels => return self.labels(desk, binder),
            Kind::Pockets => {
                let gaps = listed(collection, Asked::Wants, filter);
                let cards = stand_ins(collection, &gaps, Size::CARD);
                let drawn = pocket_cards(&cards, self.paper(), &self.fonts);
                return drawn.map(Document::Drawing).map_err(|e| e.to_string());
            }
            Kind::Page => {
                let (view, paper) = (PageView::Spread(self.page), Some(self.paper()));
                let drawn = page_picture(collection, binder, view, paper, &self.fonts);
                let none = "the binder has no pages yet";
                return drawn.map(Document::Drawing).ok_or_else(|| none.into());
            }
            Kind::Index => index(collection, binder),
            Kind::Wants => wants_list(collection, &listed(collection, Asked::Wants, filter)),
            Kind::Spares => spares_list(collection, &listed(collection, Asked::Spares, filter)),
            Kind::Sheet => {
                let targets = if self.all {
                    in_force(collection)
                } else {
                    vec![Target {
                        binder: self.binder,
                        layout: binder.layout(),
                    }]
                };
                collection_sheet(collection, &targets, None, Way::default())
            }
            Kind::Shopping => {
                let choice = Choice {
                    only: filter.binder,
                    ..Choice::default()
                };
                let needs = needs(collection, &choice, &desk.prices);
                basket_list(&basket(&needs.needs, &desk.prices), &desk.prices)
            }
            Kind::Pile => {
                let own = binder.spec().set.into_iter();
                let sets: Vec<_> = own.filter(|_| !self.all).collect();
                let order = StackOrder::new(collection, &sets, |_| true);
                let cards = order.printings.len() as u64;
                let plan = sorting(&order.breaks, cards, PLACES);
                let plan = plan.ok_or("there is nothing to sort")?;
                pile_sheet(collection, &order, &plan)
            }
        };
        Ok(Document::Listing(listing))
    }

    fn labels(&self, desk: &Desk, binder: &Binder) -> Result<Document, String> {
        let collection = desk.collection();
        let spines: Vec<Spine> = if self.all {
            let shelf = collection.shelf();
            shelf.map(|binder| Spine::of(collection, binder)).collect()
        } else {
            vec![Spine::of(collection, binder)]
        };
        let words = self.spine.value().trim().replace(',', ".");
        let spine = match words.as_str() {
            "" => None,
            words => {
                let width: f64 = words
                    .parse()
                    .map_err(|_| "the spine is a number of millimetres, such as 32")?;
                Some(width).filter(|width| width.is_finite())
            }
        };
        let look = LabelLook {
            spine,
            turn: [Turn::Down, Turn::Up, Turn::Across][self.reading],
            margin: desk.settings.paper.label_margin,
            foot: desk.settings.paper.label_foot,
            ..LabelLook::on(self.paper())
        };
        let drawn = labels(&spines, &look, &self.fonts);
        drawn.map(Document::Drawing).map_err(|e| e.to_string())
    }
}
