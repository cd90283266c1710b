//! What the rings of a binder take.

use crate::model::{BinderKind, RingShape};
use crate::text::Choice;

/// Why the numbers are only a guide. To be said wherever they are told.
pub const WEAK: &str = "What rings hold is an estimate; measure yours and say it with --depth.";

/// Sizes in which ring binders are usually sold, in millimetres. Common practice, no source.
pub(super) const USUAL_RINGS: [u16; 8] = [16, 20, 25, 30, 40, 50, 60, 75];

/// Rings by size in millimetres and shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rings {
    pub size: u16,
    pub shape: RingShape,
}

/// Words that are no rings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("write the rings' size in mm, 1 to 300, and shape: 40 D or 30 round")]
pub struct RingsError;

impl Rings {
    /// Those of a binder, if it has any and their size is known.
    #[must_use]
    pub fn of(kind: BinderKind) -> Option<Self> {
        match kind {
            BinderKind::Rings { size, shape } if size > 0 => Some(Self { size, shape }),
            _ => None,
        }
    }

    #[must_use]
    pub fn kind(self) -> BinderKind {
        BinderKind::Rings {
            size: self.size,
            shape: self.shape,
        }
    }

    /// Reads `40 D`, `40D`, `30 round`, `30 mm round`.
    ///
    /// # Errors
    /// Not of this form.
    pub fn parse(words: &str) -> Result<Self, RingsError> {
        let words = words.trim();
        let end = words.bytes().take_while(u8::is_ascii_digit).count();
        let (size, rest) = words.split_at(end);
        let rest = rest.trim().to_lowercase();
        let shape = match rest.trim_start_matches("mm").trim() {
            "o" => Some(RingShape::Round),
            word => (RingShape::WORDS.iter())
                .find(|(known, _)| known.eq_ignore_ascii_case(word))
                .map(|(_, shape)| *shape),
        };
        let shape = shape.ok_or(RingsError)?;
        let size = size.parse().ok().filter(|size| (1..=300).contains(size));
        let size = size.ok_or(RingsError)?;
        Ok(Self { size, shape })
    }

    /// What [`Rings::parse`] reads.
    #[must_use]
    pub fn word(self) -> String {
        format!("{} {}", self.size, self.shape.word())
    }
}

/// The stack of pages that a binder takes, in micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// With this much it closes and the pages turn easily.
    pub sure: u32,
    /// With more it does not close.
    pub most: u32,
}

impl Room {
    /// What the collector has measured.
    #[must_use]
    pub fn measured(usable: u32) -> Self {
        Self {
            sure: usable,
            most: usable,
        }
    }
}

/// What rings of this size take, as far as can be said.
///
/// The pages of a closed binder lie along the width of the ring, so a round ring takes at most its
/// size. A D ring takes "up to 25 % more than a round ring of the same size": one article of the
/// trade, no standard. No table of sheets could be verified. A fifth of that is left free so that
/// pages turn: common practice, no source. The size itself is taken as the maker gives it.
#[must_use]
pub fn room(rings: Rings) -> Room {
    let round = u32::from(rings.size) * 1_000;
    let most = match rings.shape {
        RingShape::Round => round,
        RingShape::D => round / 4 * 5,
    };
    Room {
        sure: most / 5 * 4,
        most,
    }
}
