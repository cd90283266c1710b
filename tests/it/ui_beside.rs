//! What takes its time is made beside the keys: what is shown meanwhile, how it is stopped, and
//! that nothing is shown as true which is not. The work is held here and let go when it is time.

use std::sync::mpsc::{self, Receiver};

use insta::assert_snapshot;
use ringbound::demo;
use ringbound::session::Session;
use ringbound::ui::{App, Context, Theme, Work};

use crate::scene::{PLAIN, Scene};

/// Work that was handed over.
struct Held(Receiver<Work>);

impl Held {
    /// From now on all work of this scene.
    fn all(scene: &mut Scene) -> Self {
        let (out, held) = mpsc::channel();
        scene.app.hand_work_to(move |errand| drop(out.send(errand)));
        Self(held)
    }

    fn is_empty(&self) -> bool {
        match self.0.try_recv() {
            Ok(errand) => {
                errand();
                false
            }
            Err(_) => true,
        }
    }

    /// Does all of it.
    fn let_go(&self, scene: &mut Scene) {
        let mut done = 0;
        while let Ok(errand) = self.0.try_recv() {
            errand();
            scene.app.hear();
            done += 1;
        }
        assert!(done > 0, "nothing was held");
        scene.draw();
    }

    /// As if all of it had panicked.
    fn lose(&self, scene: &mut Scene) {
        while let Ok(errand) = self.0.try_recv() {
            drop(errand);
            scene.app.hear();
        }
        scene.draw();
    }
}

/// The demo, with all that is left over from before these keys done.
fn after(keys: &str) -> Scene {
    let mut scene = Scene::demo((80, 24));
    scene.keys(keys);
    scene
}

/// A page of regulars carried to the end, and adopted: there are ways to choose from.
const REORDERED: &str = "enter d n R enter C end enter d a esc home esc";

#[test]
fn what_each_draft_would_cost_is_found_out_beside_the_keys() {
    let mut scene = after("enter d n R enter C end enter");
    let costs = |scene: &Scene| {
        let row = scene.at("▸ R").1;
        let picture = scene.picture();
        let row = picture.lines().nth(row.into()).unwrap();
        row.chars().filter(char::is_ascii_digit).collect::<String>()
    };
    let held = Held::all(&mut scene);
    scene.keys("d");
    scene.at("Finding out what each would cost");
    let before = costs(&scene);
    held.let_go(&mut scene);
    assert_eq!(scene.find("Finding out"), None);
    assert!(costs(&scene).len() > before.len(), "{}", scene.picture());
    // Stopped, the drafts are there all the same.
    scene.keys("esc d esc");
    assert_eq!(scene.app.context(), Context::Drafts);
    assert_eq!(scene.find("Finding out"), None);
    scene.keys("esc");
    assert_eq!(scene.app.context(), Context::Binder);
}

#[test]
fn meanwhile_each_screen_says_what_is_made_and_the_key_that_stops_it_leads_back() {
    // Each with keys that change the collection: on the screen if it were there, or on the shelf
    // if that heard them.
    for (keys, name, others, there) in [
        ("w", "work", "enter enter space", "w"),
        ("P", "print", ">", ""),
        ("b", "supplies", ">", ""),
        ("l", "list", "enter +", "l"),
    ] {
        let mut changed = after(there);
        changed.keys(others);
        assert_ne!(changed.app.session().revision(), 0, "{name}");
        let mut scene = Scene::demo((80, 24));
        let shelf = scene.picture();
        let held = Held::all(&mut scene);
        scene.keys(keys);
        assert_snapshot!(format!("beside_{name}_80x24"), scene.picture());
        // Other keys are heard, and change nothing.
        let context = scene.app.context();
        scene.keys("down pgdn").keys(others);
        assert_eq!(scene.app.session().revision(), 0, "{name}");
        assert_eq!(scene.app.context(), context);
        scene.keys("esc");
        assert_eq!(scene.app.context(), Context::Shelf);
        assert_eq!(scene.picture(), shelf);
        // What comes of it afterwards is not seen.
        held.let_go(&mut scene);
        assert_eq!(scene.picture(), shelf);
        // Opened again and let go, it is as if it had been there at once.
        scene.keys(keys);
        held.let_go(&mut scene);
        assert_eq!(scene.picture(), after(keys).picture(), "{keys}");
    }
}

#[test]
fn what_was_planned_before_a_change_is_not_shown() {
    let mut scene = after(REORDERED);
    let held = Held::all(&mut scene);
    scene.keys("w u");
    assert!(scene.find("left,").is_none(), "{}", scene.picture());
    held.let_go(&mut scene);
    // All but the message line and the keys.
    let body = |scene: &Scene| {
        let picture = scene.picture();
        picture.lines().take(22).collect::<Vec<_>>().join("\n")
    };
    assert_eq!(body(&scene), body(&after(&format!("{REORDERED} u w"))));
    assert_ne!(body(&scene), body(&after(&format!("{REORDERED} w"))));
}

#[test]
fn a_deed_is_ticked_without_planning_anew_and_one_left_for_later_comes_back() {
    let mut scene = after("w enter");
    let held = Held::all(&mut scene);
    let deeds = |scene: &Scene| {
        let picture = scene.picture();
        let head = picture.lines().find(|line| line.contains("Work sheet:"));
        let words = head.unwrap().split_whitespace();
        words.filter_map(|word| word.parse().ok()).next().unwrap()
    };
    let before: usize = deeds(&scene);
    scene.keys("enter");
    assert!(held.is_empty());
    assert_eq!(deeds(&scene), before - 1);
    let picture = scene.picture();
    // What can be done without it is looked for; stopped, the deed stands there again.
    scene.keys("x");
    scene.at("Looking for what can be done without it. esc stops it");
    scene.keys("esc");
    scene.at("It is on the sheet again");
    assert!(!held.is_empty());
    scene.app.hear();
    scene.keys("up");
    assert_eq!(
        scene.picture().lines().take(22).collect::<Vec<_>>(),
        picture.lines().take(22).collect::<Vec<_>>()
    );
    scene.keys("x");
    held.let_go(&mut scene);
    scene.at("1 not found");
}

