//! What a binder and its set are called, on the spine and in commands, to be written anew.

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Names};
use crate::model::BinderId;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::form::{Form, Value, stepped};
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// Columns in which what is asked for stands.
const ASKED: u16 = 14;

const LINES: [(&str, &str); 5] = [
    ("Title", "as on the spine"),
    ("Symbol", "one sign, or none"),
    ("Shelf number", "if you number your sets, or nothing"),
    (
        "Code",
        "of the set: in lists, commands, files, and where pictures lie",
    ),
    (
        "In commands",
        "what commands call the binder; it goes with the code",
    ),
];

/// The lines in their order.
const ROWS: [usize; LINES.len()] = [0, 1, 2, 3, 4];

/// The form, line by line.
#[derive(Debug)]
pub(crate) struct SpineForm {
    binder: BinderId,
    fields: [Field; LINES.len()],
    focus: usize,
}

impl SpineForm {
    /// With what stands there now; `None` where the binder is gone.
    pub(crate) fn of(desk: &Desk, binder: BinderId) -> Option<Self> {
        let names = Names::of(desk.collection(), binder)?;
        let fields = [
            names.title,
            names.symbol,
            names.shelf,
            names.code,
            names.name,
        ];
        let fields = fields.map(|words| {
            let mut field = Field::default();
            field.insert(&words);
            field
        });
        Some(Self {
            binder,
            fields,
            focus: 0,
        })
    }

    fn write(&self, desk: &mut Desk) -> Next {
        let words = self.fields.each_ref().map(|field| field.value().to_owned());
        let [title, symbol, shelf, code, name] = words;
        let names = Names {
            title,
            symbol,
            shelf,
            code,
            name,
        };
        match hand::rename(desk.collection(), self.binder, &names) {
            Ok(step) if step.changes.is_empty() => Next::Close,
            Ok(step) => match desk.commit(step) {
                true => Next::Close,
                false => Next::Stay,
            },
            Err(why) => {
                desk.warn(text::sentence(why));
                Next::Stay
            }
        }
    }

    fn window(desk: &Desk) -> Rect {
        paint::centred(desk.body(), 70, LINES.len() as u16 + 4)
    }

    fn form(desk: &Desk) -> Form {
        Form::in_window(Self::window(desk), ASKED, 0)
    }
}

impl Screen for SpineForm {
    fn context(&self) -> Context {
        Context::Spine
    }

    fn has_field(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        intent != Intent::Accept || desk.can_write()
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => return Next::Close,
            Intent::Accept => return self.write(desk),
            Intent::NextField | Intent::PreviousField => {
                self.focus = stepped(&ROWS, self.focus, intent);
            }
            Intent::Left | Intent::Right => {
                self.fields[self.focus].sideways(intent == Intent::Left);
            }
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, _: &mut Desk, event: &KeyEvent) -> Next {
        self.fields[self.focus].key(event);
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        self.fields[self.focus].paste(words);
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let under = Self::form(desk).under(&ROWS, self.focus, at);
        if let Some(line) = under.filter(|_| mouse == Mouse::Left) {
            self.focus = line;
        }
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (Self::window(desk), desk.theme);
        paint::window(buf, area, " spine and names ", theme);
        let line = |at: usize| (LINES[at].0, Value::Field(&self.fields[at]));
        Self::form(desk).draw(desk, &ROWS, self.focus, line, buf);
        if area.height > LINES.len() as u16 + 3 {
            let hint = format!("({})", LINES[self.focus].1);
            let at = (area.x + 3, area.bottom() - 2);
            let room = area.width.saturating_sub(6);
            paint::line(buf, at, room, &hint, theme.style(Role::Quiet));
        }
    }
}
