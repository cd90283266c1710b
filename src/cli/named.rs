//! Sets, binders and drafts by the names that arguments give them.

use super::error::CliError;
use crate::model::{Binder, Collection, SetId};
use crate::text::hint;

/// The set that `--set` names.
pub(super) fn only(collection: &Collection, code: Option<&str>) -> Result<Option<SetId>, CliError> {
    let Some(code) = code else {
        return Ok(None);
    };
    let found = collection.set_by_code(code);
    found.map(Some).ok_or_else(|| {
        let codes: Vec<_> = collection.sets().map(|(_, set)| set.code()).collect();
        let near = hint(code, codes.into_iter());
        CliError::usage(format!("there is no set “{code}”{near}"))
    })
}

/// The binder of this name.
pub(super) fn binder<'c>(collection: &'c Collection, name: &str) -> Result<&'c Binder, CliError> {
    let found = collection.binder_by_name(name);
    found.and_then(|id| collection.binder(id)).ok_or_else(|| {
        let names: Vec<_> = collection.shelf().map(Binder::name).collect();
        let near = hint(name, names.into_iter());
        CliError::usage(format!("there is no binder “{name}”{near}"))
    })
}

/// The draft of this name, by its place among those of the binder.
pub(super) fn draft(binder: &Binder, name: &str) -> Result<usize, CliError> {
    let names = || binder.drafts().iter().map(|draft| &*draft.name);
    names().position(|known| known == name).ok_or_else(|| {
        let near = hint(name, names());
        let binder = binder.name();
        CliError::usage(format!("binder {binder} has no draft “{name}”{near}"))
    })
}
