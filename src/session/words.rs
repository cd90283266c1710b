//! What is told of files in the same words on the screen and by commands.

use std::{fmt, io};

/// That a file cannot be read, and why.
#[must_use]
pub fn cannot_read(file: impl fmt::Display, e: &io::Error) -> String {
    match e.kind() {
        io::ErrorKind::NotFound => format!("there is no file {file}"),
        io::ErrorKind::IsADirectory => format!("{file} is a folder, no file"),
        _ => format!("could not read {file}: {e}"),
    }
}
