//! Arguments of the settings, and of what they may say too.

use std::path::PathBuf;

use clap::Args;
use clap::builder::{OsStringValueParser, TypedValueParser};

use super::choice::choice;
use crate::settings::{Palette, PictureMode};
use crate::text::{Choice, meant};

/// A path; an empty one is none, as in the environment.
pub(super) fn path() -> impl TypedValueParser<Value = PathBuf> {
    OsStringValueParser::new().map(PathBuf::from)
}

/// The colours of a word, on the command line or in the environment.
pub(in crate::cli) fn colours(word: &str) -> Result<Palette, String> {
    Palette::of_word(word).ok_or_else(|| {
        let words = Palette::words();
        let near = meant(word, words.iter().copied()).unwrap_or_default();
        format!("write {}{near}", words.join(", "))
    })
}

/// How pictures are shown.
pub(super) fn pictures() -> impl TypedValueParser<Value = PictureMode> {
    choice(|mode| match mode {
        PictureMode::Auto => "As the terminal can",
        PictureMode::Off => "Not at all",
        PictureMode::Blocks => "Two points of colour in each cell",
        PictureMode::Kitty => "By the graphics protocol of kitty",
        PictureMode::Sixel => "By sixels",
        PictureMode::Iterm2 => "By the inline images of iTerm2",
    })
}

#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  ringbound settings                           the path, and what differs from what is built in
  ringbound settings --example                 a file with every entry, with comments
  ringbound --settings other.toml settings     is this file right?

The file holds keys, colours, signs, and what is usual for you: paper, currency, finishes. Keep in
it only what you change. An option goes before the environment, and that before the file. With a
file that cannot be taken nothing is begun, but check and recover, and each wrong line is told.")]
pub struct SettingsArgs {
    /// Write a file with every entry as it is built in, with comments
    #[arg(long)]
    pub example: bool,
}
