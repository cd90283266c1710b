//! Spine labels at true size.

use std::sync::Arc;

use super::drawing::{Drawing, Item, Part, Pen, Sheet, Turn};
use super::fit::{Fitted, Room, fit};
use super::font::{Fonts, Weight};
use super::marks::{CHECK, MARGIN, check_line, cut_marks};
use super::measure::{Area, Size, mm};
use super::picture::Picture;
use crate::model::{Binder, BinderKind, Collection};
use crate::text;

/// What stands on a spine.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spine {
    /// What the collector calls the binder in a note about its label.
    pub name: String,
    pub title: String,
    pub symbol: String,
    pub number: String,
    /// In millimetres; `None` where it is not known.
    pub width: Option<f64>,
    pub picture: Option<Arc<Picture>>,
}

impl Spine {
    /// Of a binder: its title, the symbol and shelf number of its set, and the size of its rings
    /// for a width (the spine is wider than they are).
    #[must_use]
    pub fn of(collection: &Collection, binder: &Binder) -> Self {
        let spec = binder.spec();
        let head = spec
            .set
            .and_then(|set| collection.set(set))
            .map(crate::model::Set::head);
        let word = |of: fn(&crate::model::SetHead) -> &str| head.map_or("", of).to_owned();
        let title = match (&*spec.title, word(|head| &head.title)) {
            ("", title) if title.is_empty() => spec.name.to_string(),
            ("", title) => title,
            (title, _) => title.to_owned(),
        };
        Self {
            name: spec.name.to_string(),
            title,
            symbol: word(|head| &head.symbol),
            number: word(|head| &head.shelf),
            width: match spec.kind {
                BinderKind::Rings { size, .. } if size > 0 => Some(f64::from(size)),
                _ => None,
            },
            picture: None,
        }
    }
}

/// How labels are made. Lengths are in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelLook {
    pub paper: Size,
    /// The width of every label; `None` takes each binder's own.
    pub spine: Option<f64>,
    pub height: f64,
    /// Kept free inside the edges.
    pub margin: f64,
    /// Kept free at the foot, for marks of the collector's own.
    pub foot: f64,
    /// `Across` is for titles that are short enough to stand upright; others run down then.
    pub turn: Turn,
}

impl LabelLook {
    /// Labels that read from top to bottom, with 30 mm kept free at the foot (ISO 6357).
    #[must_use]
    pub fn on(paper: Size) -> Self {
        Self {
            paper,
            spine: None,
            height: 190.0_f64.min(paper.height - ROUND),
            margin: 2.0,
            foot: 30.0,
            turn: Turn::Down,
        }
    }
}

/// Above and below a label: margins, cut marks, the check line.
const ROUND: f64 = 2.0 * MARGIN + 6.0 + CHECK;

/// The width of a label where none is known.
pub const USUAL_SPINE: f64 = 25.0;

/// A note names so many spines.
const MOST_NAMED: usize = 3;

/// The narrowest label that can be read.
const LEAST_SPINE: f64 = 5.0;

/// Below this no binder has its spine. (Common practice, no source.)
const NARROW_SPINE: f64 = 10.0;

/// Between two labels: the marks of both.
const APART: f64 = 7.0;

/// Why labels cannot be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LabelError {
    #[error("there is no binder to make a label for")]
    None,
    #[error("a spine of {0} mm is too narrow for a label: it needs {LEAST_SPINE} mm")]
    Narrow(String),
    #[error("a label of {label} has no room on paper of {paper}: at most {room}")]
    TooLarge {
        label: String,
        paper: String,
        room: String,
    },
    #[error("a label {0} mm high has no room for words between its margins and its foot")]
    NoRoom(String),
}

/// The labels on as many sheets as they need.
///
/// # Errors
/// A label is too narrow, or larger than the paper.
pub fn labels(
    spines: &[Spine],
    look: &LabelLook,
    fonts: &Fonts<'_>,
) -> Result<Drawing, LabelError> {
    let mut notes = Vec::new();
    let mut sheets: Vec<Sheet> = Vec::new();
    let room = Area::new(
        MARGIN + 3.0,
        MARGIN + 3.0,
        look.paper.width - 2.0 * MARGIN - 6.0,
        look.paper.height - ROUND,
    );
    let words = look.height - look.foot - 2.0 * look.margin;
    if !(words >= 10.0 && look.margin >= 0.0 && look.foot >= 0.0) {
        return Err(LabelError::NoRoom(mm(look.height)));
    }
    let mut next = (room.x, room.y);
    let (mut unknown, mut narrow) = (Vec::new(), Vec::new());
    for spine in spines {
        let width = look.spine.or(spine.width).unwrap_or_else(|| {
            unknown.push(text::fit(&spine.title, 24, '…'));
            USUAL_SPINE
        });
        if width < LEAST_SPINE {
            return Err(LabelError::Narrow(mm(width)));
        }
        // A spine is wider than its rings.
        if look.spine.is_some() && width < spine.width.map_or(NARROW_SPINE, |rings| rings / 2.0) {
            narrow.push(spine.name.clone());
        }
        if width > room.width || look.height > room.height {
            return Err(LabelError::TooLarge {
                label: Size::new(width, look.height).to_string(),
                paper: look.paper.to_string(),
                room: Size::new(room.width, room.height).to_string(),
            });
        }
        if next.0 + width > room.right() + 1e-9 {
            next = (room.x, next.1 + look.height + APART);
        }
        if sheets.is_empty() || next.1 + look.height > room.bottom() + 1e-9 {
            let mut sheet = Sheet::new(look.paper);
            check_line(&mut sheet, fonts, Turn::Across);
            sheets.push(sheet);
            next = (room.x, room.y);
        }
        let area = Area::new(next.0, next.1, width, look.height);
        next.0 += width + APART;
        if let Some(sheet) = sheets.last_mut() {
            draw(sheet, spine, area, look, fonts, &mut notes);
        }
    }
    if !unknown.is_empty() {
        notes.push(format!(
            "no width is known for the spine of {}: {} mm are taken; measure it and say its width",
            named(&unknown),
            mm(USUAL_SPINE)
        ));
    }
    if let (false, Some(width)) = (narrow.is_empty(), look.spine) {
        notes.push(format!(
            "{} mm is narrow for the spine of {}: measure it",
            mm(width),
            named(&narrow)
        ));
    }
    if sheets.is_empty() {
        return Err(LabelError::None);
    }
    Ok(Drawing {
        title: "Spine labels".into(),
        sheets,
        notes,
    })
}

