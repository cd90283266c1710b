//! Sections on the screen: rules at the left, the pages taking shape at the right, and a draft.

use crossterm::event::{Event, MouseEventKind};
use insta::assert_snapshot;
use ringbound::model::{Binder, Layout, Meaning};
use ringbound::session::Session;

use crate::scene::{PLAIN, Scene};
use crate::support::heath::heath;

fn scene(size: (u16, u16)) -> Scene {
    Scene::new(Session::in_memory(heath()), PLAIN, size)
}

fn binder(scene: &Scene) -> &Binder {
    scene.app.session().collection().binder_at(0).unwrap()
}

fn draft(scene: &Scene) -> &Layout {
    &binder(scene).drafts()[0].layout
}

/// The third template: rares in front, the others, reverses, pack art, packaging.
const BEGIN: &str = "enter a s down down enter";

#[test]
fn without_a_section_nothing_is_said_of_what_it_would_take() {
    let mut scene = scene((80, 24));
    scene.keys("enter a s");
    scene.at("From what lies there now");
    scene.keys("esc");
    scene.at("There are no sections yet");
    assert!(scene.find("From what lies there now").is_none());
}

/// Kept with a binder that does not follow them, its pages would count as exceptions made by hand.
#[test]
fn sections_are_kept_with_a_binder_only_if_it_stands_as_they_say() {
    let mut scene = scene((80, 24));
    scene.keys(BEGIN).keys("k");
    scene.at("The binder does not stand as these sections say; d makes a draft by them");
    assert!(binder(&scene).layout().sections.is_empty());
    let cost = scene.at("From what lies there now");
    let told = scene
        .picture()
        .lines()
        .nth(cost.1.into())
        .unwrap()
        .to_owned();
    assert!(!told.contains("nothing to do"), "{told}");
    // What was shown is what the draft takes.
    scene.keys("d");
    assert!(scene.find("nothing to do").is_none(), "{}", scene.picture());
    scene.keys("d a");
    scene.keys("w enter end enter enter esc");
    // Adopted, the rules came with the draft.
    assert!(!binder(&scene).layout().sections.is_empty());
}

/// Where pages are still to be moved, too: what is drawn is what is counted.
#[test]
fn the_head_counts_the_pockets_that_are_shown_as_filled() {
    let mut scene = Scene::demo((130, 50));
    scene
        .keys("enter d n")
        .text("one")
        .keys("enter C end enter d a a s");
    let before = scene.first_binder().tally();
    assert!(before.in_place < 300, "{before:?}");
    scene.keys("enter");
    // One of the cards that lie in the pages is in no pocket of its own.
    scene.at("306 of 600 filled, 51 %");
}

#[test]
fn the_words_of_the_lines_say_what_they_choose() {
    let mut scene = scene((120, 40));
    scene.keys(BEGIN).keys("enter");
    for line in ["By a list", "Rest or size", "From the set"] {
        scene.at(line);
    }
    scene.at("main (regular)");
    // In the rules it is the word that holds for every set.
    let line = scene.at("main (regular)");
    scene.click(line);
    scene.at("others (all but regular)");
    scene.keys("esc d");
    let rules = &draft(&scene).sections;
    assert!(rules[0].contains("finish others;"), "{rules:?}");
    assert!(rules[1].contains("finish main;"), "{rules:?}");
}

#[test]
fn templates_are_seen_as_pages_before_one_is_chosen() {
    let mut scene = scene((80, 24));
    scene.keys("enter a s");
    assert_snapshot!("sections_templates_80x24", scene.picture());
    scene.keys("down down enter down");
    assert_snapshot!("sections_80x24", scene.picture());
    scene.keys("enter down right right");
    assert_snapshot!("sections_fields_80x24", scene.picture());
}

#[test]
fn beside_the_rules_there_is_room_for_the_pages_on_a_wide_screen() {
    let mut scene = scene((120, 40));
    scene.keys(BEGIN).keys("down down down down");
    assert_snapshot!("sections_120x40", scene.picture());
}

#[test]
fn a_small_screen_shows_the_rules_and_what_they_take() {
    let mut scene = scene((40, 12));
    scene.keys(BEGIN);
    assert_snapshot!("sections_40x12", scene.picture());
}

