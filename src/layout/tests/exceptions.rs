use std::collections::HashMap;

use proptest::prelude::*;

use super::*;

fn made(collection: &Collection, lines: &[&str]) -> Layout {
    let sections = rules(lines);
    Layout {
        pages: lay_out(collection, OWN, &sections).pages,
        sections,
    }
}

const RARES_IN_FRONT: [&str; 3] = [
    "Rares: finish main; rarity rare; page 2x2",
    "Regulars: finish main; the rest; page 2x2",
    "Reverses: finish reverse; page 2x2",
];

const USUAL: [&str; 2] = [
    "Regulars: finish main; page 2x2",
    "Reverses: finish reverse; page 2x2",
];

#[test]
fn a_card_carried_to_the_front_is_one_exception_and_stays_in_front() {
    let collection = set_of(10);
    let mut draft = made(&collection, &USUAL);
    // 7 stands first; the six before it are pushed along.
    let order = [7, 1, 2, 3, 4, 5, 6, 8];
    for (pocket, number) in order.into_iter().enumerate() {
        draft.pages[0].set_meaning(pocket, Meaning::Printing(p(number, 0)));
    }
    assert_eq!(ByHand::of(&collection, OWN, &draft).count(), 1);
    let lines = ["Regulars: finish main; by name; page 2x2", USUAL[1]];
    let renewed = renew(&collection, OWN, &draft, &rules(&lines));
    assert_eq!((renewed.kept, renewed.lost.len()), (1, 0));
    assert_eq!(drawn(&renewed.laid.pages[0]), "7 10 9 8 / 6 5 4 3");
    assert_eq!(drawn(&renewed.laid.pages[1]), "2 1 - - / - - - -");
}

#[test]
fn a_blank_and_a_keepsake_made_by_hand_keep_to_their_section() {
    let collection = set_of(6);
    let lines = [
        "Regulars: finish main; page 2x2; room 2 pockets",
        "Reverses: finish reverse; page 2x2",
    ];
    let mut draft = made(&collection, &lines);
    draft.pages[0].set_meaning(6, Meaning::Keepsake("a ticket".into()));
    draft.pages[1].set_meaning(7, Meaning::Blank);
    // Pack art comes in front; the exceptions go along with their sections.
    let with_art = ["Art: keepsakes 2 x art; page 2x2", lines[0], lines[1]];
    let renewed = renew(&collection, OWN, &draft, &rules(&with_art));
    assert_eq!((renewed.kept, renewed.lost.len()), (2, 0));
    assert_eq!(
        drawn_all(&renewed.laid.pages),
        [
            "\"art 1\" \"art 2\" - - / - - - -",
            "1 2 3 4 / 5 6 \"a ticket\" -",
            "1r 2r 3r 4r / 5r 6r - x",
        ]
    );
}

#[test]
fn an_exception_whose_pocket_is_gone_is_told_as_lost_and_its_card_goes_by_the_rules() {
    let collection = set_of(6);
    let mut draft = made(&collection, &USUAL);
    draft.pages[0].set_meaning(7, Meaning::Keepsake("a ticket".into()));
    draft.pages[1].set_meaning(6, Meaning::Printing(p(2, 1)));
    draft.pages[1].set_meaning(1, Meaning::Blank);
    let fewer = [
        "Regulars: finish main; numbers 1 to 3; page 2x2 one-sided",
        "Reverses: finish reverse; page 2x2 one-sided",
    ];
    let renewed = renew(&collection, OWN, &draft, &rules(&fewer));
    assert_eq!(renewed.lost, [Meaning::Keepsake("a ticket".into())]);
    assert_eq!(
        drawn_all(&renewed.laid.pages),
        ["1 2 3 -", "1r x 3r 4r", "5r 6r 2r -"]
    );
}

#[test]
fn a_page_put_in_by_hand_stays_behind_the_page_that_it_stood_behind() {
    let collection = set_of(10);
    let mut draft = made(&collection, &USUAL);
    let mut extra = LayoutPage::empty(PageFormat::new(1, 1, 1));
    extra.set_meaning(0, Meaning::Keepsake("a map".into()));
    draft.pages.insert(1, extra);
    assert_eq!(ByHand::of(&collection, OWN, &draft).count(), 1);
    let lines = ["Art: keepsakes art; page 2x2", USUAL[0], USUAL[1]];
    let renewed = renew(&collection, OWN, &draft, &rules(&lines));
    assert_eq!(renewed.kept, 1);
    assert_eq!(drawn(&renewed.laid.pages[2]), "\"a map\"");
    assert_eq!(renewed.laid.pages.len(), 6);
}

