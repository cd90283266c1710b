//! Where one was in the collection when it was left: a note beside it, no part of it. Whatever is
//! wrong with the note, it is passed over.

use serde::{Deserialize, Serialize};

use super::{Access, Session};
use crate::model::{Collection, Place};

/// A binder on the shelf, or a pocket of it where it was open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LastPlace {
    pub binder: Box<str>,
    /// Page and pocket from 0; `None` where the binder stood on the shelf.
    pub open: Option<(usize, usize)>,
}

/// The note as it is written, counting from 1.
#[derive(Deserialize, Serialize)]
struct Note {
    format: String,
    version: u32,
    binder: String,
    page: Option<usize>,
    pocket: Option<usize>,
}

const FORMAT: &str = "ringbound-last-place";

impl LastPlace {
    #[must_use]
    pub fn of(collection: &Collection, place: Place, is_open: bool) -> Option<Self> {
        let binder = collection.binder(place.binder)?;
        Some(Self {
            binder: binder.name().into(),
            open: is_open.then_some((place.page, place.pocket)),
        })
    }

    /// The place, where the binder is still there; page and pocket need not be.
    #[must_use]
    pub fn place(&self, collection: &Collection) -> Option<Place> {
        let binder = collection.binder_by_name(&self.binder)?;
        let (page, pocket) = self.open.unwrap_or((0, 0));
        Some(Place {
            binder,
            page,
            pocket,
        })
    }

    fn read(bytes: &[u8]) -> Option<Self> {
        let note: Note = serde_json::from_slice(bytes).ok()?;
        let from_one = |number: Option<usize>| number.map(|number| number.checked_sub(1));
        let open = match (from_one(note.page), from_one(note.pocket)) {
            (None, None) => None,
            (Some(Some(page)), Some(Some(pocket))) => Some((page, pocket)),
            _ => return None,
        };
        (note.format == FORMAT && note.version == 1).then_some(Self {
            binder: note.binder.into(),
            open,
        })
    }

    fn write(&self) -> Option<Vec<u8>> {
        let note = Note {
            format: FORMAT.into(),
            version: 1,
            binder: self.binder.to_string(),
            page: self.open.map(|(page, _)| page.saturating_add(1)),
            pocket: self.open.map(|(_, pocket)| pocket.saturating_add(1)),
        };
        let mut bytes = serde_json::to_vec(&note).ok()?;
        bytes.push(b'\n');
        Some(bytes)
    }
}

impl Session {
    /// Where one was when the collection was last left, if that is known.
    #[must_use]
    pub fn last_place(&self) -> Option<LastPlace> {
        LastPlace::read(&self.store.note()?)
    }

    /// Notes where one is. Nothing is written where the collection is open for reading only, and
    /// what cannot be written is not missed.
    pub fn keep_last_place(&mut self, last_place: &LastPlace) {
        if self.access() == Access::Writable
            && let Some(bytes) = last_place.write()
        {
            self.store.leave_note(&bytes);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn any_last_place_is_read_back_and_any_bytes_are_borne(
            binder in ".{0,20}",
            open in proptest::option::of((0..usize::MAX, 0..usize::MAX)),
            bytes in proptest::collection::vec(any::<u8>(), 0..200),
        ) {
            let last_place = LastPlace { binder: binder.into(), open };
            prop_assert_eq!(LastPlace::read(&last_place.write().unwrap()), Some(last_place));
            LastPlace::read(&bytes);
        }
    }

    #[test]
    fn a_note_of_another_kind_says_nothing() {
        let read = |words: &str| LastPlace::read(words.as_bytes());
        let good =
            r#"{"format":"ringbound-last-place","version":1,"binder":"A","page":2,"pocket":3}"#;
        assert_eq!(read(good).unwrap().open, Some((1, 2)));
        assert_eq!(read(&good.replace("1,\"binder", "2,\"binder")), None);
        assert_eq!(read(&good.replace("last-place", "other")), None);
        assert_eq!(read(&good.replace("\"page\":2", "\"page\":0")), None);
        assert_eq!(read(&good[..40]), None);
    }
}
