//! Pocket cards: paper in the size of a card, to stand in for one that is missing.

use std::collections::HashMap;

use super::drawing::{Drawing, Part, Pen, Sheet, Turn};
use super::fit::{Room, fit};
use super::font::{Fonts, Weight};
use super::labels::place;
use super::marks::{CHECK, MARGIN, check_line, grid_marks};
use super::measure::{Area, Size};
use crate::model::{BinderId, Collection};
use crate::report::{Listed, binder_words, pocket_words};

/// What stands on a pocket card.
#[derive(Clone, Debug, PartialEq)]
pub struct StandIn {
    pub set: String,
    pub symbol: String,
    pub number: String,
    pub name: String,
    /// Finish and rarity.
    pub kind: String,
    /// The pocket that it goes into.
    pub place: String,
    pub size: Size,
}

/// Why pocket cards cannot be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CardError {
    #[error("there is no gap to make a card for")]
    None,
    #[error("a card of {card} has no room on paper of {paper}")]
    TooLarge { card: String, paper: String },
}

/// A card for each gap, of its card's size where that is known, else of the usual one.
#[must_use]
pub fn stand_ins(collection: &Collection, gaps: &[Listed], usual: Size) -> Vec<StandIn> {
    let mut names: HashMap<BinderId, String> = HashMap::new();
    let stand_in = |gap: &Listed| {
        let printing = gap.printing;
        let set = collection.set(printing.set())?;
        let card = set.card(printing.card())?;
        let finish = set.finishes().get(usize::from(printing.finish()));
        let finish = finish.filter(|_| set.finishes().len() > 1);
        let kind = [
            finish.map_or("", |finish| &finish.name),
            set.rarity_name(card),
        ];
        let kind: Vec<&str> = kind.into_iter().filter(|word| !word.is_empty()).collect();
        let at = gap.place.zip(gap.at);
        Some(StandIn {
            set: set.code().to_owned(),
            symbol: set.head().symbol.to_string(),
            number: card.number.to_string(),
            name: card.name.to_string(),
            kind: kind.join(", "),
            place: at.map_or_else(String::new, |(place, at)| {
                let name = names.entry(place.binder);
                let name = name.or_insert_with(|| binder_words(collection, place.binder));
                format!("{name}, {}", pocket_words(place.page, at))
            }),
            size: card.size.map_or(usual, |size| {
                Size::new(f64::from(size.width) / 10.0, f64::from(size.height) / 10.0)
            }),
        })
    };
    gaps.iter().filter_map(stand_in).collect()
}

/// The cards on as many sheets as they need, those of one size together.
///
/// # Errors
/// There is none, or one is larger than the paper.
pub fn pocket_cards(
    cards: &[StandIn],
    paper: Size,
    fonts: &Fonts<'_>,
) -> Result<Drawing, CardError> {
    if cards.is_empty() {
        return Err(CardError::None);
    }
    let mut sizes: Vec<Size> = Vec::new();
    for card in cards {
        if !sizes.contains(&card.size) {
            sizes.push(card.size);
        }
    }
    let mut sheets = Vec::new();
    let mut shortened = Vec::new();
    for size in sizes {
        let grid = Grid::new(size, paper).ok_or_else(|| CardError::TooLarge {
            card: size.to_string(),
            paper: paper.to_string(),
        })?;
        let alike: Vec<&StandIn> = cards.iter().filter(|card| card.size == size).collect();
        for chunk in alike.chunks(grid.columns * grid.rows) {
            let mut sheet = Sheet::new(paper);
            check_line(&mut sheet, fonts, grid.check);
            grid_marks(&mut sheet, grid.area, grid.columns, grid.rows);
            for (at, card) in chunk.iter().enumerate() {
                let (row, column) = (at / grid.columns, at % grid.columns);
                let x = grid.area.x + column as f64 * size.width;
                let y = grid.area.y + row as f64 * size.height;
                let area = Area::new(x, y, size.width, size.height);
                if draw(&mut sheet, card, area, fonts) {
                    shortened.push(format!("{} {}", card.set, card.number));
                }
            }
            sheets.push(sheet);
        }
    }
    let notes = match &shortened[..] {
        [] => Vec::new(),
        [only] => vec![format!("words are shortened on the card of {only}")],
        [first, ..] => vec![format!(
            "words are shortened on the cards of {first} and {} more",
            shortened.len() - 1
        )],
    };
    Ok(Drawing {
        title: "Pocket cards".into(),
        sheets,
        notes,
    })
}

/// Cards edge to edge in the middle of the paper, with the check line where most cards have room.
struct Grid {
    area: Area,
    columns: usize,
    rows: usize,
    check: Turn,
}

impl Grid {
    fn new(card: Size, paper: Size) -> Option<Self> {
        let grid = |check: Turn| {
            let (left, below) = match check {
                Turn::Across => (MARGIN, MARGIN + CHECK),
                Turn::Down | Turn::Up => (MARGIN + CHECK, MARGIN),
            };
            let width = paper.width - left - MARGIN;
            let height = paper.height - below - MARGIN;
            // Rounding must not lose a card that fits exactly.
            let columns = (width / card.width + 1e-9) as usize;
            let rows = (height / card.height + 1e-9) as usize;
            let used = Size::new(columns as f64 * card.width, rows as f64 * card.height);
            let x = left + (width - used.width) / 2.0;
            let y = MARGIN + (height - used.height) / 2.0;
            Self {
                area: Area::new(x, y, used.width, used.height),
                columns,
                rows,
                check,
            }
        };
        let (below, beside) = (grid(Turn::Across), grid(Turn::Up));
        let cards = |grid: &Self| grid.columns * grid.rows;
        let best = if cards(&beside) > cards(&below) {
            beside
        } else {
            below
        };
        (cards(&best) > 0).then_some(best)
    }
}

/// Whether words had to be shortened.
fn draw(sheet: &mut Sheet, card: &StandIn, area: Area, fonts: &Fonts<'_>) -> bool {
    sheet.frame(area, Pen::HAIR);
    let inside = area.inset((area.width / 14.0).min(4.0));
    let part = |share: f64| inside.height * share;
    let head = [&card.symbol, &card.set];
    let head: Vec<&str> = (head.iter().map(|word| word.as_str()))
        .filter(|word| !word.is_empty())
        .collect();
    let rows = [
        (head.join(" "), Weight::Plain, 4.5, 1, part(0.12)),
        (card.number.clone(), Weight::Bold, 14.0, 1, part(0.30)),
        (card.name.clone(), Weight::Bold, 5.0, 3, part(0.28)),
        (card.kind.clone(), Weight::Plain, 3.6, 2, part(0.14)),
        (card.place.clone(), Weight::Plain, 2.8, 2, part(0.16)),
    ];
    let mut shortened = false;
    let mut y = inside.y;
    for (words, weight, largest, lines, height) in rows {
        let room = Room {
            along: inside.width,
            across: height,
            largest,
            smallest: 1.8,
            lines,
        };
        let fitted = fit(fonts, &words, weight, room);
        shortened |= fitted.shortened;
        let top = y + (height - fitted.across()) / 2.0;
        place(
            sheet,
            fitted,
            Area::new(inside.x, top, inside.width, height),
            Turn::Across,
            0.5,
        );
        y += height;
    }
    sheet.parts.push(Part {
        area,
        words: format!("{} {} {}", card.set, card.number, card.name),
    });
    shortened
}
