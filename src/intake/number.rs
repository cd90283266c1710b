//! What the number of a card is made of.

/// A number as it is written, parted at its first digits: `P`, `012` and `a/64` of `P012a/64`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Parted<'n> {
    /// What stands before the first digits.
    pub(super) letters: &'n str,
    /// Empty where it has none.
    pub(super) digits: &'n str,
    pub(super) tail: &'n str,
}

impl<'n> Parted<'n> {
    pub(super) fn of(number: &'n str) -> Self {
        let start = number.find(|c: char| c.is_ascii_digit());
        let (letters, rest) = number.split_at(start.unwrap_or(number.len()));
        let end = rest.find(|c: char| !c.is_ascii_digit());
        let (digits, tail) = rest.split_at(end.unwrap_or(rest.len()));
        Self {
            letters,
            digits,
            tail,
        }
    }

    /// Of the digits, as far as it can be told; more than any other where it cannot.
    pub(super) fn value(self) -> u64 {
        self.digits.parse().unwrap_or(u64::MAX)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_parted_at_its_first_digits() {
        for (number, parts, value) in [
            ("P012a/64", ("P", "012", "a/64"), 12),
            ("7", ("", "7", ""), 7),
            ("12/120", ("", "12", "/120"), 12),
            ("\u{e9}3", ("\u{e9}", "3", ""), 3),
            ("Promo", ("Promo", "", ""), u64::MAX),
            ("", ("", "", ""), u64::MAX),
            (
                "99999999999999999999",
                ("", "99999999999999999999", ""),
                u64::MAX,
            ),
        ] {
            let parted = Parted::of(number);
            assert_eq!((parted.letters, parted.digits, parted.tail), parts);
            assert_eq!(parted.value(), value, "{number}");
        }
    }
}