#[test]
fn a_card_left_out_by_hand_stays_out_and_one_that_joined_the_set_comes_in() {
    let mut collection = set_of(6);
    let mut draft = made(&collection, &USUAL);
    draft.pages[0].set_meaning(1, Meaning::Nothing);
    let joined = Change::AddCards {
        set: SetId(0),
        first: 6,
        cards: vec![Card {
            number: "2a".into(),
            ..card(0, 6)
        }],
    };
    joined.apply(&mut collection).unwrap();
    let renewed = renew(&collection, OWN, &draft, &rules(&USUAL));
    assert_eq!(
        drawn_all(&renewed.laid.pages),
        ["1 - 7 3 / 4 5 6 -", "1r 2r 7r 3r / 4r 5r 6r -"]
    );
}

#[test]
fn a_layout_that_hardly_follows_its_rules_is_made_anew_and_that_is_told() {
    let collection = set_of(10);
    let mut draft = made(&collection, &USUAL);
    let all = pockets(&draft.pages);
    let mut meanings = take(&draft.pages, &all);
    meanings.reverse();
    put(&mut draft.pages, &all, meanings);
    let renewed = renew(&collection, OWN, &draft, &rules(&USUAL));
    assert!(renewed.given_up > 10);
    assert_eq!(renewed.laid.pages, made(&collection, &USUAL).pages);
}

#[test]
fn a_grown_set_keeps_its_places_or_stands_all_in_order() {
    let mut collection = set_of(7);
    let mut layout = made(&collection, &USUAL);
    layout.pages[0].set_meaning(7, Meaning::Keepsake("a ticket".into()));
    let later = |at: u32, number: &str| Card {
        number: number.into(),
        ..card(at, 20)
    };
    let joined = Change::AddCards {
        set: SetId(0),
        first: 7,
        cards: vec![later(0, "2a"), later(1, "8")],
    };
    joined.apply(&mut collection).unwrap();
    let both = growth(&collection, OWN, &layout, &rules(&USUAL));
    assert_eq!(both.new, 4);
    assert_eq!(
        drawn_all(&both.keep_places),
        [
            "1 2 3 4 / 5 6 7 \"a ticket\"",
            "1r 2r 3r 4r / 5r 6r 7r 8r",
            "8 9 - - / - - - -",
            "9r - - - / - - - -",
        ]
    );
    let in_order = [
        "1 2 8 3 / 4 5 6 \"a ticket\"",
        "7 9 - - / - - - -",
        "1r 2r 8r 3r / 4r 5r 6r 7r",
        "9r - - - / - - - -",
    ];
    assert_eq!(drawn_all(&both.in_order.laid.pages), in_order);
    // When the new cards have been put at the end already, that is no exception made by hand.
    layout.pages = both.keep_places;
    let again = growth(&collection, OWN, &layout, &rules(&USUAL));
    assert_eq!(again.new, 0);
    assert_eq!(again.keep_places, layout.pages);
    assert_eq!(drawn_all(&again.in_order.laid.pages), in_order);
}

/// Cards that came late and were put into the room of another section are no exceptions: a rare one
/// among the regulars, the others behind their like.
#[test]
fn late_cards_in_room_go_to_their_own_section_when_all_is_put_in_order() {
    let mut collection = set_of(7);
    let lines = RARES_IN_FRONT;
    let mut layout = made(&collection, &lines);
    let late = |number: &str, rarity| Card {
        number: number.into(),
        rarity: Some(rarity),
        ..card(0, 20)
    };
    let joined = Change::AddCards {
        set: SetId(0),
        first: 7,
        cards: vec![late("5a", 1), late("8", 0)],
    };
    joined.apply(&mut collection).unwrap();
    layout.pages[1].set_meaning(6, Meaning::Printing(p(8, 0)));
    layout.pages[1].set_meaning(7, Meaning::Printing(p(9, 0)));
    layout.pages[2].set_meaning(7, Meaning::Printing(p(8, 1)));
    let grown = growth(&collection, OWN, &layout, &rules(&lines));
    assert_eq!(grown.in_order.kept, 0);
    assert_eq!(drawn(&grown.in_order.laid.pages[0]), "5 8 - - / - - - -");
    assert_eq!(drawn(&grown.in_order.laid.pages[1]), "1 2 3 4 / 6 7 9 -");
}

