//! What the screen says of files: a step that could not be kept, what was found on opening.

use std::cell::Cell;
use std::path::Path;
use std::rc::Rc;

use crossterm::event::{Event, MouseButton, MouseEventKind};
use insta::assert_snapshot;
use ringbound::demo;
use ringbound::model::Collection;
use ringbound::session::{Access, Open, Session};
use ringbound::store::files::Files;
use ringbound::store::{History, MemoryStore};
use ringbound::ui::{Context, Intent, Look};

use crate::scene::{PLAIN, Scene};
use crate::support::files::{InMemory, Watched};
use crate::support::kept::{Folder, clock};
use crate::support::mutate::of_later_version;
use crate::support::world::{state, steps};

/// The demo, kept on a disk that is full from the moment it is told so.
fn on_full_disk() -> (Session, Rc<Cell<bool>>) {
    let full = Rc::new(Cell::new(false));
    let is_full = full.clone();
    let files = Watched::planned(Rc::new(InMemory::default()), move |_| match is_full.get() {
        true => Err(std::io::ErrorKind::StorageFull.into()),
        false => Ok(()),
    });
    let files: Rc<dyn Files> = Rc::new(files);
    let folder = Path::new("/home/shelf");
    let (mut session, _) = Session::open_on(files, folder, Open::ForWriting, clock()).unwrap();
    for step in demo::step_by_step() {
        session.commit(step).unwrap();
    }
    (session, full)
}

/// The words of the frame, whatever the lines are.
fn words(scene: &Scene) -> String {
    let picture = scene.picture();
    picture.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// From the least screen on which anything is shown.
const SIZES: [(u16, u16); 9] = [
    (24, 6),
    (30, 8),
    (40, 11),
    (80, 11),
    (40, 12),
    (80, 12),
    (80, 24),
    (120, 40),
    (200, 60),
];

#[test]
fn a_step_that_is_not_kept_is_told_and_every_size_says_that_only_reading_is_left() {
    for ascii in [false, true] {
        for size in SIZES {
            let (session, full) = on_full_disk();
            let mut scene = Scene::new(session, Look { ascii, ..PLAIN }, size);
            scene.keys("enter n");
            let before = state(scene.app.session().collection());
            assert!(!words(&scene).contains("For reading only"), "{size:?}");
            full.set(true);
            scene.keys("+");
            assert!(
                words(&scene).contains("Not done: "),
                "{size:?}\n{}",
                scene.picture()
            );
            assert_eq!(state(scene.app.session().collection()), before);
            assert!(matches!(scene.app.session().access(), Access::ReadOnly(_)));
            // The disk has room again: what was not synced may be lost all the same.
            full.set(false);
            for keys in [
                "right", "ctrl-l", "+", "ctrl-l", "esc", "down", "l", "esc", "w",
            ] {
                scene.keys(keys);
                let shown = words(&scene);
                assert!(
                    shown.contains("reading only") || shown.contains("Not done"),
                    "{size:?}, {keys}\n{}",
                    scene.picture()
                );
            }
            scene.keys("u ctrl-l");
            assert_eq!(state(scene.app.session().collection()), before);
            let shown = words(&scene);
            assert!(!shown.contains("u undo"), "it is not offered: {shown}");
        }
    }
}

#[test]
fn the_banner_says_why_and_what_to_do() {
    let (session, full) = on_full_disk();
    let mut scene = Scene::new(session, PLAIN, (80, 24));
    scene.keys("enter n");
    full.set(true);
    scene.keys("+");
    assert_snapshot!("not_kept_80x24", scene.picture());
    scene.keys("right");
    assert_snapshot!("read_only_80x24", scene.picture());
    scene.event(&Event::Resize(60, 10));
    assert_snapshot!("read_only_60x10", scene.picture());
    scene.event(&Event::Resize(24, 6));
    assert_snapshot!("read_only_24x6", scene.picture());
}

/// What the real program is told on opening, in one piece on a screen of 80 columns.
#[cfg(unix)]
#[test]
fn what_was_found_on_opening_is_read_whole_on_the_first_screen() {
    use crate::pty::Pty;
    let folder = Folder::default();
    let (mut session, _) = folder.open_as(Open::ForWriting);
    for step in steps() {
        session.commit(step).unwrap();
    }
    session.rewrite().unwrap();
    drop(session);
    let (snapshot, journal) = (folder.read("collection.json"), folder.read("journal"));
    let damages = [
        (
            "collection.json",
            of_later_version(&snapshot),
            "some things may be missing; nothing was changed",
        ),
        (
            "journal",
            journal.replace("\"two sets\"", "\"few sets\""),
            "as it was before that line; nothing was overwritten",
        ),
        (
            "collection.json",
            snapshot.replace("Moss", "Mist"),
            "It is shown as it now is; nothing was overwritten",
        ),
        (
            "journal",
            format!("{journal}{{\"seq\":4,\"pre"),
            "so that step was never kept; its bytes are in",
        ),
    ];
    for (name, bytes, told) in damages {
        folder.write("collection.json", &snapshot);
        folder.write("journal", &journal);
        folder.write(name, bytes);
        let home = tempfile::tempdir().unwrap();
        let data = folder.path().display().to_string();
        let mut pty = Pty::start(&["--data", &data], (80, 24), home.path());
        // What stands last on the frame.
        pty.until("enter open");
        let shown = pty.contents();
        let shown: Vec<_> = shown.split_whitespace().collect();
        let shown = shown.join(" ");
        assert!(shown.contains(told), "{name}: {shown}");
        // What is not mended by itself has a way on.
        let mended = told.contains("never kept");
        assert_eq!(shown.contains("ringbound "), !mended, "{name}: {shown}");
        pty.send("q");
        assert_eq!(pty.ended(), 0);
    }
}

#[test]
fn a_key_that_does_nothing_says_so_and_names_the_key_that_tells_what_does() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("y");
    scene.at("y does nothing here; ? tells what does");
    scene.keys("enter 7");
    scene.at("7 does nothing here; ? tells what does");
    // Where letters are text they are text.
    scene.keys("esc f y");
    assert_eq!(scene.find("does nothing here"), None);
}

