//! Whether the terminal is light, asked of the terminal itself.

use std::time::Duration;

use crossterm::event;
use crossterm::terminal::{disable_raw_mode, enable_raw_mode};
use terminal_colorsaurus::{QueryOptions, ThemeMode, theme_mode};

/// Asks the terminal for its colours (OSC 10 and 11), before anything else reads from it. `None`
/// where it does not tell, or where keys wait already: what reads the answer would take them.
///
/// A terminal that does not know the question answers the one behind it (ECMA-48, DA), which all
/// do, so there is no waiting for it. One that is silent altogether is given a second: an answer
/// that comes after that would be taken for keys.
#[must_use]
pub fn is_light() -> Option<bool> {
    // Line by line a key that was pressed would not be seen.
    enable_raw_mode().ok()?;
    let keys_wait = event::poll(Duration::ZERO).unwrap_or(true);
    let mode = (!keys_wait).then(|| theme_mode(QueryOptions::default()).ok());
    disable_raw_mode().ok()?;
    Some(mode?? == ThemeMode::Light)
}
