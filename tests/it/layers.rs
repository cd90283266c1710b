//! The house is built in layers, and one crate's compiler cannot hold them apart. This reads the
//! sources as tokens and tells every name that reaches where it may not, with file and line.
//!
//! What is under `#[cfg(test)]` may name what it likes.

mod paths;
mod planted;
mod tokens;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use tokens::{Scanned, Token, scan};

/// A module and what it may name beside itself, no more than it does. Of several that fit the one
/// named most closely counts. The map in `src/lib.rs` shows the same.
const LAYERS: &[(&str, &[&str])] = &[
    ("text", &[]),
    ("model", &["text"]),
    ("layout", &["model", "text"]),
    ("report", &["model", "text"]),
    ("plan", &["model", "text"]),
    // Grids are read and written there.
    ("supplies", &["layout", "model", "text"]),
    ("intake", &["layout", "model", "text"]),
    ("hand", &["layout", "plan", "report", "model", "text"]),
    ("demo", &["layout", "supplies", "model"]),
    ("paper", &["model", "plan", "report", "supplies", "text"]),
    ("store", &["model", "text"]),
    // An arrangement in a file is what the planner is asked about.
    ("store::arrangement", &["model", "plan", "text"]),
    // Tables are read into the rows that intake takes, and into price lists.
    ("store::csv", &["intake", "supplies", "model", "text"]),
    // Values are read as those read them who use them.
    (
        "settings",
        &[
            "intake", "layout", "paper", "plan", "report", "supplies", "model", "text",
        ],
    ),
    ("session", &["store", "intake", "report", "model", "text"]),
    (
        "cli",
        &[
            "session", "settings", "store", "demo", "hand", "intake", "layout", "paper", "plan",
            "report", "supplies", "model", "text",
        ],
    ),
    (
        "ui",
        &[
            "session", "settings", "demo", "hand", "intake", "layout", "paper", "plan", "report",
            "supplies", "model", "text",
        ],
    ),
    ("main", &["cli", "ui", "settings"]),
];

/// A part of a module, and the only other parts that may name it.
const WITHIN: &[(&str, &str, &[&str])] = &[
    // Screens work with all that lies in `ui`; what they work with knows no screen.
    ("ui", "screen", &["app", "footer", "offers"]),
];

/// Words that only some modules may use, and what they would bring in.
const WORDS: &[(&[&str], &[&str], &str)] = &[
    (
        &["ratatui", "crossterm", "tui_input"],
        &["ui"],
        "the screen",
    ),
    (
        &["SystemTime", "Instant", "Zoned"],
        &["cli", "ui", "main"],
        "the clock",
    ),
    (&["directories"], &["cli", "ui", "main"], "the home folder"),
    (
        &["stdin", "stdout", "stderr"],
        &["cli", "ui", "main"],
        "the terminal",
    ),
    (&["clap", "anyhow"], &["cli", "main"], "the command line"),
];

/// The same for a word of the standard library, as in `std::env::var` or `env::var`.
const STD: &[(&str, &[&str], &str)] = &[
    ("env", &["cli", "ui", "main"], "the environment"),
    ("fs", &["store", "session", "cli", "main"], "files"),
    ("net", &[], "the network"),
    ("process", &["cli", "ui", "main"], "the process"),
];

const PRINTING: &[&str] = &["print", "println", "eprint", "eprintln"];

/// The only places that speak to a person.
const SPEAKERS: &[&str] = &["src/main.rs", "src/cli/output.rs"];

/// Past this, a file holds a second thing.
const MOST_LINES: usize = 400;

/// Sources by path, as in `src/model/set.rs`.
type Sources = BTreeMap<String, String>;

#[derive(Debug, PartialEq, Eq)]
struct Finding {
    file: String,
    line: usize,
    what: String,
}

