//! What stands where on paper: nothing overlaps, nothing is cut, sizes are those of the trade.

use proptest::prelude::*;
use ringbound::demo;
use ringbound::model::{Collection, Side};
use ringbound::paper::{
    Align, Area, Block, CardError, Drawing, Fonts, Item, LabelError, LabelLook, Listing, PageView,
    Sheet, Size, Spine, StandIn, Table, Tick, Turn, index, labels, page_picture, pocket_cards,
    spares_list, stand_ins, wants_list,
};
use ringbound::report::{self, Asked, ListFilter, Listed, listed};

fn texts(sheet: &Sheet) -> impl Iterator<Item = (&str, Area)> {
    sheet.items.iter().filter_map(|item| match item {
        Item::Text { run, .. } => Some((run.words.as_str(), item.area())),
        _ => None,
    })
}

/// Everything lies on its sheet, no words lie over others, no part over another.
fn ensure_clear(drawing: &Drawing) {
    for sheet in &drawing.sheets {
        let all = sheet.area();
        for item in &sheet.items {
            assert!(all.holds(&item.area()), "{item:?}");
        }
        let words: Vec<_> = texts(sheet).collect();
        for (at, (one, area)) in words.iter().enumerate() {
            for (other, beside) in &words[at + 1..] {
                assert!(!area.overlaps(beside), "“{one}” over “{other}”");
            }
        }
        for (at, part) in sheet.parts.iter().enumerate() {
            for other in &sheet.parts[at + 1..] {
                assert!(!part.area.overlaps(&other.area), "{part:?} over {other:?}");
            }
        }
    }
}

