//! The first minutes on an empty machine, and what every empty screen says.
//!
//! What is promised here is this program's own: no outside source. Files are RFC 4180.

use insta::assert_snapshot;
use ringbound::model::{Collection, Place, PocketState};
use ringbound::session::Session;
use ringbound::ui::{Colours, Context, Flow, Look};

use crate::scene::{PLAIN, Scene};

fn empty(size: (u16, u16)) -> Scene {
    Scene::new(Session::in_memory(Collection::new()), PLAIN, size)
}

fn collection(scene: &Scene) -> &Collection {
    scene.app.session().collection()
}

#[test]
fn the_empty_shelf_asks_nothing_and_shows_the_ways_to_begin() {
    assert_snapshot!("welcome_80x24", empty((80, 24)).picture());
    assert_snapshot!("welcome_30x8", empty((30, 8)).picture());
    assert_snapshot!("welcome_150x50", empty((150, 50)).picture());
    let ascii = Look {
        colours: Colours::None,
        ascii: true,
    };
    let session = Session::in_memory(Collection::new());
    let scene = Scene::new(session, ascii, (80, 24));
    assert!(scene.picture().is_ascii());
}

#[test]
fn the_ways_are_chosen_by_key_by_arrows_and_by_mouse() {
    for (keys, context) in [
        ("s", Context::Form),
        ("i", Context::Import),
        ("k", Context::Form),
        ("down enter", Context::Form),
        ("down down down down enter", Context::Import),
    ] {
        let mut scene = empty((80, 24));
        scene.keys(keys);
        assert_eq!(scene.app.context(), context, "{keys}");
        scene.keys("esc");
        assert_eq!(scene.app.context(), Context::Shelf, "{keys}");
    }
    let mut scene = empty((80, 24));
    let at = scene.at("A file");
    scene.click(at);
    assert_eq!(scene.app.context(), Context::Import);
}

#[test]
fn nothing_of_the_demo_gets_into_the_collection_and_quitting_it_leads_back() {
    let mut scene = empty((80, 24));
    scene
        .keys("s")
        .text("FEN")
        .keys("tab tab tab tab")
        .text("1 to 9")
        .keys("enter esc");
    let revision = scene.app.session().revision();
    scene.keys("d");
    scene.at("invented: q leads back");
    assert_eq!(collection(&scene).shelf().len(), 10);
    // Done there, lost there.
    scene
        .keys("enter + + t esc s")
        .text("XX")
        .keys("tab tab tab tab")
        .text("1 to 3")
        .keys("enter");
    let quit = ringbound::ui::Key::parse("q").unwrap().event();
    assert_eq!(scene.event(&crossterm::event::Event::Key(quit)), Flow::Draw);
    scene.at("This is your own collection again");
    assert_eq!(scene.app.session().revision(), revision);
    assert_eq!(collection(&scene).sets().len(), 1);
    assert_eq!(scene.event(&crossterm::event::Event::Key(quit)), Flow::Quit);
    // Also when the program ends in the midst of it.
    scene.keys("d");
    assert_eq!(scene.app.into_session().collection().sets().len(), 1);
}

