//! Sections on the command line: templates, a draft, growth, and what is wrong.

use insta::assert_snapshot;
use serde_json::json;

use crate::support::Table;

/// Ten cards in two finishes, two of them rare; three copies in their pockets.
fn heath() -> Table {
    let table = Table::new();
    let mut rows = "set,number,name,rarity,finishes\n".to_owned();
    for number in 1..=10 {
        let rarity = if number % 5 == 0 { "rare" } else { "common" };
        rows.push_str(&format!(
            "HEA,{number},Bird {number},{rarity},regular;reverse\n"
        ));
    }
    table.file("heath.csv", &rows);
    table.ok(&["import", "checklist", "heath.csv", "--page", "2x2"]);
    table.file(
        "have.csv",
        "set,number,finish\nHEA,1,\nHEA,5,\nHEA,5,reverse\n",
    );
    table.ok(&["import", "copies", "have.csv", "--in-place"]);
    table
}

#[test]
fn a_template_makes_a_draft_that_can_be_planned() {
    let table = heath();
    assert_snapshot!(
        "layout_draft",
        table.run(&[
            "layout",
            "draft",
            "HEA",
            "--template",
            "rares in front; pack",
            "--name",
            "autumn"
        ])
    );
    assert_snapshot!(
        "layout_show_json",
        table.run(&["layout", "show", "HEA", "--draft", "autumn", "--json"])
    );
    table.ok(&["plan", "HEA", "--draft", "autumn"]);
    table.ok(&["undo"]);
    let refused = table.run(&["layout", "show", "HEA", "--draft", "autumn"]);
    assert!(refused.contains("no draft"), "{refused}");
}

#[test]
fn rules_come_from_a_file_and_are_told_where_they_are_wrong() {
    let table = heath();
    table.file(
        "wrong.txt",
        "# mine\nRares: rarity rare; page 3x3\nOdd: by colour\n",
    );
    assert_snapshot!(
        "layout_wrong_line",
        table.run(&["layout", "draft", "HEA", "--rules", "wrong.txt"])
    );
    table.file(
        "never.txt",
        "Rares: rarity rare; page 2x2\nFew: numbers 1 to 5; page 2x2\nNone: rarity scarce; page 1\n",
    );
    assert_snapshot!(
        "layout_never_draft",
        table.run(&["layout", "draft", "HEA", "--rules", "never.txt"])
    );
    assert_snapshot!(
        "layout_never_show",
        table.run(&["layout", "show", "HEA", "--rules", "never.txt"])
    );
    let drafts = table.run(&["layout", "show", "HEA"]);
    assert!(drafts.contains("there are no sections yet"), "{drafts}");
    let gone = table.run(&["layout", "draft", "HEA", "--rules", "gone.txt"]);
    assert!(gone.contains("there is no file gone.txt"), "{gone}");
}

#[test]
fn own_sections_are_kept_under_a_name_and_serve_another_set() {
    let table = heath();
    table.file(
        "mine.txt",
        "First: finish main; by name; page 2x2\nOther: the rest; page 2x2\n",
    );
    table.ok(&["layout", "save", "my way", "HEA", "--rules", "mine.txt"]);
    table.ok(&["new", "DAL", "1 to 9, in regular and lamplit"]);
    assert_snapshot!(
        "layout_own_on_another_set",
        table.run(&["layout", "draft", "DAL", "--template", "my way"])
    );
    assert_eq!(
        table.json(&["layout", "templates", "--json"]),
        json!({
            "format": "ringbound-templates",
            "version": 1,
            "templates": [{
                "name": "my way",
                "own": true,
                "sections": ["First: finish main; by name; page 2x2", "Other: the rest; page 2x2"],
            }],
        })
    );
    table.ok(&["layout", "throw-away", "my way"]);
    assert_snapshot!(
        "layout_none_of_ones_own",
        table.run(&["layout", "templates"])
    );
}

/// Counted by hand: 12 cards in each finish on pages of 8 pockets.
#[test]
fn a_grown_set_is_compared_both_ways() {
    let table = heath();
    let rules = "Regulars: finish main; page 2x2\nReverses: finish others; page 2x2\n";
    table.file("mine.txt", rules);
    table.ok(&[
        "layout", "draft", "HEA", "--rules", "mine.txt", "--name", "rules",
    ]);
    table.file(
        "more.csv",
        "set,number,name,rarity,finishes\nHEA,2a,Late Bird,common,regular;reverse\n\
         HEA,11,Last Bird,common,regular;reverse\n",
    );
    table.ok(&["import", "checklist", "more.csv"]);
    assert_snapshot!(
        "layout_growth",
        table.run(&["layout", "growth", "HEA", "--rules", "mine.txt"])
    );
    assert_snapshot!(
        "layout_growth_json",
        table.run(&[
            "layout", "growth", "HEA", "--draft", "rules", "--make", "in-order", "--json"
        ])
    );
    assert_snapshot!(
        "layout_grown_draft",
        table.run(&["layout", "show", "HEA", "--draft", "all in order"])
    );
}

