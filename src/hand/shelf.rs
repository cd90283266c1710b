//! Binders on the shelf: their order.

use super::Cannot;
use crate::model::{BinderId, Change, Collection, Step};
use crate::report::binder_words;

/// The binder changes its place on the shelf, counted from 0 when it has been taken out.
///
/// # Errors
/// The binder is gone, or stands there already.
pub fn move_binder(collection: &Collection, binder: BinderId, to: usize) -> Result<Step, Cannot> {
    let from = collection.shelf_place(binder).ok_or(Cannot::BinderGone)?;
    let to = to.min(collection.shelf().len() - 1);
    if from == to {
        return Err(Cannot::BinderThere);
    }
    let name = binder_words(collection, binder);
    let where_to = neighbour_words(collection, from, to);
    Ok(Step::new(
        format!("{name} stands {where_to}"),
        vec![Change::MoveBinder { binder, from, to }],
    ))
}

/// Where the binder at `from` stands when it has been carried to `to`: `behind Moss Hall`. The
/// number on a spine is the collector's, and says nothing of the place.
#[must_use]
pub fn neighbour_words(collection: &Collection, from: usize, to: usize) -> String {
    let before = to.checked_sub(1).map(|at| at + usize::from(at >= from));
    match before.and_then(|at| collection.binder_at(at)) {
        Some(before) => format!("behind {}", binder_words(collection, before.id())),
        None => "first on the shelf".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn done(collection: &mut Collection, step: &Step) {
        Change::apply_all(&step.changes, collection).unwrap();
    }

    #[test]
    fn a_binder_is_carried_along_the_shelf_and_no_further_than_its_end() {
        let mut collection = demo::collection();
        let names = |collection: &Collection| -> Vec<String> {
            collection
                .shelf()
                .map(|binder| binder.name().to_owned())
                .collect()
        };
        let before = names(&collection);
        let first = collection.shelf().next().unwrap().id();
        let step = move_binder(&collection, first, 2).unwrap();
        done(&mut collection, &step);
        let mut wanted = before.clone();
        let carried = wanted.remove(0);
        wanted.insert(2, carried.clone());
        assert_eq!(names(&collection), wanted);
        assert_eq!(step.label, "The Long Wood stands behind Hedgerow Almanac");
        let back = move_binder(&collection, first, 0).unwrap();
        assert_eq!(back.label, "The Long Wood stands first on the shelf");
        let step = move_binder(&collection, first, usize::MAX).unwrap();
        done(&mut collection, &step);
        assert_eq!(names(&collection).last(), Some(&carried));
        assert!(move_binder(&collection, first, usize::MAX).is_err());
    }
}