#[test]
fn a_binder_is_typed_in_as_one_flips_and_each_card_can_be_taken_back() {
    let mut scene = empty((80, 24));
    scene
        .keys("k")
        .text("Fenland")
        .keys("tab")
        .text("FEN")
        .keys("enter");
    assert_eq!(scene.app.context(), Context::TypeIn);
    assert_snapshot!("type_in_begin_80x24", scene.picture());
    // 1, then 2 as proposed, two empty pockets, 5.
    scene
        .text("1")
        .keys("enter enter tab tab")
        .text("5")
        .keys("enter");
    assert_snapshot!("type_in_80x24", scene.picture());
    let state = |scene: &Scene, pocket: usize| {
        let collection = collection(scene);
        let binder = collection.binder_by_name("FEN").unwrap();
        let place = Place {
            binder,
            page: 0,
            pocket,
        };
        let number = |p| collection.card(p).unwrap().number.to_string();
        match collection.pocket(place) {
            PocketState::InPlace(p) => number(p),
            PocketState::Gap(p) => format!("gap {}", number(p)),
            other => format!("{other:?}"),
        }
    };
    let all = |scene: &Scene| (0..6).map(|at| state(scene, at)).collect::<Vec<_>>();
    assert_eq!(all(&scene), ["1", "2", "gap 3", "gap 4", "5", "Unassigned"]);
    // The last is taken back with all that it brought, and typed anew.
    scene.keys("up backspace").text("P1").keys("enter");
    assert_eq!(all(&scene)[2..5], ["Unassigned", "Unassigned", "P1"]);
    // One stops, and goes on where one stopped.
    scene.keys("esc");
    scene.at("3 cards typed in; k goes on");
    assert_eq!(scene.app.context(), Context::Binder);
    scene.keys("k").text("P2 gap").keys("enter");
    assert_eq!(state(&scene, 5), "gap P2");
    scene.keys("esc u");
    assert_eq!(state(&scene, 5), "Unassigned");
}

#[test]
fn typing_in_tells_what_is_wrong_and_takes_nothing_then() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("enter");
    let revision = scene.app.session().revision();
    scene.keys("enter");
    scene.at("Type the number of the card in this pocket");
    scene.text("12 q").keys("enter");
    scene.at("“q” is no finish");
    assert_eq!(scene.app.session().revision(), revision);
    let mut small = empty((30, 8));
    small
        .keys("k")
        .text("FEN")
        .keys("enter")
        .text("12")
        .keys("enter");
    assert_snapshot!("type_in_30x8", small.picture());
}

#[test]
fn a_file_comes_in_by_its_typed_path_and_a_bad_one_is_told() {
    let dir = tempfile::tempdir().unwrap();
    let cards = dir.path().join("cards.csv");
    std::fs::write(&cards, "set,number,name\nFEN,1,Heron\nFEN,2,Reed\n").unwrap();
    std::fs::write(dir.path().join("own.csv"), "set,number\nFEN,2\nFEN,7\n").unwrap();
    let mut scene = empty((80, 24));
    scene.keys("i");
    assert_snapshot!("import_80x24", scene.picture());
    scene.text(&cards.display().to_string()).keys("enter");
    scene.at("New: 1 set, 2 cards, 1 binder and 1 page.");
    scene.at("what I own, in its pockets");
    let own = dir.path().join("own.csv").display().to_string();
    scene.text(&own).keys("enter");
    scene.at("1 row is bad, so nothing has come in.");
    scene.at("line 3, column 2 (number)");
    scene.keys("tab tab right enter");
    scene.at("1 copy came in: 1 in its pocket, 0 loose.");
    scene.keys("esc enter");
    scene.at("Heron");
    // Each file was a step of its own.
    scene.keys("u u");
    assert_eq!(collection(&scene).sets().len(), 0);
    let mut scene = empty((80, 24));
    scene.keys("i").text("/nowhere/at/all.csv").keys("enter");
    scene.at("There is no file /nowhere/at/all.csv");
    scene.keys("esc i enter");
    scene.at("Type the name of the file");
}

#[test]
fn a_file_that_takes_long_is_read_beside_the_keys_and_can_be_stopped() {
    use std::sync::mpsc;
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("cards.csv");
    let rows: String = (1..20_000).map(|n| format!("FEN,{n},Card {n}\n")).collect();
    std::fs::write(&path, format!("set,number,name\n{rows}")).unwrap();
    let mut scene = empty((80, 24));
    let (out, woken) = mpsc::channel();
    scene.app.wake_by(move || out.send(()).unwrap_or_default());
    scene.keys("i").text(&path.display().to_string());
    scene.keys("enter esc");
    scene.at("Stopped: nothing has come in.");
    assert_eq!(collection(&scene).sets().len(), 0);
    // The name stands there still; now to the end, with a window opened over it meanwhile.
    scene.keys("enter f1");
    assert_eq!(scene.app.context(), Context::Help);
    woken.recv().unwrap();
    scene.app.hear();
    // Closing the window hears what was told meanwhile.
    scene.keys("esc");
    while collection(&scene).sets().len() == 0 {
        woken.recv().unwrap();
        scene.app.hear();
    }
    scene.draw();
    scene.at("19999 cards");
}

