//! The one place where text from outside is made harmless before it is shown.
//!
//! Names come from files, and a terminal obeys control characters (ECMA-48, 5th edition, 1991)
//! and reorders text on bidirectional controls (UAX #9). Such characters are shown by a stand-in;
//! what is stored stays as it was written.

use std::borrow::Cow;

use unicode_width::UnicodeWidthChar;

/// The most combining marks that are drawn on one character; more of them would fill a cell of
/// the screen with kilobytes.
const MOST_MARKS: usize = 4;

/// The text with every character that could steer a terminal or hide in it replaced by a visible
/// stand-in of one column. Doing it twice changes nothing.
#[must_use]
pub fn safe(text: &str) -> Cow<'_, str> {
    // Printable ASCII, which most names are, needs no second look.
    if text.bytes().all(|b| (0x20..0x7f).contains(&b)) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    let mut marks = 0;
    let mut before = None;
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let joins = c == '\u{200D}'
            && before.is_some_and(is_picture)
            && rest.peek().copied().is_some_and(is_picture);
        if !joins && is_zero_width(c) {
            marks += 1;
        } else {
            marks = 0;
        }
        if marks > MOST_MARKS {
            continue;
        }
        shown.push(if joins { c } else { stand_in(c) });
        if c != '\u{FE0F}' {
            before = Some(c);
        }
    }
    Cow::Owned(shown)
}

fn stand_in(c: char) -> char {
    match c {
        // Control Pictures: one visible sign for each C0 control, U+2400 to U+241F, and delete.
        '\u{00}'..='\u{1F}' => char::from_u32(0x2400 + c as u32).unwrap_or('\u{FFFD}'),
        '\u{7F}' => '\u{2421}',
        // C1 controls; soft hyphen; bidirectional and zero-width controls; line and paragraph
        // separators; invisible operators; byte order mark; annotations; tags.
        '\u{80}'..='\u{9F}'
        | '\u{AD}'
        | '\u{061C}'
        | '\u{115F}'..='\u{1160}'
        | '\u{180E}'
        | '\u{200B}'..='\u{200F}'
        | '\u{2028}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}'
        | '\u{3164}'
        | '\u{FEFF}'
        | '\u{FFA0}'
        | '\u{FFF9}'..='\u{FFFB}'
        | '\u{E0000}'..='\u{E0FFF}' => '\u{FFFD}',
        c => c,
    }
}

fn is_zero_width(c: char) -> bool {
    stand_in(c) == c && c.width() == Some(0)
}

/// Roughly an emoji: what a zero-width joiner may stand between.
fn is_picture(c: char) -> bool {
    matches!(c, '\u{2190}'..='\u{2BFF}' | '\u{1F000}'..='\u{1FAFF}')
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::Value;

    use super::*;
    use crate::text::columns;

    /// The sources are named in the file.
    fn cases(kind: &str) -> Vec<Value> {
        crate::checks::cases("terminal_safety.json", kind)
    }

    /// Controls of ECMA-48 (general category Cc), bidirectional controls of UAX #9, and the two
    /// separators U+2028 and U+2029.
    fn steers(c: char) -> bool {
        c.is_control()
            || matches!(
                c,
                '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}'
            )
            || matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
    }

    #[test]
    fn what_steers_a_terminal_is_shown_and_all_else_stays() {
        for case in cases("neutralise") {
            let (given, example) = (
                case["s"].as_str().unwrap(),
                case["example"].as_str().unwrap(),
            );
            let shown = safe(given);
            let bad = given.chars().filter(|c| steers(*c)).count();
            assert_eq!(bad, case["bad_chars"].as_u64().unwrap() as usize, "{case}");
            assert!(!shown.chars().any(steers), "{case}");
            assert_eq!(safe(&shown), shown, "{case}");
            // The example's stand-in is U+FFFD; another visible one may be used.
            assert_eq!(shown.chars().count(), example.chars().count(), "{case}");
            for (ours, theirs) in shown.chars().zip(example.chars()) {
                assert!(theirs == '\u{FFFD}' || ours == theirs, "{case}");
            }
        }
    }

    #[test]
    fn bytes_that_are_no_text_are_harmless_once_decoded() {
        for case in cases("bytes") {
            let hex = case["hex"].as_str().unwrap();
            let byte = |at: usize| u8::from_str_radix(&hex[at..at + 2], 16).unwrap();
            let bytes: Vec<u8> = (0..hex.len()).step_by(2).map(byte).collect();
            let text = String::from_utf8_lossy(&bytes);
            assert_eq!(text, case["lossy"].as_str().unwrap(), "{case}");
            assert!(!safe(&text).chars().any(steers), "{case}");
        }
    }

    #[test]
    fn of_all_1_112_064_characters_none_that_steers_comes_through() {
        let mut seen = 0;
        let mut text = String::new();
        for c in '\0'..=char::MAX {
            seen += 1;
            text.clear();
            text.push(c);
            let shown = safe(&text);
            assert!(!shown.chars().any(steers), "{c:?}");
            if steers(c) {
                assert_eq!(columns(&shown), 1, "{c:?} has no visible stand-in");
            }
            assert_eq!(safe(&shown), shown, "{c:?}");
        }
        assert_eq!(seen, 1_112_064);
    }

    /// The characters that could disturb each other, with some that should not.
    fn tricky() -> impl Strategy<Value = String> {
        let characters = vec![
            'a',
            ' ',
            '\u{1B}',
            '\u{9B}',
            '\u{7F}',
            '\u{300}',
            '\u{301}',
            '\u{200D}',
            '\u{FE0F}',
            '\u{FE0E}',
            '\u{1F468}',
            '\u{1F469}',
            '\u{1F3FD}',
            '\u{2764}',
            '\u{202E}',
            '\u{2066}',
            '\u{FEFF}',
            '\u{1F1E9}',
            '漢',
            '\u{E0041}',
            '\u{20E3}',
        ];
        prop::collection::vec(prop::sample::select(characters), 0..24)
            .prop_map(|text| text.into_iter().collect())
    }

    proptest! {
        #[test]
        fn twice_is_as_good_as_once(text in prop_oneof![tricky(), any::<String>()]) {
            let once = safe(&text);
            prop_assert!(!once.chars().any(steers));
            prop_assert_eq!(&safe(&once), &once);
        }

        #[test]
        fn a_pile_of_marks_stays_small(marks in 0usize..2_000) {
            let text = format!("a{}", "\u{301}".repeat(marks));
            prop_assert!(safe(&text).chars().count() <= 1 + MOST_MARKS);
        }
    }
}
