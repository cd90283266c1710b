//! Page formats as text, lengths in millimetres, and the sides of a page.

use serde::de::{Deserializer, Error};
use serde::{Deserialize, Serialize, Serializer};

use crate::model::{Opening, PageFormat, Side};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(in crate::store) enum SideText {
    Front,
    Back,
}

impl From<Side> for SideText {
    fn from(side: Side) -> Self {
        match side {
            Side::Front => Self::Front,
            Side::Back => Self::Back,
        }
    }
}

impl From<SideText> for Side {
    fn from(side: SideText) -> Self {
        match side {
            SideText::Front => Self::Front,
            SideText::Back => Self::Back,
        }
    }
}

/// What is usual is left out: one pocket a place, open at the side, of unknown size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct FormatText {
    rows: u8,
    columns: u8,
    sides: u8,
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    shared: bool,
    #[serde(default, skip_serializing_if = "OpeningText::is_side")]
    opening: OpeningText,
    /// Inner width and height.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pocket: Option<(Tenths, Tenths)>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum OpeningText {
    Top,
    #[default]
    Side,
}

impl OpeningText {
    fn is_side(&self) -> bool {
        *self == Self::Side
    }
}

impl From<PageFormat> for FormatText {
    fn from(format: PageFormat) -> Self {
        let (width, height) = (format.pocket_width, format.pocket_height);
        Self {
            rows: format.rows,
            columns: format.columns,
            sides: format.sides,
            shared: format.shared,
            opening: match format.opening {
                Opening::Top => OpeningText::Top,
                Opening::Side => OpeningText::Side,
            },
            pocket: ((width, height) != (0, 0))
                .then_some((Tenths(width.into()), Tenths(height.into()))),
        }
    }
}

impl FormatText {
    /// # Errors
    /// Says what is not possible in it.
    pub(in crate::store) fn format(self) -> Result<PageFormat, String> {
        let (width, height) = self.pocket.unwrap_or_default();
        let length = |tenths: Tenths| u16::try_from(tenths.0).map_err(|_| "a pocket too large");
        let format = PageFormat {
            rows: self.rows,
            columns: self.columns,
            sides: self.sides,
            shared: self.shared,
            opening: match self.opening {
                OpeningText::Top => Opening::Top,
                OpeningText::Side => Opening::Side,
            },
            pocket_width: length(width)?,
            pocket_height: length(height)?,
        };
        if format.is_possible() {
            Ok(format)
        } else {
            Err(format!(
                "a page has 1 to {} rows and columns and 1 or 2 sides",
                PageFormat::MOST
            ))
        }
    }
}

/// Tenths of a millimetre, written in millimetres: 635 is `63.5`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::store) struct Tenths(pub(in crate::store) u32);

impl Serialize for Tenths {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        if self.0.is_multiple_of(10) {
            to.serialize_u32(self.0 / 10)
        } else {
            to.serialize_f64(f64::from(self.0) / 10.0)
        }
    }
}

impl<'de> Deserialize<'de> for Tenths {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let tenths = f64::deserialize(from)? * 10.0;
        let rounded = tenths.round();
        let fits = (0.0..=f64::from(u32::MAX)).contains(&rounded);
        if !fits || (tenths - rounded).abs() > 1e-3 {
            return Err(D::Error::custom(
                "a length in millimetres with at most one decimal expected",
            ));
        }
        // Whole and in range, as just seen.
        Ok(Self(rounded as u32))
    }
}
