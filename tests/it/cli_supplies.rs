//! What the commands about supplies answer. The arithmetic below them is checked beside the code.

use insta::assert_snapshot;
use ringbound::model::{
    Change, Draft, Layout, LayoutPage, Meaning, PageFormat, PrintingId, SetId, Step,
};
use ringbound::session::{Open, Session};
use serde_json::json;

use crate::support::Table;

const PRICES: &str = "\
item,size,pack,price,currency,on_hand,note
page,3x3 backed,10,6.00,EUR,4,by the station
page,3x3 backed,50,25.00,EUR,,
page,2x2 clear,10,5.50,EUR,,
page,3x1 backed,5,3.25,EUR,,
ring binder,25 D,1,7.90,EUR,,
sleeve,,50,3.00,EUR,,
sleeve,,100,5.50,EUR,,
";

/// 200 cards, the last 30 of them rare, the first 150 in reverse too; a draft with the rares in
/// front, the reverses behind, then 6 pack arts in pages of 2x2 that are loaded on one side, and 4
/// pieces of packaging in a page of 3x1 with the top pockets kept empty.
fn heath() -> Table {
    let table = Table::new();
    let mut rows = "set,number,name,rarity,finishes\n".to_owned();
    for number in 1..=200 {
        let rarity = if number > 170 { "rare" } else { "common" };
        let finishes = if number > 150 {
            "regular"
        } else {
            "regular;reverse"
        };
        rows.push_str(&format!("HEA,{number},Card {number},{rarity},{finishes}\n"));
    }
    table.file("hea.csv", rows);
    table.ok(&["import", "checklist", "hea.csv", "--rings", "25 D"]);
    let clock = Box::new(|| "2026-01-02T03:04:05Z".to_owned());
    let (mut session, _) = Session::open(&table.shelf(), Open::ForWriting, clock).unwrap();
    let cards = |cards: std::ops::Range<u32>, finish: u8| -> Vec<Meaning> {
        let printing = |card| Meaning::Printing(PrintingId::new(SetId(0), card, finish));
        cards.map(printing).collect()
    };
    let keepsake = |words: &str| Meaning::Keepsake(words.into());
    let art: Vec<Meaning> = (0..6).map(|_| keepsake("pack art")).collect();
    let mut packaging = vec![keepsake("box flap"); 6];
    packaging[0] = Meaning::Blank;
    packaging[3] = Meaning::Blank;
    let nine = PageFormat::new(3, 3, 2);
    let layout = Layout {
        pages: [
            pages(nine, cards(170..200, 0)),
            pages(nine, cards(0..170, 0)),
            pages(nine, cards(0..150, 1)),
            pages(PageFormat::new(2, 2, 1), art),
            pages(PageFormat::new(3, 1, 2), packaging),
        ]
        .concat(),
        ..Layout::default()
    };
    let binder = session.collection().binder_by_name("HEA").unwrap();
    let draft = Draft {
        name: "rares first".into(),
        layout,
    };
    let begun = Change::AddDraft {
        binder,
        at: 0,
        draft: Box::new(draft),
    };
    session.commit(Step::new("a draft", vec![begun])).unwrap();
    session.close().unwrap();
    table
}

fn pages(format: PageFormat, meanings: Vec<Meaning>) -> Vec<LayoutPage> {
    let page = |chunk: &[Meaning]| {
        let mut page = LayoutPage::empty(format);
        for (pocket, meaning) in chunk.iter().enumerate() {
            page.set_meaning(pocket, meaning.clone());
        }
        page
    };
    meanings.chunks(format.pockets()).map(page).collect()
}

