//! Words made to fit a room by measuring: smaller, then in several lines, then shortened.

use std::collections::HashMap;
use std::ops::Range;

use unicode_segmentation::UnicodeSegmentation;

use super::font::{Fonts, Run, Weight};

/// The room for words, in millimetres: along the lines, and across them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Room {
    pub(super) along: f64,
    pub(super) across: f64,
    /// The greatest and the least em.
    pub(super) largest: f64,
    pub(super) smallest: f64,
    pub(super) lines: usize,
}

/// Words that fit their room.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fitted {
    pub(super) lines: Vec<Run>,
    /// Something was left out.
    pub(super) shortened: bool,
    /// A word was broken, since even at the least size it is longer than a line.
    pub(super) broken: bool,
}

impl Fitted {
    /// Across all lines.
    pub(super) fn across(&self) -> f64 {
        self.lines.iter().map(Run::height).sum()
    }

    #[cfg(test)]
    fn along(&self) -> f64 {
        self.lines.iter().map(Run::width).fold(0.0, f64::max)
    }
}

/// In one line as large as it can be, unless more lines let it be larger; where even the least
/// size has no room, shortened with an ellipsis. Empty where not even one line has room.
pub(super) fn fit(fonts: &Fonts<'_>, words: &str, weight: Weight, room: Room) -> Fitted {
    let one = fonts.run(words, weight, 1.0);
    if one.words.is_empty() {
        return Fitted {
            lines: Vec::new(),
            shortened: false,
            broken: false,
        };
    }
    let mut best: Option<(f64, Vec<Run>)> = None;
    for count in 1..=room.lines {
        let lines = split(fonts, &one, weight, count);
        if lines.len() < count {
            break;
        }
        let size = largest(&lines, room);
        if best.as_ref().is_none_or(|(other, _)| size > *other * 1.001) {
            best = Some((size, lines));
        }
    }
    if let Some((size, lines)) = best
        && size >= room.smallest
    {
        return Fitted {
            lines: lines.into_iter().map(|line| line.at(size)).collect(),
            shortened: false,
            broken: false,
        };
    }
    shorten(fonts, &one.words, weight, room)
}

/// The greatest em with which the lines have room.
fn largest(lines: &[Run], room: Room) -> f64 {
    let width = lines
        .iter()
        .map(|line| line.width() / line.size)
        .fold(0.0, f64::max);
    let height: f64 = lines.iter().map(|line| line.height() / line.size).sum();
    let along = if width > 0.0 {
        room.along / width
    } else {
        f64::MAX
    };
    room.largest.min(along).min(room.across / height)
}

/// Into so many lines at spaces, the longest as short as can be; fewer where there are not so
/// many words.
fn split(fonts: &Fonts<'_>, whole: &Run, weight: Weight, count: usize) -> Vec<Run> {
    if count == 1 {
        return vec![whole.clone()];
    }
    let words: Vec<&str> = whole.words.split_whitespace().collect();
    if words.len() < count {
        return Vec::new();
    }
    // The same few lines are asked for again and again, and to measure one takes long.
    let mut known: HashMap<Range<usize>, Run> = HashMap::new();
    let run = |of: &Range<usize>| fonts.run(&words[of.clone()].join(" "), weight, 1.0);
    let mut width = |of: Range<usize>| {
        let known = known.entry(of).or_insert_with_key(run);
        known.width()
    };
    // By halves: the least width with which so many lines are enough.
    let (mut low, mut high) = (0.0, whole.width());
    for _ in 0..20 {
        let middle = (low + high) / 2.0;
        if wrap_at(words.len(), middle, &mut width).len() <= count {
            high = middle;
        } else {
            low = middle;
        }
    }
    let lines = wrap_at(words.len(), high, &mut width);
    lines.iter().map(run).collect()
}

/// The words of each line, where no line but one of a single word is wider than `most`.
fn wrap_at(
    words: usize,
    most: f64,
    mut width: impl FnMut(Range<usize>) -> f64,
) -> Vec<Range<usize>> {
    let mut lines: Vec<Range<usize>> = Vec::new();
    for word in 0..words {
        match lines.last_mut() {
            Some(line) if width(line.start..word + 1) <= most => line.end = word + 1,
            _ => lines.push(word..word + 1),
        }
    }
    lines
}

/// At the least size, with as many lines as there is room for, and an ellipsis where even they are
/// not enough.
fn shorten(fonts: &Fonts<'_>, words: &str, weight: Weight, room: Room) -> Fitted {
    let height = fonts.run("x", weight, room.smallest).height();
    let count = ((room.across / height + 1e-9) as usize).min(room.lines);
    let mut lines = Vec::new();
    let mut rest = words.trim();
    let mut broken = false;
    for line in 1..=count {
        if rest.is_empty() {
            break;
        }
        let (run, used) = cut(fonts, rest, weight, room, line == count);
        let left = &rest[used..];
        rest = left.trim_start();
        broken |= !rest.is_empty() && rest.len() == left.len();
        lines.push(run);
    }
    Fitted {
        lines,
        shortened: !rest.is_empty(),
        broken,
    }
}

