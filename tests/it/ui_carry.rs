//! Carrying cards and pages on the screen, on the real binder and in drafts.

use crossterm::event::{Event, MouseButton, MouseEventKind};
use insta::assert_snapshot;
use ringbound::model::{BinderId, PageId, Place, PrintingId};
use ringbound::ui::Context;

use crate::scene::Scene;

const DOWN: MouseEventKind = MouseEventKind::Down(MouseButton::Left);
const DRAG: MouseEventKind = MouseEventKind::Drag(MouseButton::Left);
const UP: MouseEventKind = MouseEventKind::Up(MouseButton::Left);

/// The first binder's pages with their cards, in order.
fn pages(scene: &Scene) -> Vec<(PageId, Vec<Option<PrintingId>>)> {
    let pages = scene.first_binder().pages();
    pages
        .iter()
        .map(|page| (page.id(), page.cards().to_vec()))
        .collect()
}

fn first(scene: &Scene) -> BinderId {
    scene.first_binder().id()
}

fn misplaced(scene: &Scene) -> u32 {
    let tally = scene.first_binder().tally();
    tally.filled - tally.in_place
}

fn held(scene: &Scene, page: usize, pocket: usize) -> Option<PrintingId> {
    scene.app.session().collection().held(Place {
        binder: first(scene),
        page,
        pocket,
    })
}

#[test]
fn a_whole_page_goes_to_the_front_in_three_keys_and_no_card_changes_its_pocket() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter g").text("7").keys("enter");
    let before = pages(&scene);
    let others = misplaced(&scene);
    scene.keys("C home enter");
    let after = pages(&scene);
    assert_eq!(after[0], before[6]);
    assert_eq!(after[1..7], before[..6]);
    assert_eq!(after[7..], before[7..]);
    assert_eq!(misplaced(&scene), others);
    scene.keys("u");
    assert_eq!(pages(&scene), before);
}

#[test]
fn a_whole_page_goes_to_its_place_in_one_drag() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let before = pages(&scene);
    let (from, to) = (scene.at(" 7 "), scene.at(" 3 "));
    scene.mouse(DOWN, (from.0 + 1, from.1));
    scene.mouse(DRAG, (from.0 + 1, from.1 - 1));
    scene.mouse(DRAG, (to.0 + 1, to.1));
    scene.at("in hand");
    scene.at("Page 7 becomes page 3: no card comes out");
    scene.mouse(UP, (to.0 + 1, to.1));
    let after = pages(&scene);
    assert_eq!(after[2], before[6]);
    assert_eq!(after[3..7], before[2..6]);
    assert_eq!(after[7..], before[7..]);
}

#[test]
fn a_marked_run_of_pages_is_carried_together() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter m pgdn pgdn C end enter");
    let after = pages(&scene);
    let again = Scene::demo((80, 24));
    let before = pages(&again);
    assert_eq!(after[..32], before[2..]);
    assert_eq!(after[32..], before[..2]);
}

#[test]
fn a_card_swaps_with_another_and_takes_its_meaning_along() {
    let mut scene = Scene::demo((80, 24));
    let others = misplaced(&scene);
    scene.keys("enter");
    let (first, second) = (held(&scene, 0, 0), held(&scene, 0, 1));
    scene.keys("c right");
    scene.at("Swap: 1 Acorn Warden to page 1, front, row 1, pocket 2, ");
    scene.keys("enter");
    assert_eq!((held(&scene, 0, 0), held(&scene, 0, 1)), (second, first));
    assert_eq!(misplaced(&scene), others);
}

#[test]
fn a_card_pushes_the_others_along_when_that_is_chosen() {
    let mut scene = Scene::demo((100, 24));
    let others = misplaced(&scene);
    scene.keys("enter");
    let before: Vec<_> = (0..3).map(|pocket| held(&scene, 0, pocket)).collect();
    scene.keys("c right right x");
    scene.at("Push along: 1 Acorn Warden to page 1, front, row 1, pocket 3, 2 others pushed back");
    scene.keys("enter");
    let after: Vec<_> = (0..3).map(|pocket| held(&scene, 0, pocket)).collect();
    assert_eq!(after, [before[1], before[2], before[0]]);
    assert_eq!(misplaced(&scene), others);
}

#[test]
fn escape_puts_it_back_and_nothing_has_changed() {
    let mut scene = Scene::demo((80, 24));
    let revision = scene.app.session().revision();
    scene.keys("enter c right down esc");
    scene.at("put back");
    scene.at("page 1, front, row 1, pocket 1");
    scene.keys("C pgdn pgdn esc");
    scene.at("Page 1 put back");
    scene.keys("C enter");
    scene.at("Page 1 put back");
    assert_eq!(scene.app.session().revision(), revision);
}

