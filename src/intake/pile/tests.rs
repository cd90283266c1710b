//! The lines are those that the entry of a pile promises to take; that a number in one finish
//! only needs no finish is common practice, no source.

use proptest::prelude::*;

use super::*;
use crate::demo;
use crate::model::{Card, Change, Finish, SetHead};

/// A set whose numbers are awkward: `x3`, `Q 4`, `007`, `12/80` and `12/81`.
fn awkward() -> Collection {
    let mut made = Collection::new();
    let set = SetId(0);
    let card = |number: &str, finishes| Card {
        number: number.into(),
        name: "".into(),
        rarity: None,
        size: None,
        finishes,
    };
    let finish = |name: &str, mark: &str| Change::AddFinish {
        set,
        finish: Box::new(Finish {
            name: name.into(),
            mark: mark.into(),
        }),
    };
    let changes = [
        Change::AddSet {
            set,
            at: usize::from(set.0),
            head: Box::new(SetHead {
                code: "ODD".into(),
                ..SetHead::default()
            }),
        },
        finish("regular", ""),
        finish("reverse", "r"),
        finish("gold edge", "g"),
        Change::AddCards {
            set,
            first: 0,
            cards: vec![
                card("x3", 1),
                card("Q 4", 0b111),
                card("007", 0b10),
                card("12/80", 0b110),
                card("12/81", 1),
                card("72", 1),
            ],
        },
    ];
    Change::apply_all(&changes, &mut made).unwrap();
    made
}

/// `set number finish count`, or why not.
fn told(collection: &Collection, set: &str, line: &str) -> String {
    match read_line(collection, collection.set_by_code(set), line) {
        Ok(entry) => words(collection, entry),
        Err(why) => why.to_string(),
    }
}

fn words(collection: &Collection, entry: Entry) -> String {
    let set = collection.set(entry.printing.set()).unwrap();
    let card = set.card(entry.printing.card()).unwrap();
    let finish = &set.finishes()[usize::from(entry.printing.finish())].name;
    format!("{} {} {finish} {}", set.code(), card.number, entry.count)
}

#[test]
fn number_finish_count_and_set_are_read() {
    let demo = demo::collection();
    for (line, right) in [
        ("12a", "MOSS 12a regular 1"),
        ("7 r", "MOSS 7 reverse 1"),
        ("7 x3", "MOSS 7 regular 3"),
        ("7 3x", "MOSS 7 regular 3"),
        ("x3 7", "MOSS 7 regular 3"),
        ("7 x 3", "MOSS 7 regular 3"),
        ("MOSS 12", "MOSS 12 regular 1"),
        ("wood 12", "WOOD 12 regular 1"),
        ("✦ 12 r", "WOOD 12 reverse 1"),
        ("12 reverse x2", "MOSS 12 reverse 2"),
        ("  12\tREV  ×2 ", "MOSS 12 reverse 2"),
        ("12A", "MOSS 12a regular 1"),
        ("012", "MOSS 12 regular 1"),
        ("p3", "MOSS P3 regular 1"),
        ("LAMP 100", "LAMP 100/100 regular 1"),
    ] {
        assert_eq!(told(&demo, "MOSS", line), right, "{line}");
    }
    assert_eq!(told(&demo, "", "MOSS 12"), "MOSS 12 regular 1");
}

#[test]
fn a_finish_is_only_asked_where_it_matters_and_the_first_one_of_the_card_is_taken() {
    let odd = awkward();
    // It comes in reverse only.
    assert_eq!(told(&odd, "ODD", "007"), "ODD 007 reverse 1");
    assert_eq!(told(&odd, "ODD", "7"), "ODD 007 reverse 1");
    assert_eq!(told(&odd, "ODD", "12/80"), "ODD 12/80 reverse 1");
    assert_eq!(told(&odd, "ODD", "q4 gold"), "ODD Q 4 gold edge 1");
    assert_eq!(told(&odd, "ODD", "Q 4 g x2"), "ODD Q 4 gold edge 2");
    assert_eq!(told(&odd, "ODD", "Q 4 gold edge"), "ODD Q 4 gold edge 1");
}

