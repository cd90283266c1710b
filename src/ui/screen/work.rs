//! The work sheet beside the binder: the present deed is marked in the page; one key says that it
//! is done. The sheet is planned anew from the truth each time, so work can stop anywhere.

mod copy;
mod draw;
mod end;
mod planned;
mod ways;

use std::sync::Arc;

use ratatui::buffer::Buffer;

use super::list::List;
use super::pile::Pile;
use super::print::Print;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::model::{BinderId, Change, SetId};
use crate::plan::{Deed, Way, WorkSheet};
use crate::text;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::job::Job;
use crate::ui::keymap::Context;
use crate::ui::spread::Spread;
use planned::{Planned, What};
use ways::{Ways, way_sentence};

/// More lines than this are not ticked with one key unasked: a page, both sides of it.
const MANY: usize = 18;

/// The sheet of one binder or of the whole shelf.
#[derive(Debug)]
pub(crate) struct Work {
    binder: Option<BinderId>,
    way: Way,
    sheet: Arc<WorkSheet>,
    /// The revision of the collection that it is planned from.
    planned_at: Option<u64>,
    /// Planning, and why.
    job: Option<(What, Job<Planned>)>,
    /// The choice between the ways, until it is made.
    ways: Option<Ways>,
    /// Deeds that were left for later; they come again when the sheet is opened anew.
    skipped: Vec<Deed>,
    /// The deeds that can be chosen, by their place in the sheet; the first is the present one.
    open: Vec<usize>,
    chosen: usize,
    /// Ticking many lines with one key was asked for once.
    asked: bool,
    /// What was done with the sheet since it was opened.
    turns: Vec<Turn>,
    /// Of the steps taken back since, how many lines each had; 0 for one from before.
    undone: Vec<usize>,
    /// The binder behind, opened at the chosen deed.
    behind: Option<Spread>,
    /// Loose copies that go into other binders than the one that the sheet is of.
    elsewhere: usize,
    /// A draft was open: the sheet is not for it.
    from_draft: bool,
}

/// What was done with the sheet by one key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Turn {
    /// So many lines are done.
    Ticked(usize),
    /// A line was left for later.
    Skipped,
}

impl Work {
    pub(crate) fn of(desk: &Desk, binder: Option<BinderId>) -> Self {
        let mut work = Self {
            binder,
            way: desk.way,
            sheet: Arc::default(),
            planned_at: None,
            job: None,
            ways: None,
            skipped: Vec::new(),
            open: Vec::new(),
            chosen: 0,
            asked: false,
            turns: Vec::new(),
            undone: Vec::new(),
            behind: None,
            elsewhere: 0,
            from_draft: false,
        };
        work.plan(desk, What::Opening);
        work
    }

    /// Opened while a draft was looked at: its head says that it is of the real binder.
    pub(crate) fn beside_draft(mut self, from_draft: bool) -> Self {
        self.from_draft = from_draft;
        self
    }

    /// Whether the way is still to be chosen.
    pub(crate) fn is_choosing(&self) -> bool {
        self.ways.is_some()
    }

    /// The deeds that are open are found anew.
    fn look(&mut self, desk: &Desk, what: What) {
        if !self.skipped.is_empty() {
            return self.plan(desk, what);
        }
        self.job = None;
        self.open = (0..self.sheet.deeds.len()).collect();
        self.show(desk);
    }

    /// Opens the binder behind at the chosen deed.
    fn show(&mut self, desk: &Desk) {
        self.chosen = self.chosen.min(self.open.len().saturating_sub(1));
        let deed = self.open.get(self.chosen).map(|at| &self.sheet.deeds[*at]);
        let deed = deed.filter(|_| self.is_true(desk));
        let place = deed.and_then(hand::deed_place);
        let ground = match (place, self.binder) {
            (Some(place), _) => Some((Ground::real(place.binder), place)),
            // Where nothing is marked the page that one looks at stays open.
            (None, Some(binder)) if self.behind.is_none() => {
                Some((Ground::real(binder), desk.left_at(Ground::real(binder))))
            }
            (None, _) => {
                if let Some(behind) = &mut self.behind {
                    behind.refresh(desk.collection());
                }
                return;
            }
        };
        self.behind = ground.map(|(ground, place)| Spread::on(desk.collection(), ground, place));
    }

    /// The marked way is taken.
    fn begin(&mut self, desk: &mut Desk) {
        self.take_marked();
        self.ways = None;
        desk.way = self.way;
        self.chosen = 0;
        self.skipped.clear();
        self.turns.retain(|turn| *turn != Turn::Skipped);
        self.look(desk, What::Skipped);
        // On a low screen the words would stand where the keys are.
        if desk.chrome() > 1 {
            desk.say(way_sentence(self.way));
        }
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
        if ticked.len() > MANY && !std::mem::replace(&mut self.asked, true) {
            let (lines, key) = (ticked.len(), desk.key(Context::Work, Intent::Done));
            return desk.warn(format!(
                "{lines} lines at once? {key} once more ticks all of them"
            ));
        }
        let step = hand::deeds_done(desk.collection(), &self.sheet, &ticked);
        if desk.commit(step) {
            self.turns.push(Turn::Ticked(ticked.len()));
            self.undone.clear();
            self.chosen = 0;
            // The rest of a sheet is what planning anew would give.
            let from_top = self.skipped.is_empty();
            if from_top && Arc::make_mut(&mut self.sheet).without_first(ticked.len()) {
                self.planned_at = Some(desk.session.revision());
                self.look(desk, What::Skipped);
            } else {
                self.refresh(desk);
            }
        }
    }

