//! Needs: counted another way than the code does.

use std::collections::BTreeMap;

use proptest::prelude::*;

use crate::demo;
use crate::model::random::collections;
use crate::model::{Binder, Change, Collection, LayoutPage, Meaning, Page, PageFormat};
use crate::supplies::{
    Choice, Item, Layer, LayoutOf, Need, Needs, PageKind, PriceList, PriceRow, Rings, Sleeves,
    Thickness, basket, needs, shares,
};

fn count(collection: &Collection, choice: &Choice) -> Needs {
    needs(collection, choice, &PriceList::default())
}

fn of(needs: &Needs, item: Item) -> Need {
    let found = needs.needs.iter().find(|need| need.item == item);
    *found.unwrap_or_else(|| panic!("nothing is needed of {}", item.words()))
}

fn item(words: &str) -> Item {
    Item::read(words).unwrap()
}

/// By hand, of the invented collection: nine-pocket pages of backed kind are in wood (34), moss (16),
/// hedge (3) and post (5); 3 of post's are not bought yet.
#[test]
fn pages_are_counted_over_all_binders_against_what_is_there() {
    let collection = demo::collection();
    let found = count(&collection, &Choice::default());
    let nine = of(&found, item("page 3x3 backed"));
    assert_eq!((nine.wanted, nine.there, nine.to_buy()), (58, 55, 3));
    let anew = Choice {
        anew: true,
        ..Choice::default()
    };
    let anew = count(&collection, &anew);
    assert_eq!(of(&anew, item("page 3x3 backed")).to_buy(), 58);
    // Fixed pages are not bought as pages, but with their binder.
    assert_eq!(of(&anew, item("fixed binder 8 2x2 backed")).to_buy(), 1);
    assert_eq!(of(&anew, item("page 2x2 backed")).wanted, 12);
    assert_eq!(of(&anew, item("ring binder 40 D")).to_buy(), 1);
}

#[test]
fn one_binder_may_be_counted_alone_and_by_a_draft() {
    let mut collection = demo::collection();
    let hedge = collection.binder_by_name("hedge").unwrap();
    let mut layout = collection.binder(hedge).unwrap().layout().clone();
    layout
        .pages
        .push(LayoutPage::empty(PageFormat::new(2, 2, 2)));
    layout.pages.remove(0);
    let draft = crate::model::Draft {
        name: "shorter".into(),
        layout,
    };
    let begun = Change::AddDraft {
        binder: hedge,
        at: 0,
        draft: Box::new(draft),
    };
    begun.apply(&mut collection).unwrap();
    let choice = Choice {
        only: Some(hedge),
        drafts: vec![(hedge, 0)],
        ..Choice::default()
    };
    let found = count(&collection, &choice);
    let nine = of(&found, item("page 3x3 backed"));
    assert_eq!((nine.wanted, nine.there), (2, 2));
    assert_eq!(found.pages_free, 1);
    assert_eq!(of(&found, item("page 2x2 backed")).to_buy(), 1);
}

/// 34 pages of 1.08 mm, less where backs are empty, do not go into rings of 20 mm; 14 surely do.
#[test]
fn a_binder_that_does_not_close_wants_more_like_it() {
    let mut collection = demo::collection();
    let wood = collection.binder_by_name("wood").unwrap();
    let old = collection.binder(wood).unwrap().spec().clone();
    let rings = Rings::parse("20 round").unwrap();
    let mut new = old.clone();
    new.kind = rings.kind();
    let edit = Change::EditBinder {
        binder: wood,
        old: Box::new(old),
        new: Box::new(new),
    };
    edit.apply(&mut collection).unwrap();
    let only = Choice {
        only: Some(wood),
        ..Choice::default()
    };
    let binders = of(&count(&collection, &only), Item::RingBinder(rings));
    assert_eq!((binders.wanted, binders.there, binders.to_buy()), (3, 1, 2));
}

#[test]
fn what_is_on_hand_is_not_bought_again_and_comes_last() {
    let collection = demo::collection();
    let mut list = PriceList::default();
    for (item, on_hand) in [("page", "2"), ("page", "1")] {
        let row = PriceRow {
            item,
            size: "3x3 backed",
            on_hand,
            ..PriceRow::default()
        };
        list.row(&row).unwrap();
    }
    let found = needs(&collection, &Choice::default(), &list);
    let nine = of(&found, item("page 3x3 backed"));
    assert_eq!((nine.on_hand, nine.to_buy()), (3, 0));
    let basket = basket(&found.needs, &list);
    let to_buy: Vec<bool> = (basket.lines.iter())
        .map(|line| line.need.to_buy() > 0)
        .collect();
    assert!(to_buy.is_sorted_by(|a, b| a >= b), "{to_buy:?}");
    assert_eq!(basket.total, None, "there are no prices");
}

