//! Colours of roles, and signs.

use std::collections::BTreeMap;

use super::colour;
use super::known::{Known, Sign};
use super::line::{Line, Problems};
use super::value::Value;
use super::{Colour, Settings};
use crate::text;
use crate::text::hint;

pub(super) fn colours(
    lines: &[Line<'_>],
    known: &Known,
    settings: &mut Settings,
    problems: &mut Problems<'_>,
) {
    for line in lines {
        let words = known.roles.iter().map(|role| role.word);
        if !words.clone().any(|word| word == line.name) {
            let near = hint(line.name, words);
            problems.tell(line.at, format!("colours has no “{}”{near}", line.name));
            continue;
        }
        match colour::read(&line.value) {
            Ok(None) => {}
            Ok(Some(colour)) => {
                settings.colours.insert(line.name.into(), colour);
            }
            Err(why) => problems.tell(line.at, format!("colours.{} {why}", line.name)),
        }
    }
}

/// How a colour is written in the file.
pub(super) fn colour_word(colour: Option<&Colour>) -> String {
    colour.map_or_else(|| "\"usual\"".into(), |colour| colour::write(*colour))
}

pub(super) fn signs(
    lines: &[Line<'_>],
    known: &Known,
    settings: &mut Settings,
    problems: &mut Problems<'_>,
) {
    let mut said: BTreeMap<&str, usize> = BTreeMap::new();
    for line in lines {
        let Some(sign) = known.signs.iter().find(|sign| sign.word == line.name) else {
            let near = hint(line.name, known.signs.iter().map(|sign| sign.word));
            problems.tell(line.at, format!("signs has no “{}”{near}", line.name));
            continue;
        };
        match sign_of(sign, &line.value) {
            Ok(signs) => {
                said.insert(sign.word, line.at);
                if signs != sign.usual {
                    settings.signs.insert(sign.word.into(), signs);
                }
            }
            Err(why) => problems.tell(line.at, format!("signs.{}: {why}", line.name)),
        }
    }
    ensure_apart(known, settings, &said, problems);
}

fn sign_of(sign: &Sign, value: &Value<'_>) -> Result<Vec<String>, String> {
    let many = sign.usual.len();
    let right = || match many {
        1 => format!("write one sign of one column: \"{}\"", sign.usual[0]),
        _ => format!(
            "write {many} signs of one column each: \"{}\"",
            sign.usual.concat()
        ),
    };
    let Value::Text(words) = value else {
        return Err(right());
    };
    let signs: Vec<String> = words.chars().map(String::from).collect();
    // Only where one of several may be empty is a space a sign.
    let may_be_space = sign.usual.contains(&" ");
    let fits = |sign: &String| {
        text::columns(sign) == 1 && text::safe(sign) == *sign && (may_be_space || sign.trim() != "")
    };
    if signs.len() == many && signs.iter().all(fits) {
        Ok(signs)
    } else {
        Err(right())
    }
}

/// Two states of a pocket must not look the same, since no state is told by its colour alone.
fn ensure_apart(
    known: &Known,
    settings: &Settings,
    said: &BTreeMap<&str, usize>,
    problems: &mut Problems<'_>,
) {
    let of = |sign: &Sign| match settings.signs.get(sign.word) {
        Some(signs) => signs.concat(),
        None => sign.usual.concat(),
    };
    let states: Vec<&Sign> = known.signs.iter().filter(|sign| sign.is_state).collect();
    for (at, one) in states.iter().enumerate() {
        for other in &states[at + 1..] {
            let lines = [said.get(one.word).copied(), said.get(other.word).copied()];
            let Some(line) = lines.into_iter().flatten().max() else {
                continue;
            };
            if of(one) == of(other) {
                let (sign, first, second) = (of(one), one.word, other.word);
                let [a, b] = lines.map(|line| problems.place(line));
                problems.tell(
                    line,
                    format!(
                        "{sign} would stand for both {first} ({a}) and {second} ({b}); signs of \
                         pockets must differ"
                    ),
                );
            }
        }
    }
}
