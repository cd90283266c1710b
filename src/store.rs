//! Files: the snapshot, the journal of changes since, the lock; import and export.

pub mod csv;
