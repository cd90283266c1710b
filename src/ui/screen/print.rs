//! What goes on paper: which document, on which paper, into which file; and what it will look
//! like, as far as a terminal can show it.

mod draw;
mod made;

use std::path::PathBuf;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::model::BinderId;
use crate::paper::{Document, Drawing, Fonts, Format, Size, numbered, parse_paper};
use crate::session::OutsideError;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;

/// What can be printed, with the words for it and the name of its file.
const KINDS: [(Kind, &str, &str); 9] = [
    (Kind::Labels, "spine labels", "labels"),
    (Kind::Index, "index page of the binder", "index"),
    (Kind::Wants, "what to look for", "wanted"),
    (Kind::Spares, "what to swap away", "spares"),
    (Kind::Sheet, "work sheet", "work"),
    (Kind::Shopping, "what to buy", "to-buy"),
    (Kind::Pile, "to sort a pile", "pile"),
    (Kind::Pockets, "pocket cards for gaps", "pockets"),
    (Kind::Page, "picture of the spread", "spread"),
];

const PAPERS: [&str; 4] = ["a4", "letter", "a5", "a3"];
const READINGS: [&str; 3] = ["down the spine", "up the spine", "across if it fits"];

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
    paper: usize,
    reading: usize,
    spine: Field,
    file: Field,
    /// The file's name was typed, and is no longer proposed.
    named: bool,
    focus: usize,
    /// What was made of the form, or why nothing was.
    made: Result<Made, String>,
    /// The sheet that the preview shows, from 0.
    sheet: usize,
    /// The file that is there already and is written over if it is asked for again.
    over: Option<PathBuf>,
    fonts: Box<Fonts<'static>>,
}

#[derive(Debug)]
struct Made {
    document: Document,
    drawing: Drawing,
    told: Vec<String>,
}

impl Print {
    /// For this binder, or for the whole shelf with this binder chosen.
    pub(crate) fn of(desk: &Desk, binder: BinderId, page: usize, all: bool) -> Self {
        let mut print = Self {
            binder,
            page,
            kind: 0,
            all,
            paper: 0,
            reading: 0,
            spine: Field::default(),
            file: Field::default(),
            named: false,
            focus: 0,
            made: Err(String::new()),
            sheet: 0,
            over: None,
            fonts: Box::new(Fonts::own()),
        };
        print.renew(desk);
        print
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
        rows.push(Row::File);
        rows
    }

    fn row(&self) -> Row {
        let rows = self.rows();
        rows[self.focus.min(rows.len() - 1)]
    }

    fn paper(&self) -> Size {
        parse_paper(PAPERS[self.paper]).unwrap_or(Size::A4)
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
        self.made = self.document(desk).map(|document| {
            let drawing = document.drawing(self.paper(), &self.fonts);
            Made {
                told: drawing.told(&self.fonts),
                document,
                drawing,
            }
        });
    }

    fn field(&mut self) -> Option<&mut Field> {
        match self.row() {
            Row::Spine => Some(&mut self.spine),
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
            Row::Spine if changed => self.renew(desk),
            _ => {}
        }
    }

    fn sheets(&self) -> usize {
        let made = self.made.as_ref();
        made.map_or(0, |made| made.drawing.sheets.len())
    }

    fn choose(&mut self, desk: &Desk, by: isize) {
        let turn = |at: usize, of: usize| at.wrapping_add_signed(by).wrapping_add(of) % of;
        match self.row() {
            Row::Kind => self.kind = turn(self.kind, KINDS.len()),
            Row::Whose => self.all = !self.all,
            Row::Paper => self.paper = turn(self.paper, PAPERS.len()),
            Row::Reading => self.reading = turn(self.reading, READINGS.len()),
            Row::Spine | Row::File => return,
        }
        self.renew(desk);
    }

    /// Writes the file, whole or not at all; one that is there only when asked a second time.
    fn write(&mut self, desk: &mut Desk) -> Next {
        let written = self.try_write(desk);
        match written {
            Ok(files) => {
                desk.say(format!(
                    "Written: {}. Print at 100 %, no scaling.",
                    files.join(", ")
                ));
                Next::Close
            }
            Err(why) => {
                desk.warn(why);
                Next::Stay
            }
        }
    }

    fn try_write(&mut self, desk: &Desk) -> Result<Vec<String>, String> {
        let made = self
            .made
            .as_ref()
            .map_err(|why| format!("Not yet: {why}"))?;
        let name = self.file.value().trim();
        let path = desk.outside_path(name)?;
        let ending = path.extension().and_then(|ending| ending.to_str());
        let format = ending.and_then(Format::of_ending);
        let format = format.ok_or("The file's name ends in .pdf, .svg, .png, .txt or .md")?;
        let files = made.document.write(format, self.paper(), &self.fonts, None);
        let files = files.map_err(|e| format!("Not so: {e}"))?;
        let overwrite = self.over.as_ref() == Some(&path);
        let mut targets = Vec::new();
        for file in &files {
            let path = file
                .sheet
                .map_or_else(|| path.clone(), |sheet| numbered(&path, sheet));
            match desk.session.outside(&path, overwrite) {
                Ok(target) => targets.push((target, &file.bytes)),
                Err(e @ OutsideError::Exists(_)) => {
                    let key = desk.key(Context::Print, Intent::Accept);
                    let why = format!("{e}. {key} again writes over it.");
                    self.over = Some(desk.outside_path(name)?);
                    return Err(why);
                }
                Err(e) => return Err(e.to_string()),
            }
        }
        let mut told = Vec::new();
        for (target, bytes) in targets {
            let shown = target.path().display().to_string();
            let written = target.write(|to| to.write_all(bytes));
            written.map_err(|e| format!("could not write {shown}: {e}"))?;
            told.push(shown);
        }
        Ok(told)
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
        let rows = self.rows().len();
        self.focus = self.focus.min(rows - 1);
        match intent {
            Intent::Leave => return Next::Close,
            Intent::NextField => self.focus = (self.focus + 1) % rows,
            Intent::PreviousField => self.focus = (self.focus + rows - 1) % rows,
            Intent::Left | Intent::Right => {
                let left = intent == Intent::Left;
                if let Some(field) = self.field() {
                    let code = if left { KeyCode::Left } else { KeyCode::Right };
                    field.key(&KeyEvent::new(code, KeyModifiers::NONE));
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
        let Some(field) = self.field() else {
            if event.code == KeyCode::Char(' ') {
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
        if let Some(field) = self.field() {
            field.insert(words.trim());
            self.typed(desk, row, true);
        }
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp => return self.act(desk, Intent::PageBack),
            Mouse::WheelDown => return self.act(desk, Intent::PageOn),
            Mouse::Left => {}
            _ => return Next::Stay,
        }
        let area = Rect {
            height: self.rows().len() as u16,
            ..draw::form(desk)
        };
        if area.contains((x, y).into()) {
            let row = usize::from(y - area.y);
            if row == self.focus {
                self.choose(desk, 1);
            }
            self.focus = row;
        }
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