/// Common practice, no source: `r` is for the reverse.
#[test]
fn one_letter_is_not_the_beginning_of_the_finish_that_need_not_be_said() {
    let odd = awkward();
    for words in ["72 r", "72 re"] {
        let why = told(&odd, "ODD", words);
        assert!(why.contains("does not come in"), "{words}: {why}");
    }
    assert_eq!(told(&odd, "ODD", "72 reg"), "ODD 72 regular 1");
    let demo = crate::demo::collection();
    let why = told(&demo, "HEDGE", "3 r");
    assert!(why.contains("does not come in"), "{why}");
}

#[test]
fn a_number_that_looks_like_a_count_or_has_spaces_is_a_number() {
    let odd = awkward();
    assert_eq!(told(&odd, "ODD", "x3"), "ODD x3 regular 1");
    assert_eq!(told(&odd, "ODD", "x3 x2"), "ODD x3 regular 2");
    assert_eq!(told(&odd, "ODD", "Q 4"), "ODD Q 4 regular 1");
    // Two numbers are not read as one.
    assert_eq!(
        told(&odd, "ODD", "7 2"),
        "ODD 007 does not come in “2”; it comes in “reverse”"
    );
}

#[test]
fn what_is_not_taken_is_told_with_the_nearest_right_words() {
    let (demo, odd) = (demo::collection(), awkward());
    for (line, right) in [
        ("", "nothing is written here"),
        (
            "12c",
            "there is no “12c” in MOSS; near it are “12”, “12a”, “120” and “121”",
        ),
        (
            "P9",
            "there is no “P9” in MOSS; near it are “P3”, “P2”, “P1” and “9”",
        ),
        (
            "WOOD 303",
            "there is no “303” in WOOD; near it are “300”, “203”, “103” and “33”",
        ),
        ("4711", "there is no “4711” in MOSS; near it is “130”"),
        ("owl", "there is no “owl” in MOSS"),
        ("Q7777", "there is no “Q7777” in MOSS"),
        (
            "12 silver",
            "MOSS 12 does not come in “silver”; it comes in “regular” and “reverse”",
        ),
        (
            "499 reverse",
            "there is no “499” in MOSS; near it are “99” and “49”",
        ),
        (
            "7 x0",
            "“0” is no count; write a whole number from 1 to 1000000",
        ),
        (
            "7 x99999999999",
            "“99999999999” is no count; write a whole number from 1 to 1000000",
        ),
    ] {
        assert_eq!(told(&demo, "MOSS", line), right, "{line}");
    }
    assert_eq!(
        told(&odd, "ODD", "12"),
        "“12” may be “12/80” and “12/81” in ODD; write it in full"
    );
    assert_eq!(
        told(&odd, "ODD", "7 regular"),
        "ODD 007 does not come in “regular”; it comes in “reverse”"
    );
    assert_eq!(told(&odd, "", "7"), "of which set is “7”? there is “ODD”");
}

#[test]
fn a_pasted_list_is_apart_in_what_is_taken_and_what_is_not() {
    let demo = demo::collection();
    let text = "12a, 7 x2; 4711\r\n\r\nWOOD:\n3 r\nnonsense\nMOSS 5\n4\n";
    let pasted = read_lines(&demo, demo.set_by_code("MOSS"), text);
    let taken: Vec<_> = (pasted.taken.iter())
        .map(|(line, entry)| format!("{line}: {}", words(&demo, *entry)))
        .collect();
    assert_eq!(
        taken,
        [
            "1: MOSS 12a regular 1",
            "1: MOSS 7 regular 2",
            "4: WOOD 3 reverse 1",
            "6: MOSS 5 regular 1",
            "7: WOOD 4 regular 1",
        ]
    );
    let not: Vec<_> = (pasted.not_taken.iter())
        .map(|(line, text, _)| format!("{line}: {text}"))
        .collect();
    assert_eq!(not, ["1: 4711", "5: nonsense"]);
}

