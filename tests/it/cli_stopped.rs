//! An import that is interrupted while it reads.
#![cfg(unix)]

use std::fs::OpenOptions;
use std::io::Write;
use std::process::Command;

use ringbound::session::{Open, Session};

use crate::pty::Pty;
use crate::support::kept::clock;

/// A pipe holds 64 KiB at most by default (pipe(7)): to write more than that at once takes one
/// that reads.
const MORE_THAN_A_PIPE: usize = 200_000;

/// POSIX.1-2017, shell command language, 2.8.2: a command that a signal ended has a status above
/// 128; common practice is 128 and the signal's number, which is 2 for SIGINT.
#[test]
fn an_interrupted_import_says_so_and_changes_nothing() {
    let home = tempfile::tempdir().unwrap();
    let data = home.path().join("data");
    let words = data.to_str().unwrap();
    let checklist = "set,number,name\nFEN,1,Mire Lamp\n";
    std::fs::write(home.path().join("fen.csv"), checklist).unwrap();
    let import = ["--data", words, "import", "checklist", "fen.csv"];
    assert_eq!(Pty::start(&import, (80, 24), home.path()).ended(), 0);

    let pipe = home.path().join("copies.csv");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    let import = ["--data", words, "import", "copies", "copies.csv"];
    let mut pty = Pty::start(&import, (80, 24), home.path());
    let mut rows = OpenOptions::new().write(true).open(&pipe).unwrap();
    let row = "FEN,1\n";
    let text = ["set,number\n", &row.repeat(MORE_THAN_A_PIPE / row.len())].concat();
    rows.write_all(text.as_bytes()).unwrap();
    // It reads by now. The signal is there before the row that comes after it, which nobody may
    // take any more.
    pty.signal("INT");
    drop(rows.write_all(row.as_bytes()));
    drop(rows);
    assert_eq!(pty.ended(), 130);
    assert!(pty.contents().contains("stopped; nothing was imported"));

    let (session, notices) = Session::open(&data, Open::ForWriting, clock()).unwrap();
    assert!(notices.is_empty(), "{notices:?}");
    let done: Vec<_> = session.done().map(|told| told.label).collect();
    assert_eq!(done, ["checklist of FEN: 1 card"]);
}
