//! JSON of RFC 8259 that is harmless on a terminal: what could steer one is escaped.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, Serializer};

use crate::text::safe;

/// One document and a line feed.
pub(super) fn write(out: &mut impl Write, document: &impl Serialize) -> io::Result<()> {
    let mut serializer = Serializer::with_formatter(&mut *out, Harmless(CompactFormatter));
    document.serialize(&mut serializer)?;
    writeln!(out)
}

struct Harmless(CompactFormatter);

impl Formatter for Harmless {
    /// The serializer escapes what RFC 8259 asks for: C0 controls, quotes and backslashes. Delete,
    /// C1 controls, bidirectional and invisible characters are left to us.
    fn write_string_fragment<W: ?Sized + Write>(
        &mut self,
        out: &mut W,
        fragment: &str,
    ) -> io::Result<()> {
        if fragment.bytes().all(|b| (0x20..0x7f).contains(&b)) {
            return out.write_all(fragment.as_bytes());
        }
        for c in fragment.chars() {
            let (mut text, mut units) = ([0; 4], [0; 2]);
            let text = c.encode_utf8(&mut text);
            if safe(text) == *text {
                out.write_all(text.as_bytes())?;
            } else {
                for unit in c.encode_utf16(&mut units) {
                    write!(out, "\\u{unit:04x}")?;
                }
            }
        }
        Ok(())
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(out, first)
    }
}

#[cfg(test)]
mod tests {
    /// RFC 8259, section 7: any character may be written as \uXXXX, those beyond the Basic
    /// Multilingual Plane as two. ECMA-48 (1991): the controls U+0080 to U+009F; UAX #9: the
    /// bidirectional ones.
    #[test]
    fn what_could_steer_a_terminal_is_escaped_and_reads_back_the_same() {
        let text = "a\u{1b}[31m\u{7f}\u{9b}\u{202e}\u{200d}\u{e0041}é☂\"\\";
        let mut out = Vec::new();
        super::write(&mut out, &text).unwrap();
        let written = String::from_utf8(out).unwrap();
        assert_eq!(
            written,
            "\"a\\u001b[31m\\u007f\\u009b\\u202e\\u200d\\udb40\\udc41é☂\\\"\\\\\"\n"
        );
        assert_eq!(serde_json::from_str::<String>(&written).unwrap(), text);
    }
}
