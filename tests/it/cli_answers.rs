//! What each command answers. Names and order of the fields are the contract that scripts and
//! spreadsheets rely on; positions count from 1.

use insta::assert_snapshot;
use serde_json::json;

use crate::support::Table;

/// One copy in place, one waiting, one spare, and gaps.
fn some_copies() -> Table {
    let table = Table::with_fen();
    table.file("in-place.csv", "set,number\nFEN,1\n");
    table.ok(&["import", "copies", "in-place.csv", "--in-place"]);
    table.file("loose.csv", "set,number,finish\nFEN,1,\nFEN,12a,reverse\n");
    table.ok(&["import", "copies", "loose.csv"]);
    table
}

#[test]
fn completion_is_told_as_the_contract_says() {
    let counts = |held, in_place, total| move |key: &str, name: &str| json!({key: name, "held": held, "in_place": in_place, "total": total});
    assert_eq!(
        some_copies().json(&["completion", "--json"]),
        json!({
            "format": "ringbound-completion",
            "version": 1,
            "sets": [{
                "set": "FEN", "held": 2, "in_place": 1, "total": 5,
                "by_finish": [
                    counts(1, 1, 3)("finish", "regular"),
                    counts(1, 0, 2)("finish", "reverse"),
                ],
                "by_rarity": [
                    counts(1, 1, 3)("rarity", "common"),
                    counts(1, 0, 2)("rarity", "rare"),
                ],
            }],
        })
    );
}

#[test]
fn gaps_are_told_as_the_contract_says() {
    let gap = |number: &str, finish: &str, name: &str, page: u32, row: u32| {
        json!({
            "set": "FEN", "number": number, "finish": finish, "name": name,
            "binder": "FEN", "page": page, "side": "front", "row": row, "column": 1,
        })
    };
    let heron = "Heron, \"Old\"";
    let answer = some_copies().json(&["gaps", "--json", "--set", "FEN"]);
    assert_eq!(
        answer,
        json!({
            "format": "ringbound-gaps",
            "version": 1,
            "gaps": [
                gap("2", "regular", "Reed Boat", 1, 2),
                gap("12a", "regular", heron, 2, 1),
                gap("1", "reverse", "Mire Lamp", 3, 1),
                gap("12a", "reverse", heron, 3, 2),
            ],
        })
    );
}

#[test]
fn spares_and_waiting_copies_are_told_as_the_contract_says() {
    let table = some_copies();
    assert_eq!(
        table.json(&["spares", "--json"]),
        json!({
            "format": "ringbound-spares",
            "version": 1,
            "spares": [{
                "set": "FEN", "number": "1", "finish": "regular", "name": "Mire Lamp", "count": 1,
                "binder": "FEN", "page": 1, "side": "front", "row": 1, "column": 1,
            }],
        })
    );
    assert_eq!(
        table.json(&["waiting", "--json"]),
        json!({
            "format": "ringbound-waiting",
            "version": 1,
            "waiting": [{
                "set": "FEN", "number": "12a", "finish": "reverse", "name": "Heron, \"Old\"",
                "binder": "FEN", "page": 3, "side": "front", "row": 2, "column": 1,
            }],
        })
    );
}

#[test]
fn where_no_pocket_is_meant_the_place_is_absent() {
    let table = Table::new();
    table.ok(&["new", "DAL", "1", "to", "2", "--no-binder"]);
    table.file("c.csv", "set,number,count\nDAL,1,3\n");
    table.ok(&["import", "copies", "c.csv"]);
    let entry =
        |number: &str| json!({"set": "DAL", "number": number, "finish": "regular", "name": ""});
    assert_eq!(table.json(&["gaps", "--json"])["gaps"], json!([entry("2")]));
    assert_eq!(
        table.json(&["waiting", "--json"])["waiting"],
        json!([entry("1")])
    );
    let mut spare = entry("1");
    spare["count"] = json!(2);
    assert_eq!(table.json(&["spares", "--json"])["spares"], json!([spare]));
}

#[test]
fn check_answers_as_the_contract_says() {
    let table = some_copies();
    assert_eq!(
        table.ok(&["check", "--json"]),
        "{\"format\":\"ringbound-check\",\"version\":1,\"whole\":true,\"problems\":[]}\n"
    );
}

