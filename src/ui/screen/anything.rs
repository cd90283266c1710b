//! Whatever can be done, found by a few letters: first what can be done here and now, then what
//! other screens offer, with all the keys that lead there, then what is for the command line.

use crossterm::event::KeyEvent;
use nucleo_matcher::pattern::{AtomKind, CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// How a deed is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Deed {
    /// From the screen of the stack where `base` holds, along the verbs, and then the last one.
    Verbs { base: Context, verbs: Vec<Intent> },
    /// The same, and then a letter of the list that stands there.
    Letter {
        base: Context,
        verbs: Vec<Intent>,
        letter: char,
    },
    /// On the command line only.
    Command(&'static str),
}

/// A line of the list.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    pub(crate) keys: String,
    /// A sentence, and the same in two or three words.
    pub(crate) words: String,
    pub(crate) short: &'static str,
    /// Other words under which it is looked for.
    pub(crate) other_words: &'static str,
    /// Where it is done, where that is not here.
    pub(crate) place: &'static str,
    pub(crate) deed: Deed,
    /// Why it cannot be done now, if it cannot.
    pub(crate) why_not: Option<String>,
}

/// What only commands do.
pub(crate) const COMMANDS: &[(&str, &str, &str)] = &[
    (
        "ringbound import copies FILE --in-place",
        "take in copies from a CSV file, into their pockets",
        "spreadsheet have owned",
    ),
    (
        "ringbound export copies FILE",
        "write all copies to a CSV file",
        "spreadsheet save backup",
    ),
    (
        "ringbound export checklist FILE",
        "write the checklists to a CSV file, to fill in names",
        "spreadsheet names rarity edit",
    ),
    (
        "ringbound sort-pile",
        "how to sort a pile of cards by hand, heap by heap",
        "order deal",
    ),
    (
        "ringbound packs CODE",
        "how many further packs until a set is complete",
        "chance odds boosters",
    ),
    (
        "ringbound completion",
        "how far each set is, by finish and by rarity",
        "progress percent statistics",
    ),
    (
        "ringbound settings",
        "keys, colours, signs and paper of your own, in one file",
        "configuration options preferences light dark background theme palette font",
    ),
    (
        "ringbound pictures",
        "pictures of your cards: where they go, which there are",
        "image photo scan art show",
    ),
    (
        "ringbound check",
        "check whether the collection is whole, and mend it",
        "damage repair",
    ),
    (
        "ringbound recover",
        "go back to an earlier state of the collection",
        "backup restore",
    ),
];

/// The list with its field.
#[derive(Debug)]
pub(crate) struct Anything {
    field: Field,
    all: Vec<Line>,
    /// Places in `all`, the best first.
    found: Vec<usize>,
    chosen: usize,
}

impl Anything {
    /// Of these lines, those that can be done here first.
    pub(crate) fn of(all: Vec<Line>) -> Self {
        let mut deeds = Self {
            field: Field::default(),
            all,
            found: Vec::new(),
            chosen: 0,
        };
        deeds.search();
        deeds
    }

    fn search(&mut self) {
        self.chosen = 0;
        self.found = ranked(&self.all, self.field.value());
    }

    fn take(&self, desk: &mut Desk) -> Next {
        let Some(line) = self.found.get(self.chosen).map(|at| &self.all[*at]) else {
            desk.warn("Nothing has that name: try another word for it, or fewer letters");
            return Next::Stay;
        };
        if let Some(why) = &line.why_not {
            desk.warn(format!("Not now: {why}"));
            return Next::Stay;
        }
        if let Deed::Command(command) = line.deed {
            desk.say(format!("On the command line: {command}"));
            return Next::Close;
        }
        Next::Do(line.deed.clone())
    }

    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        let height = body.height.saturating_sub(2).clamp(5, 26);
        paint::centred(body, 96, height)
    }

    fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        Rect {
            x: window.x + 1,
            y: (window.y + 2).min(window.bottom()),
            width: window.width.saturating_sub(2),
            height: window.height.saturating_sub(3),
        }
    }

    fn first_shown(&self, list: Rect) -> usize {
        let room = usize::from(list.height).max(1);
        self.chosen / room * room
    }
}