/// The whole way: from a template and two edits to a draft, adopted, to the work sheet. Each key is
/// counted; at one key a second, which is slow, all of it takes less than two minutes.
///
/// Counted by hand: 40 rares, 160 other regulars and 200 reverses on pages of 18 are 3, 9 and 12
/// pages; 6 pieces of pack art on pages of 8, 3 of packaging on pages of 6 with two pockets left
/// empty, a page each (common practice, no source: ten pages of 9 pockets hold 90 cards, or 180 with
/// pockets at the back too).
#[test]
fn from_a_template_and_two_edits_to_the_work_sheet_in_under_two_minutes_of_keys() {
    let mut scene = scene((80, 24));
    let mut pressed = 0;
    let mut press = |scene: &mut Scene, words: &str| {
        pressed += words.split_whitespace().count();
        scene.keys(words);
    };
    press(&mut scene, BEGIN);
    press(&mut scene, "down down down enter");
    press(
        &mut scene,
        "6 space x space p a c k space a r t enter enter",
    );
    press(&mut scene, "down enter");
    press(&mut scene, "3 space x space p a c k a g i n g enter enter");
    press(&mut scene, "d");
    scene.at("The draft “by sections” is made");
    let made = draft(&scene);
    assert_eq!(made.pages.len(), 3 + 9 + 12 + 1 + 1);
    assert_eq!(made.sections.len(), 5);
    let on = |page: usize| made.pages[page].printings().count();
    assert_eq!(
        [on(0), on(2), on(3), on(11), on(12), on(23)],
        [18, 4, 18, 16, 18, 2]
    );
    let words = |page: usize, pocket| made.pages[page].meaning(pocket);
    assert_eq!(words(24, 5), Meaning::Keepsake("pack art 6".into()));
    assert_eq!(words(24, 6), Meaning::Nothing);
    // The top pocket of the front and of the back is left empty.
    assert_eq!(
        [words(25, 0), words(25, 3)],
        [Meaning::Blank, Meaning::Blank]
    );
    assert_eq!(words(25, 4), Meaning::Keepsake("packaging 3".into()));
    press(&mut scene, "d a w");
    scene.at("Work sheet");
    scene.at("cards out");
    assert!(binder(&scene).drafts().is_empty());
    assert_eq!(binder(&scene).layout().sections.len(), 5);
    assert!(pressed < 120, "{pressed} keys");
    assert_eq!(pressed, 45);
}

#[test]
fn what_a_line_needs_is_told_while_one_types_and_what_is_not_taken_stays_to_be_mended() {
    let mut scene = scene((80, 24));
    scene.keys(BEGIN).keys("enter down").text("scarce");
    scene.at("Section 1 “Rares”: the set has no rarity scarce");
    scene.keys("down").text("9 to 3");
    scene.at("numbers go upwards: 3 to 9");
    scene.keys("enter");
    scene.at("Numbers go upwards");
    scene.keys("esc esc d");
    // Rules that have to be mended make no draft.
    scene.at("Section 1 “Rares”: the set has no rarity scarce");
    assert!(binder(&scene).drafts().is_empty());
    scene.keys("u");
    assert!(
        scene.find("no rarity scarce").is_none(),
        "{}",
        scene.picture()
    );
    scene.keys("d");
    assert_eq!(binder(&scene).drafts().len(), 1);
}

#[test]
fn sections_are_added_taken_out_and_carried() {
    let mut scene = scene((80, 24));
    scene.keys(BEGIN).keys("x");
    scene.at("1 Regulars");
    scene.keys(">");
    scene.at("2 Regulars");
    scene.keys("n").text("Late").keys("enter enter");
    scene.at("3 Late");
    // The rest is nothing here: every card has its section.
    scene.at("correct it");
    scene.keys("x u u u u");
    scene.at("1 Regulars");
    scene.keys("esc");
    scene.at("Not kept yet");
    scene.keys("esc");
    scene.at("in place");
}

