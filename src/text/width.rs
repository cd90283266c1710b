//! Columns of a terminal (UAX #11, ambiguous characters taken as narrow) and cutting to them by
//! whole grapheme clusters (UAX #29).

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Columns that the text takes. Text from outside goes through [`super::safe`] first.
#[must_use]
pub fn columns(text: &str) -> usize {
    text.width()
}

/// The text, cut to at most `most` columns at a grapheme boundary; where something was dropped
/// it ends in `more` (one column: an ellipsis, or `~` on a plain terminal).
#[must_use]
pub fn fit(text: &str, most: usize, more: char) -> String {
    if columns(text) <= most {
        return text.into();
    }
    if most == 0 {
        return String::new();
    }
    let mut cut = String::new();
    let mut used = 0;
    for cluster in text.graphemes(true) {
        let width = columns(cluster);
        if used + width > most - 1 {
            break;
        }
        used += width;
        cut.push_str(cluster);
    }
    cut.push(more);
    cut
}

/// [`fit`], filled up with spaces to exactly `most` columns.
#[must_use]
pub fn pad(text: &str, most: usize, more: char) -> String {
    let mut out = fit(text, most, more);
    let used = columns(&out);
    out.extend(std::iter::repeat_n(' ', most.saturating_sub(used)));
    out
}

/// The text broken at spaces into lines of at most `most` columns and at most `lines` lines;
/// a word that is longer than a line is broken, and what has no room ends in `more`.
#[must_use]
pub fn wrap(text: &str, most: usize, lines: usize, more: char) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    if most == 0 || lines == 0 {
        return out;
    }
    let mut line = String::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        if out.len() + 1 == lines {
            out.push(fit(rest, most, more));
            return out;
        }
        let mut end = 0;
        let mut space = None;
        for (at, cluster) in rest.grapheme_indices(true) {
            if columns(&line) + columns(cluster) > most {
                break;
            }
            if cluster == " " {
                space = Some(at);
            }
            line.push_str(cluster);
            end = at + cluster.len();
        }
        if end == rest.len() {
            out.push(std::mem::take(&mut line));
            return out;
        }
        let cut = space
            .filter(|_| !rest[end..].starts_with(' '))
            .unwrap_or(end);
        // A cluster wider than the whole line still has to be passed.
        let cut = if cut == 0 {
            rest.graphemes(true).next().map_or(rest.len(), str::len)
        } else {
            cut
        };
        out.push(fit(rest[..cut].trim_end(), most, more));
        line.clear();
        rest = rest[cut..].trim_start();
    }
    out
}
