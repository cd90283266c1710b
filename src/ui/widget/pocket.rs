//! One pocket: each state by an outline and a sign of its own, and by colour.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use crate::model::{Collection, PocketState, PrintingId};
use crate::text;
use crate::ui::paint;
use crate::ui::theme::{Role, Theme};

/// A pocket as it is to be drawn.
#[derive(Debug)]
pub(crate) struct PocketView<'a> {
    pub(crate) collection: &'a Collection,
    pub(crate) state: &'a PocketState,
    pub(crate) theme: Theme,
    pub(crate) cursor: bool,
    /// What was in it is in hand.
    pub(crate) under_way: bool,
    /// It is part of the marked run.
    pub(crate) marked: bool,
    /// In a draft: meant for something else than in the layout in force.
    pub(crate) differs: bool,
}

/// What stands last of a word, in at most so many columns.
fn last_columns(words: &str, most: usize) -> String {
    let starts = words.char_indices().map(|(at, _)| &words[at..]);
    let mut ends = starts.filter(|end| text::columns(end) <= most);
    ends.next().unwrap_or_default().to_owned()
}

impl PocketView<'_> {
    /// Draws the pocket with its outline, as at least 7 x 3 cells.
    pub(crate) fn draw_boxed(&self, area: Rect, buf: &mut Buffer) {
        let glyphs = self.theme.glyphs();
        let style = self.theme.style(self.role());
        match self.state {
            _ if self.under_way => {
                paint::corners(buf, area, &glyphs.cursor, self.theme.style(Role::Quiet));
            }
            PocketState::InPlace(_) | PocketState::Misplaced { .. } => {
                paint::frame(buf, area, &glyphs.card, style);
            }
            PocketState::Gap(_) | PocketState::Waiting(_) => {
                paint::frame(buf, area, &glyphs.gap, style);
            }
            PocketState::Keepsake(_) => paint::frame(buf, area, &glyphs.keepsake, style),
            PocketState::Blank | PocketState::Unassigned => {
                paint::corners(buf, area, &glyphs.card, self.theme.style(Role::Quiet));
            }
        }
        if self.marked {
            paint::corners(buf, area, &glyphs.mark, self.theme.style(Role::Cursor));
        }
        if self.cursor {
            self.draw_cursor(area, buf);
        }
        let inside = Rect {
            x: area.x + 1,
            y: area.y + 1,
            width: area.width - 2,
            height: area.height - 2,
        };
        self.draw_head(inside, buf);
        self.draw_body(inside, buf);
    }

    /// Draws the pocket as a sign and as many letters as there is room for.
    pub(crate) fn draw_flat(&self, area: Rect, buf: &mut Buffer) {
        let style = self.theme.style(self.role());
        let sign_style = if self.cursor {
            self.theme.style(Role::Selected)
        } else {
            style
        };
        paint::sign(buf, (area.x, area.y), self.sign(), sign_style);
        let mut words = self.subject().map(|p| self.number(p)).unwrap_or_default();
        let room = area.width.saturating_sub(2);
        // Of the finish one letter, where it has room: a reverse is told from a regular.
        let mark = self.subject().map_or("", |p| self.mark(p));
        let with_mark = text::columns(&text::safe(&words)) < usize::from(room);
        words.extend(mark.chars().next().filter(|_| with_mark));
        let style = if self.cursor { sign_style } else { style };
        // The last figures tell a pocket from those beside it, and the first do not.
        let words = last_columns(&text::safe(&words), room.into());
        self.words((area.x + 1, area.y), room, &words, style, buf);
    }

    /// Corners, and the cells beside them: enough to be found at a glance, little to redraw.
    fn draw_cursor(&self, area: Rect, buf: &mut Buffer) {
        let signs = &self.theme.glyphs().cursor;
        let style = self.theme.style(Role::Cursor);
        let (right, bottom) = (area.right() - 1, area.bottom() - 1);
        paint::corners(buf, area, signs, style);
        for y in [area.y, bottom] {
            for x in [area.x + 1, right - 1] {
                paint::sign(buf, (x, y), signs[4], style);
            }
        }
        for x in [area.x, right] {
            for y in [area.y + 1, bottom - 1] {
                paint::sign(buf, (x, y), signs[5], style);
            }
        }
    }

    /// The first line: the number at the left, the finish's mark and the sign at the right. On a
    /// card it is a bar from edge to edge, so that a filled pocket is seen without colour.
    fn draw_head(&self, area: Rect, buf: &mut Buffer) {
        let style = self.theme.style(self.role());
        let filled = self.state.held().is_some() && !self.under_way;
        let bar = if filled {
            style.patch(self.theme.style(Role::Bar))
        } else {
            style
        };
        if filled {
            for x in area.left()..area.right() {
                paint::sign(buf, (x, area.y), " ", bar);
            }
        }
        let Some(printing) = self.subject() else {
            let centre = area.x + area.width / 2;
            let middle = area.y + area.height / 2;
            match self.state {
                PocketState::Blank => paint::sign(buf, (centre, middle), self.sign(), style),
                PocketState::Keepsake(_) => paint::sign(buf, (area.x, area.y), self.sign(), style),
                _ => {}
            }
            return;
        };
        let mark = self.mark(printing);
        let tail = text::columns(&text::safe(mark)) as u16;
        let usual = filled && self.state.wanted() == Some(printing);
        let sign_room = if usual && !self.differs { 0 } else { 2 };
        let tail = if tail == 0 || tail + sign_room + 3 > area.width {
            0
        } else {
            tail + 1
        };
        let pad = u16::from(area.width > 8);
        let room = area.width.saturating_sub(tail + sign_room + pad);
        let mut words = self.number(printing);
        // With a single line inside, what is left of it is for the name.
        if area.height == 1 {
            words = format!("{words} {}", self.name(printing));
        }
        self.words((area.x + pad, area.y), room, &words, bar, buf);
        if tail > 0 {
            let x = area.right() - sign_room - tail + u16::from(sign_room > 0);
            self.words((x, area.y), tail, mark, bar, buf);
        }
        if sign_room > 0 {
            paint::sign(buf, (area.right() - 1, area.y), self.sign(), bar);
        }
    }

    /// What stands below: the name, and at the foot the rarity or what is amiss.
    fn draw_body(&self, area: Rect, buf: &mut Buffer) {
        let role = self.role();
        let filled = self.state.held().is_some();
        let style = if filled {
            Style::new()
        } else {
            self.theme.style(role)
        };
        let foot = self.foot();
        let has_foot = area.height >= 3 && !foot.is_empty();
        let lines = area.height.saturating_sub(1 + u16::from(has_foot));
        let name = match (self.state, self.subject()) {
            (PocketState::Keepsake(words), _) => words.to_string(),
            (_, Some(printing)) => self.name(printing).to_owned(),
            _ => String::new(),
        };
        let more = self.theme.glyphs().more;
        let shown = text::safe(&name);
        for (at, line) in (1..).zip(text::wrap(
            &shown,
            usize::from(area.width),
            usize::from(lines),
            more,
        )) {
            self.words((area.x, area.y + at), area.width, &line, style, buf);
        }
        if has_foot {
            let style = self.theme.style(if filled && role == Role::InPlace {
                Role::Quiet
            } else {
                role
            });
            self.words((area.x, area.bottom() - 1), area.width, &foot, style, buf);
        }
    }

    fn foot(&self) -> String {
        match self.state {
            _ if self.under_way => "in hand".into(),
            PocketState::InPlace(printing) => self.rarity(*printing).to_owned(),
            PocketState::Gap(_) => "gap".into(),
            PocketState::Waiting(printing) => {
                format!("{} loose", self.collection.tally(*printing).loose)
            }
            PocketState::Misplaced {
                wanted: Some(wanted),
                ..
            } => format!("for {}", self.number(*wanted)),
            PocketState::Misplaced { wanted: None, .. } => "for nothing".into(),
            PocketState::Blank => "left empty".into(),
            PocketState::Keepsake(_) | PocketState::Unassigned => String::new(),
        }
    }

    fn words(&self, at: (u16, u16), room: u16, words: &str, style: Style, buf: &mut Buffer) {
        paint::line_cut(buf, at, room, words, style, self.theme.glyphs().more);
    }

    fn subject(&self) -> Option<PrintingId> {
        self.state.held().or_else(|| self.state.wanted())
    }

    fn number(&self, printing: PrintingId) -> String {
        let card = self.collection.card(printing);
        card.map(|card| card.number.to_string()).unwrap_or_default()
    }

    fn name(&self, printing: PrintingId) -> &str {
        self.collection.card(printing).map_or("", |card| &card.name)
    }

    fn rarity(&self, printing: PrintingId) -> &str {
        let set = self.collection.set(printing.set());
        set.zip(self.collection.card(printing))
            .map_or("", |(set, card)| set.rarity_name(card))
    }

    fn mark(&self, printing: PrintingId) -> &str {
        let set = self.collection.set(printing.set());
        set.and_then(|set| set.finishes().get(usize::from(printing.finish())))
            .map_or("", |finish| &finish.mark)
    }

    fn role(&self) -> Role {
        match self.state {
            _ if self.under_way => Role::Quiet,
            PocketState::InPlace(_) => Role::InPlace,
            PocketState::Gap(_) => Role::Gap,
            PocketState::Waiting(_) => Role::Waiting,
            PocketState::Misplaced { .. } => Role::Misplaced,
            PocketState::Keepsake(_) => Role::Keepsake,
            PocketState::Blank | PocketState::Unassigned => Role::Quiet,
        }
    }

    fn sign(&self) -> &'static str {
        let glyphs = self.theme.glyphs();
        match self.state {
            _ if self.under_way => glyphs.under_way,
            _ if self.differs => glyphs.differs,
            PocketState::InPlace(_) => glyphs.in_place,
            PocketState::Gap(_) => glyphs.gap_sign,
            PocketState::Waiting(_) => glyphs.waiting,
            PocketState::Misplaced { .. } => glyphs.misplaced,
            PocketState::Keepsake(_) => glyphs.keepsake_sign,
            PocketState::Blank => glyphs.blank,
            PocketState::Unassigned => glyphs.dot,
        }
    }
}