/// A few of the names, and how many more there are.
fn named(names: &[String]) -> String {
    let first = names[..names.len().min(MOST_NAMED)].join(", ");
    match names.len().saturating_sub(MOST_NAMED) {
        0 => first,
        1 => format!("{first} and 1 other"),
        more => format!("{first} and {more} others"),
    }
}

fn draw(
    sheet: &mut Sheet,
    spine: &Spine,
    label: Area,
    look: &LabelLook,
    fonts: &Fonts<'_>,
    notes: &mut Vec<String>,
) {
    cut_marks(sheet, label);
    sheet.frame(label, Pen::HAIR);
    let words = [&spine.symbol, &spine.number, &spine.title];
    let words: Vec<&str> = (words.iter().map(|word| word.as_str()))
        .filter(|word| !word.is_empty())
        .collect();
    sheet.parts.push(Part {
        area: label,
        words: words.join("  "),
    });
    let margin = look.margin.min(label.width / 10.0);
    let inside = label.inset(margin);
    let foot = label.bottom() - look.foot.max(margin);
    let mut top = inside.y + look.margin - margin;
    // The head: symbol, number and picture, upright, one under the other.
    for word in [&spine.symbol, &spine.number] {
        let room = Room {
            along: inside.width,
            across: (inside.width * 1.1).min((foot - top) / 4.0),
            largest: 14.0,
            smallest: 1.6,
            lines: 1,
        };
        let fitted = fit(fonts, word, Weight::Bold, room);
        if fitted.shortened {
            notes.push(format!(
                "“{word}” is shortened on the label of {}",
                spine.name
            ));
        }
        if !fitted.lines.is_empty() {
            let area = Area::new(inside.x, top, inside.width, fitted.across());
            place(sheet, fitted, area, Turn::Across, 0.5);
            top = area.bottom();
        }
    }
    if let Some(picture) = &spine.picture {
        let most = (foot - top) / 3.0;
        let width = inside.width.min(most * picture.shape());
        let height = width / picture.shape();
        let x = inside.x + (inside.width - width) / 2.0;
        top += 1.0;
        sheet.items.push(Item::Picture {
            area: Area::new(x, top, width, height),
            picture: picture.clone(),
        });
        top += height;
    }
    if top > inside.y {
        top += 2.0;
    }
    let rest = Area::new(inside.x, top, inside.width, foot - top);
    let fitted = title(sheet, &spine.title, rest, look.turn, fonts);
    if fitted {
        notes.push(format!(
            "the title is shortened on the label of {}",
            spine.name
        ));
    }
}

/// The title in the rest of the label; whether it had to be shortened.
fn title(sheet: &mut Sheet, words: &str, rest: Area, turn: Turn, fonts: &Fonts<'_>) -> bool {
    const LARGEST: f64 = 12.0;
    if turn == Turn::Across {
        let upright = Room {
            along: rest.width,
            across: rest.height,
            largest: LARGEST,
            // Smaller than that, it reads better along the spine.
            smallest: 4.0,
            lines: 4,
        };
        let fitted = fit(fonts, words, Weight::Bold, upright);
        if !fitted.shortened && !fitted.broken {
            place(sheet, fitted, rest, Turn::Across, 0.0);
            return false;
        }
    }
    let turn = if turn == Turn::Across {
        Turn::Down
    } else {
        turn
    };
    let room = Room {
        along: rest.height,
        across: rest.width,
        largest: LARGEST,
        smallest: 2.5_f64.min(rest.width / 1.2),
        lines: 2,
    };
    let fitted = fit(fonts, words, Weight::Bold, room);
    let shortened = fitted.shortened;
    // At the head of the spine, whichever way the words run.
    let begin = if turn == Turn::Up { 1.0 } else { 0.0 };
    place(sheet, fitted, rest, turn, begin);
    shortened
}

/// Puts lines into an area: in the middle across them; along them at the beginning (0), in the
/// middle (0.5) or at the end (1).
pub(super) fn place(sheet: &mut Sheet, fitted: Fitted, area: Area, turn: Turn, along: f64) {
    let (corner, length, breadth) = match turn {
        Turn::Across => ((area.x, area.y), area.width, area.height),
        Turn::Down => ((area.right(), area.y), area.height, area.width),
        Turn::Up => ((area.x, area.bottom()), area.height, area.width),
    };
    // Upright words begin at the top; a turned line stands in the middle of the spine.
    let mut below = match turn {
        Turn::Across => 0.0,
        Turn::Down | Turn::Up => (breadth - fitted.across()) / 2.0,
    };
    for run in fitted.lines {
        let base = below + run.ascent();
        below += run.height();
        let begin = (length - run.width()) * along;
        sheet.text(run, turn.point(corner, begin, base), turn);
    }
}
