//! What hands do at an open binder, as steps; on the real binder, or on a draft of it.
//!
//! Each function says by its result whether the deed can be done here, so that a screen offers
//! only what is possible, and why not, where a person asks for it all the same. What is filled in
//! and sent off as a whole ([`set_rings`], [`rename`]) may be as it is already: that is a step
//! without changes.
//!
//! On the real binder contents and meaning go together: a card that is carried to another pocket
//! takes its meaning with it, and nothing becomes misplaced. A card that is misplaced already goes
//! alone. In a draft only meanings move.
//!
//! ```text
//!   cards   put down, to the front, the back, a page ┐
//!   order   the opposite order, sorted               ├─▸ row ─▸ rewrite ─▸ a step
//!   meaning blank, keepsake, room, fill              │   pockets of one size, and
//!   gather  all of a rarity in front                 ┘   what is to stand in each
//!   pages   whole pages move      shape   pages come, go and become others
//!   pocket  put, take             draft   drafts begin, end and come into force
//!   rings   which a binder has          shelf   the order of the binders
//!                                 cost    what a draft would take, by the planner
//!   open_work  what is still to be done in a real binder
//!   by_pages  what is told while pages are still to be moved
//!   stands  where a pocket of the layout stands meanwhile
//!   leave   a binder leaves the shelf, a set the collection
//!   names   what binders and sets are called
//!   collect which runs are collected      work  the work sheet, as hands go through it
//!   sections  from rules to a draft     growth  what becomes of it when the set grows
//!   swapped   a swap with another collector, done
//!   ground  the real binder or a draft: what stands in a pocket there
//!   cannot  why a deed cannot be done
//! ```

mod by_pages;
mod cannot;
mod cards;
mod collect;
mod cost;
mod draft;
mod gather;
mod ground;
mod growth;
mod leave;
mod meaning;
mod names;
mod open_work;
mod order;
mod pages;
mod pocket;
mod rewrite;
mod rings;
mod row;
mod sections;
mod shape;
mod shelf;
mod stands;
mod swapped;
mod work;

pub use by_pages::{by_pages, looked_at, tally_by_pages};
pub use cannot::Cannot;
pub use cards::{
    Foretold, Manner, PutDown, carried, put_down, put_down_among, to_back, to_front, to_page,
};
pub use collect::{collect, leave_out};
pub use cost::{PagesInHand, cost};
pub use draft::{adopt, begin_draft, copy_draft, drop_draft, left_without, rename_draft};
pub use gather::{Behind, gather};
pub use ground::{Ground, Unit};
pub use growth::{Candidate, Grown, compare_growth, draft_of_way};
pub use leave::{give_up, take_off_shelf};
pub use meaning::{blank, fill, keepsake, leave_room, make_free};
pub use names::{Names, check_spine, rename};
pub use open_work::{OpenWork, PageGoes};
pub use order::{sort, turn_round};
pub use pages::{PageMove, move_pages, move_pages_over};
pub use pocket::{acquire, in_front, named, part_with, put, take};
pub use rings::set_rings;
pub use sections::{
    NewDraft, Proposal, draft_by_sections, drop_template, keep_sections, propose, save_template,
};
pub use shape::{change_format, insert_page, remove_page};
pub use shelf::{move_binder, neighbour_words};
pub use stands::Today;
pub use swapped::swapped;
pub use work::{deed_place, deed_words, deeds_done, work_sheet};
