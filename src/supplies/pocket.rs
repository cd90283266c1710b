//! Does a sleeved card fit the pocket, and which way round does the sleeve go.

use std::collections::BTreeMap;

use super::thickness::{LayoutOf, Sleeves};
use crate::model::{Binder, CardSize, Collection, Meaning, Opening, PageFormat};

/// What sleeves add to a card, and the size of a card of which none is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sleeve {
    /// Tenths of a millimetre that the outermost sleeve is wider and higher than the card.
    pub adds: u16,
    pub usual: CardSize,
}

impl Sleeve {
    /// Common practice, no source: 2 mm for one sleeve, 3 mm for two. Makers give the outer
    /// size.
    #[must_use]
    pub fn usual(sleeves: Sleeves) -> Self {
        let adds = match sleeves {
            Sleeves::Bare => 0,
            Sleeves::One => 20,
            Sleeves::Two => 30,
        };
        Self {
            adds,
            usual: CardSize::USUAL,
        }
    }
}

/// How a card sits in a pocket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Play {
    /// It does not go in; lacking width and height in tenths of a millimetre, 0 where there is
    /// enough.
    TooLarge(u32, u32),
    /// Less than half a millimetre of play on one side: it goes in with force, if at all.
    Tight,
    Fits,
    /// More than 10 mm of play: it slides about.
    Loose,
    /// The size of the pocket is not known.
    Unknown,
}

/// How a card in its sleeve sits in a pocket of this format. The limits are ours: common practice
/// without a source.
#[must_use]
pub fn play(card: CardSize, sleeve: Sleeve, format: PageFormat) -> Play {
    if format.pocket_width == 0 || format.pocket_height == 0 {
        return Play::Unknown;
    }
    let pocket = (
        u32::from(format.pocket_width),
        u32::from(format.pocket_height),
    );
    let adds = u32::from(sleeve.adds);
    let card = (
        card.width.saturating_add(adds),
        card.height.saturating_add(adds),
    );
    if card.0 > pocket.0 || card.1 > pocket.1 {
        return Play::TooLarge(
            card.0.saturating_sub(pocket.0),
            card.1.saturating_sub(pocket.1),
        );
    }
    let (width, height) = (pocket.0 - card.0, pocket.1 - card.1);
    if width < 5 || height < 5 {
        Play::Tight
    } else if width > 100 || height > 100 {
        Play::Loose
    } else {
        Play::Fits
    }
}

/// Cards of one size that do not sit well in pockets of one format.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    pub format: PageFormat,
    pub card: CardSize,
    pub play: Play,
    pub pockets: usize,
    /// The first page with such a pocket, from 0.
    pub page: usize,
}

/// The formats of the pages that are looked at, each once, in the order of the pages.
#[must_use]
pub fn formats(binder: &Binder, of: LayoutOf) -> Vec<PageFormat> {
    let mut formats: Vec<PageFormat> = Vec::new();
    let mut add = |format| {
        if !formats.contains(&format) {
            formats.push(format);
        }
    };
    match of {
        LayoutOf::Contents => binder.pages().iter().for_each(|page| add(page.format())),
        _ => (of.layout(binder).pages.iter()).for_each(|page| add(page.format())),
    }
    formats
}

/// What in a binder does not sit well, by format and size of card, in the order of the pages.
#[must_use]
pub fn misfits(
    collection: &Collection,
    binder: &Binder,
    of: LayoutOf,
    sleeve: Sleeve,
) -> Vec<Misfit> {
    let mut found: BTreeMap<(usize, u32, u32), Misfit> = BTreeMap::new();
    let mut formats: Vec<PageFormat> = Vec::new();
    let mut look = |page: usize, format: PageFormat, printing| {
        let size = collection.card(printing).and_then(|card| card.size);
        let card = size.unwrap_or(sleeve.usual);
        let play = play(card, sleeve, format);
        if matches!(play, Play::Fits | Play::Unknown) {
            return;
        }
        let at = formats.iter().position(|known| *known == format);
        let at = at.unwrap_or_else(|| {
            formats.push(format);
            formats.len() - 1
        });
        let misfit = found.entry((at, card.width, card.height));
        misfit.or_insert(Misfit {
            format,
            card,
            play,
            pockets: 0,
            page,
        });
        if let Some(misfit) = found.get_mut(&(at, card.width, card.height)) {
            misfit.pockets += 1;
        }
    };
    if of == LayoutOf::Contents {
        for (at, page) in binder.pages().iter().enumerate() {
            for printing in page.cards().iter().flatten() {
                look(at, page.format(), *printing);
            }
        }
    } else {
        for (at, page) in of.layout(binder).pages.iter().enumerate() {
            for pocket in 0..page.format().pockets() {
                if let Meaning::Printing(printing) = page.meaning(pocket) {
                    look(at, page.format(), printing);
                }
            }
        }
    }
    let mut found: Vec<_> = found.into_values().collect();
    found.sort_by_key(|misfit| misfit.page);
    found
}

/// Where a sleeve is open: at a short edge, or at a long one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SleeveOpening {
    Top,
    Side,
}

/// Which way round the sleeve goes, so that the pocket closes it. Common practice, no source.
#[must_use]
pub fn sleeve_words(pocket: Opening, sleeve: SleeveOpening, sleeves: Sleeves) -> &'static str {
    match (sleeves, pocket, sleeve) {
        (Sleeves::Bare, ..) => "Without a sleeve the card touches the page itself.",
        (Sleeves::Two, Opening::Top, SleeveOpening::Top) => {
            "The inner sleeve opens upwards, the outer one downwards, away from the pocket's opening."
        }
        (Sleeves::Two, Opening::Side, SleeveOpening::Top) => {
            "The inner sleeve opens the other way than the outer one; the pocket closes both."
        }
        (Sleeves::One, Opening::Top, SleeveOpening::Top) => {
            "The sleeve goes in with its opening downwards, away from the pocket's opening."
        }
        (Sleeves::One, Opening::Side, SleeveOpening::Top) => {
            "The sleeve's opening, above or below, lies at a seam of the pocket, which closes it."
        }
        (_, Opening::Top, SleeveOpening::Side) => {
            "The sleeve's opening lies at a seam of the pocket, which closes it."
        }
        (_, Opening::Side, SleeveOpening::Side) => {
            "Turn the sleeve's opening away from the pocket's opening."
        }
    }
}

/// What the opening of a pocket means for the card in it. Common practice, no source.
#[must_use]
pub fn opening_words(opening: Opening) -> &'static str {
    match opening {
        Opening::Top => {
            "Open at the top: a card stays in while the binder stands, and dust can fall in."
        }
        Opening::Side => {
            "Open at the side: no dust falls in; do not hold the page with the openings downwards."
        }
    }
}
