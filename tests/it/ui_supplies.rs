//! The screen of supplies and fit.

use crossterm::event::Event;
use insta::assert_snapshot;
use ringbound::demo;
use ringbound::model::{BinderKind, Collection};
use ringbound::session::Session;
use ringbound::supplies::{PriceList, PriceRow, Rings};
use ringbound::ui::{App, Colours, Context, Look, Theme};

use crate::scene::{PLAIN, Scene};
use crate::support::heath::heath;

/// The demo with its price list.
fn priced(size: (u16, u16)) -> Scene {
    let mut scene = Scene::demo(size);
    let session = Session::in_memory(demo::collection());
    scene.app = App::new(session, Theme::new(PLAIN), size).with_prices(demo::prices(), Vec::new());
    scene.draw();
    scene
}

#[test]
fn what_is_to_be_bought_and_whether_binders_close_stands_on_one_screen() {
    for (size, name) in [
        ((80, 24), "supplies_80x24"),
        ((120, 40), "supplies_120x40"),
        ((40, 12), "supplies_40x12"),
        ((24, 6), "supplies_24x6"),
    ] {
        assert_snapshot!(name, priced(size).keys("b").picture());
    }
}

#[test]
fn where_there_is_room_no_line_of_what_is_to_be_bought_is_out_of_sight() {
    let mut scene = Scene::new(Session::in_memory(Collection::new()), PLAIN, (200, 60));
    for at in 1..=60 {
        scene
            .keys("s")
            .text(&format!("Z{at}"))
            .keys("tab tab tab tab");
        scene.text("1 to 9").keys("enter");
        assert_ne!(scene.app.context(), Context::Form, "{}", scene.picture());
        if scene.app.context() == Context::Binder {
            scene.keys("esc");
        }
    }
    assert_eq!(scene.app.session().collection().shelf().len(), 60);
    scene.keys("b");
    assert_eq!(scene.find("more below"), None, "{}", scene.picture());
}

#[test]
fn of_two_sleeves_each_is_told_by_its_name() {
    let mut scene = priced((80, 24));
    scene.keys("b v");
    scene.at("outer sleeve");
    scene.at("inner sleeve");
    scene.keys("v v");
    assert_eq!(scene.find("outer sleeve"), None);
    scene.at("; a gap counts as a card");
}

#[test]
fn ways_stand_side_by_side_for_the_chosen_binder() {
    for (size, name) in [((80, 24), "ways_80x24"), ((120, 40), "ways_120x40")] {
        assert_snapshot!(
            format!("supplies_{name}"),
            priced(size).keys("b down tab").picture()
        );
    }
}

#[test]
fn sleeves_and_counting_anew_are_switched_by_a_key() {
    let mut scene = priced((80, 24));
    scene.keys("b");
    scene.at("Supplies, a sleeve for each card");
    scene.at("In all 6.00 EUR");
    scene.keys("v");
    scene.at("an inner and an outer sleeve for each card");
    scene.keys("v");
    scene.at("cards without sleeves");
    assert_eq!(scene.find("sleeve 127x177.8"), None);
    scene.keys("v a");
    scene.at("; from nothing");
    scene.at("page 1x1 clear");
}

#[test]
fn the_rings_of_the_chosen_binder_are_said_here_and_taken_back() {
    let mut scene = priced((80, 24));
    scene.keys("b g");
    scene.at("Rings: size in mm and D or round");
    scene.text("25 round").keys("enter");
    scene.at("does not close");
    scene.at("Split over two: pages 1 to 17");
    let kind = |scene: &Scene| {
        let collection = scene.app.session().collection();
        let wood = collection.binder_by_name("wood").unwrap();
        collection.binder(wood).unwrap().spec().kind
    };
    assert_eq!(kind(&scene), Rings::parse("25 round").unwrap().kind());
    scene.keys("u");
    assert_eq!(kind(&scene), Rings::parse("40 D").unwrap().kind());
    assert_eq!(scene.find("does not close"), None);
    // Wrong words are told, and nothing is kept.
    scene.keys("g").text("wide").keys("enter");
    scene.at("Write the rings' size in mm");
    assert_eq!(kind(&scene), Rings::parse("40 D").unwrap().kind());
}

#[test]
fn a_fixed_binder_has_no_rings_to_say() {
    let mut scene = priced((80, 24));
    scene.keys("b down down down down");
    let collection = scene.app.session().collection();
    assert_eq!(
        collection.binder_at(4).unwrap().spec().kind,
        BinderKind::Fixed
    );
    let before = scene.app.session().revision();
    scene.keys("g");
    assert_eq!(scene.find("Rings: size"), None);
    assert_eq!(scene.app.session().revision(), before);
}

