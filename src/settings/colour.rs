//! A colour as the file says it.

use super::value::Value;
use crate::text::hint;

/// A colour for a role.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Colour {
    /// The terminal's own.
    Plain,
    /// Red, green, blue.
    Rgb(u8, u8, u8),
    /// One of the terminal's 256.
    Indexed(u8),
}

/// The colours of Okabe and Ito (2008), "Color universal design", by the names that they have
/// there.
pub const NAMED: [(&str, u32); 8] = [
    ("black", 0x00_0000),
    ("orange", 0xE6_9F00),
    ("sky blue", 0x56_B4E9),
    ("bluish green", 0x00_9E73),
    ("yellow", 0xF0_E442),
    ("blue", 0x00_72B2),
    ("vermillion", 0xD5_5E00),
    ("reddish purple", 0xCC_79A7),
];

pub(super) const FORMS: &str = "write \"usual\", \"plain\", a name such as \"sky blue\", \
                                \"#56b4e9\", or a number from 0 to 255";

/// `None` is for the palette's own colour.
pub(super) fn read(value: &Value<'_>) -> Result<Option<Colour>, String> {
    let wrong = || format!("is no colour; {FORMS}");
    match value {
        Value::Whole(number) => {
            let index = u8::try_from(*number).map_err(|_| wrong())?;
            Ok(Some(Colour::Indexed(index)))
        }
        Value::Text("usual") => Ok(None),
        Value::Text("plain") => Ok(Some(Colour::Plain)),
        Value::Text(words) => match words.strip_prefix('#') {
            Some(digits) => {
                let plain = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit());
                let number = plain.then(|| u32::from_str_radix(digits, 16).ok());
                number.flatten().map(rgb).map(Some).ok_or_else(wrong)
            }
            None => {
                let found = NAMED.iter().find(|(name, _)| name == words);
                let names = NAMED
                    .iter()
                    .map(|(name, _)| *name)
                    .chain(["usual", "plain"]);
                let near = || hint(words, names);
                let found = found.ok_or_else(|| format!("“{words}” {}{}", wrong(), near()));
                found.map(|(_, number)| Some(rgb(*number)))
            }
        },
        _ => Err(wrong()),
    }
}

fn rgb(number: u32) -> Colour {
    let [_, red, green, blue] = number.to_be_bytes();
    Colour::Rgb(red, green, blue)
}

pub(super) fn write(colour: Colour) -> String {
    match colour {
        Colour::Plain => "\"plain\"".into(),
        Colour::Rgb(red, green, blue) => format!("\"#{red:02x}{green:02x}{blue:02x}\""),
        Colour::Indexed(index) => index.to_string(),
    }
}
