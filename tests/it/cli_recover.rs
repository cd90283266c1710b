//! What a person meets when files are damaged, edited or of another time.

use insta::assert_snapshot;

use crate::support::Table;
use crate::support::mutate::{of_later_version, sealed_snapshot};

/// With one older snapshot: a second set came after it.
fn with_older() -> Table {
    let table = Table::with_fen();
    for (set, many) in [("BOG", 40), ("DAL", 40)] {
        table.ok(&["new", set, &format!("1 to {many}")]);
        let rows: String = (1..=many).map(|n| format!("{set},{n}\n")).collect();
        table.file("c.csv", format!("set,number\n{rows}"));
        table.ok(&["import", "copies", "c.csv"]);
    }
    table
}

/// Times are those of the files.
fn without_times(told: &str) -> String {
    told.lines()
        .map(|line| match line.split_once("20") {
            Some((before, rest)) if rest.contains('T') && rest.contains('Z') => {
                let after = rest.split_once('Z').unwrap().1;
                format!("{before}<time>{after}\n")
            }
            _ => format!("{line}\n"),
        })
        .collect()
}

#[test]
fn older_snapshots_are_listed_and_one_can_be_gone_back_to_and_forth() {
    let table = with_older();
    assert_snapshot!(without_times(&table.run(&["recover"])), @"
    The collection is whole.

    Earlier states of the collection, the newest first; ringbound recover --restore
    STATE goes back:
    state  written               sets  copies
        1  <time>     1       0
    -- exit 0 --
    ");
    let now = table.ok(&["completion"]);
    let before = table.kept();
    assert_snapshot!(table.run(&["recover", "--restore", "99"]), @"
    -- told --
    error: there is no earlier state 99
    hint: ringbound recover lists them
    -- exit 2 --
    ");
    assert_eq!(table.kept(), before, "nothing was changed");
    let record = table.json(&["recover", "--json"])["older"][0]["record"].to_string();
    let output = table.output(&["recover", "--restore", &record, "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let answer: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["whole"], true);
    assert_ne!(table.ok(&["completion"]), now);
    // Every file that was there is still there, somewhere.
    let after: Vec<_> = table.kept().into_values().collect();
    for (path, bytes) in before {
        assert!(after.contains(&bytes), "{}", path.display());
    }
    // The collection as it was stands among the older ones now.
    let older = answer["older"].as_array().unwrap();
    let record = older[0]["record"].to_string();
    assert_eq!(table.exit(&["recover", "--restore", &record]), 0);
    assert_eq!(table.ok(&["completion"]), now);
    assert_eq!(table.ok(&["check"]), "The collection is whole.\n");
    table.ok(&["new", "TRN", "1"]);
    table.ok(&["undo"]);
    assert_eq!(table.ok(&["completion"]), now);
}

#[test]
fn a_hand_edit_is_accepted_or_put_back_as_its_owner_says() {
    for accept in [true, false] {
        let table = with_older();
        let was = table.ok(&["gaps"]);
        let edited = table
            .read("shelf/collection.json")
            .replace("Mire Lamp", "Mire Lantern");
        table.file("shelf/collection.json", &edited);
        let before = table.kept();
        if accept {
            assert_snapshot!(table.run(&["check"]), @"
            The collection is not whole:
            collection.json is not as it was written: it was altered by hand or is damaged. It is shown as it now is; nothing was overwritten
            -- told --
            hint: if you altered it, ringbound recover --accept takes it as it now is; if not, ringbound recover --put-back has it as it was before
            -- exit 4 --
            ");
            assert_eq!(
                table.exit(&["new", "TRN", "1"]),
                4,
                "nothing is decided silently"
            );
            assert_eq!(table.kept(), before);
        }
        let how = if accept { "--accept" } else { "--put-back" };
        assert_eq!(table.exit(&["recover", how]), 0);
        let gaps = table.ok(&["gaps"]);
        assert_eq!(gaps.contains("Mire Lantern"), accept);
        assert_eq!(gaps == was, !accept);
        assert_eq!(table.ok(&["check"]), "The collection is whole.\n");
        let aside = table.kept();
        let mut aside = aside
            .iter()
            .filter(|(path, _)| path.components().any(|c| c.as_os_str() == "set-aside"));
        assert!(aside.any(|(_, bytes)| bytes == edited.as_bytes()));
        table.ok(&["new", "TRN", "1"]);
        assert_snapshot!("nothing_to_decide", table.run(&["recover", how]));
    }
}

#[test]
fn what_was_set_aside_is_told_in_words() {
    let table = Table::with_fen();
    let journal = table.read("shelf/journal");
    table.file("shelf/journal", format!("{journal}{{\"seq\":2,\"pr"));
    assert_snapshot!(table.run(&["new", "BOG", "1"]), @"
    New: 1 set, 1 card, 1 binder and 1 page.
    -- told --
    warning: the last line of the journal (line 3, 12 bytes) was cut off while it was written, so that step was never kept; its bytes are in <folder>/shelf/set-aside/journal-after-1-1
    -- exit 0 --
    ");
    assert_snapshot!(table.run(&["recover"]), @"
    The collection is whole.

    No earlier state is kept yet.

    Set aside in <folder>/shelf/set-aside, and never removed by this program:
      journal-after-1-1, 12 bytes: the end of a line that was cut off while it was written; that step was never kept
    -- exit 0 --
    ");
    let none = Table::new();
    assert_eq!(none.exit(&["recover"]), 0);
    assert!(!none.shelf().exists());
}

#[test]
fn a_collection_of_a_later_version_is_read_as_far_as_this_one_can() {
    let table = with_older();
    let later = table
        .read("shelf/journal")
        .replacen("\"version\":1", "\"version\":2", 1);
    table.file("shelf/journal", later);
    let before = table.kept();
    assert_snapshot!(table.run(&["recover"]), @"
    The collection is not whole:
    a later version of this program wrote <folder>/shelf/journal (version 2 of its format). The collection is shown as <folder>/shelf/collection.json has it; nothing was changed

    Earlier states of the collection, the newest first:
    state  written               sets  copies
        1  <time>     1       0
    -- told --
    hint: open it with that later version; ringbound recover lists what else is kept
    -- exit 4 --
    ");
    assert_eq!(table.exit(&["completion"]), 4);
    assert_eq!(table.exit(&["check", "--mend"]), 4);
    assert_eq!(table.exit(&["new", "TRN", "1"]), 4);
    assert_eq!(table.kept(), before);
}

/// What a person meets who opens, with this program, what a later one has written.
#[test]
fn a_snapshot_of_a_later_version_is_told_and_answered_from() {
    let table = with_older();
    let answers = [&["completion"][..], &["gaps"], &["export", "copies", "-"]];
    let was = answers.map(|arguments| table.ok(arguments));
    let later = of_later_version(&table.read("shelf/collection.json"));
    table.file("shelf/collection.json", &later);
    let before = table.kept();
    assert_snapshot!("later_check", table.run(&["check"]));
    assert_snapshot!("later_new", table.run(&["new", "TRN", "1"]));
    for (arguments, was) in answers.iter().zip(was) {
        let output = table.output(arguments);
        assert_eq!(String::from_utf8(output.stdout).unwrap(), was);
        let told = String::from_utf8(output.stderr).unwrap();
        assert!(told.contains("some things may be missing"), "{told}");
        assert_eq!(output.status.code(), Some(4));
    }
    let answer = table.json_told(&["check", "--json"]);
    assert_eq!(answer["whole"], false);
    assert_eq!(table.kept(), before);
    // What cannot be read by the rules of this version.
    let otherwise = later.replacen("\"cards\":[", "\"cards\":[7,", 1);
    table.file("shelf/collection.json", sealed_snapshot(&otherwise));
    let before = table.kept();
    assert_snapshot!("later_not_understood_check", table.run(&["check"]));
    assert_snapshot!("later_not_understood_recover", table.run(&["recover"]));
    assert_eq!(table.exit(&["gaps"]), 4);
    assert_eq!(table.kept(), before);
    std::fs::remove_dir_all(table.path("shelf/older")).unwrap();
    assert_snapshot!("later_nothing_kept", table.run(&["check"]));
    assert_snapshot!("later_nothing_kept_gaps", table.run(&["gaps"]));
}

/// The card's number is written so that the file cannot be read any more.
fn broken(collection: &str) -> String {
    let edited = collection.replacen("\"number\":\"1\"", "\"number\":\"1", 1);
    assert_ne!(edited, collection);
    edited
}

#[test]
fn an_edit_that_cannot_be_read_is_put_back_but_not_accepted() {
    let table = with_older();
    let was = table.ok(&["gaps"]);
    let edited = broken(&table.read("shelf/collection.json"));
    table.file("shelf/collection.json", &edited);
    let before = table.kept();
    let told = table.run(&["recover", "--accept"]);
    assert!(told.contains("collection.json cannot be read"), "{told}");
    assert!(told.ends_with("-- exit 4 --"), "{told}");
    assert_eq!(table.kept(), before);
    assert_snapshot!(table.run(&["recover", "--put-back"]).split_once("\n\n").unwrap().0, @"The collection is whole.");
    assert_eq!(table.ok(&["gaps"]), was);
    let aside = table.kept();
    assert!(aside.into_values().any(|bytes| bytes == edited.as_bytes()));
}

#[test]
fn what_is_put_back_is_told_and_what_would_be_lost_is_refused() {
    let table = with_older();
    let edit = |from: &str, to: &str| {
        let edited = table.read("shelf/collection.json").replace(from, to);
        table.file("shelf/collection.json", edited);
    };
    edit("Mire Lamp", "Mire Lantern");
    let told = table.run(&["recover", "--put-back"]);
    assert_snapshot!(told.split_once("-- told --\n").unwrap().1, @"
    the collection is as it was before collection.json was altered; the files as they were with that: <folder>/shelf/set-aside/collection.json-1, <folder>/shelf/set-aside/journal-1
    -- exit 0 --
    ");
    // What was accepted stands in no step.
    edit("Mire Lamp", "Mire Lantern");
    assert_eq!(table.exit(&["recover", "--accept"]), 0);
    edit("Mire Lantern", "Mire Candle");
    let before = table.kept();
    assert_snapshot!(table.run(&["recover", "--put-back"]), @"
    -- told --
    error: collection.json cannot be put back as it was: the newest whole state that is kept is <folder>/shelf/older/collection-1.json, and the 6 steps since would be lost
    hint: nothing was changed; ringbound recover lists earlier states, and --restore goes back to one
    -- exit 4 --
    ");
    assert_eq!(table.kept(), before);
}

#[test]
fn where_there_is_no_collection_there_is_nothing_to_go_back_from() {
    let table = Table::new();
    for how in [&["--accept"][..], &["--put-back"], &["--restore", "3"]] {
        let told = table.run(&[&["recover"], how].concat());
        assert!(told.contains("there is no collection in"), "{told}");
        assert!(told.ends_with("-- exit 2 --"), "{told}");
    }
    assert!(!table.shelf().exists());
}
