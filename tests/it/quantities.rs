//! Pockets and pages against the counts of the stationery trade (source in the data file).

use ringbound::layout::run;
use ringbound::model::{PageFormat, PrintingId, SetId};
use serde_json::Value;

fn cases(kind: &str) -> Vec<Value> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/quantities.json");
    let text = std::fs::read_to_string(path).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    let cases = all["cases"].as_array().unwrap().iter();
    let found: Vec<_> = cases.filter(|case| case["kind"] == kind).cloned().collect();
    assert!(!found.is_empty(), "no cases of the kind {kind}");
    found
}

fn number(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

/// Every grid with this many pockets on a side.
fn grids(pockets: usize) -> Vec<(u8, u8)> {
    let most = PageFormat::MOST;
    (1..=most)
        .flat_map(|rows| (1..=most).map(move |columns| (rows, columns)))
        .filter(|(rows, columns)| usize::from(*rows) * usize::from(*columns) == pockets)
        .collect()
}

#[test]
fn pages_hold_as_many_cards_as_the_trade_counts() {
    for case in cases("capacity") {
        let grids = grids(number(&case["pockets"]));
        assert!(!grids.is_empty(), "{case}");
        for (rows, columns) in grids {
            let pockets = |sides| PageFormat::new(rows, columns, sides).pockets();
            let pages = number(&case["pages"]);
            assert_eq!(pages * pockets(1), number(&case["one_side"]), "{case}");
            assert_eq!(pages * pockets(2), number(&case["both_sides"]), "{case}");
        }
    }
}

#[test]
fn a_run_takes_as_many_pages_as_its_cards_need() {
    for case in cases("pages_needed") {
        let places = number(&case["places_per_page"]);
        let one_side = grids(places).into_iter().map(|grid| (grid, 1));
        let both_sides = places.is_multiple_of(2).then(|| grids(places / 2));
        let both_sides = both_sides.into_iter().flatten().map(|grid| (grid, 2));
        for ((rows, columns), sides) in one_side.chain(both_sides) {
            let format = PageFormat::new(rows, columns, sides);
            let cards = u32::try_from(number(&case["cards"])).unwrap();
            let printings: Vec<_> = (0..cards)
                .map(|card| PrintingId::new(SetId(0), card, 0))
                .collect();
            let pages = run(format, &printings);
            assert_eq!(pages.len(), number(&case["pages"]), "{case}");
            let free = pages.len() * format.pockets() - printings.len();
            assert_eq!(free, number(&case["free_places"]), "{case}");
            // In the order given, a pocket each.
            let meant: Vec<_> = (pages.iter())
                .flat_map(|page| page.printings().map(|(_, printing)| printing))
                .collect();
            assert_eq!(meant, printings, "{case}");
        }
    }
}
