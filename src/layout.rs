//! Layouts made from rules: the default one, a run for each finish; sections, as the collector
//! writes them; and page formats in words.
//!
//! ```text
//!   section    one rule: read, written     template   lists of them to begin from
//!   pick       the cards that it picks, in its order
//!   gather     who has which card, and what is told          told
//!   lay_out    all of it: from rules to pages
//!   pour       items into pockets, section after section
//!   by_hand    what a hand did to pages since (align: which page is which)
//!   renew      pages made anew with that; what becomes of them when the set grows
//!   later      which cards a later list brought, and where they were put
//!   run        the default layout                            words   page formats
//! ```
//!
//! A layout keeps its rules as lines of text, which name finishes and rarities in words: so the
//! same list serves another set, and reads in the file as on the screen.

mod align;
mod by_hand;
mod gather;
mod later;
mod lay_out;
mod pick;
mod pour;
mod renew;
mod run;
mod section;
mod template;
#[cfg(test)]
mod tests;
mod told;
mod words;

pub use by_hand::ByHand;
pub use lay_out::{Filled, LaidOut, lay_out};
pub use renew::{Growth, Renewed, followed, growth, renew};
pub use run::{by_finish, run, split_by_finish};
pub use section::{Begin, Order, Pick, Room, Section, SectionError, Size, What, recoded};
pub use template::{Template, template_by_name, templates, usual_page};
pub use told::{Never, Told};
pub use words::{WordsError, default_format, describe, grid_word, parse_grid, parse_pocket};