fn spine(title: &str, width: f64) -> Spine {
    Spine {
        name: "fen".into(),
        title: title.into(),
        symbol: "❧".into(),
        number: "107".into(),
        width: Some(width),
        picture: None,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn whatever_stands_on_a_spine_lies_inside_its_label_and_the_foot_is_free(
        title in "\\PC{0,60}|[a-zA-Zéж ]{0,400}",
        symbol in "\\PC{0,3}",
        number in "[0-9A-Za-z/]{0,12}",
        width in 5.0..80.0,
        height in 60.0..250.0,
        foot in 0.0..40.0,
        turn in prop::sample::select(vec![Turn::Down, Turn::Up, Turn::Across]),
    ) {
        let fonts = Fonts::own();
        let look = LabelLook { height, foot, turn, ..LabelLook::on(Size::A4) };
        let spine = Spine { symbol, number, ..spine(&title, width) };
        let drawing = labels(&[spine], &look, &fonts).unwrap();
        ensure_clear(&drawing);
        let sheet = &drawing.sheets[0];
        let label = sheet.parts[0].area;
        prop_assert!((label.width - width).abs() < 1e-9 && (label.height - height).abs() < 1e-9);
        let free = Area { height: label.height - foot, ..label };
        // The words below the check line are the first ones drawn.
        for (words, area) in texts(sheet).skip(1) {
            prop_assert!(free.holds(&area), "{}", words);
        }
    }

    #[test]
    fn whatever_stands_on_a_pocket_card_lies_inside_it(
        name in "\\PC{0,80}",
        number in "\\PC{0,20}",
        width in 20.0..120.0,
        height in 30.0..150.0,
    ) {
        let fonts = Fonts::own();
        let card = StandIn {
            set: "FEN".into(),
            symbol: "❧".into(),
            number,
            name,
            kind: "reverse, scarce".into(),
            place: "fen, page 12, front, row 3, pocket 2".into(),
            size: Size::new(width, height),
        };
        let drawing = pocket_cards(&vec![card; 7], Size::A4, &fonts).unwrap();
        ensure_clear(&drawing);
        let parts: usize = drawing.sheets.iter().map(|sheet| sheet.parts.len()).sum();
        prop_assert_eq!(parts, 7);
        for sheet in &drawing.sheets {
            for (words, area) in texts(sheet).skip(1) {
                let inside = sheet.parts.iter().any(|part| part.area.holds(&area));
                prop_assert!(inside, "{}", words);
            }
        }
    }

    #[test]
    fn a_listing_of_any_words_stays_on_its_sheets_and_loses_none(
        rows in prop::collection::vec(("\\PC{0,40}", "[a-z ]{0,120}"), 0..60),
        ticks in prop::collection::vec("[a-zA-Z ]{1,200}", 0..30),
    ) {
        let fonts = Fonts::own();
        let mut listing = Listing::new("A list");
        listing.heading("Rows");
        let mut table = Table::new(&[("one", Align::Right), ("two", Align::Left)], true);
        for (one, two) in &rows {
            table.row([one.as_str(), two.as_str()]);
        }
        listing.table(table);
        let tick = |words: &String| Tick { number: Some(7), words: words.clone() };
        listing.blocks.push(Block::Ticks(ticks.iter().map(tick).collect()));
        let drawing = listing.pages(Size::A5, &fonts);
        ensure_clear(&drawing);
        let letters = |words: &str| words.bytes().filter(u8::is_ascii_lowercase).count();
        let drawn: usize = drawing.sheets.iter().flat_map(texts).map(|(words, _)| letters(words)).sum();
        let asked: usize = (rows.iter().flat_map(|(one, two)| [one, two])).chain(&ticks)
            .map(|words| letters(words)).sum();
        prop_assert!(drawn >= asked);
    }

    #[test]
    fn short_rows_stand_in_strips_beside_each_other_each_once_and_in_order(
        before in 0usize..40,
        names in prop::collection::vec("[a-z]{1,8}|[a-z ]{1,60}", 0..260),
    ) {
        let fonts = Fonts::own();
        let mut listing = Listing::new("A list");
        for _ in 0..before {
            listing.words("above");
        }
        let mut table = Table::new(&[("number", Align::Right), ("name", Align::Left)], true);
        for (number, name) in names.iter().enumerate() {
            table.row([number.to_string(), name.clone()]);
        }
        listing.table(table);
        let drawing = listing.pages(Size::A4, &fonts);
        ensure_clear(&drawing);
        let parts = drawing.sheets.iter().flat_map(|sheet| &sheet.parts);
        let rows: Vec<&str> = parts.filter_map(|part| {
            let (number, _) = part.words.split_once("  ")?;
            number.parse::<usize>().ok().map(|_| number)
        }).collect();
        let all: Vec<String> = (0..names.len()).map(|number| number.to_string()).collect();
        prop_assert_eq!(rows, all);
    }
}

#[test]
fn a_list_of_short_names_takes_half_the_sheets_and_its_strips_end_together() {
    let fonts = Fonts::own();
    let listing = |name: &dyn Fn(usize) -> String| {
        let mut listing = Listing::new("Wants");
        let heads = [("number", Align::Right), ("name", Align::Left)];
        let mut table = Table::new(&heads, true);
        for number in 1..=120 {
            table.row([number.to_string(), name(number)]);
        }
        listing.table(table);
        listing.pages(Size::A4, &fonts)
    };
    let short = listing(&|number| format!("Reed Boat {number}"));
    let long = listing(&|number| format!("{} {number}", "Reed Boat of the Mire ".repeat(4)));
    assert_eq!(short.sheets.len(), 1);
    assert!(long.sheets.len() >= 3);
    let parts = &short.sheets[0].parts;
    let rows = parts.iter().filter(|part| part.words.contains("Reed Boat"));
    let mut lows: std::collections::BTreeMap<i64, f64> = std::collections::BTreeMap::new();
    for row in rows {
        let low = lows.entry(row.area.x.round() as i64).or_default();
        *low = low.max(row.area.y);
    }
    let lows: Vec<f64> = lows.into_values().collect();
    assert!(lows.len() >= 2);
    assert!(lows.iter().all(|low| *low == lows[0]), "{lows:?}");
}

#[test]
fn the_label_of_each_binder_of_a_shelf_has_its_own_width_and_words() {
    let collection = demo::collection();
    let spines: Vec<Spine> = (collection.shelf())
        .map(|binder| Spine::of(&collection, binder))
        .collect();
    let fonts = Fonts::own();
    let drawing = labels(&spines, &LabelLook::on(Size::A4), &fonts).unwrap();
    ensure_clear(&drawing);
    let parts: Vec<_> = drawing
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.parts)
        .collect();
    assert_eq!(parts.len(), collection.shelf().len());
    for (part, binder) in parts.iter().zip(collection.shelf()) {
        assert!(part.words.contains(&*binder.spec().title), "{}", part.words);
        let spine = Spine::of(&collection, binder);
        assert_eq!(part.area.width, spine.width.unwrap_or(25.0));
    }
    let again = labels(
        &spines,
        &LabelLook {
            spine: Some(32.0),
            ..LabelLook::on(Size::A4)
        },
        &fonts,
    );
    let again = again.unwrap();
    assert!(
        again
            .sheets
            .iter()
            .flat_map(|sheet| &sheet.parts)
            .all(|part| part.area.width == 32.0)
    );
    assert_eq!(again.notes, Vec::<String>::new());
}

