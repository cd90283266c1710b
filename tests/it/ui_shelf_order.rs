//! The shelf as a whole: the order of the binders, and what stands on their spines.

use crossterm::event::{MouseButton, MouseEventKind};
use insta::assert_snapshot;

use crate::scene::Scene;

fn names(scene: &Scene) -> Vec<String> {
    let shelf = scene.app.session().collection().shelf();
    shelf.map(|binder| binder.name().to_owned()).collect()
}

#[test]
fn a_binder_is_carried_along_the_shelf_and_stays_chosen() {
    let mut scene = Scene::demo((80, 24));
    let before = names(&scene);
    scene.keys("right > >");
    let mut wanted = before.clone();
    let carried = wanted.remove(1);
    wanted.insert(3, carried.clone());
    assert_eq!(names(&scene), wanted);
    assert!(
        scene.picture().contains(&format!("({carried})")),
        "it is the chosen one"
    );
    scene.keys("<");
    assert_eq!(names(&scene)[2], carried);
    scene.keys("u u u");
    assert_eq!(names(&scene), before);
    let is_chosen = |scene: &Scene| scene.picture().contains(&format!("({carried})"));
    assert!(is_chosen(&scene), "it stays the chosen one where it goes");
    scene.keys("r r");
    assert_eq!(names(&scene)[3], carried);
    assert!(is_chosen(&scene));
    scene.keys("u u");
    // The first one has no place to its left.
    scene.keys("home <");
    assert_eq!(names(&scene), before);
}

#[test]
fn a_spine_is_written_anew_in_a_form() {
    for (size, name) in [
        ((80, 24), "spine_80x24"),
        ((40, 12), "spine_40x12"),
        ((30, 8), "spine_30x8"),
    ] {
        assert_snapshot!(name, Scene::demo(size).keys("t").picture());
    }
    let mut scene = Scene::demo((80, 24));
    scene
        .keys("t")
        .text(" II")
        .keys("tab backspace")
        .text("ab")
        .keys("enter");
    assert!(scene.picture().contains("The symbol is one sign"));
    scene.keys("backspace backspace").text("%").keys("enter");
    assert_snapshot!("spine_written_80x24", scene.picture());
    let binder = scene.app.session().collection().shelf().next().unwrap();
    assert!(binder.spec().title.ends_with(" II"));
}

#[test]
fn a_set_has_another_code_and_its_binder_is_called_so_too() {
    let mut scene = Scene::demo((80, 24));
    scene
        .keys("t tab tab tab backspace backspace backspace backspace")
        .text("moss")
        .keys("enter");
    assert!(scene.picture().contains("Another set has this code"));
    scene
        .keys("backspace backspace backspace backspace")
        .text("OAK")
        .keys("enter");
    assert_snapshot!("code_written_80x24", scene.picture());
    assert_eq!(names(&scene)[0], "oak");
    scene.keys("u");
    assert_eq!(names(&scene)[0], "wood");
}

#[test]
fn what_goes_with_a_set_is_told_before_it_is_given_up_and_comes_back() {
    for (size, name) in [
        ((80, 24), "give_up_80x24"),
        ((40, 12), "give_up_40x12"),
        ((30, 8), "give_up_30x8"),
        ((24, 6), "give_up_24x6"),
    ] {
        assert_snapshot!(name, Scene::demo(size).keys("right del").picture());
    }
    let mut scene = Scene::demo((80, 24));
    let before = names(&scene);
    scene.keys("right del esc");
    assert_eq!(names(&scene), before);
    scene.keys("del down enter");
    assert_snapshot!("given_up_80x24", scene.picture());
    assert_eq!(names(&scene).len(), before.len() - 1);
    scene.keys("u");
    assert_eq!(names(&scene), before);
    // All of them, one after the other, down to the empty shelf.
    for _ in 0..before.len() {
        scene.keys("del").text("s");
    }
    assert_eq!(names(&scene), Vec::<String>::new());
    // And the one that has no binder.
    let sets = |scene: &Scene| scene.app.session().collection().sets().len();
    assert_eq!(sets(&scene), 1);
    scene.keys("del");
    assert_snapshot!("give_up_without_binder_80x24", scene.picture());
    scene.keys("enter");
    assert_eq!(sets(&scene), 0);
    scene.keys("del");
    assert!(scene.picture().contains("No binder stands here yet"));
}

/// The middle of the spine at a place of the first board, 80 columns.
fn spine(place: u16) -> (u16, u16) {
    (place * 10 + 5, 4)
}

