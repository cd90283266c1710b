//! The plain entries: each with its place, what it says, how it is read and how it is written.

use super::value::{Value, quoted};
use super::{Palette, PictureMode, Settings};
use crate::intake::Phrase;
use crate::layout::parse_grid;
use crate::model::{Opening, limits};
use crate::paper::{Turn, parse_paper};
use crate::plan::Working;
use crate::report::{LEAST_HEAPS, MOST_HEAPS};
use crate::supplies::{Currency, Sleeves};
use crate::text::{self, Choice, hint};

pub(super) struct Entry {
    pub(super) table: &'static str,
    pub(super) name: &'static str,
    /// For the example, without the sign of a comment.
    pub(super) says: &'static str,
    /// What would be right is the error.
    pub(super) read: fn(&mut Settings, &Value<'_>) -> Result<(), String>,
    pub(super) write: fn(&Settings) -> String,
}

/// The tables in the order of the example, with what stands above each.
pub(super) const TABLES: [(&str, &str); 5] = [
    ("screen", "What the terminal shows."),
    (
        "collecting",
        "What is usual for you. An option of a command goes before it.",
    ),
    ("paper", "What goes on paper."),
    ("supplies", "What pages, binders and sleeves cost."),
    (
        "log",
        "What was opened, done and refused, and when, for the report of a fault.",
    ),
];

pub(super) const ENTRIES: &[Entry] = &[
    Entry {
        table: "screen",
        name: "palette",
        says: "Colours: \"dark\" and \"light\" are for the background of the terminal, \"none\" is\n\
               without any. \"auto\" goes by COLORFGBG where that is set, else by what the terminal\n\
               answers when it is asked, else dark.",
        read: |to, value| set(&mut to.screen.palette, choice(value, Palette::WORDS)),
        write: |of| quoted(of.screen.palette.word()),
    },
    Entry {
        table: "screen",
        name: "ascii",
        says: "Plain letters and signs only: true, false, or \"auto\", which goes by the locale.",
        read: |to, value| set(&mut to.screen.ascii, choice_or_switch(value)),
        write: |of| (of.screen.ascii).map_or_else(|| "\"auto\"".into(), |ascii| ascii.to_string()),
    },
    Entry {
        table: "screen",
        name: "mouse",
        says: "The mouse is for the program. If false it is for the terminal's own selection;\n\
               a key switches while you work.",
        read: |to, value| set(&mut to.screen.mouse, switch(value)),
        write: |of| of.screen.mouse.to_string(),
    },
    Entry {
        table: "screen",
        name: "pictures",
        says: "Pictures of cards, where there are any: \"auto\" (as the terminal can), \"off\",\n\
               \"blocks\", or by the protocol \"kitty\", \"sixel\" or \"iterm2\".",
        read: |to, value| set(&mut to.screen.pictures, choice(value, PictureMode::WORDS)),
        write: |of| quoted(of.screen.pictures.word()),
    },
    Entry {
        table: "collecting",
        name: "finishes",
        says: "Finishes of a new set whose phrase names none, for instance\n\
               [\"regular\", \"reverse\"]. A checklist says it itself.",
        read: |to, value| set(&mut to.collecting.finishes, finishes(value)),
        write: |of| {
            let finishes = of.collecting.finishes.iter();
            let finishes: Vec<_> = finishes.map(|finish| quoted(finish)).collect();
            format!("[{}]", finishes.join(", "))
        },
    },
    Entry {
        table: "collecting",
        name: "page",
        says: "Pockets on a page of a new binder, rows x columns.",
        read: |to, value| {
            let words = words(value)?;
            to.collecting.page = parse_grid(words).map_err(|error| error.to_string())?;
            Ok(())
        },
        write: |of| {
            quoted(&format!(
                "{}x{}",
                of.collecting.page.0, of.collecting.page.1
            ))
        },
    },
    Entry {
        table: "collecting",
        name: "sides",
        says: "Sides of its pages that are loaded: \"both\" or \"one\".",
        read: |to, value| set(&mut to.collecting.sides, choice(value, SIDES)),
        write: |of| word(&of.collecting.sides, SIDES),
    },
    Entry {
        table: "collecting",
        name: "opening",
        says: "Where its pockets are open: \"side\" or \"top\".",
        read: |to, value| set(&mut to.collecting.opening, choice(value, Opening::WORDS)),
        write: |of| quoted(of.collecting.opening.word()),
    },
    Entry {
        table: "collecting",
        name: "binder",
        says: "\"rings\", or \"fixed\" where pages are bound in.",
        read: |to, value| set(&mut to.collecting.fixed, choice(value, BINDERS)),
        write: |of| word(&of.collecting.fixed, BINDERS),
    },
    Entry {
        table: "collecting",
        name: "keep",
        says: "Spare copies of each card that you keep before any is for swapping.",
        read: |to, value| set(&mut to.collecting.keep, whole(value, 0, 99)),
        write: |of| of.collecting.keep.to_string(),
    },
    Entry {
        table: "collecting",
        name: "heaps",
        says: "Heaps that your table has room for when a pile is sorted.",
        read: |to, value| {
            set(
                &mut to.collecting.heaps,
                whole(value, LEAST_HEAPS, MOST_HEAPS),
            )
        },
        write: |of| of.collecting.heaps.to_string(),
    },
    Entry {
        table: "collecting",
        name: "working",
        says: "How the work is done: \"two-passes\" or \"hand-to-hand\".",
        read: |to, value| set(&mut to.collecting.working, choice(value, Working::WORDS)),
        write: |of| quoted(of.collecting.working.word()),
    },
    Entry {
        table: "paper",
        name: "size",
        says: "\"a4\", \"letter\", \"a3\", \"a5\", or width x height in millimetres: \"210x297\".",
        read: |to, value| {
            let words = words(value)?;
            parse_paper(words).map_err(|error| error.to_string())?;
            to.paper.size = words.trim().to_lowercase().into();
            Ok(())
        },
        write: |of| quoted(&of.paper.size),
    },
    Entry {
        table: "paper",
        name: "label-margin",
        says: "Kept free inside the edges of a label, in millimetres.",
        read: |to, value| set(&mut to.paper.label_margin, millimetres(value)),
        write: |of| of.paper.label_margin.to_string(),
    },
    Entry {
        table: "paper",
        name: "label-foot",
        says: "Kept free at its foot, in millimetres.",
        read: |to, value| set(&mut to.paper.label_foot, millimetres(value)),
        write: |of| of.paper.label_foot.to_string(),
    },
    Entry {
        table: "paper",
        name: "label-reading",
        says: "How its title runs: \"down\", \"up\", or \"across\" where that fits.",
        read: |to, value| set(&mut to.paper.label_reading, choice(value, Turn::WORDS)),
        write: |of| quoted(of.paper.label_reading.word()),
    },
    Entry {
        table: "supplies",
        name: "currency",
        says: "Currency of prices that name none, by the letters of ISO 4217: \"EUR\". Empty: each price\n\
               list names its own.",
        read: |to, value| set(&mut to.supplies.currency, currency(value)),
        write: |of| quoted(of.supplies.currency.as_ref().map_or("", Currency::code)),
    },
    Entry {
        table: "supplies",
        name: "sleeves",
        says: "What your cards are in: \"none\", \"one\", or \"two\" (an inner and an outer one).",
        read: |to, value| set(&mut to.supplies.sleeves, choice(value, Sleeves::WORDS)),
        write: |of| quoted(of.supplies.sleeves.word()),
    },
    Entry {
        table: "log",
        name: "file",
        says: "A file to add to, with its whole path; empty for none.",
        read: |to, value| {
            let words = words(value)?;
            let plain = text::safe(words) == words && words.len() <= limits::TEXT;
            to.log.file = words.into();
            plain
                .then_some(())
                .ok_or_else(|| "is no path of a file".into())
        },
        write: |of| quoted(&of.log.file),
    },
];

/// Sides of a page that are loaded.
pub const SIDES: &[(&str, u8)] = &[("both", 2), ("one", 1)];
const BINDERS: &[(&str, bool)] = &[("rings", false), ("fixed", true)];

fn set<T>(place: &mut T, value: Result<T, String>) -> Result<(), String> {
    *place = value?;
    Ok(())
}

fn words<'t>(value: &Value<'t>) -> Result<&'t str, String> {
    match value {
        Value::Text(words) => Ok(words),
        _ => Err("is text: write it in quotes".into()),
    }
}