#[test]
fn a_title_of_400_letters_is_shortened_at_a_word_and_told() {
    let title = "a title that will not end ".repeat(16);
    assert!(title.len() > 400);
    let drawing = labels(
        &[spine(&title, 25.0)],
        &LabelLook::on(Size::A4),
        &Fonts::own(),
    )
    .unwrap();
    ensure_clear(&drawing);
    assert_eq!(
        drawing.notes,
        ["the title is shortened on the label of fen"]
    );
    let last = texts(&drawing.sheets[0])
        .map(|(words, _)| words)
        .last()
        .unwrap();
    let words = last.strip_suffix('…').unwrap();
    assert!(
        title.starts_with(words) || title.contains(&format!("{words} ")),
        "{last}"
    );
}

#[test]
fn a_title_reads_from_top_to_bottom_unless_it_is_said_otherwise() {
    // ISO 6357: upright when the binder lies with its front up, so the letters' feet are at the
    // left of the spine and the words run downwards.
    let fonts = Fonts::own();
    let turn_of = |turn: Option<Turn>, title: &str| {
        let mut look = LabelLook::on(Size::A4);
        look.turn = turn.unwrap_or(look.turn);
        let drawing = labels(&[spine(title, 25.0)], &look, &fonts).unwrap();
        let item = drawing.sheets[0]
            .items
            .iter()
            .rev()
            .find_map(|item| match item {
                Item::Text { turn, .. } => Some(*turn),
                _ => None,
            });
        item.unwrap()
    };
    assert_eq!(turn_of(None, "Moss Hall"), Turn::Down);
    assert_eq!(turn_of(Some(Turn::Up), "Moss Hall"), Turn::Up);
    assert_eq!(turn_of(Some(Turn::Across), "Fen"), Turn::Across);
    let long = "Interminabilities of the Unpronounceable".repeat(9);
    assert_eq!(turn_of(Some(Turn::Across), &long), Turn::Down);
    // Along the spine: down is a growing y, and what is below the line lies at the left.
    assert_eq!(Turn::Down.point((10.0, 10.0), 5.0, 2.0), (8.0, 15.0));
    assert_eq!(Turn::Up.point((10.0, 10.0), 5.0, 2.0), (12.0, 5.0));
}

#[test]
fn labels_that_cannot_be_made_are_told() {
    let fonts = Fonts::own();
    let made = |spine: Spine, look: LabelLook| labels(&[spine], &look, &fonts).unwrap_err();
    let a4 = LabelLook::on(Size::A4);
    assert_eq!(
        made(spine("Fen", 3.0), a4.clone()),
        LabelError::Narrow("3".into())
    );
    let tall = LabelLook {
        height: 290.0,
        ..a4.clone()
    };
    assert!(matches!(
        made(spine("Fen", 25.0), tall),
        LabelError::TooLarge { .. }
    ));
    assert!(matches!(
        made(spine("Fen", 250.0), a4.clone()),
        LabelError::TooLarge { .. }
    ));
    let low = LabelLook {
        height: 40.0,
        foot: 35.0,
        ..a4.clone()
    };
    assert!(matches!(
        made(spine("Fen", 25.0), low),
        LabelError::NoRoom(_)
    ));
    assert_eq!(labels(&[], &a4, &fonts).unwrap_err(), LabelError::None);
}

