//! Swapping with another collector: their two lists come in, what could go either way is told, and
//! what is agreed on is carried out as one step.

mod draw;
mod read;
mod sheet;

use std::mem;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::{Mouse, Next, Screen};
use crate::hand;
use crate::model::Collection;
use crate::paper::swap_sheet;
use crate::report::{self, Stock};
use crate::text;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::files;
use crate::ui::intent::Intent;
use crate::ui::job::Job;
use crate::ui::keymap::Context;
use read::Came;
use sheet::{Line, sheet};

/// The fields of the form, with what they ask for.
const ASKED: [&str; 2] = ["File of what they want", "File of what they can spare"];

/// The screen of a swap: the form first, then the sheet.
#[derive(Debug, Default)]
pub(crate) struct Swap {
    fields: [Field; 2],
    focus: usize,
    /// A card only for one of the same rarity.
    by_rarity: bool,
    /// So many spare copies of each card are kept.
    keep: u32,
    sheet: Option<Sheet>,
    /// What is told of the collection of this revision: it stays while other spares are kept.
    told: Option<(u64, Collection)>,
    /// Their files are read.
    job: Option<Job<Came>>,
    /// The name of a file for the sheet is being typed.
    file: Option<Field>,
}

#[derive(Debug)]
struct Sheet {
    wants: Stock,
    spares: Stock,
    swap: report::Swap,
    lines: Vec<Line>,
    /// The end of the lines: what was passed over of their lists.
    passed: Vec<Line>,
    /// The line one is at.
    at: usize,
}

impl Sheet {
    /// With its last part, and at its first row.
    fn with_end(mut self) -> Self {
        self.lines.extend(self.passed.iter().cloned());
        self.at = self.lines.iter().position(Line::is_row).unwrap_or(0);
        self
    }

    /// The pair one is at.
    fn pair(&self) -> Option<usize> {
        self.lines.get(self.at)?.pair
    }

    fn leave_out(&mut self) {
        if let Some(pair) = self.pair() {
            self.swap.leave_out(pair);
            self.lines[0].left = self.swap.pairs_words();
        }
    }

    /// To the row at this line, or the one next to it on the way.
    fn go_to(&mut self, to: usize) {
        let is_row = |at: &usize| self.lines[*at].is_row();
        let on = (to..self.lines.len()).find(is_row);
        let back = (0..=to).rev().find(is_row);
        let next = if to < self.at {
            back.or(on)
        } else {
            on.or(back)
        };
        self.at = next.unwrap_or(self.at);
    }
}

impl Swap {
    /// With as many spares kept as is usual.
    pub(crate) fn of(desk: &Desk) -> Self {
        Self {
            keep: desk.settings.collecting.keep,
            ..Self::default()
        }
    }

    pub(crate) fn is_asking(&self) -> bool {
        self.file.is_some()
    }

    pub(crate) fn is_form(&self) -> bool {
        self.sheet.is_none()
    }

    /// The form, while nothing is read.
    fn is_typed_in(&self) -> bool {
        self.job.is_none() && (self.sheet.is_none() || self.file.is_some())
    }

    fn typing(&mut self) -> &mut Field {
        match &mut self.file {
            Some(file) => file,
            None => &mut self.fields[self.focus],
        }
    }

    fn work_out(&mut self, desk: &Desk) {
        let (keep, by_rarity) = (self.keep, self.by_rarity);
        if let Some(sheet) = &mut self.sheet {
            let (collection, revision) = (desk.collection(), desk.session.revision());
            let told = self.told.take().filter(|(of, _)| *of == revision);
            let told = told.unwrap_or_else(|| {
                let told = hand::by_pages(collection, None).into_owned();
                (revision, told)
            });
            let (_, told) = self.told.insert(told);
            let swap = report::swap(told, &sheet.wants, &sheet.spares, keep, by_rarity);
            let before = mem::replace(&mut sheet.swap, swap);
            sheet.swap.leave_out_as(&before);
            sheet.lines = self::sheet(collection, &sheet.swap);
            sheet.lines.extend(sheet.passed.iter().cloned());
            sheet.go_to(1);
        }
    }

    /// What was agreed on is done, as one step.
    fn carry_out(&mut self, desk: &mut Desk) -> Next {
        let step = self.sheet.as_ref().map(|sheet| hand::swapped(&sheet.swap));
        let Some(step) = step.filter(|step| !step.changes.is_empty()) else {
            desk.say("Nothing goes one for one: there is nothing to carry out");
            return Next::Stay;
        };
        if desk.commit(step) {
            Next::Close
        } else {
            Next::Stay
        }
    }

    fn write(&mut self, desk: &mut Desk) {
        let (Some(file), Some(sheet)) = (&mut self.file, &self.sheet) else {
            return;
        };
        file.begin_anew();
        let path = match desk.outside_path(file.value()) {
            Ok(path) => path,
            Err(why) => return desk.warn(why),
        };
        let words = swap_sheet(desk.collection(), &sheet.swap).text();
        let written = files::write(&desk.session, &path, |to| to.write_all(words.as_bytes()));
        match written {
            Ok(()) => {
                self.file = None;
                desk.say(format!("Written: {}", path.display()));
            }
            Err(why) => desk.warn(why),
        }
    }

