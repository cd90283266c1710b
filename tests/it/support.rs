//! What several tests share.

pub(crate) mod changes;
pub(crate) mod dice;
pub(crate) mod drafts;
pub(crate) mod files;
pub(crate) mod heath;
pub(crate) mod kept;
pub(crate) mod mutate;
pub(crate) mod pdf;
pub(crate) mod picture;
pub(crate) mod power;
pub(crate) mod script;
pub(crate) mod table;
pub(crate) mod world;

pub(crate) use table::{FEN, Table};
