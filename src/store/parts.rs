//! The parts that snapshot and journal write alike: heads, cards, binders, page formats.

mod card;
mod draft;
mod format;
mod name;
mod page;
mod spec;

pub(super) use card::CardText;
pub(super) use draft::{DraftText, TemplateText, rules, rules_text};
pub(super) use format::{FormatText, SideText};
pub(super) use name::{BinderName, PageName};
pub(super) use page::{LayoutPageText, MeaningText, ensure_side};
pub(super) use spec::{HeadText, SpecText};
