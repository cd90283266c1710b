//! What is wanted, missing, waiting or spare, as one list to look through: narrowed by words, from
//! each line to its pocket, and out to a file.

mod draw;
mod filter;
mod write;

use std::path::PathBuf;

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen, WHEEL};
use crate::hand;
use crate::model::{BinderId, Collection};
use crate::report::{self, Asked, ListFilter, Listed};
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::job::{Job, NoAnswer};
use crate::ui::keymap::Context;
use crate::ui::left::LeftList;
use filter::Narrowed;

/// The lists in the order in which they follow each other.
const LISTS: [Asked; 4] = [Asked::Wants, Asked::Gaps, Asked::Waiting, Asked::Spares];

/// The screen with a list.
#[derive(Debug, Default)]
pub(crate) struct List {
    asked: Asked,
    field: Field,
    /// Of spares: how many copies of each card are kept.
    keep: u32,
    /// The whole list.
    all: Vec<Listed>,
    /// How the words are understood, and what they leave.
    narrowed: Narrowed,
    shown: Vec<Listed>,
    /// Copies that are shown, and on the whole list.
    copies: [u64; 2],
    chosen: usize,
    /// The name of a file is being typed.
    file: Option<Field>,
    /// What is listed or written beside the loop.
    job: Option<Job<Done>>,
    /// The revision of the collection that the list is of, which list it is, and how many are kept.
    told: Option<(u64, Asked, u32)>,
    /// The same of what is being listed.
    asked_for: (u64, Asked, u32),
    /// Listing came to nothing: a fault of this program.
    failed: bool,
}

/// What was done beside the loop.
#[derive(Debug)]
enum Done {
    Listed(Vec<Listed>),
    Written(PathBuf, Result<(), String>),
}

impl List {
    /// Of the whole shelf, or of one binder; the one that was left from there by going to a pocket
    /// is taken up again.
    pub(crate) fn open(desk: &mut Desk, binder: Option<BinderId>) -> Self {
        let left = desk.left_list.take();
        let left = left.filter(|left| Some(left.binder) == binder);
        let mut list = left.map_or_else(|| Self::begun(desk, binder), Self::taken_up);
        list.refresh(desk);
        list
    }

    fn begun(desk: &Desk, binder: Option<BinderId>) -> Self {
        let mut list = Self {
            keep: desk.settings.collecting.keep,
            ..Self::default()
        };
        let name = binder.and_then(|binder| desk.collection().binder(binder));
        if let Some(binder) = name {
            list.field.insert(&format!("in {} ", binder.name()));
        }
        list
    }

    fn taken_up(left: LeftList) -> Self {
        Self {
            asked: left.asked,
            field: left.field,
            keep: left.keep,
            chosen: left.chosen,
            ..Self::default()
        }
    }

    fn narrow(&mut self, collection: &Collection) {
        self.narrowed = Narrowed::read(collection, self.field.value());
        let mut fits = self.narrowed.fitting(collection);
        self.shown = (self.all.iter()).filter(|row| fits(row)).copied().collect();
        self.copies =
            [&self.shown, &self.all].map(|rows| rows.iter().map(|row| u64::from(row.count)).sum());
        self.chosen = self.chosen.min(self.shown.len().saturating_sub(1));
    }

    /// What the list as it is asked for would be of.
    fn wanted(&self, desk: &Desk) -> (u64, Asked, u32) {
        (desk.session.revision(), self.asked, self.keep)
    }

    /// Whether the list is there.
    fn is_there(&self) -> bool {
        self.told.is_some()
    }

    /// Whether it is known what there is, or that it cannot be known.
    fn is_told(&self) -> bool {
        self.is_there() || self.failed
    }

