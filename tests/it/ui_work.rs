//! The work sheet on the screen: planned, worked off with keys, stopped and resumed.

use crossterm::event::Event;
use insta::assert_snapshot;
use ringbound::model::{BinderId, Page, PageId};
use ringbound::session::Session;
use ringbound::ui::Context;

use crate::scene::{PLAIN, Scene};

fn first(scene: &Scene) -> BinderId {
    scene.app.session().collection().binder_at(0).unwrap().id()
}

/// Cards that lie where the layout does not want them, and loose copies that a gap waits for.
fn to_do(scene: &Scene) -> usize {
    let collection = scene.app.session().collection();
    let tally = collection.binder(first(scene)).unwrap().tally();
    (tally.filled - tally.in_place) as usize
}

/// The demo with the rares of its first binder gathered in front, adopted.
fn rares_in_front(size: (u16, u16)) -> Scene {
    let mut scene = Scene::demo(size);
    scene.keys("enter d n").text("Rares").keys("enter a");
    let line = scene.at("Gather in front: rare; their pockets stay free");
    scene.click(line).click(line);
    scene.keys("d a");
    scene
}

/// The same with a page of regulars carried to the end of the draft.
fn pages_too((width, height): (u16, u16)) -> Scene {
    let mut scene = Scene::demo((110, 40));
    scene.keys("enter d n").text("Rares").keys("enter a");
    let line = scene.at("Gather in front: rare; their pockets stay free");
    scene.click(line).click(line);
    scene.keys("home pgdn pgdn pgdn pgdn pgdn C end enter d a home");
    scene.event(&Event::Resize(width, height));
    scene
}

#[test]
fn the_sheet_stands_beside_the_binder_with_the_present_deed_marked() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter w");
    assert_snapshot!("work_80x24", scene.picture());
    let mut scene = Scene::demo((120, 40));
    scene.keys("enter w down down");
    assert_snapshot!("work_120x40", scene.picture());
}

#[test]
fn a_reorder_is_worked_off_with_one_key_to_the_end() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("w enter");
    let mut deeds = 0;
    while scene.find("Everything lies as planned").is_none() {
        let before = scene.app.session().revision();
        scene.keys("enter");
        assert!(
            scene.app.session().revision() > before,
            "{}",
            scene.picture()
        );
        deeds += 1;
        assert!(deeds < 2_000, "the work does not end");
    }
    assert_eq!(to_do(&scene), 0);
    let collection = scene.app.session().collection();
    assert_eq!(collection.check(), Vec::new());
}

#[test]
fn the_keys_that_the_sheet_names_at_its_end_work_there() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("w enter end enter enter");
    scene.at("l lists what is missing; e takes in what comes next.");
    scene.keys("l");
    assert_eq!(scene.app.context(), Context::List);
    scene.keys("esc e");
    assert_eq!(scene.app.context(), Context::Pile);
}

#[test]
fn the_sheet_of_one_binder_tells_how_many_cards_wait_for_others() {
    let mut scene = Scene::demo((120, 40));
    let left = ringbound::report::waiting(scene.app.session().collection(), None);
    let here = first(&scene);
    let elsewhere = left.iter().filter_map(|copy| copy.place);
    let elsewhere = elsewhere.filter(|place| place.binder != here).count();
    assert!(elsewhere > 1);
    scene.keys("enter w");
    scene.at(&format!("; {elsewhere} for other binders"));
    scene.keys("end enter enter");
    scene.at(&format!(
        "{elsewhere} more cards wait for other binders: esc, esc, then w shows the sheet of the \
         whole shelf."
    ));
    scene.keys("esc esc w");
    scene.at("Work sheet");
}

#[test]
fn of_a_card_that_cannot_be_found_it_is_said_how_it_is_gone_for_good() {
    let mut scene = rares_in_front((120, 40));
    scene.keys("w enter x");
    scene.at("Is it gone for good, t and then - at its pocket");
}

#[test]
fn several_are_ticked_at_a_time() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("w enter end enter");
    scene.at("lines at once? enter once more ticks all of them");
    scene.keys("up down enter");
    scene.at("lines at once?");
    scene.keys("enter");
    scene.at("Everything lies as planned");
    assert_eq!(to_do(&scene), 0);
    scene.keys("u");
    assert!(to_do(&scene) > 0, "one step, as a person counts");
}

