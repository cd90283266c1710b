//! What hands do at an open binder, as steps; on the real binder, or on a draft of it.
//!
//! Each function says by its result whether the deed can be done here, so that a screen offers
//! only what is possible, and why not, where a person asks for it all the same.
//!
//! On the real binder contents and meaning go together: a card that is carried to another pocket
//! takes its meaning with it, and nothing becomes misplaced. In a draft only meanings move.

mod cards;
mod draft;
mod ground;
mod order;
mod pages;
mod pocket;
mod shape;

pub use cards::{Manner, Put, put_down};
pub use draft::{adopt, begin_draft, copy_draft, drop_draft, rename_draft};
pub use ground::{Ground, Unit};
pub use order::{SortBy, gather, reverse, sort};
pub use pages::{PageMove, move_pages};
pub use pocket::{acquire, part_with, put, subject, take};
pub use shape::{
    blank, change_format, clear, fill, insert_page, keepsake, leave_room, remove_page,
};

/// Why a deed is not possible here, in words for a person.
pub type Cannot = &'static str;
