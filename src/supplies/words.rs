//! Fit and needs in a person's words.

use super::fit::{Fit, Verdict};
use super::pocket::{Misfit, Play};
use super::rings::Rings;
use super::sheet::{FOR_HOLES, LeftOfSheet, PaperFormat, page_on_sheet};
use super::split::Split;
use super::thickness::millimetres;
use crate::layout::grid_word;
use crate::model::PageFormat;
use crate::text::{Choice, count, tenths};

impl Rings {
    /// `D rings of 40 mm`.
    #[must_use]
    pub fn words(self) -> String {
        format!("{} rings of {} mm", self.shape.word(), self.size)
    }
}

impl Verdict {
    /// For a column: does it close?
    #[must_use]
    pub fn word(self) -> String {
        match self {
            Self::Closes => "closes".into(),
            Self::Tight => "may close".into(),
            Self::DoesNotClose => "does not close".into(),
            Self::Unknown => "rings not known".into(),
            Self::Fixed => "fixed pages".into(),
            Self::FixedLacks(lacks) => {
                format!("lacks {}", count(lacks as u64, "page", "pages"))
            }
        }
    }

    /// Whether something has to be done about it.
    #[must_use]
    pub fn is_amiss(self) -> bool {
        matches!(self, Self::DoesNotClose | Self::FixedLacks(_))
    }
}

impl Fit {
    /// What the rings hold: `Its D rings of 40 mm hold 40 mm, at most 50: 28 such pages, at most 35`.
    #[must_use]
    pub fn room_words(&self) -> Option<String> {
        let room = self.room?;
        let holds = self.rings.map_or_else(
            || "It holds".into(),
            |rings| format!("Its {} hold", rings.words()),
        );
        let (sure, most) = (millimetres(room.sure), millimetres(room.most));
        if sure == most {
            let pages = self.takes.filter(|_| self.pages > 0);
            let pages = pages
                .map(|(sure, _)| format!(": {}", count(sure.into(), "such page", "such pages")));
            return Some(format!("{holds} {sure} mm{}", pages.unwrap_or_default()));
        }
        let pages = self.takes.filter(|_| self.pages > 0);
        let pages = pages.map(|(sure, most)| {
            let sure = count(sure.into(), "such page", "such pages");
            format!(": {sure}, at most {most}")
        });
        Some(format!(
            "{holds} {sure} mm, at most {most}{}",
            pages.unwrap_or_default()
        ))
    }

    /// The rings in which all of it is sure to close: `round rings of 60 mm or D rings of 50 mm`.
    #[must_use]
    pub fn wants_words(&self) -> Option<String> {
        match self.wants {
            (Some(round), Some(d)) if round != d => {
                Some(format!("round rings of {round} mm or D rings of {d} mm"))
            }
            (Some(size), _) => Some(format!("rings of {size} mm, round or D")),
            (None, Some(d)) => Some(format!("D rings of {d} mm")),
            (None, None) => None,
        }
    }
}

impl Fit {
    /// In which rings it closes, or that there are none: `It is sure to close with round rings of
    /// 60 mm or D rings of 50 mm`.
    #[must_use]
    pub fn sure_words(&self) -> String {
        self.wants_words().map_or_else(
            || "No usual rings are sure to take that much: split it".into(),
            |wants| format!("It is sure to close with {wants}"),
        )
    }

    /// What is to be said of pages that are fixed.
    #[must_use]
    pub fn fixed_words(&self) -> Option<String> {
        match self.verdict {
            Verdict::Fixed => Some("Its pages are fixed, and they are those of the layout".into()),
            Verdict::FixedLacks(lacks) => {
                let pages = count(lacks as u64, "page", "pages");
                Some(format!(
                    "Its pages are fixed; it lacks {pages} of the layout"
                ))
            }
            _ => None,
        }
    }
}

