//! The work sheet beside the binder: the present deed is marked in the page; one key says that it
//! is done. The sheet is planned anew from the truth each time, so work can stop anywhere.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::binder::OpenBinder;
use super::{Mouse, Next};
use crate::hand::{self, Ground};
use crate::model::BinderId;
use crate::plan::{Deed, Sheet, Working};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::paint;
use crate::ui::theme::Role;

/// The sheet of one binder or of the whole shelf.
#[derive(Debug)]
pub(crate) struct Work {
    binder: Option<BinderId>,
    working: Working,
    sheet: Sheet,
    /// The sheet's figures under the other way of working, for the choice.
    other: Sheet,
    /// Deeds that were left for later; they come again when the sheet is opened anew.
    skipped: Vec<Deed>,
    /// The deeds that can be chosen, by their place in the sheet; the first is the present one.
    open: Vec<usize>,
    chosen: usize,
    /// Done since the sheet was opened.
    done: usize,
    /// The binder behind, opened at the chosen deed.
    behind: Option<OpenBinder>,
}

impl Work {
    pub(crate) fn of(desk: &Desk, binder: Option<BinderId>) -> Self {
        let working = Working::default();
        let collection = desk.collection();
        let mut work = Self {
            binder,
            working,
            sheet: hand::work_sheet(collection, binder, working),
            other: hand::work_sheet(collection, binder, other(working)),
            skipped: Vec::new(),
            open: Vec::new(),
            chosen: 0,
            done: 0,
            behind: None,
        };
        work.look(desk);
        work
    }

    /// Plans anew.
    pub(crate) fn refresh(&mut self, desk: &Desk) {
        let collection = desk.collection();
        self.sheet = hand::work_sheet(collection, self.binder, self.working);
        self.other = hand::work_sheet(collection, self.binder, other(self.working));
        self.look(desk);
    }

    /// Finds the deeds that are open: where one was left for later, only those that can be done
    /// without it, one at a time.
    fn look(&mut self, desk: &Desk) {
        let collection = desk.collection();
        let deeds = self.sheet.deeds.iter().enumerate();
        self.open = if self.skipped.is_empty() {
            deeds.map(|(at, _)| at).collect()
        } else {
            let skipped = &self.skipped;
            deeds
                .filter(|(_, deed)| !skipped.contains(deed) && hand::is_doable(collection, deed))
                .map(|(at, _)| at)
                .collect()
        };
        self.chosen = self.chosen.min(self.open.len().saturating_sub(1));
        self.show(desk);
    }

    /// Opens the binder behind at the chosen deed.
    fn show(&mut self, desk: &Desk) {
        let deed = self.open.get(self.chosen).map(|at| &self.sheet.deeds[*at]);
        let place = deed.and_then(hand::deed_place);
        let ground = match (place, self.binder) {
            (Some(place), _) => Some((Ground::real(place.binder), place)),
            (None, Some(binder)) => Some((Ground::real(binder), Ground::real(binder).place(0, 0))),
            (None, None) => None,
        };
        self.behind =
            ground.map(|(ground, place)| OpenBinder::on(desk.collection(), ground, place));
    }

