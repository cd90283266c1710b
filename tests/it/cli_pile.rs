//! What the commands of the pile answer. The numbers of passes are checked against the outside
//! beside the code that counts them.

use insta::assert_snapshot;
use serde_json::json;

use crate::support::Table;

/// Two sets of 40 and 20 cards, the first in two finishes.
fn two_sets() -> Table {
    let table = Table::new();
    table.ok(&["new", "FEN", "1 to 40, in regular and reverse"]);
    table.ok(&["new", "DAL", "1 to 20"]);
    table
}

#[test]
fn a_stack_is_sorted_by_ranges_that_a_person_can_follow() {
    let table = two_sets();
    assert_snapshot!(table.run(&["sort-pile", "--heaps", "5"]), @"
    100 cards on 5 heaps: 3 passes; a card is put down 300 times in all.
    With room for 10 heaps it is one pass fewer.

    Pass 1: one heap for each of these; pick them up in this order.
         1  FEN 1 to 18
         2  FEN 19 to 40
         3  FEN reverse 1 to 18
         4  FEN reverse 19 to 40
         5  DAL 1 to 20

    Pass 2: each heap of pass 1 again, in turn.
    heap                  new heaps begin at
    FEN 1 to 18           FEN 1, 5, 9, 11, 15
    FEN 19 to 40          FEN 19, 24, 29, 31, 36
    FEN reverse 1 to 18   FEN reverse 1, 5, 9, 11, 15
    FEN reverse 19 to 40  FEN reverse 19, 24, 29, 31, 36
    DAL 1 to 20           DAL 1, 5, 9, 11, 16

    Pass 3: take each heap of pass 2 in turn. It has at most 5 different numbers now: one heap for each, and pick up in order.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["sort-pile", "--heaps", "4", "--set", "DAL", "--cards", "12"]), @"
    12 cards on 4 heaps: 2 passes; a card is put down 24 times in all.
    With room for 12 heaps it is one pass fewer.

    Pass 1: one heap for each of these; pick them up in this order.
         1  DAL 1 to 5
         2  DAL 6 to 10
         3  DAL 11 to 15
         4  DAL 16 to 20

    Pass 2: each heap of pass 1 again, in turn.
    heap          new heaps begin at
    DAL 1 to 5    DAL 1, 3, 4, 5
    DAL 6 to 10   DAL 6, 8, 9, 10
    DAL 11 to 15  DAL 11, 13, 14, 15
    DAL 16 to 20  DAL 16, 18, 19, 20

    At the end up to 2 neighbouring numbers share a heap; as there are fewer cards than numbers, few of them do. Put those in order in the hand.
    -- exit 0 --
    ");
}

#[test]
fn without_a_collection_the_passes_are_told() {
    let table = Table::new();
    std::fs::create_dir(table.shelf()).unwrap();
    assert_snapshot!(table.run(&["sort-pile", "--cards", "500", "--heaps", "8"]), @"
    500 cards on 8 heaps: 3 passes; a card is put down 1500 times in all.
    With room for 23 heaps it is one pass fewer.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["sort-pile"]), @"
    -- told --
    error: there are no sets yet to take the numbers from
    hint: say how many cards the pile has: --cards 300
    -- exit 2 --
    ");
    assert_eq!(table.exit(&["sort-pile", "--heaps", "1"]), 2);
}

#[test]
fn the_loose_copies_are_a_stack_too() {
    let table = two_sets();
    table.file("in.csv", "set,number,count\nDAL,3,2\nFEN,7,1\nDAL,12,1\n");
    table.ok(&["import", "copies", "in.csv"]);
    let answer = table.json(&["sort-pile", "--loose", "--heaps", "3", "--json"]);
    let card = |set: &str, number: &str| json!({"set": set, "number": number, "finish": "regular"});
    let heap = |set: &str, number: &str| json!({"from": card(set, number), "to": card(set, number), "printings": 1});
    assert_eq!(
        answer,
        json!({
            "format": "ringbound-sorting", "version": 1,
            "cards": 4, "places": 3, "passes": 1, "placements": 4, "left_together": 1,
            "ranges": [[{
                "from": card("FEN", "7"), "to": card("DAL", "12"),
                "heaps": [heap("FEN", "7"), heap("DAL", "3"), heap("DAL", "12")],
            }]],
        })
    );
}

/// Four common cards of which one is there, and two rare ones.
fn half_a_set() -> Table {
    let table = Table::new();
    let cards: String = [(1, "common"), (2, "common"), (3, "common"), (4, "common")]
        .into_iter()
        .chain([(5, "rare"), (6, "rare")])
        .map(|(number, rarity)| format!("FEN,{number},Card,{rarity}\n"))
        .collect();
    table.file("fen.csv", format!("set,number,name,rarity\n{cards}"));
    table.ok(&["import", "checklist", "fen.csv"]);
    table.file("in.csv", "set,number\nFEN,1\n");
    table.ok(&["import", "copies", "in.csv"]);
    table
}

