//! What is seen is what is met: lists longer than their windows, clicks on their lines and edges,
//! and clicks that come twice.

use crossterm::event::{Event, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use ringbound::hand;
use ringbound::model::{Binder, Collection};
use ringbound::session::Session;
use ringbound::ui::{Context, Flow};

use crate::scene::{PLAIN, Scene};

fn state(scene: &Scene) -> u64 {
    scene.app.session().revision()
}

/// The second press of a double click, which the loop tells apart by the clock.
fn second_click(scene: &mut Scene, (column, row): (u16, u16)) {
    scene.app.handle_second_click(&MouseEvent {
        kind: MouseEventKind::Down(MouseButton::Left),
        column,
        row,
        modifiers: KeyModifiers::NONE,
    });
    scene.draw();
    scene.mouse(MouseEventKind::Up(MouseButton::Left), (column, row));
}

#[test]
fn the_program_s_own_keys_work_on_the_empty_shelf_too() {
    for collection in [Collection::new(), ringbound::demo::collection()] {
        let mut scene = Scene::new(Session::in_memory(collection), PLAIN, (80, 24));
        let event = |c| {
            Event::Key(crossterm::event::KeyEvent::new(
                crossterm::event::KeyCode::Char(c),
                KeyModifiers::CONTROL,
            ))
        };
        assert_eq!(scene.event(&event('z')), Flow::Suspend);
        assert_eq!(scene.event(&event('l')), Flow::DrawAnew);
        assert!(scene.find("Not now").is_none(), "{}", scene.picture());
    }
}

#[test]
fn a_click_on_the_edge_of_the_help_does_nothing_that_is_not_seen() {
    for height in 10..30 {
        let mut scene = Scene::demo((80, height));
        scene.keys("enter ?");
        let before = scene.picture();
        // The foot takes one line on a low screen, else two.
        let edge = (40, height - if height < 12 { 2 } else { 3 });
        scene.click(edge);
        assert_eq!(scene.app.context(), Context::Help, "{before}");
        assert!(scene.find("In hand").is_none());
        // It tells that there is more, and shows it.
        assert_ne!(scene.picture(), before);
        scene.click((0, 0));
        assert_ne!(scene.app.context(), Context::Help);
    }
}

#[test]
fn the_set_that_is_chosen_for_a_pile_is_seen() {
    for size in [(80, 24), (40, 12), (200, 60)] {
        let demo = ringbound::demo::collection();
        let sets = demo.sets().count();
        for down in 0..sets {
            let mut scene = Scene::demo(size);
            scene.keys("e");
            for _ in 0..down {
                scene.keys("down");
            }
            let (_, set) = demo.sets().nth(down).unwrap();
            scene.at(set.title().split(' ').next().unwrap());
            scene.keys("enter");
            let chosen = scene.find(set.title().split(' ').next().unwrap());
            assert!(chosen.is_some(), "{}", scene.picture());
        }
    }
    // The line that tells of more is no set.
    let mut scene = Scene::demo((80, 24));
    scene.keys("e");
    let more = scene.at("more: type a part of the title");
    scene.click(more);
    scene.at("more: type a part of the title");
    // All of them stand there again when another is to be chosen.
    scene.keys("enter tab");
    scene.at("Moss Hall");
}

fn with_drafts(many: usize, size: (u16, u16)) -> Scene {
    let mut session = Session::in_memory(ringbound::demo::collection());
    let binder = session.collection().binder_at(0).unwrap().id();
    for at in 1..=many {
        let name = format!("way {at}");
        let step = hand::begin_draft(session.collection(), binder, &name, false).unwrap();
        session.commit(step).unwrap();
    }
    Scene::new(session, PLAIN, size)
}

#[test]
fn more_drafts_than_have_room_are_gone_through_within_their_window() {
    for size in [(80, 24), (40, 12), (30, 8)] {
        let mut scene = with_drafts(40, size);
        scene.keys("enter");
        let footer = |scene: &Scene| scene.picture().lines().last().unwrap().to_owned();
        scene.keys("d");
        scene.at("as it is");
        assert!(footer(&scene).starts_with(" enter"), "{}", scene.picture());
        scene.keys("end");
        let (_, y) = scene.at("way 40");
        assert!(y < size.1 - 2, "{}", scene.picture());
        scene.keys("home");
        let shown = scene.at("way 1");
        scene.click(shown);
        scene.keys("x");
        assert!(scene.find("way 1 ").is_none(), "{}", scene.picture());
    }
}

#[test]
fn the_layout_in_force_is_not_copied_or_thrown_away_as_a_draft() {
    let mut scene = with_drafts(1, (80, 24));
    scene.keys("enter d home");
    let before = state(&scene);
    for key in ["c", "r", "x", "a"] {
        scene.keys(key);
        scene.at("Not now: that is the layout in force");
        assert_eq!(scene.app.context(), Context::Drafts);
    }
    assert_eq!(state(&scene), before);
}

#[test]
fn a_click_goes_to_a_point_of_the_list_of_what_was_done() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter n + n + n + h");
    let (x, y) = scene.at("The present");
    let steps = |scene: &Scene| scene.app.session().done().count();
    let before = steps(&scene);
    // Chosen by one click, gone to by the next.
    scene.click((x, y + 2));
    assert_eq!(scene.app.context(), Context::History);
    scene.click((x, y + 2));
    // The step that was clicked is the last one done.
    assert_eq!(steps(&scene), before - 1);
}

