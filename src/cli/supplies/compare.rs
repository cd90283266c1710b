//! `supplies compare`: ways to keep so many cards, side by side.

use serde::Serialize;

use crate::cli::args::CompareArgs;
use crate::cli::error::CliError;
use crate::cli::measure;
use crate::cli::open::Where;
use crate::cli::output::Output;
use crate::cli::prices;
use crate::cli::table::{Align, Table};
use crate::cli::words::count;
use crate::layout::parse_grid;
use crate::supplies::{Care, Housing, HousingKind, PriceList, Question, WEAK, care, ways};

#[derive(Serialize)]
struct Answer {
    format: &'static str,
    version: u32,
    cards: u64,
    rows: u8,
    columns: u8,
    #[serde(skip_serializing_if = "Option::is_none")]
    currency: Option<String>,
    ways: Vec<WayAnswer>,
}

#[derive(Serialize)]
struct WayAnswer {
    way: &'static str,
    pages: u64,
    places: u64,
    free_places: u64,
    binders: Vec<BinderAnswer>,
    /// Pages and binders.
    #[serde(skip_serializing_if = "Option::is_none")]
    housing_minor: Option<u64>,
    /// With the sleeves.
    #[serde(skip_serializing_if = "Option::is_none")]
    cost_minor: Option<u64>,
    without_price: Vec<String>,
}

#[derive(Serialize)]
struct BinderAnswer {
    item: &'static str,
    size: String,
    count: u64,
}

pub(super) fn run(args: &CompareArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let (rows, columns) = parse_grid(&args.page).map_err(CliError::usage)?;
    let thickness = measure::thickness(&args.measure)?;
    let cards = match args.cards {
        Some(cards) => cards as u64,
        None => {
            let session = at.read(out)?;
            let shelf = session.collection().shelf();
            let pages = shelf.flat_map(|binder| &binder.layout().pages);
            pages.map(|page| page.printings().count() as u64).sum()
        }
    };
    let list = prices::given(&args.prices, at, out)?;
    let list = list.unwrap_or_default();
    let question = Question {
        cards,
        rows,
        columns,
        thickness,
    };
    let ways = ways(question, &list);
    if ways.iter().any(|way| way.cost.is_none()) && list.currency().is_some() {
        out.falls_short();
    }
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-supplies-compare",
            version: 1,
            cards,
            rows,
            columns,
            currency: list.currency().map(|currency| currency.code().to_owned()),
            ways: ways.iter().map(|way| answer(way, cards)).collect(),
        });
    }
    tell(&question, &ways, &list, out)
}

fn answer(way: &Housing, cards: u64) -> WayAnswer {
    WayAnswer {
        way: match way.kind {
            HousingKind::Backed => "rings_backed",
            HousingKind::BackToBack => "rings_clear_back_to_back",
            HousingKind::OneSide => "rings_clear_one_side",
            HousingKind::Fixed => "fixed",
        },
        pages: way.pages,
        places: way.places,
        free_places: way.places.saturating_sub(cards),
        binders: (way.binders.iter())
            .map(|(item, count)| BinderAnswer {
                item: item.word(),
                size: item.size(),
                count: *count,
            })
            .collect(),
        housing_minor: way.housing,
        cost_minor: way.cost,
        without_price: way.holes.clone(),
    }
}

fn tell(
    question: &Question,
    ways: &[Housing],
    list: &PriceList,
    out: &mut Output,
) -> Result<(), CliError> {
    out.prose(&format!(
        "{} on pages of {}x{}, with {}:",
        count(question.cards, "card", "cards"),
        question.rows,
        question.columns,
        question.thickness.sleeves.told()
    ))?;
    let mut table = Table::new(&[
        ("way", Align::Left),
        ("pages", Align::Right),
        ("pockets", Align::Right),
        ("binders", Align::Left),
        ("cost", Align::Right),
        ("a pocket", Align::Right),
        ("a card", Align::Right),
    ]);
    // Of bound pages there are as many as the binders of the price list have.
    let known = |number: u64| match number {
        0 => "?".into(),
        number => number.to_string(),
    };
    for way in ways {
        let cost = way.cost.and_then(|cost| list.money(cost));
        let each = |minor: Option<u64>, number: u64| {
            let cost = minor.and_then(|minor| list.money(minor));
            cost.map_or_else(String::new, |cost| cost.each(number))
        };
        let binders = way.binders.iter();
        let binders = binders.map(|(item, count)| format!("{count} x {}", item.size()));
        table.row([
            way.kind.words().to_owned(),
            known(way.pages),
            known(way.places),
            binders.collect::<Vec<_>>().join(", "),
            cost.map_or_else(|| "?".into(), |cost| cost.digits()),
            each(way.housing, way.places),
            each(way.cost, question.cards),
        ]);
    }
    table.print(out)?;
    out.apart()?;
    for way in ways.iter().filter(|way| !way.holes.is_empty()) {
        let holes = way.holes.join(", ");
        out.prose(&format!("{}: no price for {holes}.", way.kind.words()))?;
    }
    if let Some(currency) = list.currency() {
        out.prose(&format!(
            "Costs in {}, pages, binders and sleeves together, in whole packs, as if nothing were on \
             hand. The cost of a pocket is without sleeves, that of a card with them; both are \
             rounded to a hundredth of the smallest coin.",
            currency.code()
        ))?;
    }
    out.prose(WEAK)?;
    out.prose(care(Care::Plastic))
}
