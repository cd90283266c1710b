//! The choice before the work: each way of going about it with what it comes to.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use crate::hand;
use crate::model::{BinderId, Collection};
use crate::plan::{Figures, Way, WorkSheet, Working};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::job::Progress;
use crate::ui::paint;
use crate::ui::rows::Seen;
use crate::ui::theme::Role;

/// The ways that differ, and the one that is marked.
#[derive(Debug)]
pub(super) struct Ways {
    rows: Vec<Row>,
    chosen: usize,
}

/// A way, and the sheet that was planned to know what it comes to.
#[derive(Debug)]
struct Row {
    way: Way,
    figures: Figures,
    /// Not for the way whose sheet is there already.
    sheet: Option<WorkSheet>,
}

impl Ways {
    /// The ways beside the one whose sheet is there. `None` where there is nothing to choose: each
    /// way comes to the same.
    pub(super) fn of(
        collection: &Collection,
        binder: Option<BinderId>,
        (now, sheet): (Way, &WorkSheet),
        progress: &Progress,
    ) -> Option<Self> {
        let planned = &sheet.work.figures;
        // A way without lifts and page moves has none in any other.
        if planned.lifts == 0 && planned.page_moves == 0 {
            return None;
        }
        let mut done = 1;
        let mut row = |way| {
            let goes_on = progress.tell(done, Way::ALL.len() as u64);
            done += u64::from(way != now);
            let other = way != now && goes_on;
            let other = other.then(|| hand::work_sheet(collection, binder, way));
            Row {
                way,
                figures: other.as_ref().map_or(*planned, |other| other.work.figures),
                sheet: other,
            }
        };
        let [passes, hands, ..] = Way::ALL;
        let mut rows = vec![row(passes), row(hands)];
        let moves = rows[0].figures.page_moves;
        if moves == 0 && rows[0].figures == rows[1].figures {
            return None;
        }
        if moves > 0 {
            rows.extend(
                Way::ALL
                    .into_iter()
                    .filter(|way| way.pages_stay)
                    .map(&mut row),
            );
        }
        let before = rows.iter().position(|row| row.way == now);
        Some(Self {
            rows,
            chosen: before.unwrap_or(0),
        })
    }

    pub(super) fn chosen(&self) -> Way {
        self.rows[self.chosen].way
    }

    /// The sheet of the marked way; none for the way whose sheet was there before.
    pub(super) fn take_sheet(&mut self) -> Option<WorkSheet> {
        self.rows[self.chosen].sheet.take()
    }

    pub(super) fn go_on(&mut self, by: isize) {
        let last = self.rows.len() - 1;
        self.chosen = self.chosen.saturating_add_signed(by).min(last);
    }

    /// Marks the row under a click; tells whether it was marked before.
    pub(super) fn mark(&mut self, area: Rect, at: (u16, u16)) -> bool {
        let row = self.seen(area).under(at);
        let was = row == Some(self.chosen);
        self.chosen = row.unwrap_or(self.chosen);
        was
    }

    /// The rows below the heading.
    fn seen(&self, area: Rect) -> Seen {
        let rows = Rect {
            y: area.y + 1,
            height: area.height.saturating_sub(1),
            ..area
        };
        Seen::of(rows, self.chosen, self.rows.len())
    }

    /// Lines that all of it takes: a heading and a line each.
    pub(super) fn height(&self) -> u16 {
        self.rows.len() as u16 + 1
    }

    pub(super) fn draw(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let theme = desk.theme;
        let width = area.width.saturating_sub(2);
        let cells = |label: &str, cells: [String; 5]| {
            let mut line = format!("{label:<LABEL$}");
            if usize::from(width) < LABEL + COLUMNS[0].1 + COLUMNS[1].1 {
                // What tells the ways apart is of most use where one alone has room.
                let (cell, (_, column)) = (&cells[PICKED_UP], COLUMNS[PICKED_UP]);
                line.push_str(&format!("{cell:>column$}"));
                return line;
            }
            for (cell, (_, column)) in cells.iter().zip(COLUMNS) {
                // A column that has no room is left out whole.
                if text::columns(&line) + column > usize::from(width) {
                    break;
                }
                line.push_str(&format!("{cell:>column$}"));
            }
            line
        };
        let quiet = theme.style(Role::Quiet);
        let head = cells("", COLUMNS.map(|(head, _)| head.to_owned()));
        paint::line(buf, (area.x + 2, area.y), width, &head, quiet);
        for (y, at) in self.seen(area).rows() {
            let row = &self.rows[at];
            let role = if at == self.chosen {
                paint::sign(
                    buf,
                    (area.x, y),
                    theme.glyphs().here,
                    theme.style(Role::Cursor),
                );
                Role::Selected
            } else {
                Role::Text
            };
            let (way, figures) = (row.way, &row.figures);
            let number = |number: usize| number.to_string();
            let may_be_less = !figures.page_moves_proven_least && figures.page_moves > 0;
            let moves = theme.number(figures.page_moves, may_be_less);
            let line = cells(
                way_words(way),
                [
                    number(figures.lifts),
                    moves,
                    number(figures.handlings),
                    number(figures.most_cards_aside),
                    number(figures.page_turns),
                ],
            );
            paint::line(buf, (area.x + 2, y), width, &line, theme.style(role));
        }
    }
}

const LABEL: usize = 24;

/// What stands above each column, and how wide it is.
const COLUMNS: [(&str, usize); 5] = [
    ("cards out", 11),
    ("pages moved", 13),
    ("picked up", 11),
    ("on table", 10),
    // Times that another page is; front and back of one are not told apart.
    ("opened", 8),
];

/// Which of them is so.
const PICKED_UP: usize = 2;

pub(super) fn way_words(way: Way) -> &'static str {
    match (way.working, way.pages_stay) {
        (Working::TwoPasses, false) => "two passes",
        (Working::HandToHand, false) => "hand to hand",
        (Working::TwoPasses, true) => "two passes, pages stay",
        (Working::HandToHand, true) => "hand to hand, pages stay",
    }
}

/// What the chosen way means.
pub(super) fn way_sentence(way: Way) -> &'static str {
    match (way.working, way.pages_stay) {
        (Working::TwoPasses, false) => "All that moves comes out, then goes in",
        (Working::HandToHand, false) => "Each card goes straight to its pocket",
        (Working::TwoPasses, true) => "No page leaves its place; cards come out, then go in",
        (Working::HandToHand, true) => "No page leaves its place; each card straight to its pocket",
    }
}

/// Pages that are to be put in and taken out, as a sentence after another.
pub(super) fn page_words(figures: &Figures) -> String {
    let pages = |number: usize| text::count(number as u64, "page", "pages");
    match (figures.pages_added, figures.pages_removed) {
        (0, 0) => String::new(),
        (added, 0) => format!(" Put in: {}", pages(added)),
        (0, removed) => format!(" Taken out: {}", pages(removed)),
        (added, removed) => format!(" Put in: {}; taken out: {removed}", pages(added)),
    }
}

/// What is left to do, in one line.
pub(super) fn left_words(figures: &Figures, way: Way, at_most: &str) -> String {
    let mut words = format!("{}: {} out", way_words(way), figures.lifts);
    if figures.page_moves > 0 {
        let sign = if figures.page_moves_proven_least {
            ""
        } else {
            at_most
        };
        let moves = text::count(figures.page_moves as u64, "page moved", "pages moved");
        words.push_str(&format!(", {sign}{moves}"));
    }
    let times = text::count(figures.page_turns as u64, "time", "times");
    words.push_str(&format!(
        ", {} picked up, another page opened {times}",
        figures.handlings
    ));
    words
}