#[test]
fn no_module_names_what_stands_above_or_beside_it() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sources = Sources::new();
    read(root, Path::new("src"), &mut sources);
    assert!(sources.len() > 30, "the sources were not found");
    let told: Vec<_> = check(&sources)
        .into_iter()
        .map(|found| format!("{}:{}: {}", found.file, found.line, found.what))
        .collect();
    assert!(told.is_empty(), "\n{}", told.join("\n"));
}

#[test]
fn no_module_may_name_what_it_does_not_name() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut sources = Sources::new();
    read(root, Path::new("src"), &mut sources);
    let unused = unused(&sources);
    assert!(unused.is_empty(), "\n{}", unused.join("\n"));
}

/// What `LAYERS` permits and no source makes use of.
fn unused(sources: &Sources) -> Vec<String> {
    let scanned = scanned(sources);
    let mut named: BTreeSet<(&str, String)> = BTreeSet::new();
    for (_, module, scanned) in shipped(&scanned) {
        if let Some((rule, _)) = rule_of(&module) {
            let names = paths::top_level_names(&scanned.tokens, depth(&module));
            named.extend(names.into_iter().map(|(_, name)| (*rule, name)));
        }
    }
    let permitted = LAYERS
        .iter()
        .flat_map(|(rule, allowed)| allowed.iter().map(move |name| (*rule, *name)));
    let unused = permitted.filter(|(rule, name)| !named.contains(&(*rule, (*name).to_owned())));
    let told = unused.map(|(rule, name)| format!("{rule} may name {name} and does not"));
    told.collect()
}

fn read(root: &Path, folder: &Path, sources: &mut Sources) {
    for entry in std::fs::read_dir(root.join(folder)).unwrap() {
        let entry = entry.unwrap();
        let path = folder.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            read(root, &path, sources);
        } else if path.extension().is_some_and(|end| end == "rs") {
            let text = std::fs::read_to_string(root.join(&path)).unwrap();
            let path: Vec<_> = path.iter().map(|part| part.to_str().unwrap()).collect();
            sources.insert(path.join("/"), text);
        }
    }
}

fn check(sources: &Sources) -> Vec<Finding> {
    let scanned = scanned(sources);
    let mut found = Vec::new();
    for (file, module, scanned) in shipped(&scanned) {
        let mut tell = |line: usize, what: String| {
            found.push(Finding {
                file: file.clone(),
                line,
                what,
            });
        };
        if file.ends_with("/mod.rs") {
            tell(1, "a module foo lies in foo.rs, its parts in foo/".into());
        }
        let lines = sources[file].lines().count() - scanned.test_lines;
        if lines > MOST_LINES {
            tell(
                MOST_LINES + 1,
                format!("{lines} lines without tests, more than {MOST_LINES}"),
            );
        }
        check_names(&module, &scanned.tokens, &mut tell);
        check_words(file, &module, &scanned.tokens, &mut tell);
    }
    found
}

fn scanned(sources: &Sources) -> Vec<(&String, Scanned)> {
    let sources = sources.iter();
    sources.map(|(file, text)| (file, scan(text))).collect()
}

/// The sources with their modules, without those that are there for tests only.
fn shipped<'s>(
    scanned: &'s [(&'s String, Scanned)],
) -> impl Iterator<Item = (&'s String, Vec<String>, &'s Scanned)> {
    let only_tests: BTreeSet<Vec<String>> = (scanned.iter())
        .flat_map(|(file, scanned)| {
            let module = module_of(file);
            (scanned.test_modules.iter())
                .map(move |name| [&module[..], std::slice::from_ref(name)].concat())
        })
        .collect();
    scanned.iter().filter_map(move |(file, scanned)| {
        let module = module_of(file);
        let is_test = (0..=module.len()).any(|end| only_tests.contains(&module[..end]));
        (!is_test).then_some((*file, module, scanned))
    })
}

