//! Columns of a terminal (UAX #11, ambiguous characters taken as narrow) and cutting to them by
//! whole grapheme clusters (UAX #29).

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Columns that the text takes, cluster by cluster, as a screen made of cells draws it. (Measured
/// as one, two Arabic letters may count as one joined sign; in cells they are still two.) Text
/// from outside goes through [`super::safe`] first.
#[must_use]
pub fn columns(text: &str) -> usize {
    if text.is_ascii() {
        return text.len();
    }
    text.graphemes(true).map(UnicodeWidthStr::width).sum()
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
/// a word that is longer than a line is broken, and what has no room ends in `more`. No line is
/// wider than asked: of a cluster that is, `more` stands for it.
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

/// The text with each word that is longer than a line broken by a hyphen and a space, so that
/// [`wrap`] breaks it there. Lines of less than three columns are left alone.
#[must_use]
pub fn hyphenated(text: &str, most: usize) -> String {
    let mut out = String::with_capacity(text.len());
    for (at, word) in text.split(' ').enumerate() {
        if at > 0 {
            out.push(' ');
        }
        let mut rest = word;
        while columns(rest) > most && most > 2 {
            let mut end = 0;
            for (at, cluster) in rest.grapheme_indices(true) {
                // One column is the hyphen's.
                if columns(&rest[..at + cluster.len()]) > most - 1 {
                    break;
                }
                end = at + cluster.len();
            }
            if end == 0 {
                break;
            }
            out.push_str(&rest[..end]);
            // One that has its hyphen there needs no other.
            out.push_str(if rest[..end].ends_with('-') {
                " "
            } else {
                "- "
            });
            rest = &rest[end..];
        }
        out.push_str(rest);
    }
    out
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::Value;

    use super::*;

    /// The sources are named in the file.
    fn cases(kind: &str) -> Vec<Value> {
        crate::checks::cases("widths.json", kind)
    }

    fn number(value: &Value) -> usize {
        usize::try_from(value.as_u64().unwrap()).unwrap()
    }

    #[test]
    fn columns_are_what_both_readings_of_the_annex_give() {
        for case in cases("width") {
            let text = case["s"].as_str().unwrap();
            let ours = columns(text);
            let one = number(&case["rust_width"]) == ours;
            // Below zero for control characters, which that reading does not measure.
            let other = case["wcswidth"].as_u64() == Some(ours as u64);
            // Where the two differ the choice is open.
            let agree = case["agree"].as_bool().unwrap();
            assert!(
                if agree { one && other } else { one || other },
                "{ours} {case}"
            );
            assert_eq!(
                text.graphemes(true).count(),
                number(&case["graphemes"]),
                "{case}"
            );
        }
    }

    #[test]
    fn texts_are_cut_and_filled_up_to_the_column() {
        for case in cases("truncate") {
            let (text, most) = (case["s"].as_str().unwrap(), number(&case["columns"]));
            let cut = fit(text, most, '…');
            assert_eq!(cut, case["out"].as_str().unwrap(), "{case}");
            assert_eq!(columns(&cut), number(&case["out_width"]), "{case}");
            let filled = format!("{cut}{}", " ".repeat(number(&case["pad"])));
            assert_eq!(pad(text, most, '…'), filled, "{case}");
        }
    }

    #[test]
    fn a_long_word_is_broken_with_a_hyphen() {
        let spine = |title: &str| wrap(&hyphenated(title, 8), 8, 9, '…');
        assert_eq!(spine("Tidewrack Notes"), ["Tidewra-", "ck Notes"]);
        assert_eq!(spine("Exceedingly Long"), ["Exceedi-", "ngly", "Long"]);
        assert_eq!(spine("The Tidewracks"), ["The", "Tidewra-", "cks"]);
        assert_eq!(spine("Moss-Greenwood"), ["Moss-Gr-", "eenwood"]);
        assert_eq!(spine("Heathland"), ["Heathla-", "nd"]);
        assert_eq!(spine("Heath"), ["Heath"]);
    }

    /// Words of narrow and wide characters, marks and joined pictures.
    fn words() -> impl Strategy<Value = String> {
        let pieces = vec![
            "a",
            "bc",
            "漢",
            "字カ",
            "e\u{301}",
            "👨\u{200D}👩\u{200D}👧",
            "🇩🇪",
            " ",
            "  ",
            "لا",
        ];
        prop::collection::vec(prop::sample::select(pieces), 0..30).prop_map(|p| p.concat())
    }

    fn plain(text: &str) -> String {
        text.chars().filter(|c| !c.is_whitespace()).collect()
    }

    proptest! {
        #[test]
        fn nothing_is_wider_than_asked(
            text in prop_oneof![words(), any::<String>()],
            most in 0usize..30,
            lines in 0usize..6,
        ) {
            prop_assert!(columns(&fit(&text, most, '…')) <= most);
            prop_assert_eq!(columns(&pad(&text, most, '…')), most);
            let wrapped = wrap(&text, most, lines, '…');
            prop_assert!(wrapped.len() <= lines);
            for line in wrapped {
                prop_assert!(columns(&line) <= most, "{:?}", line);
            }
        }

        #[test]
        fn what_fits_is_left_alone(text in words()) {
            prop_assert_eq!(fit(&text, columns(&text), '…'), text);
        }

        #[test]
        fn wrapping_loses_no_letter_while_there_are_lines(text in words(), most in 2usize..30) {
            // Two columns take any one cluster of these words.
            let wrapped = wrap(&text, most, usize::MAX, '…');
            prop_assert_eq!(plain(&wrapped.concat()), plain(&text));
        }

        #[test]
        fn what_has_no_room_on_the_lines_is_told(text in words(), most in 2usize..12, lines in 1usize..4) {
            let whole = wrap(&text, most, usize::MAX, '…');
            let some = wrap(&text, most, lines, '…');
            prop_assert_eq!(some.len(), whole.len().min(lines));
            let told = some.last().is_some_and(|line| line.ends_with('…'));
            prop_assert_eq!(told, whole.len() > lines);
        }

        #[test]
        fn hyphens_stand_where_a_long_word_is_broken_and_nowhere_else(
            words in words(),
            most in 6usize..20,
        ) {
            let broken = hyphenated(&words, most);
            prop_assert_eq!(broken.replace("- ", ""), words.clone());
            for word in broken.split(' ') {
                prop_assert!(columns(word) <= most, "{:?}", word);
            }
            if words.split(' ').all(|word| columns(word) <= most) {
                prop_assert_eq!(broken, words);
            }
        }

        #[test]
        fn a_word_is_broken_only_when_no_line_could_hold_it(
            words in prop::collection::vec("[a-z]{1,6}", 0..12),
            most in 6usize..20,
        ) {
            let wrapped = wrap(&words.join(" "), most, usize::MAX, '…');
            let again: Vec<_> = wrapped.iter().flat_map(|line| line.split(' ')).collect();
            prop_assert_eq!(again, words);
        }
    }
}
