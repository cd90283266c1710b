//! What goes to the clipboard of the terminal (OSC 52 of xterm's control sequences). Whether it
//! arrives is not told by the terminal, so it is only said that it was sent.

use crate::text;

/// The longest text that is sent. Some terminals take no sequence longer than 100,000 bytes, which
/// in base64 is this much: common practice, no source.
pub(super) const MOST_BYTES: usize = 74_994;

/// What a screen gives to be copied.
#[derive(Debug)]
pub(crate) struct Copied {
    /// In words: `the pocket`, `12 lines`.
    pub(crate) what: String,
    pub(crate) text: String,
}

impl Copied {
    /// Lines, made harmless one by one: where it is pasted a terminal may obey it. No more of them
    /// are asked for than it takes to be too long.
    pub(crate) fn lines<L: AsRef<str>>(
        what: impl Into<String>,
        lines: impl IntoIterator<Item = L>,
    ) -> Self {
        let mut copied = String::new();
        for (at, line) in lines.into_iter().enumerate() {
            if at > 0 {
                copied.push('\n');
            }
            copied.push_str(&text::safe(line.as_ref()));
            if copied.len() > MOST_BYTES {
                break;
            }
        }
        Self {
            what: what.into(),
            text: copied,
        }
    }
}
