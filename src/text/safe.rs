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