proptest! {
    #[test]
    fn each_meant_pocket_gets_its_sleeves_and_each_page_of_a_layout_is_counted(
        collection in collections(),
        two in any::<bool>(),
    ) {
        let sleeves = if two { Sleeves::Two } else { Sleeves::One };
        let choice = Choice {
            anew: true,
            thickness: Thickness { sleeves, ..Thickness::default() },
            ..Choice::default()
        };
        let found = count(&collection, &choice);
        let sum = |wanted: &dyn Fn(&Item) -> bool| -> u64 {
            let needs = found.needs.iter();
            needs.filter(|need| wanted(&need.item)).map(|need| need.wanted).sum()
        };
        let meant: usize = collection.shelf()
            .flat_map(|binder| &binder.layout().pages)
            .flat_map(|page| (0..page.format().pockets()).map(|at| page.meaning(at)))
            .filter(|meaning| matches!(meaning, Meaning::Printing(_)))
            .count();
        let outer = sum(&|item| matches!(item, Item::Sleeve { layer: Layer::Outer, .. }));
        let inner = sum(&|item| matches!(item, Item::Sleeve { layer: Layer::Inner, .. }));
        prop_assert_eq!(outer, meant as u64);
        prop_assert_eq!(inner, if two { outer } else { 0 });
        let pages: usize = collection.shelf()
            .filter(|binder| binder.spec().kind.pages_move())
            .map(|binder| binder.layout().pages.len())
            .sum();
        prop_assert_eq!(sum(&|item| matches!(item, Item::Page(_))), pages as u64);
        // Every meant pocket is of one set's share, every page with one in at least one share.
        for binder in collection.shelf() {
            let shares = shares(binder, LayoutOf::InForce);
            let pockets: usize = shares.iter().map(|share| share.pockets).sum();
            let printings = binder.layout().pages.iter().map(|page| page.printings().count());
            prop_assert_eq!(pockets, printings.sum::<usize>());
            for share in shares {
                let of = |page: &&LayoutPage| page.printings().any(|(_, p)| p.set() == share.set);
                prop_assert_eq!(share.pages, binder.layout().pages.iter().filter(of).count());
            }
        }
        // Counted against what is there, nothing more is bought, and as much is left as is free.
        let now = count(&collection, &Choice { anew: false, ..choice });
        for need in &now.needs {
            prop_assert!(need.to_buy() <= of(&found, need.item).to_buy());
            prop_assert!(need.there <= need.wanted);
        }
        // A card that lies in a pocket is in its sleeve.
        let cards = (collection.shelf().flat_map(Binder::pages)).flat_map(Page::cards);
        let mut sizes: BTreeMap<String, u64> = BTreeMap::new();
        for printing in cards.flatten() {
            let size = collection.card(*printing).unwrap().size;
            *sizes.entry(Item::sleeve(Layer::Outer, size).words()).or_default() += 1;
        }
        for need in &now.needs {
            if let Item::Sleeve { layer: Layer::Outer, .. } = need.item {
                let lying = sizes.get(&need.item.words()).copied().unwrap_or_default();
                prop_assert_eq!(need.there, lying.min(need.wanted));
            }
        }
        let there: u64 = now.needs.iter()
            .filter(|need| matches!(need.item, Item::Page(_)))
            .map(|need| need.there)
            .sum();
        let real: usize = collection.shelf()
            .filter(|binder| binder.spec().kind.pages_move())
            .map(|binder| binder.pages().len())
            .sum();
        prop_assert_eq!(there + now.pages_free, real as u64);
    }
}

#[test]
fn what_is_written_for_an_item_is_read_back() {
    for words in [
        "page 3x3 backed",
        "page 2x2 clear",
        "page 1x1 clear",
        "ring binder 40 D",
        "ring binder 25 round",
        "fixed binder 20 3x3 backed",
        "sleeve",
        "inner sleeve",
        "sleeve 130x180",
        "inner sleeve 63.5x120",
    ] {
        assert_eq!(item(words).words(), words);
        let written = item(words);
        assert_eq!(Item::parse(written.word(), &written.size()), Ok(written));
    }
    for words in [
        "",
        "page",
        "page 3x3",
        "page 3x3 both",
        "pages 3x3 clear",
        "fixed binder 0 3x3 backed",
        "sleeve 0x5",
        "sleeve usual",
        "ring binder",
        "binder 40 D",
    ] {
        assert!(Item::read(words).is_err(), "{words}");
    }
    let page = PageKind::of(PageFormat::new(3, 3, 2));
    assert_eq!((page.backed, page.pockets()), (true, 18));
    let usual = Item::sleeve(Layer::Outer, None);
    assert_ne!(
        usual,
        Item::sleeve(Layer::Outer, Some(crate::model::CardSize::USUAL))
    );
}
