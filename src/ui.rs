//! The screen: the shelf, the open binder, and the windows over them.
//!
//! ```text
//!   keys, mouse ─▶ keymap ─▶ Intent ─▶ App::handle ─▶ Session      (state changes here only)
//!                                          │
//!   terminal  ◀──── frame ◀──── view ◀─────┘                       (drawing borrows)
//! ```
//!
//! [`App`] and [`view()`] know no terminal: tests feed events and read the frame. [`Begun`] owns the
//! terminal, and gives it back on return, error, panic and suspend.

mod app;
mod background;
mod book;
mod clipboard;
mod context;
mod desk;
mod events;
mod field;
mod files;
mod footer;
mod form;
mod frames;
mod gallery;
mod intent;
mod job;
mod keymap;
mod known;
mod left;
mod message;
mod offers;
mod paint;
mod rows;
mod run;
mod screen;
mod spread;
mod tallies;
mod terminal;
mod theme;
mod view;
mod widget;

pub use app::{App, Flow};
pub use background::is_light;
pub use frames::Frames;
pub use gallery::{Made, Maker, Wanted};
pub use intent::Intent;
pub use job::Work;
pub use keymap::{Binding, Context, Key, Keymap, bindings};
pub use known::known;
pub use run::{Begun, Ended, Given, UiError, begin};
pub use theme::{Colours, Look, Theme};
pub use view::view;