#[test]
fn every_empty_screen_says_what_can_be_done_next() {
    let begun = || {
        let mut scene = empty((80, 24));
        scene
            .keys("s")
            .text("FEN")
            .keys("tab tab tab tab")
            .text("1 to 9")
            .keys("enter");
        scene
    };
    let mut scene = begun();
    scene.keys("d");
    scene.at("No draft yet: n begins one from the layout, s by sections.");
    let mut scene = begun();
    scene.keys("w");
    scene.at("Everything lies as planned.");
    scene.at("l lists what is missing; e takes in what comes next.");
    scene.keys("esc l tab tab");
    scene.at("No loose copy waits for a gap. e on the shelf enters a pile");
    scene.keys("tab");
    scene.at("There is no spare copy. tab turns to the next list");
    scene.text("zzz");
    scene.at("There is no spare copy.");
    scene.keys("esc h down");
    scene.at("The present");
    let mut scene = empty((80, 24));
    scene.keys("h");
    scene.at("Nothing was done yet");
}

#[test]
fn going_on_proposes_what_follows_the_pocket_before_and_begins_behind_the_last_card() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("enter");
    for number in ["TG 8", "TG 9", "TG 10"] {
        // A number of two words is not to be typed here: three plain ones.
        let number = number.trim_start_matches("TG ");
        scene.text(number).keys("enter");
    }
    scene.keys("esc k");
    scene.at("Card: 11");
    // Also from the last card, and after the end of the program.
    scene.keys("esc left k");
    scene.at("Card: 11");
    scene.at("row 2, pocket 1");
    // A pocket that was passed over counts as a number; another number takes the place of it.
    scene.keys("tab");
    scene.at("Card: 12");
    scene.text("20").keys("enter");
    scene.at("20, new in the checklist");
    scene.keys("esc k");
    scene.at("Card: 21");
    // Nothing to correct here: it says how.
    scene.keys("up");
    scene.at("shift-tab goes to the pocket before");
    scene.keys("shift-tab").text("19").keys("enter");
    scene.at("19 instead of 20");
}

#[test]
fn a_full_page_is_gone_on_from_with_the_next() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("tab tab tab tab");
    scene.text("1").keys("tab right enter");
    scene.text("1").keys("enter esc k");
    scene.at("Page 2 is not there yet");
    scene.at("Card: 2");
}

#[test]
fn a_number_written_otherwise_than_the_others_is_asked_about_once() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("enter");
    let numbers = |scene: &Scene| {
        let collection = collection(scene);
        let set = collection.set_by_code("FEN").unwrap();
        let cards = collection.set(set).unwrap().cards();
        cards
            .iter()
            .map(|card| card.number.to_string())
            .collect::<Vec<_>>()
    };
    scene.text("001").keys("enter").text("2").keys("enter");
    scene.at("002, as the others are? enter takes it; 2 again stays 2");
    assert_eq!(numbers(&scene), ["001"]);
    scene.keys("enter");
    assert_eq!(numbers(&scene), ["001", "002"]);
    scene
        .text("3 reverse")
        .keys("enter")
        .at("003, as the others are?");
    scene.keys("enter");
    assert_eq!(numbers(&scene), ["001", "002", "003"]);
    scene.text("4").keys("enter").text("4").keys("enter");
    assert_eq!(numbers(&scene), ["001", "002", "003", "4"]);
    // Now they are written in two ways, and nothing is asked.
    scene.text("5").keys("enter");
    assert_eq!(numbers(&scene).len(), 5);
}

