//! Where there is room beside the pages: the loose copies that wait for this binder, and the cards
//! that are misplaced in it.

use std::collections::HashMap;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::Cursor;
use crate::model::{PocketState, PrintingId};
use crate::report;
use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows;
use crate::ui::theme::Role;

/// Pockets that are looked through for the list; a binder of more is not walked on every frame.
const LOOKED_AT: usize = 20_000;

/// A pocket of which there is something to tell, and the card that it is about.
struct News {
    page: usize,
    pocket: usize,
    card: PrintingId,
    waits: bool,
}

fn found<'b>(book: &'b Book<'_>) -> impl Iterator<Item = News> + 'b {
    let pockets = (0..book.len()).flat_map(|page| {
        let pockets = book.format(page).map_or(0, |format| format.pockets());
        (0..pockets).map(move |pocket| (page, pocket))
    });
    pockets.take(LOOKED_AT).filter_map(|(page, pocket)| {
        let (card, waits) = match book.state(page, pocket) {
            PocketState::Waiting(card) => (card, true),
            PocketState::Misplaced { held, .. } => (held, false),
            _ => return None,
        };
        Some(News {
            page,
            pocket,
            card,
            waits,
        })
    })
}

/// What is told of: the cards that are misplaced, and as many pockets for each card as loose copies
/// of it go in. Where one of its gaps is for a copy that is misplaced here, that is told already.
fn all(desk: &Desk, book: &Book<'_>) -> impl Iterator<Item = News> + use<> {
    let found: Vec<News> = found(book).collect();
    let mut misplaced: HashMap<PrintingId, usize> = HashMap::new();
    let mut gaps: HashMap<PrintingId, usize> = HashMap::new();
    for news in &found {
        let of = if news.waits {
            &mut gaps
        } else {
            &mut misplaced
        };
        *of.entry(news.card).or_default() += 1;
    }
    let collection = desk.collection();
    for (card, gaps) in &mut gaps {
        let here = misplaced.get(card).copied().unwrap_or(0);
        let loose = collection.tally(*card).loose as usize;
        *gaps = gaps.saturating_sub(here).min(loose);
    }
    found.into_iter().filter(move |news| {
        let left = gaps.get_mut(&news.card).filter(|_| news.waits);
        match left {
            None => true,
            Some(0) => false,
            Some(left) => {
                *left -= 1;
                true
            }
        }
    })
}

/// Lines for pockets below the heading. The last line of the room is kept for saying that there
/// are more.
fn room(book: &Book<'_>, area: Rect) -> usize {
    match book.is_real() && area.height >= 3 {
        true => usize::from(area.height - 2),
        false => 0,
    }
}

/// Whether there is any.
pub(super) fn is_any(book: &Book<'_>) -> bool {
    book.is_real() && found(book).next().is_some()
}

pub(super) fn draw(desk: &Desk, book: &Book<'_>, area: Rect, buf: &mut Buffer) {
    let room = room(book, area);
    if room == 0 {
        return;
    }
    let theme = desk.theme;
    let (signs, quiet) = (theme.glyphs(), theme.style(Role::Quiet));
    let mut told = all(desk, book).peekable();
    if told.peek().is_none() {
        return;
    }
    let head = "Waiting or misplaced:";
    paint::line(buf, (area.x, area.y), area.width, head, quiet);
    for (y, news) in (area.y + 1..).zip(told.by_ref().take(room)) {
        let (sign, role) = match news.waits {
            true => (signs.waiting, Role::Waiting),
            false => (signs.misplaced, Role::Misplaced),
        };
        let collection = desk.collection();
        let card = report::printing_words(collection, news.card);
        let words = format!("page {}: {card}", book.page(news.page) + 1);
        paint::sign(buf, (area.x, y), sign, theme.style(role));
        let (at, width) = ((area.x + 2, y), area.width.saturating_sub(2));
        let words = rows::cut_card(collection, &words, news.card, width.into(), signs.more);
        paint::line(buf, at, width, &words, theme.style(Role::Text));
    }
    if told.next().is_some() {
        let key = desk.key(Context::Binder, Intent::Work);
        let words = format!("and more: {key} shows the work sheet");
        let at = (area.x, area.bottom() - 1);
        paint::line(buf, at, area.width, &words, quiet);
    }
}

/// The pocket whose line is under a point of the screen.
pub(super) fn under(desk: &Desk, book: &Book<'_>, area: Rect, at: (u16, u16)) -> Option<Cursor> {
    if !area.contains(Position::from(at)) {
        return None;
    }
    let line = usize::from(at.1.checked_sub(area.y + 1)?);
    let news = all(desk, book).take(room(book, area)).nth(line)?;
    Some(Cursor::at(book, news.page, news.pocket))
}
