//! Words as a person and a terminal take them: natural order, harmless text, columns.

mod choice;
mod count;
mod joined;
mod natural;
mod near;
mod safe;
mod sentence;
mod tenths;
mod width;

pub use choice::Choice;
pub use count::count;
pub use joined::{all_of, one_of};
pub use natural::natural_cmp;
pub use near::{hint, meant, nearest};
pub use safe::safe;
pub use sentence::sentence;
pub use tenths::{parse_tenths, tenths};
pub use width::{columns, fit, hyphenated, pad, wrap};
