//! A file's name.

use std::borrow::Cow;
use std::io;

use crate::session::cannot_read;
use crate::text::safe;

/// The file as the person named it.
pub(in crate::cli) struct Name(pub(super) String);

impl Name {
    /// Harmless, as answers tell it.
    pub(super) fn shown(&self) -> Cow<'_, str> {
        safe(&self.0)
    }

    pub(super) fn cannot_read(&self, e: &io::Error) -> String {
        cannot_read(&self.0, e)
    }
}