#[test]
fn packs_are_told_as_an_average_and_not_as_advice() {
    let table = half_a_set();
    // Packs of one: 6 (1/5 + 1/4 + 1/3 + 1/2 + 1) = 13.7, by the harmonic numbers.
    assert_snapshot!(table.run(&["packs", "FEN", "--pack-size", "1"]), @"
    FEN: 5 of 6 cards are missing.
    On average the rest comes with 13.7 more random packs of 1 card.
    In half of all cases by 12 packs, in nine of ten by 22.

    If the last cards are bought or swapped one by one:
    single cards  packs
               0   13.7
               1    7.7
               2    4.7
               3    2.7

    This is an average over random packs of different cards, each card as likely as
    any other. Real packs may be put together otherwise. It is not advice to buy
    any.
    -- exit 0 --
    ");
    // Two of four common cards and every second pack a rare one.
    assert_snapshot!(table.run(&["packs", "fen", "--pack-size", "3", "--odds", "common=5, rare=1"]), @"
    FEN: 5 of 6 cards are missing.
    rarity  missing  of  a pack
    common        3   4     2.5
    rare          2   2     0.5
    On average the rest comes with 6.14 more random packs of 3 cards.
    In half of all cases by 5 packs, in nine of ten by 11.

    If the last cards are bought or swapped one by one:
    single cards  packs
               0    6.1
               1    2.8
               2    1.7
               3    1.1

    This is an average over random packs of different cards, each card of a rarity
    as likely as any other. Real packs may be put together otherwise. It is not
    advice to buy any.
    -- exit 0 --
    ");
    let answer = table.json(&["packs", "FEN", "--pack-size", "6", "--json"]);
    assert_eq!(
        answer,
        json!({
            "format": "ringbound-packs", "version": 1, "set": "FEN", "finish": "regular",
            "pack_size": 6, "missing": 5, "total": 6,
            "classes": [{"rarity": "", "missing": 5, "total": 6, "per_pack": 6.0}],
            "never_in_packs": 0, "expected_packs": 1.0, "packs_half": 1, "packs_nine_of_ten": 1,
            "with_singles": [
                {"singles": 1, "expected_packs": 1.0},
                {"singles": 2, "expected_packs": 1.0},
                {"singles": 3, "expected_packs": 1.0},
            ],
        })
    );
    let never = [
        "packs",
        "FEN",
        "--pack-size",
        "2",
        "--odds",
        "common=2,rare=0",
    ];
    assert_snapshot!(table.run(&never), @"
    FEN: 5 of 6 cards are missing.
    rarity  missing  of  a pack
    common        3   4       2
    rare          2   2       0
    2 missing cards are in no pack, and not counted on.
    On average the rest comes with 3.4 more random packs of 2 cards.
    In half of all cases by 3 packs, in nine of ten by 5.

    If the last cards are bought or swapped one by one:
    single cards  packs
               0    3.4
               1    1.6
               2    1.0

    This is an average over random packs of different cards, each card of a rarity
    as likely as any other. Real packs may be put together otherwise. It is not
    advice to buy any.
    -- exit 0 --
    ");
}

#[test]
fn odds_that_do_not_fit_the_set_are_told() {
    let table = half_a_set();
    let told =
        |odds: &str, size: &str| table.run(&["packs", "FEN", "--pack-size", size, "--odds", odds]);
    assert_snapshot!(told("common=7", "8"), @"
    -- told --
    error: the odds say nothing of “rare” (2 cards)
    hint: name every rarity of the set; a rarity that is in no pack is 0
    -- exit 2 --
    ");
    assert_snapshot!(told("common=1,rrae=1", "2"), @"
    -- told --
    error: there is no rarity “rrae” in FEN; did you mean “rare”?
    -- exit 2 --
    ");
    assert_snapshot!(told("common=1,rare", "2"), @r#"
    -- told --
    error: “rare” names no odds
    hint: write for instance --odds "common=7,scarce=2,rare=1"
    -- exit 2 --
    "#);
    assert_snapshot!(told("common=5,rare=1", "6"), @"
    -- told --
    error: a pack cannot hold 5 different ones of 4 common cards
    hint: give the number of cards in a pack that are of this set and finish
    -- exit 2 --
    ");
    assert_snapshot!(told("common=0,rare=0", "6"), @"
    -- told --
    error: the odds say that a pack is empty
    -- exit 2 --
    ");
    assert_snapshot!(told("common=1,rare=0.00001", "1"), @"
    -- told --
    error: 2 rare cards are too rare: each in fewer than one of 5000 packs
    hint: 0 leaves a rarity out; look for its cards elsewhere
    -- exit 2 --
    ");
    assert_snapshot!(told("rare=1,common=0,rare=1", "6"), @"
    -- told --
    error: the odds name “rare” twice
    -- exit 2 --
    ");
}

/// One copy in place, one waiting, two spare, and gaps; two cards of a set without a binder.
fn some_copies() -> Table {
    let table = Table::with_fen();
    table.file("in-place.csv", "set,number\nFEN,1\n");
    table.ok(&["import", "copies", "in-place.csv", "--in-place"]);
    table.file(
        "loose.csv",
        "set,number,finish,count\nFEN,1,,2\nFEN,12a,reverse,1\n",
    );
    table.ok(&["import", "copies", "loose.csv"]);
    table.ok(&["new", "DAL", "1 to 2", "--no-binder"]);
    table
}

#[test]
fn wants_are_the_gaps_for_which_there_is_no_copy() {
    let table = some_copies();
    assert_snapshot!(table.run(&["wants"]), @r#"
    set  number  finish   name          binder  page  side   row  pocket
    FEN       2  regular  Reed Boat     FEN        1  front    2       1
    FEN     12a  regular  Heron, "Old"  FEN        2  front    1       1
    FEN       1  reverse  Mire Lamp     FEN        3  front    1       1
    DAL       1  regular
    DAL       2  regular
    5 cards wanted.
    -- exit 0 --
    "#);
    assert_snapshot!(table.run(&["wants", "--set", "FEN", "--finish", "reverse"]), @"
    set  number  finish   name       binder  page  side   row  pocket
    FEN       1  reverse  Mire Lamp  FEN        3  front    1       1
    1 card wanted.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["wants", "--rarity", "RARE"]), @r#"
    set  number  finish   name          binder  page  side   row  pocket
    FEN     12a  regular  Heron, "Old"  FEN        2  front    1       1
    1 card wanted.
    -- exit 0 --
    "#);
    assert_snapshot!(table.run(&["wants", "--rarity", "comon"]), @"
    -- told --
    error: there is no rarity “comon”; did you mean “common”?
    -- exit 2 --
    ");
    assert_snapshot!(table.run(&["wants", "--finish", "gilt"]), @"
    -- told --
    error: there is no finish “gilt”; there are “regular”, “reverse”
    -- exit 2 --
    ");
    let answer = table.json(&["wants", "--set", "DAL", "--json"]);
    let want =
        |number: &str| json!({"set": "DAL", "number": number, "finish": "regular", "name": ""});
    assert_eq!(
        answer,
        json!({"format": "ringbound-wants", "version": 1, "wants": [want("1"), want("2")]})
    );
}

#[test]
fn a_run_without_a_pocket_is_wanted_only_when_asked_for() {
    let table = some_copies();
    table.file(
        "more.csv",
        "set,number,name,finishes\nFEN,2,Reed Boat,regular;gold\n",
    );
    table.ok(&["import", "checklist", "more.csv", "--no-binder"]);
    let wanted = |args: &[&str]| {
        let answer = table.json(&[&["wants", "--set", "FEN", "--json"], args].concat());
        let wants = answer["wants"].as_array().unwrap().clone();
        let gold = wants.iter().filter(|want| want["finish"] == "gold").count();
        (wants.len(), gold)
    };
    let (all, gold) = wanted(&["--all"]);
    assert_eq!(gold, 1);
    assert_eq!(wanted(&[]), (all - 1, 0));
}

#[test]
fn spares_to_keep_are_not_listed() {
    let table = some_copies();
    let spares = |keep: &str| table.json(&["spares", "--keep", keep, "--json"])["spares"].clone();
    assert_eq!(spares("0")[0]["count"], 2);
    assert_eq!(spares("1")[0]["count"], 1);
    assert_eq!(spares("2"), json!([]));
}

#[test]
fn an_exported_want_list_is_what_a_swap_reads() {
    let (mine, theirs) = (some_copies(), Table::with_fen());
    theirs.file("in.csv", "set,number,count\nFEN,2,3\n");
    theirs.ok(&["import", "copies", "in.csv"]);
    for what in ["wants", "spares"] {
        let file = format!("{what}.csv");
        theirs.ok(&["export", what, &file]);
        mine.file(&file, theirs.read(&file));
    }
    let answer = mine.json_told(&["swap", "wants.csv", "spares.csv", "--json"]);
    let pairs = answer["pairs"].as_array().unwrap();
    assert_eq!(pairs.len(), 1);
    assert_eq!(pairs[0]["get"]["number"], "2");
    assert_eq!(pairs[0]["give"]["number"], "1");
}

#[test]
fn a_swap_is_a_sheet_to_talk_over_and_can_be_carried_out_and_taken_back() {
    let table = some_copies();
    table.file(
        "wants.csv",
        "set,number,finish,count\nFEN,1,,5\nFEN,12a,reverse,1\nTRN,4,,1\n",
    );
    table.file(
        "spares.csv",
        "set,number,finish\nFEN,2,\nFEN,1,reverse\nFEN,1,\nDAL,2,\n",
    );
    let swap = ["swap", "wants.csv", "spares.csv"];
    assert_snapshot!(table.run(&swap), @"
    One for one, 2 cards each way:
    you get                            for
    FEN 2 Reed Boat (common)           FEN 1 Mire Lamp (common)
    FEN 1 Mire Lamp, reverse (common)  FEN 1 Mire Lamp (common)

    You could get, the fullest pages first:
    card                      rarity  binder   goes to                         page filled
    FEN 2 Reed Boat           common  The Fen  page 1, front, row 2, pocket 1       1 of 2
    FEN 1 Mire Lamp, reverse  common  The Fen  page 3, front, row 1, pocket 1       0 of 2
    DAL 2                                      no pocket is meant for it

    You could give:
    card             rarity  count
    FEN 1 Mire Lamp  common      2
    -- told --
    wants.csv: 1 row is of sets that are not here
    -- exit 0 --
    ");
    let by_rarity = [&swap[..], &["--by-rarity", "--keep", "1", "--json"]].concat();
    let answer = table.json_told(&by_rarity);
    assert_eq!(answer["could_give"][0]["count"], 1);
    assert_eq!(answer["pairs"].as_array().unwrap().len(), 1);
    assert_eq!(answer["carried_out"], false);

    let before = table.ok(&["export", "copies", "-"]);
    let told = table.run(&[&swap[..], &["--carry-out"]].concat());
    assert!(
        told.contains(
            "Carried out: 2 cards swapped; what came is loose. ringbound undo takes it back."
        ),
        "{told}"
    );
    assert_eq!(
        table.ok(&["export", "copies", "-"]),
        "set,number,finish,count\r\nFEN,1,regular,1\r\nFEN,1,reverse,1\r\nFEN,2,regular,1\r\n\
         FEN,12a,reverse,1\r\n"
    );
    assert!(
        table
            .ok(&["undo"])
            .starts_with("Taken back: 2 cards swapped")
    );
    assert_eq!(table.ok(&["export", "copies", "-"]), before);
}

#[test]
fn cards_that_no_checklist_here_has_are_passed_over_as_sets_are() {
    let table = Table::with_fen();
    table.file("wants.csv", "set,number\nFEN,1\nFEN,999\nFAR,1\nFEN,998\n");
    table.file("spares.csv", "set,number\nFEN,2\n");
    let told = table.run(&["swap", "wants.csv", "spares.csv"]);
    let passed =
        "wants.csv: 1 row is of sets that are not here, 2 of cards that no checklist has\n";
    assert!(told.contains(passed), "{told}");
    assert!(told.contains("-- exit 0 --"), "{told}");
    // Zeros in front are no other card, but a number to be mended.
    table.file("wants.csv", "set,number\nFEN,001\n");
    let told = table.run(&["swap", "wants.csv", "spares.csv"]);
    assert!(told.contains("there is no card “001” in FEN"), "{told}");
}

#[test]
fn a_bad_list_of_the_other_collector_swaps_nothing() {
    let table = some_copies();
    table.file("wants.csv", "set,number,count\nFEN,1,1\nFEN,2,some\n");
    table.file("spares.csv", "set,number\nFEN,2\n");
    let before = table.ok(&["export", "copies", "-"]);
    let swap = ["swap", "wants.csv", "spares.csv", "--carry-out"];
    assert_snapshot!(table.run(&swap), @"
    -- told --
    wants.csv, line 3, column 3 (count): “some” is no count; write a whole number from 0 to 1000000
    error: wants.csv: 1 row is bad; nothing was swapped
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
    assert_eq!(table.ok(&["export", "copies", "-"]), before);
    let answer = table.json_told(&[&swap[..], &["--json"]].concat());
    assert_eq!(answer["file"], "wants.csv");
    assert_eq!(answer["refused"][0]["line"], 3);
    let skipping = [&swap[..], &["--skip-bad"]].concat();
    assert_eq!(table.exit(&skipping), 1);
    assert_ne!(table.ok(&["export", "copies", "-"]), before);
    assert_eq!(table.exit(&["swap", "-", "-"]), 2);
}
