//! `ringbound plan`: the contract of its JSON, the sheet on paper, and bad files.

use std::collections::HashMap;

use insta::assert_snapshot;
use ringbound::hand::{Ground, begin_draft, move_pages};
use ringbound::session::{Open, Session};
use serde_json::{Value, json};

use crate::support::Table;

/// Binders as a program outside would keep them, and the steps done on them one by one, by the
/// words of the contract alone. Anything that cannot be done fails.
struct Shelf {
    order: HashMap<String, Vec<String>>,
    moves: HashMap<String, bool>,
    pages: HashMap<String, Value>,
    loose: Vec<String>,
}

impl Shelf {
    fn new(arrangement: &Value) -> Self {
        let mut shelf = Self {
            order: HashMap::new(),
            moves: HashMap::new(),
            pages: HashMap::new(),
            loose: Vec::new(),
        };
        for binder in arrangement["binders"].as_array().unwrap() {
            let id = text(&binder["id"]);
            let pages = binder["pages"].as_array().unwrap();
            for page in pages {
                shelf.pages.insert(text(&page["id"]), page.clone());
            }
            let order = pages.iter().map(|page| text(&page["id"])).collect();
            shelf.order.insert(id.clone(), order);
            let moves = binder["pages_move"].as_bool().unwrap();
            shelf.moves.insert(id, moves);
        }
        let loose = arrangement["loose"].as_array().into_iter().flatten();
        shelf.loose = loose.map(text).collect();
        shelf
    }

    fn pocket(&mut self, step: &Value) -> &mut Value {
        let page = text(&step["page"]);
        assert!(self.order[&text(&step["binder"])].contains(&page), "{step}");
        let at = |key: &str| usize::try_from(step[key].as_u64().unwrap()).unwrap() - 1;
        let side = step["side"].as_str().unwrap();
        &mut self.pages.get_mut(&page).unwrap()[side][at("row")][at("column")]
    }

    fn take(&mut self, step: &Value) -> String {
        let page = text(&step["page"]);
        let from = text(&step["binder"]);
        assert!(self.moves[&from], "{step}");
        let order = self.order.get_mut(&from).unwrap();
        let at = order.iter().position(|other| *other == page);
        order.remove(at.unwrap())
    }

    fn put(&mut self, binder: &Value, to: &Value, page: String) {
        assert!(self.moves[&text(binder)]);
        let at = usize::try_from(to.as_u64().unwrap()).unwrap() - 1;
        self.order.get_mut(&text(binder)).unwrap().insert(at, page);
    }

    fn step(&mut self, step: &Value) {
        let card = || text(&step["printing"]);
        match step["do"].as_str().unwrap() {
            "lift" => {
                let held = self.pocket(step).take();
                assert_eq!(held, card(), "{step}");
                self.loose.push(card());
            }
            "seat" => {
                let at = self.loose.iter().position(|other| *other == card());
                self.loose.remove(at.unwrap());
                let pocket = self.pocket(step);
                assert!(pocket.is_null(), "{step}");
                *pocket = card().into();
            }
            "move_page" => {
                let page = self.take(step);
                self.put(&step["to_binder"], &step["to"], page);
            }
            "add_page" => {
                let row = vec![Value::Null; step["columns"].as_u64().unwrap() as usize];
                let side = json!(vec![row; step["rows"].as_u64().unwrap() as usize]);
                let mut page = json!({
                    "id": step["page"], "rows": step["rows"], "columns": step["columns"],
                    "shared_pockets": step["shared_pockets"], "front": side,
                });
                if step["sides"] == 2 {
                    page["back"] = side;
                }
                let id = text(&step["page"]);
                assert!(self.pages.insert(id.clone(), page).is_none(), "{step}");
                self.put(&step["binder"], &step["to"], id);
            }
            "remove_page" => {
                let page = self.take(step);
                let page = self.pages.remove(&page).unwrap();
                let text = format!("{}{}", page["front"], page["back"]);
                assert!(!text.contains('"'), "{step}: the page is not empty");
            }
            other => panic!("{other}"),
        }
    }