#[test]
fn an_empty_collection_answers_too() {
    let table = Table::new();
    for (command, key) in [
        ("completion", "sets"),
        ("gaps", "gaps"),
        ("spares", "spares"),
        ("waiting", "waiting"),
    ] {
        assert_eq!(table.json_told(&[command, "--json"])[key], json!([]));
    }
    assert_snapshot!(table.run(&["completion"]), @r"
    There are no sets yet.
    -- told --
    there is no collection in <folder>/shelf yet
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["gaps"]), @r"
    There are no gaps.
    -- told --
    there is no collection in <folder>/shelf yet
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["history"]), @r"
    Nothing was done yet.
    -- told --
    there is no collection in <folder>/shelf yet
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["undo"]), @r"
    There is nothing to take back.
    -- told --
    there is no collection in <folder>/shelf yet
    -- exit 1 --
    ");
    assert!(!table.shelf().exists(), "no folder is made");
}

#[test]
fn completion_is_a_table() {
    assert_snapshot!(some_copies().run(&["completion"]), @r"
    set  part     held  in place  missing  total  share
    FEN  all         2         1        3      5   40 %
         regular     1         1        2      3   33 %
         reverse     1         0        1      2   50 %
         common      1         1        2      3   33 %
         rare        1         0        1      2   50 %
    -- exit 0 --
    ");
}

#[test]
fn gaps_are_a_table_with_the_pocket_each_goes_to() {
    assert_snapshot!(some_copies().run(&["gaps"]), @r#"
    set  number  finish   name          binder  page  side   row  pocket
    FEN       2  regular  Reed Boat     FEN        1  front    2       1
    FEN     12a  regular  Heron, "Old"  FEN        2  front    1       1
    FEN       1  reverse  Mire Lamp     FEN        3  front    1       1
    FEN     12a  reverse  Heron, "Old"  FEN        3  front    2       1
    4 gaps; a loose copy waits for 1 of them.
    -- exit 0 --
    "#);
}

#[test]
fn gaps_that_loose_copies_go_to_are_counted() {
    let table = Table::with_fen();
    table.file("c.csv", "set,number,count\nFEN,1,3\n");
    table.ok(&["import", "copies", "c.csv"]);
    let last = |table: &Table| table.ok(&["gaps"]).lines().last().unwrap().to_owned();
    assert_eq!(last(&table), "5 gaps; a loose copy waits for 1 of them.");
    table.file("c.csv", "set,number\nFEN,2\n");
    table.ok(&["import", "copies", "c.csv"]);
    assert_eq!(last(&table), "5 gaps; loose copies wait for 2 of them.");
}

#[test]
fn spares_are_a_table() {
    assert_snapshot!(some_copies().run(&["spares"]), @r"
    set  number  finish   name       count  binder  page  side   row  pocket
    FEN       1  regular  Mire Lamp      1  FEN        1  front    1       1
    1 spare copy.
    -- exit 0 --
    ");
}

#[test]
fn waiting_copies_are_a_table() {
    assert_snapshot!(some_copies().run(&["waiting"]), @r#"
    set  number  finish   name          binder  page  side   row  pocket
    FEN     12a  reverse  Heron, "Old"  FEN        3  front    2       1
    1 copy waiting.
    -- exit 0 --
    "#);
}

#[test]
fn a_set_that_is_not_there_is_told_with_the_nearest() {
    assert_snapshot!(some_copies().run(&["gaps", "--set", "FNE"]), @r"
    -- told --
    error: there is no set “FNE”; did you mean “FEN”?
    -- exit 2 --
    ");
}

#[test]
fn a_binder_is_shown_pocket_by_pocket() {
    assert_snapshot!(some_copies().run(&["show", "fen"]), @r#"
    Binder FEN, The Fen: 3 pages, rings.
    1 of 5 in place (20 %), 4 gaps.

    FEN, page 1, front: 2 rows of one pocket, one side, open at the side
    +-----------+
    | 1         |
    | in place  |
    +-----------+
    | 2         |
    | gap       |
    +-----------+
    row 1, pocket 1: 1 Mire Lamp, in place
    row 2, pocket 1: gap for 2 Reed Boat

    FEN, page 2, front: 2 rows of one pocket, one side, open at the side
    +-----------+
    | 12a       |
    | gap       |
    +-----------+
    |           |
    | -         |
    +-----------+
    row 1, pocket 1: gap for 12a Heron, "Old"
    row 2, pocket 1: free

    FEN, page 3, front: 2 rows of one pocket, one side, open at the side
    +-----------+
    | 1 r       |
    | gap       |
    +-----------+
    | 12a r     |
    | waiting   |
    +-----------+
    row 1, pocket 1: gap for 1 Mire Lamp, reverse
    row 2, pocket 1: gap for 12a Heron, "Old", reverse, a loose copy waits
    -- exit 0 --
    "#);
}

#[test]
fn one_page_and_one_gap_are_told_as_one() {
    let table = Table::new();
    table.ok(&["new", "DAL", "1", "--page", "1", "--sides", "one"]);
    let shown = table.ok(&["show", "DAL"]);
    let head: Vec<_> = shown.lines().take(2).collect();
    assert_eq!(
        head,
        [
            "Binder DAL: 1 page, rings.",
            "0 of 1 in place (0 %), 1 gap."
        ]
    );
}

#[test]
fn a_page_is_shown_in_its_true_grid() {
    let table = Table::new();
    table.ok(&[
        "new",
        "DAL",
        "1-5",
        "--page",
        "2x2",
        "--opening",
        "top",
        "--shared",
    ]);
    assert_snapshot!(table.run(&["show", "DAL", "1"]), @r"
    DAL, page 1, front: 2 rows of 2 pockets, both sides, front and back share a pocket, open at the top
    +-----------+-----------+
    | 1         | 2         |
    | gap       | gap       |
    +-----------+-----------+
    | 3         | 4         |
    | gap       | gap       |
    +-----------+-----------+
    row 1, pocket 1: gap for 1
    row 1, pocket 2: gap for 2
    row 2, pocket 1: gap for 3
    row 2, pocket 2: gap for 4

    DAL, page 1, back: 2 rows of 2 pockets, both sides, front and back share a pocket, open at the top
    +-----------+-----------+
    | 5         |           |
    | gap       | -         |
    +-----------+-----------+
    |           |           |
    | -         | -         |
    +-----------+-----------+
    row 1, pocket 1: gap for 5
    row 1, pocket 2: free
    row 2, pocket 1: free
    row 2, pocket 2: free
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["show", "DAL", "2"]), @r"
    -- told --
    error: there is no page 2: DAL has 1 page
    -- exit 2 --
    ");
    let page = table.json(&["show", "DAL", "1", "--side", "back", "--json"]);
    assert_eq!(
        page["pages"][0]["pockets"][0],
        json!({
            "side": "back", "row": 1, "column": 1, "state": "gap",
            "wanted": {"set": "DAL", "number": "5", "finish": "regular", "name": ""},
        })
    );
}

#[test]
fn steps_are_listed_taken_back_and_done_again() {
    let table = some_copies();
    assert_snapshot!(table.run(&["undo"]), @r"
    Taken back: 2 copies in (of <time>)
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["history"]), @r"
    when                  step
    <time>  2 copies in (taken back)
    <time>  1 copy in, 1 in place
    <time>  checklist of FEN: 3 cards
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["redo"]), @r"
    Done again: 2 copies in (of <time>)
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["redo"]), @r"
    There is nothing to do again.
    -- exit 1 --
    ");
    assert_snapshot!(table.run(&["history", "--last", "1"]), @r"
    when                  step
    <time>  2 copies in
    and 2 before; --last 3 lists them
    -- exit 0 --
    ");
    let history = table.json(&["history", "--json"]);
    assert_eq!(history["done"].as_array().unwrap().len(), 3);
    assert_eq!(history["done"][0]["label"], "2 copies in");
    assert_eq!(history["complete"], true);
    let undone = table.json(&["undo", "--json"]);
    assert_eq!(undone["step"]["label"], "2 copies in");
}

#[test]
fn a_set_is_made_from_a_phrase() {
    let table = Table::new();
    let phrase = "1 to 120 and P1 to P6, in regular and reverse";
    assert_snapshot!(table.run(&["new", "FEN", phrase, "--title", "The Fen"]), @r"
    New: 1 set, 126 cards, 1 binder and 14 pages.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["new", "FEN", "1 to 3"]), @r"
    -- told --
    error: a set with the code FEN is there already
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["new", "FEN"]), @r"
    -- told --
    error: the set FEN has a binder, The Fen
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["new", "BOG"]), @r"
    -- told --
    error: there is no set BOG yet: say which cards it has, such as 1 to 120
    -- exit 2 --
    ");
    table.ok(&["new", "BOG", "1 to 20", "--no-binder"]);
    assert_snapshot!(table.run(&["new", "BOG", "--title", "The Bog"]), @r"
    -- told --
    error: for a set that is there only its binder can be made: say nothing but its pages
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["new", "BOG"]), @r"
    New: 1 binder and 2 pages.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["new", "DAL", "120 to 1"]), @r"
    -- told --
    error: “120 to 1” runs backwards; write 1 to 120
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["new", "A B", "1"]), @r#"
    -- told --
    error: a set's code must be one word of at most 100 bytes without : ; , ( ) or "
    -- exit 2 --
    "#);
    assert_snapshot!(table.run(&["new", "DAL", "1", "--page", "9"]), @r"
    -- told --
    error: a page is written rows x columns, each 1 to 20: 3x3, 3x4, 2x2, 3x1, or 1 for one pocket
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["new", "DAL", "1", "--sides", "one", "--shared"]), @r"
    -- told --
    error: --shared needs pages that are loaded on both sides
    -- exit 2 --
    ");
    let made = table.json(&["new", "DAL", "001 to 010", "--json"]);
    assert_eq!(made["added"]["cards"], 10);
}

#[test]
fn one_spread_of_the_demo_is_printed() {
    let table = Table::new();
    let printed = table.ok(&["demo", "--print"]);
    assert!(printed.contains("page 1, back") && printed.contains("page 2, front"));
    assert!(!table.shelf().exists(), "a demo keeps nothing");
}

#[test]
fn without_a_terminal_the_screen_is_refused() {
    let table = Table::new();
    assert_snapshot!(table.run(&[]), @r"
    -- told --
    error: the screen needs a terminal, and this is not one
    hint: ringbound --help lists the commands that answer in plain text
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["demo"]), @r"
    -- told --
    error: the screen needs a terminal, and this is not one
    hint: ringbound --help lists the commands that answer in plain text
    -- exit 2 --
    ");
    assert!(!table.shelf().exists());
}

#[test]
fn wrong_usage_ends_with_2() {
    let table = Table::with_fen();
    for args in [
        &["nonsense"][..],
        &["import", "checklist"],
        &["gaps", "--set", "NONE"],
        &["show", "NONE"],
        &["show", "FEN", "99"],
        &["show", "FEN", "0"],
        &["show", "FEN", "front"],
        &["history", "--last", "0"],
        &["export", "copies", "-", "--json"],
        &["new", "DAL", "1", "--no-binder", "--fixed"],
        &["demo", "--print", "--json"],
    ] {
        assert_eq!(table.exit(args), 2, "{args:?}");
        assert_eq!(table.output(args).stdout, b"", "{args:?}");
    }
}

#[test]
fn a_number_that_is_none_is_told_with_what_would_be_right() {
    let told = Table::with_fen().run(&["show", "FEN", "front"]);
    let first = told.lines().nth(1);
    assert_eq!(
        first,
        Some("error: invalid value 'front' for '[PAGE]': write a whole number from 1")
    );
}

#[test]
fn help_tells_the_commands_and_the_exit_codes() {
    assert_snapshot!("help", Table::new().run(&["--help"]));
}

#[test]
fn help_of_an_import_tells_the_columns() {
    let told = Table::new().run(&["import", "checklist", "--help"]);
    assert_snapshot!("help_import_checklist", told);
}

#[test]
fn help_before_a_command_is_the_help_of_that_command() {
    let table = Table::new();
    for command in [&[][..], &["plan"], &["import", "checklist"]] {
        let asked = table.run(&[&["help"], command].concat());
        assert_eq!(asked, table.run(&[command, &["--help"]].concat()));
        assert!(asked.contains("-- exit 0 --"), "{asked}");
    }
    assert!(table.run(&["help", "nonsense"]).contains("-- exit 2 --"));
}
