//! A value of the file, so that no entry knows the notation.

use toml::Spanned;
use toml::de::DeValue;

/// What stands behind `=`.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value<'t> {
    Text(&'t str),
    Whole(i64),
    Part(f64),
    Yes(bool),
    List(Vec<Self>),
    /// A date, a table, or a number that is too large.
    Other,
}

impl<'t> Value<'t> {
    pub(super) fn of(value: &'t Spanned<DeValue<'_>>) -> Self {
        match value.get_ref() {
            DeValue::String(text) => Self::Text(text),
            DeValue::Integer(whole) => {
                let read = i64::from_str_radix(whole.as_str(), whole.radix());
                read.map_or(Self::Other, Self::Whole)
            }
            DeValue::Float(part) => part.as_str().parse().map_or(Self::Other, Self::Part),
            DeValue::Boolean(yes) => Self::Yes(*yes),
            DeValue::Array(list) => Self::List(list.iter().map(Self::of).collect()),
            DeValue::Datetime(_) | DeValue::Table(_) => Self::Other,
        }
    }
}

/// Text in quotes (a basic string of TOML 1.0).
pub(super) fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push_str(&format!("\\U{:08X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
