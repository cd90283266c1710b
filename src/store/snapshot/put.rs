//! Text and JSON into the bytes of a snapshot.

use serde::Serialize;

pub(super) fn text(to: &mut Vec<u8>, text: &str) {
    to.extend_from_slice(text.as_bytes());
}

pub(super) fn json<T: Serialize + ?Sized>(to: &mut Vec<u8>, value: &T) {
    let written = serde_json::to_writer(to, value);
    debug_assert!(written.is_ok(), "a vector takes all that is written to it");
}
