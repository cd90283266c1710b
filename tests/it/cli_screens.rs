//! What the screens tell, as plain lines: the shelf, a card that is looked for, the drafts.
//!
//! What is promised here is this program's own: no outside source.

use serde_json::json;

use crate::support::Table;

#[test]
fn the_shelf_is_told_binder_by_binder() {
    let table = Table::with_fen();
    table.file("own.csv", "set,number\nFEN,1\n");
    table.ok(&["import", "copies", "own.csv", "--in-place"]);
    let told = table.ok(&["shelf"]);
    assert!(
        told.starts_with("1 binder, from left to right; 1 of 5 in place (20 %), 4 gaps:\n"),
        "{told}"
    );
    let answer = table.json(&["shelf", "--json"]);
    assert_eq!(answer["format"], "ringbound-shelf");
    let binder = &answer["binders"][0];
    assert_eq!(binder["binder"], "FEN");
    let figures = [&binder["in_place"], &binder["meant"], &binder["gaps"]];
    assert_eq!(figures, [&json!(1), &json!(5), &json!(4)]);
}

/// A page of one pocket for each card: more than stand there yet.
#[test]
fn pages_that_stand_and_pages_of_the_layout_are_told_apart_in_one_word_each() {
    let table = Table::with_fen();
    table.file("rules.txt", "Cards: page 1 one-sided\n");
    let draft = [
        "layout",
        "draft",
        "FEN",
        "--rules",
        "rules.txt",
        "--name",
        "single",
    ];
    table.ok(&draft);
    let stand = table.json(&["find", "fen", "--json"])["binders"][0]["pages"].clone();
    let answer = table.json(&["shelf", "--json"]);
    let of = |answer: &serde_json::Value| {
        let binder = &answer["binders"][0];
        (binder["pages"].clone(), binder["layout_pages"].clone())
    };
    assert_eq!(of(&answer), (stand.clone(), stand.clone()));
    table.ok(&["drafts", "FEN", "--adopt", "single"]);
    let (pages, layout) = of(&table.json(&["shelf", "--json"]));
    assert_eq!(pages, stand);
    assert!(layout.as_u64() > pages.as_u64(), "{layout} {pages}");
    let told = table.ok(&["shelf"]);
    assert!(told.contains("in layout"), "{told}");
}

#[test]
fn a_card_is_found_by_number_and_by_name_with_its_pocket() {
    let table = Table::with_fen();
    let told = table.ok(&["find", "12a"]);
    assert!(told.contains("FEN 12a"), "{told}");
    assert!(told.contains("no copy; FEN, page 2, front"), "{told}");
    let answer = table.json(&["find", "reed", "--json"]);
    assert_eq!(answer["format"], "ringbound-find");
    let first = &answer["found"][0];
    assert_eq!((&first["number"], &first["page"]), (&json!("2"), &json!(1)));

    let of = |query: &str| -> Vec<(String, String)> {
        let found = table.json(&["find", query, "--json"])["found"].clone();
        let found: Vec<serde_json::Value> = serde_json::from_value(found).unwrap();
        let words = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
        (found.iter())
            .map(|f| (words(&f["number"]), words(&f["finish"])))
            .collect()
    };
    // A binder is found by its title, or by the code of its set.
    let told = table.ok(&["find", "fen"]);
    assert!(told.starts_with("The Fen: the binder FEN, "), "{told}");
    let answer = table.json(&["find", "fen", "--json"]);
    assert_eq!(answer["binders"][0]["binder"], "FEN");
    // As on the screen, a finish may be named too.
    assert_eq!(of("heron rev"), [("12a".to_owned(), "reverse".to_owned())]);
}

#[test]
fn drafts_are_told_with_their_costs_and_one_is_put_in_force_and_back() {
    let table = Table::with_fen();
    let told = table.ok(&["drafts", "FEN"]);
    assert!(told.contains("No draft yet"), "{told}");
    table.ok(&[
        "layout",
        "draft",
        "FEN",
        "--template",
        "Regulars",
        "--name",
        "autumn",
    ]);
    let answer = table.json(&["drafts", "FEN", "--json"]);
    assert_eq!(answer["format"], "ringbound-drafts");
    assert_eq!(answer["drafts"][0]["draft"], "autumn");
    assert_eq!(answer["in_force"]["lifts"], 0);
    let told = table.ok(&["drafts", "FEN", "--adopt", "autumn"]);
    assert!(told.starts_with("autumn is in force."), "{told}");
    assert_eq!(
        table.json(&["drafts", "FEN", "--json"])["drafts"],
        json!([])
    );
    table.ok(&["undo"]);
    let back = table.json(&["drafts", "FEN", "--json"]);
    assert_eq!(back["drafts"][0]["draft"], "autumn");
}
