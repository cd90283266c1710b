use super::*;

fn key(word: &str) -> Option<String> {
    let known = [
        "n", "b", "f", "esc", "?", "q", "f1", "ctrl-c", "space", "enter",
    ];
    known.contains(&word).then(|| word.to_owned())
}

fn verb(word: &str, keys: &[&str], is_needed: bool) -> Verb {
    Verb {
        word: word.into(),
        keys: keys.iter().map(ToString::to_string).collect(),
        says: "does it",
        is_needed,
    }
}

/// A small screen of its own: a binder, and a field to type in.
fn known() -> Known {
    let sign = |word, usual, is_state| Sign {
        word,
        says: "a sign",
        usual,
        is_state,
    };
    Known {
        places: vec![
            Place {
                word: "binder".into(),
                takes_text: false,
                verbs: vec![
                    verb("next-gap", &["n"], false),
                    verb("gap-before", &["b"], false),
                    verb("help", &["?", "f1"], true),
                    verb("leave", &["esc"], true),
                ],
            },
            Place {
                word: "find".into(),
                takes_text: true,
                verbs: vec![verb("help", &["f1"], true), verb("leave", &["esc"], true)],
            },
        ],
        roles: vec![Role {
            word: "gap",
            says: "a gap",
        }],
        signs: vec![
            sign("in-place", &["■"], true),
            sign("gap", &["□"], true),
            sign("edge", &["+", "+", "+", "+", "-", "|"], false),
        ],
        key,
    }
}

fn taken(text: &str) -> Settings {
    read(text, &known()).unwrap_or_else(|errors| panic!("{errors:#?}"))
}

fn told(text: &str) -> Vec<String> {
    let errors = read(text, &known()).unwrap_err();
    errors.iter().map(ToString::to_string).collect()
}

#[test]
fn nothing_said_is_as_built_in() {
    assert_eq!(taken(""), Settings::default());
    assert_eq!(
        taken("# only a comment\r\n\r\n[screen]\r\n"),
        Settings::default()
    );
}

#[test]
fn the_example_says_every_entry_and_reads_back_as_the_defaults() {
    let example = example(&known());
    assert_eq!(taken(&example), Settings::default());
    assert_eq!(changed(&taken(&example), &known()), Vec::<String>::new());
    for entry in entries::ENTRIES {
        let line = format!("\n{} = ", entry.name);
        assert!(example.contains(&line), "{}", entry.name);
    }
    assert!(
        example.contains("\n[keys.find]\n# does it\nhelp = \"f1\"\n"),
        "{example}"
    );
}

#[test]
fn what_is_said_is_taken_and_told_as_the_file_would_say_it() {
    let settings = taken(
        "[screen]\npalette = 'light'\nascii = true\nmouse = false\n\
         [collecting]\nfinishes = ['regular', 'gold edge']\npage = '3x4'\nkeep = 2\n\
         [paper]\nsize = 'Letter'\nlabel-foot = 25\n\
         [supplies]\ncurrency = 'kwd'\n\
         [colours]\ngap = '#0072B2'\n\
         [signs]\nin-place = '●'\n\
         [keys.binder]\nnext-gap = 'f space'\n",
    );
    assert_eq!(settings.screen.palette, Palette::Light);
    assert_eq!(settings.collecting.page, (3, 4));
    let told = [
        "screen.palette = \"light\"",
        "screen.ascii = true",
        "screen.mouse = false",
        "collecting.finishes = [\"regular\", \"gold edge\"]",
        "collecting.page = \"3x4\"",
        "collecting.keep = 2",
        "paper.size = \"letter\"",
        "paper.label-foot = 25",
        "supplies.currency = \"KWD\"",
        "colours.gap = \"#0072b2\"",
        "signs.in-place = \"●\"",
        "keys.binder.next-gap = \"f space\"",
    ];
    assert_eq!(changed(&settings, &known()), told);
}

