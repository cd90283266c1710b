//! What was not taken of a pasted list: every line, with why. It stays in view while the cards are
//! typed that were meant, until another list is pasted.

use super::Pile;
use crate::hand;
use crate::intake::{Entry, Why};
use crate::model::Collection;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::theme::Role;

/// The most cards of a pasted list that are named in the list of what was done.
const NAMED: usize = 3;

/// The lines, in their order.
#[derive(Debug, Default)]
pub(super) struct Refused {
    lines: Vec<String>,
    /// Lines above the first one that is seen.
    top: usize,
}

impl Refused {
    pub(super) fn of(not_taken: &[(usize, String, Why)]) -> Self {
        let told = |(line, words, why): &(usize, String, Why)| {
            text::safe(&format!("line {line} \u{201c}{words}\u{201d}: {why}")).into_owned()
        };
        Self {
            lines: not_taken.iter().map(told).collect(),
            top: 0,
        }
    }
}

/// A pasted list in few words: how many cards, and the first of them by name.
pub(super) fn words(collection: &Collection, entries: &[Entry]) -> String {
    let cards = entries.iter().map(|entry| u64::from(entry.count)).sum();
    let cards = text::count(cards, "card", "cards");
    let named = entries.iter().take(NAMED);
    let named: Vec<_> = named
        .map(|entry| hand::named(collection, entry.printing))
        .collect();
    let others = match entries.len().saturating_sub(NAMED) as u64 {
        0 => String::new(),
        many => format!(
            ", and {}",
            text::count(many, "further line", "further lines")
        ),
    };
    format!("{cards} of a pile: {}{others}", named.join(", "))
}

impl Pile {
    fn refused_lines(&self, desk: &Desk) -> Vec<String> {
        let room = usize::from(self.list(desk).width.saturating_sub(3));
        let more = desk.theme.glyphs().more;
        let lines = self.refused.lines.iter();
        lines
            .flat_map(|line| text::wrap(line, room, 3, more))
            .collect()
    }

    /// How many lines are for what was not taken: all but one, where there are several, that the
    /// card that was typed last be seen too.
    fn room(&self, desk: &Desk) -> usize {
        let height = usize::from(self.list(desk).height);
        height.saturating_sub(usize::from(height > 2 && !self.entered.is_empty()))
    }

    /// Whether not all of it is seen at once.
    pub(super) fn is_longer(&self, desk: &Desk) -> bool {
        !self.choosing && self.refused_lines(desk).len() > self.room(desk)
    }

    pub(super) fn scroll(&mut self, desk: &Desk, intent: Intent) {
        // The last line says how many more there are.
        let room = self.room(desk).saturating_sub(1).max(1);
        let furthest = self.refused_lines(desk).len().saturating_sub(room);
        self.refused.top = intent.stepped(self.refused.top, room, furthest);
    }

    /// The lines as they are seen.
    pub(super) fn refused_seen(&self, desk: &Desk) -> Vec<(String, Role)> {
        let (lines, room) = (self.refused_lines(desk), self.room(desk));
        let is_longer = lines.len() > room;
        let shown = room - usize::from(is_longer && room > 1);
        let top = self.refused.top.min(lines.len().saturating_sub(shown));
        let beyond = lines.len().saturating_sub(top + shown);
        let lines = lines.into_iter().skip(top).take(shown);
        let mut seen: Vec<_> = lines.map(|line| (line, Role::Waiting)).collect();
        if is_longer && room > 1 {
            let key_of = |intent| desk.key(Context::Pile, intent);
            let all = text::count(self.refused.lines.len() as u64, "line", "lines");
            let (key, way) = match beyond {
                0 => (Intent::PageBack, "those above"),
                _ => (Intent::PageOn, "those below"),
            };
            let words = format!("{}: {way}, of {all} not taken", key_of(key));
            seen.push((words, Role::Key));
        }
        seen
    }
}