/// How the cards sit in the pockets of these formats, as far as that is known, a sentence each.
#[must_use]
pub fn pockets_words(formats: &[PageFormat], misfits: &[Misfit]) -> Vec<String> {
    let is_unknown = |format: &PageFormat| format.pocket_width == 0 || format.pocket_height == 0;
    let mut words = Vec::new();
    if formats.iter().any(is_unknown) {
        words.push(
            "The size of some pockets is not known, so whether cards fit them is not either".into(),
        );
    }
    for misfit in misfits {
        words.push(misfit.words());
        let may_turn = matches!(misfit.play, Play::TooLarge(..))
            && misfit.card.width > misfit.card.height
            && misfit.format.pocket_height > misfit.format.pocket_width;
        if may_turn {
            words.push("It is wider than high: it may go in turned by a quarter".into());
        }
    }
    if misfits.is_empty() && formats.iter().any(|format| !is_unknown(format)) {
        let known = match formats.iter().any(is_unknown) {
            true => "Every card fits the pocket of a known size that is meant for it",
            false => "Every card fits the pocket that is meant for it",
        };
        words.push(known.into());
    }
    words
}

impl Split {
    /// `pages 1 to 17 (22 mm) and pages 18 to 34 (21.9 mm)`.
    #[must_use]
    pub fn words(&self, pages: usize) -> String {
        let range = |from: usize, to: usize| {
            if from == to {
                format!("page {from}")
            } else {
                format!("pages {from} to {to}")
            }
        };
        let (first, second) = self.thickness;
        format!(
            "{} ({} mm) and {} ({} mm)",
            range(1, self.at),
            millimetres(first),
            range(self.at + 1, pages),
            millimetres(second)
        )
    }
}

impl Misfit {
    /// `3x3 pages, from page 1 on: 263 cards of 63.5 x 88.9 mm are too large for the pocket by 1.5 x
    /// 0.9 mm`.
    #[must_use]
    pub fn words(&self) -> String {
        let cards = count(self.pockets as u64, "card", "cards");
        let are = if self.pockets == 1 { "is" } else { "are" };
        let how = match self.play {
            Play::TooLarge(width, 0) => {
                format!("{are} too wide for the pocket by {} mm", tenths(width))
            }
            Play::TooLarge(0, height) => {
                format!("{are} too high for the pocket by {} mm", tenths(height))
            }
            Play::TooLarge(width, height) => format!(
                "{are} too large for the pocket by {} x {} mm",
                tenths(width),
                tenths(height)
            ),
            Play::Tight => format!("{are} tight in the pocket"),
            Play::Loose => format!("{are} loose in the pocket"),
            Play::Fits => format!(
                "{} the pocket",
                if self.pockets == 1 { "fits" } else { "fit" }
            ),
            Play::Unknown => "in pockets of unknown size".into(),
        };
        format!(
            "{} pages, from page {} on: {cards} of {} x {} mm {how}",
            grid_word(&self.format),
            self.page + 1,
            tenths(self.card.width),
            tenths(self.card.height)
        )
    }
}

/// Where the pockets of a page need a wider or higher binder than paper does. `None` where the
/// page is no larger than A4, or its pockets' size is not known.
#[must_use]
pub fn sheet_words(format: PageFormat) -> Option<String> {
    if format.pocket_width == 0 || format.pocket_height == 0 {
        return None;
    }
    let a4 = PaperFormat::USUAL[0];
    let left = page_on_sheet(format, a4);
    if left.is_some_and(LeftOfSheet::takes_holes) {
        return None;
    }
    let width = u32::from(format.columns) * u32::from(format.pocket_width);
    let height = u32::from(format.rows) * u32::from(format.pocket_height);
    let why = match left {
        Some(left) => format!(
            "A4 leaves {} mm for the holes, which need {}",
            tenths(left.width),
            tenths(FOR_HOLES)
        ),
        None => "larger than A4".into(),
    };
    Some(format!(
        "The pockets of a {} page take {} x {} mm, {why}: it needs a binder of more than A4.",
        grid_word(&format),
        tenths(width),
        tenths(height)
    ))
}
