//! Files that come in: what is taken, what is told, and that a bad file changes nothing.

use insta::assert_snapshot;

use crate::support::{FEN, Table};

/// Imports a bad file: exit code 3, nothing on standard output, and the collection as it was byte
/// for byte. Gives what was told.
fn refused(what: &str, bytes: impl AsRef<[u8]>) -> String {
    let table = Table::with_fen();
    table.file("bad.csv", bytes);
    let before = table.kept();
    let told = table.run(&["import", what, "bad.csv"]);
    assert!(told.starts_with("-- told --\n"), "{told}");
    assert_eq!(table.kept(), before);
    told
}

#[test]
fn a_checklist_comes_in() {
    let table = Table::new();
    table.file("fen.csv", FEN);
    assert_snapshot!(table.run(&["import", "checklist", "fen.csv"]), @r"
    New: 1 set, 3 cards, 1 binder and 2 pages.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["import", "checklist", "fen.csv"]), @r"
    Nothing is new.
    -- exit 0 --
    ");
    let kept = table.kept();
    table.ok(&["import", "checklist", "fen.csv", "--update"]);
    assert_eq!(table.kept(), kept, "the same again changes nothing");
}

#[test]
fn an_extended_checklist_adds_what_is_new_and_tells_what_differs() {
    let table = Table::with_fen();
    table.file(
        "more.csv",
        "number,name,set,symbol,finishes,price\n1,Mire Lantern,FEN,☂,regular,3\n13,Ferry Bell,FEN,,,4\n2,Reed Boat,FEN,,gold edge,1\n",
    );
    assert_snapshot!(table.run(&["import", "checklist", "more.csv"]), @r"
    New: 1 card and 1 page.
    1 known card comes in a further finish now.
    FEN 1: the name stays “Mire Lamp”, the file has “Mire Lantern”
    FEN 1: the list of finishes stays “regular, reverse”, the file has “regular”
    FEN 2: the list of finishes stays “regular”, the file has “gold edge”
    What differs was left as it is; --update takes the file's word for it.
    FEN: the symbol is “☂” now
    binder FEN: 1 page added at the end
    -- told --
    more.csv: column 6 (“price”) is not known and was left out
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["import", "checklist", "more.csv", "--update"]), @r"
    FEN 1: the name was “Mire Lamp”, is now “Mire Lantern”
    FEN 1: the list of finishes stays “regular, reverse”, the file has “regular”
    FEN 2: the list of finishes stays “regular, gold edge”, the file has “gold edge”
    -- told --
    more.csv: column 6 (“price”) is not known and was left out
    -- exit 0 --
    ");
    let json = table.json_told(&["import", "checklist", "more.csv", "--json"]);
    assert_eq!(json["added"]["cards"], 0);
    assert_eq!(json["differs"][0]["what"], "the list of finishes");
}

#[test]
fn copies_come_in_loose_or_in_place() {
    let table = Table::with_fen();
    table.file(
        "c.csv",
        "set,number,finish,count\nFEN,1,,2\nFEN,12a,r,\nFEN,2,regular,0\n",
    );
    assert_snapshot!(table.run(&["import", "copies", "c.csv", "--in-place"]), @r"
    3 copies came in: 2 in their pockets, 1 loose.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["import", "copies", "c.csv"]), @r"
    3 copies came in, loose.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["import", "copies", "c.csv", "--json"]), @r#"
    {"format":"ringbound-import-copies","version":1,"file":"c.csv","rows":3,"refused":[],"refused_rows":0,"acquired":3,"in_place":0}
    -- exit 0 --
    "#);
    assert_eq!(table.json(&["completion", "--json"])["sets"][0]["held"], 2);
}

