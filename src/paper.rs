//! Labels, lists and sheets on paper, at true size: as PDF, SVG, plain text and Markdown.
//!
//! ```text
//!   collection, answers          ▸ labels, pockets, page ─────┐
//!   collection, answers ▸ lists, work ▸ Listing ▸ pages ──────┤▸ Drawing ▸ pdf, svg, png
//!                                         └▸ text, markdown   (each thing at its place, in mm)
//! ```
//!
//! Nothing here reads or writes a file: fonts and pictures come in as bytes, documents go out as
//! bytes. Words are measured with the fonts that are embedded, so what fits here fits on paper.

mod document;
mod drawing;
mod fit;
mod font;
mod labels;
mod listing;
mod lists;
mod marks;
mod measure;
mod number;
mod page;
mod pdf;
mod picture;
mod pile;
mod pockets;
mod shopping;
mod svg;
mod swap;
mod work;

pub use document::{Document, DocumentError, Format, PNG_DOTS, Written, numbered};
pub use drawing::{Drawing, Item, Part, Pen, Sheet, Turn};
pub use font::{FontError, FontId, Fonts, Run, Weight};
pub use labels::{LabelError, LabelLook, Spine, USUAL_SPINE, labels};
pub use listing::{Align, BOX, Block, Listing, Table, Tick};
pub use lists::{index, spares_list, wants_list};
pub use measure::{Area, PAPERS, POINTS_PER_MM, Size, SizeError, mm, parse_card, parse_paper};
pub use page::{PageView, page_picture};
pub use pdf::{PdfError, pdf};
pub use picture::{Picture, PictureError};
pub use pile::{pile_passes, pile_sheet};
pub use pockets::{CardError, StandIn, pocket_cards, stand_ins};
pub use shopping::basket_list;
pub use svg::svg;
pub use swap::swap_sheet;
pub use work::{Names, ReadBy, Ways, collection_sheet, work_sheet};

/// A dashed line: so long a dash, so long a space, in millimetres.
const DASHES: (f64, f64) = (1.5, 1.0);
