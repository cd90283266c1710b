//! The form that begins a set without a file. What it would make is told while one types.

mod draw;
mod made;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::intake::{self, BinderOptions, Intake, Phrase, proposed_code};
use crate::layout;
use crate::model::{Binder, BinderId, BinderKind, Opening, PageFormat, SetHead, SetId};
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::form::{stepped, turned};
use crate::ui::intent::Intent;
use crate::ui::keymap::{Context, letter};
use made::Made;

const LINES: usize = 10;
const CODE: usize = 0;
const TITLE: usize = 1;
const CARDS: usize = 4;
const PAGE: usize = 5;
/// The first of the lines on which one chooses instead of typing.
const FIRST_CHOICE: usize = 6;

/// What stands before each line, what may be chosen on it, and a hint for it.
const ROWS: [(&str, &[&str], &str); LINES] = [
    (
        "Code",
        &[],
        "one word, such as MOSS; commands and files use it",
    ),
    ("Title", &[], "as on the spine"),
    ("Symbol", &[], "one sign, if you like"),
    ("Shelf number", &[], "if you number your sets"),
    (
        "Cards",
        &[],
        "1 to 120 and P1 to P6, in regular and reverse",
    ),
    (
        "Page",
        &[],
        "{left} and {right} choose, or type any rows x columns, as 4x5",
    ),
    (
        "Loaded on",
        &["both sides", "one side"],
        "{left} and {right} choose",
    ),
    ("Opening", &["side", "top"], "{left} and {right} choose"),
    (
        "Pockets",
        &["separate for each side", "shared by both sides"],
        "{left} and {right} choose",
    ),
    (
        "Binder",
        &["rings, pages move", "fixed pages"],
        "{left} and {right} choose",
    ),
];