#[test]
fn nine_usual_cards_have_room_on_a4_and_on_letter() {
    // 3 x 3 of 63.5 x 88.9 mm are 190.5 x 266.7 mm, which is less than either. (references: common
    // practice, no source.) A card of ISO/IEC 7810 ID-1 is 85.60 x 53.98 mm.
    let fonts = Fonts::own();
    let card = |size| StandIn {
        set: "FEN".into(),
        symbol: String::new(),
        number: "1".into(),
        name: "Mire Lamp".into(),
        kind: String::new(),
        place: String::new(),
        size,
    };
    for paper in [Size::A4, Size::LETTER] {
        let drawing = pocket_cards(&vec![card(Size::CARD); 9], paper, &fonts).unwrap();
        ensure_clear(&drawing);
        assert_eq!(drawing.sheets.len(), 1, "{paper}");
        let sheet = &drawing.sheets[0];
        for part in &sheet.parts {
            assert!(
                (part.area.width - 63.5).abs() < 1e-9 && (part.area.height - 88.9).abs() < 1e-9
            );
        }
        // Lines of 100 mm, upright or across.
        let line = |item: &&Item| match item {
            Item::Line { from, to, .. } => {
                ((from.0 - to.0).hypot(from.1 - to.1) - 100.0).abs() < 1e-9
            }
            _ => false,
        };
        assert_eq!(sheet.items.iter().filter(line).count(), 1);
    }
    let id1 = Size::new(85.6, 53.98);
    let drawing = pocket_cards(&vec![card(id1); 10], Size::A4, &fonts).unwrap();
    assert_eq!(drawing.sheets.len(), 1);
    let sizes = [card(Size::CARD), card(id1), card(Size::CARD)];
    assert_eq!(
        pocket_cards(&sizes, Size::A4, &fonts).unwrap().sheets.len(),
        2
    );
    let large = pocket_cards(&[card(Size::new(250.0, 90.0))], Size::A4, &fonts);
    assert!(matches!(large, Err(CardError::TooLarge { .. })));
    assert_eq!(pocket_cards(&[], Size::A4, &fonts), Err(CardError::None));
}

#[test]
fn names_of_a_thousand_letters_stay_on_their_sheets() {
    let fonts = Fonts::own();
    let long = "letters ".repeat(125);
    let one = "x".repeat(1_000);
    let mut listing = Listing::new(long.clone());
    listing.heading(long.clone());
    let heads = [
        ("a", Align::Left),
        ("b", Align::Right),
        ("c", Align::Left),
        ("d", Align::Left),
    ];
    let mut table = Table::new(&heads, true);
    table.row([long.as_str(), one.as_str(), one.as_str(), long.as_str()]);
    table.row(["1", "2", "3", "4"]);
    listing.table(table);
    let tick = Tick {
        number: Some(1),
        words: one.clone(),
    };
    listing.blocks.push(Block::Ticks(vec![tick]));
    listing.words(long);
    for paper in [Size::A4, Size::A5, Size::new(90.0, 120.0)] {
        ensure_clear(&listing.pages(paper, &fonts));
    }
}

fn wanted(collection: &Collection) -> Vec<Listed> {
    listed(collection, Asked::Wants, ListFilter::default())
}

#[test]
fn a_list_over_several_sheets_repeats_its_heads_and_counts_its_pages() {
    let collection = demo::collection();
    let fonts = Fonts::own();
    let wants = wanted(&collection);
    let drawing = wants_list(&collection, &wants).pages(Size::A4, &fonts);
    ensure_clear(&drawing);
    let of = drawing.sheets.len();
    assert!(of > 3);
    for (number, sheet) in (1..).zip(&drawing.sheets) {
        let words: Vec<&str> = texts(sheet).map(|(words, _)| words).collect();
        assert!(words.contains(&"Wants"));
        assert!(words.contains(&format!("page {number} of {of}").as_str()));
        // A sheet has rows only below heads.
        let heads = texts(sheet)
            .filter(|(words, _)| *words == "rarity")
            .map(|(_, area)| area.y);
        let first_head = heads.fold(f64::MAX, f64::min);
        let boxes = sheet.items.iter().filter_map(|item| match item {
            Item::Frame { area, .. } => Some(area.y),
            _ => None,
        });
        assert!(boxes.fold(f64::MAX, f64::min) > first_head);
    }
    // A box for every card that is wanted.
    let boxes = drawing.sheets.iter().flat_map(|sheet| &sheet.items);
    let boxes = boxes
        .filter(|item| matches!(item, Item::Frame { .. }))
        .count();
    let mut different: Vec<_> = wants.iter().map(|gap| gap.printing).collect();
    different.sort_unstable();
    different.dedup();
    assert_eq!(boxes, different.len());
}

