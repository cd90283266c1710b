//! Everything that is tested from outside, in one program: one link, one start.

// What helps the tests may panic as they do.
#![allow(clippy::unwrap_used)]

mod cli_answers;
mod cli_files;
mod cli_import;
mod layers;
mod plan;
mod pty;
mod quantities;
mod scene;
mod support;
mod ui_deeds;
mod ui_pictures;
mod ui_robust;
mod ui_terminal;