#[test]
fn on_an_empty_shelf_a_key_that_cannot_be_used_yet_says_why() {
    let empty = ringbound::session::Session::in_memory(ringbound::model::Collection::default());
    let mut scene = Scene::new(empty, crate::scene::PLAIN, (80, 24));
    for key in ["e", "x", "l", "f"] {
        scene.keys("down").keys(key);
        scene.at("Not now: there is no set yet; s begins one");
    }
    for key in ["b", "P", "w"] {
        scene.keys(key);
        scene.at("Not now: no binder stands here yet; s begins a set");
    }
}

/// The demo, in a store that keeps so many entries more and no other.
fn failing_after(more: usize) -> Session {
    let steps = demo::step_by_step();
    let store = MemoryStore::failing_after(steps.len() + more);
    let mut session = Session::over(Box::new(store), Collection::new(), History::default());
    for step in steps {
        session.commit(step).unwrap();
    }
    session
}

#[test]
fn going_back_says_how_far_it_went_and_why_no_further() {
    for kept in 0..3 {
        let mut scene = Scene::new(failing_after(kept), PLAIN, (120, 40));
        let before = scene.app.session().done().count();
        scene.keys("enter h down down down down enter");
        let after = scene.app.session().done().count();
        assert_eq!(before - after, kept);
        let shown = words(&scene);
        assert!(shown.contains("Not taken back: no space"), "{shown}");
        assert!(!shown.contains("3 steps"), "{shown}");
        let so_far = ["", "1 step taken back.", "2 steps taken back."][kept];
        assert!(shown.contains(so_far), "{shown}");
        // Only reading is left, and that is told in the same way.
        scene.keys("h down down down enter");
        assert!(!words(&scene).contains("2 steps"), "{}", scene.picture());
    }
    let mut scene = Scene::new(failing_after(5), PLAIN, (120, 40));
    scene.keys("enter h down down down down enter");
    scene.at("3 steps taken back; ");
    scene.keys("h up up up enter");
    assert!(words(&scene).contains("2 steps done again. Not done again: no space"));
}

