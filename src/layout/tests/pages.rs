use std::collections::HashSet;

use proptest::prelude::*;

use super::*;

#[test]
fn sections_stand_one_behind_the_other_each_in_its_order() {
    let collection = set_of(10);
    let laid = laid(
        &collection,
        &[
            "Rares: finish main; rarity rare; page 2x2",
            "Regulars: finish main; the rest; page 2x2",
            "Reverses: finish reverse; by name; page 2x2",
        ],
    );
    // Names run against the numbers; and 10 before 1, as numbers go.
    assert_eq!(
        drawn_all(&laid.pages),
        [
            "5 10 - - / - - - -",
            "1 2 3 4 / 6 7 8 9",
            "10r 9r 8r 7r / 6r 5r 4r 3r",
            "2r 1r - - / - - - -",
        ]
    );
    assert_eq!(laid.told, []);
}

#[test]
fn a_section_begins_on_a_new_page_side_or_row_or_flows_on() {
    let collection = set_of(6);
    for (begin, expected) in [
        ("new page", vec!["1 2 3 4 / 5 - - -", "6 - - - / - - - -"]),
        ("new side", vec!["1 2 3 4 / 5 - - -", "6 - - - / - - - -"]),
        ("new row", vec!["1 2 3 4 / 5 - 6 -"]),
        ("flowing on", vec!["1 2 3 4 / 5 6 - -"]),
    ] {
        let first = "A: finish main; numbers 1 to 5; page 2x2".to_owned();
        let second = format!("B: finish main; the rest; page 2x2; {begin}");
        let laid = laid(&collection, &[&first, &second]);
        assert_eq!(drawn_all(&laid.pages), expected, "{begin}");
    }
    let laid = laid(
        &collection,
        &[
            "A: finish main; numbers 1 to 3; page 2x2",
            "B: finish main; the rest; page 2x2; new side",
        ],
    );
    assert_eq!(drawn_all(&laid.pages), ["1 2 3 - / 4 5 6 -"]);
}

#[test]
fn room_is_left_behind_a_section_in_pockets_or_pages() {
    let collection = set_of(5);
    let second = "B: finish main; the rest; page 2x2; flowing on";
    for (room, expected) in [
        ("room 2 pockets", vec!["1 2 3 - / - 4 5 -"]),
        (
            "room 1 page",
            vec![
                "1 2 3 - / - - - -",
                "- - - - / - - - -",
                "4 5 - - / - - - -",
            ],
        ),
    ] {
        let first = format!("A: finish main; numbers 1 to 3; page 2x2; {room}");
        let laid = laid(&collection, &[&first, second]);
        assert_eq!(drawn_all(&laid.pages), expected, "{room}");
    }
}

#[test]
fn fronts_only_and_an_empty_top_row_leave_pockets_blank() {
    let collection = set_of(3);
    let fronts = laid(&collection, &["A: finish main; page 2x2; fronts only"]);
    assert_eq!(drawn_all(&fronts.pages), ["1 2 3 - / x x x x"]);
    let packaging = laid(
        &collection,
        &["P: keepsakes 3 x box, lid; page 3x1; top row empty"],
    );
    assert_eq!(
        drawn_all(&packaging.pages),
        ["x \"box 1\" \"box 2\" / x \"box 3\" \"lid\""]
    );
}

#[test]
fn the_finishes_of_a_card_stand_side_by_side_or_in_runs_apart() {
    let collection = set_of(3);
    let pairs = laid(&collection, &["A: side by side; page 2x2"]);
    assert_eq!(drawn_all(&pairs.pages), ["1 1r 2 2r / 3 3r - -"]);
    let apart = laid(&collection, &["A: page 2x2"]);
    assert_eq!(drawn_all(&apart.pages), ["1 2 3 1r / 2r 3r - -"]);
    let own = laid(&collection, &["A: finish r; cards 3, 1; by list; page 2x2"]);
    assert_eq!(drawn_all(&own.pages), ["3r 1r - - / - - - -"]);
}