/// What of the words fits one line, and how many of their bytes it shows. The last line ends in
/// an ellipsis where something is left; the others end with a word if they can.
fn cut(fonts: &Fonts<'_>, words: &str, weight: Weight, room: Room, last: bool) -> (Run, usize) {
    let whole = fonts.run(words, weight, room.smallest);
    if whole.width() <= room.along {
        return (whole, words.len());
    }
    let ends: Vec<usize> = (words.grapheme_indices(true))
        .map(|(at, cluster)| at + cluster.len())
        .collect();
    let told = |end: usize| {
        let part = words[..end].trim_end();
        let more = if last { "…" } else { "" };
        fonts.run(&format!("{part}{more}"), weight, room.smallest)
    };
    let fits = ends.partition_point(|end| told(*end).width() <= room.along);
    let mut end = fits.checked_sub(1).map_or(0, |at| ends[at]);
    let at_word = words[..end].rfind(char::is_whitespace);
    let inside = !words[end..].starts_with(char::is_whitespace);
    if let Some(space) = at_word.filter(|space| inside && *space > end / 2) {
        end = space;
    }
    (told(end), end)
}

/// Words in as many lines as they need, none broken but those that are longer than a line.
pub(super) fn wrap(
    fonts: &Fonts<'_>,
    words: &str,
    weight: Weight,
    size: f64,
    along: f64,
) -> Vec<Run> {
    let whole = fonts.run(words, weight, size);
    if whole.width() <= along {
        return vec![whole];
    }
    let mut lines: Vec<Run> = Vec::new();
    for word in whole.words.split_whitespace() {
        let longer = lines.last().map(|line| format!("{} {word}", line.words));
        let longer = longer.map(|words| fonts.run(&words, weight, size));
        match (longer.filter(|run| run.width() <= along), lines.last_mut()) {
            (Some(run), Some(line)) => *line = run,
            _ => lines.extend(pieces(fonts, word, weight, size, along)),
        }
    }
    lines
}

/// A word, broken where it is longer than a line.
fn pieces(fonts: &Fonts<'_>, word: &str, weight: Weight, size: f64, along: f64) -> Vec<Run> {
    let mut pieces = Vec::new();
    let mut rest = word;
    loop {
        let ends: Vec<usize> = (rest.grapheme_indices(true))
            .map(|(at, cluster)| at + cluster.len())
            .collect();
        let run = |end: usize| fonts.run(&rest[..end], weight, size);
        let fits = ends.partition_point(|end| run(*end).width() <= along);
        // One sign at least, or there would be no end.
        let end = ends.get(fits.max(1) - 1).copied().unwrap_or(rest.len());
        pieces.push(run(end));
        rest = &rest[end..];
        if rest.is_empty() {
            return pieces;
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn room(along: f64, across: f64) -> Room {
        Room {
            along,
            across,
            largest: 10.0,
            smallest: 2.0,
            lines: 2,
        }
    }

    fn words(fitted: &Fitted) -> Vec<&str> {
        fitted.lines.iter().map(|run| run.words.as_str()).collect()
    }

    #[test]
    fn words_become_smaller_then_take_two_lines_then_are_shortened() {
        let fonts = Fonts::own();
        let fit = |words, along, across| fit(&fonts, words, Weight::Bold, room(along, across));
        let large = fit("The Fen", 200.0, 20.0);
        assert_eq!((large.lines.len(), large.lines[0].size), (1, 10.0));
        let smaller = fit("The Fen", 20.0, 6.0);
        assert_eq!(smaller.lines.len(), 1);
        assert!(smaller.lines[0].size < 10.0);
        let two = fit("The Long Wood and the Fen", 60.0, 20.0);
        assert_eq!(words(&two), ["The Long Wood", "and the Fen"]);
        assert!(!two.shortened);
        let long = "a very long title ".repeat(23);
        let cut = fit(&long, 60.0, 20.0);
        assert!(cut.shortened);
        assert_eq!(cut.lines.len(), 2);
        assert!(cut.lines[1].words.ends_with('…'));
        assert!(cut.lines.iter().all(|line| line.size == 2.0));
        assert_eq!(fit("", 60.0, 20.0).lines, []);
        // A word that is longer than a line is broken, and nothing of it is left out.
        let word = "w".repeat(40);
        let broken = fit(&word, 60.0, 20.0);
        assert_eq!(words(&broken).concat(), word);
        assert!(broken.broken && !broken.shortened);
        assert_eq!(fit("a b c d e f g h", 1.0, 0.5).lines, []);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(128))]

        #[test]
        fn what_was_fitted_is_never_larger_than_its_room(
            words in "[a-zA-Zäßж森 ]{0,80}",
            along in 8.0..120.0,
            across in 1.0..30.0,
        ) {
            let fonts = Fonts::own();
            let fitted = fit(&fonts, &words, Weight::Plain, room(along, across));
            prop_assert!(fitted.along() <= along + 1e-6);
            prop_assert!(fitted.across() <= across + 1e-6);
            // All words are there, in their order, unless it says otherwise.
            if !fitted.shortened {
                let told: Vec<&str> = fitted.lines.iter().flat_map(|run| run.words.split_whitespace()).collect();
                let all: Vec<&str> = words.split_whitespace().collect();
                match fitted.broken {
                    false => prop_assert_eq!(told, all),
                    true => prop_assert_eq!(told.concat(), all.concat()),
                }
            }
        }

        #[test]
        fn wrapping_loses_no_letter_and_no_line_is_too_long(
            words in "[a-z]{1,30}( [a-z]{1,30}){0,8}",
            along in 10.0..80.0,
        ) {
            let fonts = Fonts::own();
            let lines = wrap(&fonts, &words, Weight::Plain, 4.0, along);
            prop_assert!(lines.iter().all(|run| run.width() <= along + 1e-6));
            let letters = |words: &str| words.replace(' ', "");
            let told: String = lines.iter().map(|run| letters(&run.words)).collect();
            prop_assert_eq!(told, letters(&words));
        }
    }
}