/// The demo, of which one step could not be kept: only reading is left.
fn for_reading(size: (u16, u16)) -> Scene {
    let mut scene = Scene::new(failing_after(0), PLAIN, size);
    scene.keys("enter n + ctrl-l esc");
    assert!(matches!(scene.app.session().access(), Access::ReadOnly(_)));
    scene
}

#[test]
fn a_spine_that_is_dragged_says_that_the_collection_is_open_for_reading_only() {
    let mut scene = for_reading((80, 24));
    scene.mouse(MouseEventKind::Down(MouseButton::Left), (5, 4));
    scene.mouse(MouseEventKind::Drag(MouseButton::Left), (25, 4));
    scene.at("Binders stay where they are: the collection is open for reading only");
}

fn footer(scene: &Scene) -> String {
    let picture = scene.picture();
    picture.lines().last().unwrap_or_default().to_owned()
}

/// The demo with a draft and a template of one's own; and then for reading only, or not.
fn with_draft_and_template(can_write: bool) -> Scene {
    let more = if can_write { 3 } else { 2 };
    let mut scene = Scene::new(failing_after(more), PLAIN, (200, 30));
    scene.keys("enter d n").text("mine").keys("enter");
    to_shelf(&mut scene);
    scene.keys("enter d s enter s").text("own").keys("enter");
    to_shelf(&mut scene);
    scene.app.act(Intent::BinderOn);
    assert_eq!(
        scene.app.session().access() == Access::Writable,
        can_write,
        "{}",
        scene.picture()
    );
    scene
}

fn to_shelf(scene: &mut Scene) {
    while scene.app.context() != Context::Shelf {
        scene.keys("esc");
    }
}

#[test]
fn drafts_and_sections_offer_only_what_can_be_done_where_only_reading_is_left() {
    for can in [true, false] {
        let mut scene = with_draft_and_template(can);
        let mut offered = |keys: &str, hints: &[&str]| {
            let shown = footer(scene.keys(keys));
            for hint in hints {
                assert_eq!(shown.contains(hint), can, "{hint}: {}", scene.picture());
            }
        };
        offered("enter d home", &["n new from layout", "e new empty"]);
        offered("end", &["c copy", "r rename", "x throw away", "a adopt"]);
        offered("home s enter", &["k keep"]);
        offered("t end", &["x throw away"]);
    }
}

#[test]
fn that_only_reading_is_left_is_no_reason_for_what_changes_nothing() {
    for (keys, typed, told) in [
        (
            "enter pgup pgup f3",
            "turn the page back",
            "Not now: this is the first side",
        ),
        (
            "enter f3",
            "to where the cursor goes",
            "Not now: the collection is open for reading only",
        ),
        (
            "enter d s esc f3",
            "take the last edit",
            "Not now: nothing here can be used for that",
        ),
        (
            "f3",
            "take in a CSV file: a checklist, or",
            "Not now: the collection is open for reading only",
        ),
    ] {
        let mut scene = for_reading((120, 40));
        scene.keys(keys).text(typed).keys("enter");
        scene.at(told);
    }
}

#[test]
fn what_was_done_is_told_as_a_sentence() {
    let mut scene = Scene::demo((120, 40));
    scene.keys("enter C end enter");
    let foot = |scene: &Scene| {
        let picture = scene.picture();
        picture
            .lines()
            .rev()
            .nth(1)
            .unwrap()
            .trim_start()
            .to_owned()
    };
    let told = foot(&scene);
    assert!(told.starts_with("Page 1 "), "{told}");
    // And so it stands in the list of what was done.
    let (words, _) = told.split_once(" u takes").unwrap();
    scene.keys("esc h");
    scene.at(words.trim_end_matches('.'));
    scene.at("The present");
}