/// What this program laid out itself follows its own template without that having been kept.
#[test]
fn a_grown_set_is_compared_where_no_sections_were_kept() {
    let table = heath();
    let grow = |numbers: &[&str]| {
        let mut rows = "set,number,name,rarity,finishes\n".to_owned();
        for number in numbers {
            rows.push_str(&format!("HEA,{number},Late Bird,common,regular;reverse\n"));
        }
        table.file("more.csv", rows);
        table.ok(&["import", "checklist", "more.csv"]);
    };
    grow(&["2a", "11"]);
    let told = table.run(&["layout", "growth", "HEA"]);
    let by = "all in order: by the template “Regulars, then reverses”, as which the binder stands.";
    assert!(told.contains(by), "{told}");
    // A list that goes on upwards, on pages of its own at the end.
    grow(&["12", "13", "14", "15", "16", "17", "18"]);
    assert!(table.run(&["layout", "growth", "HEA"]).contains(by));
    table.ok(&["runs", "--set", "HEA", "--leave-out", "regular"]);
    assert_snapshot!(table.run(&["layout", "growth", "HEA"]), @"
    -- told --
    error: there are no sections yet, and the binder stands as none of the templates has it: make a draft by one and adopt it first
    hint: --template NAME begins with one of the usual ways, --rules FILE with your own
    -- exit 2 --
    ");
}

/// The words between the brackets are for the reader.
fn without_remarks(text: &str) -> String {
    let mut depth = 0_u32;
    let mut kept = String::new();
    for c in text.chars() {
        match c {
            '(' => depth += 1,
            ')' => depth -= 1,
            c if depth == 0 => kept.push(c),
            _ => {}
        }
    }
    kept
}

/// Every clause that the help teaches is read, and means something for a set that has what it
/// speaks of; so is every section that it gives as an example.
#[test]
fn what_the_help_says_of_sections_can_be_written() {
    let table = Table::new();
    let mut rows = "set,number,name,rarity,finishes\n".to_owned();
    let numbers = (1..=80).map(|number| number.to_string());
    for number in numbers.chain((1..=6).map(|number| format!("P{number}"))) {
        let rarity = ["common", "scarce", "rare"][number.len() % 3];
        rows.push_str(&format!("FEN,{number},Reed,{rarity},regular;reverse\n"));
    }
    table.file("fen.csv", &rows);
    table.ok(&["import", "checklist", "fen.csv"]);
    let help = table.ok(&["layout", "--help"]);
    let (_, help) = help.split_once("A section is one line:").unwrap();
    let (_, help) = help.split_once('\n').unwrap();
    let (clauses, examples) = help
        .split_once("A card goes to the first section that matches it.\n")
        .unwrap();
    // Behind the headings.
    let clauses = clauses.lines().filter_map(|line| line.get(16..));
    let clauses = without_remarks(&clauses.collect::<Vec<_>>().join(" ; "));
    let mut tried = 0;
    let mut show = |section: &str| {
        let told = table.run_with_input(
            &["layout", "show", "FEN", "--rules", "-"],
            section.as_bytes(),
        );
        let fits = told.contains("-- exit 0 --") || told.contains("-- exit 1 --");
        assert!(
            fits && !told.contains("the set has no"),
            "{section}: {told}"
        );
        tried += 1;
    };
    for clause in clauses.split(';').map(str::trim) {
        if !clause.is_empty() {
            show(&format!("A: {clause}"));
        }
    }
    for section in examples.lines().filter(|line| line.starts_with("  ")) {
        show(section);
    }
    assert!(tried > 25, "{tried}");
}

#[test]
fn of_templates_that_begin_alike_each_is_named_and_of_a_misspelt_one_the_nearest() {
    let table = heath();
    let show = |name| table.run(&["layout", "show", "HEA", "--template", name]);
    assert_snapshot!(show("Rares in"), @"
    -- told --
    error: more than one template begins with “Rares in”: “Rares in front, reverses behind”, “Rares in front; pack art, packaging behind”
    hint: ringbound layout templates BINDER lists those that there are
    -- exit 2 --
    ");
    assert_snapshot!(show("Rares in frnt, reverses behind"), @"
    -- told --
    error: there is no template “Rares in frnt, reverses behind”; did you mean “Rares in front, reverses behind”?
    hint: ringbound layout templates BINDER lists those that there are
    -- exit 2 --
    ");
}
