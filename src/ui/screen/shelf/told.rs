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
        let all = binders.div_ceil(boards.across);
        if all <= boards.seen {
            return;
        }
        let last = (boards.first + boards.seen).min(all);
        let words = match boards.is_list() {
            true => format!("{} to {last}", boards.first + 1),
            false if boards.seen == 1 => format!("board {last} of {all}"),
            false => format!("boards {} to {last} of {all}", boards.first + 1),
        };
        let body = desk.body();
        let width = words.len() as u16;
        if body.width > width + 24 {
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

/// A binder in one line: cards, gaps, pages, and how it holds them.
fn describe(desk: &Desk, binder: &Binder) -> String {
    let tally = desk.tally(binder);
    let share = report::percent(tally.in_place, tally.meant);
    let share = share.map(|share| format!(" ({share})")).unwrap_or_default();
    let gaps = text::count(tally.gaps() as u64, "gap", "gaps");
    let pages = text::count(binder.pages().len() as u64, "page", "pages");
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
        return format!(
            "{in_place} of {meant} in place{share}; pages are still to be moved: {key} shows the work"
        );
    }
    format!("{in_place} of {meant} in place{share}, {gaps}; {pages}, {kind}")
}
