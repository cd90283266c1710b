//! Drawing the sections: what stands where, for drawing and for the mouse alike.

use ratatui::buffer::Buffer;

use super::rooms::{HINT, Rooms};
use super::rows::Label;
use super::typed::with;
use super::windows::draw_naming;
use super::{Mode, Sections};
use crate::layout::{Filled, Section};
use crate::report;
use crate::text;
use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::spread::draw_book;
use crate::ui::theme::Role;

impl Sections {
    pub(super) fn miniature_under(&self, desk: &Desk, (x, y): (u16, u16)) -> Option<usize> {
        let (proposal, binder) = (self.proposal.as_ref()?, self.binder(desk)?);
        let book = Book::proposed(desk.collection(), binder, &proposal.layout);
        let strip = Rooms::of(desk).strip(desk, &book, self.view.page)?;
        strip.page_under(x, y).map(|(page, _)| page)
    }

    pub(crate) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let rooms = Rooms::of(desk);
        self.draw_head(desk, &rooms, buf);
        match &self.mode {
            Mode::Fields { .. } => self.draw_fields(desk, &rooms, buf),
            _ => self.draw_list(desk, &rooms, buf),
        }
        self.draw_pages(desk, &rooms, buf);
        self.draw_foot(desk, &rooms, buf);
        match &self.mode {
            Mode::Templates { .. } => self.draw_templates(desk, buf),
            Mode::Growth { .. } => self.draw_growth(desk, buf),
            _ => {}
        }
        if let Some(field) = self.naming() {
            draw_naming(desk, field, buf);
        }
    }

    fn draw_head(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let theme = desk.theme;
        let binder = self.binder(desk);
        let title = report::binder_words(desk.collection(), self.ground.binder);
        let of = match self.ground.draft {
            None => title,
            Some(at) => {
                let draft = binder.and_then(|binder| binder.drafts().get(at));
                let name = draft.map_or("", |draft| &draft.name);
                format!("draft \u{201c}{name}\u{201d} of {title}")
            }
        };
        let words = match &self.mode {
            Mode::Fields { .. } => {
                let name = self.section().map(|section| section.name);
                let name = name.unwrap_or_default();
                format!("Section {}, {name}: {of}", self.chosen + 1)
            }
            _ => format!("Sections of {of}"),
        };
        let pages = self.proposal.as_ref();
        let pages = pages.map_or(0, |proposal| proposal.layout.pages.len());
        let right = text::count(pages as u64, "page", "pages");
        let width = text::columns(&right) as u16;
        let x = rooms.head.right().saturating_sub(width + 1);
        let style = theme.style(Role::Strong);
        let room = x.saturating_sub(rooms.head.x + 2);
        paint::line(buf, (rooms.head.x + 1, rooms.head.y), room, &words, style);
        paint::line(
            buf,
            (x, rooms.head.y),
            width,
            &right,
            theme.style(Role::Text),
        );
    }

    fn draw_list(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let (theme, area) = (desk.theme, rooms.list);
        let rules = self.shown();
        if rules.is_empty() {
            let key = |intent| desk.key(Context::Sections, intent);
            let (usual, new) = (key(Intent::Templates), key(Intent::AddSection));
            let words = &format!(
                "There are no sections yet: {usual} offers the usual ways, {new} makes a new one"
            );
            let width = usize::from(area.width.saturating_sub(4));
            let lines = text::wrap(words, width, 3, theme.glyphs().more);
            for (y, line) in (area.y + 1..area.bottom()).zip(&lines) {
                let quiet = theme.style(Role::Quiet);
                paint::line(buf, (area.x + 2, y), area.width - 2, line, quiet);
            }
            return;
        }
        let laid = self
            .proposal
            .as_ref()
            .map(|proposal| &proposal.renewed.laid);
        for (y, at) in (area.y..).zip(rooms.seen(rules.len(), self.chosen)) {
            let section: Option<Section> = rules[at].parse().ok();
            let chosen = at == self.chosen;
            let filled = laid.and_then(|laid| laid.filled.get(at).copied());
            let amiss = laid.is_some_and(|laid| {
                let mut told = laid.told.iter();
                told.any(|told| told.section() == Some(at) && told.is_fault())
            });
            let here = if chosen { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x, y), here, theme.style(Role::Cursor));
            let number = format!("{:>2}", at + 1);
            paint::line(buf, (area.x + 1, y), 3, &number, theme.style(Role::Key));
            let right = match amiss {
                true => "correct it".to_owned(),
                false => filled.map_or_else(String::new, filled_words),
            };
            let width = (text::columns(&right) as u16).min(area.width.saturating_sub(16));
            let name = match &section {
                Some(section) => section.name.to_string(),
                None => rules[at].to_string(),
            };
            let role = match (chosen, amiss) {
                (true, _) => Role::Selected,
                (_, true) => Role::Warning,
                _ => Role::Text,
            };
            let room = area.width.saturating_sub(width + 7);
            paint::line(buf, (area.x + 4, y), room, &name, theme.style(role));
            let x = area.right().saturating_sub(width + 1);
            let role = if amiss { Role::Warning } else { Role::Text };
            paint::line(buf, (x, y), width.max(7), &right, theme.style(role));
        }
        self.draw_words(desk, rooms, buf);
    }

    /// The chosen section as it is written.
    fn draw_words(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let (area, theme) = (rooms.words, desk.theme);
        let words = match &self.mode {
            // What a template is made of, by the names of its sections.
            Mode::Templates { .. } => {
                let sections = self.shown().iter().filter_map(|rule| rule.parse().ok());
                let names = sections.map(|section: Section| section.name.to_string());
                names.collect::<Vec<_>>().join(", then ")
            }
            _ => self
                .shown()
                .get(self.chosen)
                .map_or_else(String::new, ToString::to_string),
        };
        let words = text::safe(&words).into_owned();
        let width = usize::from(area.width);
        let room = usize::from(area.height.saturating_sub(1));
        let lines = text::wrap(&words, width, room, theme.glyphs().more);
        for (y, line) in (area.y + 1..area.bottom()).zip(&lines) {
            paint::line(buf, (area.x, y), area.width, line, theme.style(Role::Quiet));
        }
    }

    fn draw_fields(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let Mode::Fields { row, typing } = &self.mode else {
            return;
        };
        let (theme, rows) = (desk.theme, self.rows(desk));
        let list = rooms.fields();
        let room = usize::from(list.height);
        let first = (row + 1).saturating_sub(room);
        let shown = rows.iter().enumerate().skip(first).take(room);
        for (y, (at, line)) in (list.y..).zip(shown) {
            let focus = at == *row;
            let role = if focus { Role::Key } else { Role::Quiet };
            let here = if focus { theme.glyphs().here } else { " " };
            paint::sign(buf, (list.x, y), here, theme.style(Role::Cursor));
            paint::line(
                buf,
                (list.x + 2, y),
                12,
                line.label.words(),
                theme.style(role),
            );
            let (x, room) = (list.x + 15, list.width.saturating_sub(16));
            match typing {
                Some(field) if focus => field.draw((x, y), room, true, theme, buf),
                _ => {
                    let role = if focus { Role::Strong } else { Role::Text };
                    paint::line(buf, (x, y), room, &line.value, theme.style(role));
                }
            }
        }
        let Some(line) = rows.get(*row) else {
            return;
        };
        let refused = typing
            .as_ref()
            .and_then(|field| self.refused(line.label, field.value()));
        let (hint, role) = match refused {
            Some(why) => (why, Role::Waiting),
            None => (
                desk.with_keys(Context::Section, &format!("({})", line.hint)),
                Role::Quiet,
            ),
        };
        let width = list.width.saturating_sub(3);
        let more = theme.glyphs().more;
        let hint = text::wrap(&text::safe(&hint), usize::from(width), HINT.into(), more);
        for (y, line) in (list.bottom()..).zip(&hint) {
            paint::line(buf, (list.x + 2, y), width, line, theme.style(role));
        }
    }

    /// Why the words are not taken as they stand.
    fn refused(&self, label: Label, words: &str) -> Option<String> {
        with(&self.section()?, label, words).err()
    }

    fn draw_pages(&self, desk: &Desk, rooms: &Rooms, buf: &mut Buffer) {
        let (Some(proposal), Some(binder)) = (&self.proposal, self.binder(desk)) else {
            return;
        };
        if rooms.right.width < 8 || proposal.layout.pages.is_empty() {
            return;
        }
        let book = Book::proposed(desk.collection(), binder, &proposal.layout);
        if rooms.pages {
            draw_book(desk, &book, self.view, rooms.right, buf);
        } else if let Some(strip) = rooms.strip(desk, &book, self.view.page) {
            let here = (self.view.page, self.view.at.side);
            strip.draw(&book, here, desk.theme, buf);
        }
    }
}

/// `40 cards  pages 1-3`.
fn filled_words(filled: Filled) -> String {
    let items = filled.items;
    match (filled.first_page, filled.pages) {
        (None, _) => "nothing".into(),
        (Some(first), 1) => format!("{items:>4}   page {:>3}    ", first + 1),
        (Some(first), pages) => format!("{items:>4}  pages {:>3}-{:<3}", first + 1, first + pages),
    }
}
