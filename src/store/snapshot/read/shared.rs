//! A list read by several hands at once: one goes through the text and finds where each element
//! ends, whoever is free reads the next of them, and at the end all are put in their order.

use std::fmt;
use std::marker::PhantomData;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, mpsc};

use serde::de::{DeserializeSeed, Deserializer, Error, SeqAccess, Visitor};
use serde_json::value::RawValue;

use crate::model::{Builder, Refused};

/// Threads that read beside this one.
const HANDS: usize = 2;

/// An element that can be read without those before it in its list.
pub(super) trait Part: Sized + Send {
    /// `so_far` has what stands before the list.
    fn read(raw: &RawValue, so_far: &Builder) -> serde_json::Result<Self>;

    fn put(self, to: &mut Builder) -> Result<(), Refused>;
}

/// A list of such elements. An error need not be the first that there is in the text, and its
/// place is one within the element.
pub(super) struct Shared<'b, P> {
    builder: &'b mut Builder,
    part: PhantomData<P>,
}

impl<'b, P> Shared<'b, P> {
    pub(super) fn new(builder: &'b mut Builder) -> Self {
        Self {
            builder,
            part: PhantomData,
        }
    }
}

impl<'de, P: Part> DeserializeSeed<'de> for Shared<'_, P> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_seq(self)
    }
}

impl<'de, P: Part> Visitor<'de> for Shared<'_, P> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<(), A::Error> {
        let so_far = &*self.builder;
        let (give, take) = mpsc::channel::<(usize, &'de RawValue)>();
        let take = Mutex::new(take);
        let next = || take.lock().ok()?.recv().ok();
        let has_fault = AtomicBool::new(false);
        let read = || -> serde_json::Result<Vec<(usize, P)>> {
            let taken = std::iter::from_fn(next);
            let parts = taken.map(|(at, raw)| Ok((at, P::read(raw, so_far)?)));
            let parts: serde_json::Result<_> = parts.collect();
            has_fault.fetch_or(parts.is_err(), Ordering::Relaxed);
            parts
        };
        let mut parts = std::thread::scope(|scope| {
            let hands: Vec<_> = (0..HANDS)
                .map(|_| std::thread::Builder::new().spawn_scoped(scope, read))
                .collect();
            // It goes when this is left, by an error too: then nobody waits for more.
            let give = give;
            let mut at = 0;
            while let Some(raw) = list.next_element()? {
                // What follows a fault is read by nobody: the whole is read again by one hand.
                if has_fault.load(Ordering::Relaxed) || give.send((at, raw)).is_err() {
                    break;
                }
                at += 1;
            }
            drop(give);
            // Where there are no further threads to be had, this one does all the work.
            let mut parts = read().map_err(A::Error::custom)?;
            for hand in hands.into_iter().flatten() {
                let others = hand.join().map_err(|_| A::Error::custom("a hand failed"))?;
                parts.extend(others.map_err(A::Error::custom)?);
            }
            Ok(parts)
        })?;
        parts.sort_unstable_by_key(|(at, _)| *at);
        let mut parts = parts.into_iter().map(|(_, part)| part);
        parts
            .try_for_each(|part| part.put(self.builder))
            .map_err(A::Error::custom)
    }
}