/// The lines in their order, where the cards are named here and where they are typed in: then a
/// title is enough to begin with, and comes first.
const NAMED: &[usize] = &[0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
const TYPED_IN: &[usize] = &[1, 0, 2, 3, 5, 6, 7, 8, 9];

const NO_CODE: &str = "the set needs a code";
const NO_TITLE: &str = "type what the set is called";

/// Pages that are usual.
const GRIDS: [&str; 5] = ["3x3", "3x4", "2x2", "3x1", "1"];

/// The form, line by line.
#[derive(Debug)]
pub(crate) struct NewSet {
    fields: [Field; FIRST_CHOICE],
    choices: [usize; LINES - FIRST_CHOICE],
    focus: usize,
    /// The cards are not named here but typed in afterwards.
    typed_in: bool,
    /// The code was typed; else it is made from the title there.
    coded: bool,
    /// What the form as it stands would make, or what it still lacks.
    made: Result<Made, String>,
}

impl NewSet {
    /// With what is usual for this person.
    pub(crate) fn of(desk: &Desk) -> Self {
        let BinderOptions { format, kind } = desk.settings.collecting.binder();
        let mut form = Self {
            fields: Default::default(),
            choices: [
                usize::from(format.sides == 1),
                usize::from(format.opening == Opening::Top),
                usize::from(format.shared),
                usize::from(kind == BinderKind::Fixed),
            ],
            focus: 0,
            typed_in: false,
            coded: false,
            made: Err(String::new()),
        };
        form.fields[PAGE].insert(&layout::grid_word(&format));
        // Another page takes its place, as where a page alone is asked for.
        form.fields[PAGE].begin_anew();
        form.recount(desk);
        form
    }

    /// For a binder that is typed in as one flips through it.
    pub(crate) fn typed_in(desk: &Desk) -> Self {
        let mut form = Self {
            typed_in: true,
            focus: TITLE,
            ..Self::of(desk)
        };
        form.recount(desk);
        form
    }

    fn phrase(&self, desk: &Desk) -> Result<Phrase, String> {
        let words = self.fields[CARDS].value();
        Phrase::parse_usual(words, &desk.settings.collecting.finishes)
            .map_err(|error| error.to_string())
    }

    /// The lines that there are.
    fn rows(&self) -> &'static [usize] {
        match self.typed_in {
            true => TYPED_IN,
            false => NAMED,
        }
    }

    /// What follows from what was typed.
    fn typed(&mut self, desk: &Desk) {
        match self.focus {
            CODE => self.coded = !self.fields[CODE].value().is_empty(),
            TITLE if self.typed_in && !self.coded => {
                let code = proposed_code(desk.collection(), self.fields[TITLE].value());
                self.fields[CODE] = Field::default();
                self.fields[CODE].insert(&code);
                // Another code takes its place.
                self.fields[CODE].begin_anew();
            }
            _ => {}
        }
        self.recount(desk);
    }

    /// In a field the cursor moves; on a line of choices another one is taken.
    fn sideways(&mut self, desk: &Desk, intent: Intent) {
        let left = intent == Intent::Left;
        match self.fields.get_mut(self.focus) {
            Some(field) if self.focus != PAGE => field.sideways(left),
            _ => self.choose(desk, if left { -1 } else { 1 }),
        }
    }

    fn choose(&mut self, desk: &Desk, by: isize) {
        if self.focus == PAGE {
            let here = self.fields[PAGE].value().trim();
            let here = GRIDS.iter().position(|grid| *grid == here);
            let next = here.map_or(0, |at| turned(at, by, GRIDS.len()));
            self.fields[PAGE] = Field::default();
            self.fields[PAGE].insert(GRIDS[next]);
            self.fields[PAGE].begin_anew();
        }
        if let Some(at) = self.focus.checked_sub(FIRST_CHOICE) {
            let many = ROWS[self.focus].1.len();
            self.choices[at] = turned(self.choices[at], by, many);
        }
        self.recount(desk);
    }

    /// Whether Enter goes down a line: there is not enough to begin with yet.
    fn goes_down(&self) -> bool {
        let cards = self.fields[CARDS].value().trim();
        !self.typed_in && self.focus < CARDS && cards.is_empty() && self.made.is_err()
    }

    fn format(&self) -> Result<PageFormat, String> {
        let words = self.fields[PAGE].value();
        let (rows, columns) = layout::parse_grid(words).map_err(|error| error.to_string())?;
        let sides = if self.choices[0] == 0 { 2 } else { 1 };
        let mut format = PageFormat::new(rows, columns, sides);
        if self.choices[1] == 1 {
            format.opening = Opening::Top;
        }
        format.shared = self.choices[2] == 1;
        if format.is_possible() {
            Ok(format)
        } else {
            Err("a shared pocket needs a page that is loaded on both sides".into())
        }
    }

    fn binder(&self) -> Result<BinderOptions, String> {
        let kind = match self.choices[3] {
            1 => BinderKind::Fixed,
            _ => BinderKind::RINGS,
        };
        let format = self.format()?;
        Ok(BinderOptions { format, kind })
    }

    fn head(&self) -> Result<SetHead, String> {
        let [code, title, symbol, shelf, ..] = &self.fields;
        let word = |field: &Field| field.value().trim().into();
        let head = SetHead {
            code: word(code),
            title: word(title),
            symbol: word(symbol),
            shelf: word(shelf),
        };
        hand::check_spine(&head.title, &head.symbol, &head.shelf).map_err(|why| why.to_string())?;
        Ok(head)
    }

    /// An empty set and binder, to be typed in; a binder for a set that is there without one.
    fn empty(&self, desk: &Desk) -> Result<Intake, String> {
        let (head, binder) = (self.head()?, self.binder()?);
        if head.code.is_empty() {
            let nothing = head.title.is_empty();
            return Err(if nothing { NO_TITLE } else { NO_CODE }.into());
        }
        let known = desk.collection().set_by_code(&head.code);
        let has_cards = |id: &SetId| {
            let set = desk.collection().set(*id);
            set.is_some_and(|set| !set.cards().is_empty())
        };
        if let Some(set) = known.filter(has_cards) {
            let made = intake::binder_for_set(desk.collection(), set, binder);
            return made.map_err(|error| error.to_string());
        }
        let step = intake::begin_typing_in(desk.collection(), &head, binder)?;
        Ok(Intake {
            step,
            ..Intake::default()
        })
    }

    /// What the form would make, or what it still lacks.
    fn intake(&self, desk: &Desk) -> Result<Intake, String> {
        let (head, cards) = (self.head()?, &self.fields[CARDS]);
        if cards.value().trim().is_empty()
            && let Some(set) = desk.collection().set_by_code(&head.code)
        {
            let made = intake::binder_for_set(desk.collection(), set, self.binder()?);
            return made.map_err(|error| error.to_string());
        }
        if head.code.is_empty() {
            return Err(NO_CODE.into());
        }
        if cards.value().trim().is_empty() {
            return Err("say which cards there are: 1 to 120".into());
        }
        let phrase = self.phrase(desk)?;
        let binder = self.binder()?;
        intake::new_set(desk.collection(), &head, &phrase, Some(binder))
            .map_err(|error| error.to_string())
    }

    /// The empty binder is made, and typing in begins at its first pocket.
    fn begin_empty(&mut self, desk: &mut Desk) -> Next {
        match self.empty(desk) {
            Err(why) => {
                desk.warn(format!("Not yet: {why}"));
                Next::Stay
            }
            Ok(intake) if !desk.commit(intake.step.clone()) => Next::Stay,
            Ok(_) => match newest(desk) {
                Some(binder) => {
                    let ground = Ground::real(binder);
                    // How to take it back would be typed there.
                    desk.message = None;
                    Next::GoToAnd(ground, ground.place(0, 0), Intent::TypeIn)
                }
                None => Next::Close,
            },
        }
    }

    fn begin(&mut self, desk: &mut Desk) -> Next {
        if self.goes_down() {
            self.focus = stepped(self.rows(), self.focus, Intent::NextField);
            return Next::Stay;
        }
        if self.typed_in {
            return self.begin_empty(desk);
        }
        match self.intake(desk) {
            Err(why) => {
                desk.warn(format!("Not yet: {why}"));
                Next::Stay
            }
            Ok(intake) => {
                if !desk.commit(intake.step) {
                    return Next::Stay;
                }
                newest(desk).map_or(Next::Close, |binder| {
                    let ground = Ground::real(binder);
                    Next::GoTo(ground, ground.place(0, 0))
                })
            }
        }
    }
}