    fn arrangement(&self, like: &Value) -> Value {
        let binders = like["binders"].as_array().unwrap().iter().map(|binder| {
            let id = text(&binder["id"]);
            let pages: Vec<_> = self.order[&id]
                .iter()
                .map(|page| &self.pages[page])
                .collect();
            json!({"id": id, "pages_move": self.moves[&id], "pages": pages})
        });
        json!({
            "format": "ringbound-arrangement", "version": 1,
            "binders": binders.collect::<Vec<_>>(), "loose": self.loose,
        })
    }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}

/// Pages alone: what lies in them, and of which kind they are.
fn without_ids(arrangement: &Value) -> Value {
    let binders = arrangement["binders"].as_array().unwrap().iter();
    let pages = binders.map(|binder| {
        let pages = binder["pages"].as_array().unwrap().iter();
        let pages = pages.map(|page| json!([page["front"], page["back"]]));
        json!([binder["id"], pages.collect::<Vec<_>>()])
    });
    pages.collect()
}

/// Three kinds of pages, one with shared pockets; copies; a card that leaves, one that is
/// missing, loose ones that wait; a page to add, one to take out, one for the other binder.
fn before() -> Value {
    json!({"format": "ringbound-arrangement", "version": 1, "binders": [
        {"id": "b1", "pages_move": true, "pages": [
            {"id": "p1", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["7", null], ["8", "9"]], "back": [["10", null], [null, null]]},
            {"id": "p2", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["1", "2"], ["3", "4"]], "back": [["5", "6"], [null, "11"]]},
            {"id": "p3", "rows": 1, "columns": 2, "shared_pockets": false,
             "front": [["20", "21"]]},
            {"id": "p4", "rows": 1, "columns": 2, "shared_pockets": true,
             "front": [["30", "31"]], "back": [["32", "33"]]}]},
        {"id": "b2", "pages_move": true, "pages": [
            {"id": "q1", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["40", "41"], ["42", "42"]], "back": [["44", "44"], ["42", null]]}]},
        {"id": "b3", "pages_move": false, "pages": [
            {"id": "r1", "rows": 1, "columns": 3, "shared_pockets": false,
             "front": [["51", "50", "5"]]}]}],
     "loose": ["12", "12", "5"]})
}

fn after() -> Value {
    json!({"format": "ringbound-arrangement", "version": 1, "binders": [
        {"id": "b1", "pages_move": true, "pages": [
            {"id": "s", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["1", "2"], ["3", "4"]], "back": [["6", "5"], ["7", "12"]]},
            {"id": "t", "rows": 1, "columns": 2, "shared_pockets": true,
             "front": [["31", "30"]], "back": [["32", "20"]]},
            {"id": "u", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["12", "21"], [null, null]], "back": [[null, null], [null, null]]}]},
        {"id": "b2", "pages_move": true, "pages": [
            {"id": "v", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["41", "40"], ["44", "44"]], "back": [["42", "42"], ["42", null]]},
            {"id": "w", "rows": 2, "columns": 2, "shared_pockets": false,
             "front": [["13", null], ["8", "9"]], "back": [["10", null], [null, "33"]]}]},
        {"id": "b3", "pages_move": false, "pages": [
            {"id": "x", "rows": 1, "columns": 3, "shared_pockets": false,
             "front": [["50", "51", null]]}]}]})
}

fn with_files() -> Table {
    let table = Table::new();
    table.file("before.json", before().to_string());
    table.file("after.json", after().to_string());
    table
}