    fn step(&mut self, desk: &Desk, intent: Intent) {
        let room = usize::from(Self::window(desk).height).max(1);
        if let Some(sheet) = &mut self.sheet {
            let last = sheet.lines.len().saturating_sub(1);
            sheet.go_to(intent.stepped(sheet.at, room, last));
        }
    }
}

impl Screen for Swap {
    fn context(&self) -> Context {
        if self.is_asking() {
            Context::File
        } else if self.is_form() {
            Context::SwapFiles
        } else {
            Context::Swap
        }
    }

    fn is_full(&self) -> bool {
        true
    }

    fn has_field(&self) -> bool {
        self.sheet.is_none() || self.file.is_some()
    }

    fn copied(&self, _: &Desk) -> Option<Copied> {
        let sheet = self.sheet.as_ref()?;
        let lines = &sheet.lines;
        let lines: Vec<_> = lines.iter().map(|line| line.plain(&sheet.swap)).collect();
        let what = text::count(lines.len() as u64, "line", "lines");
        Some(Copied::lines(what, lines.iter().map(String::as_str)))
    }

    fn word(&self, intent: Intent) -> &'static str {
        let sheet = self.sheet.as_ref();
        let pair = sheet.and_then(|s| Some(s.swap.left_out.contains(&s.pair()?)));
        match (intent, pair) {
            (Intent::LeaveOut, Some(true)) => "take in again",
            _ => intent.word(self.context()),
        }
    }

    fn why_not(&self, _: &Desk, intent: Intent) -> Option<String> {
        let words = match intent {
            Intent::LeaveOut => "only a pair of what goes one for one can be left out",
            Intent::CarryOut => "nothing goes one for one",
            _ => return None,
        };
        Some(words.into())
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        let pairs = self.sheet.as_ref().map_or(0, |s| s.swap.many_agreed());
        match intent {
            Intent::LeaveOut => self.sheet.as_ref().is_some_and(|s| s.pair().is_some()),
            Intent::CarryOut => desk.can_write() && pairs > 0,
            Intent::Accept => self.job.is_none(),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if self.file.is_some() {
            match intent {
                Intent::Leave => self.file = None,
                Intent::Accept => self.write(desk),
                _ => {}
            }
            return Next::Stay;
        }
        if self.job.is_some() {
            if intent == Intent::Leave {
                self.job = None;
                desk.say("Stopped: no list was taken");
            }
            return Next::Stay;
        }
        if self.sheet.is_none() {
            match intent {
                Intent::Leave => return Next::Close,
                Intent::Accept => self.read(desk),
                Intent::NextField | Intent::PreviousField => self.focus = 1 - self.focus,
                _ => {}
            }
            return Next::Stay;
        }
        match intent {
            // Back to the files.
            Intent::Leave => self.sheet = None,
            Intent::CarryOut => return self.carry_out(desk),
            Intent::LeaveOut => self.sheet.iter_mut().for_each(Sheet::leave_out),
            Intent::ByRarity => {
                self.by_rarity = !self.by_rarity;
                self.work_out(desk);
            }
            Intent::More => {
                self.keep = (self.keep + 1).min(99);
                self.work_out(desk);
            }
            Intent::Fewer => {
                self.keep = self.keep.saturating_sub(1);
                self.work_out(desk);
            }
            Intent::WriteOut => {
                let mut file = Field::default();
                file.insert("swap.txt");
                file.begin_anew();
                self.file = Some(file);
            }
            _ => self.step(desk, intent),
        }
        Next::Stay
    }

    fn key(&mut self, _: &mut Desk, event: &KeyEvent) -> Next {
        if self.is_typed_in() {
            self.typing().key(event);
        }
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        if self.is_typed_in() {
            self.typing().paste(words);
        }
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        self.take(desk);
        Next::Stay
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let job = self.job.as_ref()?;
        Some(job.says(&desk.key(Context::SwapFiles, Intent::Leave), "Reading"))
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp => self.step(desk, Intent::Up),
            Mouse::WheelDown => self.step(desk, Intent::Down),
            Mouse::Left if self.sheet.is_some() && self.file.is_none() => {
                if let Some(sheet) = &mut self.sheet
                    && let Some(line) = Self::seen(desk, sheet).under((x, y))
                    && sheet.lines[line].is_row()
                {
                    if line == sheet.at {
                        sheet.leave_out();
                    }
                    sheet.at = line;
                }
            }
            Mouse::Left if self.sheet.is_none() && self.job.is_none() => {
                if let Some(at) = self.field_under(desk, y) {
                    self.focus = at;
                }
            }
            _ => {}
        }
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
