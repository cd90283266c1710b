//! What is bought, and how a price list names it.

use super::rings::Rings;
use crate::layout::parse_grid;
use crate::model::{CardSize, PageFormat};
use crate::text::{parse_tenths, tenths};

/// A page as it is sold: its grid, and whether front and back have pockets of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PageKind {
    pub rows: u8,
    pub columns: u8,
    /// A layer in the middle: twice as many pockets. Without it a page is clear, and takes one
    /// card at a place, seen from both sides, or two back to back.
    pub backed: bool,
}

impl PageKind {
    /// The page that serves for a format: a backed one where front and back are loaded apart, else
    /// a clear one.
    #[must_use]
    pub fn of(format: PageFormat) -> Self {
        Self {
            rows: format.rows,
            columns: format.columns,
            backed: format.sides == 2 && !format.shared,
        }
    }

    #[must_use]
    pub fn pockets(self) -> u32 {
        u32::from(self.rows) * u32::from(self.columns) * if self.backed { 2 } else { 1 }
    }

    fn word(self) -> String {
        let kind = if self.backed { "backed" } else { "clear" };
        format!("{}x{} {kind}", self.rows, self.columns)
    }

    fn parse(words: &str) -> Option<Self> {
        let (grid, kind) = words.trim().rsplit_once(' ')?;
        let (rows, columns) = parse_grid(grid).ok()?;
        let backed = match kind {
            "clear" => false,
            "backed" => true,
            _ => return None,
        };
        Some(Self {
            rows,
            columns,
            backed,
        })
    }
}

/// Which of two sleeves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    Outer,
    Inner,
}

/// A thing that is bought in packs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Item {
    Page(PageKind),
    RingBinder(Rings),
    FixedBinder {
        pages: u16,
        page: PageKind,
    },
    Sleeve {
        layer: Layer,
        /// Width and height of the cards it is for, in tenths of a millimetre; `None` for those of
        /// usual size.
        size: Option<(u32, u32)>,
    },
}

/// Words that name no item; says which column, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{why}")]
pub struct ItemError {
    pub column: &'static str,
    pub why: String,
}

impl Item {
    /// A sleeve for cards of this size.
    #[must_use]
    pub fn sleeve(layer: Layer, size: Option<CardSize>) -> Self {
        let size = size.map(|size| (size.width, size.height));
        Self::Sleeve { layer, size }
    }

    /// What stands in the column `item` of a price list.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Page(_) => "page",
            Self::RingBinder(_) => "ring binder",
            Self::FixedBinder { .. } => "fixed binder",
            Self::Sleeve {
                layer: Layer::Outer,
                ..
            } => "sleeve",
            Self::Sleeve {
                layer: Layer::Inner,
                ..
            } => "inner sleeve",
        }
    }

    /// What stands in the column `size`.
    #[must_use]
    pub fn size(&self) -> String {
        match self {
            Self::Page(page) => page.word(),
            Self::RingBinder(rings) => rings.word(),
            Self::FixedBinder { pages, page } => format!("{pages} {}", page.word()),
            Self::Sleeve { size: None, .. } => String::new(),
            Self::Sleeve {
                size: Some((width, height)),
                ..
            } => format!("{}x{}", tenths(*width), tenths(*height)),
        }
    }

    /// Both, as a person tells it.
    #[must_use]
    pub fn words(&self) -> String {
        match self.size() {
            size if size.is_empty() => self.word().into(),
            size => format!("{} {size}", self.word()),
        }
    }

    /// Reads what [`Item::words`] writes.
    ///
    /// # Errors
    /// No such item, or a size that it does not have.
    pub fn read(words: &str) -> Result<Self, ItemError> {
        let words = words.trim();
        let named = [
            "ring binder",
            "fixed binder",
            "inner sleeve",
            "page",
            "sleeve",
        ];
        let named = named.iter().find_map(|item| {
            let (begin, size) = words.split_at_checked(item.len())?;
            let ends = size.is_empty() || size.starts_with(' ');
            (ends && begin.eq_ignore_ascii_case(item)).then_some((begin, size))
        });
        let (item, size) = named.unwrap_or((words, ""));
        Self::parse(item, size)
    }

    /// Reads what [`Item::word`] and [`Item::size`] write.
    ///
    /// # Errors
    /// No such item, or a size that it does not have.
    pub fn parse(item: &str, size: &str) -> Result<Self, ItemError> {
        let (item, size) = (item.trim().to_lowercase(), size.trim().to_lowercase());
        let wrong = |right: &str| ItemError {
            column: "size",
            why: format!("“{size}” is no size of a {item}; write {right}"),
        };
        match item.as_str() {
            "page" => PageKind::parse(&size)
                .map(Self::Page)
                .ok_or_else(|| wrong("rows x columns and clear or backed: 3x3 backed, 2x2 clear")),
            "ring binder" => Rings::parse(&size)
                .map(Self::RingBinder)
                .map_err(|_| wrong("its size in millimetres and its shape: 40 D, 30 round")),
            "fixed binder" => {
                let split = size.split_once(' ');
                let read = split.and_then(|(pages, page)| {
                    let pages = pages.parse().ok().filter(|pages| *pages > 0)?;
                    let page = PageKind::parse(page)?;
                    Some(Self::FixedBinder { pages, page })
                });
                read.ok_or_else(|| wrong("its pages and their kind: 20 3x3 backed"))
            }
            "sleeve" | "inner sleeve" => {
                let layer = match item.as_str() {
                    "sleeve" => Layer::Outer,
                    _ => Layer::Inner,
                };
                if size.is_empty() {
                    return Ok(Self::Sleeve { layer, size: None });
                }
                let length = |text: &str| parse_tenths(text.trim()).filter(|tenths| *tenths > 0);
                let read = size.split_once(['x', '×']);
                let read = read.and_then(|(width, height)| length(width).zip(length(height)));
                let read = read.map(|size| Self::Sleeve {
                    layer,
                    size: Some(size),
                });
                read.ok_or_else(|| {
                    wrong("the cards it is for, in millimetres: 130x180; nothing for usual cards")
                })
            }
            _ => Err(ItemError {
                column: "item",
                why: format!(
                    "“{item}” is no item; write page, ring binder, fixed binder, sleeve or inner \
                     sleeve"
                ),
            }),
        }
    }
}
