//! What can be done: here and now, on the other screens, on the command line. From the key table
//! and from what each screen says of itself.

use super::desk::Desk;
use super::footer;
use super::intent::Intent;
use super::keymap::{self, Context};
use super::screen::anything::{COMMANDS, Deed, Line};
use super::screen::{Screen, menu};

/// The other screens whose verbs are offered, and what they are called.
const ELSEWHERE: &[(Context, &str)] = &[
    (Context::Shelf, "on the shelf"),
    (Context::Binder, "in a binder"),
    (Context::Drafts, "the drafts of a binder"),
    (Context::Sections, "the sections of a binder"),
    (Context::Work, "the work sheet"),
    (Context::List, "the lists"),
    (Context::Supplies, "the supplies"),
];

pub(super) const READ_ONLY: &str = "the collection is open for reading only";

/// Why this cannot be done on the screen that is on top, in words; `None` if it can.
pub(super) fn why_not(top: &dyn Screen, desk: &Desk, intent: Intent) -> Option<String> {
    if footer::can(top, desk, intent) {
        return None;
    }
    Some(match intent {
        _ if !desk.can_write() && changes(top, intent) => READ_ONLY.into(),
        Intent::Undo if !top.has_own_undo() => "nothing was done yet".into(),
        Intent::Redo => "nothing was taken back".into(),
        _ => {
            let why = top.why_not(desk, intent);
            why.unwrap_or_else(|| "nothing here can be used for that".into())
        }
    })
}

/// Whether it would alter the collection, and that is open for reading only.
pub(super) fn is_barred(top: &dyn Screen, desk: &Desk, intent: Intent) -> bool {
    !desk.can_write() && changes(top, intent) && !footer::can(top, desk, intent)
}

/// Whether it is meant to alter the collection on the screen that is on top.
fn changes(top: &dyn Screen, intent: Intent) -> bool {
    match intent {
        Intent::Undo => !top.has_own_undo(),
        // Everywhere else it opens or chooses something.
        Intent::Accept => matches!(
            top.context(),
            Context::Import | Context::TypeIn | Context::Spine
        ),
        _ => intent.changes(),
    }
}

/// Everything that can be done, for the finder of deeds, where these screens stand on each other.
pub(super) fn lines(screens: &[Box<dyn Screen>], desk: &Desk) -> Vec<Line> {
    let Some(top) = screens.last() else {
        return Vec::new();
    };
    let mut lines = here(top.as_ref(), desk);
    let bases: Vec<Context> = screens.iter().rev().map(|s| s.context()).collect();
    for (place, name) in ELSEWHERE.iter().filter(|(place, _)| *place != bases[0]) {
        let Some((at, way)) =
            (0..bases.len()).find_map(|at| keymap::way(bases[at], *place).map(|way| (at, way)))
        else {
            continue;
        };
        // Of a way only its first verb can be looked at before it is gone.
        let screen = &screens[screens.len() - 1 - at];
        let first = way.first().filter(|verb| !screen.can(desk, **verb));
        let blocked = first.map(|verb| {
            let why = screen.why_not(desk, *verb);
            why.unwrap_or_else(|| "it cannot be reached now".into())
        });
        for (intent, ..) in desk.keys.intents(*place) {
            if intent.is_plain() || intent == Intent::Quit || known(&lines, intent) {
                continue;
            }
            let mut verbs = way.clone();
            verbs.push(intent);
            lines.push(Line {
                keys: keys(desk, at, &bases, &verbs),
                words: intent.sentence(*place).into(),
                short: intent.word(*place),
                other_words: intent.other_words(),
                place: name,
                deed: Deed::Verbs {
                    base: bases[at],
                    verbs,
                },
                why_not: blocked.clone(),
            });
        }
        if *place == Context::Binder {
            lines.extend(letters(desk, at, &bases, &way, blocked.as_ref()));
        }
    }
    if bases[0] == Context::Binder {
        lines.extend(letters(desk, 0, &bases, &[], None));
    }
    for (command, words, other_words) in COMMANDS {
        lines.push(Line {
            keys: String::new(),
            words: (*words).into(),
            short: "",
            other_words,
            place: "a command",
            deed: Deed::Command(command),
            why_not: None,
        });
    }
    lines
}

/// What the screen on top offers, and what it would offer at another time.
fn here(top: &dyn Screen, desk: &Desk) -> Vec<Line> {
    let context = top.context();
    let intents = desk.keys.intents(context);
    let (plain, own): (Vec<_>, Vec<_>) = intents.into_iter().partition(|(i, ..)| i.is_plain());
    let all = own.into_iter().chain(plain);
    all.filter(|(intent, ..)| *intent != Intent::Anything)
        .map(|(intent, keys, _)| Line {
            keys: keys[0].to_string(),
            words: intent.sentence(context).into(),
            short: intent.word(context),
            other_words: intent.other_words(),
            place: "",
            deed: Deed::Verbs {
                base: context,
                verbs: vec![intent],
            },
            why_not: why_not(top, desk, intent),
        })
        .collect()
}

/// The list of deeds at a pocket has letters instead of verbs.
fn letters(
    desk: &Desk,
    at: usize,
    bases: &[Context],
    way: &[Intent],
    blocked: Option<&String>,
) -> Vec<Line> {
    let mut verbs = way.to_vec();
    verbs.push(Intent::Arrange);
    let before = keys(desk, at, bases, &verbs);
    let line = |(letter, words, other_words): &(char, &str, &'static str)| Line {
        keys: format!("{before} {letter}"),
        words: (*words).into(),
        short: "",
        other_words,
        place: "at a pocket",
        deed: Deed::Letter {
            base: bases[at],
            verbs: verbs.clone(),
            letter: *letter,
        },
        why_not: blocked.cloned(),
    };
    menu::USUAL.iter().map(line).collect()
}

fn known(lines: &[Line], intent: Intent) -> bool {
    let is = |line: &Line| match &line.deed {
        Deed::Verbs { verbs, .. } => verbs.last() == Some(&intent),
        Deed::Letter { .. } | Deed::Command(_) => false,
    };
    lines.iter().any(is)
}

/// The keys that lead along these verbs from the base of this number, those that close what stands
/// above it included.
fn keys(desk: &Desk, at: usize, bases: &[Context], verbs: &[Intent]) -> String {
    let mut keys: Vec<String> = (bases.iter().take(at))
        .map(|above| desk.key(*above, Intent::Leave))
        .collect();
    let mut here = bases[at];
    for verb in verbs {
        keys.push(desk.key(here, *verb));
        here = keymap::leads_to(here, *verb).unwrap_or(here);
    }
    keys.join(" ")
}
