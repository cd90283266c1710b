//! Places and printings in words, the same on every screen and in every command.

use super::percent;
use crate::model::{Binder, BinderId, BinderTally, Collection, Place, PocketAt, PrintingId};
use crate::text::count;

/// What a person calls the binder: the title on its spine; with the name that commands know it by
/// where another binder has the same title, and that name alone where it has no title.
#[must_use]
pub fn binder_words(collection: &Collection, binder: BinderId) -> String {
    let Some(found) = collection.binder(binder) else {
        return String::new();
    };
    let called = found.called();
    match collection.binders_called(called) {
        0 | 1 => called.to_owned(),
        _ => format!("{called} ({})", found.name()),
    }
}

/// The binder that a person means: by its name, by its title or as much of it as no other binder
/// begins with, in any case.
///
/// # Errors
/// None or several are meant, in words.
pub fn binder_meant(collection: &Collection, words: &str) -> Result<BinderId, String> {
    let words = words.trim();
    if words.is_empty() {
        return Err("which binder? its title, or the beginning of it".into());
    }
    if let Some(binder) = collection.binder_by_name(words) {
        return Ok(binder);
    }
    let folded = words.to_lowercase();
    let title = |binder: &Binder| binder.called().to_lowercase();
    let mut whole = collection.shelf().filter(|binder| title(binder) == folded);
    if let (Some(only), None) = (whole.next(), whole.next()) {
        return Ok(only.id());
    }
    let begins: Vec<&Binder> = (collection.shelf())
        .filter(|binder| title(binder).starts_with(&folded))
        .collect();
    match begins[..] {
        [] => Err(format!("no binder is called \u{201c}{words}\u{201d}")),
        [only] => Ok(only.id()),
        [one, other, ..] => Err(format!(
            "\u{201c}{words}\u{201d} may be {} or {}",
            binder_words(collection, one.id()),
            binder_words(collection, other.id())
        )),
    }
}

/// How far a binder is, or all of them: `305 of 600 in place (50 %), 295 gaps`.
#[must_use]
pub fn far_words(tally: BinderTally) -> String {
    let BinderTally {
        in_place, meant, ..
    } = tally;
    let share = percent(in_place, meant).map_or_else(String::new, |share| format!(" ({share})"));
    let gaps = count(tally.gaps().into(), "gap", "gaps");
    format!("{in_place} of {meant} in place{share}, {gaps}")
}

/// How many pages stand in a binder, and how many its layout has where those are others:
/// `34 pages`, or `34 pages (40 in its layout)`.
#[must_use]
pub fn pages_words(binder: &Binder) -> String {
    let (real, meant) = (binder.pages().len(), binder.layout().pages.len());
    let pages = count(real as u64, "page", "pages");
    match real == meant {
        true => pages,
        false => format!("{pages} ({meant} in its layout)"),
    }
}

/// `page 4, back, row 1, pocket 2`: all counted from 1, the binder not named.
///
/// A place that is not there is told by its running number on the page.
#[must_use]
pub fn place_words(collection: &Collection, place: Place) -> String {
    match pocket_at(collection, place) {
        Some(at) => pocket_words(place.page, at),
        None => format!("page {}, pocket {}", place.page + 1, place.pocket + 1),
    }
}

/// The words of [`place_words`], for a page counted from 0 and a pocket on it.
#[must_use]
pub fn pocket_words(page: usize, at: PocketAt) -> String {
    format!("page {}, {at}", page + 1)
}

/// Side, row and column of a pocket: on the physical page that stands there, or on the page of
/// the layout where there is none yet.
#[must_use]
pub fn pocket_at(collection: &Collection, place: Place) -> Option<PocketAt> {
    let binder = collection.binder(place.binder)?;
    let real = binder
        .pages()
        .get(place.page)
        .map(crate::model::Page::format);
    let meant = binder.layout().pages.get(place.page);
    real.or_else(|| meant.map(crate::model::LayoutPage::format))?
        .at(place.pocket)
}

