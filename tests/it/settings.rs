//! The settings: the file as the program reads it, the command that tells of it, and what becomes
//! of the screen.

use proptest::prelude::*;
use ringbound::demo;
use ringbound::model::{BinderKind, Opening, PageFormat};
use ringbound::session::Session;
use ringbound::settings::{Settings, SettingsError, changed, example, read};
use ringbound::ui::{App, Context, Theme, bindings, known};

use crate::scene::{PLAIN, Scene};
use crate::support::Table;

fn taken(text: &str) -> Settings {
    read(text, known()).unwrap_or_else(|errors| panic!("{errors:#?}"))
}

fn told(text: &str) -> Vec<String> {
    let errors = read(text, known()).unwrap_err();
    errors.iter().map(ToString::to_string).collect()
}

/// The demo collection for a person with these settings.
fn scene(text: &str, size: (u16, u16)) -> Scene {
    let mut scene = Scene::demo(size);
    let session = Session::in_memory(demo::collection());
    scene.app = App::new(session, Theme::new(PLAIN), size).with_settings(taken(text));
    scene.draw();
    scene
}

/// A copy of this snapshot is in many a person's file: an entry that vanishes or changes its name
/// would be refused there.
#[test]
fn the_example_has_every_entry_and_reads_back_as_what_is_built_in() {
    let example = example(known());
    assert_eq!(taken(&example), Settings::default());
    insta::assert_snapshot!(example);
}

#[test]
fn every_verb_of_every_place_can_be_given_another_key() {
    for place in &known().places {
        for verb in &place.verbs {
            let text = format!("[keys.{}]\n{} = \"f12\"\n", place.word, verb.word);
            let line = format!("keys.{}.{} = \"f12\"", place.word, verb.word);
            assert_eq!(changed(&taken(&text), known()), [line]);
        }
    }
    let contexts = |context: Context| bindings().iter().any(|b| b.context == context);
    assert!(contexts(Context::Help) && known().places.len() > 20);
}

#[test]
fn keys_of_ones_own_work_and_stand_in_footer_help_and_messages() {
    let mut scene = scene(
        "[keys.shelf]\nwork = \"ctrl-w\"\nnew-set = \"ctrl-s\"\n\
         [keys.binder]\nwork = \"K\"\nnext-gap = \"j\"\nundo = \"z\"\n",
        (80, 24),
    );
    scene.keys("enter");
    let footer = scene.picture().lines().last().unwrap().to_owned();
    assert!(footer.contains("j next gap"), "{footer}");
    let before = scene.picture();
    scene.keys("n");
    let told = scene.picture();
    let told = told.replace(" n does nothing here; ? tells what does", "");
    assert_eq!(told, before, "the old key does nothing, and that is told");
    scene.keys("j +");
    assert!(
        scene.picture().contains("z takes it back."),
        "{}",
        scene.picture()
    );
    scene.keys("?");
    let help = scene.picture();
    assert!(
        help.contains("j                to the next gap of this binder"),
        "{help}"
    );
    scene.keys("esc z");
    assert!(
        scene.picture().contains("r does it again."),
        "{}",
        scene.picture()
    );
    scene.keys("K");
    assert!(
        scene.picture().contains("Work sheet"),
        "{}",
        scene.picture()
    );
}

#[test]
fn what_is_usual_stands_in_the_forms() {
    let mut scene = scene(
        "[collecting]\npage = \"3x4\"\nsides = \"one\"\nopening = \"top\"\nbinder = \"fixed\"\n\
         finishes = [\"regular\", \"reverse\"]\nkeep = 2\n\
         [paper]\nsize = \"210x330\"\nlabel-reading = \"across\"\n",
        (80, 24),
    );
    scene
        .keys("s")
        .text("NEW")
        .keys("tab tab tab tab")
        .text("1 to 24");
    let form = scene.picture();
    for words in [
        "3x4",
        "one side",
        "top",
        "fixed pages",
        "24 cards in a binder of 4 pages",
    ] {
        assert!(form.contains(words), "{words}:\n{form}");
    }
    scene.keys("esc P");
    let form = scene.picture();
    for words in ["210x330", "across if it fits"] {
        assert!(form.contains(words), "{words}:\n{form}");
    }
}

