//! Everything that is tested from outside, in one program: one link, one start.

mod layers;
mod pty;
mod quantities;
mod scene;
mod ui_deeds;
mod ui_pictures;
mod ui_robust;
mod ui_terminal;