#[test]
fn an_error_of_the_program_is_told_and_the_screen_is_of_use() {
    let mut scene = Scene::demo((80, 24));
    let held = Held::all(&mut scene);
    scene.keys("w");
    held.lose(&mut scene);
    scene.at("The work could not be planned: a fault of this program");
    assert_eq!(scene.app.context(), Context::Shelf);
    scene.keys("P");
    held.lose(&mut scene);
    scene.at("it could not be made: a fault of this program");
    scene.keys("right");
    held.let_go(&mut scene);
    scene.at("sheet 1 of");
    scene.keys("esc b");
    held.lose(&mut scene);
    scene.at("It could not be counted: a fault of this program.");
    scene.keys("v");
    held.let_go(&mut scene);
    assert!(scene.find("a fault of this program").is_none());
    scene.keys("esc l");
    held.lose(&mut scene);
    scene.at("The list could not be made: a fault of this program");
    scene.keys("tab");
    held.let_go(&mut scene);
    scene.at("gaps: ");
}

fn in_folder(folder: &std::path::Path) -> (Scene, Held) {
    let mut scene = Scene::demo((80, 24));
    let session = Session::in_memory(demo::collection());
    let app = App::new(session, Theme::new(PLAIN), (80, 24));
    scene.app = app.in_folder(Some(folder.to_owned()));
    let held = Held::all(&mut scene);
    (scene, held)
}

fn files(folder: &std::path::Path) -> usize {
    std::fs::read_dir(folder).unwrap().count()
}

#[test]
fn a_print_that_is_stopped_leaves_no_file_and_can_be_asked_for_again() {
    let folder = tempfile::tempdir().unwrap();
    let (mut scene, held) = in_folder(folder.path());
    scene.keys("P");
    held.let_go(&mut scene);
    scene.keys("enter");
    scene.at("Writing. esc stops it");
    // What is typed meanwhile goes nowhere.
    scene.text("x").keys("right");
    scene.keys("esc");
    scene.at("It is being stopped");
    held.let_go(&mut scene);
    scene.at("Stopped: nothing is written");
    assert_eq!(files(folder.path()), 0);
    scene.keys("enter");
    held.lose(&mut scene);
    scene.at("Not written: a fault of this program");
    scene.keys("enter");
    held.let_go(&mut scene);
    scene.at("Written: ");
    assert_eq!(files(folder.path()), 1);
    assert!(folder.path().join("labels.pdf").exists());
}

#[test]
fn a_list_that_is_written_is_stopped_in_the_same_way() {
    let folder = tempfile::tempdir().unwrap();
    let (mut scene, held) = in_folder(folder.path());
    scene.keys("l");
    held.let_go(&mut scene);
    scene.keys("f2 enter");
    scene.at("Writing. esc stops it");
    scene.keys("esc");
    held.let_go(&mut scene);
    scene.at("Stopped: nothing is written");
    assert_eq!(files(folder.path()), 0);
    scene.keys("enter");
    held.let_go(&mut scene);
    scene.at("Written: ");
    assert_eq!(files(folder.path()), 1);
}

#[test]
fn nothing_is_written_any_more_once_the_program_has_been_left() {
    let folder = tempfile::tempdir().unwrap();
    let (mut scene, held) = in_folder(folder.path());
    scene.keys("P");
    held.let_go(&mut scene);
    scene.keys("enter");
    drop(scene.app.into_session());
    let errand = held.0.try_recv().unwrap();
    errand();
    assert_eq!(files(folder.path()), 0);
}

#[test]
fn a_file_that_is_taken_in_is_stopped_until_it_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("cards.csv");
    std::fs::write(&path, "set,number,name\nZZZ,1,Mire Lamp\n").unwrap();
    let (mut scene, held) = in_folder(folder.path());
    scene
        .keys("i")
        .text(&path.display().to_string())
        .keys("enter");
    scene.at("Reading. esc stops it");
    scene.keys("esc");
    scene.at("Stopped: nothing has come in.");
    held.let_go(&mut scene);
    assert_eq!(scene.app.session().revision(), 0);
    scene.keys("enter");
    held.lose(&mut scene);
    scene.at("The file could not be taken in");
    scene.keys("enter");
    held.let_go(&mut scene);
    scene.at("1 card");
    assert_eq!(scene.app.session().revision(), 1);
    assert_eq!(scene.app.session().collection().check(), Vec::new());
}

#[test]
fn their_lists_are_read_beside_the_keys_and_reading_is_stopped() {
    let folder = tempfile::tempdir().unwrap();
    let [wants, spares] = crate::ui_lists::their_lists(folder.path());
    let mut scene = Scene::demo((100, 30));
    let held = Held::all(&mut scene);
    scene.keys("x").text(&wants).keys("tab").text(&spares);
    scene.keys("enter");
    scene.at("Reading. esc stops it");
    scene.keys("esc");
    scene.at("Stopped: no list was taken");
    assert_eq!(scene.app.context(), Context::SwapFiles);
    scene.keys("enter");
    held.let_go(&mut scene);
    assert_eq!(scene.app.context(), Context::Swap);
    scene.at("One for one, 3 cards each way:");
}
