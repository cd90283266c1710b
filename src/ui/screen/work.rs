//! The work sheet beside the binder: the present deed is marked in the page; one key says that it
//! is done. The sheet is planned anew from the truth each time, so work can stop anywhere.

mod copy;
mod end;
mod ways;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::binder::OpenBinder;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::model::{BinderId, Change};
use crate::plan::{Deed, Sheet, Way};
use crate::text;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;
use ways::{Ways, left_words, page_words, way_sentence};

/// The sheet of one binder or of the whole shelf.
#[derive(Debug)]
pub(crate) struct Work {
    binder: Option<BinderId>,
    way: Way,
    sheet: Sheet,
    /// The choice between the ways, until it is made.
    ways: Option<Ways>,
    /// Deeds that were left for later; they come again when the sheet is opened anew.
    skipped: Vec<Deed>,
    /// The deeds that can be chosen, by their place in the sheet; the first is the present one.
    open: Vec<usize>,
    chosen: usize,
    /// How many were ticked with each key since the sheet was opened.
    ticks: Vec<usize>,
    /// The last key left a deed for later.
    just_skipped: bool,
    /// The binder behind, opened at the chosen deed.
    behind: Option<OpenBinder>,
}

impl Work {
    pub(crate) fn of(desk: &Desk, binder: Option<BinderId>) -> Self {
        let way = desk.way;
        let sheet = hand::work_sheet(desk.collection(), binder, way);
        let mut work = Self {
            binder,
            way,
            ways: Ways::of(desk, binder, (way, &sheet)),
            sheet,
            skipped: Vec::new(),
            open: Vec::new(),
            chosen: 0,
            ticks: Vec::new(),
            just_skipped: false,
            behind: None,
        };
        // The way chosen last may not be offered here.
        work.take_marked();
        work.look(desk);
        work
    }

    /// The sheet is that of the marked way from now on.
    fn take_marked(&mut self) {
        if let Some(ways) = &mut self.ways {
            self.way = ways.chosen();
            if let Some(sheet) = ways.take_sheet() {
                self.sheet = sheet;
            }
        }
    }

    /// Whether the way is still to be chosen.
    pub(crate) fn is_choosing(&self) -> bool {
        self.ways.is_some()
    }

    /// Finds the deeds that are open: where one was left for later, those that can be done in
    /// their order without it.
    fn look(&mut self, desk: &Desk) {
        let collection = desk.collection();
        let deeds = self.sheet.deeds.iter().enumerate();
        self.open = if self.skipped.is_empty() {
            deeds.map(|(at, _)| at).collect()
        } else {
            // Gone through on a copy: what needs the card that is missing is refused there.
            let mut tried = collection.clone();
            let mut open = Vec::new();
            for (at, deed) in deeds.filter(|(_, deed)| !self.skipped.contains(deed)) {
                if Change::apply_all(&deed.changes, &mut tried).is_ok() {
                    open.push(at);
                }
            }
            open
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

    /// The marked way is taken.
    fn begin(&mut self, desk: &mut Desk) {
        self.take_marked();
        self.ways = None;
        desk.way = self.way;
        self.chosen = 0;
        self.skipped.clear();
        self.look(desk);
        desk.say(way_sentence(self.way));
    }

    /// The chosen deed and all before it have been done.
    fn tick(&mut self, desk: &mut Desk) {
        if self.open.is_empty() {
            let key = desk.key(Context::Work, Intent::Leave);
            return desk.say(format!("Nothing is left to do here; {key} leads back"));
        }
        let deeds = &self.sheet.deeds;
        let ticked = self.open[..=self.chosen].iter();
        let ticked: Vec<Deed> = ticked.map(|at| deeds[*at].clone()).collect();
        let step = hand::deeds_done(desk.collection(), &self.sheet, &ticked);
        if desk.commit(step) {
            self.ticks.push(ticked.len());
            self.just_skipped = false;
            self.chosen = 0;
            self.refresh(desk);
        }
    }

    fn skip(&mut self, desk: &mut Desk) {
        let Some(at) = self.open.get(self.chosen) else {
            return;
        };
        self.skipped.push(self.sheet.deeds[*at].clone());
        self.just_skipped = true;
        self.look(desk);
        let key = desk.key(Context::Work, Intent::Undo);
        desk.say(format!(
            "Left for later; what can be done without it goes on. {key} brings it back"
        ));
    }

    /// The sheet stands below the binder.
    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        let usual = (body.height / 3).clamp(4, 14);
        let ways = self.ways.as_ref().map_or(0, |ways| ways.height() + 1);
        let height = usual.max(ways).min(body.height);
        Rect {
            y: body.bottom() - height,
            height,
            ..body
        }
    }

    fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        let top = window.y + if self.is_choosing() { 1 } else { 2 };
        Rect {
            y: top,
            height: window.bottom().saturating_sub(top),
            ..window
        }
    }

