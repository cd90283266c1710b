//! A file's name.

use std::borrow::Cow;
use std::io;

use crate::session::unread;
use crate::text::safe;

/// The file as the person named it.
pub(in crate::cli) struct Name(pub(super) String);

impl Name {
    /// Harmless, as answers tell it.
    pub(super) fn shown(&self) -> Cow<'_, str> {
        safe(&self.0)
    }

    pub(super) fn unread(&self, e: &io::Error) -> String {
        unread(&self.0, e)
    }
}