/// The places of the lines that answer to what was typed, the best first. What can be done here
/// and now is before what meets the words as well elsewhere; nothing typed finds all, in order.
/// Letters that are scattered over a word of a line count only where no line has the words
/// themselves; over several words they say nothing.
fn ranked(all: &[Line], typed: &str) -> Vec<usize> {
    let group = |line: &Line| match (&line.why_not, line.place, &line.deed) {
        (None, "", _) => 0u32,
        (None, _, Deed::Command(_)) => 2,
        (None, ..) => 1,
        (Some(_), ..) => 3,
    };
    let typed = typed.trim();
    let mut found: Vec<(u32, u32, usize)> = Vec::new();
    if typed.is_empty() {
        found.extend((0..all.len()).map(|at| (0, group(&all[at]), at)));
    } else {
        let pattern = Pattern::new(
            typed,
            CaseMatching::Ignore,
            Normalization::Smart,
            AtomKind::Fuzzy,
        );
        let mut matcher = Matcher::new(Config::DEFAULT);
        let mut score = |words: &str| {
            let mut buf = Vec::new();
            pattern.score(Utf32Str::new(words, &mut buf), &mut matcher)
        };
        let words = typed.split(|c: char| !c.is_alphanumeric());
        let words = words.filter(|word| !word.is_empty());
        let words: Vec<String> = words.map(str::to_lowercase).collect();
        let mut has_words = false;
        for (at, line) in all.iter().enumerate() {
            let command = match line.deed {
                Deed::Command(command) => command,
                _ => "",
            };
            let all = format!(
                "{} {} {} {command}",
                line.short, line.words, line.other_words
            );
            let Some(score) = score(&all) else { continue };
            let all = all.to_lowercase();
            let begins = |word: &String| {
                let mut words = all.split(|c: char| !c.is_alphanumeric());
                words.any(|own| own.starts_with(&**word))
            };
            let whole = words.iter().all(begins);
            if !whole && !words.iter().all(|word| meets_a_word(word, &all)) {
                continue;
            }
            if whole && !has_words {
                has_words = true;
                found.clear();
            }
            if whole || !has_words {
                found.push((score, group(line), at));
            }
        }
        // Letters that lie far apart meet almost anything: what is much worse than the best is
        // not what is meant.
        let best = found.iter().map(|(score, ..)| *score).max().unwrap_or(0);
        found.retain(|(score, ..)| *score * 10 >= best * 7);
    }
    let here = |group: u32| if group == 0 { 12 } else { 0 };
    found.sort_by_key(|(score, group, at)| {
        let place = if typed.is_empty() { *group } else { 0 };
        (place, std::cmp::Reverse(score + here(*group)), *group, *at)
    });
    found.into_iter().map(|(.., at)| at).collect()
}

/// Whether some word of the line has what was typed in it; or its letters, in their order, and
/// begins with the first of them.
fn meets_a_word(typed: &str, line: &str) -> bool {
    let mut words = line.split(|c: char| !c.is_alphanumeric());
    words.any(|word| {
        let mut own = word.chars();
        let mut has_letters = || typed.chars().all(|letter| own.any(|c| c == letter));
        word.contains(typed) || typed.chars().next() == word.chars().next() && has_letters()
    })
}

impl Screen for Anything {
    fn context(&self) -> Context {
        Context::Anything
    }

    fn has_field(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.found.len().saturating_sub(1);
        let room = usize::from(self.list(desk).height);
        match intent {
            Intent::Leave => Next::Close,
            Intent::Accept => self.take(desk),
            _ => {
                self.chosen = intent.stepped(self.chosen, room, last);
                Next::Stay
            }
        }
    }

