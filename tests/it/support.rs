//! What several tests share.

pub(crate) mod changes;
pub(crate) mod dice;
pub(crate) mod world;