#[test]
fn the_second_click_of_a_double_one_does_nothing_where_the_first_did_something() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter w");
    let way = scene.at("two passes");
    scene.click(way);
    scene.at("0 done");
    second_click(&mut scene, way);
    scene.at("0 done");
    let line = scene.at("Take out");
    let before = state(&scene);
    scene.click(line);
    second_click(&mut scene, line);
    assert_eq!(state(&scene), before + 1, "one line is ticked");
    // Where the first has only chosen, the second goes on.
    let mut scene = Scene::demo((80, 24));
    let spine = scene.at("Moss");
    scene.click(spine);
    assert_eq!(scene.app.context(), Context::Shelf);
    second_click(&mut scene, spine);
    assert_eq!(scene.app.context(), Context::Binder);
}

#[test]
fn a_list_is_narrowed_to_a_binder_by_its_whole_title() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("l").text("in The Long Wood");
    let (short, whole) = (scene.picture(), |scene: &mut Scene| {
        scene.keys("esc l").text("in wood");
        scene.picture()
    });
    let rows = |picture: &str| -> Vec<String> { picture.lines().skip(3).map(Into::into).collect() };
    assert!(scene.find("wants: 0 ").is_none(), "{short}");
    assert_eq!(rows(&short), rows(&whole(&mut scene)));
}

/// As each binder tells it, added up; where there is no room for it the binders alone are told.
#[test]
fn the_shelf_tells_how_far_all_binders_are_together() {
    let scene = Scene::demo((80, 24));
    let tallies = scene.app.session().collection().shelf().map(Binder::tally);
    let (in_place, meant) = tallies.fold((0, 0), |(a, b), t| (a + t.in_place, b + t.meant));
    let gaps = meant - in_place;
    let share = u64::from(in_place) * 100 / u64::from(meant);
    let words = format!("{in_place} of {meant} in place ({share} %), {gaps} gaps");
    assert_eq!(scene.at(&format!("The shelf: 10 binders; {words}")).1, 0);
    // A gap is filled.
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter n + esc");
    let words = format!("{} of {meant} in place", in_place + 1);
    scene.at(&format!("The shelf: 10 binders; {words}"));
    for size in [(40, 12), (24, 6)] {
        let scene = Scene::demo(size);
        scene.at("The shelf: 10 binders");
        assert_eq!(scene.find("binders;"), None, "{}", scene.picture());
    }
}

/// The invented collection has a binder that lacks pages of its layout.
#[test]
fn pages_that_stand_and_those_of_the_layout_are_told_apart_on_the_shelf_and_where_it_is_found() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("end");
    let collection = scene.app.session().collection();
    let post = collection.binder(collection.binder_by_name("post").unwrap());
    let (real, meant) = (
        post.unwrap().pages().len(),
        post.unwrap().layout().pages.len(),
    );
    let words = format!("{real} pages ({meant} in its layout)");
    scene.at(&words);
    scene.keys("f").text("winter post");
    scene.at(&words);
}