#[test]
fn of_many_numbers_that_are_missing_it_is_told_that_there_are_more() {
    let collection = set_of(10);
    let told = |line: &str| -> Vec<String> {
        let rules = rules(&[line]);
        let laid = laid(&collection, &[line]);
        let told = laid.told.iter();
        told.map(|told| told.words(&collection, &rules)).collect()
    };
    let all = "A: finish main; cards 1, 91, 92, 93, 94, 95; page 3x3";
    let words = &told(all)[0];
    assert!(words.ends_with("no card 91, 92, 93, 94, 95"), "{words}");
    let words = &told("A: finish main; cards 1, 91, 92, 93, 94, 95, 96, 97; page 3x3")[0];
    assert!(words.ends_with("no card 91, 92, 93, 94, 95, …"), "{words}");
}

#[test]
fn a_section_is_told_by_its_name_without_the_quotes_that_it_is_written_in() {
    let collection = set_of(10);
    for (line, name) in [
        ("\"A: b\": rarity nope", "A: b"),
        ("\"A, b\": rarity nope", "A, b"),
        ("\"say \"\"when\"\"\": rarity nope", "say \"when\""),
        // Lines that cannot be read for something behind the name.
        ("\"A: b\": page 9", "A: b"),
        ("A b: \"open", "A b"),
    ] {
        let laid = laid(&collection, &[line]);
        let words = laid.told[0].words(&collection, &rules(&[line]));
        let begin = format!("Section 1 “{name}”: ");
        assert!(words.starts_with(&begin), "{words}");
    }
}

#[test]
fn what_is_wrong_with_rules_is_told_where_it_stands() {
    let collection = set_of(10);
    let lines = [
        "Rares: rarity rare; finish regular; page 3x3",
        "Low: numbers 1 to 6; finish regular; page 2x2; flowing on",
        "Odd: rarity scarce; page 3x3",
        "None: numbers 50 to 60; page 3x3",
        "Again: rarity rare; finish regular; page 3x3",
        "Oops: page",
        "Small: finish reverse; page 3x3 pocket 50x60",
        "Picked: cards 9, 77; finish regular; page 1",
        "Far: set MOSS; page 1",
    ];
    let laid = laid(&collection, &lines);
    let rules = rules(&lines);
    let told: Vec<_> = (laid.told.iter())
        .map(|told| (told.is_fault(), told.words(&collection, &rules)))
        .collect();
    let told: Vec<_> = told
        .iter()
        .map(|(fault, words)| (*fault, words.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            (
                false,
                "Section 2 “Low”: section 1 “Rares” has them already; 1 card: 5"
            ),
            (
                false,
                "Section 2 “Low”: begins on a new page: the pages before it are of another format"
            ),
            (true, "Section 3 “Odd”: the set has no rarity scarce"),
            (true, "Section 4 “None”: no card of the set is as it asks"),
            (
                true,
                "Section 5 “Again”: the sections before it have all of its cards"
            ),
            (
                true,
                "Section 6 “Oops”: a page is written rows x columns, each 1 to 20: 3x3, 3x4, 2x2, 3x1, or \
                 1 for one pocket"
            ),
            (
                true,
                "Section 7 “Small”: no card of it fits into pockets of this size"
            ),
            (false, "Section 8 “Picked”: the set has no card 77"),
            (true, "Section 9 “Far”: there is no set MOSS"),
            (false, "No rule matches 2 cards: 7, 8"),
        ]
    );
}

