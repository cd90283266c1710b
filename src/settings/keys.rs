//! Keys of verbs, place by place, and what must hold of them.

use std::collections::{BTreeMap, BTreeSet};

use super::Settings;
use super::known::{Known, Place, Verb};
use super::line::{Line, Problems};
use super::value::Value;
use crate::text::hint;

/// The table whose entries hold wherever a place knows the verb and does not say otherwise.
pub(super) const EVERYWHERE: &str = "everywhere";

/// The keys of a verb in a place, and where the file says so; `None` where they are built in.
struct Bound<'k> {
    word: &'k str,
    keys: Vec<String>,
    at: Option<usize>,
}

/// Entries of the file that can be read, by place and verb.
type Given<'t> = BTreeMap<(&'t str, &'t str), (Vec<String>, usize)>;

/// `tables` are the places of the file with their entries.
pub(super) fn keys(
    tables: &[(Line<'_>, Vec<Line<'_>>)],
    known: &Known,
    settings: &mut Settings,
    problems: &mut Problems<'_>,
) {
    let mut given = Given::new();
    for (table, lines) in tables {
        let place = known.places.iter().find(|place| place.word == table.name);
        if place.is_none() && table.name != EVERYWHERE {
            let places = known.places.iter().map(|place| place.word.as_str());
            let near = hint(table.name, places.chain([EVERYWHERE]));
            problems.tell(table.at, format!("keys has no “{}”{near}", table.name));
            continue;
        }
        for line in lines {
            let places = known.places.iter();
            let here = |other: &&Place| place.is_none_or(|place| place.word == other.word);
            let verbs = places.filter(here).flat_map(|place| &place.verbs);
            if !verbs.clone().any(|verb| verb.word == line.name) {
                let words: BTreeSet<&str> = verbs.clone().map(|verb| verb.word.as_str()).collect();
                let mut near = hint(line.name, words.iter().copied());
                if near.is_empty() {
                    near = by_deed(line.name, verbs);
                }
                let why = format!("keys.{} has no “{}”{near}", table.name, line.name);
                problems.tell(line.at, why);
                continue;
            }
            match read(&line.value, known) {
                Ok(keys) => {
                    given.insert((table.name, line.name), (keys, line.at));
                }
                Err(why) => {
                    let name = format!("keys.{}.{}", table.name, line.name);
                    problems.tell(line.at, format!("{name}: {why}"));
                }
            }
        }
    }
    for place in &known.places {
        check(place, known, &given, settings, problems);
    }
}

/// More verbs than this that do what a word says are no help.
const MOST_TOLD: usize = 3;

/// `; did you mean “…”?` with the few verbs that do what the word says, by all parts of it.
fn by_deed<'k>(word: &str, verbs: impl Iterator<Item = &'k Verb>) -> String {
    let does = |verb: &&Verb| {
        let says = || verb.says.split(|c: char| !c.is_alphanumeric());
        word.split('-').all(|part| says().any(|said| said == part))
    };
    let found: BTreeSet<&str> = verbs.filter(does).map(|verb| verb.word.as_str()).collect();
    let quoted: Vec<String> = found.iter().map(|word| format!("“{word}”")).collect();
    match &quoted[..] {
        [] => String::new(),
        [first @ .., last] if !first.is_empty() && quoted.len() <= MOST_TOLD => {
            format!("; did you mean {} or {last}?", first.join(", "))
        }
        [only] => format!("; did you mean {only}?"),
        _ => String::new(),
    }
}

/// A key that is free in every place that has the verb, to be given to it there; with ctrl the
/// letter that was asked for, where that is free too.
fn free(verb: &str, letter: &str, known: &Known) -> String {
    let has = |place: &&Place| place.verbs.iter().any(|other| other.word == verb);
    let verbs = known
        .places
        .iter()
        .filter(has)
        .flat_map(|place| &place.verbs);
    let taken: BTreeSet<&str> = verbs
        .flat_map(|verb| &verb.keys)
        .map(String::as_str)
        .collect();
    let numbers = (5..=12).map(|number| format!("f{number}"));
    let with_ctrl = (known.key)(&format!("ctrl-{letter}"));
    let keys = numbers
        .map(Some)
        .find(|key| key.as_deref().is_some_and(|key| !taken.contains(key)));
    let keys = [
        keys.flatten(),
        with_ctrl.filter(|key| !taken.contains(key.as_str())),
    ];
    let keys: Vec<String> = keys.into_iter().flatten().collect();
    keys.join(" or ")
}

fn read(value: &Value<'_>, known: &Known) -> Result<Vec<String>, String> {
    let Value::Text(words) = value else {
        return Err("write keys in quotes, separated by spaces: \"pgdn space\"".into());
    };
    let mut keys: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let key = (known.key)(word).ok_or_else(|| {
            format!("“{word}” is no key; keys are written n, N, ctrl-n, alt-n, f2, enter, pgdn")
        })?;
        if keys.contains(&key) {
            return Err(format!("{key} stands there twice"));
        }
        keys.push(key);
    }
    Ok(keys)
}

/// A letter or a sign, which in a field is text.
fn is_letter(key: &str) -> bool {
    key.chars().count() == 1 || key == "space"
}

fn check(
    place: &Place,
    known: &Known,
    given: &Given<'_>,
    settings: &mut Settings,
    problems: &mut Problems<'_>,
) {
    let bound: Vec<Bound<'_>> = (place.verbs.iter())
        .map(|verb| {
            let own = given.get(&(place.word.as_str(), verb.word.as_str()));
            let found = own.or_else(|| given.get(&(EVERYWHERE, verb.word.as_str())));
            let (keys, at) = match found {
                Some((keys, at)) => (keys.clone(), Some(*at)),
                None => (verb.keys.clone(), None),
            };
            Bound {
                word: &verb.word,
                keys,
                at,
            }
        })
        .collect();
    for (verb, bound) in place.verbs.iter().zip(&bound) {
        let Some(at) = bound.at else { continue };
        if verb.is_needed && bound.keys.is_empty() {
            let why = format!("keys.{}: {} needs a key", place.word, verb.word);
            problems.tell(at, why);
        }
        let letter = |key: &&String| is_letter(key) && !verb.keys.contains(key);
        if let Some(key) = (bound.keys.iter().find(letter)).filter(|_| place.takes_text) {
            problems.tell(
                at,
                format!(
                    "keys.{}: {key} is typed as text there; give {} a key such as {}",
                    place.word,
                    verb.word,
                    free(&verb.word, key, known)
                ),
            );
        }
    }
    for (at, one) in bound.iter().enumerate() {
        for other in &bound[at + 1..] {
            let Some(line) = one.at.max(other.at) else {
                continue;
            };
            if let Some(key) = one.keys.iter().find(|key| other.keys.contains(key)) {
                let (a, b) = (problems.place(one.at), problems.place(other.at));
                let (place, one, other) = (&place.word, one.word, other.word);
                let why =
                    format!("keys.{place}: {key} asks for both {one} ({a}) and {other} ({b})");
                problems.tell(line, why);
            }
        }
    }
    for (verb, bound) in place.verbs.iter().zip(bound) {
        if bound.at.is_some() && bound.keys != verb.keys {
            let name = (place.word.clone(), verb.word.clone());
            settings.keys.insert(name, bound.keys);
        }
    }
}