/// By hand. Pages of 18 places: 30 rares take 2, 170 regulars 10, 150 reverses 9: 21. Pack art: 6 on
/// pages of 4 are 2. Packaging: 4 on a page of 2 x 2 places that are left are 1. Sleeves: 200 + 150.
/// In the drawer lie 4 pages; 17 are 2 packs of 10 for 12.00 and leave 3 (one of 50 is 25.00). 2
/// pages out of 10 for 5.50 leave 8, 1 out of 5 for 3.25 leaves 4. 350 sleeves are 3 x 100 + 1 x 50:
/// 16.50 + 3.00 = 19.50 (7 x 50 would be 21.00, 4 x 100 22.00). With the binder for 7.90:
/// 12.00 + 5.50 + 3.25 + 19.50 + 7.90 = 48.15.
///
/// Thickness: a page of 18 is 3 x 0.08 + 2 x (0.3 + 2 x 0.06) = 1.08 mm; the last of the regulars
/// (8 cards) and of the reverses (6) are filled on their fronts only: 0.24 + 0.42 = 0.66. A page of
/// pack art is 0.16 + 0.42 = 0.58, the one of packaging 1.08. 19 x 1.08 + 2 x 0.66 + 2 x 0.58 + 1.08
/// = 24.08 mm: under 25.
#[test]
fn the_supplies_and_the_cost_of_a_set_of_200_cards_are_those_reckoned_by_hand() {
    let table = heath();
    table.file("prices.csv", PRICES);
    let answer = table.json(&[
        "supplies",
        "--from-nothing",
        "--draft",
        "HEA=rares first",
        "--prices",
        "prices.csv",
        "--order",
        "page 3x3 backed=1x50",
        "--json",
    ]);
    let pack = |packs: u32, pack: u32, price: u32| json!({"pack": pack, "packs": packs, "price_minor": price});
    let line = |item: &str,
                size: &str,
                wanted: u32,
                on_hand: u32,
                packs: Vec<_>,
                left_over: u32,
                cost: u32| {
        json!({
            "item": item, "size": size, "wanted": wanted, "in_binders": 0, "on_hand": on_hand,
            "to_buy": wanted - on_hand, "packs": packs, "left_over": left_over, "cost_minor": cost,
        })
    };
    assert_eq!(
        answer,
        json!({
            "format": "ringbound-supplies", "version": 1, "anew": true, "sleeves": 1,
            "currency": "EUR", "currency_digits": 2,
            "supplies": [
                line("page", "2x2 clear", 2, 0, vec![pack(1, 10, 550)], 8, 550),
                line("page", "3x1 backed", 1, 0, vec![pack(1, 5, 325)], 4, 325),
                line("page", "3x3 backed", 21, 4, vec![pack(2, 10, 600)], 3, 1_200),
                line("ring binder", "25 D", 1, 0, vec![pack(1, 1, 790)], 0, 790),
                line("sleeve", "", 350, 0, vec![pack(1, 50, 300), pack(3, 100, 550)], 0, 1_950),
            ],
            "total_minor": 4_815, "without_price": 0, "pages_free": 0,
            "binders_with_unknown_rings": 0,
            "orders": [{
                "item": "page", "size": "3x3 backed", "pack": 50, "packs": 1,
                "cost_minor": 2_500, "left_over": 33, "lacking": 0,
            }],
        })
    );
    let fit = table.json(&["fit", "HEA", "--draft", "HEA=rares first", "--json"]);
    let fit = &fit["binders"][0];
    assert_eq!(fit["pages"], 24);
    assert_eq!(fit["thickness_mm"], 24.08);
    assert_eq!(fit["verdict"], "closes");
    assert_eq!(
        (&fit["takes_mm"], &fit["takes_perhaps_mm"]),
        (&json!(25.0), &json!(31.25))
    );
    // Adopting it from the 21 pages that are there: only pages of the other formats are bought.
    let more = table.json(&[
        "supplies",
        "--draft",
        "HEA=rares first",
        "--prices",
        "prices.csv",
        "--json",
    ]);
    let bought = more["supplies"].as_array().unwrap().iter();
    let bought: Vec<_> = bought
        .filter(|line| line["to_buy"].as_u64() > Some(0))
        .map(|line| {
            (
                line["size"].as_str().unwrap().to_owned(),
                line["to_buy"].clone(),
            )
        })
        .collect();
    // 170 + 30 regulars stand on 12 pages now, 150 reverses on 9.
    let expected = [("2x2 clear", 2), ("3x1 backed", 1), ("", 350)];
    let expected = expected.map(|(size, count)| (size.to_owned(), json!(count)));
    assert_eq!(bought, expected);
}

#[test]
fn the_answers_read_well() {
    let table = heath();
    std::fs::write(table.shelf().join("prices.csv"), PRICES).unwrap();
    assert_snapshot!(
        "supplies_anew",
        table.run(&["supplies", "--from-nothing", "--draft", "HEA=rares first"])
    );
    assert_snapshot!(
        "supplies_compare",
        table.run(&["supplies", "compare", "--cards", "200"])
    );
    assert_snapshot!("fit_shelf", table.run(&["fit"]));
    table.ok(&["rings", "HEA", "16", "round"]);
    assert_snapshot!("fit_one", table.run(&["fit", "HEA", "--sleeves", "two"]));
    table.ok(&[
        "new", "DAL", "1 to 20", "--page", "2x2", "--pocket", "60x85", "--fixed",
    ]);
    assert_snapshot!("fit_fixed", table.run(&["fit", "DAL"]));
    assert_snapshot!(
        "fit_together",
        table.run(&[
            "fit",
            "HEA",
            "DAL",
            "--together",
            "--rings",
            "40D",
            "--depth",
            "38.5"
        ])
    );
}