    fn key(&mut self, _: &mut Desk, event: &KeyEvent) -> Next {
        if self.field.key(event) {
            self.search();
        }
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        self.field.paste(words);
        self.search();
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        if mouse != Mouse::Left {
            return Next::Stay;
        }
        if !self.window(desk).contains((x, y).into()) {
            return Next::Close;
        }
        let list = self.list(desk);
        let at = self.first_shown(list) + usize::from(y.saturating_sub(list.y));
        if !list.contains((x, y).into()) || at >= self.found.len() {
            return Next::Stay;
        }
        if at == self.chosen {
            return self.take(desk);
        }
        self.chosen = at;
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " what do you want to do? ", theme);
        let at = (area.x + 2, area.y + 1);
        let room = area.width.saturating_sub(4);
        self.field.draw(at, room, true, theme, buf);
        if self.field.value().is_empty() {
            let words = match room {
                0..52 => "a few letters",
                _ => "a few letters of it, such as: draft, spare, label",
            };
            let quiet = theme.style(Role::Quiet);
            paint::line(buf, (at.0 + 2, at.1), room.saturating_sub(2), words, quiet);
        }
        let list = self.list(desk);
        let first = self.first_shown(list);
        let shown = self.found.iter().enumerate().skip(first);
        for (y, (at, found)) in (list.top()..list.bottom()).zip(shown) {
            let row = Rect {
                y,
                height: 1,
                ..list
            };
            draw_line(desk, &self.all[*found], at == self.chosen, row, buf);
        }
        if self.found.is_empty() {
            let words = "nothing has that name; fewer letters find more";
            let quiet = theme.style(Role::Quiet);
            paint::line(buf, (list.x + 1, list.y), room, words, quiet);
        }
    }
}

fn draw_line(desk: &Desk, line: &Line, chosen: bool, row: Rect, buf: &mut Buffer) {
    let theme = desk.theme;
    let here = if chosen { theme.glyphs().here } else { " " };
    paint::sign(buf, (row.x, row.y), here, theme.style(Role::Cursor));
    let keys = if row.width >= 60 { 14 } else { 8 };
    let quiet = theme.style(Role::Quiet);
    let can = line.why_not.is_none();
    let key_style = if can { theme.style(Role::Key) } else { quiet };
    paint::line(buf, (row.x + 2, row.y), keys, &line.keys, key_style);
    let style = match (chosen, can) {
        (true, _) => theme.style(Role::Selected),
        (false, true) => theme.style(Role::Text),
        (false, false) => quiet,
    };
    let x = row.x + 3 + keys;
    let room = row.right().saturating_sub(x + 1);
    let fits = line.short.is_empty() || text::columns(&line.words) <= usize::from(room);
    let words = if fits { &line.words } else { line.short };
    let used = paint::line(buf, (x, row.y), room, words, style);
    let why = line.why_not.as_ref().map(|why| format!("not now: {why}"));
    let tails = match (&why, &line.deed) {
        (Some(why), _) => [why, ""],
        (None, Deed::Command(command)) => [command, line.place],
        (None, _) => [line.place, ""],
    };
    // Only where there is room for all of it, or it would hide what it tells about.
    let fits = |tail: &&str| usize::from(used) + 2 + text::columns(tail) <= usize::from(room);
    if let Some(tail) = tails.into_iter().find(fits) {
        let width = text::columns(tail) as u16;
        paint::line(buf, (row.right() - 1 - width, row.y), width, tail, quiet);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(words: &str, place: &'static str, why_not: Option<&str>) -> Line {
        Line {
            keys: String::new(),
            words: words.into(),
            short: "",
            other_words: "",
            place,
            deed: Deed::Command(""),
            why_not: why_not.map(Into::into),
        }
    }

    /// No outside source: the order is what this program promises.
    #[test]
    fn what_can_be_done_here_stands_first_and_what_cannot_last() {
        let all = [
            line("throw the draft away", "drafts", None),
            line("carry the page", "", Some("no pages")),
            line("carry the card", "", None),
        ];
        assert_eq!(ranked(&all, ""), [2, 0, 1]);
        assert_eq!(ranked(&all, "carry"), [2, 1]);
        assert_eq!(ranked(&all, "draft"), [0]);
        assert_eq!(ranked(&all, "zzz"), Vec::<usize>::new());
    }

    /// No outside source: the order is what this program promises.
    #[test]
    fn a_word_is_found_before_letters_that_are_scattered() {
        let all = [
            line(
                "pages, binders and sleeves to put in a shelf to come",
                "",
                None,
            ),
            line("write to paper: print", "elsewhere", None),
            line("sprint on", "", None),
        ];
        assert_eq!(ranked(&all, "print"), [1]);
        assert_eq!(ranked(&all, "PRI pap"), [1]);
        assert_eq!(ranked(&all, "pgs"), [0]);
        assert_eq!(ranked(&all, "rint"), [2, 1]);
        // Letters of several words.
        assert_eq!(ranked(&all, "sell"), Vec::<usize>::new());
        assert_eq!(ranked(&all, "abts"), Vec::<usize>::new());
    }
}