#[test]
fn a_card_is_dragged_with_the_mouse() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let (first, second) = (held(&scene, 0, 0), held(&scene, 0, 4));
    let (from, to) = (scene.at("Acorn Warden"), scene.at("Fern Nuthatch"));
    scene.mouse(DOWN, from);
    scene.mouse(DRAG, (from.0 + 1, from.1));
    assert!(
        scene.find("Swap:").is_none(),
        "within its pocket nothing is picked up"
    );
    scene.mouse(DRAG, to);
    scene.at("Swap: 1 Acorn Warden");
    scene.mouse(UP, to);
    assert_eq!((held(&scene, 0, 0), held(&scene, 0, 4)), (second, first));
}

#[test]
fn a_release_outside_the_window_or_beside_the_pockets_puts_it_back() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let revision = scene.app.session().revision();
    for end in [(65535, 65535), (79, 23), (0, 0)] {
        let from = scene.at("Acorn Warden");
        scene.mouse(DOWN, from);
        scene.mouse(DRAG, (from.0, from.1 + 6));
        scene.mouse(UP, end);
        scene.at("put back");
    }
    assert_eq!(scene.app.session().revision(), revision);
}

#[test]
fn when_the_release_is_lost_the_next_click_puts_it_down() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let first = held(&scene, 0, 0);
    let (from, to) = (scene.at("Acorn Warden"), scene.at("Fern Nuthatch"));
    scene.mouse(DOWN, from);
    scene.mouse(DRAG, (from.0, from.1 + 6));
    scene.mouse(DOWN, to);
    assert_eq!(held(&scene, 0, 4), first);
}

#[test]
fn a_pointer_that_rests_at_the_edge_turns_pages() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter");
    let from = scene.at("Acorn Warden");
    assert!(!scene.app.turns());
    scene.mouse(DOWN, from);
    scene.mouse(DRAG, (from.0, from.1 + 6));
    assert!(!scene.app.turns());
    scene.mouse(DRAG, (58, 10));
    assert!(scene.app.turns());
    scene.app.turn();
    scene.draw();
    scene.at("page 1 back");
    scene.app.turn();
    scene.draw();
    scene.at("page 2 front");
    scene.mouse(UP, (58, 10));
    assert!(!scene.app.turns());
}

#[test]
fn in_a_binder_of_fixed_pages_a_page_move_says_what_it_costs() {
    let mut scene = Scene::demo((100, 24));
    // The fifth binder has fixed pages.
    scene.keys("right right right right enter C pgdn");
    let words = scene.picture();
    assert!(
        words.contains("the pages are fixed") && words.contains("cards come out"),
        "{words}"
    );
    scene.keys("enter");
    scene.at("u takes it back");
    let collection = scene.app.session().collection();
    assert_eq!(collection.check(), Vec::new());
    scene.keys("u");
}

#[test]
fn a_draft_is_begun_altered_costed_and_adopted() {
    let mut scene = Scene::demo((110, 30));
    let before = pages(&scene);
    scene.keys("enter d n").text("Autumn").keys("enter");
    scene.at("DRAFT “Autumn” of");
    scene.keys("C end enter");
    assert_eq!(pages(&scene), before, "a draft moves nothing on the shelf");
    scene.keys("d");
    scene.at("as it is now");
    assert_snapshot!("drafts_110x30", scene.picture());
    scene.keys("a");
    scene.at("Adopted: the cards lie where they were; 1 card to take out");
    scene.at("u takes it back.");
    assert!(scene.find("as it is now").is_none(), "the window is closed");
    let collection = scene.app.session().collection();
    let binder = collection.binder_at(0).unwrap();
    assert!(binder.drafts().is_empty());
    assert_eq!(
        pages(&scene),
        before,
        "the cards follow as the work is done"
    );
    scene.keys("u u u");
    assert_eq!(
        scene
            .app
            .session()
            .collection()
            .binder_at(0)
            .unwrap()
            .tally()
            .in_place,
        305
    );
}

