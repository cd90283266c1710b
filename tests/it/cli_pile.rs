//! What the commands of the pile answer. The numbers of passes are checked against the outside
//! beside the code that counts them.

use insta::assert_snapshot;
use serde_json::json;

use crate::support::Table;

/// Two sets of 40 and 20 cards, the first in two finishes.
fn two_sets() -> Table {
    let table = Table::new();
    table.ok(&["new", "FEN", "1 to 40, in regular and reverse"]);
    table.ok(&["new", "ASH", "1 to 20"]);
    table
}

#[test]
fn a_stack_is_sorted_by_ranges_that_a_person_can_follow() {
    let table = two_sets();
    assert_snapshot!(table.run(&["sort-pile", "--places", "5"]), @"
    100 cards on 5 places: 3 passes, 300 placings.
    With room for 10 heaps it is one pass fewer.

    Pass 1: one heap for each of these; pick them up in this order.
         1  FEN 1 to 18
         2  FEN 19 to 40
         3  FEN reverse 1 to 18
         4  FEN reverse 19 to 40
         5  ASH 1 to 20

    Pass 2: each heap of pass 1 again, in turn.
    heap                  new heaps begin at
    FEN 1 to 18           FEN 1, 5, 9, 11, 15
    FEN 19 to 40          FEN 19, 24, 29, 31, 36
    FEN reverse 1 to 18   FEN reverse 1, 5, 9, 11, 15
    FEN reverse 19 to 40  FEN reverse 19, 24, 29, 31, 36
    ASH 1 to 20           ASH 1, 5, 9, 11, 16

    Pass 3: take each heap of pass 2 in turn. It has at most 5 different numbers now: one place for each, and pick up in order.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["sort-pile", "--places", "4", "--set", "ASH", "--cards", "12"]), @"
    12 cards on 4 places: 2 passes, 24 placings.
    With room for 12 heaps it is one pass fewer.

    Pass 1: one heap for each of these; pick them up in this order.
         1  ASH 1 to 5
         2  ASH 6 to 10
         3  ASH 11 to 15
         4  ASH 16 to 20

    Pass 2: each heap of pass 1 again, in turn.
    heap          new heaps begin at
    ASH 1 to 5    ASH 1, 3, 4, 5
    ASH 6 to 10   ASH 6, 8, 9, 10
    ASH 11 to 15  ASH 11, 13, 14, 15
    ASH 16 to 20  ASH 16, 18, 19, 20

    At the end up to 2 neighbouring numbers share a heap; as there are fewer cards than numbers, few of them do. Put those in order in the hand.
    -- exit 0 --
    ");
}

#[test]
fn without_a_collection_the_passes_are_told() {
    let table = Table::new();
    std::fs::create_dir(table.shelf()).unwrap();
    assert_snapshot!(table.run(&["sort-pile", "--cards", "500", "--places", "8"]), @"
    500 cards on 8 places: 3 passes, 1500 placings.
    With room for 23 heaps it is one pass fewer.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["sort-pile"]), @"
    -- told --
    error: there are no sets yet to take the numbers from
    hint: say how many cards the stack has: --cards 300
    -- exit 2 --
    ");
    assert_eq!(table.exit(&["sort-pile", "--places", "1"]), 2);
}

#[test]
fn the_loose_copies_are_a_stack_too() {
    let table = two_sets();
    table.file("in.csv", "set,number,count\nASH,3,2\nFEN,7,1\nASH,12,1\n");
    table.ok(&["import", "copies", "in.csv"]);
    let answer = table.json(&["sort-pile", "--loose", "--places", "3", "--json"]);
    let card = |set: &str, number: &str| json!({"set": set, "number": number, "finish": "regular"});
    let heap = |set: &str, number: &str| json!({"from": card(set, number), "to": card(set, number), "printings": 1});
    assert_eq!(
        answer,
        json!({
            "format": "ringbound-sorting", "version": 1,
            "cards": 4, "places": 3, "passes": 1, "placements": 4, "left_together": 1,
            "ranges": [[{
                "from": card("FEN", "7"), "to": card("ASH", "12"),
                "heaps": [heap("FEN", "7"), heap("ASH", "3"), heap("ASH", "12")],
            }]],
        })
    );
}
