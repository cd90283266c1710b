//! Binders read by several hands at once.

use serde::de::Error;
use serde_json::value::RawValue;

use super::binder::Read;
use crate::model::Builder;

/// As many.
const HANDS: usize = 4;

/// Reads the binders, each as it stands in the text, and puts them on the shelf in their order.
///
/// # Errors
/// One of them is not right. It need not be the first, and the place is one within it.
pub(super) fn read(shelf: &[&RawValue], builder: &mut Builder) -> serde_json::Result<()> {
    let bytes = |raw: &&RawValue| raw.get().len();
    let share = shelf.iter().map(bytes).sum::<usize>() / HANDS + 1;
    let mut before = 0;
    let shares = shelf.chunk_by(|raw, _| {
        let was = before / share;
        before += bytes(raw);
        before / share == was
    });
    let sets = &*builder;
    let read = |share: &[&RawValue]| {
        let binders = share.iter().map(|raw| Read::of(raw, sets));
        binders.collect::<serde_json::Result<Vec<_>>>()
    };
    let binders = std::thread::scope(|scope| {
        let hands = shares.map(|share| {
            let hand = std::thread::Builder::new().spawn_scoped(scope, || read(share));
            (share, hand)
        });
        let done = hands.collect::<Vec<_>>().into_iter().map(|(share, hand)| {
            // Where there is no further thread to be had, or one fails, this one does the work.
            let part = hand.ok().and_then(|hand| hand.join().ok());
            part.unwrap_or_else(|| read(share))
        });
        done.collect::<serde_json::Result<Vec<_>>>()
    })?;
    let put = |binder: Read| binder.put(builder);
    let mut binders = binders.into_iter().flatten();
    binders.try_for_each(put).map_err(serde_json::Error::custom)
}
