//! What the layouts take of pages, binders and sleeves, whether it fits, and what it costs.
//!
//! ```text
//!   item      what is bought: a page, a ring binder, a binder with fixed pages, a sleeve
//!   sheet     paper, pages on it, holes                rings      what a ring takes
//!   pocket    does a sleeved card fit a pocket        thickness  of a page with its cards
//!                    └───────────────┬──────────────────┘
//!                         fit    does a binder close      split   a set over two binders
//!                         needs  from all layouts and drafts, against what is there
//!   money     minor units of any currency   prices  the list that the collector keeps
//!   packs     the cheapest packs, exactly   basket  what to buy     ways  this way or that way
//!   care      the usual caution, a line each      words  what is told of rings and pockets
//! ```
//!
//! Lengths are tenths of a millimetre where cards and pockets are meant, and micrometres where
//! films and stacks are. Everything in whole numbers: 266.7 / 88.9 is 3, which binary fractions
//! miss.

mod basket;
mod care;
mod fit;
mod item;
mod money;
mod needs;
mod packs;
mod pocket;
mod prices;
mod rings;
mod sheet;
mod split;
mod thickness;
mod ways;
mod words;

pub use basket::{Basket, Line, basket};
pub use care::{Care, care, grams};
pub use fit::{Fit, Share, Verdict, fit, fit_together, shares};
pub use item::{Item, ItemError, Layer, PageKind};
pub use money::{Currency, Money};
pub use needs::{Choice, Need, Needs, needs};
pub use packs::{MOST_NEED, Offer, OrderSum, Purchase, cheapest, order_sum};
pub use pocket::{
    Misfit, Play, Sleeve, SleeveOpening, formats, misfits, opening_words, play, sleeve_words,
};
pub use prices::{PriceError, PriceList, PriceRow};
pub use rings::{Rings, RingsError, Room, WEAK, room};
pub use sheet::PaperFormat;
pub use split::{Split, Splits, binders, splits};
pub use thickness::{
    LayoutOf, Sleeves, Thickness, millimetres, millimetres_in_column, parse_micrometres, sheets,
};
pub use ways::{Housing, HousingKind, Question, ways};
pub use words::{pockets_words, sheet_words};

#[cfg(test)]
mod tests;