fn choice<T: Copy>(value: &Value<'_>, choices: &[(&str, T)]) -> Result<T, String> {
    let known = || choices.iter().map(|(word, _)| *word);
    let listed = || {
        let quoted: Vec<_> = known().map(quoted).collect();
        format!("write {}", quoted.join(" or "))
    };
    let Value::Text(word) = value else {
        return Err(listed());
    };
    let found = choices.iter().find(|(known, _)| known == word);
    found.map(|(_, choice)| *choice).ok_or_else(|| {
        let near = hint(word, known());
        format!("“{word}” is not known; {}{near}", listed())
    })
}

fn word<T: PartialEq>(of: &T, choices: &[(&str, T)]) -> String {
    let found = choices.iter().find(|(_, choice)| choice == of);
    quoted(found.map_or("", |(word, _)| word))
}

fn switch(value: &Value<'_>) -> Result<bool, String> {
    match value {
        Value::Yes(yes) => Ok(*yes),
        _ => Err("write true or false, without quotes".into()),
    }
}

fn choice_or_switch(value: &Value<'_>) -> Result<Option<bool>, String> {
    match value {
        Value::Yes(yes) => Ok(Some(*yes)),
        Value::Text("auto") => Ok(None),
        _ => Err("write true, false or \"auto\"".into()),
    }
}

