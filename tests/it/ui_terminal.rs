//! What only a real terminal shows: start, leaving, signals, a vanished window, a killed program.
#![cfg(unix)]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use ringbound::demo;
use ringbound::intake::{self, BinderOptions, Phrase};
use ringbound::model::{BinderKind, PageFormat, SetHead};
use ringbound::session::{Open, Session};

use crate::child;
use crate::pty::Pty;

fn open(dir: &Path, how: Open) -> Session {
    let clock = Box::new(|| "2026-01-01T00:00:00Z".to_owned());
    Session::open(dir, how, clock).unwrap().0
}

fn with_demo(dir: &Path) {
    let mut session = open(dir, Open::ForWriting);
    for step in demo::step_by_step() {
        session.commit(step).unwrap();
    }
    session.close().unwrap();
}

fn data_of(home: &Path) -> String {
    home.join("data").to_str().unwrap().to_owned()
}

#[test]
fn the_terminal_is_given_back_when_one_leaves() {
    let home = tempfile::tempdir().unwrap();
    let mut pty = Pty::start(&["demo"], (80, 24), home.path());
    pty.until("The shelf: 10 binders");
    assert!(pty.screen.screen().alternate_screen());
    pty.send("\r");
    pty.until("page 1 front");
    pty.send("f");
    pty.until("find a card");
    assert!(pty.screen.screen().bracketed_paste());
    pty.send("\x1b");
    pty.until_gone("find a card");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}

/// XTerm Control Sequences, "Bracketed Paste Mode". VTE, and terminals that do as it does, send each
/// line end of what is pasted as a carriage return.
#[test]
fn a_list_pasted_in_a_terminal_goes_in_line_by_line_whatever_ends_its_lines() {
    for end in ["\r", "\n", "\r\n"] {
        let home = tempfile::tempdir().unwrap();
        let mut pty = Pty::start(&["demo"], (80, 24), home.path());
        pty.until("The shelf: 10 binders");
        pty.send("\re");
        pty.until("card:");
        let list = ["12", "7 x2", "14"].join(end);
        pty.send(&format!("\x1b[200~{list}{end}\x1b[201~"));
        pty.until("4 cards entered");
        pty.send("\x1b");
        pty.until("page 1 front");
        pty.send("q");
        assert_eq!(pty.ended(), 0);
    }
}

/// ECMA-48 (1991): `ESC [ 2 J` clears the screen.
#[test]
fn what_is_exported_onto_a_terminal_does_not_steer_it() {
    let home = tempfile::tempdir().unwrap();
    let checklist = "set,number,name\nFEN,1,Mire Lamp\nFEN,2,\u{1b}[2JReed Boat\n";
    std::fs::write(home.path().join("fen.csv"), checklist).unwrap();
    let data = data_of(home.path());
    let import = ["--data", &data, "import", "checklist", "fen.csv"];
    assert_eq!(Pty::start(&import, (80, 24), home.path()).ended(), 0);
    let export = ["--data", &data, "export", "checklist", "-"];
    let mut pty = Pty::start(&export, (80, 24), home.path());
    pty.until("FEN,2,\u{241b}[2JReed Boat");
    assert!(pty.contents().contains("FEN,1,Mire Lamp"));
    assert_eq!(pty.ended(), 0);
}

/// XTerm Control Sequences, OSC 10 and 11: what is asked, and the form of the answer.
#[test]
fn a_light_terminal_is_shown_the_colours_for_a_light_background() {
    let home = tempfile::tempdir().unwrap();
    let shown = |arguments: &[&str], answer| {
        let mut pty = Pty::start(arguments, (80, 24), home.path());
        if let Some(answer) = answer {
            pty.answer = answer;
        }
        pty.until("The shelf: 10 binders");
        pty.until("help");
        let asked = pty.sent.windows(7).any(|part| part == b"\x1b]11;?\x07");
        let shown = pty.screen.screen().contents_formatted();
        pty.send("q");
        assert_eq!(pty.ended(), 0);
        pty.assert_restored();
        (asked, shown)
    };
    let white = "\x1b]10;rgb:0000/0000/0000\x07\x1b]11;rgb:ffff/ffff/ffff\x07\x1b[?62c";
    let black = "\x1b]10;rgb:ffff/ffff/ffff\x1b\\\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[?62c";
    let light = shown(&["demo", "--colours", "light"], None);
    let dark = shown(&["demo", "--colours", "dark"], None);
    assert_ne!(light.1, dark.1);
    assert!(!light.0 && !dark.0, "it is asked though it was said");
    assert_eq!(shown(&["demo"], Some(white)), (true, light.1));
    assert_eq!(shown(&["demo"], Some(black)), (true, dark.1.clone()));
    assert_eq!(shown(&["demo"], None), (true, dark.1), "it does not know");
}

