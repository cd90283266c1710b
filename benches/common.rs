//! What the benches share.

pub(crate) mod collection;
pub(crate) mod pty;
pub(crate) mod random;
pub(crate) mod scipy;
pub(crate) mod shown;
pub(crate) mod sqlite;
pub(crate) mod table;
