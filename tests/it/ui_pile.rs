//! Entering a pile of cards.

use crossterm::event::Event;
use insta::assert_snapshot;
use ringbound::model::PrintingId;

use crate::scene::Scene;

fn printing(scene: &Scene, code: &str, number: &str, finish: u8) -> PrintingId {
    let collection = scene.app.session().collection();
    let set = collection.set_by_code(code).unwrap();
    let card = collection.set(set).unwrap().card_by_number(number).unwrap();
    PrintingId::new(set, card, finish)
}

fn copies(scene: &Scene, code: &str, number: &str, finish: u8) -> u32 {
    let printing = printing(scene, code, number, finish);
    scene.app.session().collection().tally(printing).copies()
}

#[test]
fn a_number_and_enter_bring_a_card_in_and_the_answer_stands_at_once() {
    let mut scene = Scene::demo((100, 30));
    scene
        .keys("e")
        .text("moss")
        .keys("enter")
        .text("12a")
        .keys("enter");
    scene.at("12a Moss Owl, Asleep: fills a gap: Moss Hall, page 1, back, row 2, pocket 1");
    scene.text("7 r").keys("enter");
    scene.at("7 Bracken Hare, reverse: spare, you have 2");
    scene.text("7 x3").keys("enter");
    scene.at("7 Bracken Hare x3: spare, you have 4");
    scene.text("14 x3").keys("enter");
    scene
        .at("14 Hazel Warden x3: fills a gap: Moss Hall, page 1, back, row 2, pocket 3; 2 of them");
    scene.at("this page is complete; 7 more finish regular: 20, 25, 38");
    assert_eq!(copies(&scene, "MOSS", "7", 0), 4);
    assert_snapshot!("pile_100x30", scene.picture());
}

#[test]
fn a_wrong_number_is_told_with_the_nearest_and_nothing_is_taken() {
    let mut scene = Scene::demo((100, 30));
    let before = scene.app.session().revision();
    scene
        .keys("e")
        .text("moss")
        .keys("enter")
        .text("999")
        .keys("enter");
    scene.at("There is no “999” in MOSS");
    assert_eq!(scene.app.session().revision(), before);
}

#[test]
fn the_last_entry_is_corrected_with_arrow_or_backspace() {
    for key in ["up", "backspace"] {
        let mut scene = Scene::demo((100, 30));
        let (seven, eight) = (
            copies(&scene, "MOSS", "7", 0),
            copies(&scene, "MOSS", "8", 0),
        );
        scene
            .keys("e")
            .text("moss")
            .keys("enter")
            .text("7")
            .keys("enter")
            .keys(key);
        assert_eq!(copies(&scene, "MOSS", "7", 0), seven);
        scene.keys("backspace").text("8").keys("enter");
        assert_eq!(copies(&scene, "MOSS", "7", 0), seven, "{key}");
        assert_eq!(copies(&scene, "MOSS", "8", 0), eight + 1, "{key}");
    }
}

#[test]
fn another_set_is_chosen_by_symbol_code_number_or_title() {
    for words in ["KITE", "✤", "8", "kite wea"] {
        let mut scene = Scene::demo((100, 30));
        scene
            .keys("e")
            .text("moss")
            .keys("enter tab")
            .text(words)
            .keys("enter")
            .text("3");
        scene.keys("enter");
        let kite = copies(&scene, "KITE", "3", 0);
        let again = Scene::demo((100, 30));
        assert_eq!(
            kite,
            copies(&again, "KITE", "3", 0) + 1,
            "{words}:\n{}",
            scene.picture()
        );
    }
}

#[test]
fn a_pasted_list_is_taken_line_by_line_as_one_step() {
    let mut scene = Scene::demo((120, 30));
    scene.keys("e").text("moss").keys("enter");
    let before = scene.app.session().revision();
    let list = "7\n8 r\nnonsense\n9 x2\n";
    scene.event(&Event::Paste(list.into()));
    scene.at("3 lines taken. Line 3 “nonsense”");
    assert_eq!(scene.app.session().revision(), before + 1);
}

#[test]
fn closing_in_the_middle_keeps_what_was_entered() {
    let mut scene = Scene::demo((100, 30));
    let before = copies(&scene, "MOSS", "7", 0);
    scene
        .keys("e")
        .text("moss")
        .keys("enter")
        .text("7")
        .keys("enter")
        .text("8")
        .keys("esc");
    scene.at("The shelf");
    assert_eq!(copies(&scene, "MOSS", "7", 0), before + 1);
}

#[test]
fn a_wrong_number_does_not_run_into_the_next() {
    let mut scene = Scene::demo((100, 30));
    let before = copies(&scene, "MOSS", "7", 0);
    scene
        .keys("e")
        .text("moss")
        .keys("enter")
        .text("999")
        .keys("enter")
        .text("7")
        .keys("enter");
    assert_eq!(copies(&scene, "MOSS", "7", 0), before + 1);
}

#[test]
fn correcting_an_entry_of_another_set_goes_back_to_that_set() {
    let mut scene = Scene::demo((100, 30));
    let (kite, wood) = (
        copies(&scene, "KITE", "5", 0),
        copies(&scene, "WOOD", "5", 0),
    );
    scene
        .keys("e")
        .text("kite")
        .keys("enter")
        .text("5")
        .keys("enter tab")
        .text("wood");
    scene.keys("enter up enter");
    assert_eq!(copies(&scene, "KITE", "5", 0), kite + 1);
    assert_eq!(copies(&scene, "WOOD", "5", 0), wood);
}

#[test]
fn after_the_name_of_no_set_a_number_goes_into_none() {
    let mut scene = Scene::demo((100, 30));
    // All sets are there to choose from at the beginning.
    scene.keys("e");
    scene.at("KITE");
    scene
        .text("moss")
        .keys("enter tab")
        .text("nowhere")
        .keys("enter");
    scene.at("No set has that name");
    let before = scene.app.session().revision();
    scene.text("7").keys("enter");
    assert_eq!(scene.app.session().revision(), before);
    scene.text("kite").keys("enter").text("3").keys("enter");
    assert_eq!(scene.app.session().revision(), before + 1);
}

#[test]
fn how_far_the_set_is_stands_there_whole_at_the_usual_size() {
    let mut scene = Scene::demo((80, 24));
    scene
        .keys("e")
        .text("wood")
        .keys("enter")
        .text("12")
        .keys("enter");
    let collection = scene.app.session().collection();
    let set = collection.set_by_code("WOOD").unwrap();
    let told = ringbound::report::completion(collection, Some(set));
    for (finish, counts) in &told[0].by_finish {
        scene.at(&format!("{finish} {}/{}", counts.held, counts.total));
    }
    for (rarity, counts) in &told[0].by_rarity {
        scene.at(&format!("{rarity} {}/{}", counts.held, counts.total));
    }
    assert_snapshot!("pile_80x24", scene.picture());
}

#[test]
fn the_prompt_names_the_set_and_cards_of_another_carry_its_code() {
    let mut scene = Scene::demo((100, 30));
    scene.keys("e").text("moss").keys("enter");
    scene.at("MOSS card: ");
    scene.text("wood 1").keys("enter");
    scene.at("MOSS card: ");
    scene.at("WOOD 1 Acorn Warden: ");
    // The list of steps is one for all sets.
    let last = scene.app.session().done().next().unwrap();
    assert_eq!(last.label, "WOOD 1 Acorn Warden came in");
}