#[test]
fn keys_pressed_before_the_program_is_there_are_not_lost() {
    let home = tempfile::tempdir().unwrap();
    let mut pty = Pty::start(&["demo"], (80, 24), home.path());
    pty.send("l");
    pty.until("wants: ");
    pty.send("\x1b");
    pty.until("The shelf: 10 binders");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}

#[test]
fn a_signal_that_ends_the_program_gives_the_terminal_back() {
    for (name, code) in [("TERM", 143), ("INT", 130), ("HUP", 129)] {
        let home = tempfile::tempdir().unwrap();
        let mut pty = Pty::start(&["demo"], (80, 24), home.path());
        pty.until("The shelf: 10 binders");
        pty.signal(name);
        assert_eq!(pty.ended(), code);
        pty.assert_restored();
    }
}

#[test]
fn a_panic_gives_the_terminal_back_and_what_was_kept_is_there() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("collection");
    let words = child::words("child_shows");
    let mut command = portable_pty::CommandBuilder::new(&words[0]);
    command.args(&words[1..]);
    command.env_clear();
    command.env(child::FOLDER, &folder);
    let mut pty = Pty::start_other(command, (80, 24), home.path());
    pty.until("The shelf: 10 binders");
    pty.send("\rn+");
    // Said on the screen that was there before, and not drawn over.
    pty.until("planted");
    assert_ne!(pty.ended(), 0);
    pty.assert_restored();
    assert!(pty.contents().contains("planted"));
    let after = open(&folder, Open::ForReading);
    let filled = |c: &ringbound::model::Collection| -> Vec<u32> {
        (0..10)
            .map(|at| c.binder_at(at).unwrap().tally().in_place)
            .collect()
    };
    assert_eq!(after.collection().check(), Vec::new());
    assert_eq!(filled(after.collection()), filled(&demo::collection()));
}

#[test]
fn a_program_that_is_stopped_gives_the_terminal_back_and_takes_it_again() {
    let home = tempfile::tempdir().unwrap();
    let mut pty = Pty::start(&["demo"], (80, 24), home.path());
    pty.until("The shelf: 10 binders");
    for stop in ["TSTP", "\x1a"] {
        if stop == "TSTP" {
            pty.signal(stop);
        } else {
            pty.send(stop);
        }
        pty.until_left();
        pty.assert_restored();
        pty.resume_until("The shelf: 10 binders");
        assert!(pty.screen.screen().alternate_screen());
    }
    pty.send("\r");
    pty.until("page 1 front");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}

#[test]
fn a_terminal_that_vanishes_ends_the_program_and_the_journal_is_whole() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    with_demo(Path::new(&data));
    let before = open(Path::new(&data), Open::ForReading);
    let had = before.collection().binder_at(0).unwrap().tally().in_place;
    drop(before);
    let mut pty = Pty::start(&["--data", &data], (100, 24), home.path());
    pty.until("The shelf: 10 binders");
    pty.send("\rn+");
    pty.until("came in, into page");
    pty.vanish();
    let after = open(Path::new(&data), Open::ForWriting);
    assert_eq!(after.collection().check(), Vec::new());
    assert_eq!(
        after.collection().binder_at(0).unwrap().tally().in_place,
        had + 1
    );
}

#[test]
fn a_mouse_click_on_the_real_screen_opens_the_binder() {
    let home = tempfile::tempdir().unwrap();
    let mut pty = Pty::start(&["demo"], (80, 24), home.path());
    pty.until("The shelf: 10 binders");
    // Press and release at column 14, row 6: the second spine; then again, to open it.
    for _ in 0..2 {
        pty.send("\x1b[<0;15;6M\x1b[<0;15;6m");
    }
    pty.until("Moss Hall");
    pty.until("page 1 front");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
}

