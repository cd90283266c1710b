//! The journal: one JSON object a line.
//!
//! The first line is the header; it says after which record the journal begins. Lines of steps
//! carried over from an earlier journal may follow, so that undo reaches back over a new
//! snapshot; the header counts and sums them up. Then the records:
//!
//! ```text
//!   {"seq":12,"prev":"<sum of record 11>","at":"…","do":{"label":"…","changes":[…]},"sum":"…"}
//!   {"seq":13,"prev":"<sum of record 12>","at":"…","undo":12,"sum":"…"}
//! ```
//!
//! `sum` is the CRC-32 of the line's bytes before `,"sum":`, in eight lowercase hex digits.

mod lines;
mod parse;

pub(super) use lines::{begin, record};
pub(super) use parse::{Bad, Header, Journal, Record, Step, What, parse};

/// What a journal's header calls its format.
const FORMAT: &str = "ringbound-journal";
/// The one version there is.
const VERSION: u64 = 1;
/// Before it, a line is what its checksum is taken of.
const SUM: &str = ",\"sum\":\"";