    fn first_shown(&self, room: usize) -> usize {
        (self.chosen + 1).saturating_sub(room.max(1))
    }

    /// How much is done and left.
    fn head(&self, desk: &Desk) -> String {
        if self.is_choosing() {
            let pages = page_words(&self.sheet.work.figures);
            return format!("Work sheet: how will you go about it?{pages}");
        }
        let left = self.sheet.deeds.len();
        let done: usize = self.ticks.iter().sum();
        let mut words = format!("Work sheet: {left} left, {done} done");
        if !self.skipped.is_empty() {
            words.push_str(&format!(", {} not found", self.skipped.len()));
        }
        if self.chosen > 0 {
            words.push_str(&format!(
                "; {} ticks {} lines",
                desk.key(Context::Work, Intent::Done),
                self.chosen + 1
            ));
        }
        let deed = self.open.get(self.chosen).map(|at| &self.sheet.deeds[*at]);
        if deed.is_some_and(|deed| !deed.in_front.is_empty()) {
            words.push_str("; the card in front comes out first, and goes back");
        }
        let without = self.sheet.unfilled.len();
        if without > 0 {
            let pockets = counted(without, "pocket stays a gap", "pockets stay gaps");
            words.push_str(&format!("; {pockets}, no copy is there"));
        }
        words
    }
}

impl Screen for Work {
    fn context(&self) -> Context {
        if self.is_choosing() {
            Context::Ways
        } else {
            Context::Work
        }
    }

    fn is_full(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Done => desk.can_write() && !self.open.is_empty(),
            Intent::OtherWay => !self.open.is_empty(),
            Intent::Skip | Intent::CopyOut => !self.open.is_empty(),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if let Some(ways) = &mut self.ways {
            match intent {
                Intent::Leave => return Next::Close,
                Intent::Accept => self.begin(desk),
                Intent::Up => ways.go_on(-1),
                Intent::Down => ways.go_on(1),
                _ => {}
            }
            return Next::Stay;
        }
        let last = self.open.len().saturating_sub(1);
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Done => self.tick(desk),
            Intent::Skip => self.skip(desk),
            Intent::OtherWay => match Ways::of(desk, self.binder, (self.way, &self.sheet)) {
                Some(ways) => self.ways = Some(ways),
                None => desk.say("Every way comes to the same here"),
            },
            _ => self.chosen = intent.stepped(self.chosen, 10, last),
        }
        self.show(desk);
        Next::Stay
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        if mouse != Mouse::Left {
            return Next::Stay;
        }
        let list = self.list(desk);
        if let Some(ways) = &mut self.ways {
            let row = y
                .checked_sub(list.y + 1)
                .filter(|_| list.contains((x, y).into()));
            if row.is_some_and(|row| ways.mark(usize::from(row))) {
                self.begin(desk);
            }
            return Next::Stay;
        }
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

    fn copied(&self, desk: &Desk) -> Option<Copied> {
        copy::deeds(self, desk)
    }

    /// What `undo` means here: a deed that was just left for later comes back; otherwise the last
    /// ticks are no longer done. Tells whether the session has nothing to take back.
    fn take_back(&mut self, desk: &mut Desk) -> bool {
        if std::mem::take(&mut self.just_skipped) {
            self.skipped.pop();
            self.look(desk);
            desk.say("It is on the sheet again");
            return true;
        }
        self.ticks.pop();
        false
    }

    /// Plans anew.
    fn refresh(&mut self, desk: &Desk) {
        self.sheet = hand::work_sheet(desk.collection(), self.binder, self.way);
        self.look(desk);
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
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
        let head = self.head(desk);
        paint::line(
            buf,
            (window.x + 1, window.y),
            width,
            &head,
            theme.style(Role::Strong),
        );
        let list = self.list(desk);
        if let Some(ways) = &self.ways {
            return ways.draw(desk, list, buf);
        }
        let figures = left_words(&self.sheet.work.figures, self.way, theme.glyphs().at_most);
        paint::line(
            buf,
            (window.x + 1, window.y + 1),
            width,
            &figures,
            theme.style(Role::Quiet),
        );
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
            self.draw_end(desk, list, buf);
        }
    }
}

fn counted(number: usize, one: &str, many: &str) -> String {
    text::count(number as u64, one, many)
}