#[test]
fn killed_in_the_middle_nothing_that_was_shown_as_kept_is_lost() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    let mut session = open(Path::new(&data), Open::ForWriting);
    let head = SetHead {
        code: "DUSK".into(),
        title: "Dusk Fair".into(),
        ..SetHead::default()
    };
    let phrase = Phrase::parse("1 to 60").unwrap();
    let binder = BinderOptions {
        format: PageFormat::new(3, 3, 2),
        kind: BinderKind::Fixed,
    };
    let made = intake::new_set(session.collection(), &head, &phrase, Some(binder)).unwrap();
    session.commit(made.step).unwrap();
    session.close().unwrap();
    let mut pty = Pty::start(&["--data", &data], (100, 24), home.path());
    pty.until("The shelf: 1 binder");
    pty.send("\r");
    pty.until("page 1 front");
    for filled in 1..=25 {
        pty.send("n+");
        pty.until(&format!("{filled} of 60 in place"));
    }
    pty.child.kill().unwrap();
    pty.child.wait().unwrap();
    let after = open(Path::new(&data), Open::ForWriting);
    assert_eq!(after.collection().check(), Vec::new());
    let now = after.collection().binder_at(0).unwrap().tally().in_place;
    assert_eq!(now, 25);
}

#[test]
fn undo_reaches_back_over_a_restart() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    with_demo(Path::new(&data));
    let mut pty = Pty::start(&["--data", &data], (100, 24), home.path());
    pty.until("The shelf: 10 binders");
    pty.send("\rn+");
    pty.until("came in, into page");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    let mut pty = Pty::start(&["--data", &data], (100, 24), home.path());
    pty.until("page 1 of 34");
    pty.send("u");
    pty.until("Taken back");
    pty.until("came in, into page");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
}

#[test]
fn a_second_program_opens_for_reading_and_says_so() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    with_demo(Path::new(&data));
    let first = open(Path::new(&data), Open::ForWriting);
    let mut pty = Pty::start(&["--data", &data], (100, 24), home.path());
    pty.until("reading only");
    pty.send("\rn+");
    pty.until("Not now: the collection is open for reading only");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    drop(first);
}

#[test]
fn a_page_is_dragged_in_the_strip_on_a_real_terminal() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    with_demo(Path::new(&data));
    let mut pty = Pty::start(&["--data", &data], (80, 24), home.path());
    pty.until("The shelf: 10 binders");
    pty.send("\r");
    pty.until("page 1 front");
    let before = open(Path::new(&data), Open::ForReading);
    let page =
        |session: &Session, at: usize| session.collection().binder_at(0).unwrap().pages()[at].id();
    let seventh = page(&before, 6);
    drop(before);
    // Pages 7 and 3 stand in lines 8 and 4 of the screen; coordinates of the protocol begin at 1.
    pty.send("\x1b[<0;63;8M\x1b[<32;63;7M\x1b[<32;63;4M");
    pty.until("Page 7 becomes page 3: no card comes out");
    pty.send("\x1b[<0;63;4m");
    pty.until("u takes it back");
    // Another drag is released outside the window, and changes nothing.
    pty.send("\x1b[<0;63;9M\x1b[<32;63;8M\x1b[<0;900;900m");
    pty.until("put back");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    let after = open(Path::new(&data), Open::ForReading);
    assert_eq!(page(&after, 2), seventh);
}

#[test]
fn a_reorder_is_worked_off_over_a_kill_and_a_change_of_mind() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    with_demo(Path::new(&data));
    let mut pty = Pty::start(&["--data", &data], (110, 40), home.path());
    pty.until("The shelf: 10 binders");
    pty.send("\rdnRares\r");
    pty.until("DRAFT “Rares” of");
    pty.send("a");
    pty.until("Gather in front: rare; their pockets stay free");
    // The third rarity of the list is the rare one.
    pty.send("C");
    pty.until("gathered");
    pty.send("d");
    pty.until("as it is now");
    pty.send("a");
    pty.until("Adopted");
    pty.until_gone("as it is now");
    pty.send("w");
    pty.until("how will you go about it?");
    pty.send("\r");
    pty.until("0 done");
    for done in 1..=12 {
        pty.send("\r");
        pty.until(&format!("{done} done"));
    }
    pty.child.kill().unwrap();
    pty.child.wait().unwrap();
    let kept = open(Path::new(&data), Open::ForReading);
    assert_eq!(kept.collection().check(), Vec::new());
    drop(kept);
    let mut pty = Pty::start(&["--at-shelf", "--data", &data], (110, 40), home.path());
    pty.until("The shelf: 10 binders");
    // A change of mind: a page by hand, and the rest of the sheet in one go.
    pty.send("\rC");
    pty.until("in hand");
    pty.send("\x1b[F\r");
    pty.until("u takes it back");
    pty.send("w");
    pty.until("how will you go about it?");
    pty.send("\r");
    pty.until("0 done");
    pty.send("\x1b[F\r");
    pty.until("lines at once?");
    pty.send("\r");
    pty.until("Everything lies as planned.");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    let after = open(Path::new(&data), Open::ForReading);
    let tally = after.collection().binder_at(0).unwrap().tally();
    assert_eq!(tally.filled, tally.in_place);
    assert_eq!(after.collection().check(), Vec::new());
}

