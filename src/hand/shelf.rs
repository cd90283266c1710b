//! Binders on the shelf: their order, and what stands on a spine.

use unicode_segmentation::UnicodeSegmentation;

use super::Cannot;
use crate::model::{BinderId, Change, Collection, Set, SetHead, Step, limits};
use crate::report::binder_words;
use crate::text;

/// The most columns of a shelf number: a spine has no room for more.
const SHELF_COLUMNS: usize = 12;

/// What stands on the spine of a binder. The symbol and the shelf number are those of its set.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spine {
    pub title: String,
    pub symbol: String,
    pub shelf: String,
}

impl Spine {
    /// As it is; `None` where there is no such binder.
    #[must_use]
    pub fn of(collection: &Collection, binder: BinderId) -> Option<Self> {
        let spec = collection.binder(binder)?.spec();
        let head = spec.set.and_then(|set| collection.set(set)).map(Set::head);
        let word = |of: fn(&SetHead) -> &str| head.map(of).unwrap_or_default().to_owned();
        Some(Self {
            title: spec.title.to_string(),
            symbol: word(|head| &head.symbol),
            shelf: word(|head| &head.shelf),
        })
    }
}

/// Whether these words can stand on a spine.
///
/// # Errors
/// What is amiss: a symbol of several signs, a number or a title that is too long.
pub fn check_spine(title: &str, symbol: &str, shelf: &str) -> Result<(), Cannot> {
    if symbol.graphemes(true).count() > 1 || symbol.len() > limits::WORD {
        return Err("the symbol is one sign, or none");
    }
    if text::columns(shelf) > SHELF_COLUMNS || shelf.len() > limits::WORD {
        return Err("a shelf number has 12 signs at most");
    }
    if title.len() > limits::TEXT {
        return Err("the title is too long");
    }
    Ok(())
}

/// Writes other words on the spine. The set gets the title too, where it had that of the binder.
///
/// # Errors
/// The binder is gone, it is for no set and so has neither symbol nor number, or the words cannot
/// stand on a spine.
pub fn write_spine(
    collection: &Collection,
    binder: BinderId,
    spine: &Spine,
) -> Result<Step, Cannot> {
    let found = collection.binder(binder).ok_or("the binder is gone")?;
    let (title, symbol, shelf) = (spine.title.trim(), spine.symbol.trim(), spine.shelf.trim());
    check_spine(title, symbol, shelf)?;
    let old = found.spec();
    let mut changes = Vec::new();
    let set = old.set.and_then(|id| Some((id, collection.set(id)?)));
    match set {
        None if !symbol.is_empty() || !shelf.is_empty() => {
            return Err("the binder is for no set: it has no symbol and no number");
        }
        None => {}
        Some((id, set)) => {
            let mut head = set.head().clone();
            if head.title == old.title {
                head.title = title.into();
            }
            head.symbol = symbol.into();
            head.shelf = shelf.into();
            if head != *set.head() {
                changes.push(Change::EditSet {
                    set: id,
                    old: Box::new(set.head().clone()),
                    new: Box::new(head),
                });
            }
        }
    }
    if *old.title != *title {
        let mut new = old.clone();
        new.title = title.into();
        changes.push(Change::EditBinder {
            binder,
            old: Box::new(old.clone()),
            new: Box::new(new),
        });
    }
    let name = binder_words(collection, binder);
    let words = format!("the spine of {name} is written anew");
    Ok(Step::new(words, changes))
}

/// The binder changes its place on the shelf, counted from 0 when it has been taken out.
///
/// # Errors
/// The binder is gone, or stands there already.
pub fn move_binder(collection: &Collection, binder: BinderId, to: usize) -> Result<Step, Cannot> {
    let from = collection.shelf_place(binder).ok_or("the binder is gone")?;
    let to = to.min(collection.shelf().len() - 1);
    if from == to {
        return Err("the binder stands there already");
    }
    let name = binder_words(collection, binder);
    Ok(Step::new(
        format!("{name} is binder {} on the shelf", to + 1),
        vec![Change::MoveBinder { binder, from, to }],
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn done(collection: &mut Collection, step: &Step) {
        Change::apply_all(&step.changes, collection).unwrap();
    }

    #[test]
    fn a_spine_is_written_anew_and_its_set_follows_where_it_had_that_title() {
        let spine = Spine {
            title: " Another Name ".into(),
            symbol: "\u{2663}".into(),
            shelf: "12b".into(),
        };
        let mut followed = Vec::new();
        for binder in demo::collection().shelf() {
            let Some(set) = binder.spec().set else {
                continue;
            };
            let (mut collection, binder) = (demo::collection(), binder.id());
            let before = Spine::of(&collection, binder).unwrap();
            let title = |collection: &Collection| collection.set(set).unwrap().title().to_owned();
            let of_set = title(&collection);
            let step = write_spine(&collection, binder, &spine).unwrap();
            done(&mut collection, &step);
            let now = Spine::of(&collection, binder).unwrap();
            assert_eq!((&*now.title, &*now.shelf), ("Another Name", "12b"));
            followed.push(of_set == before.title);
            let wanted = if of_set == before.title {
                "Another Name"
            } else {
                &of_set
            };
            assert_eq!(title(&collection), wanted);
            for change in step.changes.iter().rev() {
                change.inverse().apply(&mut collection).unwrap();
            }
            assert_eq!(Spine::of(&collection, binder).unwrap(), before);
            let same = write_spine(&collection, binder, &before).unwrap();
            assert!(same.changes.is_empty());
        }
        assert!(followed.contains(&true) && followed.contains(&false));
    }

    #[test]
    fn a_symbol_is_one_sign_as_a_reader_counts_them() {
        // Unicode Standard Annex 29: one extended grapheme cluster each.
        for symbol in ["", "\u{2726}", "e\u{301}", "\u{1f469}\u{200d}\u{1f33e}"] {
            assert_eq!(check_spine("", symbol, ""), Ok(()), "{symbol}");
        }
        assert!(check_spine("", "AB", "").is_err());
        assert!(check_spine("", "", "1234567890123").is_err());
        assert!(check_spine(&"x".repeat(100_000), "", "").is_err());
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
        let step = move_binder(&collection, first, usize::MAX).unwrap();
        done(&mut collection, &step);
        assert_eq!(names(&collection).last(), Some(&carried));
        assert!(move_binder(&collection, first, usize::MAX).is_err());
    }
}