    /// Takes what was listed, if it has been.
    fn take_listed(
        &mut self,
        desk: &Desk,
        done: Result<Done, NoAnswer>,
        wanted: (u64, Asked, u32),
    ) {
        match done {
            Ok(Done::Listed(_)) if self.wanted(desk) != wanted => self.refresh(desk),
            Ok(Done::Listed(all)) => {
                self.all = all;
                self.told = Some(wanted);
                self.narrow(desk.collection());
            }
            _ => self.failed = true,
        }
    }

    /// Takes what was done, if it has been.
    fn take(&mut self, desk: &mut Desk) {
        let Some(done) = desk.ended(&mut self.job) else {
            return;
        };
        match (done, self.is_asking()) {
            (Ok(Done::Written(path, written)), _) => self.tell(desk, &path, written),
            (Err(NoAnswer::Stopped), true) => desk.say("Stopped: nothing is written"),
            (Err(NoAnswer::Failed(_)), true) => desk.warn("Not written: a fault of this program"),
            (done, _) => {
                let wanted = self.asked_for;
                self.take_listed(desk, done, wanted);
            }
        }
    }

    pub(crate) fn is_asking(&self) -> bool {
        self.file.is_some()
    }

    /// The next list, or the one before.
    fn turn(&mut self, desk: &Desk, on: bool) {
        let at = LISTS.iter().position(|asked| *asked == self.asked);
        let step = if on { 1 } else { LISTS.len() - 1 };
        self.asked = LISTS[(at.unwrap_or(0) + step) % LISTS.len()];
        self.refresh(desk);
    }

    /// Elsewhere than with spares these two keys are letters of a number.
    fn keep_other(&mut self, desk: &mut Desk, more: bool) {
        if self.asked == Asked::Spares {
            self.keep = match more {
                true => (self.keep + 1).min(99),
                false => self.keep.saturating_sub(1),
            };
            return self.refresh(desk);
        }
        let sign = if more { '+' } else { '-' };
        self.key(desk, &KeyEvent::from(KeyCode::Char(sign)));
    }

    fn go(&self, desk: &mut Desk) -> Next {
        let Some(row) = self.shown.get(self.chosen) else {
            if self.is_told() {
                desk.say(self.nothing(desk));
            }
            return Next::Stay;
        };
        if let Some(place) = row.place {
            desk.left_list = Some(LeftList {
                binder: place.binder,
                asked: self.asked,
                field: self.field.clone(),
                keep: self.keep,
                chosen: self.chosen,
            });
        }
        Next::to_pocket(desk, row.printing, row.place)
    }

    /// That the list is empty, and what could be done about it.
    fn nothing(&self, desk: &Desk) -> String {
        if self.failed {
            return "The list could not be made: a fault of this program".into();
        }
        let next = desk.key(Context::List, Intent::NextField);
        match (self.all.is_empty(), self.asked) {
            (false, _) => "Nothing on this list fits: fewer words show more".into(),
            (true, Asked::Wants | Asked::Gaps) => {
                format!("Nothing is missing. {next} turns to the next list")
            }
            (true, Asked::Waiting) => {
                let key = desk.key(Context::Shelf, Intent::Pile);
                format!("No loose copy waits for a gap. {key} on the shelf enters a pile")
            }
            (true, Asked::Spares) if self.keep > 0 => {
                let key = desk.key(Context::List, Intent::Fewer);
                format!("No spare is left beyond those that you keep. {key} keeps fewer")
            }
            (true, Asked::Spares) => {
                format!("There is no spare copy. {next} turns to the next list")
            }
        }
    }

    /// The list is shown a screenful at a time.
    fn first_shown(&self, rows: Rect) -> usize {
        let room = usize::from(rows.height).max(1);
        self.chosen / room * room
    }
}

impl Screen for List {
    fn context(&self) -> Context {
        if self.is_asking() {
            Context::File
        } else {
            Context::List
        }
    }

    fn is_full(&self) -> bool {
        true
    }

    fn has_field(&self) -> bool {
        true
    }

