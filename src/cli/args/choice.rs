//! Options that take one of a closed list, by the words that files and settings have for it too.

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};

use crate::model::{Opening, Side};
use crate::paper::{Format, Turn};
use crate::plan::Working;
use crate::settings;
use crate::supplies::Sleeves;
use crate::text::Choice;

/// With what each means, as far as its word does not say so.
pub(super) fn choice<T: Choice + Send + Sync>(
    means: fn(T) -> &'static str,
) -> impl TypedValueParser<Value = T> {
    of(T::WORDS, means)
}

fn of<T: Copy + Send + Sync + 'static>(
    words: &'static [(&'static str, T)],
    means: fn(T) -> &'static str,
) -> impl TypedValueParser<Value = T> {
    let told = words.iter().map(move |(word, choice)| {
        let value = PossibleValue::new(word);
        match means(*choice) {
            "" => value,
            means => value.help(means),
        }
    });
    PossibleValuesParser::new(told).try_map(move |typed| {
        let meant = words.iter().find(|(word, _)| *word == typed);
        meant.map(|(_, choice)| *choice).ok_or("no such word")
    })
}

pub(super) fn working() -> impl TypedValueParser<Value = Working> {
    choice(|working| match working {
        Working::TwoPasses => {
            "Take out everything that moves, front to back, then put it in, front to back"
        }
        Working::HandToHand => "From pocket to pocket, at most one card aside",
    })
}

pub(super) fn sides() -> impl TypedValueParser<Value = u8> {
    of(settings::SIDES, |_| "")
}

pub(super) fn opening() -> impl TypedValueParser<Value = Opening> {
    choice(|_| "")
}

pub(super) fn side() -> impl TypedValueParser<Value = Side> {
    choice(|_| "")
}

pub(super) fn reading() -> impl TypedValueParser<Value = Turn> {
    choice(|turn| match turn {
        Turn::Down => "From top to bottom (ISO 6357)",
        Turn::Up => "From bottom to top",
        Turn::Across => "Upright where that fits, else from top to bottom",
    })
}

pub(super) fn format() -> impl TypedValueParser<Value = Format> {
    choice(|_| "")
}

pub(super) fn sleeves() -> impl TypedValueParser<Value = Sleeves> {
    choice(|sleeves| match sleeves {
        Sleeves::Bare => "No sleeves",
        Sleeves::One => "One for each card",
        Sleeves::Two => "An inner and an outer one",
    })
}