/// Two clear pages hold as many as a backed one; prices of the trade: 50 pages for 25.00.
#[test]
fn ways_are_reckoned_with_whole_packs_and_what_has_no_price_is_told() {
    let table = Table::new();
    std::fs::create_dir(table.shelf()).unwrap();
    table.file(
        "prices.csv",
        "item,size,pack,price,currency\n\
         page,3x3 backed,50,25.00,EUR\n\
         ring binder,40 D,1,10.00,EUR\n\
         fixed binder,20 3x3 backed,1,24.00,EUR\n\
         sleeve,,50,3.00,EUR\n",
    );
    let args = [
        "supplies",
        "compare",
        "--cards",
        "400",
        "--prices",
        "prices.csv",
        "--json",
    ];
    let answer = table.json_told(&args);
    assert_eq!(table.exit(&args), 1, "clear pages have no price");
    let way = |at: usize| answer["ways"][at].clone();
    // 400 / 18 = 23 pages of 50; 37 of 1.08 mm go into 40 mm: one binder. 8 x 50 sleeves.
    assert_eq!(way(0)["housing_minor"], 2_500 + 1_000);
    assert_eq!(way(0)["cost_minor"], 2_500 + 1_000 + 8 * 300);
    assert_eq!(
        (&way(0)["pages"], &way(0)["free_places"]),
        (&json!(23), &json!(14))
    );
    assert_eq!(way(1)["without_price"], json!(["page 3x3 clear"]));
    // A binder of 20 pages holds 360: two.
    assert_eq!(way(3)["cost_minor"], 2 * 2_400 + 8 * 300);
    assert_eq!(
        way(3)["binders"],
        json!([{"item": "fixed binder", "size": "20 3x3 backed", "count": 2}])
    );
}

#[test]
fn a_price_list_with_holes_or_mistakes_is_told_with_line_and_column() {
    let table = heath();
    table.file(
        "holes.csv",
        "item,size,price,currency\npage,3x3 backed,0.50,EUR\n",
    );
    let told = table.run(&["supplies", "--from-nothing", "--prices", "holes.csv"]);
    assert!(
        told.contains("no price") && told.ends_with("-- exit 1 --"),
        "{told}"
    );
    table.file(
        "bad.csv",
        "item,size,pack,price,currency,on_hand\n\
         page,3x3,10,6.00,EUR,\n\
         pag,3x3 backed,10,6.00,EUR,\n\
         page,3x3 backed,0,6.00,EUR,\n\
         page,3x3 backed,10,6.005,EUR,\n\
         page,3x3 backed,10,\"6,00\",EUR,\n\
         page,3x3 backed,10,6.00,ERU,\n\
         sleeve,,10,6.00,EUR,\n\
         sleeve,,10,600,JPY,\n\
         sleeve,,10,,EUR,5\n\
         sleeve,,,,,\n\
         sleeve,,,,,-3\n\
         ring binder,40,1,9.00,EUR,\n",
    );
    assert_snapshot!(
        "supplies_bad_prices",
        table.run(&["supplies", "--prices", "bad.csv"])
    );
    assert_eq!(table.exit(&["supplies", "--prices", "gone.csv"]), 3);
    assert_eq!(
        table.exit(&["supplies", "--prices", "bad.csv", "--skip-bad"]),
        1
    );
}

#[test]
fn what_is_not_there_is_told_and_nothing_is_changed() {
    let table = heath();
    let before = table.kept();
    for args in [
        &["supplies", "--draft", "HEA=rares"][..],
        &["supplies", "--draft", "HEA"],
        &["supplies", "--binder", "HAE"],
        &["supplies", "--order", "page 3x3 backed=2"],
        &["supplies", "--order", "page 3x3 backed"],
        &["supplies", "--card-mm", "thin"],
        &["fit", "NONE"],
        &["fit", "HEA", "--depth", "-3"],
        &["fit", "HEA", "--rings", "40"],
        &["rings", "HEA", "40"],
        &["rings", "NONE", "40", "D"],
        &["new", "DAL", "1 to 5", "--rings", "wide"],
        &["new", "DAL", "1 to 5", "--rings", "40 D", "--fixed"],
    ] {
        assert_eq!(table.exit(args), 2, "{args:?}");
    }
    assert_eq!(table.kept(), before);
}

#[test]
fn the_rings_of_a_binder_are_kept_and_taken_back() {
    let table = heath();
    let size =
        |table: &Table| table.json(&["fit", "HEA", "--json"])["binders"][0]["ring_size_mm"].clone();
    assert_eq!(size(&table), 25);
    let answer = table.json(&["rings", "hea", "50mm", "round", "--json"]);
    assert_eq!(
        (&answer["size_mm"], &answer["shape"]),
        (&json!(50), &json!("round"))
    );
    assert_eq!(size(&table), 50);
    table.ok(&["undo"]);
    assert_eq!(size(&table), 25);
    table.ok(&["rings", "HEA", "unknown"]);
    assert_eq!(size(&table), json!(null));
}
