//! The head of an open binder: what it is, which page is open, how far it is.

use ratatui::buffer::Buffer;

use super::Cursor;
use super::draw::Drawing;
use crate::hand::Cost;
use crate::model::Binder;
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Drawing<'_> {
    /// Symbol, number and title at the left, of a draft its name before them; the page, and how
    /// far the binder is or what the draft would cost, at the right.
    pub(super) fn head(&self, cost: Option<&Cost>, buf: &mut Buffer) {
        let (desk, book, cursor) = (self.desk, self.book, self.cursor);
        let (area, theme) = (self.rooms.head, desk.theme);
        let room = usize::from(area.width.saturating_sub(2));
        let title = title(desk, book.binder);
        let (title, beside) = match book.draft() {
            Some(draft) => {
                let name = text::safe(&draft.name);
                let columns = text::columns(&name).clamp(NAME_LEAST, NAME_MOST);
                let name = text::fit(&name, columns.min(room / 3), theme.glyphs().more);
                let named = format!("DRAFT \u{201c}{name}\u{201d}");
                let beside = text::columns(&named);
                (format!("{named} of {title}"), beside)
            }
            None => {
                let beside = text::columns(&title).min(24);
                (title, beside)
            }
        };
        let pages = book.len();
        let page = if self.rooms.is_spread() {
            spread_words(cursor, pages)
        } else {
            format!("page {} of {pages}, {}", cursor.page + 1, cursor.at.side)
        };
        let (long, short, is_open) = self.how_far(cost);
        let fits = |words: &String| text::columns(words) + beside + 2 <= room;
        let mut wordings = vec![format!("{page}   {long}"), format!("{page}   {short}")];
        // What a draft costs is of more use than the page, which stands below too; and which draft
        // it is comes before both.
        let last = match cost {
            Some(cost) => {
                wordings.extend([short, text::count(cost.lifts as u64, "card", "cards")]);
                String::new()
            }
            None if is_open => short,
            None => page,
        };
        let right = wordings.into_iter().find(fits).unwrap_or(last);
        let width = text::columns(&right) as u16;
        let x = area.right().saturating_sub(width + 1).max(area.x + 1);
        let style = theme.style(Role::Strong);
        let used = x.saturating_sub(area.x + 3);
        paint::line_cut(
            buf,
            (area.x + 1, area.y),
            used,
            &title,
            style,
            theme.glyphs().more,
        );
        paint::line(buf, (x, area.y), width, &right, theme.style(Role::Text));
    }

    /// How far the binder is, or what the draft would cost: in full, and shorter for where there
    /// is less room; and whether much is still to be done.
    fn how_far(&self, cost: Option<&Cost>) -> (String, String, bool) {
        if let Some(cost) = cost {
            return (cost.words(), cost.short(), false);
        }
        let tally = self.book.binder.tally();
        let is_open = |cost: &Cost| cost.pages() > 0 || tally.is_under_way();
        if let Some(cost) = self.book.to_do().filter(is_open) {
            let key = self.desk.key(Context::Binder, Intent::Work);
            let cards = text::count(tally.filled as u64, "card", "cards");
            return (
                format!("{cards}; {} ({key})", cost.task()),
                format!("to do: {} ({key})", cost.short()),
                true,
            );
        }
        let share = report::percent(tally.in_place, tally.meant);
        let share = share.unwrap_or_else(|| "empty".into());
        let (in_place, meant) = (tally.in_place, tally.meant);
        let gaps = text::count(tally.gaps() as u64, "gap", "gaps");
        (
            format!("{in_place} of {meant} in place, {gaps}, {share}"),
            format!("{in_place} of {meant} in place, {share}"),
            false,
        )
    }
}

/// Columns that the name of a draft has in the head before anything else has any, and the most.
const NAME_LEAST: usize = 8;
const NAME_MOST: usize = 24;

/// Symbol, shelf number and title of a binder.
fn title(desk: &Desk, binder: &Binder) -> String {
    let set = binder.spec().set.and_then(|set| desk.collection().set(set));
    let mut title = String::new();
    if let Some(head) = set.map(crate::model::Set::head) {
        for part in [desk.theme.symbol(&head.symbol), &head.shelf] {
            if !part.is_empty() {
                title.push_str(part);
                title.push_str("  ");
            }
        }
    }
    title.push_str(&binder.spec().title);
    title
}

fn spread_words(cursor: Cursor, pages: usize) -> String {
    match cursor.spread() {
        0 => format!("page 1 of {pages}"),
        last if last == pages => format!("page {last} of {pages}, back"),
        right => format!("pages {right} and {} of {pages}", right + 1),
    }
}
