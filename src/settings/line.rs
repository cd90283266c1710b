//! The entries of a table as they stand in the file, and what is wrong with them.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::SettingsError;
use super::value::Value;

/// An entry as it stands in the file.
pub(super) struct Line<'t> {
    pub(super) name: &'t str,
    pub(super) value: Value<'t>,
    /// Of the name, from 1.
    pub(super) at: usize,
}

/// What is wrong, and with what text.
pub(super) struct Problems<'t> {
    pub(super) text: &'t str,
    pub(super) found: Vec<SettingsError>,
}

impl Problems<'_> {
    pub(super) fn tell(&mut self, line: usize, why: String) {
        self.found.push(SettingsError { line, why });
    }

    /// Where something is said, for a sentence.
    pub(super) fn place(&self, line: Option<usize>) -> String {
        line.map_or_else(|| "built in".into(), |line| format!("line {line}"))
    }

    pub(super) fn line_of(&self, byte: usize) -> usize {
        let before = self.text.as_bytes().get(..byte);
        let before = before.unwrap_or(self.text.as_bytes());
        1 + before.iter().filter(|byte| **byte == b'\n').count()
    }
}

pub(super) fn lines<'t>(table: &'t DeTable<'_>, problems: &Problems<'_>) -> Vec<Line<'t>> {
    let mut lines: Vec<_> = table
        .iter()
        .map(|(name, value)| line(name.get_ref(), name.span().start, value, problems))
        .collect();
    lines.sort_by_key(|line| line.at);
    lines
}

pub(super) fn line<'t>(
    name: &'t str,
    byte: usize,
    value: &'t Spanned<DeValue<'_>>,
    problems: &Problems<'_>,
) -> Line<'t> {
    Line {
        name,
        value: Value::of(value),
        at: problems.line_of(byte),
    }
}
