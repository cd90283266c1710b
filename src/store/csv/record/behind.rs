//! What was read behind a quote that may have been left open.

/// What stands behind the line on which a quote opens, as long as it is not closed: where it never
/// is, or not rightly, that was no part of the field, and is read again.
#[derive(Debug, Default)]
pub(super) struct Behind {
    /// While the quote is open and its line has ended: the line behind that.
    pub(super) line: Option<u64>,
    bytes: Vec<u8>,
    /// What is read again, and how much of it was.
    pub(super) again: Vec<u8>,
    pub(super) used: usize,
}

impl Behind {
    pub(super) fn open(&mut self) {
        self.line = None;
        self.bytes.clear();
    }

    /// A byte that stands within quotes on line `line`.
    pub(super) fn quoted(&mut self, byte: u8, line: u64) {
        if self.line.is_some() {
            self.bytes.push(byte);
        } else if byte == b'\n' {
            self.line = Some(line + 1);
        }
    }

    /// Puts the bytes before what is still to be read again.
    pub(super) fn take_back(&mut self) {
        let rest = self.again.get(self.used..).unwrap_or_default();
        self.bytes.extend_from_slice(rest);
        self.again = std::mem::take(&mut self.bytes);
        (self.used, self.line) = (0, None);
    }
}
