//! Files that go out, and a folder that is locked, damaged, full or not there.

use std::process::Stdio;

use insta::assert_snapshot;
use ringbound::session::{Open, Session};

use crate::support::Table;

#[test]
fn what_was_imported_is_exported() {
    let table = Table::with_fen();
    table.ok(&["export", "checklist", "out.csv"]);
    assert_snapshot!(table.read("out.csv").replace('\r', "<CR>"), @r#"
    set,number,name,set_title,symbol,shelf,rarity,finishes,width_mm,height_mm<CR>
    FEN,1,Mire Lamp,The Fen,,,common,regular;reverse,,<CR>
    FEN,2,Reed Boat,The Fen,,,common,regular,,<CR>
    FEN,12a,"Heron, ""Old""",The Fen,,,rare,regular;reverse,,<CR>
    "#);
    let rows = "set,number,finish,count\r\nFEN,1,regular,2\r\nFEN,12a,reverse,1\r\n";
    table.file("copies.csv", rows);
    table.ok(&["import", "copies", "copies.csv", "--in-place"]);
    assert_eq!(table.ok(&["export", "copies", "-"]), rows);
    assert_eq!(table.ok(&["export", "copies", "-", "--set", "fen"]), rows);
    // Into an empty collection and out again: the same bytes.
    let other = Table::new();
    other.file("in.csv", table.read("out.csv"));
    other.ok(&["import", "checklist", "in.csv"]);
    other.ok(&["export", "checklist", "out.csv"]);
    assert_eq!(other.read("out.csv"), table.read("out.csv"));
}

#[test]
fn gaps_and_spares_are_exported_with_their_places_and_can_be_imported() {
    let table = Table::with_fen();
    table.file("c.csv", "set,number,count\nFEN,1,3\n");
    table.ok(&["import", "copies", "c.csv", "--in-place"]);
    table.ok(&["export", "gaps", "gaps.csv"]);
    table.ok(&["export", "spares", "spares.csv"]);
    assert_snapshot!(table.read("gaps.csv").replace('\r', ""), @r#"
    set,number,finish,count,name,rarity,binder,page,side,row,column
    FEN,2,regular,1,Reed Boat,common,FEN,1,front,2,1
    FEN,12a,regular,1,"Heron, ""Old""",rare,FEN,2,front,1,1
    FEN,1,reverse,1,Mire Lamp,common,FEN,3,front,1,1
    FEN,12a,reverse,1,"Heron, ""Old""",rare,FEN,3,front,2,1
    "#);
    assert_snapshot!(table.read("spares.csv").replace('\r', ""), @r"
    set,number,finish,count,name,rarity,binder,page,side,row,column
    FEN,1,regular,2,Mire Lamp,common,FEN,1,front,1,1
    ");
    // A want list that was bought: every gap is filled.
    let output = table.output(&["import", "copies", "gaps.csv", "--in-place"]);
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(
        table.json(&["gaps", "--json"])["gaps"],
        serde_json::json!([])
    );
}

/// POSIX.1-2017, chmod: who may read a file is kept with it.
#[cfg(unix)]
#[test]
fn a_file_that_is_written_over_is_for_those_who_could_read_it() {
    use std::os::unix::fs::PermissionsExt;
    let table = Table::with_fen();
    table.file("out.csv", "mine");
    let mode = |mode| std::fs::Permissions::from_mode(mode);
    std::fs::set_permissions(table.path("out.csv"), mode(0o600)).unwrap();
    table.ok(&["export", "copies", "out.csv", "--overwrite"]);
    let after = std::fs::metadata(table.path("out.csv"))
        .unwrap()
        .permissions();
    assert_eq!(after.mode() & 0o777, 0o600);
}

#[test]
fn a_file_that_is_there_is_not_written_over() {
    let table = Table::with_fen();
    table.file("out.csv", "mine");
    assert_snapshot!(table.run(&["export", "copies", "out.csv"]), @r"
    -- told --
    error: out.csv is there already
    hint: name another file, or write over it with --overwrite
    -- exit 2 --
    ");
    assert_eq!(table.read("out.csv"), "mine");
    assert_snapshot!(table.run(&["export", "copies", "out.csv", "--overwrite"]), @r"
    Written: out.csv
    -- exit 0 --
    ");
    assert_eq!(table.read("out.csv"), "set,number,finish,count\r\n");
    let before = table.kept();
    assert_eq!(
        table.exit(&["export", "copies", "shelf/journal", "--overwrite"]),
        2
    );
    assert_eq!(table.exit(&["export", "copies", "shelf", "--overwrite"]), 2);
    // As it was called before.
    table.ok(&["export", "copies", "out.csv", "--force"]);
    assert_snapshot!(table.run(&["export", "copies", "none/out.csv"]), @r"
    -- told --
    error: there is no folder none
    -- exit 2 --
    ");
    assert_eq!(table.kept(), before);
    let names = std::fs::read_dir(table.path(".")).unwrap();
    let left: Vec<_> = names.map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left.len(), 3, "no temporary file is left: {left:?}");
}

/// Common practice, no source: a set of 300 cards, each in two finishes, in pages of nine pockets
/// a side: 34 sides, 17 pages for each finish.
#[test]
fn a_whole_set_goes_from_file_to_shelf_and_back() {
    let table = Table::new();
    let mut checklist = String::from("set,number,name,finishes\r\n");
    let mut copies = String::from("set,number,finish,count\r\n");
    for number in 1..=300 {
        checklist.push_str(&format!(
            "FEN,{number:03},Card {number},regular;reverse\r\n"
        ));
        if number % 3 != 0 {
            copies.push_str(&format!("FEN,{number:03},regular,{}\r\n", 1 + number % 2));
        }
    }
    table.file("set.csv", checklist);
    table.file("copies.csv", &copies);
    assert_snapshot!(table.run(&["import", "checklist", "set.csv"]), @r"
    New: 1 set, 300 cards, 1 binder and 34 pages.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["import", "copies", "copies.csv", "--in-place"]), @r"
    300 copies came in: 200 in their pockets, 100 loose.
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["completion"]), @r"
    set  part     held  in place  missing  total  share
    FEN  all       200       200      400    600   33 %
         regular   200       200      100    300   66 %
         reverse     0         0      300    300    0 %
    -- exit 0 --
    ");
    assert_eq!(
        table.json(&["gaps", "--json"])["gaps"]
            .as_array()
            .unwrap()
            .len(),
        400
    );
    assert_eq!(
        table.json(&["spares", "--json"])["spares"]
            .as_array()
            .unwrap()
            .len(),
        100
    );
    // 018 is the last card of page 1, at the end of its back.
    let page = table.json(&["show", "FEN", "1", "--side", "back", "--json"]);
    let last = &page["pages"][0]["pockets"][8];
    assert_eq!((&last["row"], &last["column"]), (&3.into(), &3.into()));
    assert_eq!(last["wanted"]["number"], "018");
    assert_eq!(table.ok(&["export", "copies", "-"]), copies);
    assert_eq!(table.json(&["check", "--json"])["whole"], true);
    table.ok(&["undo"]);
    assert_eq!(
        table.ok(&["export", "copies", "-"]),
        "set,number,finish,count\r\n"
    );
}

#[test]
fn beside_a_program_that_writes_reading_works_and_writing_is_refused() {
    let table = Table::with_fen();
    let clock = Box::new(|| "2026-01-02T03:04:05Z".into());
    let held = Session::open(&table.shelf(), Open::ForWriting, clock).unwrap();
    let before = table.kept();
    assert_eq!(table.json(&["completion", "--json"])["sets"][0]["total"], 5);
    table.file("c.csv", "set,number\nFEN,1\n");
    assert_snapshot!(table.run(&["import", "copies", "c.csv"]), @r"
    -- told --
    error: another program has this collection open and writes to it
    hint: end the other program, or let it do what it does, and try again
    -- exit 5 --
    ");
    for args in [
        &["undo"][..],
        &["redo"],
        &["new", "BOG", "1"],
        &["import", "checklist", "fen.csv"],
    ] {
        assert_eq!(table.exit(args), 5, "{args:?}");
    }
    assert_eq!(table.kept(), before);
    drop(held);
    assert_eq!(table.exit(&["import", "copies", "c.csv"]), 0);
}

#[test]
fn a_damaged_collection_is_told_and_left_as_it_is() {
    let table = Table::with_fen();
    table.ok(&["new", "BOG", "1"]);
    table.ok(&["new", "DAL", "1"]);
    let journal = table.read("shelf/journal");
    table.file("shelf/journal", journal.replacen("BOG", "BOK", 1));
    let before = table.kept();
    assert_snapshot!(table.run(&["check"]), @r"
    The collection is not whole:
    the journal is damaged at line 3: its checksum does not hold. The collection is shown as it was before that line; nothing was overwritten
    -- told --
    hint: ringbound check --mend goes on with what can be read, and keeps the files as they are beside it
    -- exit 4 --
    ");
    assert_eq!(table.exit(&["check", "--json"]), 4);
    assert_snapshot!(table.run(&["new", "TRN", "1"]), @r"
    -- told --
    error: the journal is damaged at line 3: its checksum does not hold. The collection is shown as it was before that line; nothing was overwritten
    hint: nothing was changed; ringbound check --mend goes on with what can be read, and keeps the files as they are beside it
    -- exit 4 --
    ");
    let output = table.output(&["completion", "--json"]);
    assert_eq!(output.status.code(), Some(4));
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(
        answer["sets"].as_array().unwrap().len(),
        1,
        "what can be read is answered"
    );
    assert_eq!(table.kept(), before);
    table.file("shelf/collection.json", "{}");
    assert_eq!(table.exit(&["gaps"]), 4);
    let check = table.json_told(&["check", "--json"]);
    assert_eq!(check["whole"], false);
    assert_eq!(check["problems"].as_array().unwrap().len(), 2);
}

#[test]
fn a_broken_snapshot_is_made_again_from_the_journal() {
    let table = Table::with_fen();
    table.ok(&["new", "BOG", "1"]);
    let gaps = table.ok(&["gaps"]);
    table.file("shelf/collection.json", "x\n");
    let output = table.output(&["gaps"]);
    assert_eq!(output.status.code(), Some(4));
    assert_eq!(String::from_utf8(output.stdout).unwrap(), gaps);
    assert_eq!(
        table.exit(&["check", "--mend"]),
        1,
        "told as a loss of the file"
    );
    assert_eq!(table.ok(&["gaps"]), gaps);
    assert_eq!(table.ok(&["check"]), "The collection is whole.\n");
}

#[test]
fn a_folder_that_cannot_be_written_is_read_and_a_change_is_refused() {
    let table = Table::with_fen();
    // No lock can be taken where a folder has its name, whoever runs the test.
    std::fs::remove_file(table.path("shelf/lock")).unwrap();
    std::fs::create_dir(table.path("shelf/lock")).unwrap();
    assert_eq!(table.exit(&["gaps"]), 0);
    let told = table.run(&["new", "BOG", "1"]);
    assert!(
        told.contains(
            "hint: the collection can be read; to change it, its folder must be writable"
        ),
        "{told}"
    );
    assert!(told.ends_with("-- exit 4 --"), "{told}");
}

/// POSIX.1-2017, open(): ENOTDIR, a part of the path is no folder.
#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_looked_for_is_told_and_is_no_empty_collection() {
    let table = Table::new();
    table.file("shelf", "no folder");
    let under = table.path("shelf/x").display().to_string();
    assert_snapshot!(table.run(&["--data", &under, "gaps"]), @r"
    -- told --
    error: could not look for <folder>/shelf/x: Not a directory (os error 20)
    -- exit 4 --
    ");
    for args in [&["check"][..], &["check", "--mend"], &["new", "BOG", "1"]] {
        let output = table.output(&[&["--data", &under], args].concat());
        assert_eq!(output.status.code(), Some(4), "{args:?}");
    }
}

#[test]
fn what_can_be_read_of_a_damaged_collection_is_taken_when_asked_for() {
    let table = Table::with_fen();
    table.ok(&["new", "BOG", "1"]);
    table.ok(&["new", "DAL", "1"]);
    assert_eq!(table.ok(&["check", "--mend"]), "The collection is whole.\n");
    let damaged = table.read("shelf/journal").replacen("BOG", "BOK", 1);
    table.file("shelf/journal", &damaged);
    let held = Session::open(&table.shelf(), Open::ForWriting, Box::new(String::new)).unwrap();
    assert_eq!(
        table.exit(&["check", "--mend"]),
        5,
        "another holds the lock"
    );
    drop(held);
    let mended = table.output(&["check", "--mend", "--json"]);
    assert_eq!(mended.status.code(), Some(1), "a step was lost and told");
    let answer: serde_json::Value = serde_json::from_slice(&mended.stdout).unwrap();
    assert_eq!(answer["whole"], true);
    let kept = table.kept();
    let mut aside = kept
        .iter()
        .filter(|(path, _)| path.parent().unwrap().ends_with("set-aside"));
    assert!(
        aside.any(|(_, bytes)| bytes == damaged.as_bytes()),
        "nothing is thrown away"
    );
    assert_eq!(table.ok(&["check"]), "The collection is whole.\n");
    assert_eq!(
        table.json(&["completion", "--json"])["sets"][0]["set"],
        "FEN"
    );
    table.ok(&["new", "TRN", "1"]);
    // Where there is nothing there is nothing to mend, and nothing is made.
    let none = Table::new();
    assert_eq!(none.exit(&["check", "--mend"]), 0);
    assert!(!none.shelf().exists());
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let table = Table::with_fen();
    // More than a buffer holds, so that writing fails in the midst of an answer too.
    table.ok(&["new", "BIG", "1 to 8000"]);
    for args in [
        &["gaps"][..],
        &["gaps", "--set", "FEN"],
        &["gaps", "--json"],
        &["export", "checklist", "-"],
        &["export", "copies", "-"],
        &["--help"],
    ] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let mut command = table.command(args);
        command.stdout(writer).stderr(Stdio::piped());
        let output = command.output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{args:?}");
        assert_eq!(output.stderr, b"", "{args:?}");
    }
}

/// full(4) of the Linux manual: writing to /dev/full fails with ENOSPC.
#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_an_error() {
    let table = Table::with_fen();
    for args in [
        &["gaps"][..],
        &["gaps", "--json"],
        &["export", "checklist", "-"],
        &["--help"],
    ] {
        let full = std::fs::OpenOptions::new()
            .write(true)
            .open("/dev/full")
            .unwrap();
        let output = table.command(args).stdout(full).output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{args:?}");
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(
            told.starts_with("error: could not write to standard output: "),
            "{told}"
        );
    }
}

#[cfg(unix)]
#[test]
fn the_folder_is_the_one_asked_for_then_that_of_the_platform() {
    let table = Table::new();
    let run = |env: &[(&str, &str)], args: &[&str]| {
        let mut command = table.command(args);
        command.env_remove("RINGBOUND_DATA");
        command.envs(env.iter().map(|(name, value)| (name, table.path(value))));
        assert!(command.output().unwrap().status.success());
    };
    run(
        &[("RINGBOUND_DATA", "a"), ("XDG_DATA_HOME", "x")],
        &["new", "BOG", "1"],
    );
    run(
        &[("XDG_DATA_HOME", "x"), ("HOME", "h")],
        &["new", "BOG", "1"],
    );
    run(
        &[("RINGBOUND_DATA", "a")],
        &["new", "BOG", "1", "--data", "d"],
    );
    for folder in ["a", "x/ringbound", "d"] {
        assert!(table.path(folder).join("journal").exists(), "{folder}");
    }
    assert!(!table.path("h").exists());
}

#[test]
fn a_command_that_fails_makes_no_folder() {
    let table = Table::new();
    table.file("bad.csv", "set,number\nFEN,1\n");
    for args in [
        &["rings", "X", "40", "D"][..],
        &["runs", "--set", "X", "--leave-out", "r"],
        &["layout", "draft", "X", "--template", "y"],
        &["layout", "growth", "X", "--make", "in-order"],
        &["layout", "save", "z", "X"],
        &["layout", "throw-away", "x"],
        &["drafts", "X", "--adopt", "y"],
        &["import", "copies", "bad.csv"],
        &["new", "X", "1 to"],
    ] {
        let told = table.run(args);
        assert!(
            told.ends_with("-- exit 2 --") || told.ends_with("-- exit 3 --"),
            "{args:?}: {told}"
        );
        assert!(!table.shelf().exists(), "{args:?}");
    }
    table.ok(&["new", "FEN", "1 to 3"]);
    assert_eq!(table.ok(&["check"]), "The collection is whole.\n");
}