#[test]
fn a_card_that_cannot_be_found_is_left_and_the_rest_goes_on() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("w enter x");
    scene.at("1 not found");
    // Undo brings back the line, not the last step of the day.
    let revision = scene.app.session().revision();
    scene.keys("u");
    assert!(scene.find("not found").is_none());
    assert_eq!(scene.app.session().revision(), revision);
    // And so it does for each of several.
    scene.keys("x x");
    scene.at("2 not found");
    scene.keys("u u");
    assert!(scene.find("not found").is_none());
    assert_eq!(scene.app.session().revision(), revision);
    scene.keys("x");
    for _ in 0..3_000 {
        if scene.find("could not be found.").is_some() {
            break;
        }
        scene.keys("enter");
    }
    scene.at("What is left needs the cards that could not be found.");
    assert_eq!(scene.app.session().collection().check(), Vec::new());
    // Opened anew, it is asked for again.
    scene.keys("esc w");
    assert!(scene.find("not found").is_none());
}

#[test]
fn work_goes_on_after_a_change_of_mind_and_after_a_restart() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("w enter enter enter enter enter");
    let left = scene.picture();
    let left = left
        .lines()
        .find(|line| line.contains("Work sheet:"))
        .unwrap()
        .to_owned();
    // A change of mind: a page goes elsewhere by hand, and back.
    scene.keys("esc C end enter u w enter");
    let again = scene.picture();
    let again = again
        .lines()
        .find(|line| line.contains("Work sheet:"))
        .unwrap()
        .to_owned();
    let number = |line: &str| line.split("left").next().unwrap().to_owned();
    assert_eq!(number(&left), number(&again));
    // A restart: the sheet is planned from the truth.
    let kept = scene.app.session().collection().clone();
    let mut scene = Scene::new(Session::in_memory(kept), PLAIN, (110, 40));
    scene.keys("enter w enter");
    let after = scene.picture();
    let after = after
        .lines()
        .find(|line| line.contains("Work sheet:"))
        .unwrap()
        .to_owned();
    assert_eq!(number(&left), number(&after));
}

#[test]
fn every_way_of_working_leads_to_the_same_end() {
    for (way, words) in [
        ("", "two passes"),
        ("down", "hand to hand"),
        ("down down", "two passes, pages stay"),
        ("down down down", "hand to hand, pages stay"),
    ] {
        let mut scene = pages_too((110, 40));
        scene.keys("w").keys(way).keys("enter");
        scene.at(&format!("{words}: "));
        let order = page_order(&scene);
        scene.keys("end enter enter");
        assert_eq!(to_do(&scene), 0, "{words}");
        if words.ends_with("stay") {
            assert_eq!(order, page_order(&scene));
        }
    }
}

/// The pages that the demo's first binder has, in their present order; not those put in since.
fn page_order(scene: &Scene) -> Vec<PageId> {
    let collection = scene.app.session().collection();
    let binder = collection.binder(first(scene)).unwrap();
    let pages = binder.pages().iter().map(Page::id);
    pages.filter(|page| page.0 <= 34).collect()
}

/// Before any card is touched the ways stand side by side; the one chosen is offered next time.
#[test]
fn the_ways_of_working_stand_side_by_side_before_the_work() {
    for size in [(80, 24), (120, 40), (40, 12)] {
        let mut scene = pages_too(size);
        let revision = scene.app.session().revision();
        scene.keys("w down");
        assert_snapshot!(format!("ways_{}x{}", size.0, size.1), scene.picture());
        assert_eq!(scene.app.session().revision(), revision);
        scene.keys("enter o");
        scene.at("how will you go about it?");
        scene.keys("enter");
        scene.at("hand to hand: ");
    }
}

#[test]
fn a_way_is_chosen_with_the_mouse() {
    let mut scene = pages_too((110, 40));
    scene.keys("w");
    let line = scene.at("hand to hand, pages stay");
    scene.click(line).click(line);
    scene.at("hand to hand, pages stay: ");
}

#[test]
fn the_walk_along_the_shelf_puts_away_every_loose_copy_that_waits() {
    let mut scene = Scene::demo((120, 40));
    let waiting = ringbound::report::waiting(scene.app.session().collection(), None);
    let with_pocket = waiting.iter().filter(|copy| copy.place.is_some()).count();
    assert!(with_pocket > 0);
    scene.keys("w");
    scene.at("how will you go about it?");
    scene.keys("enter");
    scene.at("of The Long Wood");
    scene.keys("end enter enter");
    let left = ringbound::report::waiting(scene.app.session().collection(), None);
    assert_eq!(left.iter().filter(|copy| copy.place.is_some()).count(), 0);
}

#[test]
fn undo_takes_a_tick_back_and_the_sheet_counts_it_no_longer() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("w enter enter down down enter");
    scene.at("4 done");
    scene.keys("u");
    scene.at("1 done");
    scene.keys("u");
    scene.at("0 done");
    // Done again it counts again.
    scene.keys("r");
    scene.at("1 done");
    scene.keys("r");
    scene.at("4 done");
    // The last step of another time is none of the sheet's.
    scene.keys("u u u r");
    scene.at("0 done");
}

