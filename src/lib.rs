//! Ringbound keeps a collector's sets of trading cards as they stand on the shelf.
//!
//! An open binder, in this program's words (the same words in code, screens, files and help):
//!
//! ```text
//!                 the spread: back of page 4 at the left, front of page 5 at the right
//!   ┌───────────────────────────────┐  ┌───────────────────────────────┐
//!   │ ┌───────┐ ┌───────┐ ┌╌╌╌╌╌╌╌┐ │══│ ┌───────┐ ┌╌╌╌╌╌╌╌┐ ┌───────┐ │
//!   │ │ 37    │ │ 38    │ ╎ 39 gap╎ │  │ │ 46    │ ╎ 47  ◂ ╎ │ 48    │ │   ◂ waiting: a loose
//!   │ └───────┘ └───────┘ └╌╌╌╌╌╌╌┘ │══│ └───────┘ └╌╌╌╌╌╌╌┘ └───────┘ │     copy has this gap
//!   │   pocket    copy      gap     │  │                               │     to go to
//!   └───────────────────────────────┘  └───────────────────────────────┘
//! ```
//!
//! *Contents* are what lies on the shelf today, the *layout* is what should be; all that the
//! program tells (gaps, misplaced cards, completion, work to do) follows from comparing them.
//!
//! The house, by layers. A module names only what stands under it; `tests/it/layers.rs` reads the
//! sources and fails on any other `use`.
//!
//! ```text
//!   main                       parse, run a face, turn the result into an exit code
//!   cli        ui              the two faces; neither names the other
//!   ├──────────┤
//!   session    settings        the one façade: query, commit, undo, redo; what a person has set
//!   ├──────────┤
//!   store   demo   paper       files: snapshot, journal, lock, import, export; an invented
//!   │       │      │           collection; labels, lists, sheets
//!   intake  hand  supplies     what comes in; what hands do; what it takes of pages and binders
//!   │       │     │
//!   layout  plan  report       sections to pages; the work from contents to layout; completion,
//!   │       │     │            gaps, spares, finder
//!   model  ────────────────────  sets, cards, binders, pages, pockets, copies, changes
//!   text                         words, widths and natural order; names nothing
//! ```

#[cfg(test)]
mod checks;
pub mod cli;
pub mod demo;
pub mod hand;
pub mod intake;
pub mod layout;
pub mod model;
pub mod paper;
pub mod plan;
pub mod report;
pub mod session;
pub mod settings;
pub mod store;
pub mod supplies;
pub mod text;
pub mod ui;
