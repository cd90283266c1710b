//! Whether the terminal is light, asked of the terminal itself.

use terminal_colorsaurus::{QueryOptions, ThemeMode, theme_mode};

/// Asks the terminal for its colours (OSC 10 and 11), before anything else reads from it. `None`
/// where it does not tell.
///
/// A terminal that does not know the question answers the one behind it (ECMA-48, DA), which all
/// do, so there is no waiting for it. One that is silent altogether is given a second: an answer
/// that comes after that would be taken for keys.
#[must_use]
pub fn is_light() -> Option<bool> {
    let mode = theme_mode(QueryOptions::default()).ok()?;
    Some(mode == ThemeMode::Light)
}
