//! What a binder and its set are called: on the spine, in commands and in files.

use unicode_segmentation::UnicodeSegmentation;

use super::Cannot;
use crate::layout;
use crate::model::{
    Binder, BinderId, BinderSpec, Change, Collection, Layout, Rules, Set, SetHead, Step,
    ensure_word, limits,
};
use crate::report::binder_words;
use crate::text;

/// The most columns of a shelf number: a spine has no room for more.
const SHELF_COLUMNS: usize = 12;

/// What a binder and the set that it is for are called. Symbol, shelf number and code are those of
/// the set; they are empty where it is for none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Names {
    pub title: String,
    pub symbol: String,
    pub shelf: String,
    pub code: String,
    /// The binder's, as commands know it.
    pub name: String,
}

impl Names {
    /// As they are; `None` where there is no such binder.
    #[must_use]
    pub fn of(collection: &Collection, binder: BinderId) -> Option<Self> {
        let spec = collection.binder(binder)?.spec();
        let head = spec.set.and_then(|set| collection.set(set)).map(Set::head);
        let word = |of: fn(&SetHead) -> &str| head.map(of).unwrap_or_default().to_owned();
        Some(Self {
            title: spec.title.to_string(),
            symbol: word(|head| &head.symbol),
            shelf: word(|head| &head.shelf),
            code: word(|head| &head.code),
            name: spec.name.to_string(),
        })
    }

    fn trimmed(&self) -> Self {
        let trim = |words: &str| words.trim().to_owned();
        Self {
            title: trim(&self.title),
            symbol: trim(&self.symbol),
            shelf: trim(&self.shelf),
            code: trim(&self.code),
            name: trim(&self.name),
        }
    }
}

/// Whether these words can stand on a spine.
///
/// # Errors
/// What is amiss: a symbol of several signs, a number or a title that is too long.
pub fn check_spine(title: &str, symbol: &str, shelf: &str) -> Result<(), Cannot> {
    if symbol.graphemes(true).count() > 1 || symbol.len() > limits::WORD {
        return Err(Cannot::SymbolTooLong);
    }
    if text::columns(shelf) > SHELF_COLUMNS || shelf.len() > limits::WORD {
        return Err(Cannot::ShelfNumberTooLong);
    }
    if title.len() > limits::TEXT {
        return Err(Cannot::TitleTooLong);
    }
    Ok(())
}

/// Calls a binder and its set otherwise. The set gets the title too, where it had that of the
/// binder; the binder's name goes with the code, where it was the same word; and rules that name
/// the set by its code, in layouts, drafts and templates, name it by the new one.
///
/// # Errors
/// The binder is gone, it is for no set and so has no symbol, number or code, the words cannot
/// stand on a spine or in files, or another set or binder is called so.
pub fn rename(collection: &Collection, binder: BinderId, names: &Names) -> Result<Step, Cannot> {
    let found = collection.binder(binder).ok_or(Cannot::BinderGone)?;
    let mut names = names.trimmed();
    check_spine(&names.title, &names.symbol, &names.shelf)?;
    let old = found.spec();
    let mut changes = Vec::new();
    let set = old.set.and_then(|id| Some((id, collection.set(id)?)));
    match set {
        None if ![&names.symbol, &names.shelf, &names.code]
            .iter()
            .all(|word| word.is_empty()) =>
        {
            return Err(Cannot::NoSetToName);
        }
        None => {}
        Some((id, set)) => {
            if *old.name == *set.code() && names.name == *set.code() {
                names.name.clone_from(&names.code);
            } else if *old.name == *set.code().to_lowercase() && names.name == *old.name {
                names.name = names.code.to_lowercase();
            }
            let other = collection.set_by_code(&names.code);
            let told = [Cannot::CodeNoWord, Cannot::CodeTaken];
            check_word(&names.code, other.is_some_and(|other| other != id), told)?;
            let mut head = set.head().clone();
            if head.title == old.title {
                head.title = names.title.as_str().into();
            }
            head.symbol = names.symbol.as_str().into();
            head.shelf = names.shelf.as_str().into();
            head.code = names.code.as_str().into();
            if head != *set.head() {
                changes.push(Change::EditSet {
                    set: id,
                    old: Box::new(set.head().clone()),
                    new: Box::new(head),
                });
            }
            if *set.code() != *names.code {
                changes.extend(recoded(collection, set.code(), &names.code));
            }
        }
    }
    let other = collection.binder_by_name(&names.name);
    let told = [Cannot::NameNoWord, Cannot::NameTaken];
    check_word(
        &names.name,
        other.is_some_and(|other| other != binder),
        told,
    )?;
    let new = BinderSpec {
        title: names.title.as_str().into(),
        name: names.name.as_str().into(),
        ..old.clone()
    };
    if new != *old {
        changes.push(Change::EditBinder {
            binder,
            old: Box::new(old.clone()),
            new: Box::new(new),
        });
    }
    let label = match set.filter(|(_, set)| *set.code() != *names.code) {
        Some((_, set)) => format!("the set {} is {} now", set.code(), names.code),
        None if *old.name != *names.name => {
            format!(
                "the binder {} is {} in commands now",
                found.name(),
                names.name
            )
        }
        None => format!(
            "the spine of {} is written anew",
            binder_words(collection, binder)
        ),
    };
    Ok(Step::new(label, changes))
}

/// Whether a set or a binder can be called by this word, and none has it already.
///
/// # Errors
/// The first of the two where it is no plain word, the second where another has it.
fn check_word(word: &str, is_taken: bool, [amiss, taken]: [Cannot; 2]) -> Result<(), Cannot> {
    match (ensure_word("", word), is_taken) {
        (Err(_), _) => Err(amiss),
        (Ok(()), true) => Err(taken),
        (Ok(()), false) => Ok(()),
    }
}

