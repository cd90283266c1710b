//! Which runs are collected.

use insta::assert_snapshot;
use serde_json::json;

use crate::support::Table;

fn two_finishes() -> Table {
    let table = Table::new();
    table.ok(&["new", "FEN", "1 to 3, in regular and reverse"]);
    table.file("loose.csv", "set,number,finish\nFEN,1,reverse\nFEN,2,\n");
    table.ok(&["import", "copies", "loose.csv"]);
    table
}

#[test]
fn of_a_run_that_is_left_out_nothing_is_wanted_and_loose_copies_are_spare() {
    let table = two_finishes();
    let list = |what: &str| {
        table.json(&[what, "--json"])[what]
            .as_array()
            .unwrap()
            .len()
    };
    assert_eq!(
        [list("gaps"), list("wants"), list("waiting"), list("spares")],
        [6, 4, 2, 0]
    );
    let out = ["runs", "--set", "FEN", "--leave-out", "reverse"];
    assert_snapshot!(table.run(&out), @"
    FEN reverse not collected any more, 3 pockets free. ringbound undo takes it back.
    -- exit 0 --
    ");
    assert_eq!(
        [list("gaps"), list("wants"), list("waiting"), list("spares")],
        [3, 2, 1, 1]
    );
    assert_snapshot!(table.run(&["runs"]), @"
    set  finish   held  total
    FEN  regular     1      3
    FEN  reverse     1      3  not collected
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["wants"]), @"
    set  number  finish   binder  page  side   row  pocket
    FEN       1  regular  FEN        1  front    1       1
    FEN       3  regular  FEN        1  front    1       3
    2 cards wanted; 2 more of runs that you do not collect (--all).
    -- exit 0 --
    ");
    // Printings are counted as before; beside them stands what is collected.
    let told = table.json(&["completion", "--json"]);
    let set = &told["sets"][0];
    assert_eq!((&set["held"], &set["total"]), (&json!(2), &json!(6)));
    assert_eq!(
        set["collected"],
        json!({"held": 1, "in_place": 0, "total": 3})
    );
    assert_eq!(
        set["by_finish"][1],
        json!({"finish": "reverse", "left_out": true, "held": 1, "in_place": 0, "total": 3})
    );
    assert_snapshot!(table.run(&["completion"]), @"
    set  part                    held  in place  missing  total  share
    FEN  all                        2         0        4      6   33 %
         collected                  1         0        2      3   33 %
         regular                    1         0        2      3   33 %
         reverse, not collected     1         0        2      3   33 %
    -- exit 0 --
    ");
    table.ok(&["undo"]);
    assert_eq!([list("gaps"), list("waiting")], [6, 2]);
    table.ok(&["redo"]);
    table.ok(&["runs", "--set", "FEN", "--collect", "reverse"]);
    assert_eq!(list("spares"), 0);
    assert!(table.json(&["check", "--json"])["whole"].as_bool().unwrap());
}

#[test]
fn what_cannot_be_left_out_is_told() {
    let table = two_finishes();
    assert_snapshot!(table.run(&["runs", "--set", "FEN", "--leave-out", "revers"]), @"
    -- told --
    error: there is no finish “revers” in FEN; did you mean “reverse”?
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["runs", "--set", "FEN", "--collect", "reverse"]), @"
    -- told --
    error: FEN reverse: this run is collected already
    -- exit 2 --
    ");
    let without = table.run(&["runs", "--leave-out", "reverse"]);
    assert!(without.contains("--set <CODE>"), "{without}");
}

/// 199 of 200: no command calls that all of them.
#[test]
fn nothing_that_a_command_tells_makes_199_of_200_into_all() {
    let table = Table::new();
    table.ok(&["new", "FEN", "1 to 200"]);
    let copies: String = (1..200).map(|number| format!("FEN,{number}\n")).collect();
    table.file("copies.csv", format!("set,number\n{copies}"));
    table.ok(&["import", "copies", "copies.csv", "--in-place"]);
    // All commands that tell shares.
    let commands = [&["completion"][..], &["shelf"], &["show", "FEN"]];
    for command in commands {
        let told = table.run(command);
        assert!(told.contains("99 %"), "{told}");
        assert!(!told.contains("100 %"), "{told}");
    }
    table.file("last.csv", "set,number\nFEN,200\n");
    table.ok(&["import", "copies", "last.csv", "--in-place"]);
    for command in commands {
        let told = table.run(command);
        assert!(told.contains("100 %"), "{told}");
    }
}

#[test]
fn lists_are_narrowed_by_binder_finish_and_rarity_also_into_a_file() {
    let table = two_finishes();
    table.ok(&["new", "DAL", "1 to 2"]);
    let gaps = |args: &[&str]| {
        let answer = table.json(&[&["gaps", "--json"], args].concat());
        answer["gaps"].as_array().unwrap().len()
    };
    assert_eq!(gaps(&[]), 8);
    assert_eq!(gaps(&["--binder", "dal"]), 2);
    assert_eq!(gaps(&["--finish", "reverse"]), 3);
    let args = [
        "export", "gaps", "-", "--binder", "FEN", "--finish", "reverse",
    ];
    let told = table.run(&args);
    assert_eq!(told.matches("\nFEN,").count(), 3, "{told}");
    assert_snapshot!(table.run(&["gaps", "--binder", "FN"]), @"
    -- told --
    error: there is no binder “FN”; did you mean “FEN”?
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["export", "copies", "-", "--finish", "reverse"]), @"
    -- told --
    error: copies and checklists are written whole, or of one set with --set
    -- exit 2 --
    ");
}
