//! What goes on paper: which document, on which paper, into which file; and what it will look
//! like, as far as a terminal can show it.

mod draw;
mod made;
mod small;
mod write;

use std::path::PathBuf;
use std::sync::Arc;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::{Mouse, Next, Screen};
use crate::model::{Binder, BinderId};
use crate::paper::Turn;
use crate::paper::{PAPERS, Size, parse_paper};
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::form::{stepped, turned};
use crate::ui::intent::Intent;
use crate::ui::job::Job;
use crate::ui::keymap::{Context, letter};
use draw::form;
use made::Made;
use write::Done;

/// What can be printed, with the words for it and the name of its file.
const KINDS: [(Kind, &str, &str); 9] = [
    (Kind::Labels, "spine labels", "labels"),
    (Kind::Index, "index page of the binder", "index"),
    (Kind::Wants, "wants", "wants"),
    (Kind::Spares, "spares", "spares"),
    (Kind::Sheet, "work sheet", "work-sheet"),
    (Kind::Shopping, "shopping list", "shopping"),
    (Kind::Pile, "how to sort a pile", "pile"),
    (Kind::Pockets, "pocket cards for gaps", "pockets"),
    (Kind::Page, "picture of the spread", "spread"),
];

/// The papers to choose from, and which is usual: one of them, or one more.
fn papers(usual: &str) -> (Vec<Box<str>>, usize) {
    let mut papers: Vec<Box<str>> = PAPERS.map(|(word, _)| word.into()).to_vec();
    let known = papers.iter().position(|paper| &**paper == usual);
    let at = known.unwrap_or(papers.len());
    if known.is_none() {
        papers.push(usual.into());
    }
    (papers, at)
}

/// How the title of a label runs.
const READINGS: [(Turn, &str); 3] = [
    (Turn::Down, "down the spine"),
    (Turn::Up, "up the spine"),
    (Turn::Across, "across if it fits"),
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Labels,
    Index,
    Wants,
    Spares,
    Sheet,
    Shopping,
    Pile,
    Pockets,
    Page,
}

/// A line of the form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Row {
    Kind,
    Whose,
    Paper,
    Reading,
    Spine,
    /// Of a pile: how many cards it has, and how many heaps have room.
    Cards,
    Heaps,
    File,
}

/// The form with its preview.
#[derive(Debug)]
pub(crate) struct Print {
    binder: BinderId,
    /// The page that is seen in the binder, from 0.
    page: usize,
    kind: usize,
    /// Of the whole shelf, not of the one binder.
    all: bool,
    papers: Vec<Box<str>>,
    paper: usize,
    reading: usize,
    spine: Field,
    cards: Field,
    heaps: Field,
    file: Field,
    /// The file's name was typed, and is no longer proposed.
    named: bool,
    focus: Row,
    /// What was made of the form, or why nothing was.
    made: Result<Arc<Made>, String>,
    /// The revision of the collection that it was made from.
    made_at: u64,
    /// The sheets are made, or written.
    job: Option<Job<Done>>,
    /// What is written was asked to stop.
    stopping: bool,
    /// The sheet that the preview shows, from 0.
    sheet: usize,
    /// The file that is there already and is written over if it is asked for again.
    over: Option<PathBuf>,
}

impl Print {
    /// For this binder, or for the whole shelf with this binder chosen.
    pub(crate) fn of(desk: &Desk, binder: BinderId, page: usize, all: bool) -> Self {
        Self::of_kind(desk, 0, (binder, page), all)
    }

    fn of_kind(desk: &Desk, kind: usize, (binder, page): (BinderId, usize), all: bool) -> Self {
        let usual = &desk.settings.paper;
        let (papers, paper) = papers(&usual.size);
        let mut print = Self {
            binder,
            page,
            kind,
            all,
            papers,
            paper,
            reading: (READINGS.iter())
                .position(|(turn, _)| *turn == usual.label_reading)
                .unwrap_or(0),
            spine: Field::default(),
            cards: Field::default(),
            heaps: Field::default(),
            file: Field::default(),
            named: false,
            focus: Row::Kind,
            made: Err(String::new()),
            made_at: 0,
            job: None,
            stopping: false,
            sheet: 0,
            over: None,
        };
        print.renew(desk);
        print
    }

    /// For the work sheet of this binder, or of the whole shelf.
    pub(crate) fn sheet(desk: &Desk, binder: Option<BinderId>) -> Option<Self> {
        let first = || desk.collection().binder_at(0).map(Binder::id);
        let of_work = |(kind, ..): &(Kind, &str, &str)| *kind == Kind::Sheet;
        let kind = KINDS.iter().position(of_work).unwrap_or(0);
        let at = (binder.or_else(first)?, 0);
        Some(Self::of_kind(desk, kind, at, binder.is_none()))
    }

    fn kind(&self) -> Kind {
        KINDS[self.kind].0
    }

    /// The lines that this kind of document has.
    fn rows(&self) -> Vec<Row> {
        let mut rows = vec![Row::Kind];
        if !matches!(self.kind(), Kind::Index | Kind::Page) {
            rows.push(Row::Whose);
        }
        rows.push(Row::Paper);
        if self.kind() == Kind::Labels {
            rows.extend([Row::Reading, Row::Spine]);
        }
        if self.kind() == Kind::Pile {
            rows.extend([Row::Cards, Row::Heaps]);
        }
        rows.push(Row::File);
        rows
    }