/// It is opened where it was left, and tells how it is now.
#[test]
fn a_binder_whose_work_was_done_meanwhile_tells_no_work_when_it_is_opened_again() {
    let mut scene = rares_in_front((110, 40));
    scene.keys("pgdn right down");
    scene.at("page 2, front, row 2, pocket 2");
    scene.at(" (w)");
    let place = scene.app.last_place();
    // The sheet of the whole shelf does the work of this binder too.
    scene.keys("esc w enter end enter enter");
    scene.at("Everything lies as planned");
    assert_eq!(to_do(&scene), 0);
    scene.keys("esc enter");
    scene.at("page 2, front, row 2, pocket 2");
    assert_eq!(scene.app.last_place(), place);
    let picture = scene.picture();
    let told = [" (w)", "will be page"].map(|words| picture.contains(words));
    assert_eq!(told, [false; 2], "{picture}");
}

/// Front and back of a place are one pocket there: number 10 lies behind number 1.
#[test]
fn what_lies_in_front_in_a_shared_pocket_is_named_before_the_card_behind_is_put_in() {
    use ringbound::intake::{BinderOptions, Phrase, new_set};
    use ringbound::model::{BinderKind, Change, Collection, PageFormat, SetHead};
    let mut collection = Collection::new();
    let head = SetHead {
        code: "FEN".into(),
        ..SetHead::default()
    };
    let format = PageFormat {
        shared: true,
        ..PageFormat::new(3, 3, 2)
    };
    let binder = BinderOptions {
        format,
        kind: BinderKind::Fixed,
    };
    let phrase = Phrase::parse("1 to 18").unwrap();
    let made = new_set(&collection, &head, &phrase, Some(binder)).unwrap();
    Change::apply_all(&made.step.changes, &mut collection).unwrap();
    let session = ringbound::session::Session::in_memory(collection);
    let mut scene = Scene::new(session, crate::scene::PLAIN, (120, 40));
    scene.keys("enter + e").text("10").keys("enter");
    scene.at("fills a gap: FEN, page 1, back, row 1, pocket 1, behind 1");
    scene.keys("esc w");
    scene.at("Put in 10: page 1, back, row 1, pocket 1, behind 1");
    scene.at("the card in front comes out first, and goes back");
    scene.keys("enter");
    scene.at("FEN 10 into page 1, back, row 1, pocket 1, behind 1. u takes it back");
}

#[test]
fn the_marked_deed_stands_in_full_where_a_line_has_too_little_room() {
    for size in [(80, 24), (59, 20), (40, 12), (30, 8)] {
        let mut scene = Scene::demo(size);
        scene.keys("w");
        scene.keys("enter down");
        let words = |scene: &Scene| {
            let picture = scene.picture();
            let all: Vec<_> = picture.split_whitespace().collect();
            all.join(" ")
        };
        let marked = "▸ ▢ Take out 12 Moss Owl: page 1, front, row 2, pocket 1 of Moss Hall";
        assert!(
            words(&scene).contains(marked),
            "{size:?}\n{}",
            scene.picture()
        );
        scene.keys("up");
        let marked =
            "▸ ▢ Take out 18 Larch Glowworm: page 3, front, row 2, pocket 2 of The Long Wood";
        assert!(
            words(&scene).contains(marked),
            "{size:?}\n{}",
            scene.picture()
        );
        // How it goes on and out.
        assert!(
            scene.picture().contains("enter done"),
            "{size:?}\n{}",
            scene.picture()
        );
        assert!(
            scene.picture().contains("esc close"),
            "{size:?}\n{}",
            scene.picture()
        );
    }
    let mut scene = Scene::demo((30, 8));
    scene.keys("w");
    scene.keys("enter");
    assert_snapshot!("work_30x8", scene.picture());
}

/// The lines of the marked deed are one deed.
#[test]
fn a_click_on_any_line_of_a_deed_marks_that_deed() {
    let mut scene = Scene::demo((40, 12));
    scene.keys("w");
    scene.keys("enter");
    let below = scene.at("Take out 12");
    scene.click(below);
    scene.at("▸ ▢ Take out 12 Moss Owl");
    let left = |scene: &Scene| scene.picture().contains("60 left, 0 done");
    assert!(left(&scene));
    let second = scene.at("row 2, pocket 1");
    scene.click(second);
    assert!(!left(&scene), "{}", scene.picture());
}

#[test]
fn a_page_is_never_missing_and_the_rest_of_the_sheet_stays() {
    let mut scene = pages_too((110, 40));
    scene.keys("w enter");
    while scene.find("Move page").is_none() {
        scene.keys("pgdn");
    }
    let line = scene.at("Move page");
    scene.click(line);
    assert_eq!(scene.find("cannot find it"), None, "{}", scene.picture());
    let left = to_do(&scene);
    scene.keys("x");
    scene.at("Move page");
    assert_eq!(scene.find("What is left needs"), None);
    assert_eq!(to_do(&scene), left);
}