#[test]
fn sixty_cards_are_typed_in_and_filed_by_the_walk_and_none_is_lost() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    with_demo(Path::new(&data));
    let before = open(Path::new(&data), Open::ForReading);
    let collection = before.collection();
    // Cards from all over seven sets, in their first finish: sixty.
    let mut keys = String::from("e");
    let mut typed = Vec::new();
    for (place, (id, set)) in collection.sets().take(7).enumerate() {
        if place > 0 {
            keys.push('\t');
        }
        keys.push_str(&format!("{}\r", set.code()));
        let with_first = |card: &u32| set.card(*card).unwrap().has_finish(0);
        let share = if place < 4 { 9 } else { 8 };
        let step = (set.cards().len() / share).max(1);
        let cards = (0..set.cards().len() as u32)
            .step_by(step)
            .filter(with_first);
        for card in cards.take(share) {
            keys.push_str(&format!("{}\r", set.card(card).unwrap().number));
            typed.push(ringbound::model::PrintingId::new(id, card, 0));
        }
    }
    assert_eq!(typed.len(), 60);
    let had: Vec<_> = typed
        .iter()
        .map(|p| collection.tally(*p).copies())
        .collect();
    drop(before);
    let mut pty = Pty::start(&["--data", &data], (110, 40), home.path());
    pty.until("The shelf: 10 binders");
    pty.send(&keys);
    pty.until("60 cards entered");
    pty.send("\x1b");
    pty.until("The shelf: 10 binders");
    pty.send("w");
    pty.until("how will you go about it?");
    pty.send("\r");
    pty.until("0 done");
    pty.send("\x1b[F\r");
    pty.until("lines at once?");
    pty.send("\r");
    pty.until("Everything lies as planned.");
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    let after = open(Path::new(&data), Open::ForReading);
    let collection = after.collection();
    assert_eq!(collection.check(), Vec::new());
    for (printing, had) in typed.iter().zip(had) {
        let tally = collection.tally(*printing);
        assert_eq!(tally.copies(), had + 1);
        assert!(
            tally.gaps() == 0 || tally.loose == 0,
            "a waiting copy was not filed"
        );
    }
    for what in ["checklist", "copies"] {
        command(
            home.path(),
            &data,
            &["export", what, &format!("{what}.csv")],
        );
    }
    let read = |name: &str| std::fs::read_to_string(home.path().join(name)).unwrap();
    let counted = recount(&read("checklist.csv"), &read("copies.csv"));
    let told = command(home.path(), &data, &["completion", "--json"]);
    let told: serde_json::Value = serde_json::from_str(&told).unwrap();
    assert_eq!(completion_of(&told), counted);
    assert!(counted.len() > 20, "{counted:?}");
}

/// What the program answers, run in this folder.
fn command(home: &Path, data: &str, arguments: &[&str]) -> String {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_ringbound"));
    command.env_clear().current_dir(home);
    let done = command.args(["--data", data]).args(arguments).output();
    let done = done.unwrap();
    assert!(done.status.success(), "{done:?}");
    String::from_utf8(done.stdout).unwrap()
}

/// Printings held, and printings there are, of a set and of its parts.
type Counted = BTreeMap<(String, &'static str, String), (u64, u64)>;

/// Counts the two exported files with the csv library alone: a printing is a card of the checklist
/// in one of its finishes, and held if the copies have a row of it.
fn recount(checklist: &str, copies: &str) -> Counted {
    type Row = BTreeMap<String, String>;
    let rows = |text: &str| -> Vec<Row> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        reader.deserialize().map(Result::unwrap).collect()
    };
    let owned: BTreeSet<_> = (rows(copies).iter())
        .filter(|row| row["count"] != "0")
        .map(|row| ["set", "number", "finish"].map(|name| row[name].clone()))
        .collect();
    let mut counted = Counted::new();
    for row in rows(checklist) {
        for finish in row["finishes"].split(';') {
            let set = row["set"].clone();
            let printing = [set.clone(), row["number"].clone(), finish.to_owned()];
            let held = u64::from(owned.contains(&printing));
            for (part, name) in [
                ("all", String::new()),
                ("finish", finish.to_owned()),
                ("rarity", row["rarity"].clone()),
            ] {
                let count = counted.entry((set.clone(), part, name)).or_default();
                *count = (count.0 + held, count.1 + 1);
            }
        }
    }
    counted
}

