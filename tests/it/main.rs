//! Everything that is tested from outside, in one program: one link, one start.

mod layers;
mod quantities;