/// `12a Moss Owl, reverse`: number, name, and the finish unless it is the set's first. Empty for
/// a printing that does not exist. The words are as the checklist has them, not yet made safe
/// for a terminal.
#[must_use]
pub fn printing_words(collection: &Collection, printing: PrintingId) -> String {
    let Some(set) = collection.set(printing.set()) else {
        return String::new();
    };
    let Some(card) = set.card(printing.card()) else {
        return String::new();
    };
    let mut words = card.number.to_string();
    if !card.name.is_empty() {
        words.push(' ');
        words.push_str(&card.name);
    }
    if printing.finish() > 0
        && let Some(finish) = set.finishes().get(usize::from(printing.finish()))
    {
        words.push_str(", ");
        words.push_str(&finish.name);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    #[test]
    fn a_place_is_told_with_everything_counted_from_one() {
        let collection = demo::collection();
        let wood = collection.binder_by_name("wood").unwrap();
        let place = |page, pocket| Place {
            binder: wood,
            page,
            pocket,
        };
        // Three rows of three on each side.
        assert_eq!(
            place_words(&collection, place(0, 0)),
            "page 1, front, row 1, pocket 1"
        );
        assert_eq!(
            place_words(&collection, place(3, 10)),
            "page 4, back, row 1, pocket 2"
        );
        assert_eq!(
            place_words(&collection, place(3, 17)),
            "page 4, back, row 3, pocket 3"
        );
        assert_eq!(
            place_words(&collection, place(900, 17)),
            "page 901, pocket 18"
        );
        // The last pages of this binder are only in the layout yet.
        let post = collection.binder_by_name("post").unwrap();
        let to_come = Place {
            binder: post,
            page: 4,
            pocket: 0,
        };
        assert_eq!(
            place_words(&collection, to_come),
            "page 5, front, row 1, pocket 1"
        );
    }

    #[test]
    fn pages_of_the_binder_and_of_its_layout_are_told_apart_where_they_are_not_as_many() {
        let collection = demo::collection();
        let words = |name: &str| {
            let id = collection.binder_by_name(name).unwrap();
            pages_words(collection.binder(id).unwrap())
        };
        assert_eq!(words("wood"), "34 pages");
        let post = collection.binder_by_name("post").unwrap();
        let post = collection.binder(post).unwrap();
        let (real, meant) = (post.pages().len(), post.layout().pages.len());
        assert!(real < meant);
        assert_eq!(
            words("post"),
            format!("{real} pages ({meant} in its layout)")
        );
    }

    #[test]
    fn a_printing_is_told_by_number_and_name_and_by_its_finish_if_not_the_usual_one() {
        let collection = demo::collection();
        let moss = collection.set_by_code("MOSS").unwrap();
        let set = collection.set(moss).unwrap();
        let card = |number| set.card_by_number(number).unwrap();
        let words = |number, finish| {
            printing_words(&collection, PrintingId::new(moss, card(number), finish))
        };
        assert_eq!(words("12a", 0), "12a Moss Owl, Asleep");
        assert_eq!(words("12", 1), "12 Moss Owl, reverse");
        assert_eq!(
            printing_words(&collection, PrintingId::new(moss, 9_999, 0)),
            ""
        );
    }

    /// No outside source: what this program promises.
    #[test]
    fn a_binder_is_meant_by_its_name_its_title_or_the_beginning_of_it() {
        let demo = demo::collection();
        let called = |words: &str| {
            let meant = binder_meant(&demo, words);
            meant.map(|binder| demo.binder(binder).unwrap().name().to_owned())
        };
        for words in ["wood", "WOOD", "The Long Wood", "the l", " the long wood "] {
            assert_eq!(called(words), Ok("wood".to_owned()), "{words}");
        }
        assert_eq!(called("moss hall"), Ok("moss".to_owned()));
        assert!(called("").unwrap_err().starts_with("which binder?"));
        assert!(
            called("nowhere")
                .unwrap_err()
                .starts_with("no binder is called")
        );
    }

    #[test]
    fn two_binders_of_one_title_are_told_apart_by_their_names() {
        let demo = demo::collection();
        for binder in demo.shelf() {
            assert_eq!(binder_words(&demo, binder.id()), binder.called());
        }
        let mut demo = demo;
        let [first, second] = [0, 1].map(|at| demo.binder_at(at).unwrap().id());
        let old = demo.binder(second).unwrap().spec().clone();
        let mut new = old.clone();
        new.title = demo.binder(first).unwrap().spec().title.clone();
        let change = crate::model::Change::EditBinder {
            binder: second,
            old: Box::new(old),
            new: Box::new(new),
        };
        change.apply(&mut demo).unwrap();
        assert_eq!(binder_words(&demo, first), "The Long Wood (wood)");
        assert_eq!(binder_words(&demo, second), "The Long Wood (moss)");
        assert!(
            binder_meant(&demo, "the long")
                .unwrap_err()
                .contains(" may be ")
        );
    }
}
