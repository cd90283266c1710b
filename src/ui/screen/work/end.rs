//! The end of the sheet: nothing is left, or only what could not be found; and what comes next.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Work, counted};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Work {
    pub(super) fn draw_end(&self, desk: &Desk, list: Rect, buf: &mut Buffer) {
        let (theme, width) = (desk.theme, list.width.saturating_sub(2));
        let first = if self.skipped.is_empty() {
            "Everything lies as planned."
        } else {
            "What is left needs the cards that could not be found."
        };
        let key = |intent| desk.key(Context::Work, intent);
        let next = match (self.skipped.is_empty(), self.sheet.unfilled.len()) {
            (false, _) => format!(
                "They stand here again when the sheet is opened anew; {} closes it. {}",
                key(Intent::Leave),
                gone_words(desk)
            ),
            (true, 0) => format!("{} takes in what comes next.", key(Intent::Pile)),
            (true, _) => format!(
                "{} lists what is missing; {} takes in what comes next.",
                key(Intent::Lists),
                key(Intent::Pile)
            ),
        };
        let mut said = vec![(first.to_owned(), Role::InPlace)];
        said.extend(self.others(desk).map(|words| (words, Role::Waiting)));
        said.push((next, Role::Quiet));
        let mut y = list.y;
        for (words, role) in said {
            let room = usize::from(list.bottom().saturating_sub(y));
            let more = theme.glyphs().more;
            for line in text::wrap(&text::safe(&words), width.into(), room, more) {
                paint::line(buf, (list.x + 2, y), width, &line, theme.style(role));
                y += 1;
            }
        }
    }

    /// That cards wait which this sheet has no line for, and where they have one.
    fn others(&self, desk: &Desk) -> Option<String> {
        let cards = counted(self.elsewhere, "more card waits", "more cards wait");
        let leave = desk.key(Context::Work, Intent::Leave);
        let work = desk.key(Context::Shelf, Intent::Work);
        (self.elsewhere > 0).then(|| {
            format!(
                "{cards} for other binders: {leave}, {leave}, then {work} shows the sheet of \
                 the whole shelf."
            )
        })
    }
}

/// How a card that will not be found again is taken out of the collection.
pub(super) fn gone_words(desk: &Desk) -> String {
    let key = |intent| desk.key(Context::Binder, intent);
    format!(
        "Is it gone for good, {} and then {} at its pocket take it out of the collection.",
        key(Intent::Take),
        key(Intent::PartWith)
    )
}
