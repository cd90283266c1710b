//! What stands beside the spines: how far down the shelf one is, and the chosen binder in words.

use ratatui::buffer::Buffer;

use super::Shelf;
use super::boards::{Boards, detail_lines};
use crate::model::Binder;
use crate::report;
use crate::supplies::Rings;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Shelf {
    pub(super) fn draw_scroll(
        &self,
        boards: &Boards,
        binders: usize,
        desk: &Desk,
        buf: &mut Buffer,
    ) {
        let body = desk.body();
        if let Some(words) = scroll_words(boards, binders, body.width) {
            let width = words.len() as u16;
            let x = body.right() - width - 1;
            paint::line(
                buf,
                (x, body.y),
                width,
                &words,
                desk.theme.style(Role::Quiet),
            );
        }
    }

    /// How many binders there are and how far they are together, the latter where it has room beside
    /// what stands at the right.
    pub(super) fn head(desk: &Desk, boards: Option<&Boards>) -> String {
        let collection = desk.collection();
        let binders = collection.shelf().len();
        if binders == 0 && collection.sets().len() == 0 {
            return "Ringbound".into();
        }
        let many = text::count(binders as u64, "binder", "binders");
        let words = format!("The shelf: {many}");
        let words = match desk.is_aside() {
            true => format!(
                "{words}, invented: {} leads back",
                desk.key(Context::Shelf, Intent::Quit)
            ),
            false => words,
        };
        let all = desk.tally_of_all().filter(|all| all.meant > 0);
        let Some((all, boards)) = all.zip(boards) else {
            return words;
        };
        let width = desk.body().width;
        let beside = scroll_words(boards, binders, width).map_or(0, |words| words.len() + 2);
        let room = usize::from(width).saturating_sub(2 + beside);
        let full = format!("{words}; {}", report::far_words(all));
        match text::columns(&full) <= room {
            true => full,
            false => words,
        }
    }

    pub(super) fn draw_detail(&self, desk: &Desk, buf: &mut Buffer) {
        let body = desk.body();
        let Some(binder) = desk.collection().binder_at(self.chosen(desk)) else {
            return;
        };
        let lines = detail_lines(body);
        let top = body.bottom() - lines;
        let width = body.width.saturating_sub(2);
        let strong = desk.theme.style(Role::Strong);
        let title = match &*binder.spec().title {
            "" => binder.name().to_owned(),
            title => format!("{title} ({})", binder.name()),
        };
        paint::line(buf, (body.x + 1, top), width, &title, strong);
        if lines > 1 {
            let text = desk.theme.style(Role::Text);
            paint::line(
                buf,
                (body.x + 1, top + 1),
                width,
                &describe(desk, binder),
                text,
            );
        }
    }
}

/// Which boards are seen, where that is not all of them and there is room for it.
fn scroll_words(boards: &Boards, binders: usize, width: u16) -> Option<String> {
    let all = binders.div_ceil(boards.across);
    if all <= boards.seen {
        return None;
    }
    let last = (boards.first + boards.seen).min(all);
    let words = match boards.is_list() {
        true => format!("{} to {last}", boards.first + 1),
        false if boards.seen == 1 => format!("board {last} of {all}"),
        false => format!("boards {} to {last} of {all}", boards.first + 1),
    };
    (usize::from(width) > words.len() + 24).then_some(words)
}

/// A binder in one line: cards, gaps, pages, and how it holds them.
fn describe(desk: &Desk, binder: &Binder) -> String {
    let tally = desk.tally(binder);
    let pages = report::pages_words(binder);
    let kind = binder.spec().kind;
    let kind = match Rings::of(kind) {
        Some(rings) => rings.words(),
        None if kind.pages_move() => "rings".to_owned(),
        None => "fixed pages".to_owned(),
    };
    let in_place = tally.in_place;
    if tally.is_under_way() {
        let cards = text::count(tally.filled.into(), "card", "cards");
        let key = desk.key(Context::Shelf, Intent::Work);
        return format!(
            "{cards}, {in_place} of them in place: {key} shows the work; {pages}, {kind}"
        );
    }
    let meant = tally.meant;
    if tally != binder.tally() {
        let key = desk.key(Context::Shelf, Intent::Work);
        let share = report::percent(in_place, meant);
        let share = share.map_or_else(String::new, |share| format!(" ({share})"));
        return format!(
            "{in_place} of {meant} in place{share}; pages are still to be moved: {key} shows the work"
        );
    }
    format!("{}; {pages}, {kind}", report::far_words(tally))
}
