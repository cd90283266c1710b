//! What several tests share.

pub(crate) mod changes;
pub(crate) mod dice;
pub(crate) mod kept;
pub(crate) mod world;