#[test]
fn a_set_that_is_there_without_a_binder_gets_one_to_type_in() {
    let mut scene = Scene::demo((80, 24));
    let sets = collection(&scene).sets().len();
    scene.keys("end del");
    // The binder leaves, the set stays.
    scene.keys("b");
    let without = || {
        let collection = collection(&scene);
        let binders: Vec<_> = collection.shelf().map(|binder| binder.spec().set).collect();
        let mut sets = collection.sets();
        let found = sets.find(|(id, _)| !binders.contains(&Some(*id)));
        found
            .map(|(_, set)| set.code().to_owned())
            .expect("a set without a binder")
    };
    let code = without();
    let binders = collection(&scene).shelf().count();
    scene.keys("k").text(&code);
    scene.at("for the set that is there");
    scene.keys("enter");
    assert_eq!(scene.app.context(), Context::TypeIn, "{}", scene.picture());
    assert_eq!(collection(&scene).shelf().count(), binders + 1);
    assert_eq!(collection(&scene).sets().len(), sets);
}

#[test]
fn the_form_tells_what_enter_does_on_each_line() {
    let mut scene = empty((80, 24));
    scene.keys("s");
    scene.at("enter go on");
    scene.text("FEN").keys("tab tab tab tab").text("1 to 9");
    scene.at("enter begin the set");
    // Pages are chosen as all else, and typed where another is wanted.
    scene.keys("tab");
    scene.keys("right").at("3x4");
    scene.keys("left").at("3x3");
    scene.keys("left").at("Page           1");
    scene.text("4x5").at("4x5");
    scene.keys("enter");
    let binder = collection(&scene).binder_at(0).unwrap();
    assert_eq!(binder.pages()[0].format().pockets(), 40);
}

#[test]
fn of_very_many_cards_the_form_tells_how_many_and_makes_them_all_the_same() {
    let mut scene = empty((80, 24));
    scene
        .keys("s")
        .text("FEN")
        .keys("tab tab tab tab")
        .text("1 to 6000");
    scene.at("enter makes 6000 cards in a binder,");
    scene.keys("enter");
    assert_eq!(collection(&scene).shelf().count(), 1);
    scene
        .keys("esc s")
        .text("FEN")
        .keys("tab tab tab tab")
        .text("1 to 6000");
    scene.at("FEN");
    scene.at("already");
}

/// A slip of the finger is not a card; numbers without a figure there are all the same.
#[test]
fn a_number_without_a_figure_is_asked_about_before_it_becomes_a_card() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("enter");
    assert_eq!(scene.app.context(), Context::TypeIn);
    let cards = |scene: &Scene| {
        let collection = collection(scene);
        let set = collection.set_by_code("FEN").unwrap();
        collection.set(set).unwrap().cards().len()
    };
    scene.text("abc").keys("enter");
    scene.at("“abc” has no figure in it: a new card all the same? enter again takes it");
    assert_eq!(cards(&scene), 0);
    scene.keys("enter");
    assert_eq!(cards(&scene), 1);
    scene.text("12").keys("enter");
    assert_eq!(cards(&scene), 2);
}

#[test]
fn a_page_that_is_still_to_come_is_shown_empty_and_no_other_pocket_is_framed() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("tab tab tab tab");
    // Another page takes the place of the usual one.
    scene.text("2x1").keys("enter").text("1");
    scene.keys("enter enter enter enter");
    scene.at("Page 2 is not there yet");
    assert_eq!(scene.find("page 1 of 1"), None, "{}", scene.picture());
    assert_snapshot!("type_in_new_page_80x24", scene.picture());
    scene.keys("enter");
    assert_eq!(scene.find("is not there yet"), None);
}

#[test]
fn a_number_typed_in_again_tells_of_the_first() {
    let mut scene = empty((80, 24));
    scene.keys("k").text("FEN").keys("enter");
    scene.text("7").keys("enter").text("7").keys("enter");
    scene.at("7 again: the first lies in page 1, front, row 1, pocket 1");
}