/// What the command writes of the invented collection is what the screen writes of it.
#[test]
fn papers_of_the_screen_are_those_of_the_command() {
    let table = Table::new();
    let text = "[collecting]\nkeep = 1\nheaps = 3\nworking = \"hand-to-hand\"\n\
                [supplies]\nsleeves = \"two\"\n[paper]\nsize = \"a5\"\n";
    table.file("mine.toml", text);
    // How often the kind is chosen on, and what it is called on the command line.
    let kinds = [
        (3, "spares", "spares"),
        (4, "work-sheet", "work-sheet"),
        (5, "shopping", "shopping"),
        (6, "pile", "pile"),
    ];
    for (right, name, kind) in kinds {
        let mut scene = scene("", (80, 24));
        let session = Session::in_memory(demo::collection());
        scene.app = App::new(session, Theme::new(PLAIN), (80, 24))
            .with_settings(taken(text))
            .in_folder(Some(table.path("")));
        scene.draw();
        scene.keys("P").keys(&"right ".repeat(right));
        scene
            .keys("shift-tab ctrl-u")
            .text(&format!("{name}.txt"))
            .keys("enter");
        let (on_screen, by_command) = (table.read(&format!("{name}.txt")), |file: &str| {
            table.read(file)
        });
        let command = |file: &str, args: &[&str]| {
            table.ok(&[args, &["print", kind, "--demo", "--out", file]].concat());
        };
        command("set.txt", &["--settings", "mine.toml"]);
        command("plain.txt", &[]);
        assert_eq!(on_screen, by_command("set.txt"), "{kind}");
        assert_ne!(on_screen, by_command("plain.txt"), "{kind}");
        for file in ["set.txt", "plain.txt"] {
            std::fs::remove_file(table.path(file)).unwrap();
        }
    }
}

#[test]
fn a_checklist_taken_in_on_the_screen_makes_the_usual_binders() {
    let table = Table::new();
    table.file("fen.csv", "set,number,name\nFEN,1,Mire Lamp\n");
    let made = |text: &str, keys: &str| {
        let session = Session::in_memory(demo::collection());
        let mut scene = Scene::demo((80, 24));
        scene.app = App::new(session, Theme::new(PLAIN), (80, 24))
            .with_settings(taken(text))
            .in_folder(Some(table.path("")));
        scene.keys("i").text("fen.csv").keys(keys).keys("enter");
        let collection = scene.app.session().collection();
        let binder = collection.shelf().last().unwrap();
        (binder.spec().kind, binder.pages()[0].format())
    };
    let rings = BinderKind::RINGS;
    assert_eq!(made("", ""), (rings, PageFormat::new(3, 3, 2)));
    let text = "[collecting]\npage = \"4x5\"\nsides = \"one\"\nopening = \"top\"\n\
                binder = \"fixed\"\n";
    let mut usual = PageFormat::new(4, 5, 1);
    usual.opening = Opening::Top;
    assert_eq!(made(text, ""), (BinderKind::Fixed, usual));
    // Behind the last of them is the first again; the rest stays as it is usual.
    (usual.rows, usual.columns) = (3, 3);
    assert_eq!(made(text, "tab tab right"), (BinderKind::Fixed, usual));
    let small = "[collecting]\npage = \"2x2\"\n";
    assert_eq!(made(small, ""), (rings, PageFormat::new(2, 2, 2)));
}

