//! Completions and man pages: made from the arguments, and to be had without a home.

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
            assert!(text.contains(&name), "{shell} does not know {name}");
        }
    }
    assert_eq!(table.exit(&["shell-completions", "abacus"]), 2);
}

/// A page begins with the macro that names it (man-pages(7): TH title section).
#[test]
fn there_is_a_page_for_the_program_and_for_every_command() {
    let table = Table::new();
    std::fs::create_dir(table.path("man")).unwrap();
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
