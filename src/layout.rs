//! Layouts made from rules: the default one, a run for each finish; and page formats in words.

mod run;
mod words;

pub use run::{by_finish, run, split_by_finish};
pub use words::{
    UsualFormat, WordsError, default_format, describe, grid_word, parse_grid, parse_pocket,
    usual_formats,
};