/// Done by the words of the contract, the steps lead from one file to the other; after every deed
/// the plan of the files as they are then is the rest of the plan.
#[test]
fn the_steps_lead_from_one_file_to_the_other_and_can_be_taken_up_again() {
    let table = with_files();
    for (working, pages_stay) in [
        ("two-passes", false),
        ("hand-to-hand", false),
        ("two-passes", true),
        ("hand-to-hand", true),
    ] {
        let ask = |file: &str| {
            let mut words = vec!["plan", file, "after.json", "--working", working, "--json"];
            words.extend(pages_stay.then_some("--pages-stay"));
            table.json(&words)
        };
        let plan = ask("before.json");
        assert_eq!(plan["page_moves"] == 0, pages_stay);
        let mut shelf = Shelf::new(&before());
        let steps = plan["steps"].as_array().unwrap();
        let gap = json!([{"binder": "b2", "page": 2, "side": "front", "row": 1, "column": 1,
                          "printing": "13"}]);
        assert_eq!(plan["unfilled"], gap);
        assert_eq!(plan["working"], working);
        for (done, step) in (1..).zip(steps) {
            shelf.step(step);
            let next = steps.get(done);
            let goes_on = working == "hand-to-hand"
                && step["do"] == "lift"
                && next.is_some_and(|next| {
                    next["do"] == "seat" && next["printing"] == step["printing"]
                });
            if !goes_on {
                table.file("now.json", shelf.arrangement(&before()).to_string());
                assert_eq!(ask("now.json")["steps"], json!(steps[done..]));
            }
        }
        let mut meant = after();
        meant["binders"][1]["pages"][1]["front"][0][0] = Value::Null;
        let reached = shelf.arrangement(&before());
        assert_eq!(without_ids(&reached), without_ids(&meant));
        let mut left = shelf.loose.clone();
        left.sort();
        assert_eq!(left, ["11", "5", "5"]);
        assert_eq!(plan, ask("before.json"), "the same every time");
    }
}

