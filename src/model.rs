//! What is collected and where it lies: sets, cards, printings, copies, binders, pages, pockets.
//!
//! [`Collection`] is the whole of it as one value. It is altered by [`Change`]s only, each of
//! which can be undone by its [`Change::inverse`].

mod apply;
mod binder;
mod build;
mod change;
mod check;
mod collection;
mod count;
mod format;
mod id;
mod pocket;
#[cfg(test)]
pub(crate) mod random;
mod refused;
mod set;
mod tally;
#[cfg(test)]
mod tests;

/// What the model takes, for those who want to say so before a change is made.
pub(crate) use apply::ensure::{ensure_finish_name, ensure_text, ensure_word};

pub use binder::{
    Binder, BinderKind, BinderSpec, Draft, Layout, LayoutPage, Meaning, Page, RingShape, Rules,
};
pub use build::{Builder, PageParts, SetParts};
pub use change::{Change, Step};
pub use check::Broken;
pub use collection::Collection;
pub use format::{Opening, PageFormat, PocketAt, Side};
pub use id::{BinderId, PageId, PrintingId, SetId};
pub use pocket::{PagePlace, Place, PocketState};
pub use refused::Refused;
pub use set::{Card, CardSize, Finish, Set, SetHead, limits};
pub use tally::{BinderTally, Tally};