#[test]
fn bad_rows_are_gone_through_and_those_left_out_are_told() {
    let dir = tempfile::tempdir().unwrap();
    let cards = dir.path().join("cards.csv");
    let bad = "FEN,,Nobody\n".repeat(40);
    std::fs::write(&cards, format!("set,number,name\nFEN,1,Heron\n{bad}")).unwrap();
    let mut scene = empty((80, 24));
    scene.keys("i").text(cards.to_str().unwrap()).keys("enter");
    scene.at("40 rows are bad");
    scene.at("pgdn: ");
    assert_eq!(scene.find("line 42"), None);
    scene.keys("pgdn pgdn pgdn pgdn pgdn pgdn pgdn pgdn pgdn");
    scene.at("pgup: the lines above");
    scene.keys("pgup tab tab tab right enter");
    scene.at("40 rows were bad and left out:");
    scene.at("line 3, ");
    // Here a letter is typed.
    assert_eq!(scene.find("takes it back"), None, "{}", scene.picture());
}

#[test]
fn a_file_that_is_none_is_refused_by_name() {
    let mut scene = empty((80, 24));
    scene.keys("i").text("/dev/null").keys("enter");
    scene.at("is no regular file");
    let mut scene = Scene::demo((80, 24));
    scene.keys("x").text("/dev/null").keys("enter");
    scene.at("is no regular file");
}

#[test]
fn the_ways_to_begin_stand_in_the_middle_of_a_large_screen() {
    for (width, height) in [(200, 60), (120, 40), (80, 24)] {
        let mut scene = empty((width, height));
        let (x, first) = scene.at("No binder stands here yet.");
        let (_, last) = scene.at("? tells what can be done");
        let (above, below) = (first, height - 2 - 1 - last);
        assert!(
            above.abs_diff(below) <= 3,
            "{above} above, {below} below at {height}"
        );
        assert!(x.abs_diff((width - 64) / 2) <= 1, "{x}");
        // What is drawn is what is clicked.
        let at = scene.at("A file");
        scene.click(at);
        assert_eq!(scene.app.context(), Context::Import);
    }
}

/// From the welcome: one key, the name, one enter, and the first card can be typed.
#[test]
fn who_begins_by_flipping_types_a_name_and_is_there() {
    let mut scene = empty((80, 24));
    scene.keys("k");
    scene.at("type what the set is called");
    // Nothing is begun without a name.
    scene.keys("enter");
    scene.at("Not yet: type what the set is called");
    assert_eq!(scene.app.context(), Context::Form);
    scene.text("Fen Lights");
    // The code comes from the name, and stands there to be changed.
    scene.at("LIGH");
    scene.at("enter opens an empty binder");
    assert_snapshot!("flip_form_80x24", scene.picture());
    scene.keys("enter");
    assert_eq!(scene.app.context(), Context::TypeIn);
    scene.text("1").keys("enter");
    let set = collection(&scene).set_by_code("LIGH").unwrap();
    let set = collection(&scene).set(set).unwrap();
    assert_eq!((set.title(), set.cards().len()), ("Fen Lights", 1));
    // A further one by another code, with all the rest within reach.
    let mut scene = empty((80, 24));
    scene.keys("k").text("Fen Lights").keys("tab").text("LUX");
    scene.keys("shift-tab").text(" II");
    scene.keys("tab tab tab tab").text("2x2").keys("enter");
    assert_eq!(scene.app.context(), Context::TypeIn);
    let collection = collection(&scene);
    let set = collection
        .set(collection.set_by_code("LUX").unwrap())
        .unwrap();
    assert_eq!(set.title(), "Fen Lights II");
    let binder = collection.binder_at(0).unwrap();
    assert_eq!(binder.pages()[0].format().pockets(), 8);
}

#[test]
fn the_form_to_flip_by_is_whole_on_small_screens_too() {
    for size in [(40, 12), (24, 6)] {
        let mut scene = empty(size);
        scene.keys("k").text("Fen").keys("enter");
        assert_eq!(scene.app.context(), Context::TypeIn, "{size:?}");
    }
}
