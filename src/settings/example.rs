//! The file as it would be with everything at its default, and what a file says besides that.

use super::entries::{ENTRIES, TABLES};
use super::known::{Known, Place, Verb};
use super::value::quoted;
use super::{Settings, paint};
use crate::text::wrap;

const HEAD: &str = "\
# Settings of Ringbound (TOML 1.0). Every entry is here with what is built in: keep in your file
# only what you change. An option of a command goes before the environment, and that before this
# file.
";

const COLOURS: &str = "\
# Colours of what is shown, in every palette: \"usual\" is the palette's own, \"plain\" the
# terminal's; or a name (\"sky blue\"), \"#56b4e9\", or one of the terminal's 256: 74.
";

const SIGNS: &str = "\
# Signs, each one column wide. With plain letters only those of ASCII are taken from here.
# Corners are top left, top right, bottom left, bottom right, then across and down.
";

const KEYS: &str = "\
# Keys of each place, separated by spaces; the first is the one that is shown. \"\" is none. Under
# [keys.everywhere] a key is set for all screens that have such a command and do not say otherwise.
";

/// The file, with comments. Reading it gives the defaults.
#[must_use]
pub fn example(known: &Known) -> String {
    let usual = Settings::default();
    let mut out = String::from(HEAD);
    for (table, says) in TABLES {
        out.push_str(&format!("\n# {says}\n[{table}]\n"));
        for entry in ENTRIES.iter().filter(|entry| entry.table == table) {
            comment(&mut out, entry.says);
            out.push_str(&format!("{} = {}\n", entry.name, (entry.write)(&usual)));
        }
    }
    out.push_str(&format!("\n{COLOURS}[colours]\n"));
    for role in &known.roles {
        comment(&mut out, role.says);
        out.push_str(&format!("{} = {}\n", role.word, paint::colour_word(None)));
    }
    out.push_str(&format!("\n{SIGNS}[signs]\n"));
    for sign in &known.signs {
        comment(&mut out, sign.says);
        let usual = quoted(&sign.usual.concat());
        out.push_str(&format!("{} = {usual}\n", sign.word));
    }
    out.push_str(&format!("\n{KEYS}[keys.everywhere]\n"));
    for place in &known.places {
        out.push_str(&format!("\n[keys.{}]\n", place.word));
        for verb in &place.verbs {
            comment(&mut out, verb.says);
            out.push_str(&format!("{} = {}\n", verb.word, keys(&verb.keys)));
        }
    }
    out
}

fn comment(out: &mut String, says: &str) {
    for line in says
        .lines()
        .flat_map(|line| wrap(line, 96, usize::MAX, '…'))
    {
        out.push_str(&format!("# {line}\n"));
    }
}

fn keys(keys: &[String]) -> String {
    quoted(&keys.join(" "))
}

/// What the settings change, a line an entry, as the file would say it.
#[must_use]
pub fn changed(settings: &Settings, known: &Known) -> Vec<String> {
    let usual = Settings::default();
    let mut out = Vec::new();
    for entry in ENTRIES {
        let now = (entry.write)(settings);
        if now != (entry.write)(&usual) {
            out.push(format!("{}.{} = {now}", entry.table, entry.name));
        }
    }
    for (role, colour) in &settings.colours {
        let word = paint::colour_word(Some(colour));
        out.push(format!("colours.{role} = {word}"));
    }
    for (sign, signs) in &settings.signs {
        out.push(format!("signs.{sign} = {}", quoted(&signs.concat())));
    }
    let verbs = |place: &'_ Place, verb: &'_ Verb| {
        let name = (place.word.clone(), verb.word.clone());
        let new = settings.keys.get(&name)?;
        Some(format!("keys.{}.{} = {}", name.0, name.1, keys(new)))
    };
    for place in &known.places {
        out.extend(place.verbs.iter().filter_map(|verb| verbs(place, verb)));
    }
    out
}
