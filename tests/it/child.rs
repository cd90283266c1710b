//! What runs in processes of its own, which are killed or whose disk breaks under them. None of
//! these is a test by itself: each does nothing without its environment.

use std::cell::Cell;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::rc::Rc;

use ringbound::session::{Open, Session};
use ringbound::store::files::{Disk, Files};
use ringbound::ui::{Given, Theme};

use crate::scene::PLAIN;
use crate::support::files::Watched;
use crate::support::kept::clock;
use crate::support::script::{Act, long_session, play, recovered, states};

/// The folder, to a child.
pub(crate) const FOLDER: &str = "RINGBOUND_TEST_CHILD_FOLDER";
/// How many steps its script has beyond the usual ones.
pub(crate) const STEPS: &str = "RINGBOUND_TEST_CHILD_STEPS";
/// At which call of the store it kills itself; 0 for none.
pub(crate) const KILL: &str = "RINGBOUND_TEST_CHILD_KILL";
/// To the one that looks at what is left: what the other told.
pub(crate) const TOLD: &str = "RINGBOUND_TEST_CHILD_TOLD";

fn number(name: &str) -> usize {
    std::env::var(name).map_or(0, |value| value.parse().unwrap())
}

fn folder() -> Option<PathBuf> {
    std::env::var_os(FOLDER).map(PathBuf::from)
}

fn script() -> Vec<Act> {
    long_session(number(STEPS))
}

fn tell(line: &str) {
    let mut out = std::io::stdout();
    writeln!(out, "{line}").unwrap();
    out.flush().unwrap();
}

/// Plays a script and tells each entry that was kept.
#[test]
#[ignore = "run by others in a process of its own"]
fn child_plays() {
    let Some(folder) = folder() else { return };
    let kill = number(KILL);
    let files: Rc<dyn Files> = Rc::new(Watched::planned(Rc::new(Disk), move |call| {
        if call == kill {
            kill_self();
        }
        Ok(())
    }));
    let came = play(&script(), &files, &folder, |kept, _| {
        tell(&format!("kept {kept}"));
    });
    tell(&match came.failed {
        Some(why) => format!("failed: {why}"),
        None => "done".into(),
    });
}

/// As SIGKILL does: at once, and nothing is tidied.
fn kill_self() {
    #[cfg(unix)]
    signal_hook::low_level::raise(signal_hook::consts::SIGKILL).unwrap();
    #[cfg(not(unix))]
    std::process::abort();
}

/// Opens what another has left, and tells whether all is there that it had told as kept.
#[test]
#[ignore = "run by others in a process of its own"]
fn child_looks() {
    let Some(folder) = folder() else { return };
    let told = std::fs::read_to_string(std::env::var_os(TOLD).unwrap()).unwrap();
    tell(&match look(&folder, &told, number(STEPS)) {
        Ok(found) => format!("found {found}"),
        Err(why) => format!("lost: {why}"),
    });
}

/// Shows the screen on a disk whose next call after the start panics.
#[test]
#[ignore = "run by others in a process of its own"]
fn child_shows() {
    let Some(folder) = folder() else { return };
    let armed = Rc::new(Cell::new(false));
    let is_armed = Rc::clone(&armed);
    let files: Rc<dyn Files> = Rc::new(Watched::planned(Rc::new(Disk), move |_| {
        assert!(!is_armed.get(), "planted");
        Ok(())
    }));
    let opened = Session::open_on(files, &folder, Open::ForWriting, clock());
    let (mut session, _) = opened.unwrap();
    for step in ringbound::demo::step_by_step() {
        session.commit(step).unwrap();
    }
    armed.set(true);
    let begun = ringbound::ui::begin(Theme::new(PLAIN));
    drop(begun.map(|begun| begun.run(session, Given::default())));
}

/// The last entry that was told as kept.
pub(crate) fn kept(told: &str) -> usize {
    let numbers = told
        .lines()
        .filter_map(|line| line.rsplit_once("kept ")?.1.parse().ok());
    numbers.max().unwrap_or(0)
}

/// What must hold for a folder after a child with this many further steps told this.
pub(crate) fn look(folder: &Path, told: &str, steps: usize) -> Result<usize, String> {
    let files: Rc<dyn Files> = Rc::new(Disk);
    let states = states(&long_session(steps));
    recovered(&files, folder, &states, kept(told)).map(|(found, _)| found)
}

/// The words that start a child which plays in a folder, for a shell or another program.
pub(crate) fn words(child: &str) -> Vec<String> {
    let this = std::env::current_exe().unwrap();
    let name = format!("child::{child}");
    let this = this.to_str().unwrap().to_owned();
    let mut words = vec![this, "--exact".into(), name, "--ignored".into()];
    words.extend(["--nocapture".into(), "--test-threads=1".into()]);
    words
}

/// A command of these words, in the environment of a child.
pub(crate) fn command(words: &[String], folder: &Path, steps: usize) -> Command {
    let mut command = Command::new(&words[0]);
    command
        .args(&words[1..])
        .env(FOLDER, folder)
        .env(STEPS, steps.to_string())
        .stdin(Stdio::null())
        .stderr(Stdio::null());
    command
}