/// Common practice, no source: who buys the cards that a set was grown by has done nothing to the
/// binder by hand.
#[test]
fn what_was_put_at_the_end_for_a_later_list_is_not_told_as_made_by_hand() {
    let mut collection = set_of(7);
    let lines = RARES_IN_FRONT;
    let mut layout = made(&collection, &lines);
    let late = |number: &str| Card {
        number: number.into(),
        rarity: Some(0),
        ..card(0, 20)
    };
    let joined = Change::AddCards {
        set: SetId(0),
        first: 7,
        cards: ["8", "9", "10"].map(late).into(),
    };
    joined.apply(&mut collection).unwrap();
    // Numbers that go on upwards; regulars and reverses on pages of their own at the end.
    for finish in 0..2 {
        let mut page = LayoutPage::empty(PageFormat::new(2, 2, 2));
        for at in 0..3 {
            page.set_meaning(at, Meaning::Printing(p(8 + at as u32, finish)));
        }
        layout.pages.push(page);
    }
    let renewed = renew(&collection, OWN, &layout, &rules(&lines));
    assert_eq!((renewed.kept, renewed.lost.len()), (0, 0));
    assert_eq!(renewed.laid.pages, layout.pages);
    // What a hand did besides is told as before, and kept.
    let mut also = layout.clone();
    also.pages[1].set_meaning(6, Meaning::Keepsake("a ticket".into()));
    assert_eq!(renew(&collection, OWN, &also, &rules(&lines)).kept, 1);
    // By other rules all of them go to their sections.
    let by_name = [
        lines[0],
        "Regulars: finish main; the rest; by name; page 2x2",
        lines[2],
    ];
    let renewed = renew(&collection, OWN, &layout, &rules(&by_name));
    assert_eq!(renewed.kept, 0);
    assert_eq!(renewed.laid.pages, made(&collection, &by_name).pages);
}

/// What a hand may do to a draft.
#[derive(Clone, Debug)]
enum Deed {
    Swap(usize, usize),
    Blank(usize),
    Keepsake(usize),
    Clear(usize),
    MovePage(usize, usize),
    PutPage(usize),
    DropPage(usize),
    Carry(usize, usize),
    /// What one pocket is for, another is for too: a second copy.
    Twice(usize, usize),
}

fn deed() -> impl Strategy<Value = Deed> {
    let pocket = 0usize..64;
    let page = 0usize..8;
    prop_oneof![
        (pocket.clone(), pocket.clone()).prop_map(|(a, b)| Deed::Swap(a, b)),
        pocket.clone().prop_map(Deed::Blank),
        pocket.clone().prop_map(Deed::Keepsake),
        pocket.clone().prop_map(Deed::Clear),
        (page.clone(), page.clone()).prop_map(|(a, b)| Deed::MovePage(a, b)),
        page.clone().prop_map(Deed::PutPage),
        page.prop_map(Deed::DropPage),
        (pocket.clone(), pocket.clone()).prop_map(|(a, b)| Deed::Carry(a, b)),
        (pocket.clone(), pocket).prop_map(|(a, b)| Deed::Twice(a, b)),
    ]
}

fn pockets(pages: &[LayoutPage]) -> Vec<(usize, usize)> {
    let each = pages.iter().enumerate();
    each.flat_map(|(at, page)| (0..page.format().pockets()).map(move |pocket| (at, pocket)))
        .collect()
}

fn take(pages: &[LayoutPage], all: &[(usize, usize)]) -> Vec<Meaning> {
    let meaning = |(page, pocket): &(usize, usize)| pages[*page].meaning(*pocket);
    all.iter().map(meaning).collect()
}

fn put(pages: &mut [LayoutPage], all: &[(usize, usize)], meanings: Vec<Meaning>) {
    for ((page, pocket), meaning) in all.iter().zip(meanings) {
        pages[*page].set_meaning(*pocket, meaning);
    }
}