/// A line of the file that is wrong, and how that is told.
#[test]
fn what_is_not_known_or_of_another_kind_is_told_with_its_line_and_what_is_right() {
    let cases = [
        (
            "[scren]",
            "line 1: [scren] is not known; did you mean “screen”?",
        ),
        (
            "mouse = true",
            "line 1: “mouse” is not known here; it belongs under [screen]",
        ),
        (
            "screen = true",
            "line 1: “screen” is not known here; write [screen] in a line of its own",
        ),
        (
            "\n[screen]\nmuose = true",
            "line 3: [screen] has no “muose”; did you mean “mouse”?",
        ),
        (
            "[screen]\nkeep = 1",
            "line 2: [screen] has no “keep”; it belongs under [collecting]",
        ),
        (
            "[screen]\nmouse = \"yes\"",
            "line 2: screen.mouse: write true or false, without quotes",
        ),
        (
            "[screen]\npalette = \"drak\"",
            "line 2: screen.palette: “drak” is not known; write \"auto\" or \"dark\" or \"light\" \
             or \"none\"; did you mean “dark”?",
        ),
        (
            "[collecting]\nkeep = -1",
            "line 2: collecting.keep: write a whole number from 0 to 99, without quotes",
        ),
        (
            "[collecting]\nkeep = 99999999999999999999",
            "line 2: collecting.keep: write a whole number from 0 to 99, without quotes",
        ),
        (
            "[paper]\nlabel-foot = nan",
            "line 2: paper.label-foot: write millimetres from 0 to 2000, without quotes: 2.5",
        ),
        (
            "[supplies]\ncurrency = \"EURO\"",
            "line 2: supplies.currency: “EURO” is no currency; write its letters of ISO 4217: \
             \"EUR\"",
        ),
        (
            "[colours]\ngpa = 1",
            "line 2: colours has no “gpa”; did you mean “gap”?",
        ),
        (
            "[colours]\ngap = 256",
            "line 2: colours.gap is no colour; write \"usual\", \"plain\", a name such as \"sky \
             blue\", \"#56b4e9\", or a number from 0 to 255",
        ),
        (
            "[signs]\nedge = \"+-|\"",
            "line 2: signs.edge: write 6 signs of one column each: \"++++-|\"",
        ),
        (
            "[signs]\ngap = \"界\"",
            "line 2: signs.gap: write one sign of one column: \"□\"",
        ),
        (
            "[signs]\ngap = \"\\u001b\"",
            "line 2: signs.gap: write one sign of one column: \"□\"",
        ),
        (
            "[keys.bindre]\n",
            "line 1: keys has no “bindre”; did you mean “binder”?",
        ),
        (
            "[keys.binder]\nnext = \"n\"",
            "line 2: keys.binder has no “next”",
        ),
        (
            "[keys]\nnext-gap = \"n\"",
            "line 2: keys are set by places: write [keys.binder] or [keys.everywhere] above \
             “next-gap”",
        ),
        (
            "[keys.binder]\nnext-gap = \"strg-n\"",
            "line 2: keys.binder.next-gap: “strg-n” is no key; keys are written n, N, ctrl-n, \
             alt-n, f2, enter, pgdn",
        ),
    ];
    for (text, why) in cases {
        let told = told(text);
        assert!(
            told.len() == 1 && told[0].starts_with(why),
            "{text}: {told:#?}\n{why}"
        );
    }
}

/// A word that names no verb, though it says what one does.
#[test]
fn a_verb_is_found_by_what_it_does_if_few_do_it() {
    let says = |word: &str, says| Verb {
        says,
        ..verb(word, &[], false)
    };
    let mut known = known();
    // Few verbs are all told; these are too many.
    let others = (0..9).map(|at| verb(&format!("other-{at}"), &[], false));
    known.places[0].verbs = others.collect();
    known.places[0].verbs.extend([
        says("back-a-gap", "to the gap before"),
        says("forth", "to the next gap"),
        says("first-way", "flip it"),
        says("second-way", "flip it"),
        says("third-way", "flip it"),
        says("fourth-way", "flip it"),
    ]);
    let told = |name: &str| {
        let text = format!("[keys.binder]\n{name} = \"f1\"\n");
        read(&text, &known).unwrap_err()[0].to_string()
    };
    let asked = "line 2: keys.binder has no “gap-before”; did you mean “back-a-gap”?";
    assert_eq!(told("gap-before"), asked);
    // What two of them do leads to both; what more do than are told, to none.
    let asked = "line 2: keys.binder has no “to-gap”; did you mean “back-a-gap” or “forth”?";
    assert_eq!(told("to-gap"), asked);
    assert_eq!(told("flip"), "line 2: keys.binder has no “flip”");
    assert_eq!(
        told("gap-sideways"),
        "line 2: keys.binder has no “gap-sideways”"
    );
}

