//! What was typed to narrow a list, word by word.

use memchr::memmem::Finder;

use crate::model::{Binder, BinderId, Collection, Set, SetId};
use crate::report::{ListFilter, Listed, is_asked_for};

/// A word shorter than this is not taken for the beginning of a finish or a rarity.
const BEGINNING: usize = 3;

/// The words as they are understood.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Narrowed {
    set: Option<SetId>,
    finish: Option<String>,
    rarity: Option<String>,
    binder: Option<BinderId>,
    /// After `in`, but no binder is called so.
    unknown: Option<String>,
    /// A number, or parts of a name; in small letters.
    words: Vec<String>,
}

impl Narrowed {
    pub(super) fn read(collection: &Collection, typed: &str) -> Self {
        let mut read = Self::default();
        let words: Vec<&str> = typed.split_whitespace().collect();
        let mut rest = &words[..];
        while let [word, behind @ ..] = rest {
            rest = behind;
            let folded = word.to_lowercase();
            if folded == "in" {
                if let Some(first) = rest.first() {
                    // As many words as together name a binder.
                    let named = (1..=rest.len()).rev().find_map(|many| {
                        Some((binder(collection, &rest[..many].join(" "))?, many))
                    });
                    read.binder = named.map(|(binder, _)| binder);
                    read.unknown = named.is_none().then(|| (*first).to_owned());
                    rest = &rest[named.map_or(1, |(_, many)| many)..];
                }
                continue;
            }
            let set = collection.sets().find(|(_, set)| {
                set.code().to_lowercase() == folded || *set.head().symbol == **word
            });
            if let Some((id, _)) = set.filter(|_| read.set.is_none()) {
                read.set = Some(id);
            } else if let Some(name) = (read.finish.is_none())
                .then(|| named(collection, &folded, |set| finishes(set)))
                .flatten()
            {
                read.finish = Some(name);
            } else if let Some(name) = (read.rarity.is_none())
                .then(|| named(collection, &folded, |set| rarities(set)))
                .flatten()
            {
                read.rarity = Some(name);
            } else {
                read.words.push(folded);
            }
        }
        read
    }

    /// Tells of each row whether it is shown. What can be is made ready once: a hundred thousand
    /// rows are looked at for one letter.
    pub(super) fn fitting(&self, collection: &Collection) -> impl FnMut(&Listed) -> bool {
        let filter = ListFilter {
            set: self.set,
            finish: self.finish.as_deref(),
            rarity: self.rarity.as_deref(),
            binder: self.binder,
            ..ListFilter::default()
        };
        let words = self.words.iter();
        let words: Vec<_> = words.map(|word| (&**word, Finder::new(&**word))).collect();
        let mut room = String::new();
        move |row| {
            if self.unknown.is_some() || !is_asked_for(collection, row, filter) {
                return false;
            }
            let Some(card) = collection.card(row.printing) else {
                return words.is_empty();
            };
            words.iter().all(|(word, finder)| {
                // As the finder and the pile take it: zeros in front are nothing.
                without_zeros(folded(&card.number, &mut room)) == without_zeros(word)
                    || finder
                        .find(folded(&card.name, &mut room).as_bytes())
                        .is_some()
            })
        }
    }

    /// What is shown, in words; `None` where that is all.
    pub(super) fn told(&self, collection: &Collection) -> Option<String> {
        let mut parts = Vec::new();
        if let Some(set) = self.set.and_then(|set| collection.set(set)) {
            parts.push(format!("set {}", set.code()));
        }
        if let Some(name) = &self.finish {
            parts.push(format!("finish {name}"));
        }
        if let Some(name) = &self.rarity {
            parts.push(format!("rarity {name}"));
        }
        if let Some(binder) = self.binder.and_then(|binder| collection.binder(binder)) {
            parts.push(format!("in binder {}", binder.name()));
        }
        if let Some(name) = &self.unknown {
            parts.push(format!("no binder is called \u{201c}{name}\u{201d}"));
        }
        if !self.words.is_empty() {
            parts.push(format!("\u{201c}{}\u{201d}", self.words.join(" ")));
        }
        (!parts.is_empty()).then(|| parts.join(", "))
    }
}

fn without_zeros(number: &str) -> &str {
    number.trim_start_matches('0')
}

/// The text in small letters.
fn folded<'r>(text: &str, room: &'r mut String) -> &'r str {
    room.clear();
    if text.is_ascii() {
        room.push_str(text);
        room.make_ascii_lowercase();
    } else {
        *room = text.to_lowercase();
    }
    room
}

