//! Which rings a binder has.

use super::Cannot;
use crate::model::{BinderId, BinderKind, Change, Collection, RingShape, Step};
use crate::report::binder_words;
use crate::text::Choice;

/// Says the size in millimetres (0: not known) and the shape of a binder's rings.
///
/// # Errors
/// The binder is gone, or its pages are fixed.
pub fn set_rings(
    collection: &Collection,
    binder: BinderId,
    size: u16,
    shape: RingShape,
) -> Result<Step, Cannot> {
    let found = collection.binder(binder).ok_or(Cannot::BinderGone)?;
    let old = found.spec();
    if !old.kind.pages_move() {
        return Err(Cannot::NoRings);
    }
    let mut new = old.clone();
    new.kind = BinderKind::Rings { size, shape };
    let changes = if new == *old {
        Vec::new()
    } else {
        vec![Change::EditBinder {
            binder,
            old: Box::new(old.clone()),
            new: Box::new(new),
        }]
    };
    let words = match (size, shape) {
        (0, _) => "rings of unknown size".into(),
        (size, shape) => format!("{} rings of {size} mm", shape.word()),
    };
    Ok(Step::new(
        format!("{} has {words}", binder_words(collection, binder)),
        changes,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    #[test]
    fn rings_are_told_of_a_ring_binder_only_and_taken_back() {
        let mut collection = demo::collection();
        let wood = collection.binder_by_name("wood").unwrap();
        let before = collection.binder(wood).unwrap().spec().kind;
        let step = set_rings(&collection, wood, 60, RingShape::Round).unwrap();
        assert_eq!(step.label, "The Long Wood has round rings of 60 mm");
        Change::apply_all(&step.changes, &mut collection).unwrap();
        let kind = |collection: &Collection| collection.binder(wood).unwrap().spec().kind;
        assert_eq!(
            kind(&collection),
            BinderKind::Rings {
                size: 60,
                shape: RingShape::Round
            }
        );
        let again = set_rings(&collection, wood, 60, RingShape::Round).unwrap();
        assert!(again.changes.is_empty());
        step.changes[0].inverse().apply(&mut collection).unwrap();
        assert_eq!(kind(&collection), before);
        let fixed = collection.binder_by_name("tide").unwrap();
        assert!(set_rings(&collection, fixed, 60, RingShape::D).is_err());
    }
}