#[test]
fn everything_that_is_wrong_is_told_by_lines() {
    let text = "[screen]\nmouse = 1\n\n[paper]\nsize = \"a9\"\npaper = 1\n[colours]\ngap = 1.5\n";
    let errors = read(text, &known()).unwrap_err();
    let lines: Vec<_> = errors.iter().map(|error| error.line).collect();
    assert_eq!(lines, [2, 5, 6, 8]);
}

/// TOML 1.0: a table or a key cannot be defined more than once; a bare word is no value.
#[test]
fn what_is_no_toml_is_told_with_its_line() {
    let begins = |text: &str, place: &str| {
        let told = told(text);
        assert!(told[0].starts_with(place), "{text}: {told:?}");
    };
    begins("[screen]\nmouse = true\nmouse = true\n", "line 3: ");
    begins("[screen]\nmouse = yes\n", "line 2: ");
    begins("[screen\n", "line 1: ");
    begins("\n\n[screen]\npalette = \"dark\n", "line 4: ");
}

#[test]
fn a_key_cannot_ask_for_two_things_in_one_place() {
    assert_eq!(
        told("[keys.binder]\nnext-gap = \"f\"\ngap-before = \"space f\"\n"),
        ["line 3: keys.binder: f asks for both next-gap (line 2) and gap-before (line 3)"]
    );
    assert_eq!(
        told("[keys.binder]\nnext-gap = \"b\"\n"),
        ["line 2: keys.binder: b asks for both next-gap (line 2) and gap-before (built in)"]
    );
    taken("[keys.binder]\nnext-gap = \"b\"\ngap-before = \"n\"\n");
    assert_eq!(
        told("[keys.everywhere]\nhelp = \"n\"\n"),
        [
            "line 2: keys.binder: n asks for both next-gap (built in) and help (line 2)",
            "line 2: keys.find: n is typed as text there; give help a key such as f5"
        ]
    );
}

#[test]
fn a_place_can_always_be_left_and_its_help_be_had() {
    assert_eq!(
        told("[keys.binder]\nleave = \"\"\nhelp = \" \"\n"),
        [
            "line 2: keys.binder: leave needs a key",
            "line 3: keys.binder: help needs a key"
        ]
    );
    assert_eq!(
        told("[keys.find]\nleave = \"q\"\n"),
        ["line 2: keys.find: q is typed as text there; give leave a key such as f5"]
    );
    let settings = taken("[keys.binder]\nnext-gap = \"\"\n");
    assert_eq!(
        changed(&settings, &known()),
        ["keys.binder.next-gap = \"\""]
    );
}

#[test]
fn a_verb_for_all_places_gives_way_to_what_one_place_says() {
    let settings = taken("[keys.everywhere]\nhelp = \"enter\"\n[keys.find]\nhelp = \"f1\"\n");
    assert_eq!(
        changed(&settings, &known()),
        ["keys.binder.help = \"enter\""]
    );
}

#[test]
fn two_states_of_a_pocket_cannot_look_the_same() {
    assert_eq!(
        told("[signs]\ngap = \"■\"\n"),
        [
            "line 2: ■ would stand for both in-place (built in) and gap (line 2); signs of \
             pockets must differ"
        ]
    );
    taken("[signs]\ngap = \"■\"\nin-place = \"□\"\n");
}

#[test]
fn a_file_that_cannot_be_meant_is_not_read() {
    let told = told(&"#".repeat(MOST_BYTES + 1));
    assert_eq!(told, ["line 1: the file has more than 1048576 bytes"]);
    let many: String = (0..1_000).map(|at| format!("entry{at} = 1\n")).collect();
    assert_eq!(read(&many, &known()).unwrap_err().len(), 20);
}