    fn can(&self, _: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::More | Intent::Fewer => self.asked == Asked::Spares,
            Intent::WriteOut | Intent::CopyOut | Intent::Accept => {
                self.job.is_none() && (!self.shown.is_empty() || self.is_asking())
            }
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if self.file.is_some() {
            // What comes of that is told.
            if let (Intent::Leave, Some(job)) = (intent, &self.job) {
                job.stop();
            }
            match intent {
                _ if self.job.is_some() => {}
                Intent::Leave => self.file = None,
                Intent::Accept => self.write(desk),
                _ => {}
            }
            return Next::Stay;
        }
        let last = self.shown.len().saturating_sub(1);
        let room = usize::from(self.rows(desk).height).max(1);
        self.chosen = match intent {
            Intent::Leave => return Next::Close,
            Intent::Accept => return self.go(desk),
            Intent::NextField | Intent::PreviousField => {
                self.turn(desk, intent == Intent::NextField);
                0
            }
            Intent::More | Intent::Fewer => {
                self.keep_other(desk, intent == Intent::More);
                self.chosen
            }
            Intent::WriteOut => {
                self.ask_file(desk);
                self.chosen
            }
            _ => intent.stepped(self.chosen, room, last),
        };
        Next::Stay
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        if let Some(file) = &mut self.file {
            if self.job.is_none() {
                file.key(event);
            }
        } else if self.field.key(event) {
            self.chosen = 0;
            self.narrow(desk.collection());
        }
        Next::Stay
    }

    fn paste(&mut self, desk: &mut Desk, words: &str) {
        match &mut self.file {
            Some(_) if self.job.is_some() => {}
            Some(file) => file.paste(words),
            None => {
                self.field.paste(words);
                self.narrow(desk.collection());
            }
        }
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        let wheel = match mouse {
            Mouse::WheelUp => Some(Intent::Up),
            Mouse::WheelDown => Some(Intent::Down),
            _ => None,
        };
        if let Some(intent) = wheel.filter(|_| self.file.is_none()) {
            let last = self.shown.len().saturating_sub(1);
            for _ in 0..WHEEL {
                self.chosen = intent.stepped(self.chosen, 1, last);
            }
        }
        if mouse != Mouse::Left {
            return Next::Stay;
        }
        if let Some(asked) = self.tab_under(desk, (x, y)) {
            self.asked = asked;
            self.chosen = 0;
            self.refresh(desk);
            return Next::Stay;
        }
        let rows = self.rows(desk);
        let at = self.first_shown(rows) + usize::from(y.saturating_sub(rows.y));
        if self.file.is_some() || !rows.contains((x, y).into()) || at >= self.shown.len() {
            return Next::Stay;
        }
        if at == self.chosen {
            return self.go(desk);
        }
        self.chosen = at;
        Next::Stay
    }

    fn copied(&self, desk: &Desk) -> Option<Copied> {
        self.to_copy(desk)
    }

    /// Takes the list anew.
    fn refresh(&mut self, desk: &Desk) {
        let wanted = self.wanted(desk);
        if self.told == Some(wanted) {
            return;
        }
        self.told = None;
        self.failed = false;
        self.asked_for = wanted;
        self.all.clear();
        self.shown.clear();
        let (asked, keep) = (self.asked, self.keep);
        let collection = desk.collection().clone();
        self.job = Some(Job::begin(desk.beside.as_ref(), move |_| {
            let filter = ListFilter {
                keep,
                ..ListFilter::default()
            };
            let told = hand::by_pages(&collection, None);
            Done::Listed(report::listed(&told, asked, filter))
        }));
        if let Some(done) = desk.ended(&mut self.job) {
            self.take_listed(desk, done, wanted);
        }
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        self.take(desk);
        Next::Stay
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let words = if self.is_there() {
            "Writing"
        } else {
            "Listing"
        };
        let key = desk.key(self.context(), Intent::Leave);
        Some(self.job.as_ref()?.says(&key, words))
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