/// Capacities of the trade, references.md section 9 (quantities.json): pages of 9 loaded on both
/// sides hold 18 cards, pages of 4 hold 8.
#[test]
fn two_hundred_cards_come_to_as_many_pages_as_a_hand_would_count() {
    let collection = set_of(200);
    let all = templates(&collection, collection.binder(BINDER).unwrap());
    let chosen = template_by_name(&all, "Rares in front; pack").unwrap();
    let laid = lay_out(&collection, OWN, &chosen.rules);
    // 40 rares of which one is oversize, 160 others, 199 reverses, 2 oversize, 4 pack art, 2
    // pieces of packaging.
    let items: Vec<_> = laid.filled.iter().map(|filled| filled.items).collect();
    assert_eq!(items, [39, 160, 199, 2, 4, 2]);
    let pages: Vec<_> = laid.filled.iter().map(|filled| filled.pages).collect();
    let counted = [
        39_usize.div_ceil(18),
        160_usize.div_ceil(18),
        199_usize.div_ceil(18),
        1,
        1,
        1,
    ];
    assert_eq!(pages, counted);
    assert_eq!(laid.pages.len(), 3 + 9 + 12 + 1 + 1 + 1);
    assert_eq!(laid.told, []);
}

#[test]
fn every_usual_way_places_every_card_and_has_nothing_to_tell() {
    let collection = set_of(30);
    let all = templates(&collection, collection.binder(BINDER).unwrap());
    assert!(all.len() >= 8, "{all:?}");
    for template in all {
        let laid = lay_out(&collection, OWN, &template.rules);
        assert_eq!(laid.told, [], "{}", template.name);
        let placed = laid.pages.iter().flat_map(LayoutPage::printings).count();
        assert_eq!(placed, 60, "{}", template.name);
    }
}

#[test]
fn a_rarity_of_any_characters_has_its_usual_ways() {
    let odd = ["one\u{7}, x; \"two\"", "rare\tand\nmore"];
    let collection = set_with_rarities(30, odd);
    let all = templates(&collection, collection.binder(BINDER).unwrap());
    let usual = set_of(30);
    let others = templates(&usual, usual.binder(BINDER).unwrap());
    for (template, other) in all.iter().zip(&others) {
        let laid = lay_out(&collection, OWN, &template.rules);
        assert_eq!(laid.told, [], "{}", template.name);
        let same = lay_out(&usual, OWN, &other.rules);
        assert_eq!(laid.pages, same.pages, "{}", template.name);
    }
}

fn some_rules() -> impl Strategy<Value = Vec<String>> {
    let which = prop::sample::select(vec![
        "",
        "finish main; ",
        "finish others; ",
        "rarity rare; ",
        "rarity not rare; ",
        "numbers 3 to 11; ",
        "cards 4, 2, 9; by list; ",
        "the rest; ",
        "oversize; ",
        "usual size; ",
    ]);
    let order = prop::sample::select(vec!["", "by name; ", "by rarity; ", "side by side; "]);
    let page = prop::sample::select(vec![
        "page 3x3",
        "page 2x2",
        "page 2x2; fronts only",
        "page 3x1; top row empty",
        "page 2x2; new row",
        "page 2x2; new side; room 3 pockets",
        "page 3x3; flowing on; room 1 page",
        "page 2x2; flowing on",
    ]);
    let line = (which, order, page).prop_map(|(which, order, page)| {
        let order = if which.contains("by list") { "" } else { order };
        format!("{which}{order}{page}")
    });
    prop::collection::vec(line, 1..6).prop_map(|lines| {
        let named = lines.into_iter().enumerate();
        named.map(|(at, line)| format!("S{at}: {line}")).collect()
    })
}

proptest! {
    #[test]
    fn each_card_has_one_pocket_or_is_told_as_matched_by_no_rule(lines in some_rules()) {
        let collection = set_of(13);
        let rules: Rules = lines.iter().map(|line| line.as_str().into()).collect();
        let laid = lay_out(&collection, OWN, &rules);
        let again = lay_out(&collection, OWN, &rules);
        prop_assert_eq!(&laid.pages, &again.pages);
        let mut all: Vec<PrintingId> = (laid.pages.iter())
            .flat_map(|page| page.printings().map(|(_, id)| id))
            .collect();
        for told in &laid.told {
            if let Told::Unmatched { printings } = told {
                all.extend(printings);
            }
        }
        let seen: HashSet<_> = all.iter().copied().collect();
        prop_assert_eq!(seen.len(), all.len(), "none twice");
        prop_assert_eq!(all.len(), 26, "all");
    }
}
