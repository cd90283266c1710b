//! Fields that a spreadsheet would take for formulas, told by their first sign: OWASP, "CSV
//! Injection". Quotes do not help. A cell may also begin inside a field, where a program splits at
//! semicolons, tabs or line ends instead of commas.

use std::borrow::Cow;
use std::iter::repeat_n;

/// Whether what is exported may be opened with a spreadsheet without a second thought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Form {
    /// An apostrophe before each sign that begins a formula. Reading takes it away again.
    #[default]
    Guarded,
    /// As it is kept, letter for letter.
    Raw,
}

/// `=`, `+`, `-`, `@`, tab and line ends, also in their full-width forms.
fn begins_formula(c: char) -> bool {
    matches!(
        c,
        '=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠'
    )
}

fn ends_cell(c: char) -> bool {
    matches!(c, ';' | '\t' | '\r' | '\n')
}

/// The field with its guards.
pub(super) fn guard(field: &str) -> Cow<'_, str> {
    if field.contains(begins_formula) {
        Cow::Owned(turned(field, |apostrophes| apostrophes + 1))
    } else {
        Cow::Borrowed(field)
    }
}

/// The field without them.
pub(super) fn unguard(field: &str) -> Cow<'_, str> {
    if field.contains('\'') {
        Cow::Owned(turned(field, |apostrophes| apostrophes.saturating_sub(1)))
    } else {
        Cow::Borrowed(field)
    }
}

/// With another number of apostrophes before each sign that begins a formula.
fn turned(field: &str, apostrophes: impl Fn(usize) -> usize) -> String {
    let mut out = String::with_capacity(field.len() + 4);
    let (mut rest, mut begins) = (field, true);
    while let Some(first) = rest.chars().next() {
        if begins && (first == '\'' || begins_formula(first)) {
            let behind = rest.trim_start_matches('\'');
            let there = rest.len() - behind.len();
            let counted = match behind.chars().next() {
                Some(c) if begins_formula(c) => apostrophes(there),
                _ => there,
            };
            out.extend(repeat_n('\'', counted));
            (rest, begins) = (behind, false);
            continue;
        }
        out.push(first);
        rest = &rest[first.len_utf8()..];
        begins = ends_cell(first);
    }
    out
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// OWASP, "CSV Injection" (the list of signs, with the line feed added in 2025).
    #[test]
    fn no_cell_begins_with_a_sign_of_a_formula() {
        for (field, guarded) in [
            ("=1+1", "'=1+1"),
            ("-7", "'-7"),
            ("@x", "'@x"),
            ("\t=x", "'\t'=x"),
            ("a;=x", "a;'=x"),
            ("a\n+x", "a\n'+x"),
            ("＝x", "'＝x"),
            ("'=x", "''=x"),
            ("'tis", "'tis"),
            ("a=b", "a=b"),
            ("Mire-Lamp", "Mire-Lamp"),
            ("", ""),
            ("'", "'"),
        ] {
            assert_eq!(guard(field), guarded);
            assert_eq!(unguard(guarded), field);
        }
    }

    proptest! {
        #[test]
        fn what_is_guarded_begins_no_formula_and_comes_back(
            field in "[='+\\-@\t\r\n;a＝]{0,8}|.{0,12}"
        ) {
            let guarded = guard(&field);
            prop_assert_eq!(unguard(&guarded), field.as_str());
            let first = |cell: &str| cell.chars().next();
            // A tab or a line end at the beginning is a cell of its own to who splits there.
            prop_assert!(!first(&guarded).is_some_and(begins_formula), "{guarded}");
            for cell in guarded.split(ends_cell) {
                prop_assert!(!first(cell).is_some_and(begins_formula), "{guarded}");
            }
        }
    }
}