#[test]
fn the_index_of_a_binder_has_a_box_in_each_pocket_that_is_a_gap() {
    let collection = demo::collection();
    let fonts = Fonts::own();
    for binder in collection.shelf() {
        let listing = index(&collection, binder);
        let drawing = listing.pages(Size::A4, &fonts);
        ensure_clear(&drawing);
        let boxes = drawing.sheets.iter().flat_map(texts);
        let boxes = boxes.filter(|(words, _)| words.starts_with('☐')).count();
        let gaps = report::gaps(&collection, None).into_iter();
        let gaps = gaps.filter(|gap| gap.place.is_some_and(|place| place.binder == binder.id()));
        assert_eq!(boxes, gaps.count(), "{}", binder.name());
        let told = listing.text();
        assert_eq!(told.matches("[ ]").count(), boxes);
    }
}

#[test]
fn every_page_of_the_demo_can_be_drawn_and_nothing_overlaps() {
    let collection = demo::collection();
    let fonts = Fonts::own();
    for binder in collection.shelf().take(4) {
        for page in 0..binder.pages().len().min(6) {
            for view in [PageView::Side(page, Side::Front), PageView::Spread(page)] {
                for paper in [None, Some(Size::A4)] {
                    let drawing = page_picture(&collection, binder, view, paper, &fonts).unwrap();
                    ensure_clear(&drawing);
                    let pockets = binder.pages()[page].format().per_side();
                    assert!(drawing.sheets[0].parts.len() >= pockets);
                }
            }
        }
    }
    let wood = collection.binder_by_name("wood").unwrap();
    let wood = collection.binder(wood).unwrap();
    let none = page_picture(
        &collection,
        wood,
        PageView::Side(900, Side::Front),
        None,
        &fonts,
    );
    assert_eq!(none, None);
    // A pocket for the usual card: 3 x 3 are at least 190.5 x 266.7 mm.
    let view = PageView::Side(2, Side::Front);
    let drawing = page_picture(&collection, wood, view, None, &fonts).unwrap();
    let size = drawing.sheets[0].size;
    assert!(size.width > 190.5 && size.height > 266.7);
}

#[test]
fn a_card_of_its_own_size_gets_a_stand_in_of_that_size() {
    let collection = demo::collection();
    let wants = wanted(&collection);
    let cards = stand_ins(&collection, &wants, Size::CARD);
    assert_eq!(cards.len(), wants.len());
    for (card, want) in cards.iter().zip(&wants) {
        let own = collection.card(want.printing).unwrap().size;
        let right = own.map_or(Size::CARD, |own| {
            Size::new(f64::from(own.width) / 10.0, f64::from(own.height) / 10.0)
        });
        assert_eq!(card.size, right);
    }
}

#[test]
fn a_spares_list_has_the_copies_beyond_those_that_are_kept() {
    let collection = demo::collection();
    let spares = report::spares(&collection, None);
    let total = |keep: u32| -> u32 {
        let beyond = spares.iter().map(|spare| spare.count.saturating_sub(keep));
        beyond.sum()
    };
    for keep in [0, 1] {
        let filter = ListFilter {
            keep,
            ..ListFilter::default()
        };
        let listed = listed(&collection, Asked::Spares, filter);
        let text = spares_list(&collection, &listed).text();
        // What is told of each finish of a set is set in.
        let sets = text.lines().filter(|line| !line.starts_with(' '));
        let told = sets.filter_map(|line| {
            let (_, copies) = line.rsplit_once(": ")?;
            copies.split_once(" card")?.0.parse::<u32>().ok()
        });
        assert_eq!(told.sum::<u32>(), total(keep));
    }
}