#[test]
fn conflicts_and_dead_ends_are_refused_on_the_real_key_table() {
    assert_eq!(
        told("[keys.binder]\nfind = \"n\"\n"),
        ["line 2: keys.binder: n asks for both next-gap (built in) and find (line 2)"]
    );
    assert_eq!(
        told("[keys.shelf]\nquit = \"\"\n"),
        ["line 2: keys.shelf: quit needs a key"]
    );
    let all = told("[keys.everywhere]\nhelp = \"h\"\n");
    assert!(all.contains(
        &"line 2: keys.binder: h asks for both history (built in) and help (line 2)".into()
    ));
    assert!(
        all.iter()
            .any(|why| why.starts_with("line 2: keys.find: h is typed as text there"))
    );
    // The keys that are advised instead are free wherever one types.
    let advised: Vec<&str> = (all.iter())
        .filter_map(|why| why.split("a key such as ").nth(1))
        .flat_map(|keys| keys.split(" or "))
        .collect();
    assert!(!advised.is_empty());
    for key in advised {
        taken(&format!("[keys.everywhere]\nhelp = \"{key}\"\n"));
    }
    assert!(told("[keys.binder]\nturn = \"y\"\n")[0].contains("“page-back” or “page-on”"));
    // Terminals send it as tab (ECMA-48: HT is 0/9).
    assert!(told("[keys.binder]\nfind = \"ctrl-i\"\n")[0].contains("“ctrl-i” is no key"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    /// A file of any kind is taken or told, with lines that it has.
    #[test]
    fn no_text_breaks_the_reader(
        cut in 0_usize..20_000,
        put in "[\\[\\]\"'=#.a-z0-9\\n\\\\ \u{0}-\u{1F}é界]{0,12}",
        at in 0_usize..20_000,
    ) {
        let mut text: String = example(known());
        let floor = |text: &str, at: usize| (0..=at.min(text.len()))
            .rev()
            .find(|at| text.is_char_boundary(*at))
            .unwrap();
        let at = floor(&text, at);
        text.insert_str(at, &put);
        text.truncate(floor(&text, cut.max(at)));
        if let Err(errors) = read(&text, known()) {
            let lines = text.split('\n').count();
            for SettingsError { line, why } in errors {
                prop_assert!((1..=lines).contains(&line), "{line} of {lines}");
                prop_assert!(!why.is_empty());
            }
        }
    }
}

#[test]
fn the_command_tells_the_path_and_what_is_changed() {
    let table = Table::new();
    insta::assert_snapshot!("settings_none", table.run(&["settings"]));
    std::fs::create_dir_all(table.path("config/ringbound")).unwrap();
    table.file(
        "config/ringbound/settings.toml",
        "[screen]\npalette = \"light\"\n\n[keys.binder]\nnext-gap = \"j\"\n",
    );
    insta::assert_snapshot!("settings_there", table.run(&["settings"]));
    let json = table.json(&["settings", "--json"]);
    assert_eq!(json["format"], "ringbound-settings");
    assert_eq!(
        (&json["there"], &json["changed"][0]),
        (&true.into(), &"screen.palette = \"light\"".into())
    );
    assert_eq!(table.ok(&["settings", "--example"]), example(known()));
    assert_eq!(table.exit(&["settings", "--example", "--json"]), 2);
}

/// The exit code of a bad input file: the list in the help, and interface words of ours.
#[test]
fn a_bad_file_begins_nothing_and_each_line_is_told() {
    let table = Table::new();
    table.file(
        "bad.toml",
        "[screen]\nmuose = true\n[paper]\nsize = \"a9\"\n",
    );
    let told = table.run(&["--settings", "bad.toml", "wants"]);
    insta::assert_snapshot!("settings_bad", told);
    assert_eq!(table.exit(&["--settings", "bad.toml", "settings"]), 3);
    assert_eq!(table.exit(&["--settings", "nowhere.toml", "wants"]), 3);
    assert_eq!(table.exit(&["--settings", ".", "wants"]), 3);
    table.file("bytes.toml", b"[screen]\n# \xff\n");
    let told = table.run(&["--settings", "bytes.toml", "wants"]);
    assert!(
        told.contains("bytes.toml, line 2: the file is no UTF-8 text"),
        "{told}"
    );
    assert!(told.contains("-- exit 3 --"), "{told}");
    // What mends, and what knows of no settings, works all the same.
    let told = table.run(&["--settings", "bad.toml", "check"]);
    assert!(
        told.contains("warning: the settings are passed over"),
        "{told}"
    );
    assert!(told.contains("-- exit 0 --"), "{told}");
    assert_eq!(table.exit(&["--settings", "bad.toml", "recover"]), 0);
    assert_eq!(
        table.exit(&["--settings", "bad.toml", "settings", "--example"]),
        0
    );
    assert_eq!(
        table.exit(&["--settings", "bad.toml", "shell-completions", "bash"]),
        0
    );
    assert_eq!(table.exit(&["--settings", "bad.toml", "man"]), 0);
    // A file that is named in the environment counts as named; an empty name is none.
    let with = |value: &str| {
        let mut command = table.command(&["wants"]);
        command.env("RINGBOUND_SETTINGS", value);
        command.output().unwrap().status.code()
    };
    assert_eq!((with("bad.toml"), with("")), (Some(3), Some(0)));
    assert!(!table.shelf().exists(), "nothing was begun");
}

#[test]
fn an_option_goes_before_the_file() {
    let table = Table::new();
    table.file(
        "mine.toml",
        "[collecting]\npage = \"2x2\"\nsides = \"one\"\nfinishes = [\"regular\", \"reverse\"]\n",
    );
    table.ok(&["--settings", "mine.toml", "new", "FEN", "1 to 6"]);
    let page = table.ok(&["show", "FEN", "1"]);
    assert!(page.contains("2 rows of 2 pockets"), "{page}");
    let json = table.json(&["completion", "--json"]);
    assert_eq!(json["sets"][0]["total"], 12, "in two finishes");
    table.ok(&[
        "--settings",
        "mine.toml",
        "new",
        "DAL",
        "1 to 6 in gold",
        "--page",
        "3x1",
    ]);
    let page = table.ok(&["show", "DAL", "1"]);
    assert!(page.contains("3 rows of one pocket"), "{page}");
}

#[test]
fn spares_that_are_kept_and_the_currency_come_from_the_file() {
    let table = Table::with_fen();
    table.file("have.csv", "set,number,count\nFEN,1,4\n");
    table.ok(&["import", "copies", "have.csv", "--in-place"]);
    let spares = |args: &[&str]| {
        let json = table.json(&[args, &["spares", "--json"]].concat());
        json["spares"][0]["count"].as_u64()
    };
    table.file(
        "mine.toml",
        "[collecting]\nkeep = 2\n[supplies]\ncurrency = \"JPY\"\n",
    );
    assert_eq!(spares(&[]), Some(3));
    assert_eq!(spares(&["--settings", "mine.toml"]), Some(1));
    let kept = table.json(&["--settings", "mine.toml", "spares", "--keep", "1", "--json"]);
    assert_eq!(kept["spares"][0]["count"], 2);
    table.file(
        "prices.csv",
        "item,size,pack,price\npage,2x1 clear,10,500\n",
    );
    let supplies = ["supplies", "--prices", "prices.csv", "--from-nothing"];
    assert_eq!(table.exit(&supplies), 3, "a price needs a currency");
    let told = table.run(&[&["--settings", "mine.toml"], &supplies[..]].concat());
    assert!(told.contains("JPY"), "{told}");
}

#[test]
fn words_for_colours_are_checked() {
    let table = Table::new();
    let told = table.run(&["--colours", "drak", "wants"]);
    assert!(
        told.contains("write auto, dark, light, none; did you mean “dark”?"),
        "{told}"
    );
    assert!(told.contains("-- exit 2 --"), "{told}");
    assert_eq!(table.exit(&["--colors", "light", "wants"]), 0);
    let mut command = table.command(&["wants"]);
    command.env("RINGBOUND_COLOURS", "drak");
    assert_eq!(command.output().unwrap().status.code(), Some(2));
}

/// XDG Base Directory Specification: a relative path in the variable is passed over.
#[test]
fn the_version_tells_where_the_settings_lie_and_what_the_screen_is() {
    let table = Table::new();
    let mut command = table.command(&["--version"]);
    command.env("TERM", "xterm-256color").env("LANG", "C");
    let told = String::from_utf8(command.output().unwrap().stdout).unwrap();
    let path = table.path("config/ringbound/settings.toml");
    assert!(
        told.contains(&format!("settings: {}", path.display())),
        "{told}"
    );
    assert!(told.contains("screen: 256 colours, ASCII"), "{told}");
    let mut command = table.command(&["--version"]);
    command
        .env("XDG_CONFIG_HOME", "config")
        .env("HOME", table.path("home"));
    let told = String::from_utf8(command.output().unwrap().stdout).unwrap();
    assert!(
        told.contains(table.path("home").to_str().unwrap()),
        "{told}"
    );
}

fn log_of(table: &Table, name: &str) -> Vec<String> {
    // Without the time and the number of the process.
    let lines = table.read(name);
    let lines = lines.lines().map(|line| match line.strip_prefix('#') {
        Some(_) => line.to_owned(),
        None => line.splitn(3, ' ').nth(2).unwrap().to_owned(),
    });
    lines.collect()
}

#[test]
fn a_log_tells_what_was_opened_done_and_refused() {
    let table = Table::new();
    table.ok(&["--log", "did.log", "new", "FEN", "1 to 6"]);
    table.exit(&["--log", "did.log", "new", "FEN", "1 to 6 \u{1b}[2J"]);
    let mut command = table.command(&["undo"]);
    command.env("RINGBOUND_LOG", table.path("did.log"));
    assert!(command.output().unwrap().status.success());
    let log = log_of(&table, "did.log").join("\n");
    let log = log.replace(&table.shelf().display().to_string(), "<shelf>");
    let log = log.replace(env!("CARGO_PKG_VERSION"), "<version>");
    insta::assert_snapshot!("settings_log", log);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(table.path("did.log"))
            .unwrap()
            .permissions()
            .mode();
        assert_eq!(mode & 0o777, 0o600, "for its owner only");
    }
    // RFC 3339, 5.6.
    let text = table.read("did.log");
    let line = text.lines().nth(1).unwrap();
    let time = line.split(' ').next().unwrap();
    assert!(time.parse::<jiff::Timestamp>().is_ok(), "{line}");
}

#[test]
fn a_log_that_cannot_be_had_is_told_and_nothing_fails() {
    let table = Table::new();
    table.file("mine.txt", "my own words\n");
    let refused = |name: &str, why: &str| {
        let told = table.run(&["--log", name, "gaps"]);
        assert!(told.contains("warning: no log is written: "), "{told}");
        assert!(
            told.contains(why) && told.contains("-- exit 0 --"),
            "{told}"
        );
    };
    refused("mine.txt", "is another file, which is left alone");
    assert_eq!(table.read("mine.txt"), "my own words\n");
    refused(".", "is no file");
    refused("nowhere/did.log", "is in a folder that is not there");
    table.ok(&["new", "FEN", "1 to 6"]);
    let kept = table.kept();
    refused("shelf/journal", "is in the folder of the collection");
    assert_eq!(table.kept(), kept);
    table.file("mine.toml", "[log]\nfile = \"mine.txt\"\n");
    let told = table.run(&["--settings", "mine.toml", "gaps"]);
    assert!(told.contains("is another file"), "{told}");
}

#[test]
fn lists_deeds_and_swaps_are_copied_as_they_are_shown() {
    let mut scene = Scene::demo((80, 24));
    scene.keys("enter f5");
    let pocket = scene.app.take_clipboard().unwrap();
    let lines: Vec<_> = pocket.lines().collect();
    assert_eq!(lines.len(), 3, "binder, card, place: {pocket}");
    let card = scene.at(lines[1]);
    assert!(card.1 > 0, "the card stands there in the same words");
    assert_eq!(scene.app.take_clipboard(), None, "once");
    scene.keys("l f5");
    let list = scene.app.take_clipboard().unwrap();
    let boxes = list.lines().filter(|line| line.starts_with("[ ] ")).count();
    assert!(boxes > 1 && boxes + 1 == list.lines().count(), "{list}");
    scene.at(&format!("clipboard: {boxes} lines"));
    scene.keys("esc w enter f5");
    let deeds = scene.app.take_clipboard().unwrap();
    let boxes = deeds
        .lines()
        .filter(|line| line.starts_with("[ ] "))
        .count();
    assert!(boxes > 1 && boxes == deeds.lines().count(), "{deeds}");
    scene.keys("esc ? f5");
    assert_eq!(
        scene.app.take_clipboard(),
        None,
        "the help has nothing to copy"
    );
}

/// More than 100,000 bytes in base64 (RFC 4648: four characters for three bytes).
#[test]
fn what_is_too_long_for_a_clipboard_is_told_and_not_sent() {
    let table = Table::new();
    table.ok(&["new", "LONG", "1 to 4000"]);
    let clock = Box::new(String::new);
    let how = ringbound::session::Open::ForReading;
    let (session, _) = Session::open(&table.shelf(), how, clock).unwrap();
    let mut scene = Scene::new(session, PLAIN, (80, 24));
    scene.keys("enter l f5");
    scene.at("Too long for a clipboard: 4000 lines, over 74 kB");
    assert_eq!(scene.app.take_clipboard(), None);
}