/// The same figures as the program tells them.
fn completion_of(told: &serde_json::Value) -> Counted {
    let mut counted = Counted::new();
    let mut add = |set: &str, part, name: &str, of: &serde_json::Value| {
        let figures = (of["held"].as_u64().unwrap(), of["total"].as_u64().unwrap());
        counted.insert((set.to_owned(), part, name.to_owned()), figures);
    };
    for of in told["sets"].as_array().unwrap() {
        let set = of["set"].as_str().unwrap();
        add(set, "all", "", of);
        for (list, part) in [("by_finish", "finish"), ("by_rarity", "rarity")] {
            for of in of[list].as_array().unwrap() {
                add(set, part, of[part].as_str().unwrap(), of);
            }
        }
    }
    counted
}

/// OSC 52 of xterm's control sequences: `OSC 52 ; c ; base64 ST`; base64 is RFC 4648.
fn clipboard(text: &str) -> String {
    use base64::prelude::{BASE64_STANDARD, Engine};
    format!("\x1b]52;c;{}\x1b\\", BASE64_STANDARD.encode(text))
}

#[test]
fn the_chosen_pocket_goes_to_the_clipboard_in_words() {
    let home = tempfile::tempdir().unwrap();
    let data = data_of(home.path());
    let checklist = "set,number,name\nFEN,1,Mire\u{1b}]52;c;eA==\u{7} Lamp\n";
    std::fs::write(home.path().join("fen.csv"), checklist).unwrap();
    let import = ["--data", &data, "import", "checklist", "fen.csv"];
    assert_eq!(Pty::start(&import, (80, 24), home.path()).ended(), 0);
    let mut pty = Pty::start(&["--data", &data], (80, 24), home.path());
    pty.until("The shelf: 1 binder");
    pty.send("\r");
    pty.until("page 1 front");
    // What its terminfo calls kf5.
    pty.send("\x1b[15~");
    pty.until("Sent to the terminal's clipboard: the pocket in words");
    let words = "FEN\n1 Mire\u{241b}]52;c;eA==\u{2407} Lamp: a gap\n\
                 page 1, front, row 1, pocket 1. No copy yet";
    pty.until_sent(&clipboard(words));
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}

#[test]
fn the_mouse_can_be_left_to_the_terminal_and_taken_back() {
    use vt100::MouseProtocolMode::{ButtonMotion, None as Own};
    let home = tempfile::tempdir().unwrap();
    let mode = |pty: &Pty| pty.screen.screen().mouse_protocol_mode();
    let mut pty = Pty::start(&["demo"], (80, 24), home.path());
    pty.until("The shelf: 10 binders");
    assert_eq!(mode(&pty), ButtonMotion);
    // What its terminfo calls kf4.
    pty.send("\x1bOS");
    pty.until("The mouse is left to the terminal");
    assert_eq!(mode(&pty), Own);
    pty.signal("TSTP");
    pty.until_left();
    pty.resume_until("The shelf: 10 binders");
    assert_eq!(mode(&pty), Own, "it stays so over a stop");
    pty.send("\x1bOS");
    pty.until("The mouse works here again");
    assert_eq!(mode(&pty), ButtonMotion);
    pty.send("q");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}

#[test]
fn the_settings_say_whose_the_mouse_is_and_which_key_leaves() {
    let home = tempfile::tempdir().unwrap();
    let text = "[screen]\nmouse = false\n[keys.shelf]\nquit = \"ctrl-q\"\nfind = \"ctrl-o\"\n";
    std::fs::write(home.path().join("mine.toml"), text).unwrap();
    let mut pty = Pty::start(&["--settings", "mine.toml", "demo"], (80, 24), home.path());
    pty.until("ctrl-o find");
    let mode = pty.screen.screen().mouse_protocol_mode();
    assert_eq!(mode, vt100::MouseProtocolMode::None);
    pty.send("q\x11");
    assert_eq!(pty.ended(), 0);
    pty.assert_restored();
}

#[test]
fn a_file_that_cannot_be_taken_leaves_the_terminal_alone() {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("bad.toml"), "[screen]\nmose = false\n").unwrap();
    let mut pty = Pty::start(&["--settings", "bad.toml", "demo"], (80, 24), home.path());
    pty.until("bad.toml, line 2: [screen] has no “mose”; did you mean “mouse”?");
    assert_eq!(pty.ended(), 3);
    pty.assert_restored();
}
