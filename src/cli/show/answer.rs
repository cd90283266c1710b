//! A binder or a page of it as JSON.

use std::ops::Range;

use serde::Serialize;

use super::{format_of, pockets, words};
use crate::model::{Binder, Collection, PocketState, PrintingId, Side};

#[derive(Serialize)]
pub(super) struct Answer<'a> {
    format: &'static str,
    version: u32,
    binder: &'a str,
    title: &'a str,
    pages: Vec<PageAnswer<'a>>,
}

#[derive(Serialize)]
struct PageAnswer<'a> {
    page: usize,
    rows: u8,
    columns: u8,
    sides: u8,
    shared_pockets: bool,
    /// Whether a physical page stands there.
    stands: bool,
    pockets: Vec<PocketAnswer<'a>>,
}

#[derive(Serialize)]
struct PocketAnswer<'a> {
    side: String,
    row: u32,
    column: u32,
    state: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    held: Option<CardAnswer<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    wanted: Option<CardAnswer<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    keepsake: Option<String>,
}

#[derive(Serialize)]
struct CardAnswer<'a> {
    set: &'a str,
    number: &'a str,
    finish: &'a str,
    name: &'a str,
}

impl<'a> Answer<'a> {
    pub(super) fn new(
        collection: &'a Collection,
        binder: &'a Binder,
        pages: Range<usize>,
        only: Option<Side>,
    ) -> Self {
        Self {
            format: "ringbound-show",
            version: 1,
            binder: binder.name(),
            title: &binder.spec().title,
            pages: pages
                .filter_map(|page| page_answer(collection, binder, page, only))
                .collect(),
        }
    }
}

fn page_answer<'a>(
    collection: &'a Collection,
    binder: &Binder,
    page: usize,
    only: Option<Side>,
) -> Option<PageAnswer<'a>> {
    let format = format_of(binder, page)?;
    let sides = [Side::Front, Side::Back].into_iter();
    let asked = sides.filter(|side| only.is_none_or(|only| only == *side));
    let places = asked.flat_map(|side| pockets(binder, page, format, side));
    let pockets = places.map(|(at, place)| {
        let state = collection.pocket(place);
        let card = |printing| card_answer(collection, printing);
        PocketAnswer {
            side: at.side.to_string(),
            row: u32::from(at.row) + 1,
            column: u32::from(at.column) + 1,
            state: match state {
                PocketState::Unassigned => "nothing",
                _ => words::short(&state),
            },
            held: state.held().and_then(card),
            wanted: state.wanted().and_then(card),
            keepsake: match &state {
                PocketState::Keepsake(words) => Some(words.to_string()),
                _ => None,
            },
        }
    });
    Some(PageAnswer {
        page: page + 1,
        rows: format.rows,
        columns: format.columns,
        sides: format.sides,
        shared_pockets: format.shared,
        stands: page < binder.pages().len(),
        pockets: pockets.collect(),
    })
}

fn card_answer(collection: &Collection, printing: PrintingId) -> Option<CardAnswer<'_>> {
    let set = collection.set(printing.set())?;
    let card = set.card(printing.card())?;
    let finish = set.finishes().get(usize::from(printing.finish()))?;
    Some(CardAnswer {
        set: set.code(),
        number: &card.number,
        finish: &finish.name,
        name: &card.name,
    })
}