/// The changes by which all rules name a set by its new code.
fn recoded(collection: &Collection, old: &str, new: &str) -> Vec<Change> {
    let recode = |rules: &Rules| {
        let lines = rules.iter().map(|rule| layout::recoded(rule, old, new));
        let new: Rules = lines.collect();
        (new != *rules).then(|| (rules.clone(), new))
    };
    let of_layout = |binder: &Binder, layout: &Layout| {
        recode(&layout.sections).map(|(old, new)| Change::SetSections {
            binder: binder.id(),
            old,
            new,
        })
    };
    let mut changes = Vec::new();
    for binder in collection.shelf() {
        changes.extend(of_layout(binder, binder.layout()));
        for (draft, of) in binder.drafts().iter().enumerate() {
            let change = of_layout(binder, &of.layout).map(Box::new);
            changes.extend(change.map(|change| Change::InDraft { draft, change }));
        }
    }
    changes.extend(collection.templates().filter_map(|(name, rules)| {
        recode(rules).map(|(old, new)| Change::SetTemplate {
            name: name.into(),
            old: Some(old),
            new: Some(new),
        })
    }));
    changes
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::hand::{self, Ground};

    fn done(collection: &mut Collection, step: &Step) {
        Change::apply_all(&step.changes, collection).unwrap();
    }

    #[test]
    fn a_spine_is_written_anew_and_its_set_follows_where_it_had_that_title() {
        let mut followed = Vec::new();
        for binder in demo::collection().shelf() {
            let Some(set) = binder.spec().set else {
                continue;
            };
            let (mut collection, binder) = (demo::collection(), binder.id());
            let before = Names::of(&collection, binder).unwrap();
            let title = |collection: &Collection| collection.set(set).unwrap().title().to_owned();
            let of_set = title(&collection);
            let spine = Names {
                title: " Another Name ".into(),
                symbol: "\u{2663}".into(),
                shelf: "12b".into(),
                ..before.clone()
            };
            let step = rename(&collection, binder, &spine).unwrap();
            done(&mut collection, &step);
            let now = Names::of(&collection, binder).unwrap();
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
            assert_eq!(Names::of(&collection, binder).unwrap(), before);
            let same = rename(&collection, binder, &before).unwrap();
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
    fn a_set_of_another_code_keeps_its_cards_and_its_binder_and_rules_follow() {
        let mut collection = demo::collection();
        let binder = collection.binder_by_name("wood").unwrap();
        let rules: Rules = vec![
            "Own: set Wood; rarity rare; page 3x3".into(),
            "Set WOOD: set MOSS; page 3x3".into(),
        ];
        let step = hand::save_template(&collection, "mine", &rules).unwrap();
        done(&mut collection, &step);
        let step = hand::begin_draft(&collection, binder, "other", true).unwrap();
        done(&mut collection, &step);
        let draft = Ground {
            binder,
            draft: Some(0),
        };
        let change = Change::InDraft {
            draft: 0,
            change: Box::new(Change::SetSections {
                binder,
                old: Rules::new(),
                new: rules.clone(),
            }),
        };
        done(&mut collection, &Step::new("", vec![change]));
        let before = Names::of(&collection, binder).unwrap();
        let tally = collection.binder(binder).unwrap().tally();
        let names = Names {
            code: "OAK".into(),
            ..before.clone()
        };
        let step = rename(&collection, binder, &names).unwrap();
        assert_eq!(step.label, "the set WOOD is OAK now");
        done(&mut collection, &step);
        let now = Names::of(&collection, binder).unwrap();
        assert_eq!((&*now.code, &*now.name), ("OAK", "oak"));
        assert_eq!(collection.binder(binder).unwrap().tally(), tally);
        let wanted = ["Own: set OAK; rarity rare; page 3x3", &*rules[1]];
        let sections = &draft.layout(&collection).unwrap().sections;
        for found in [sections, collection.template("mine").unwrap()] {
            assert_eq!(found.iter().map(|rule| &**rule).collect::<Vec<_>>(), wanted);
        }
        let mut back = collection.clone();
        for change in step.changes.iter().rev() {
            change.inverse().apply(&mut back).unwrap();
        }
        assert_eq!(Names::of(&back, binder).unwrap(), before);
        assert_eq!(back.template("mine"), Some(&rules));
    }

    #[test]
    fn no_two_sets_and_no_two_binders_are_called_the_same() {
        let collection = demo::collection();
        let binder = collection.binder_by_name("wood").unwrap();
        let before = Names::of(&collection, binder).unwrap();
        let refused = |code: &str, name: &str| {
            let names = Names {
                code: code.into(),
                name: name.into(),
                ..before.clone()
            };
            rename(&collection, binder, &names).unwrap_err()
        };
        // In another case too: who types a code does not mind capitals.
        assert_eq!(refused("moss", "wood"), Cannot::CodeTaken);
        assert_eq!(refused("WOOD", "Moss"), Cannot::NameTaken);
        assert_eq!(refused("OAK", "moss"), Cannot::NameTaken);
        for word in ["", "two words", "a:b"] {
            assert_eq!(refused(word, "wood"), Cannot::CodeNoWord);
            assert_eq!(refused("WOOD", word), Cannot::NameNoWord);
        }
        // Its own, in another case, is free.
        let names = Names {
            code: "Wood".into(),
            ..before.clone()
        };
        assert!(rename(&collection, binder, &names).is_ok());
    }
}
