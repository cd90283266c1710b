//! Completions and man pages: made from the arguments, and to be had without a home. And every option
//! that is spoken of anywhere is one.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use clap::CommandFactory;
use ringbound::cli::Cli;

use crate::support::Table;

fn commands() -> Vec<String> {
    let program = Cli::command();
    let names = program
        .get_subcommands()
        .map(|sub| sub.get_name().to_owned());
    names.collect()
}

/// The line by which a shell is offered a command.
fn offer(shell: &str, name: &str) -> String {
    match shell {
        "bash" => format!("\n            ringbound,{name})\n"),
        "zsh" => format!("\n'{name}:"),
        "fish" => format!("needs_command\" -f -a \"{name}\" "),
        "elvish" => format!("\n            cand {name} '"),
        "powershell" => format!("\n            [CompletionResult]::new('{name}', '{name}', "),
        other => panic!("{other}"),
    }
}

/// Every command is known to every shell. No folder of a collection and no home is needed.
#[test]
fn every_shell_is_told_every_command() {
    let table = Table::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let mut command = table.command(&["shell-completions", shell]);
        let output = command.env_remove("RINGBOUND_DATA").output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{shell}");
        let text = String::from_utf8(output.stdout).unwrap();
        for name in commands() {
            assert!(
                text.contains(&offer(shell, &name)),
                "{shell} does not know {name}"
            );
        }
        for no in ["abacus", "ma", "set"] {
            assert!(!text.contains(&offer(shell, no)), "{shell} offers {no}");
        }
    }
    assert_eq!(table.exit(&["shell-completions", "abacus"]), 2);
}

/// A page begins with the macro that names it (man-pages(7): TH title section).
#[test]
fn there_is_a_page_for_the_program_and_for_every_command() {
    let table = Table::new();
    fs::create_dir(table.path("man")).unwrap();
    table.ok(&["man", "--into", "man"]);
    for name in commands() {
        let page = table.read(&format!("man/ringbound-{name}.1"));
        assert!(
            page.contains(&format!(".TH ringbound-{name} 1")),
            "{name}: {page}"
        );
    }
    table.read("man/ringbound-import-checklist.1");
    let page = table.run(&["man"]);
    assert!(page.contains(".TH ringbound 1"), "{page}");
    assert!(
        page.contains("5  another program is writing"),
        "exit codes: {page}"
    );
    assert_eq!(table.exit(&["man", "--into", "nowhere"]), 2);
}

#[test]
fn the_version_tells_what_a_report_of_a_fault_needs() {
    let table = Table::new();
    let told = table.run(&["--version"]);
    assert!(told.contains(env!("CARGO_PKG_VERSION")), "{told}");
    assert!(
        told.contains("collection format 1, journal format 1"),
        "{told}"
    );
}

/// What is no document is refused as one, and nothing is written.
#[test]
fn neither_a_script_nor_the_manual_is_told_as_json() {
    let table = Table::new();
    fs::create_dir(table.path("man")).unwrap();
    for args in [
        &["man", "--json"][..],
        &["man", "--into", "man", "--json"],
        &["shell-completions", "bash", "--json"],
        &["settings", "--example", "--json"],
    ] {
        let output = table.output(args);
        let told = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
        assert!(told.contains("not JSON"), "{args:?}: {told}");
    }
    assert_eq!(fs::read_dir(table.path("man")).unwrap().count(), 0);
}

/// Options as they are written: `--` and a word, with nothing of a word before it.
fn options_of(text: &str) -> Vec<&str> {
    let starts = text.match_indices("--").filter(|(at, _)| {
        let before = text[..*at].chars().next_back();
        before.is_none_or(|c| !c.is_alphanumeric() && c != '-')
    });
    let words = starts.map(|(at, _)| {
        let rest = &text[at + 2..];
        let end = rest.find(|c: char| !c.is_ascii_lowercase() && c != '-');
        rest[..end.unwrap_or(rest.len())].trim_end_matches('-')
    });
    words.filter(|word| !word.is_empty()).collect()
}

/// Every option of every command, also those that the help does not show.
fn options() -> BTreeSet<String> {
    fn gather(command: &clap::Command, into: &mut BTreeSet<String>) {
        for arg in command.get_arguments() {
            into.extend(arg.get_long().map(str::to_owned));
            into.extend(
                arg.get_all_aliases()
                    .into_iter()
                    .flatten()
                    .map(str::to_owned),
            );
        }
        for sub in command.get_subcommands() {
            gather(sub, into);
        }
    }
    let mut program = Cli::command();
    program.build();
    let mut found = BTreeSet::new();
    gather(&program, &mut found);
    found
}

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, into);
        } else {
            into.push(path);
        }
    }
}

/// Hints, helps, answers and the pages that a person reads: what they tell to type is there.
#[test]
fn every_option_that_is_spoken_of_is_an_option_of_some_command() {
    assert_eq!(
        options_of("say which with --nth, (--to-sort) or -- x--y --set=A"),
        ["nth", "to-sort", "set"]
    );
    let known = options();
    let is_known = |word: &str| known.contains(word);
    assert!(is_known("sheet") && is_known("version") && !is_known("nth"));
    let project = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = vec![project.join("README.md"), project.join("CHANGELOG.md")];
    sources(&project.join("src/cli"), &mut files);
    sources(&project.join("src/ui"), &mut files);
    let mut seen = 0;
    for file in files {
        let text = fs::read_to_string(&file).unwrap();
        // What is typed for another program.
        let lines = text.lines().filter(|line| !line.contains("cargo "));
        for word in lines.flat_map(options_of) {
            assert!(is_known(word), "{}: --{word}", file.display());
            seen += 1;
        }
    }
    assert!(seen > 200, "{seen}");
}