#[test]
fn a_set_is_chosen_by_symbol_code_shelf_number_or_a_few_letters_of_its_title() {
    let demo = demo::collection();
    let first = |words: &str| {
        let found = choose_set(&demo, words);
        found
            .first()
            .map(|id| demo.set(*id).unwrap().code().to_owned())
    };
    for (words, right) in [
        ("✥", "MOSS"),
        ("moss", "MOSS"),
        ("2", "MOSS"),
        ("02", "MOSS"),
        ("mo", "MOSS"),
        ("hedger", "HEDGE"),
        ("long wood", "WOOD"),
        ("nine st", "STONE"),
        ("hundr", "LAMP"),
        ("lntrn", "MARKET"),
    ] {
        assert_eq!(first(words).as_deref(), Some(right), "{words}");
    }
    assert_eq!(choose_set(&demo, " "), []);
    assert_eq!(choose_set(&demo, "zzz"), []);
}

proptest! {
    /// Whatever is typed, each piece of it is either taken or told, and nothing panics.
    #[test]
    fn no_line_is_lost(lines in prop::collection::vec("[ -~é×\u{1b}]{0,14}", 0..6)) {
        let demo = demo_once();
        let set = demo.set_by_code("MOSS");
        for line in &lines {
            match read_line(demo, set, line) {
                Ok(entry) => prop_assert!(demo.has_printing(entry.printing) && entry.count > 0),
                Err(why) => prop_assert!(!why.to_string().is_empty()),
            }
        }
    }

    /// Every printing can be said in full, and is what is understood then.
    #[test]
    fn every_printing_can_be_said(at in 0usize..3_000, count in 1u32..50) {
        let demo = demo_once();
        let all: Vec<_> = demo.sets().flat_map(|(id, set)| set.printings(id)).collect();
        let printing = all[at % all.len()];
        let set = demo.set(printing.set()).unwrap();
        let number = &set.card(printing.card()).unwrap().number;
        let finish = &set.finishes()[usize::from(printing.finish())].name;
        let line = format!("{} {number} {finish} x{count}", set.code());
        let right = Ok(Entry { printing, count });
        prop_assert_eq!(read_line(demo, demo.set_by_code("STONE"), &line), right.clone());
        prop_assert_eq!(read_line(demo, None, &line), right);
    }
}

fn demo_once() -> &'static Collection {
    static DEMO: std::sync::OnceLock<Collection> = std::sync::OnceLock::new();
    DEMO.get_or_init(demo::collection)
}

/// As many words as nobody could try the beginnings of one by one against so many cards.
#[test]
fn a_pasted_line_of_very_many_words_is_refused_and_not_pored_over() {
    let mut made = Collection::new();
    let cards = (1..=2_000).map(|number: u32| Card {
        number: number.to_string().into(),
        name: "".into(),
        rarity: None,
        size: None,
        finishes: 1,
    });
    let (set, finish) = (
        SetId(0),
        Finish {
            name: "regular".into(),
            mark: "".into(),
        },
    );
    let changes = [
        Change::AddSet {
            set,
            at: 0,
            head: Box::new(SetHead {
                code: "FEN".into(),
                ..SetHead::default()
            }),
        },
        Change::AddFinish {
            set,
            finish: Box::new(finish),
        },
        Change::AddCards {
            set,
            first: 0,
            cards: cards.collect(),
        },
    ];
    Change::apply_all(&changes, &mut made).unwrap();
    let words = "moss ".repeat(200_000);
    let pasted = read_lines(
        &made,
        Some(set),
        &format!("7\n{words}\n{words}regular\n007 REGULAR"),
    );
    let taken = pasted.taken.iter();
    let taken: Vec<_> = taken
        .map(|(line, entry)| (*line, self::words(&made, *entry)))
        .collect();
    assert_eq!(
        taken,
        [(1, "FEN 7 regular 1".into()), (4, "FEN 7 regular 1".into())]
    );
    assert_eq!(pasted.not_taken.len(), 2);
    for (_, written, why) in &pasted.not_taken {
        assert_eq!(written.split(' ').next(), Some("moss"));
        let Why::NoNumber { written, .. } = why else {
            panic!("{why:?}");
        };
        assert_eq!(*written, words.trim_end());
    }
}
