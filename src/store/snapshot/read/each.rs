//! What the readers of the parts share: elements of a list, and keys that stand once.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, SeqAccess, Visitor};

/// A key may stand once only: of two, no reader could say which is meant.
pub(super) fn once<E: Error>(key: &'static str, seen: bool) -> Result<(), E> {
    if seen {
        Err(E::duplicate_field(key))
    } else {
        Ok(())
    }
}

/// What is read into the builder element by element.
pub(super) trait Element<'de> {
    fn element<D: Deserializer<'de>>(&mut self, from: D) -> Result<(), D::Error>;
}

/// An array of such elements.
pub(super) struct Each<T>(pub(super) T);

impl<'de, T: Element<'de>> DeserializeSeed<'de> for Each<T> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_seq(self)
    }
}

impl<'de, T: Element<'de>> Visitor<'de> for Each<T> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list")
    }

    fn visit_seq<A: SeqAccess<'de>>(mut self, mut seq: A) -> Result<(), A::Error> {
        struct One<'t, T>(&'t mut T);

        impl<'de, T: Element<'de>> DeserializeSeed<'de> for One<'_, T> {
            type Value = ();

            fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
                self.0.element(from)
            }
        }

        while seq.next_element_seed(One(&mut self.0))?.is_some() {}
        Ok(())
    }
}