#[test]
fn gathering_a_rarity_is_one_choice_in_a_draft_and_none_on_the_real_binder() {
    let mut scene = Scene::demo((110, 40));
    scene.keys("enter a");
    assert!(scene.find("Gather in front").is_none());
    scene.keys("esc d n").text("Rares").keys("enter a");
    let line = scene.at("Gather in front: rare; their pockets stay free");
    scene.click(line).click(line);
    scene.at("gathered in front");
    let collection = scene.app.session().collection();
    let binder = collection.binder_at(0).unwrap();
    let set = collection.set(binder.spec().set.unwrap()).unwrap();
    let page = &binder.drafts()[0].layout.pages[0];
    for (_, printing) in page.printings() {
        assert_eq!(set.rarity_name(collection.card(printing).unwrap()), "rare");
    }
}

#[test]
fn going_back_to_a_point_takes_back_every_step_since() {
    let mut scene = Scene::demo((80, 24));
    let before = pages(&scene);
    scene.keys("enter C end enter C home enter t");
    // A step that is gone back to stays done; below the first stands what was before.
    scene.keys("h down down enter");
    assert_eq!(scene.app.session().done().count(), 2);
    scene.keys("h down enter");
    scene.at("This is the present");
    scene.keys("h up");
    scene.at("(taken back) ");
    scene.keys("enter h end");
    scene.at("Before all of these steps");
    scene.keys("enter");
    scene.at("3 steps taken back");
    assert_eq!(pages(&scene), before);
    // Of those taken back likewise: the chosen one is the last one done.
    scene.keys("h up up enter");
    assert_eq!(scene.app.session().done().count(), 2);
    scene.keys("u u");
    scene.keys("h up up up enter");
    scene.at("3 steps done again");
    assert_ne!(pages(&scene), before);
}

#[test]
fn what_is_in_hand_is_seen_at_every_size() {
    for (name, size) in [
        ("carry_card_80x24", (80, 24)),
        ("carry_card_120x40", (120, 40)),
        ("carry_card_40x12", (40, 12)),
    ] {
        let mut scene = Scene::demo(size);
        scene.keys("enter c right down");
        assert_snapshot!(name, scene.picture());
    }
    for (name, size) in [
        ("carry_page_80x24", (80, 24)),
        ("carry_page_120x40", (120, 40)),
    ] {
        let mut scene = Scene::demo(size);
        scene.keys("enter C pgdn pgdn");
        assert_snapshot!(name, scene.picture());
    }
    let mut scene = Scene::demo((100, 30));
    scene.keys("enter m right down a");
    assert_snapshot!("arrange_100x30", scene.picture());
}

#[test]
fn on_a_low_screen_what_is_in_hand_is_told_above_the_keys_and_not_behind_them() {
    let mut scene = Scene::demo((24, 6));
    scene.keys("enter c right");
    let foot = |scene: &Scene| scene.picture().lines().last().unwrap().to_owned();
    scene.at(" Swap: 1 Acorn Warden");
    assert_eq!(foot(&scene), " enter put down  ? help");
    scene.keys("esc m right right");
    assert_eq!(foot(&scene), " esc let go  c carry");
}

#[test]
fn a_refused_place_says_why_and_the_card_stays_in_hand() {
    let mut scene = Scene::demo((100, 30));
    let revision = scene.app.session().revision();
    // The last page of the second binder has a single, larger pocket.
    scene.keys("right enter c end");
    scene.at("Not here: the pockets there are of another size");
    scene.keys("enter");
    scene.at("stays in hand");
    assert_eq!(scene.app.session().revision(), revision);
    scene.keys("home right enter");
    scene.at("u takes it back");
    assert_eq!(scene.app.session().revision(), revision + 1);
}

#[test]
fn an_empty_draft_says_how_to_go_on_and_is_adopted_only_when_asked_twice() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter d e").text("empty").keys("enter");
    scene.at("An empty draft: a, then l gives the cards pockets");
    scene.keys("d a");
    scene.at("600 cards have no pocket in this draft. Adopt it all the same?");
    let drafts = |scene: &Scene| {
        let collection = scene.app.session().collection();
        collection.binder_at(0).unwrap().drafts().len()
    };
    assert_eq!(drafts(&scene), 1);
    // Anything else is a change of mind.
    scene.keys("down a");
    assert_eq!(drafts(&scene), 1);
    scene.keys("a");
    assert_eq!(drafts(&scene), 0);
    scene.at("Adopted: the cards lie where they were; 306 cards to take out");
    // Nor is it called a loss on the shelf.
    scene.keys("esc");
    scene.at("306 cards, 0 of them in place: w shows the work; 34 pages");
    scene.keys("u");
    scene.at("305 of 600 in place (50 %)");
    assert_eq!(drafts(&scene), 1);
}

