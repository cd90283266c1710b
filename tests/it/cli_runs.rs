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
