//! The shelf as a whole: the order of the binders, and what stands on their spines.

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
    // The first one has no place to its left.
    scene.keys("home <");
    assert_eq!(names(&scene), before);
}

#[test]
fn a_spine_is_written_anew_in_a_form_of_three_lines() {
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