fn whole(value: &Value<'_>, least: u32, most: u32) -> Result<u32, String> {
    let number = match value {
        Value::Whole(number) => u32::try_from(*number).ok(),
        _ => None,
    };
    let number = number.filter(|number| (least..=most).contains(number));
    number.ok_or_else(|| format!("write a whole number from {least} to {most}, without quotes"))
}

fn millimetres(value: &Value<'_>) -> Result<f64, String> {
    const MOST: f64 = 2_000.0;
    let length = match value {
        Value::Whole(number) => Some(*number as f64),
        Value::Part(number) => Some(*number),
        _ => None,
    };
    let length = length.filter(|length| (0.0..=MOST).contains(length));
    length.ok_or_else(|| format!("write millimetres from 0 to {MOST}, without quotes: 2.5"))
}

/// Read as a phrase reads them.
fn finishes(value: &Value<'_>) -> Result<Vec<Box<str>>, String> {
    const RIGHT: &str = "write a list of words: [\"regular\", \"reverse\"]";
    let Value::List(list) = value else {
        return Err(RIGHT.into());
    };
    let words: Result<Vec<_>, _> = list.iter().map(words).collect();
    let words = words.map_err(|_| RIGHT.to_owned())?;
    let phrase = Phrase::parse(&format!("1 in {}", words.join(", ")));
    let finishes = phrase.map_err(|error| error.to_string())?.finishes;
    if finishes.len() != words.len() {
        return Err(format!("each finish is a word of its own; {RIGHT}"));
    }
    Ok(finishes)
}

fn currency(value: &Value<'_>) -> Result<Option<Currency>, String> {
    match words(value)? {
        "" => Ok(None),
        code => Currency::of(code).map(Some).ok_or_else(|| {
            format!("“{code}” is no currency; write its letters of ISO 4217: \"EUR\"")
        }),
    }
}