    /// Whether the chosen line is about a page: pages are there, and what follows counts on them.
    fn is_at_page(&self) -> bool {
        let deed = self.open.get(self.chosen).map(|at| &self.sheet.deeds[*at]);
        let is_of_page = |change: &Change| {
            matches!(
                change,
                Change::MovePage { .. } | Change::AddPage { .. } | Change::RemovePage { .. }
            )
        };
        deed.is_some_and(|deed| deed.changes.iter().any(is_of_page))
    }

    fn skip(&mut self, desk: &mut Desk) {
        let Some(at) = self.open.get(self.chosen) else {
            return;
        };
        if self.is_at_page() {
            return desk.say("Only a card can be missing; a page is moved in its turn");
        }
        self.skipped.push(self.sheet.deeds[*at].clone());
        self.turns.push(Turn::Skipped);
        self.look(desk, What::Skipped);
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
        let is_there = self.job.is_none() && !self.open.is_empty();
        match intent {
            Intent::Done => desk.can_write() && is_there,
            Intent::Skip => is_there && !self.is_at_page(),
            Intent::OtherWay | Intent::CopyOut | Intent::Print => is_there,
            Intent::Accept | Intent::Lists => self.job.is_none(),
            Intent::Pile => self.job.is_none() && desk.can_write(),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if let Some((what, _)) = self.job {
            return match intent {
                Intent::Leave => self.stopped(desk, what),
                _ => Next::Stay,
            };
        }
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
        self.asked = self.asked && intent == Intent::Done;
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Done => self.tick(desk),
            Intent::Skip => self.skip(desk),
            Intent::Print if self.can(desk, intent) => {
                return Print::sheet(desk, self.binder).map_or(Next::Stay, Next::open);
            }
            Intent::Lists => return Next::open(List::open(desk, self.binder)),
            Intent::Pile if self.can(desk, intent) => {
                return Next::open(Pile::of(desk, self.set(desk)));
            }
            Intent::OtherWay if !self.open.is_empty() => self.plan(desk, What::OtherWay),
            _ => self.chosen = intent.stepped(self.chosen, 10, last),
        }
        self.show(desk);
        self.hear(desk)
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        self.hear_planned(desk)
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        self.says_planning(desk)
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        if mouse != Mouse::Left || self.job.is_some() {
            return Next::Stay;
        }
        let list = self.list(desk);
        if let Some(ways) = &mut self.ways {
            if ways.mark(list, (x, y)) {
                self.begin(desk);
            }
            return Next::Stay;
        }
        if list.contains((x, y).into()) {
            let lines = self.lines(desk, list);
            let at = lines.get(usize::from(y - list.y)).map(|line| line.deed);
            if let Some(at) = at {
                if at == self.chosen {
                    return self.act(desk, Intent::Done);
                }
                self.chosen = at;
                self.asked = false;
                self.show(desk);
            }
        }
        Next::Stay
    }

    fn copied(&self, desk: &Desk) -> Option<Copied> {
        copy::deeds(self, desk)
    }

    /// What was left for later is kept nowhere.
    fn has_own_undo(&self) -> bool {
        self.turns.last() == Some(&Turn::Skipped)
    }

    /// A line that was left for later comes back, if nothing was ticked since.
    fn take_back(&mut self, desk: &mut Desk) -> bool {
        if !self.has_own_undo() {
            return false;
        }
        self.turns.pop();
        self.skipped.pop();
        self.look(desk, What::Back);
        desk.say("It is on the sheet again");
        true
    }

    fn taken_back(&mut self) {
        self.undone.push(match self.turns.pop() {
            Some(Turn::Ticked(lines)) => lines,
            _ => 0,
        });
    }

    fn done_again(&mut self) {
        match self.undone.pop() {
            None | Some(0) => {}
            Some(lines) => self.turns.push(Turn::Ticked(lines)),
        }
    }

    /// Plans anew.
    fn refresh(&mut self, desk: &Desk) {
        if self.is_true(desk) {
            return;
        }
        let what = match self.job {
            Some((What::Opening, _)) => What::Opening,
            _ => What::AsIfNew,
        };
        self.ways = None;
        self.plan(desk, what);
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}

impl Work {
    /// The set that the binder is for.
    fn set(&self, desk: &Desk) -> Option<SetId> {
        desk.collection().binder(self.binder?)?.spec().set
    }

    /// Lines that are done, as long as the sheet has been open.
    fn done(&self) -> usize {
        let lines = |turn: &Turn| match turn {
            Turn::Ticked(lines) => *lines,
            Turn::Skipped => 0,
        };
        self.turns.iter().map(lines).sum()
    }
}

fn counted(number: usize, one: &str, many: &str) -> String {
    text::count(number as u64, one, many)
}