#[test]
fn standard_input_is_read_where_the_file_is_a_dash() {
    let table = Table::with_fen();
    let rows = b"set,number\r\nFEN,1\r\nFEN,99\r\n";
    assert_snapshot!(table.run_with_input(&["import", "copies", "-"], rows), @r"
    -- told --
    standard input, line 3, column 2 (number): there is no card “99” in FEN; there are “1”, “2”, “12a”
    error: standard input: 1 row is bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
    let rows = b"\xEF\xBB\xBFset,number\r\nFEN,1\r\n";
    assert_snapshot!(table.run_with_input(&["import", "copies", "-"], rows), @r"
    1 copy came in, loose.
    -- exit 0 --
    ");
}

#[test]
fn with_skip_bad_the_good_rows_are_taken_and_the_others_listed() {
    let table = Table::with_fen();
    table.file(
        "c.csv",
        "set,number,count\nFEN,1,2\nFEN,99,1\nFEN,2,-3\nFEN,12a\n",
    );
    assert_snapshot!(table.run(&["import", "copies", "c.csv", "--skip-bad"]), @r"
    2 copies came in, loose.
    -- told --
    c.csv, line 3, column 2 (number): there is no card “99” in FEN; there are “1”, “2”, “12a”
    c.csv, line 4, column 3 (count): “-3” is no count; write a whole number from 0 to 1000000
    c.csv, line 5: the row has 2 fields, the first line names 3 columns
    c.csv: 3 rows are bad and left out
    -- exit 1 --
    ");
    assert_snapshot!(table.run(&["import", "copies", "c.csv", "--skip-bad", "--json"]), @r#"
    {"format":"ringbound-import-copies","version":1,"file":"c.csv","rows":1,"refused":[{"line":3,"column":2,"name":"number","why":"there is no card “99” in FEN; there are “1”, “2”, “12a”"},{"line":4,"column":3,"name":"count","why":"“-3” is no count; write a whole number from 0 to 1000000"},{"line":5,"why":"the row has 2 fields, the first line names 3 columns"}],"refused_rows":3,"acquired":2,"in_place":0}
    -- told --
    c.csv, line 3, column 2 (number): there is no card “99” in FEN; there are “1”, “2”, “12a”
    c.csv, line 4, column 3 (count): “-3” is no count; write a whole number from 0 to 1000000
    c.csv, line 5: the row has 2 fields, the first line names 3 columns
    c.csv: 3 rows are bad and left out
    -- exit 1 --
    "#);
    table.file("f.csv", "set,number,name\nFEN,20,x\nFEN,20,y\nDAL,,z\n");
    assert_snapshot!(table.run(&["import", "checklist", "f.csv", "--skip-bad"]), @r"
    New: 1 card.
    binder FEN: new cards in room that was free
    -- told --
    f.csv, line 3, column 2 (number): the number “20” was given on line 2 already
    f.csv, line 4, column 2 (number): a card needs a number
    f.csv: 2 rows are bad and left out
    -- exit 1 --
    ");
}

/// A script reads standard output: one document (RFC 8259), whatever the file is.
#[test]
fn with_json_a_file_that_is_refused_is_answered_by_one_document() {
    let table = Table::with_fen();
    let before = table.kept();
    table.file("c.csv", "set,number,count\nFEN,99,1\nFEN,1,\"2\n");
    assert_snapshot!(table.run(&["import", "copies", "c.csv", "--json"]), @r#"
    {"format":"ringbound-import-refused","version":1,"file":"c.csv","why":"c.csv: 2 rows are bad; nothing was imported","refused":[{"line":2,"column":2,"name":"number","why":"there is no card “99” in FEN; there are “1”, “2”, “12a”"},{"line":3,"column":3,"name":"count","byte":7,"why":"the quote that opens here is never closed"}],"refused_rows":2}
    -- told --
    c.csv, line 2, column 2 (number): there is no card “99” in FEN; there are “1”, “2”, “12a”
    c.csv, line 3, byte 7, column 3 (count): the quote that opens here is never closed
    error: c.csv: 2 rows are bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    "#);
    table.file("n.csv", "set,nummer\n");
    assert_snapshot!(table.run(&["import", "copies", "n.csv", "--json"]), @r#"
    {"format":"ringbound-import-refused","version":1,"file":"n.csv","why":"n.csv: the column “number” is missing; there is “nummer”: did you mean that? Needed are set and number","refused":[],"refused_rows":0}
    -- told --
    error: n.csv: the column “number” is missing; there is “nummer”: did you mean that? Needed are set and number
    hint: nothing was imported
    -- exit 3 --
    "#);
    table.file("p.csv", b"\x89PNG\r\n");
    let picture = table.json_told(&["import", "checklist", "p.csv", "--json"]);
    assert_eq!(picture["refused"][0]["byte"], 1);
    assert_eq!(
        (&picture["refused_rows"], &picture["file"]),
        (&1.into(), &"p.csv".into())
    );
    for (what, why) in [
        ("none.csv", "there is no file none.csv"),
        ("shelf", "shelf is a folder"),
    ] {
        let output = table.output(&["import", "copies", what, "--json"]);
        assert_eq!(output.status.code(), Some(3), "{what}");
        let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
        assert_eq!(answer["format"], "ringbound-import-refused");
        assert!(answer["why"].as_str().unwrap().starts_with(why));
    }
    table.file(
        "many.csv",
        format!("set,number\n{}", "FEN,99\n".repeat(250)),
    );
    let many = table.json_told(&["import", "copies", "many.csv", "--json"]);
    assert_eq!(many["refused_rows"], 250);
    assert_eq!(many["refused"].as_array().unwrap().len(), 250);
    assert_eq!(table.kept(), before);
}

#[test]
fn every_bad_row_is_listed_with_its_line_and_column() {
    assert_snapshot!(refused("copies", "\
set,number,finish,count
FEN,1,,1
FNE,1,,1
FEN,012a,,1
FEN,2,revers,1
FEN,2,reverse,1
FEN,2,,-1
FEN,2,,99999999999
FEN,2,,some
FEN,2
"), @r"
    -- told --
    bad.csv, line 3, column 1 (set): there is no set “FNE”; did you mean “FEN”?
    bad.csv, line 4, column 2 (number): there is no card “012a” in FEN; did you mean “12a”?
    bad.csv, line 5, column 3 (finish): there is no finish “revers” in FEN; did you mean “reverse”?
    bad.csv, line 6, column 3 (finish): FEN 2 does not come in “reverse”; it comes in “regular”
    bad.csv, line 7, column 4 (count): “-1” is no count; write a whole number from 0 to 1000000
    bad.csv, line 8, column 4 (count): “99999999999” is no count; write a whole number from 0 to 1000000
    bad.csv, line 9, column 4 (count): “some” is no count; write a whole number from 0 to 1000000
    bad.csv, line 10: the row has 2 fields, the first line names 4 columns
    error: bad.csv: 8 rows are bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
    assert_snapshot!(refused("checklist", "\
set,number,name,set_title
DAL,1,Ember,Ashes
DAL,1,Ember,
DAL,2,Ember,Cinders
fen,3,Lamp,
DAL,3,\"a \"b\" c\",
DAL,,Lamp,
"), @r"
    -- told --
    bad.csv, line 3, column 2 (number): the number “1” was given on line 2 already
    bad.csv, line 4, column 4 (set_title): the title is “Ashes” on line 2; a set has one
    bad.csv, line 5, column 1 (set): “fen” differs from the set “FEN” in capitals only; write it the same way
    bad.csv, line 6, byte 11, column 3 (name): text behind the closing quote; a quote inside a field is doubled
    bad.csv, line 7, column 2 (number): a card needs a number
    error: bad.csv: 5 rows are bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
}

#[test]
fn after_a_hundred_bad_rows_the_rest_is_counted() {
    let told = refused("copies", format!("set,number\n{}", "FEN,99\n".repeat(250)));
    assert_eq!(
        told.lines().filter(|line| line.contains(", line ")).count(),
        100
    );
    assert!(
        told.contains("bad.csv: and 150 further bad rows\n"),
        "{told}"
    );
    assert!(
        told.contains("error: bad.csv: 250 rows are bad; nothing was imported"),
        "{told}"
    );
}

#[test]
fn what_is_no_csv_file_is_refused() {
    assert_snapshot!(refused("copies", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0"), @r"
    -- told --
    error: bad.csv: it is not a CSV text file: line 1, byte 1: a byte that is not UTF-8; save the file as UTF-8
    hint: nothing was imported
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", b"set,number\0\n"), @r"
    -- told --
    error: bad.csv: it is not a CSV text file: line 1, byte 11: a byte of value 0, which no text has
    hint: nothing was imported
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", b"\xFF\xFEs\0e\0t\0"), @r"
    -- told --
    error: bad.csv: it is UTF-16; save it as UTF-8
    hint: nothing was imported
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", ""), @r"
    -- told --
    error: bad.csv: it is empty; the first line names the columns: set,number,finish,count
    hint: nothing was imported
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", "set,nummer\nFEN,1\n"), @r"
    -- told --
    error: bad.csv: the column “number” is missing; there is “nummer”: did you mean that? Needed are set and number
    hint: nothing was imported
    -- exit 3 --
    ");
    // RFC 4180, section 2: fields are separated by commas. Spreadsheets of many countries write
    // semicolons (common practice, no source).
    assert_snapshot!(refused("copies", "set;number\nFEN;1\n"), @r"
    -- told --
    error: bad.csv: the column “set” is missing; the first line names “set;number”. Needed are set and number
    hint: nothing was imported; the columns seem to be separated by semicolons: save the file with commas
    -- exit 3 --
    ");
    let tabs = refused("copies", "set\tnumber\nFEN\t1\n");
    assert!(tabs.contains("separated by tabs: save"), "{tabs}");
    assert_snapshot!(refused("checklist", "set,number,number,name\n"), @r"
    -- told --
    error: bad.csv: the first line names the column “number” twice
    hint: nothing was imported
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", "set,number\n\"FEN,1\nFEN,2\n"), @r"
    -- told --
    bad.csv, line 2, byte 1, column 1 (set): the quote that opens here is never closed
    error: bad.csv: 1 row is bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", b"set,number\nFEN,1\nF\xC9N,2\n"), @r"
    -- told --
    bad.csv, line 3, byte 2, column 1 (set): a byte that is not UTF-8; save the file as UTF-8
    error: bad.csv: 1 row is bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
    assert_snapshot!(refused("copies", "set,number\nFEN,1\n\nFEN,2\n"), @r"
    -- told --
    bad.csv, line 3: the line is blank; take it out
    error: bad.csv: 1 row is bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
}

#[test]
fn a_huge_field_is_refused() {
    let told = refused(
        "checklist",
        format!("set,number,name\nFEN,7,{}\n", "x".repeat(10_000_000)),
    );
    assert!(told.len() < 1_000, "{told}");
    assert!(told.contains("bad.csv, line 2, byte"), "{told}");
}

#[test]
fn a_file_that_is_not_there_is_told() {
    let table = Table::with_fen();
    assert_snapshot!(table.run(&["import", "copies", "none.csv"]), @r"
    -- told --
    error: there is no file none.csv
    -- exit 3 --
    ");
    assert_eq!(table.exit(&["import", "copies", "shelf"]), 3, "a folder");
}

#[test]
fn a_header_alone_changes_nothing() {
    let table = Table::with_fen();
    table.file("c.csv", "set,number\r\n");
    let before = table.kept();
    assert_snapshot!(table.run(&["import", "copies", "c.csv"]), @r"
    No copies came in.
    -- exit 0 --
    ");
    assert_eq!(table.kept(), before);
}

/// ECMA-48 (1991): what ESC and the C1 controls do to a terminal; UAX #9: bidirectional controls.
#[test]
fn control_characters_are_kept_and_never_reach_the_terminal() {
    let table = Table::new();
    let name = "a\u{1b}[31mred\u{9b}\u{202e}\u{7}";
    table.file("f.csv", format!("set,number,name\nFEN,1,{name}\n"));
    table.ok(&["import", "checklist", "f.csv"]);
    for args in [
        &["gaps"][..],
        &["gaps", "--json"],
        &["show", "FEN"],
        &["show", "FEN", "--json"],
        &["import", "copies", "bad.csv", "--skip-bad"],
    ] {
        table.file("bad.csv", format!("set,number\nFEN,{name}\n"));
        let picture = table.run(args);
        let steers = |c: &char| c.is_control() && *c != '\n' || *c == '\u{202e}';
        assert_eq!(picture.chars().find(steers), None, "{args:?}: {picture:?}");
    }
    assert_eq!(table.json(&["gaps", "--json"])["gaps"][0]["name"], name);
    assert!(table.ok(&["export", "checklist", "-"]).contains(name));
}

#[test]
fn with_the_good_rows_taken_each_of_the_others_is_told() {
    let rows = "FEN,99\n".repeat(500);
    let file = format!("set,number\n{rows}FEN,1\n");
    let table = Table::with_fen();
    table.file("bad.csv", &file);
    let told = table.run(&["import", "copies", "bad.csv", "--skip-bad"]);
    assert_eq!(told.matches("bad.csv, line ").count(), 500);
    assert!(told.contains("bad.csv, line 501, "), "{told}");
    assert!(!told.contains("further"), "{told}");
    let answer = table.json_told(&["import", "copies", "bad.csv", "--skip-bad", "--json"]);
    assert_eq!(answer["refused"].as_array().unwrap().len(), 500);
    assert_eq!(answer["refused_rows"], 500);
    let answer = table.json_told(&["import", "copies", "bad.csv", "--json"]);
    assert_eq!(answer["refused"].as_array().unwrap().len(), 500);
}

#[test]
fn a_quote_that_is_left_open_swallows_no_row_behind_it() {
    let table = Table::with_fen();
    let good = "FEN,1\n".repeat(1_000);
    table.file("bad.csv", format!("set,number\nFEN,\"1\n{good}"));
    assert_snapshot!(table.run(&["import", "copies", "bad.csv", "--skip-bad"]), @r"
    1000 copies came in, loose.
    -- told --
    bad.csv, line 2, byte 5, column 2 (number): the quote that opens here is never closed
    bad.csv: 1 row is bad and left out
    -- exit 1 --
    ");
}

/// full(4) of the Linux manual: writing to /dev/full fails with ENOSPC.
#[cfg(target_os = "linux")]
#[test]
fn who_cannot_read_the_answer_is_told_that_the_step_is_kept() {
    let table = Table::with_fen();
    table.file("one.csv", "set,number\nFEN,1\n");
    for args in [&["import", "copies", "one.csv"][..], &["undo", "--json"]] {
        let full = std::fs::File::options().write(true).open("/dev/full");
        let output = table.command(args).stdout(full.unwrap()).output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{args:?}");
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(told.contains("kept all the same"), "{told}");
    }
    assert_eq!(
        table.json(&["history", "--json"])["undone"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
}

#[test]
fn a_mistyped_column_is_asked_about_before_anything_comes_in() {
    let table = Table::new();
    table.file(
        "c.csv",
        "set,number,name,finishs\nFEN,1,Reed,regular;reverse\n",
    );
    assert_snapshot!(table.run(&["import", "checklist", "c.csv"]), @"
    -- told --
    error: c.csv: the column “finishs” is not known: did you mean “finishes”?
    hint: nothing was imported; mend the first line, or leave the column out with --skip-bad
    -- exit 3 --
    ");
    assert_eq!(
        table.exit(&["import", "checklist", "c.csv", "--skip-bad"]),
        0
    );
}

#[test]
fn an_empty_field_that_is_needed_is_told_as_such() {
    let table = Table::with_fen();
    table.file("c.csv", "set,number,name\n,1,Reed\nFEN,,Reed\n");
    table.file("d.csv", "set,number\n,1\nFEN,\n");
    assert_snapshot!(table.run(&["import", "checklist", "c.csv"]), @"
    -- told --
    c.csv, line 2, column 1 (set): a card needs a set
    c.csv, line 3, column 2 (number): a card needs a number
    error: c.csv: 2 rows are bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
    assert_snapshot!(table.run(&["import", "copies", "d.csv"]), @"
    -- told --
    d.csv, line 2, column 1 (set): a copy needs a set
    d.csv, line 3, column 2 (number): a copy needs a number
    error: d.csv: 2 rows are bad; nothing was imported
    hint: mend the file, or take the good rows with --skip-bad
    -- exit 3 --
    ");
}
