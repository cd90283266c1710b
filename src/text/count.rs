//! Numbers with what they count.

/// `1 card`, `3 cards`.
#[must_use]
pub fn count(number: u64, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