#[test]
fn a_spine_is_dragged_along_the_shelf_and_stands_where_it_was_said_to() {
    let (down, up) = (
        MouseEventKind::Down(MouseButton::Left),
        MouseEventKind::Up(MouseButton::Left),
    );
    let drag = MouseEventKind::Drag(MouseButton::Left);
    let mut scene = Scene::demo((80, 24));
    let before = names(&scene);
    let moved = |from: usize, to: usize| {
        let mut names = before.clone();
        let name = names.remove(from);
        names.insert(to, name);
        names
    };
    // Also the chosen one, which a click alone would open.
    for (from, to, told) in [
        (0, 3, "stands behind A Hundred Lamps then"),
        (2, 1, "stands behind The Long Wood then"),
        (5, 0, "stands first on the shelf then"),
    ] {
        scene.mouse(down, spine(from as u16));
        scene.mouse(drag, spine(to as u16));
        assert_eq!(names(&scene), before, "nothing is done before it is let go");
        assert!(scene.picture().contains(told), "{}", scene.picture());
        if from == 0 {
            assert_snapshot!("spine_dragged_80x24", scene.picture());
        }
        scene.mouse(up, spine(to as u16));
        assert_eq!(names(&scene), moved(from, to));
        scene.keys("u");
        assert_eq!(names(&scene), before);
    }
    // Beside the spines it is said to stay, and stays.
    scene
        .mouse(down, spine(3))
        .mouse(drag, spine(6))
        .mouse(drag, (5, 22));
    assert!(scene.picture().contains("stays where it is"));
    scene.mouse(up, (5, 22));
    assert_eq!(names(&scene), before);
    // A click chooses; one more opens.
    scene.click(spine(4));
    assert!(scene.picture().contains("The shelf"));
    scene.click(spine(4));
    assert!(
        !scene.picture().contains("The shelf"),
        "{}",
        scene.picture()
    );
}

#[test]
fn a_set_without_a_binder_gets_one_from_the_form() {
    let mut scene = Scene::demo((80, 24));
    let before = names(&scene);
    // The binder alone goes; the cards are loose, and wait for a place.
    scene.keys("right del").text("b");
    assert_eq!(names(&scene).len(), before.len() - 1);
    scene.keys("s").text("moss");
    assert_snapshot!("binder_for_set_80x24", scene.picture());
    scene.keys("enter");
    assert_eq!(names(&scene).len(), before.len());
    assert_eq!(names(&scene).last().unwrap(), "MOSS");
    // It has one now.
    scene.keys("esc s").text("moss");
    assert!(
        scene.picture().contains("has a binder, Moss Hall"),
        "{}",
        scene.picture()
    );
}

#[test]
fn no_board_moves_under_the_pointer() {
    // From its end the shelf is seen from a board on that begins no screenful.
    let mut scene = Scene::demo((40, 24));
    scene.keys("end");
    let spine = scene.at("Orchard");
    scene.at("Winter");
    scene.click(spine);
    scene.at("(orchard)");
    scene.at("Winter");
    scene.click(spine);
    scene.at("Orchard Wak");
    assert_eq!(scene.app.context(), ringbound::ui::Context::Binder);
}

const DOWN: MouseEventKind = MouseEventKind::Down(MouseButton::Left);
const DRAG: MouseEventKind = MouseEventKind::Drag(MouseButton::Left);
const UP: MouseEventKind = MouseEventKind::Up(MouseButton::Left);

#[test]
fn under_a_spine_that_is_held_at_the_edge_or_with_the_wheel_the_boards_go_on() {
    for by_wheel in [false, true] {
        let mut scene = Scene::demo((40, 24));
        let before = names(&scene);
        // The last binder stands on a board that is not seen.
        assert_eq!(scene.find("Winter"), None, "{}", scene.picture());
        let edge = (5, 21);
        scene.mouse(DOWN, spine(0)).mouse(DRAG, spine(1));
        assert!(!scene.app.turns());
        if by_wheel {
            for _ in 0..3 {
                scene.mouse(MouseEventKind::ScrollDown, spine(1));
            }
        } else {
            scene.mouse(DRAG, edge);
            while scene.app.turns() {
                scene.app.turn();
            }
            scene.draw();
        }
        let to = scene.at("Winter");
        scene.mouse(DRAG, to);
        scene.at("The Long Wood stands behind Winter");
        scene.mouse(UP, to);
        let mut wanted = before.clone();
        wanted.rotate_left(1);
        assert_eq!(names(&scene), wanted);
    }
}

#[test]
fn a_spine_let_go_behind_the_last_one_comes_to_stand_there() {
    let mut scene = Scene::demo((200, 60));
    let before = names(&scene);
    let behind = (190, 6);
    scene.mouse(DOWN, spine(0)).mouse(DRAG, behind);
    scene.at("The Long Wood stands behind Winter Post then");
    scene.mouse(UP, behind);
    let mut wanted = before;
    wanted.rotate_left(1);
    assert_eq!(names(&scene), wanted);
}