/// By its name, or the beginning of what it is called.
fn binder(collection: &Collection, name: &str) -> Option<BinderId> {
    let folded = name.to_lowercase();
    let begins = |binder: &&Binder| binder.called().to_lowercase().starts_with(&folded);
    collection
        .binder_by_name(name)
        .or_else(|| collection.shelf().find(begins).map(Binder::id))
}

fn finishes(set: &Set) -> Vec<&str> {
    set.finishes().iter().map(|finish| &*finish.name).collect()
}

fn rarities(set: &Set) -> Vec<&str> {
    set.rarities().iter().map(|name| &**name).collect()
}

/// The name, of all that the sets have, which is the word, or else begins with it.
fn named<'c>(
    collection: &'c Collection,
    folded: &str,
    of: impl Fn(&'c Set) -> Vec<&'c str>,
) -> Option<String> {
    let names: Vec<&str> = collection.sets().flat_map(|(_, set)| of(set)).collect();
    let exact = names.iter().find(|name| name.to_lowercase() == folded);
    let begins = |name: &&&str| name.to_lowercase().starts_with(folded);
    let found = exact.or_else(|| {
        (folded.chars().count() >= BEGINNING)
            .then(|| names.iter().find(begins))
            .flatten()
    });
    found.map(|name| (*name).to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::intake::{Phrase, new_set};
    use crate::model::{Change, SetHead};
    use crate::report::{Asked, listed};

    fn told(typed: &str) -> String {
        let demo = demo::collection();
        Narrowed::read(&demo, typed).told(&demo).unwrap_or_default()
    }

    #[test]
    fn words_are_taken_for_sets_finishes_rarities_and_binders_before_names() {
        assert_eq!(
            told("moss rev RARE owl"),
            "set MOSS, finish reverse, rarity rare, “owl”"
        );
        assert_eq!(told("in wood 12a"), "in binder wood, “12a”");
        assert_eq!(told("in nowhere"), "no binder is called “nowhere”");
        // Too short for a beginning.
        assert_eq!(told("re"), "“re”");
        assert_eq!(told("  "), "");
    }

    #[test]
    fn what_is_narrowed_is_what_each_word_leaves() {
        let demo = demo::collection();
        let all = listed(&demo, Asked::Gaps, ListFilter::default());
        let count = |typed: &str| {
            let narrowed = Narrowed::read(&demo, typed);
            let mut fits = narrowed.fitting(&demo);
            all.iter().filter(|row| fits(row)).count()
        };
        assert_eq!(count(""), all.len());
        let moss = demo.set_by_code("MOSS").unwrap();
        let of_moss = all.iter().filter(|row| row.printing.set() == moss).count();
        assert_eq!(count("moss"), of_moss);
        assert_eq!(count("moss reg") + count("moss rev"), of_moss);
        assert!(count("moss owl") < of_moss && count("owl") > 0);
        assert_eq!(count("in nowhere"), 0);
    }

    #[test]
    fn a_binder_without_a_title_is_found_by_the_beginning_of_its_name() {
        let mut demo = demo::collection();
        let wood = demo.binder_by_name("wood").unwrap();
        let old = demo.binder(wood).unwrap().spec().clone();
        let mut new = old.clone();
        new.title = "".into();
        let edit = Change::EditBinder {
            binder: wood,
            old: Box::new(old),
            new: Box::new(new),
        };
        edit.apply(&mut demo).unwrap();
        let told = Narrowed::read(&demo, "in woo").told(&demo);
        assert_eq!(told.as_deref(), Some("in binder wood"));
    }

    /// As the finder and the pile take it: common practice, no source.
    #[test]
    fn a_number_is_met_without_the_zeros_in_front_of_it() {
        let mut collection = Collection::new();
        let head = SetHead {
            code: "ZED".into(),
            ..SetHead::default()
        };
        let phrase = Phrase::parse("001-020, in regular").unwrap();
        let step = new_set(&collection, &head, &phrase, None).unwrap().step;
        Change::apply_all(&step.changes, &mut collection).unwrap();
        let shown = |typed: &str| {
            let narrowed = Narrowed::read(&collection, typed);
            let mut fits = narrowed.fitting(&collection);
            let all = listed(&collection, Asked::Wants, ListFilter::default());
            let fitting = all.into_iter().filter(|row| fits(row));
            let numbers = fitting.filter_map(|row| collection.card(row.printing));
            numbers
                .map(|card| card.number.to_string())
                .collect::<Vec<_>>()
        };
        assert_eq!(shown("8"), ["008"]);
        assert_eq!(shown("008"), ["008"]);
        assert_eq!(shown("0"), Vec::<String>::new());
    }
}
