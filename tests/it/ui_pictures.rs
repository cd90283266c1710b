//! Screens as pictures, after keys, at several sizes.

use insta::assert_snapshot;
use ringbound::model::Collection;
use ringbound::session::Session;
use ringbound::ui::{Colours, Look};

use crate::scene::{PLAIN, Scene};

#[test]
fn the_shelf_shows_every_binder_as_its_spine() {
    assert_snapshot!("shelf_80x24", Scene::demo((80, 24)).picture());
    assert_snapshot!("shelf_120x40", Scene::demo((120, 40)).picture());
    assert_snapshot!("shelf_40x12", Scene::demo((40, 12)).picture());
    assert_snapshot!("shelf_24x6", Scene::demo((24, 6)).picture());
}

#[test]
fn an_empty_shelf_says_what_can_be_done() {
    let scene = Scene::new(Session::in_memory(Collection::new()), PLAIN, (80, 24));
    assert_snapshot!("shelf_empty", scene.picture());
}

#[test]
fn an_open_binder_shows_one_side_or_a_spread() {
    for (name, size) in [
        ("binder_24x6", (24, 6)),
        ("binder_60x16", (60, 16)),
        ("binder_80x24", (80, 24)),
        ("binder_120x40", (120, 40)),
        ("binder_200x60", (200, 60)),
    ] {
        let mut scene = Scene::demo(size);
        scene.keys("enter pgdn pgdn right");
        assert_snapshot!(name, scene.picture());
    }
}

#[test]
fn the_first_spread_shows_what_lies_before_the_first_page() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("enter home");
    assert_snapshot!("front_matter", scene.picture());
}

#[test]
fn keepsakes_blanks_and_other_formats_have_their_own_look() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("right enter end");
    assert_snapshot!("one_pocket", scene.picture());
    let mut scene = Scene::demo((80, 24));
    scene.keys("right right right enter end");
    assert_snapshot!("keepsakes", scene.picture());
}

#[test]
fn without_colour_and_in_ascii_every_state_is_still_told() {
    let look = Look {
        colours: Colours::None,
        ascii: true,
    };
    let session = Session::in_memory(ringbound::demo::collection());
    let mut scene = Scene::new(session, look, (80, 24));
    scene.keys("enter g").text("3").keys("enter");
    assert_snapshot!("ascii_80x24", scene.picture());
    assert!(scene.picture().is_ascii());
}

#[test]
fn the_finder_lists_cards_with_their_pockets() {
    let mut scene = Scene::demo((100, 24));
    scene.keys("f").text("owl").keys("down down");
    assert_snapshot!("find", scene.picture());
}

#[test]
fn the_form_tells_what_it_would_make() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("s").text("DUSK").keys("tab").text("Dusk Fair");
    assert_snapshot!("form_lacks", scene.picture());
    scene
        .keys("tab tab tab")
        .text("1 to 20, in regular and reverse");
    assert_snapshot!("form_ready", scene.picture());
}

#[test]
fn the_help_is_the_key_table() {
    let mut scene = Scene::demo((80, 40));
    scene.keys("enter ?");
    assert_snapshot!("help_binder", scene.picture());
}