    fn row(&self) -> Row {
        // A line that another document has is not there in this one.
        Some(self.focus)
            .filter(|row| self.rows().contains(row))
            .unwrap_or(Row::Kind)
    }

    fn paper(&self) -> Size {
        parse_paper(&self.papers[self.paper]).unwrap_or(Size::A4)
    }

    /// Makes the document anew, after something was chosen.
    fn renew(&mut self, desk: &Desk) {
        if !self.named {
            let name = KINDS[self.kind].2;
            self.file = Field::default();
            self.file.insert(&format!("{name}.pdf"));
        }
        self.over = None;
        self.sheet = 0;
        self.made = Err(String::new());
        self.made_at = desk.session.revision();
        let (wish, collection) = (self.wish(desk), desk.collection().clone());
        self.job = Some(Job::begin(desk.beside.as_ref(), move |_| {
            Done::Made(Made::of(&wish, &collection))
        }));
        self.stopping = false;
        self.take_made(desk);
    }

    fn field(&mut self) -> Option<&mut Field> {
        match self.row() {
            Row::Spine => Some(&mut self.spine),
            Row::Cards => Some(&mut self.cards),
            Row::Heaps => Some(&mut self.heaps),
            Row::File => Some(&mut self.file),
            _ => None,
        }
    }

    fn typed(&mut self, desk: &Desk, row: Row, changed: bool) {
        match row {
            Row::File if changed => {
                self.named = true;
                self.over = None;
            }
            Row::Spine | Row::Cards | Row::Heaps if changed => self.renew(desk),
            _ => {}
        }
    }

    fn sheets(&self) -> usize {
        let made = self.made.as_ref();
        made.map_or(0, |made| made.drawing.sheets.len())
    }

    fn choose(&mut self, desk: &Desk, by: isize) {
        let turn = |at: usize, of: usize| turned(at, by, of);
        match self.row() {
            Row::Kind => self.kind = turn(self.kind, KINDS.len()),
            Row::Whose => self.all = !self.all,
            Row::Paper => self.paper = turn(self.paper, self.papers.len()),
            Row::Reading => self.reading = turn(self.reading, READINGS.len()),
            Row::Spine | Row::Cards | Row::Heaps | Row::File => return,
        }
        self.renew(desk);
    }

    /// Nothing but a new choice is waited for while the sheets are made; while they are written
    /// nothing but the end.
    fn is_writing(&self) -> bool {
        self.job.is_some() && self.made.is_ok()
    }
}

impl Screen for Print {
    fn context(&self) -> Context {
        Context::Print
    }

    fn is_full(&self) -> bool {
        true
    }

    fn has_field(&self) -> bool {
        true
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        if self.is_writing() {
            return match intent {
                Intent::Leave => self.stop(),
                _ => Next::Stay,
            };
        }
        match intent {
            Intent::Leave => return Next::Close,
            Intent::NextField | Intent::PreviousField => {
                self.focus = stepped(&self.rows(), self.focus, intent);
            }
            Intent::Left | Intent::Right => {
                let left = intent == Intent::Left;
                if let Some(field) = self.field() {
                    field.sideways(left);
                } else {
                    self.choose(desk, if left { -1 } else { 1 });
                }
            }
            Intent::PageBack => self.sheet = self.sheet.saturating_sub(1),
            Intent::PageOn => self.sheet = (self.sheet + 1).min(self.sheets().max(1) - 1),
            Intent::Accept => return self.write(desk),
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        let row = self.row();
        if self.is_writing() {
            return Next::Stay;
        }
        let Some(field) = self.field() else {
            if letter(event) == Some(' ') {
                self.choose(desk, 1);
            }
            return Next::Stay;
        };
        let changed = field.key(event);
        self.typed(desk, row, changed);
        Next::Stay
    }

    fn paste(&mut self, desk: &mut Desk, words: &str) {
        let row = self.row();
        if self.is_writing() {
            return;
        }
        if let Some(field) = self.field() {
            field.paste(words);
            self.typed(desk, row, true);
        }
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            _ if self.is_writing() => return Next::Stay,
            Mouse::WheelUp => return self.act(desk, Intent::PageBack),
            Mouse::WheelDown => return self.act(desk, Intent::PageOn),
            Mouse::Left => {}
            _ => return Next::Stay,
        }
        if let Some(row) = form(desk).under(&self.rows(), self.focus, at) {
            if row == self.row() {
                self.choose(desk, 1);
            }
            self.focus = row;
        }
        Next::Stay
    }

    fn can(&self, _: &Desk, intent: Intent) -> bool {
        let own = [Intent::Accept, Intent::PageBack, Intent::PageOn];
        self.job.is_none() || !own.contains(&intent)
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        self.take(desk)
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let words = match (self.is_writing(), self.stopping) {
            (true, true) => return Some("It is being stopped".into()),
            (true, false) => "Writing",
            (false, _) => "Making the sheets",
        };
        let key = desk.key(Context::Print, Intent::Leave);
        Some(self.job.as_ref()?.says(&key, words))
    }

    /// What is seen is of the collection as it is.
    fn refresh(&mut self, desk: &Desk) {
        if self.made_at != desk.session.revision() {
            self.renew(desk);
        }
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
