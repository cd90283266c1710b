//! The form that begins a set without a file. What it would make is told while one types.

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::intake::{self, BinderOptions, Intake, Phrase};
use crate::layout;
use crate::model::{Binder, BinderId, BinderKind, Opening, PageFormat, SetHead, Step};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

const LINES: usize = 10;
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
    ("Page", &[], "1, 2x2, 3x1, 3x3, 3x4, or any rows x columns"),
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

/// The form, line by line.
#[derive(Debug)]
pub(crate) struct NewSet {
    fields: [Field; FIRST_CHOICE],
    choices: [usize; LINES - FIRST_CHOICE],
    focus: usize,
    /// The cards are not named here but typed in afterwards.
    typed_in: bool,
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
        };
        form.fields[PAGE].insert(&layout::grid_word(&format));
        // Another page takes its place, as where a page alone is asked for.
        form.fields[PAGE].begin_anew();
        form
    }

    /// For a binder that is typed in as one flips through it.
    pub(crate) fn typed_in(desk: &Desk) -> Self {
        Self {
            typed_in: true,
            ..Self::of(desk)
        }
    }

    /// The line after this one, or before it. The cards have none where they are typed in.
    fn beside(&self, at: usize, by: usize) -> usize {
        let next = (at + by) % LINES;
        match self.typed_in && next == CARDS {
            true => (next + by) % LINES,
            false => next,
        }
    }

    /// In a field the cursor moves; on a line of choices another one is taken.
    fn sideways(&mut self, intent: Intent) {
        let left = intent == Intent::Left;
        if let Some(field) = self.fields.get_mut(self.focus) {
            field.sideways(left);
        } else {
            self.choose(if left { -1 } else { 1 });
        }
    }

    fn choose(&mut self, by: isize) {
        if let Some(at) = self.focus.checked_sub(FIRST_CHOICE) {
            let many = ROWS[self.focus].1.len();
            self.choices[at] = self.choices[at].wrapping_add_signed(by).wrapping_add(many) % many;
        }
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
        hand::check_spine(&head.title, &head.symbol, &head.shelf)?;
        Ok(head)
    }

    /// An empty set and binder, to be typed in.
    fn empty(&self, desk: &Desk) -> Result<Step, String> {
        intake::begin_typing_in(desk.collection(), &self.head()?, self.binder()?)
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
            return Err("the set needs a code".into());
        }
        if cards.value().trim().is_empty() {
            return Err("say which cards there are: 1 to 120".into());
        }
        let phrase = Phrase::parse_usual(cards.value(), &desk.settings.collecting.finishes);
        let phrase = phrase.map_err(|error| error.to_string())?;
        let binder = self.binder()?;
        intake::new_set(desk.collection(), &head, &phrase, Some(binder))
            .map_err(|error| error.to_string())
    }

    /// The empty binder is made, and typing in begins at its first pocket.
    fn begin_empty(&mut self, desk: &mut Desk) -> Next {
        if self.focus < PAGE {
            self.focus = self.beside(self.focus, 1);
            return Next::Stay;
        }
        match self.empty(desk) {
            Err(why) => {
                desk.warn(format!("Not yet: {why}"));
                Next::Stay
            }
            Ok(step) if desk.commit(step.clone()) => match newest(desk) {
                Some(binder) => {
                    let ground = Ground::real(binder);
                    // How to take it back would be typed there.
                    desk.message = None;
                    Next::GoToAnd(ground, ground.place(0, 0), Intent::TypeIn)
                }
                None => Next::Close,
            },
            Ok(_) => Next::Stay,
        }
    }

    fn begin(&mut self, desk: &mut Desk) -> Next {
        if self.typed_in {
            return self.begin_empty(desk);
        }
        match self.intake(desk) {
            // Enter goes down the lines until there is enough to begin with.
            Err(_) if self.focus < CARDS && self.fields[CARDS].value().trim().is_empty() => {
                self.focus += 1;
                Next::Stay
            }
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

    fn window(&self, desk: &Desk) -> Rect {
        paint::centred(desk.body(), 78, LINES as u16 + 6)
    }

    /// The lines that are seen: on a low screen those around the one with the cursor.
    fn shown(&self, window: Rect) -> std::ops::Range<usize> {
        let room = usize::from(window.height.saturating_sub(4)).clamp(1, LINES);
        let first = (self.focus + 1).saturating_sub(room);
        first..first + room
    }

    /// The hint for the line, and what the form would make.
    fn draw_foot(&self, desk: &Desk, area: Rect, lines: u16, buf: &mut Buffer) {
        let theme = desk.theme;
        let room = area.width.saturating_sub(6);
        let at = (area.x + 3, area.y + 1 + lines);
        if at.1 + 1 >= area.bottom() {
            return;
        }
        let hint = desk.with_keys(Context::Form, &format!("({})", ROWS[self.focus].2));
        let spare = u16::from(area.height > lines + 4);
        paint::line(
            buf,
            (at.0, at.1 + spare),
            room,
            &hint,
            theme.style(Role::Quiet),
        );
        let (key, format) = (desk.key(Context::Form, Intent::Accept), self.format().ok());
        let told = match self.typed_in {
            true => self
                .empty(desk)
                .map(|_| empty_words(&key, self.focus >= PAGE, format)),
            false => self.intake(desk).map(|intake| made(&key, &intake, format)),
        };
        let (words, role) = match told {
            Ok(words) => (words, Role::InPlace),
            Err(why) => (why, Role::Waiting),
        };
        let words = text::safe(&words).into_owned();
        let lines = text::wrap(&words, usize::from(room), 2, theme.glyphs().more);
        for (y, line) in (at.1 + 1 + spare..area.bottom() - 1).zip(&lines) {
            paint::line(buf, (at.0, y), room, line, theme.style(role));
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

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => return Next::Close,
            Intent::NextField => self.focus = self.beside(self.focus, 1),
            Intent::PreviousField => self.focus = self.beside(self.focus, LINES - 1),
            Intent::Left | Intent::Right => self.sideways(intent),
            Intent::Accept => return self.begin(desk),
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, _: &mut Desk, event: &KeyEvent) -> Next {
        if let Some(field) = self.fields.get_mut(self.focus) {
            field.key(event);
        } else if event.code == KeyCode::Char(' ') {
            self.choose(1);
        }
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        if let Some(field) = self.fields.get_mut(self.focus) {
            field.paste(words);
        }
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        let window = self.window(desk);
        let shown = self.shown(window);
        let top = window.y + 1;
        if mouse == Mouse::Left && window.contains((x, y).into()) && y >= top {
            let line = shown.start + usize::from(y - top);
            if shown.contains(&line) {
                if line == self.focus {
                    self.choose(1);
                }
                if !(self.typed_in && line == CARDS) {
                    self.focus = line;
                }
            }
        }
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " begin a set ", theme);
        let shown = self.shown(area);
        let room = area.width.saturating_sub(20);
        for (y, at) in (area.y + 1..).zip(shown.clone()) {
            let (label, choices, _) = ROWS[at];
            let focus = at == self.focus;
            let role = if focus { Role::Key } else { Role::Quiet };
            let here = if focus { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            paint::line(buf, (area.x + 3, y), 14, label, theme.style(role));
            let x = area.x + 18;
            match self.fields.get(at) {
                Some(_) if self.typed_in && at == CARDS => {
                    let words = "as you type them, flipping through the binder";
                    paint::line(buf, (x, y), room, words, theme.style(Role::Quiet));
                }
                Some(field) => field.draw((x, y), room, focus, theme, buf),
                None => {
                    let words = choices[self.choices[at - FIRST_CHOICE]];
                    let role = if focus { Role::Strong } else { Role::Text };
                    paint::line(buf, (x, y), room, words, theme.style(role));
                }
            }
        }
        self.draw_foot(desk, area, shown.len() as u16, buf);
    }
}

/// The binder that came onto the shelf last.
fn newest(desk: &Desk) -> Option<BinderId> {
    desk.collection().shelf().next_back().map(Binder::id)
}

/// What Enter makes of the form where the cards are typed in.
fn empty_words(key: &str, at_page: bool, format: Option<PageFormat>) -> String {
    let kind = format.map_or_else(String::new, |format| layout::describe(&format));
    let first = if at_page {
        ""
    } else {
        "goes down to the page; there it "
    };
    format!("{key} {first}opens an empty binder, {kind}; then type card after card")
}

fn made(key: &str, intake: &Intake, format: Option<PageFormat>) -> String {
    let pages = text::count(intake.added.pages as u64, "page", "pages");
    let kind = format
        .map(|format| layout::describe(&format))
        .unwrap_or_default();
    match intake.added.cards as u64 {
        0 => format!("{key} makes a binder of {pages} for the set that is there, {kind}"),
        cards => {
            let cards = text::count(cards, "card", "cards");
            format!("{key} makes {cards} in a binder of {pages}, {kind}")
        }
    }
}
