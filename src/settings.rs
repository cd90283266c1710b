//! What a person has set for good: the one file with keys, colours, signs and what is usual.
//!
//! Text in, settings or errors out. Where the file lies, and what stands above it (options and the
//! environment), is known at the edge. What keys and roles there are comes in as [`Known`], so
//! that nothing here knows a screen.
//!
//! ```text
//!   text ▸ toml ▸ entries (plain values) ─┐
//!               ▸ paint   (colours, signs)├▸ Settings, or every error with its line
//!               ▸ keys    (verbs, by place)┘
//! ```

mod colour;
mod entries;
mod example;
mod keys;
mod known;
mod line;
mod paint;
mod read;
mod value;

use std::collections::BTreeMap;
use std::fmt;

use crate::intake::BinderOptions;
use crate::model::{BinderKind, Opening, PageFormat};
use crate::paper::Turn;
use crate::plan::Working;
use crate::supplies::{Currency, Sleeves};
use crate::text::Choice;

pub use colour::{Colour, NAMED};
pub use entries::SIDES;
pub use example::{changed, example};
pub use known::{Known, Place, Role, Sign, Verb};
pub use read::{MOST_BYTES, read};

/// The colours of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Palette {
    /// For a dark or a light background, as far as the terminal says which it has; else dark.
    #[default]
    Auto,
    Dark,
    Light,
    None,
}

impl Choice for Palette {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("auto", Self::Auto),
        ("dark", Self::Dark),
        ("light", Self::Light),
        ("none", Self::None),
    ];
}

/// How pictures of cards are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PictureMode {
    /// As the terminal can, by asking it; not at all where it has neither pictures nor colours.
    #[default]
    Auto,
    Off,
    /// Two points of colour in each cell.
    Blocks,
    Kitty,
    Sixel,
    Iterm2,
}

impl Choice for PictureMode {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("auto", Self::Auto),
        ("off", Self::Off),
        ("blocks", Self::Blocks),
        ("kitty", Self::Kitty),
        ("sixel", Self::Sixel),
        ("iterm2", Self::Iterm2),
    ];
}

/// Everything that can be set. The default is what holds without a file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    pub screen: Screen,
    pub collecting: Collecting,
    pub paper: Paper,
    pub supplies: Supplies,
    pub log: Log,
    /// Roles with a colour of their own, by their words in [`Known`].
    pub colours: BTreeMap<String, Colour>,
    /// Signs other than the built-in ones, likewise.
    pub signs: BTreeMap<String, Vec<String>>,
    /// Verbs with other keys than the built-in ones, by place and verb.
    pub keys: BTreeMap<(String, String), Vec<String>>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Screen {
    pub palette: Palette,
    /// `None` is for what the locale says.
    pub ascii: Option<bool>,
    pub mouse: bool,
    pub pictures: PictureMode,
}

impl Default for Screen {
    fn default() -> Self {
        Self {
            palette: Palette::Auto,
            ascii: None,
            mouse: true,
            pictures: PictureMode::Auto,
        }
    }
}

/// What is usual for a new set, a list, a stack and the work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Collecting {
    /// Of a set that is begun with a phrase which names none.
    pub finishes: Vec<Box<str>>,
    /// Rows and columns of a page.
    pub page: (u8, u8),
    /// Sides of a page that are loaded: 1 or 2.
    pub sides: u8,
    pub opening: Opening,
    /// Pages are bound in.
    pub fixed: bool,
    /// Spare copies of each card that are kept.
    pub keep: u32,
    /// Heaps that the table has room for.
    pub heaps: u32,
    pub working: Working,
}

impl Collecting {
    /// The binder of a new set.
    #[must_use]
    pub fn binder(&self) -> BinderOptions {
        let (rows, columns) = self.page;
        BinderOptions {
            format: PageFormat {
                opening: self.opening,
                ..PageFormat::new(rows, columns, self.sides)
            },
            kind: match self.fixed {
                true => BinderKind::Fixed,
                false => BinderKind::RINGS,
            },
        }
    }
}

impl Default for Collecting {
    fn default() -> Self {
        Self {
            finishes: vec!["regular".into()],
            page: (3, 3),
            sides: 2,
            opening: Opening::Side,
            fixed: false,
            keep: 0,
            heaps: 6,
            working: Working::TwoPasses,
        }
    }
}

/// Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// As `--paper` takes it.
    pub size: Box<str>,
    pub label_margin: f64,
    pub label_foot: f64,
    /// How the title of a label runs.
    pub label_reading: Turn,
}

impl Default for Paper {
    fn default() -> Self {
        Self {
            size: "a4".into(),
            label_margin: 2.0,
            label_foot: 30.0,
            label_reading: Turn::Down,
        }
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Supplies {
    /// Of prices that name none.
    pub currency: Option<Currency>,
    pub sleeves: Sleeves,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    /// Where what is done is written down; empty for nowhere.
    pub file: Box<str>,
}

/// Something in the file that is not taken, with what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct SettingsError {
    /// From 1.
    pub line: usize,
    pub why: String,
}

impl fmt::Display for SettingsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.why)
    }
}

#[cfg(test)]
mod tests;