#[test]
fn the_answer_is_one_document_with_all_figures() {
    let table = with_files();
    let plan = table.json(&["plan", "before.json", "after.json", "--json"]);
    let figures: Vec<_> = [
        "format",
        "version",
        "lifts",
        "page_moves",
        "pages_added",
        "pages_removed",
        "extra_touches",
        "handlings",
        "most_cards_aside",
        "page_moves_proven_least",
    ]
    .into_iter()
    .map(|key| format!("{key} {}", plan[key]))
    .collect();
    assert_snapshot!(figures.join("\n"), @r#"
    format "ringbound-plan"
    version 1
    lifts 18
    page_moves 1
    pages_added 1
    pages_removed 1
    extra_touches 0
    handlings 36
    most_cards_aside 16
    page_moves_proven_least true
    "#);
}

#[test]
fn the_sheet_on_paper_tells_everything_without_the_program() {
    let table = with_files();
    assert_snapshot!(
        "plan_two_passes",
        table.run(&["plan", "before.json", "after.json"])
    );
    let args = [
        "plan",
        "before.json",
        "after.json",
        "--working",
        "hand-to-hand",
    ];
    assert_snapshot!("plan_hand_to_hand", table.run(&args));
}

#[test]
fn where_nothing_is_to_be_done_that_is_told() {
    let table = with_files();
    assert_snapshot!(table.run(&["plan", "before.json", "before.json"]), @r"
    Work sheet: from before.json to before.json

    Nothing is to be done: what can be in its pocket is.
    -- exit 0 --
    ");
}

/// Bad files are told with line and column and what would be right, and exit 3.
#[test]
fn bad_arrangements_are_told_exactly() {
    let table = with_files();
    let page = r#"{"id":"p","rows":1,"columns":2,"shared_pockets":false,"front":[["1",null]]}"#;
    let with = |pages: &str| {
        format!(
            "{{\"format\":\"ringbound-arrangement\",\"version\":1,\"binders\":[\n\
             {{\"id\":\"b1\",\"pages_move\":true,\"pages\":[\n{pages}]}}]}}"
        )
    };
    let bad: Vec<(&str, String)> = vec![
        ("cut off", with(page)[..60].into()),
        ("not JSON", "set,number\n1,2\n".into()),
        ("empty", String::new()),
        ("a list", "[]".into()),
        ("more after the end", with(page) + "x"),
        (
            "another format",
            with(page).replace("ringbound-arrangement", "ringbound-plan"),
        ),
        (
            "a later version",
            with(page).replace("\"version\":1", "\"version\":2"),
        ),
        (
            "version as text",
            with(page).replace("\"version\":1", "\"version\":\"1\""),
        ),
        ("no version", with(page).replace("\"version\":1,", "")),
        ("a page twice", with(&format!("{page},\n{page}"))),
        (
            "a key twice",
            with(&page.replace("\"rows\":1", "\"rows\":1,\"rows\":1")),
        ),
        ("no rows", with(&page.replace("\"rows\":1,", ""))),
        (
            "rows as text",
            with(&page.replace("\"rows\":1", "\"rows\":\"1\"")),
        ),
        ("no row", with(&page.replace("\"rows\":1", "\"rows\":0"))),
        (
            "a million pockets",
            with(&page.replace("\"rows\":1", "\"rows\":1000")),
        ),
        (
            "another number of rows",
            with(&page.replace("\"rows\":1", "\"rows\":2")),
        ),
        (
            "a ragged row",
            with(&page.replace("[\"1\",null]", "[\"1\"]")),
        ),
        (
            "two cards in a pocket",
            with(&page.replace("\"1\",null", "[\"1\",\"2\"],null")),
        ),
        (
            "a number for a card",
            with(&page.replace("\"1\",null", "1,null")),
        ),
        (
            "a card without a name",
            with(&page.replace("\"1\",null", "\"\",null")),
        ),
        (
            "sharing without a back",
            with(&page.replace("false", "true")),
        ),
        ("a binder twice", {
            let binder = r#"{"id":"b","pages_move":true,"pages":[]}"#;
            format!(
                "{{\"format\":\"ringbound-arrangement\",\"version\":1,\"binders\":[{binder},{binder}]}}"
            )
        }),
        (
            "pages_move is no word",
            with(page).replace("true", "\"yes\""),
        ),
        ("null among the loose", {
            let whole = with(page);
            format!("{},\"loose\":[null]}}", whole.strip_suffix('}').unwrap())
        }),
    ];
    let mut told = String::new();
    for (name, text) in bad {
        table.file("bad.json", text);
        for args in [
            ["plan", "bad.json", "after.json"],
            ["plan", "before.json", "bad.json"],
        ] {
            let output = table.output(&args);
            assert_eq!(output.status.code(), Some(3), "{name}");
            assert!(output.stdout.is_empty(), "{name}");
            let words = String::from_utf8(output.stderr).unwrap();
            if args[1] == "bad.json" {
                told.push_str(&format!("{name}: {words}"));
            }
        }
    }
    table.file("bad.json", b"{\"format\":\"\xff\"}");
    told.push_str(&format!(
        "not text: {}",
        table.run(&["plan", "bad.json", "after.json"])
    ));
    assert_snapshot!("plan_bad_files", told);
}

#[test]
fn more_pockets_than_can_be_planned_are_refused() {
    let table = with_files();
    let row = vec![Value::Null; 20];
    let side = json!(vec![row; 20]);
    let pages: Vec<Value> = (0..1_250)
        .map(|at| {
            json!({"id": at.to_string(), "rows": 20, "columns": 20, "shared_pockets": false,
                   "front": side, "back": side})
        })
        .collect();
    let binder = json!({"id": "b", "pages_move": true, "pages": pages});
    let many = json!({"format": "ringbound-arrangement", "version": 1, "binders": [binder]});
    table.file("many.json", many.to_string());
    let told = table.run(&["plan", "many.json", "after.json"]);
    assert!(told.contains("more than 400000 pockets"), "{told}");
    assert!(told.ends_with("-- exit 3 --"), "{told}");
}

#[test]
fn fixed_pages_that_would_have_to_change_are_refused() {
    let table = with_files();
    let mut told = String::new();
    let mut refuse = |name: &str, meant: Value| {
        table.file("meant.json", serde_json::to_string_pretty(&meant).unwrap());
        let answer = table.run(&["plan", "before.json", "meant.json"]);
        told.push_str(&format!("{name}: {answer}\n"));
    };
    let mut meant = after();
    meant["binders"][2]["pages"] = json!([]);
    refuse("fewer pages", meant);
    let mut meant = after();
    meant["binders"][2]["pages"][0]["columns"] = 1.into();
    meant["binders"][2]["pages"][0]["front"] = json!([["50"]]);
    refuse("another kind of page", meant);
    let mut meant = after();
    meant["binders"][2]["pages_move"] = true.into();
    refuse("pages that move now", meant);
    let mut meant = after();
    meant["binders"].as_array_mut().unwrap().pop();
    refuse("the binder is gone", meant);
    let mut meant = after();
    meant["binders"][2]["id"] = "b4".into();
    refuse("another binder", meant);
    assert_snapshot!("plan_fixed_pages", told);
}

#[test]
fn what_is_not_known_is_left_out_and_told() {
    let table = with_files();
    let mut meant = after();
    meant["made_by"] = "hand".into();
    table.file("meant.json", meant.to_string());
    let plain = table.json(&["plan", "before.json", "after.json", "--json"]);
    let noted = table.json_told(&["plan", "before.json", "meant.json", "--json"]);
    assert_eq!(plain, noted);
    let output = table.output(&["plan", "before.json", "meant.json", "--json"]);
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.contains("made_by"), "{told}");
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn one_of_the_files_can_come_from_standard_input() {
    let table = with_files();
    let text = after().to_string();
    let from_file = table.run(&["plan", "before.json", "after.json", "--json"]);
    let piped = table.run_with_input(&["plan", "before.json", "-", "--json"], text.as_bytes());
    assert_eq!(from_file, piped);
    assert_eq!(table.exit(&["plan", "-", "-"]), 2);
    assert_eq!(table.exit(&["plan", "none.json", "after.json"]), 3);
}

/// A draft of the first binder with its last page in front.
fn with_draft(table: &Table) {
    let clock = Box::new(|| "2026-01-01T00:00:00Z".to_owned());
    let (mut session, _) = Session::open(&table.shelf(), Open::ForWriting, clock).unwrap();
    let binder = session.collection().binder_at(0).unwrap().id();
    let begun = begin_draft(session.collection(), binder, "Turned", false).unwrap();
    session.commit(begun).unwrap();
    let ground = Ground {
        binder,
        draft: Some(0),
    };
    let last = ground.layout(session.collection()).unwrap().pages.len() - 1;
    let moved = move_pages(session.collection(), ground, last..last + 1, 0).unwrap();
    session.commit(moved.step).unwrap();
    session.close().unwrap();
}

/// On the collection: loose copies that wait and cards that lie wrong come home.
#[test]
fn a_binder_is_brought_to_its_layout() {
    let table = Table::with_fen();
    table.file("c.csv", "set,number,finish,count\nFEN,1,regular,1\n");
    table.ok(&["import", "copies", "c.csv", "--in-place"]);
    table.file(
        "d.csv",
        "set,number,finish,count\nFEN,12a,regular,2\nFEN,2,regular,1\n",
    );
    table.ok(&["import", "copies", "d.csv"]);
    assert_snapshot!("plan_collection_paper", table.run(&["plan", "FEN"]));
    assert_snapshot!("plan_collection_json", table.run(&["plan", "--json"]));
    with_draft(&table);
    let draft = table.json(&["plan", "FEN", "--draft", "Turned", "--json"]);
    let real = table.json(&["plan", "FEN", "--json"]);
    assert_eq!(
        (&draft["page_moves"], &real["page_moves"]),
        (&json!(1), &json!(0))
    );
    assert_eq!(draft["lifts"], real["lifts"]);
    let title = table.run(&["plan", "fen", "--draft", "Turned"]);
    assert!(
        title.contains("Work sheet: binder FEN, draft Turned"),
        "{title}"
    );
    assert_snapshot!(
        "plan_no_draft",
        table.run(&["plan", "FEN", "--draft", "Tuned"])
    );
    assert_eq!(table.exit(&["plan", "--draft", "Turned"]), 2);
    assert_snapshot!("plan_collection_no_binder", table.run(&["plan", "FEM"]));
    assert_eq!(table.exit(&["plan", "fen", "--working", "side-by-side"]), 2);
}
