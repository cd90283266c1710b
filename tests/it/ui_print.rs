//! What goes on paper, from the screen.

use insta::assert_snapshot;
use ringbound::demo;
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Look, Theme};

use crate::scene::{PLAIN, Scene};

fn in_folder(folder: &std::path::Path, size: (u16, u16)) -> Scene {
    let session = Session::in_memory(demo::collection());
    let mut scene = Scene::new(session, PLAIN, size);
    let session = Session::in_memory(demo::collection());
    let app = App::new(session, Theme::new(PLAIN), size);
    scene.app = app.in_folder(Some(folder.to_owned()));
    scene.draw();
    scene
}

fn names(folder: &std::path::Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.collect();
    names.sort();
    names
}

#[test]
fn the_labels_of_the_shelf_are_seen_in_small_before_they_are_written() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("P");
    assert_snapshot!("print_80x24", scene.picture());
    let mut scene = Scene::demo((120, 40));
    scene.keys("enter P");
    assert_snapshot!("print_binder_120x40", scene.picture());
    let look = Look {
        colours: Colours::None,
        ascii: true,
    };
    let session = Session::in_memory(demo::collection());
    let mut scene = Scene::new(session, look, (80, 24));
    scene.keys("P right");
    assert_snapshot!("print_index_ascii_80x24", scene.picture());
}

#[test]
fn the_title_stands_as_on_every_other_screen() {
    let style = |keys: &str, title: &str| {
        let mut scene = Scene::demo((80, 24));
        scene.keys(keys);
        let at = scene.at(title);
        scene.frame[at].style()
    };
    assert_eq!(style("P", "On paper"), style("b", "Supplies"));
}

#[test]
fn enter_writes_the_file_and_a_second_time_only_when_it_is_asked_for_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = in_folder(folder.path(), (80, 24));
    scene.keys("P enter");
    scene.at("Written: ");
    assert_eq!(names(folder.path()), ["labels.pdf"]);
    let written = std::fs::read(folder.path().join("labels.pdf")).unwrap();
    assert!(written.starts_with(b"%PDF-"));
    std::fs::write(folder.path().join("labels.pdf"), "mine").unwrap();
    scene.keys("P enter");
    assert_eq!(
        std::fs::read(folder.path().join("labels.pdf")).unwrap(),
        b"mine"
    );
    scene.keys("enter");
    assert_eq!(
        std::fs::read(folder.path().join("labels.pdf")).unwrap(),
        written
    );
}

#[test]
fn a_spine_that_is_typed_makes_the_labels_so_wide() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("P tab tab tab tab").text("3");
    scene.at("too narrow for a label");
    scene.text("2");
    scene.at("sheet 1 of 2");
    scene.text("x");
    scene.at("the width of the spine in millimetres");
    // Without a folder nothing can be written, and that is told.
    scene.keys("backspace enter");
    scene.at("no folder");
}

#[test]
fn every_kind_of_paper_is_written_from_the_screen() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = in_folder(folder.path(), (80, 24));
    for kind in 0..9 {
        scene.keys("enter P");
        scene.keys(&"right ".repeat(kind));
        scene.keys("pgdn pgdn pgup enter esc");
    }
    let right = [
        "index.pdf",
        "labels.pdf",
        "pile.pdf",
        "pockets.pdf",
        "shopping.pdf",
        "spares.pdf",
        "spread.pdf",
        "wants.pdf",
        "work-sheet.pdf",
    ];
    assert_eq!(names(folder.path()), right);
}

#[test]
fn a_name_tells_the_format_and_one_that_tells_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = in_folder(folder.path(), (80, 24));
    scene
        .keys("P shift-tab ctrl-u")
        .text("out.doc")
        .keys("enter");
    scene.at("must end in .pdf");
    scene.keys("ctrl-u").text("out.txt").keys("enter");
    scene.at("only PDF, SVG and PNG");
    scene.keys("ctrl-u").text("out.svg").keys("enter");
    assert_eq!(names(folder.path()), ["out-1.svg", "out-2.svg"]);
}

/// The same figures as the command's: so many cards, so many heaps.
#[test]
fn a_pile_to_sort_is_planned_for_its_cards_and_heaps() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("P left left left");
    scene.at("to sort a pile");
    scene.keys("tab tab tab").text("15");
    // Knuth, TAOCP 3, 5.2.5: fifteen cards on six heaps take two passes, on fifteen one.
    scene.at("15 cards on 6 heaps: 2 passes");
    scene.keys("tab").text("15");
    scene.at("15 cards on 15 heaps: 1 pass");
    scene.keys("ctrl-u").text("1");
    scene.at("the number of heaps is a whole number from 2 to 1000");
    assert_snapshot!("print_pile_80x24", scene.picture());
}

#[test]
fn the_columns_of_what_stands_where_have_headings() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("P");
    scene.at("left   top  mm from the edges");
}

#[test]
fn a_spine_far_narrower_than_the_rings_is_told() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter P tab tab tab tab").text("5");
    scene.at("5 mm is narrow for the spine of");
    scene.keys("ctrl-u").text("32");
    assert_eq!(scene.find("is narrow for"), None);
}

#[test]
fn the_work_sheet_leads_to_its_paper() {
    let folder = tempfile::tempdir().unwrap();
    let mut scene = in_folder(folder.path(), (80, 24));
    scene.keys("w enter P");
    scene.at("the whole shelf");
    scene.at("work-sheet.pdf");
    scene.keys("enter");
    scene.at("Work sheet: ");
    assert_eq!(names(folder.path()), ["work-sheet.pdf"]);
    scene.keys("esc enter w enter P");
    scene.at(" only");
}

/// Whether these letters stand one under the other in a column of the screen.
fn reads_down(scene: &Scene, letters: &str) -> bool {
    let area = *scene.frame.area();
    let letters: Vec<String> = letters.chars().map(String::from).collect();
    let many = letters.len() as u16;
    let at = |x: u16, y: u16| {
        let rows = (y..).zip(&letters);
        rows.into_iter()
            .all(|(y, letter)| scene.frame[(x, y)].symbol() == letter)
    };
    (0..area.width).any(|x| (0..area.height + 1 - many).any(|y| at(x, y)))
}

/// The invented shelf at 80x24: boxes too small for the whole title still begin with it, in the way
/// in which it will run on the spine.
#[test]
fn a_label_in_small_tells_its_words_in_the_way_they_run() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("P");
    assert!(reads_down(&scene, "✦1The"), "{}", scene.picture());
    scene.keys("tab tab tab right");
    scene.at("up the spine");
    assert!(reads_down(&scene, "ehT"), "{}", scene.picture());
    assert!(!reads_down(&scene, "The"), "{}", scene.picture());
    // Where there is room for it, further.
    let mut scene = Scene::demo((120, 40));
    scene.keys("P");
    assert!(reads_down(&scene, "Moss Hall"), "{}", scene.picture());
    assert!(reads_down(&scene, "The Long"), "{}", scene.picture());
}