fn do_it(pages: &mut Vec<LayoutPage>, deed: Deed, count: usize) {
    let all = pockets(pages);
    if all.is_empty() {
        return;
    }
    let mut meanings = take(pages, &all);
    let at = |pocket: usize| pocket % all.len();
    let many = pages.len();
    match deed {
        Deed::Swap(a, b) => meanings.swap(at(a), at(b)),
        Deed::Blank(a) => meanings[at(a)] = Meaning::Blank,
        Deed::Keepsake(a) => meanings[at(a)] = Meaning::Keepsake(format!("found {count}").into()),
        Deed::Clear(a) => meanings[at(a)] = Meaning::Nothing,
        Deed::Twice(a, b) => meanings[at(b)] = meanings[at(a)].clone(),
        Deed::Carry(a, b) => {
            let carried = meanings.remove(at(a));
            meanings.insert(at(b), carried);
        }
        Deed::MovePage(a, b) => {
            let page = pages.remove(a % many);
            pages.insert(b % many, page);
            return;
        }
        Deed::PutPage(a) => {
            let mut page = LayoutPage::empty(PageFormat::new(1, 2, 1));
            page.set_meaning(0, Meaning::Keepsake(format!("page {count}").into()));
            return pages.insert(a % (many + 1), page);
        }
        Deed::DropPage(a) => {
            pages.remove(a % many);
            return;
        }
    }
    put(pages, &all, meanings);
}

/// How many pockets each card and each keepsake has.
fn count_of(pages: &[LayoutPage]) -> HashMap<String, usize> {
    counts(&take(pages, &pockets(pages)))
}

fn counts(all: &[Meaning]) -> HashMap<String, usize> {
    let mut counts = HashMap::new();
    for is in all {
        if matches!(is, Meaning::Printing(_) | Meaning::Keepsake(_)) {
            *counts.entry(format!("{is:?}")).or_default() += 1;
        }
    }
    counts
}

/// Two of three are alike.
const EXTRAS: &str = "Extras: keepsakes ticket, ticket, map; page 2x2";

#[test]
fn of_two_alike_in_a_rule_both_stay_and_no_hand_is_told_of() {
    let collection = set_of(6);
    let draft = made(&collection, &[USUAL[0], EXTRAS]);
    assert_eq!(ByHand::of(&collection, OWN, &draft).count(), 0);
    for (extras, expected) in [
        (
            "Extras: keepsakes ticket, ticket, map; page 2x2; room 1 pocket",
            "map",
        ),
        (
            "Extras: keepsakes ticket, ticket, map, map; page 2x2",
            "map",
        ),
    ] {
        let renewed = renew(&collection, OWN, &draft, &rules(&[USUAL[0], extras]));
        assert_eq!((renewed.kept, renewed.lost.len()), (0, 0), "{extras}");
        let page = drawn(&renewed.laid.pages[1]);
        let begins = format!("\"ticket\" \"ticket\" \"{expected}\"");
        assert!(page.starts_with(&begins), "{page}");
    }
    // `3 x art` is art 1 to art 3, two of which are there by `2 x art` already.
    let twice = made(&collection, &["Art: keepsakes 2 x art, 3 x art; page 3x3"]);
    let more = rules(&["Art: keepsakes 2 x art, 3 x art; page 3x3; room 1 pocket"]);
    let renewed = renew(&collection, OWN, &twice, &more);
    let page = drawn(&renewed.laid.pages[0]);
    assert!(
        page.starts_with("\"art 1\" \"art 2\" \"art 1\" \"art 2\" \"art 3\" -"),
        "{page}"
    );
}

#[test]
fn of_two_alike_one_that_was_carried_away_is_the_exception_and_the_other_stays() {
    let collection = set_of(6);
    let mut draft = made(
        &collection,
        &["Extras: keepsakes ticket, map, ticket; page 2x2", USUAL[0]],
    );
    // The last ticket into the free room behind the cards.
    draft.pages[0].set_meaning(2, Meaning::Nothing);
    draft.pages[1].set_meaning(7, Meaning::Keepsake("ticket".into()));
    let hand = ByHand::of(&collection, OWN, &draft);
    assert_eq!((hand.count(), hand.left_out), (1, 0));
    let other = ["Extras: keepsakes ticket, map, ticket; page 3x3", USUAL[0]];
    let renewed = renew(&collection, OWN, &draft, &rules(&other));
    assert_eq!((renewed.kept, renewed.lost.len()), (1, 0));
    assert!(drawn(&renewed.laid.pages[0]).starts_with("\"ticket\" \"map\" - "));
    assert_eq!(drawn(&renewed.laid.pages[1]), "1 2 3 4 / 5 6 - \"ticket\"");
}

