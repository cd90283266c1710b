//! Lengths in tenths of a millimetre as a person writes them: `63`, `63.5`.

/// The tenths of a decimal number without sign and with at most one place (`63.50` has one that
/// counts). `None` for anything else and beyond ten million.
#[must_use]
pub fn parse_tenths(text: &str) -> Option<u32> {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(part) || whole.len() > 6 {
        return None;
    }
    let tenth = match part.trim_end_matches('0') {
        "" => 0,
        one if one.len() == 1 => one.parse().ok()?,
        _ => return None,
    };
    Some(whole.parse::<u32>().ok()? * 10 + tenth)
}

/// What [`parse_tenths`] reads, in the shortest form.
#[must_use]
pub fn tenths(value: u32) -> String {
    match (value / 10, value % 10) {
        (whole, 0) => whole.to_string(),
        (whole, tenth) => format!("{whole}.{tenth}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tenths_are_read_and_written() {
        for (text, value) in [
            ("63", 630),
            ("63.5", 635),
            ("63.50", 635),
            ("0.1", 1),
            ("007", 70),
        ] {
            assert_eq!(parse_tenths(text), Some(value), "{text}");
        }
        for text in [
            "", ".", "63.", ".5", "63.55", "-1", "+1", "6,5", "1e3", "٣", "1234567",
        ] {
            assert_eq!(parse_tenths(text), None, "{text}");
        }
        for value in 0..2_000 {
            assert_eq!(parse_tenths(&tenths(value)), Some(value));
        }
    }
}
