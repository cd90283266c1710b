//! Numbers as drawings write them.

/// A number with at most so many decimals, without an exponent and without needless zeros.
pub(super) fn number(number: f64, decimals: usize) -> String {
    let mut words = format!("{number:.decimals$}");
    if words.contains('.') {
        words.truncate(words.trim_end_matches('0').trim_end_matches('.').len());
    }
    if words == "-0" { "0".into() } else { words }
}