impl Screen for NewSet {
    fn context(&self) -> Context {
        Context::Form
    }

    fn has_field(&self) -> bool {
        true
    }

    fn word(&self, intent: Intent) -> &'static str {
        match intent {
            Intent::Accept if self.goes_down() => "go on",
            Intent::Accept if self.typed_in => "begin to type",
            _ => intent.word(self.context()),
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => return Next::Close,
            Intent::NextField | Intent::PreviousField => {
                self.focus = stepped(self.rows(), self.focus, intent);
            }
            Intent::Left | Intent::Right => self.sideways(desk, intent),
            Intent::Accept => return self.begin(desk),
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        if let Some(field) = self.fields.get_mut(self.focus) {
            if field.key(event) {
                self.typed(desk);
            }
        } else if letter(event) == Some(' ') {
            self.choose(desk, 1);
        }
        Next::Stay
    }

    fn paste(&mut self, desk: &mut Desk, words: &str) {
        if let Some(field) = self.fields.get_mut(self.focus) {
            field.paste(words);
            self.typed(desk);
        }
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let under = self.form(desk).under(self.rows(), self.focus, at);
        if let Some(line) = under.filter(|_| mouse == Mouse::Left) {
            if line == self.focus {
                self.choose(desk, 1);
            }
            self.focus = line;
        }
        Next::Stay
    }

    fn refresh(&mut self, desk: &Desk) {
        self.recount(desk);
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}

/// The binder that came onto the shelf last.
fn newest(desk: &Desk) -> Option<BinderId> {
    desk.collection().shelf().next_back().map(Binder::id)
}
