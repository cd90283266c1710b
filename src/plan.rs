//! From what lies in the binders to what should lie there, with the least handling.

pub mod assign;
mod becomes;
mod chain;
mod cost;
mod equal;
mod keep;
pub mod overlap;
pub mod task;
#[cfg(test)]
mod tests;

pub use cost::{Cost, cost};