#[test]
fn a_second_pocket_for_a_card_is_one_exception_and_its_first_stays_in_the_run() {
    let collection = set_of(6);
    let mut draft = made(&collection, &USUAL);
    draft.pages[0].set_meaning(7, Meaning::Printing(p(1, 0)));
    assert_eq!(ByHand::of(&collection, OWN, &draft).count(), 1);
    let other = [USUAL[0], "Reverses: finish reverse; page 3x3"];
    let renewed = renew(&collection, OWN, &draft, &rules(&other));
    assert_eq!((renewed.kept, renewed.lost.len()), (1, 0));
    assert_eq!(drawn(&renewed.laid.pages[0]), "1 2 3 4 / 5 6 - 1");
}

const OTHERS: [&[&str]; 4] = [
    &[
        "Regulars: finish main; by name; page 2x2",
        "Reverses: finish reverse; page 2x2",
    ],
    &[
        "Rares: finish main; rarity rare; page 2x2",
        "Regulars: finish main; the rest; page 3x3",
        "Reverses: finish reverse; page 2x2; fronts only",
    ],
    &["Regulars: side by side; page 2x2; room 3 pockets"],
    &[
        "Reverses: finish reverse; page 2x2; flowing on",
        "Regulars: finish main; page 2x2; flowing on",
    ],
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The promises of an exception: with the same rules nothing changes; with others each is
    /// kept or told as lost, nothing that has a pocket in the draft loses it, and nothing gets
    /// more of them than it had.
    #[test]
    fn what_a_hand_did_survives_other_rules_or_is_told(
        deeds in prop::collection::vec(deed(), 0..6), other in 0usize..4, extras: bool,
    ) {
        let collection = set_of(14);
        let with_extras = |lines: &[&'static str]| {
            let extras = extras.then_some(EXTRAS);
            lines.iter().copied().chain(extras).collect::<Vec<_>>()
        };
        let others = with_extras(OTHERS[other]);
        let mut draft = made(&collection, &with_extras(&USUAL));
        for (count, deed) in deeds.into_iter().enumerate() {
            do_it(&mut draft.pages, deed, count);
        }
        let same = renew(&collection, OWN, &draft, &draft.sections);
        // Where the last cards are gone, they may have joined the set since.
        let ends = draft.pages.iter().flat_map(LayoutPage::printings).any(|(_, id)| id.card() == 13);
        if same.given_up == 0 && ends {
            prop_assert_eq!(&same.laid.pages, &draft.pages);
        }
        let renewed = renew(&collection, OWN, &draft, &rules(&others));
        let (before, after) = (count_of(&draft.pages), count_of(&renewed.laid.pages));
        let by_rule = count_of(&made(&collection, &others).pages);
        let lost = counts(&renewed.lost);
        for (what, many) in &before {
            let of = |counts: &HashMap<String, usize>| counts.get(what).copied().unwrap_or(0);
            let (now, lost, rule) = (of(&after), of(&lost), of(&by_rule));
            prop_assert!(now >= rule.min(*many), "{:?} has {} pockets of {}", what, now, many);
            prop_assert!(now <= rule.max(*many), "{:?} has {} pockets of {}", what, now, many);
            if renewed.given_up == 0 {
                prop_assert!(now + lost >= *many, "{:?}: {} and {} of {}", what, now, lost, many);
            }
        }
        if renewed.given_up > 0 {
            return Ok(());
        }
        // Renewed once more by the same rules, it is as it is.
        let layout = Layout { pages: renewed.laid.pages.clone(), sections: rules(&others) };
        let again = renew(&collection, OWN, &layout, &layout.sections);
        if again.given_up == 0 {
            prop_assert_eq!(&again.laid.pages, &layout.pages);
        }
    }
}