#[test]
fn a_binder_is_counted_by_a_draft_and_opened_on_it() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("enter d e").text("bare").keys("enter esc esc b");
    scene.at("its layout");
    scene.keys("right");
    scene.at("draft bare");
    // In an empty draft no pocket is meant for a card: three films a page, no cards; 600 sleeves
    // fewer than 1,373.
    scene.at("8.4");
    scene.at("773");
    scene.keys("left");
    assert_eq!(scene.find("draft bare"), None);
    scene.keys("left enter");
    scene.at("bare");
    scene.at("page 1 of 34");
}

#[test]
fn what_is_wrong_with_the_price_list_is_told() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("b");
    scene.at("No prices: ringbound supplies --help tells how to keep a list");
    let session = Session::in_memory(demo::collection());
    let amiss = vec!["prices.csv, line 3, column 4 (price): wrong".to_owned(); 2];
    scene.app = App::new(session, Theme::new(PLAIN), (80, 24)).with_prices(demo::prices(), amiss);
    scene.keys("b");
    scene.at("line 3, column 4 (price): wrong (and 1 more)");
}

#[test]
fn plain_letters_and_every_size_draw_without_harm() {
    let ascii = Look {
        colours: Colours::None,
        ascii: true,
    };
    let session = Session::in_memory(demo::collection());
    let mut scene = Scene::new(session, ascii, (80, 24));
    scene.keys("b");
    for width in [24, 30, 41, 60, 77, 78, 99, 100, 160] {
        for height in [6, 7, 9, 13, 17, 31, 60] {
            scene.event(&Event::Resize(width, height));
            let picture = scene.keys("down tab pgdn pgdn tab pgup").picture();
            assert!(picture.is_ascii(), "{width}x{height}");
            assert!(picture.contains("Supplies"), "{picture}");
        }
    }
}

/// From a template and two edits to the cost, on the screen. By hand: 40 rares, 160 others and 200
/// reverses on pages of 18 are 3, 9 and 12 pages, 24; 6 pieces of pack art and 3 of packaging a page
/// each. 24 pages are 3 x 10 for 18.00 (50 are 25.00), one of 10 for 5.50, one of 10 for 5.00. 400
/// sleeves are 4 x 100 for 20.80 (8 x 50 would be 24.00). The binder 11.50. In all 60.80.
#[test]
fn a_set_that_was_laid_out_from_a_template_costs_what_is_reckoned_by_hand() {
    let mut list = PriceList::default();
    for (item, size, pack, price) in [
        ("page", "3x3 backed", "10", "6.00"),
        ("page", "3x3 backed", "50", "25.00"),
        ("page", "2x2 backed", "10", "5.50"),
        ("page", "3x1 backed", "10", "5.00"),
        ("ring binder", "40 D", "1", "11.50"),
        ("sleeve", "", "50", "3.00"),
        ("sleeve", "", "100", "5.20"),
    ] {
        let row = PriceRow {
            item,
            size,
            pack,
            price,
            currency: "EUR",
            on_hand: "",
        };
        list.row(&row).unwrap();
    }
    let mut scene = Scene::new(Session::in_memory(heath()), PLAIN, (80, 24));
    let session = Session::in_memory(heath());
    scene.app = App::new(session, Theme::new(PLAIN), (80, 24)).with_prices(list, Vec::new());
    scene.keys("enter a s down down enter down down down enter");
    scene.keys("6 space x space p a c k space a r t enter enter down enter");
    scene.keys("3 space x space p a c k a g i n g enter enter d");
    for _ in 0..4 {
        if scene.find("The shelf").is_none() {
            scene.keys("esc");
        }
    }
    scene.keys("b right a");
    scene.at("In all 60.80 EUR");
    assert_snapshot!("supplies_template_80x24", scene.picture());
}

#[test]
fn what_stands_above_or_below_is_told_with_the_key_that_leads_there() {
    let mut scene = priced((80, 24));
    scene.keys("b");
    let binders = scene.app.session().collection().shelf().len();
    assert_eq!(
        scene.find("Winter P"),
        None,
        "the last of {binders} has no room"
    );
    let signs = |scene: &Scene, sign| scene.picture().matches(sign).count();
    assert_eq!((signs(&scene, '▾'), signs(&scene, '▴')), (2, 0));
    scene.at("pgdn: 9 more below");
    scene.keys("pgdn");
    scene.at("pgup: ");
    scene.keys("end");
    scene.at("Winter P");
    assert!(signs(&scene, '▴') >= 1);
}

#[test]
fn a_binder_without_drafts_says_so_when_another_is_asked_for() {
    for key in ["right", "left"] {
        let mut scene = priced((80, 24));
        scene.keys("b").keys(key);
        scene.at("has no draft to be counted by: d in the binder begins one");
    }
}

/// The sum is what all binders lack; beside the ways of one binder it would be taken for theirs.
#[test]
fn the_sum_of_all_binders_does_not_stand_under_the_ways_of_one() {
    let mut scene = priced((80, 24));
    scene.keys("b");
    scene.at("In all 6.00 EUR");
    scene.keys("tab");
    assert_eq!(scene.find("In all"), None);
    scene.at("Each way with its binders, pages and sleeves, all bought new");
}
