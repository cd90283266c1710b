//! What the README shows of files and commands is taken by the program as it stands there.

use clap::CommandFactory;
use clap::error::ErrorKind;
use ringbound::cli::Cli;
use ringbound::settings::{Settings, changed, read};
use ringbound::ui::known;

use crate::support::Table;

const README: &str = include_str!("../../README.md");

/// The blocks of this kind, without their fences.
fn blocks(kind: &str) -> Vec<String> {
    let fence = format!("```{kind}");
    let mut lines = README.lines();
    let mut found = Vec::new();
    while lines.any(|line| line == fence) {
        let block = lines.by_ref().take_while(|line| *line != "```");
        found.push(block.map(|line| format!("{line}\n")).collect());
    }
    found
}

/// The block of text that begins with this line.
fn text_block(head: &str) -> String {
    let all = blocks("text");
    let found = all.into_iter().find(|block| block.starts_with(head));
    found.unwrap_or_else(|| panic!("no block begins with {head}"))
}

#[test]
fn the_settings_are_taken_and_each_line_changes_something() {
    let blocks = blocks("toml");
    assert_eq!(blocks.len(), 1);
    for block in blocks {
        let settings: Settings =
            read(&block, known()).unwrap_or_else(|errors| panic!("{errors:#?}\n{block}"));
        let entries = block.lines().filter(|line| line.contains(" = ")).count();
        let changed = changed(&settings, known());
        assert_eq!(changed.len(), entries, "{changed:#?}");
    }
}

/// The tables of the first five minutes, and the list of prices.
#[test]
fn the_tables_are_taken_in() {
    let table = Table::new();
    table.file("heath.csv", text_block("set,set_title,shelf,"));
    table.file("have.csv", text_block("set,number,finish,count\n"));
    table.file("prices.csv", text_block("item,size,pack,price,"));
    table.ok(&["import", "checklist", "heath.csv"]);
    table.ok(&["import", "copies", "have.csv", "--in-place"]);
    table.ok(&["supplies", "--prices", "prices.csv"]);
}

/// The words of a command line, quotes taken off.
fn words(line: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for (at, part) in line.split('"').enumerate() {
        if at % 2 == 0 {
            found.extend(part.split_whitespace().map(str::to_owned));
        } else {
            found.push(part.to_owned());
        }
    }
    found
}

/// In a sentence what a command is about may be left out. What is said of it must be right.
#[test]
fn the_commands_are_understood() {
    let spans = README.split('`').filter(|span| !span.contains('\n'));
    let lines = README
        .lines()
        .map(|line| line.trim_start_matches("$ "))
        // A remark stands behind it.
        .map(|line| line.split("  ").next().unwrap_or_default());
    let all = spans
        .chain(lines)
        .filter(|line| line.starts_with("ringbound "));
    let mut tried = 0;
    for line in all {
        let line = line.replace("SHELL", "bash").replace("STATE", "12");
        let read = Cli::command().try_get_matches_from(words(&line));
        let kind = read.map_or_else(|e| Some(e.kind()), |_| None);
        let is_right = matches!(
            kind,
            None | Some(
                ErrorKind::MissingRequiredArgument
                    | ErrorKind::MissingSubcommand
                    | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
                    | ErrorKind::DisplayHelp
                    | ErrorKind::DisplayVersion
            )
        );
        assert!(is_right, "{line}: {kind:?}");
        tried += 1;
    }
    assert!(tried > 60, "{tried}");
    let no = ["ringbound", "gaps", "--nth"];
    let no = Cli::command().try_get_matches_from(no).unwrap_err();
    assert_eq!(no.kind(), ErrorKind::UnknownArgument);
}