#[test]
fn rules_are_kept_with_the_binder_and_under_a_name_for_other_sets() {
    let mut scene = scene((80, 24));
    // The first template says how the binder stands.
    scene.keys("enter a s enter k");
    assert_eq!(binder(&scene).layout().sections.len(), 2);
    scene.keys("s").text("my way").keys("enter");
    let collection = scene.app.session().collection();
    assert_eq!(collection.template("my way").unwrap().len(), 2);
    scene.keys("t end");
    scene.at("my way (your own)");
    scene.keys("x");
    assert!(scene.find("my way (your own)").is_none());
    scene.keys("esc esc u u u");
    assert_eq!(binder(&scene).layout().sections.len(), 0);
}

#[test]
fn a_draft_is_made_anew_by_its_sections_and_what_was_done_by_hand_stays() {
    let mut scene = scene((80, 24));
    scene.keys(BEGIN).keys("d");
    // A keepsake in the last pocket of the rares' last page, where no card is.
    scene
        .keys("pgdn pgdn pgdn pgdn down down right right a k")
        .text("a ticket")
        .keys("enter");
    assert_eq!(
        draft(&scene).pages[2].meaning(8),
        Meaning::Keepsake("a ticket".into())
    );
    scene.keys("a s enter down down down down down right esc");
    scene.at("1 exception made by hand kept");
    scene.keys("d");
    scene.at("made");
    assert_eq!(binder(&scene).drafts().len(), 1);
    assert_eq!(
        draft(&scene).pages[2].meaning(8),
        Meaning::Keepsake("a ticket".into())
    );
    scene.keys("u");
    assert_eq!(
        draft(&scene).pages[2].meaning(8),
        Meaning::Keepsake("a ticket".into())
    );
}

#[test]
fn both_ways_in_which_a_layout_can_grow_stand_side_by_side() {
    let mut scene = scene((100, 30));
    scene.keys(BEGIN).keys("g");
    assert_snapshot!("sections_growth_100x30", scene.picture());
    scene.keys("down enter");
    assert_eq!(&*binder(&scene).drafts()[0].name, "all in order");
}

#[test]
fn the_mouse_chooses_edits_and_leafs() {
    let mut scene = scene((80, 24));
    scene.keys("enter a");
    let line = scene.at("Lay the binder out by sections");
    scene.click(line).click(line);
    let line = scene.at("Rares in front; pack art");
    scene.click(line);
    scene.click(line);
    let line = scene.at("Packaging");
    scene.click(line);
    scene.at("keepsakes 2 x packaging");
    scene.click(line);
    scene.at("Which ones");
    let line = scene.at("Sides");
    scene.click(line);
    scene.click(line);
    scene.at("fronts only, backs left empty");
    scene.keys("esc");
    scene.mouse(MouseEventKind::ScrollUp, (4, 4));
    scene.at("keepsakes 4 x pack art");
    let hint = scene.at("make a draft");
    scene.click(hint);
    assert_eq!(binder(&scene).drafts().len(), 1);
}

#[test]
fn the_sections_are_drawn_at_every_size() {
    for keys in [
        "",
        "enter",
        "enter enter",
        "enter g",
        "enter s",
        "enter enter 4",
    ] {
        let mut scene = scene((80, 24));
        scene.keys("enter a s").keys(keys);
        for (width, height) in (0..130)
            .step_by(3)
            .flat_map(|w| [1, 5, 6, 9, 12, 17, 24, 41].map(|h| (w, h)))
        {
            scene.event(&Event::Resize(width, height));
        }
    }
}

#[test]
fn a_section_that_was_only_begun_is_taken_out_by_leaving_it() {
    let mut scene = scene((80, 24));
    scene.keys(BEGIN);
    let before = scene.picture();
    scene.keys("n");
    scene.at("Section 2");
    scene.keys("esc");
    scene.at("The section that was begun is taken out again");
    let list = |picture: &str| picture.lines().take(20).collect::<Vec<_>>().join("\n");
    assert_eq!(list(&scene.picture()), list(&before));
    // One that was edited stays, and what has to be mended is told by name with a way on.
    scene.keys("n down down right esc d");
    scene.at("No draft made. Section");
    scene.at("takes the last edit back");
}