#[test]
fn a_look_into_the_menu_leaves_the_mark_where_it_is() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter m right right a esc c");
    scene.at("3 cards in hand");
    scene.keys("esc home m right a");
    let line = scene.at("Put the 2 marked cards in the opposite order");
    scene.click(line).click(line);
    scene.keys("c");
    assert!(scene.find("2 cards in hand").is_none(), "a deed ends it");
}

#[test]
fn before_room_is_made_the_cards_that_go_further_on_are_counted() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter right a o 3");
    assert_snapshot!("room_80x24", scene.picture());
    scene.keys("enter");
    scene.at("305 cards lie");
    scene.at("u takes it back.");
    let mut scene = Scene::demo((40, 12));
    scene.keys("enter right a o 3");
    scene.at("305 cards go further on");
}

#[test]
fn after_one_page_of_a_draft_moved_its_cards_ride_and_the_rest_is_as_it_was() {
    let mut scene = Scene::demo((80, 24));
    scene
        .keys("enter d n")
        .text("one page")
        .keys("enter C pgdn pgdn enter d a");
    assert_snapshot!("adopted_80x24", scene.picture());
}

/// Common practice, no source: what a hand does at a pocket is done to that pocket, or not at all.
/// While pages are to be moved the layout has another pocket for the place where one stands.
#[test]
fn while_pages_are_to_be_moved_nothing_is_carried_and_no_pocket_gets_another_meaning() {
    let mut scene = Scene::demo((80, 24));
    scene
        .keys("enter d n")
        .text("one page")
        .keys("enter C pgdn pgdn enter d a");
    let revision = |scene: &Scene| scene.app.session().revision();
    let before = revision(&scene);
    for key in ["c", "C"] {
        scene.keys(key);
        scene.at("ages are still to be moved here: the work sheet comes first (w)");
        assert!(scene.find("in hand").is_none(), "{key}");
    }
    scene.keys("a");
    scene.at("Lay the binder out by sections");
    assert!(scene.find("Put an empty page in").is_none());
    scene.keys("esc");
    assert_eq!(revision(&scene), before);
    // Cards come in and go as ever.
    scene.keys("n +");
    assert_ne!(revision(&scene), before);
}

#[test]
fn drafts_keep_their_names_where_there_is_little_room() {
    let mut scene = Scene::demo((40, 12));
    scene.keys("enter d n").text("rares first").keys("enter");
    scene.at("DRAFT “rares first”");
    scene.keys("d");
    assert_snapshot!("drafts_40x12", scene.picture());
    scene.event(&Event::Resize(30, 8));
    scene.at("rares fir");
}

/// Each step waits for the disk: many of them are taken back between the keys, and can be stopped.
#[test]
fn going_far_back_goes_on_between_the_keys_and_can_be_stopped() {
    let begun = || {
        let mut scene = Scene::demo((80, 24));
        scene.keys("enter");
        for _ in 0..15 {
            scene.keys("+ u +");
        }
        for _ in 0..15 {
            scene.keys("- +");
        }
        let done = scene.app.session().done().count();
        assert!(done > 20, "{done}");
        scene.keys("h end enter");
        (scene, done)
    };
    let (mut scene, done) = begun();
    scene.at(&format!("Taking back: 4 of {done} steps; esc stops"));
    assert!(scene.app.is_at_work());
    while scene.app.is_at_work() {
        scene.app.work_on();
        scene.draw();
    }
    scene.at(&format!("{done} steps taken back; r does them again"));
    assert_eq!(scene.app.context(), Context::Binder);
    assert_eq!(scene.app.session().done().count(), 0);
    let (mut scene, done) = begun();
    scene.app.work_on();
    // Nothing else is begun meanwhile.
    scene.keys("down enter");
    scene.keys("esc");
    scene.at(&format!(
        "Stopped: 8 of {done} steps taken back; r does them again"
    ));
    assert_eq!(scene.app.session().done().count(), done - 8);
    assert!(!scene.app.is_at_work());
}

#[test]
fn a_long_step_of_what_was_done_can_be_read_in_full() {
    for size in [(80, 24), (40, 16)] {
        let mut scene = Scene::demo(size);
        scene.keys("e").text("moss").keys("enter");
        scene.event(&Event::Paste("7\n8 x2\n9\n12\n14\n".into()));
        scene.keys("esc h down");
        let words = scene.picture();
        assert!(words.contains("2 further"), "{words}");
        assert!(words.contains("lines"), "{words}");
    }
}
