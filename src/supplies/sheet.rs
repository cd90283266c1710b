//! Paper sizes and the holes for filing, and what of it a page of pockets needs.

use crate::model::PageFormat;

/// A sheet by name; width and height in tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PaperFormat {
    pub name: &'static str,
    pub width: u32,
    pub height: u32,
}

impl PaperFormat {
    /// ISO 216:2007.
    pub const A4: Self = Self::new("A4", 2100, 2970);
    /// ISO 216:2007.
    pub const A5: Self = Self::new("A5", 1480, 2100);
    /// 8.5 x 11 inches, an inch being 25.4 mm: ANSI/ASME Y14.1.
    pub const LETTER: Self = Self::new("Letter", 2159, 2794);

    pub const USUAL: [Self; 3] = [Self::A4, Self::LETTER, Self::A5];

    const fn new(name: &'static str, width: u32, height: u32) -> Self {
        Self {
            name,
            width,
            height,
        }
    }
}

/// From the edge to the middle of a filing hole, in tenths of a millimetre: 12 mm. Half of a hole
/// is 3 mm wide. ISO 838:1974.
const EDGE_TO_HOLE: u32 = 120;
const HALF_HOLE: u32 = 30;

/// The width that filing holes need, in tenths of a millimetre: to their middle and beyond.
pub(super) const FOR_HOLES: u32 = EDGE_TO_HOLE + HALF_HOLE;

/// What the pockets of a page leave of a sheet, in tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct LeftOfSheet {
    /// For the holes.
    pub width: u32,
    pub height: u32,
}

impl LeftOfSheet {
    #[must_use]
    pub(super) fn takes_holes(self) -> bool {
        self.width >= FOR_HOLES
    }
}

/// `None` where the pockets of the page are larger than the sheet, or their size is not known.
#[must_use]
pub(super) fn page_on_sheet(format: PageFormat, sheet: PaperFormat) -> Option<LeftOfSheet> {
    if format.pocket_width == 0 || format.pocket_height == 0 {
        return None;
    }
    let width = u32::from(format.columns) * u32::from(format.pocket_width);
    let height = u32::from(format.rows) * u32::from(format.pocket_height);
    Some(LeftOfSheet {
        width: sheet.width.checked_sub(width)?,
        height: sheet.height.checked_sub(height)?,
    })
}
