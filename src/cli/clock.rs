//! The present time.

use crate::session::Clock;

/// The present time for what is kept.
pub(super) fn clock() -> Clock {
    // Whole seconds tell enough, and read better.
    let second = || jiff::Timestamp::from_second(jiff::Timestamp::now().as_second());
    Box::new(move || second().unwrap_or_default().to_string())
}
