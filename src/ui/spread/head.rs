//! The head of an open binder: what it is, which page is open, how far it is.

use std::collections::HashMap;

use ratatui::buffer::Buffer;

use super::Cursor;
use super::draw::Drawing;
use crate::model::{Binder, Collection, Page, PrintingId};
use crate::plan::Cost;
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
    /// `to_put_in` loose copies go into pockets of the real binder.
    pub(super) fn head(&self, cost: Option<&Cost>, to_put_in: usize, buf: &mut Buffer) {
        let (desk, book, cursor) = (self.desk, self.book, self.cursor);
        let (area, theme) = (self.rooms.head, desk.theme);
        let room = usize::from(area.width.saturating_sub(2));
        let title = title(desk, book.binder);
        let draft = book.draft().map(|draft| text::safe(&draft.name));
        let named = |name: &str| format!("DRAFT \u{201c}{name}\u{201d}");
        let more = theme.glyphs().more;
        let beside = match &draft {
            Some(name) => {
                let columns = text::columns(name).clamp(NAME_LEAST, NAME_MOST);
                text::columns(&named(&text::fit(name, columns.min(room / 2), more)))
            }
            None => text::columns(&title).min(24),
        };
        let pages = book.len();
        let page = if pages == 0 {
            String::new()
        } else if self.rooms.is_spread() {
            spread_words(cursor, pages)
        } else {
            format!("page {} of {pages}, {}", cursor.page + 1, cursor.at.side)
        };
        let (told, work_first) = self.how_far(cost, to_put_in);
        let fits = |words: &String| text::columns(words) + beside + 2 <= room;
        let with_page = |words: &String| match &*page {
            "" => words.clone(),
            page => format!("{page}   {words}"),
        };
        let mut wordings: Vec<String> = told.iter().map(with_page).collect();
        let short = told.into_iter().next_back().unwrap_or_default();
        // What a draft costs is of more use than the page, which stands below too; and which draft
        // it is comes before both.
        let last = match cost {
            Some(cost) => {
                wordings.extend([short, text::count(cost.lifts as u64, "card", "cards")]);
                String::new()
            }
            // So is the work that is left.
            None if work_first => short,
            None => page,
        };
        let right = wordings.into_iter().find(fits).unwrap_or(last);
        let width = text::columns(&right) as u16;
        let x = area.right().saturating_sub(width + 1).max(area.x + 1);
        let style = theme.style(Role::Strong);
        let used = x.saturating_sub(area.x + 3);
        let title = match draft {
            Some(name) => {
                // The whole name before the binder's; of that none rather than a letter or two.
                let room = usize::from(used);
                let around = text::columns(&named(""));
                let name = named(&text::fit(&name, room.saturating_sub(around), more));
                match text::columns(&name) + text::columns(" of ") + TITLE_LEAST <= room {
                    true => format!("{name} of {title}"),
                    false => name,
                }
            }
            None => title,
        };
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
    /// is less room; and whether what is still to be done comes before the page: where much is, or
    /// the page is told beside it.
    fn how_far(&self, cost: Option<&Cost>, to_put_in: usize) -> (Vec<String>, bool) {
        if let Some(cost) = cost {
            return (vec![cost.words(), cost.short()], false);
        }
        if !self.book.is_real() {
            // Pages that are only proposed: what they are filled with, as they are drawn.
            let (meant, filled) = self.book.filled();
            let share = report::percent(filled, meant).unwrap_or_else(|| "empty".into());
            let gaps = text::count(u64::from(meant - filled), "gap", "gaps");
            let far = format!("{filled} of {meant} filled");
            let told = vec![format!("{far}, {gaps}, {share}"), format!("{far}, {share}")];
            return (told, false);
        }
        let tally = self.desk.tally(self.book.binder);
        let share = report::percent(tally.in_place, tally.meant);
        let share = share.unwrap_or_else(|| "empty".into());
        let (in_place, meant) = (tally.in_place, tally.meant);
        let gaps = text::count(tally.gaps() as u64, "gap", "gaps");
        let far = format!("{in_place} of {meant} in place");
        let cost = self.book.to_do().unwrap_or_default();
        let is_open = cost.pages() > 0 || tally.is_under_way();
        if cost.is_nothing() && to_put_in == 0 {
            let told = vec![format!("{far}, {gaps}, {share}"), format!("{far}, {share}")];
            return (told, false);
        }
        let key = self.desk.key(Context::Binder, Intent::Work);
        let task = task(&cost, to_put_in);
        let short = Cost {
            lifts: cost.lifts + to_put_in,
            ..cost
        };
        let short = format!("to do: {} ({key})", short.short());
        let told = if is_open {
            let cards = text::count(tally.filled as u64, "card", "cards");
            vec![format!("{cards}; {task} ({key})"), short]
        } else {
            vec![
                format!("{far}, {gaps}, {share}; {task} ({key})"),
                format!("{far}, {gaps}; {short}"),
                format!("{in_place} of {meant}; {short}"),
                short,
            ]
        };
        (told, is_open || self.rooms.strip.is_some())
    }
}

/// What is to be done in the real binder, with the loose copies that are put in.
fn task(cost: &Cost, to_put_in: usize) -> String {
    let put_in = text::count(to_put_in as u64, "card to put in", "cards to put in");
    match (cost.is_nothing(), to_put_in) {
        (false, 0) => cost.task(),
        (true, _) => put_in,
        // The cards that come out go in again: these are loose now, and go in besides.
        (false, loose) => {
            format!("{}, {loose} loose to go in", cost.task())
        }
    }
}

/// Pockets of a binder up to which the loose copies that go into it are counted.
const COUNTED: usize = 20_000;

/// Loose copies for which the binder has a pocket that no copy in it is for; wherever on the way to
/// their places its pages are.
pub(crate) fn to_put_in(collection: &Collection, binder: &Binder) -> usize {
    let tally = binder.tally();
    if tally.meant as usize > COUNTED {
        return 0;
    }
    let mut lacking: HashMap<PrintingId, u32> = HashMap::new();
    for page in &binder.layout().pages {
        for (_, printing) in page.printings() {
            let loose = collection.tally(printing).loose;
            if loose > 0 {
                *lacking.entry(printing).or_default() += 1;
            }
        }
    }
    if lacking.is_empty() {
        return 0;
    }
    for held in binder.pages().iter().flat_map(Page::cards).flatten() {
        if let Some(lacking) = lacking.get_mut(held) {
            *lacking = lacking.saturating_sub(1);
        }
    }
    let go_in = lacking.iter().map(|(printing, lacking)| {
        let loose = collection.tally(*printing).loose;
        loose.min(*lacking) as usize
    });
    go_in.sum()
}

/// Columns that the name of a draft has in the head before anything else has any, and the most.
const NAME_LEAST: usize = 8;
const NAME_MOST: usize = 40;
/// Columns of a binder's title behind that which still tell something.
const TITLE_LEAST: usize = 6;

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
    title.push_str(binder.called());
    title
}

fn spread_words(cursor: Cursor, pages: usize) -> String {
    match cursor.spread() {
        0 => format!("page 1 of {pages}"),
        last if last == pages => format!("page {last} of {pages}, back"),
        right => format!("pages {right} and {} of {pages}", right + 1),
    }
}