    pub(crate) fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Done => desk.can_write() && !self.open.is_empty(),
            Intent::Skip => !self.open.is_empty(),
            _ => true,
        }
    }

    pub(crate) fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.open.len().saturating_sub(1);
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Done => self.tick(desk),
            Intent::Skip => self.skip(desk),
            Intent::OtherWay => {
                self.working = other(self.working);
                self.chosen = 0;
                self.skipped.clear();
                self.refresh(desk);
                desk.say(way_words(self.working));
            }
            Intent::Up => self.chosen = self.chosen.saturating_sub(1),
            Intent::Down => self.chosen = (self.chosen + 1).min(last),
            Intent::PageBack => self.chosen = self.chosen.saturating_sub(10),
            Intent::PageOn => self.chosen = (self.chosen + 10).min(last),
            Intent::First => self.chosen = 0,
            Intent::Last => self.chosen = last,
            _ => {}
        }
        self.show(desk);
        Next::Stay
    }

    /// The chosen deed and all before it have been done.
    fn tick(&mut self, desk: &mut Desk) {
        if self.open.is_empty() {
            return desk.say("Nothing is left to do here");
        }
        let deeds = &self.sheet.deeds;
        // With something left for later, the open deeds were looked at one by one.
        let ticked: Vec<Deed> = if self.skipped.is_empty() {
            self.open[..=self.chosen]
                .iter()
                .map(|at| deeds[*at].clone())
                .collect()
        } else {
            vec![deeds[self.open[self.chosen]].clone()]
        };
        let step = hand::deeds_done(desk.collection(), &self.sheet, &ticked);
        if desk.commit(step) {
            self.done += ticked.len();
            self.chosen = 0;
            self.refresh(desk);
        }
    }

    fn skip(&mut self, desk: &mut Desk) {
        let Some(at) = self.open.get(self.chosen) else {
            return;
        };
        self.skipped.push(self.sheet.deeds[*at].clone());
        self.look(desk);
        desk.say("Left for later; what can be done without it goes on");
    }

    pub(crate) fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp => return self.act(desk, Intent::Up),
            Mouse::WheelDown => return self.act(desk, Intent::Down),
            Mouse::Left => {}
            _ => return Next::Stay,
        }
        let list = self.list(desk);
        if list.contains((x, y).into()) {
            let room = usize::from(list.height);
            let at = self.first_shown(room) + usize::from(y - list.y);
            if at < self.open.len() {
                if at == self.chosen {
                    return self.act(desk, Intent::Done);
                }
                self.chosen = at;
                self.show(desk);
            }
        }
        Next::Stay
    }

    /// The sheet stands below the binder.
    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        let height = (body.height / 3).clamp(4, 14).min(body.height);
        Rect {
            y: body.bottom() - height,
            height,
            ..body
        }
    }

    fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        let top = list_top(window);
        Rect {
            y: top,
            height: window.bottom().saturating_sub(top),
            ..window
        }
    }

    fn first_shown(&self, room: usize) -> usize {
        (self.chosen + 1).saturating_sub(room.max(1))
    }

    pub(crate) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme) = (self.window(desk), desk.theme);
        let body = desk.body();
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        if let Some(behind) = &self.behind {
            behind.draw_within(desk, above, buf);
        }
        let width = window.width.saturating_sub(2);
        let head = self.head();
        paint::line(
            buf,
            (window.x + 1, window.y),
            width,
            &head,
            theme.style(Role::Strong),
        );
        self.draw_ways(desk, window, buf);
        let list = self.list(desk);
        let room = usize::from(list.height);
        let first = self.first_shown(room);
        let shown = self.open.iter().enumerate().skip(first);
        for (y, (at, number)) in (list.top()..list.bottom()).zip(shown) {
            let deed = &self.sheet.deeds[*number];
            let whole = self.binder.is_none();
            let words = hand::deed_words(desk.collection(), &self.sheet, deed, whole);
            let role = if at == self.chosen {
                Role::Selected
            } else if at < self.chosen {
                Role::Strong
            } else {
                Role::Text
            };
            let here = if at == self.chosen {
                theme.glyphs().here
            } else {
                " "
            };
            paint::sign(buf, (list.x, y), here, theme.style(Role::Cursor));
            let words = format!("{} {}", theme.glyphs().box_open, words);
            let more = theme.glyphs().more;
            let words = text::fit(&text::safe(&words), usize::from(width), more);
            paint::line(buf, (list.x + 2, y), width, &words, theme.style(role));
        }
        if self.open.is_empty() {
            let words = if self.skipped.is_empty() {
                "All lies as planned."
            } else {
                "What is left needs the cards that could not be found."
            };
            paint::line(
                buf,
                (list.x + 2, list.y),
                width,
                words,
                theme.style(Role::InPlace),
            );
        }
    }

    /// How much is done and left.
    fn head(&self) -> String {
        let left = self.sheet.deeds.len();
        let mut words = format!("Work sheet: {left} left, {} done", self.done);
        if !self.skipped.is_empty() {
            words.push_str(&format!(", {} not found", self.skipped.len()));
        }
        let without = self.sheet.unfilled.len();
        if without > 0 {
            let pockets = counted(without, "pocket stays a gap", "pockets stay gaps");
            words.push_str(&format!("; {pockets}, no copy is there"));
        }
        words
    }

    /// Both ways of working with their figures, side by side; the present one is marked.
    fn draw_ways(&self, desk: &Desk, window: Rect, buf: &mut Buffer) {
        let theme = desk.theme;
        let width = window.width.saturating_sub(2);
        let both = [
            (&self.sheet, self.working, true),
            (&self.other, other(self.working), false),
        ];
        for (y, (sheet, working, now)) in (window.y + 1..list_top(window)).zip(both) {
            let role = if now { Role::Text } else { Role::Quiet };
            let here = if now { theme.glyphs().here } else { " " };
            paint::sign(buf, (window.x, y), here, theme.style(Role::Cursor));
            let words = figures(sheet, working);
            paint::line(buf, (window.x + 2, y), width, &words, theme.style(role));
        }
    }
}

/// On a low window only the present way of working is told.
fn list_top(window: Rect) -> u16 {
    window.y + if window.height >= 7 { 3 } else { 2 }
}

fn figures(sheet: &Sheet, working: Working) -> String {
    let figures = &sheet.work.figures;
    let moves = match (figures.page_moves, figures.page_moves_proven_least) {
        (0, _) | (_, true) => counted(figures.page_moves, "page move", "page moves"),
        (moves, false) => format!("{moves} page moves (best found)"),
    };
    format!(
        "{:<13}{} touched, {moves}, {}, {} on the table, {}",
        way(working),
        counted(figures.lifts, "card", "cards"),
        counted(figures.handlings, "handling", "handlings"),
        figures.most_cards_aside,
        counted(figures.page_turns, "page turn", "page turns")
    )
}

fn counted(number: usize, one: &str, many: &str) -> String {
    text::count(number as u64, one, many)
}

fn other(working: Working) -> Working {
    match working {
        Working::TwoPasses => Working::HandToHand,
        Working::HandToHand => Working::TwoPasses,
    }
}

fn way(working: Working) -> &'static str {
    match working {
        Working::TwoPasses => "two passes",
        Working::HandToHand => "hand to hand",
    }
}

fn way_words(working: Working) -> &'static str {
    match working {
        Working::TwoPasses => "Two passes: everything that moves comes out, then goes in",
        Working::HandToHand => "Hand to hand: each card goes straight to its pocket",
    }
}
