//! The real thing: a process is killed while it keeps steps, and what it had told as kept is there.

use std::io::{BufRead, BufReader};
use std::process::{Command, Stdio};

use ringbound::model::Step;
use ringbound::session::{Open, Session};

use crate::support::kept::{Folder, clock};
use crate::support::world::{acquire, moss, sets};

/// Names the folder to the process that is to be killed.
const FOLDER: &str = "RINGBOUND_TEST_KILLED_FOLDER";

/// Not a test of its own: what the killed process does. It tells each step once it is kept.
#[test]
#[ignore = "run by the test below, in a process of its own"]
fn keeps_steps_until_it_is_killed() {
    let Some(folder) = std::env::var_os(FOLDER) else {
        return;
    };
    let (mut session, notices) = Session::open(folder.as_ref(), Open::ForWriting, clock()).unwrap();
    assert_eq!(notices, []);
    if session.collection().sets().len() == 0 {
        session.commit(sets()).unwrap();
    }
    let first = session.done().count();
    for number in first.. {
        let label = number.to_string();
        session
            .commit(Step::new(label, acquire(moss(0, 0), 1).changes))
            .unwrap();
        if number % 7 == 0 {
            session.rewrite().unwrap();
        }
        println!("kept {number}");
    }
}

#[test]
fn a_killed_process_loses_no_step_that_it_had_told_as_kept() {
    let folder = Folder::default();
    let mut before = 0;
    for round in 0..12 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "store_crash::keeps_steps_until_it_is_killed"])
            .args(["--ignored", "--nocapture", "--test-threads=1"])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let told = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut told = told
            .map(Result::unwrap)
            .filter_map(|line| line.rsplit_once("kept ")?.1.parse::<usize>().ok());
        // Killed (SIGKILL on Unix) wherever it happens to be after so many.
        let mut last = told.by_ref().nth(round * 5 % 13);
        child.kill().unwrap();
        last = told.last().or(last);
        child.wait().unwrap();
        let last = last.expect("the process told of no step");
        assert!(last >= before);
        let (session, notices) = folder.open_as(Open::ForWriting);
        // A torn end may be told; damage may not.
        assert!(
            !notices.iter().any(ringbound::session::Notice::is_damage),
            "{notices:?}"
        );
        let mut labels: Vec<_> = session.done().map(|told| told.label).collect();
        labels.reverse();
        // All that was told, and at most the one that was under way.
        assert!(
            (last + 1..=last + 2).contains(&labels.len()),
            "{last}: {}",
            labels.len()
        );
        let numbers = (1..labels.len()).map(|number| number.to_string());
        assert!(labels[1..].iter().cloned().eq(numbers));
        let loose = session.collection().tally(moss(0, 0)).loose as usize;
        assert_eq!(loose, labels.len() - 1);
        before = last;
    }
}
