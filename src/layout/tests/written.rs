use proptest::prelude::*;

use super::*;
use crate::text::Choice;

fn words() -> impl Strategy<Value = Box<str>> {
    let any = "[a-zA-Z0-9 ,;:\"é☂-]{1,9}";
    let tricky = prop::sample::select(vec!["to", "1 to 3", "not rare", "x", "4 x 4", " a", "a  b"]);
    prop_oneof![4 => any.prop_map(String::from), 1 => tricky.prop_map(String::from)]
        .prop_filter("some words", |words| !words.trim().is_empty())
        .prop_map(Into::into)
}

fn list() -> impl Strategy<Value = Vec<Box<str>>> {
    prop::collection::vec(words(), 0..4)
}

fn pick() -> impl Strategy<Value = Pick> {
    let numbers = prop::collection::vec((words(), words()), 0..3).prop_map(|all| {
        let upwards = |(a, b): (Box<str>, Box<str>)| match crate::text::natural_cmp(&a, &b) {
            std::cmp::Ordering::Greater => (b, a),
            _ => (a, b),
        };
        all.into_iter().map(upwards).collect::<Vec<_>>()
    });
    let flags = (
        any::<bool>(),
        any::<bool>(),
        any::<bool>(),
        0usize..3,
        0usize..5,
    );
    let some = (
        prop::option::of(words()),
        list(),
        list(),
        numbers,
        list(),
        flags,
    );
    some.prop_map(|(set, finishes, rarities, numbers, list, flags)| {
        let (but, rest, together, size, by) = flags;
        Pick {
            set,
            finishes,
            but: but && !rarities.is_empty(),
            rarities,
            numbers,
            list,
            size: [Size::Any, Size::Usual, Size::Oversize][size],
            rest,
            by: Order::WORDS[by].1,
            together,
        }
    })
}

fn section() -> impl Strategy<Value = Section> {
    let what = prop_oneof![
        3 => pick().prop_map(What::Cards),
        1 => prop::collection::vec((1u32..5, words()), 1..4).prop_map(What::Keepsakes),
    ];
    let page = (1u8..5, 1u8..5, any::<bool>(), any::<bool>(), 0u16..2000).prop_map(
        |(rows, columns, shared, top, size)| {
            let mut page = PageFormat::new(rows, columns, 2);
            page.shared = shared;
            if top {
                page.opening = crate::model::Opening::Top;
            }
            if size >= 10 {
                (page.pocket_width, page.pocket_height) = (size, 890);
            }
            page
        },
    );
    let room = (0u32..3, 1u32..30).prop_map(|(kind, many)| match kind {
        0 => Room::None,
        1 => Room::Pockets(many),
        _ => Room::Pages(many),
    });
    let rest = (any::<bool>(), any::<bool>(), 0usize..4);
    (words(), what, page, room, rest).prop_map(|(name, what, page, room, rest)| {
        let mut section = Section::new(&name, page, what);
        section.fronts_only = rest.0;
        section.top_empty = rest.1 && page.rows > 1;
        section.begin = Begin::WORDS[rest.2].1;
        section.room = room;
        section
    })
}

proptest! {
    #[test]
    fn what_is_written_for_a_section_is_read_back_as_that_section(section in section()) {
        let line = section.to_string();
        prop_assert_eq!(line.parse::<Section>(), Ok(section), "{}", line);
    }

    #[test]
    fn whatever_is_typed_is_read_or_refused_with_words(line in "\\PC{0,60}") {
        if let Err(why) = line.parse::<Section>() {
            prop_assert!(!why.to_string().is_empty());
        }
    }
}

#[test]
fn a_section_is_written_in_the_words_of_the_trade() {
    let line = "Rares: finish main; rarity rare; by rarity; page 3x3; new side; room 4 pockets";
    assert_eq!(line.parse::<Section>().unwrap().to_string(), line);
    let line = "Packaging: keepsakes 2 x packaging, \"a box, blue\"; page 3x1; top row empty";
    assert_eq!(line.parse::<Section>().unwrap().to_string(), line);
    let line =
        "Late: numbers 101 to 120, P1 to P6, 130; the rest; page 2x2 top one-sided pocket 64x89";
    assert_eq!(line.parse::<Section>().unwrap().to_string(), line);
}

#[test]
fn a_wrong_line_is_refused_with_what_would_be_right() {
    for (line, why) in [
        ("rares", "name:"),
        (": page 3x3", "needs a name"),
        ("a: page 9", "rows x columns"),
        ("a: page 3x3 glossy", "pocket 64x89"),
        ("a: page 3x3 shared one-sided", "both sides"),
        ("a: page 1; top row empty", "no pocket"),
        ("a: rarity", "missing"),
        ("a: rarity rare; rarity common", "twice"),
        (
            "a: fronts only; both sides",
            "both sides or fronts only is said twice",
        ),
        ("a: usual size; oversize", "size is said twice"),
        ("a: new side; flowing on", "where it begins is said twice"),
        (
            "a: side by side; apart",
            "side by side or apart is said twice",
        ),
        ("a: the rest; rest", "the rest is said twice"),
        (
            "a: top row empty; top row empty",
            "top row empty is said twice",
        ),
        ("a: sideways", "both sides"),
        ("a: sideways", "apart"),
        ("a: numbers 9 to 3", "upwards"),
        ("a: by colour", "by number"),
        ("a: room many", "room 4 pockets"),
        ("a: rarity rare; keepsakes a", "not for both"),
        ("a: \"open", "not closed"),
        ("a: sideways", "not understood"),
        ("a: keepsakes \u{1b}[2J", "control characters"),
        ("a: keepsakes \"one\ttwo\"", "control characters"),
        (&format!("a: keepsakes {}", "b".repeat(1_001)), "1000 bytes"),
        (&format!("a: cards {}", "1, ".repeat(7_000)), "20000 bytes"),
    ] {
        let told = line.parse::<Section>().unwrap_err().to_string();
        assert!(told.contains(why), "{line}: {told}");
    }
}