/// The line of `LAYERS` for a module: of several that fit the one that names it most closely.
fn rule_of(module: &[String]) -> Option<&'static (&'static str, &'static [&'static str])> {
    let path = module.join("::");
    let fits = |name: &str| path == name || path.starts_with(&format!("{name}::"));
    let rules = LAYERS.iter().filter(|(name, _)| fits(name));
    rules.max_by_key(|(name, _)| name.len())
}

/// How many `super::` lead from the module to the root; `main` is a root of its own.
fn depth(module: &[String]) -> usize {
    match module {
        [own] if own == "main" => 0,
        _ => module.len(),
    }
}

/// `src/store/csv.rs` is `store::csv`; `src/lib.rs` is the root, and `src/main.rs` is `main`.
fn module_of(file: &str) -> Vec<String> {
    let path = file.trim_start_matches("src/").trim_end_matches(".rs");
    if path == "lib" {
        return Vec::new();
    }
    path.split('/').map(Into::into).collect()
}

fn check_names(module: &[String], tokens: &[Token], tell: &mut impl FnMut(usize, String)) {
    let Some(own) = module.first() else {
        // The root only says which modules there are.
        return;
    };
    let path = module.join("::");
    let Some((_, allowed)) = rule_of(module) else {
        tell(1, format!("{own} has no place in the map of layers"));
        return;
    };
    let depth = depth(module);
    for (line, name) in paths::top_level_names(tokens, depth) {
        if name != *own && !allowed.contains(&name.as_str()) {
            tell(line, format!("{path} must not name {name}"));
        }
    }
    for (home, part, others) in WITHIN.iter().filter(|(home, ..)| own == home) {
        let may = |inside: &String| inside == part || others.contains(&&**inside);
        if module.get(1).is_none_or(may) {
            // The module itself says which parts it has.
            continue;
        }
        for (line, name) in paths::names_within(tokens, depth, home) {
            if name == *part || name == "*" {
                tell(line, format!("{path} must not name {home}::{name}"));
            }
        }
    }
}

fn check_words(
    file: &str,
    module: &[String],
    tokens: &[Token],
    tell: &mut impl FnMut(usize, String),
) {
    let own = module.first().map_or("", String::as_str);
    for (at, token) in tokens.iter().enumerate() {
        let next = |n: usize| tokens.get(at + n).map_or("", |token| token.text.as_str());
        let word = token.text.as_str();
        if PRINTING.contains(&word) && next(1) == "!" && !SPEAKERS.contains(&file) {
            tell(
                token.line,
                format!("{word}! outside {}", SPEAKERS.join(" and ")),
            );
        }
        for (words, homes, what) in WORDS {
            if words.contains(&word) && !homes.contains(&own) {
                tell(
                    token.line,
                    format!("{word}: {what} belongs to {}", homes.join(", ")),
                );
            }
        }
        for (word, homes, what) in STD {
            if names_std(tokens, at, word) && !homes.contains(&own) {
                tell(
                    token.line,
                    format!("std::{word}: {what} belongs to {homes:?}"),
                );
            }
        }
    }
}

/// Whether at this token stands `word` of the standard library: `std::word`, `use std::{word`,
/// or `word::` after such a `use`. A path of the crate's own (`self::env`) does not count.
fn names_std(tokens: &[Token], at: usize, word: &str) -> bool {
    if tokens[at].text != word {
        return false;
    }
    let before = |n: usize| at.checked_sub(n).map_or("", |at| tokens[at].text.as_str());
    if before(1) == "::" {
        return before(2) == "std";
    }
    // In a group: back to its opening brace.
    let mut depth = 0;
    for back in (0..at).rev() {
        match tokens[back].text.as_str() {
            "}" => depth += 1,
            "{" if depth > 0 => depth -= 1,
            "{" => {
                return back >= 2
                    && tokens[back - 1].text == "::"
                    && tokens[back - 2].text == "std";
            }
            ";" => return false,
            _ => {}
        }
    }
    false
}
