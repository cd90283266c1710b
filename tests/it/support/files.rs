//! File systems to put under a collection: one in memory, and one that is watched and fails where
//! a test wants it to.

mod in_memory;
mod watched;

pub(crate) use in_memory::InMemory;
pub(crate) use watched::{Op, Watched};
