//! Finding by a few letters whatever can be done, and the help of here and now.
//!
//! What is promised here is this program's own: no outside source.

use insta::assert_snapshot;
use ringbound::model::Collection;
use ringbound::session::Session;
use ringbound::ui::Context;

use crate::scene::{PLAIN, Scene};

fn empty(size: (u16, u16)) -> Scene {
    Scene::new(Session::in_memory(Collection::new()), PLAIN, size)
}

#[test]
fn one_key_lists_first_what_can_be_done_here_and_then_the_rest() {
    let mut scene = Scene::demo((80, 24));
    assert_snapshot!("find_deed_80x24", scene.keys("f3").picture());
    assert_snapshot!("find_deed_typed_80x24", scene.text("adopt").picture());
    let mut small = Scene::demo((30, 8));
    assert_snapshot!("find_deed_30x8", small.keys("enter f3").picture());
}

#[test]
fn it_opens_on_every_screen_and_closes_by_its_own_key() {
    for way in [
        "",
        "enter",
        "enter a",
        "enter d",
        "enter d s",
        "enter g",
        "enter h",
        "e",
        "f",
        "l",
        "l f2",
        "x",
        "b",
        "w",
        "P",
        "s",
        "?",
        "enter c",
    ] {
        let mut scene = Scene::demo((100, 30));
        scene.keys(way);
        let before = scene.app.context();
        scene.keys("f3");
        assert_eq!(scene.app.context(), Context::Anything, "after {way:?}");
        scene.keys("ctrl-f");
        // It takes the place of the help, and is about the screen below it.
        let below = if way == "?" { Context::Shelf } else { before };
        assert_eq!(scene.app.context(), below, "after {way:?}");
    }
}

#[test]
fn enter_does_it_here_or_goes_where_it_is_done() {
    let on = |way: &str, typed: &str| {
        let mut scene = Scene::demo((100, 30));
        scene.keys(way).keys("f3").text(typed).keys("enter");
        scene.app.context()
    };
    assert_eq!(on("", "begin a set"), Context::Form);
    assert_eq!(on("", "the drafts of"), Context::Drafts);
    assert_eq!(on("", "templates usual"), Context::Templates);
    // From a list over a binder back to the shelf, where it is done.
    assert_eq!(on("enter l", "begin a set"), Context::Form);
    assert_eq!(on("enter", "sleeves binders cost"), Context::Supplies);
    assert_eq!(on("enter l", "next gap"), Context::Binder);
}

#[test]
fn a_letter_of_the_list_of_deeds_is_found_too() {
    let mut scene = Scene::demo((100, 30));
    let pages = |scene: &Scene| {
        let collection = scene.app.session().collection();
        collection.binder_at(0).unwrap().pages().len()
    };
    let before = pages(&scene);
    scene.keys("f3").text("empty page in behind").keys("enter");
    assert_eq!(pages(&scene), before + 1);
    scene.at("u takes it back");
}

#[test]
fn what_cannot_be_done_now_says_why_and_is_not_done() {
    let mut scene = empty((80, 24));
    scene.keys("f3").text("enter a pile").keys("enter");
    scene.at("Not now: there is no set yet; s begins one");
    assert_eq!(scene.app.context(), Context::Anything);
    scene.keys("esc ?");
    assert_snapshot!("help_of_an_empty_shelf_80x24", scene.picture());
}

#[test]
fn what_only_a_command_does_is_told_as_that_command() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("f3").text("spreadsheet backup").keys("enter");
    scene.at("On the command line: ringbound export copies FILE");
    // By its own name too, which stands beside it.
    let mut scene = Scene::demo((100, 30));
    scene.keys("f3").text("check");
    scene.at("ringbound check");
    scene.keys("ctrl-u").text("import");
    scene.at("take in a CSV file");
}

#[test]
fn edits_that_are_kept_nowhere_are_not_left_over_their_head() {
    let mut scene = Scene::demo((100, 30));
    scene
        .keys("enter d s enter x f3")
        .text("begin a set")
        .keys("enter");
    scene.at("Not kept yet");
    assert_eq!(scene.app.context(), Context::Sections);
}

#[test]
fn a_deed_left_for_later_can_be_taken_back_where_nothing_else_can() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("w enter x");
    assert_eq!(scene.app.context(), Context::Work);
    scene.at("brings it back");
    assert!(scene.picture().contains("u undo"), "{}", scene.picture());
    scene.keys("f3").text("take the last step back");
    assert!(
        !scene.picture().contains("nothing was done yet"),
        "{}",
        scene.picture()
    );
    scene.keys("esc u");
    scene.at("on the sheet again");
    assert!(!scene.picture().contains("u undo"), "{}", scene.picture());
}

#[test]
fn every_letter_that_means_one_thing_can_be_found_by_words() {
    for (letter, typed) in [
        ("4", "by the checklist"),
        ("<", "cards to the front"),
        (">", "cards to the back"),
        ("p", "cards to a page"),
        ("s", "lay the binder out"),
    ] {
        let mut scene = Scene::demo((120, 40));
        scene.keys("enter f3").text(typed);
        assert!(
            scene.picture().contains(&format!("a {letter} ")),
            "{letter}:\n{}",
            scene.picture()
        );
    }
}

#[test]
fn a_click_chooses_a_line_and_a_click_on_the_chosen_one_does_it() {
    let pages = |scene: &Scene| {
        let binder = scene.app.session().collection().binder_at(0).unwrap();
        binder.layout().pages.len()
    };
    let mut scene = Scene::demo((80, 24));
    let before = pages(&scene);
    scene.keys("enter a");
    let behind = scene.find("Put an empty page in as page 2").unwrap();
    scene.click(behind);
    assert_eq!(
        (scene.app.context(), pages(&scene)),
        (Context::Menu, before)
    );
    scene.click(behind);
    assert_eq!(
        (scene.app.context(), pages(&scene)),
        (Context::Binder, before + 1)
    );

    scene.keys("?");
    let drafts = scene.find("the drafts of this binder").unwrap();
    let turn = scene.find("turn the page").unwrap();
    scene.click(turn).click(drafts);
    assert_eq!(scene.app.context(), Context::Help);
    scene.click(drafts);
    assert_eq!(scene.app.context(), Context::Drafts);

    scene.keys("esc esc f3");
    let lists = scene.find("lists of wants").unwrap();
    scene.click(lists);
    assert_eq!(scene.app.context(), Context::Anything);
    scene.click(lists);
    assert_eq!(scene.app.context(), Context::List);
}
