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
    scene.at("3 lines taken, 1 not taken");
    scene.at("line 3 “nonsense”: there is no “nonsense” in MOSS");
    assert_eq!(scene.app.session().revision(), before + 1);
}

#[test]
fn a_list_that_names_its_sets_is_taken_before_one_is_chosen() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("e").at("Set:");
    let counts = |scene: &Scene| [copies(scene, "MOSS", "7", 0), copies(scene, "WOOD", "3", 0)];
    let before = counts(&scene);
    scene.event(&Event::Paste("MOSS 7\nWOOD 3\n44\n".into()));
    scene.at("2 lines taken, 1 not taken");
    assert_eq!(counts(&scene), before.map(|count| count + 1));
    scene.keys("up");
    assert_eq!(counts(&scene), before);
}

#[test]
fn a_pasted_list_is_taken_back_as_a_whole_and_then_what_was_entered_before_it() {
    let mut scene = Scene::demo((120, 30));
    let numbers = ["5", "7", "8", "9"];
    let all = |scene: &Scene| numbers.map(|number| copies(scene, "MOSS", number, 0));
    let before = all(&scene);
    scene
        .keys("e")
        .text("moss")
        .keys("enter")
        .text("5")
        .keys("enter");
    let with_five = all(&scene);
    scene.event(&Event::Paste("7\n8 x2\nnonsense\n9\n".into()));
    scene.at("5 cards entered");
    scene
        .keys("up")
        .at("The pasted list is taken back: 4 cards of a pile: MOSS 7");
    scene.at("1 card entered");
    assert!(scene.find("nonsense").is_none(), "{}", scene.picture());
    assert_eq!(all(&scene), with_five);
    scene.keys("up").at("taken back: correct it, then enter");
    assert_eq!(all(&scene), before);
    scene
        .keys("backspace up")
        .at("Nothing was entered here yet");
}

#[test]
fn every_line_of_a_pasted_list_that_is_not_taken_can_be_read_while_one_types() {
    for size in [(80, 24), (120, 40), (40, 12)] {
        let mut scene = Scene::demo(size);
        scene.keys("e").text("moss").keys("enter");
        let bad = ["foo", "4711", "bar", "P99", "baz"];
        let list = format!("7\n{}\n8", bad.join("\n"));
        scene.event(&Event::Paste(list));
        let mut seen = String::new();
        for key in ["7"].into_iter().chain(["pgdn"; 14]) {
            seen += &scene.keys(key).picture();
        }
        for word in bad {
            assert!(
                seen.contains(&format!("“{word}”")),
                "{word} at {size:?}:\n{seen}"
            );
        }
        scene
            .keys("enter pgup pgup pgup pgup pgup pgup pgup pgup pgup pgup pgup pgup pgup")
            .at("“foo”");
        scene.event(&Event::Paste("8\n7\n".into()));
        assert!(scene.find("“foo”").is_none(), "{}", scene.picture());
    }
}

#[test]
fn a_set_alone_on_the_line_is_the_set_of_the_next_cards() {
    for words in ["KITE", "kite", "Kite weather"] {
        let mut scene = Scene::demo((100, 30));
        let before = copies(&scene, "KITE", "5", 0);
        scene
            .keys("e")
            .text("moss")
            .keys("enter")
            .text(words)
            .keys("enter");
        scene.at("KITE card:");
        scene.at("come next");
        scene.text("5").keys("enter");
        assert_eq!(copies(&scene, "KITE", "5", 0), before + 1, "{words}");
    }
}

#[test]
fn what_was_done_names_cards_of_a_pasted_list() {
    let mut scene = Scene::demo((120, 30));
    scene.keys("e").text("moss").keys("enter");
    scene.event(&Event::Paste("7\n8 x2\n9\n12\n14\n".into()));
    scene.keys("esc h").at("6 cards of a pile: MOSS 7");
    scene.at("and 2 further lines");
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
