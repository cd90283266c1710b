//! A screen without a terminal: events go in, the frame comes out as text.

use crossterm::event::{Event, KeyModifiers, MouseButton, MouseEvent, MouseEventKind};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ringbound::demo;
use ringbound::model::Binder;
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Flow, Key, Look, Theme, view};

pub(crate) const PLAIN: Look = Look {
    colours: Colours::None,
    ascii: false,
};

pub(crate) struct Scene {
    pub(crate) app: App,
    pub(crate) frame: Buffer,
}

impl Scene {
    /// The demo collection at the shelf.
    pub(crate) fn demo(size: (u16, u16)) -> Self {
        Self::new(Session::in_memory(demo::collection()), PLAIN, size)
    }

    pub(crate) fn new(session: Session, look: Look, (width, height): (u16, u16)) -> Self {
        let mut scene = Self {
            app: App::new(session, Theme::new(look), (width, height)),
            frame: Buffer::empty(Rect::new(0, 0, width, height)),
        };
        scene.draw();
        scene
    }

    pub(crate) fn draw(&mut self) {
        self.frame.reset();
        view(&self.app, &mut self.frame);
    }

    pub(crate) fn event(&mut self, event: &Event) -> Flow {
        if let Event::Resize(width, height) = event {
            self.frame = Buffer::empty(Rect::new(0, 0, *width, *height));
        }
        let flow = self.app.handle(event);
        self.draw();
        flow
    }

    /// Presses keys in the notation of the key table, separated by spaces: `enter pgdn + ctrl-l`.
    pub(crate) fn keys(&mut self, words: &str) -> &mut Self {
        for word in words.split_whitespace() {
            let key = Key::parse(word).unwrap_or_else(|| panic!("no key is called {word}"));
            self.event(&Event::Key(key.event()));
        }
        self
    }

    /// Types text into a field.
    pub(crate) fn text(&mut self, words: &str) -> &mut Self {
        for c in words.chars() {
            let key = if c == ' ' { "space" } else { &c.to_string() };
            self.keys(key);
        }
        self
    }

    pub(crate) fn mouse(&mut self, kind: MouseEventKind, (column, row): (u16, u16)) -> &mut Self {
        self.event(&Event::Mouse(MouseEvent {
            kind,
            column,
            row,
            modifiers: KeyModifiers::NONE,
        }));
        self
    }

    pub(crate) fn click(&mut self, at: (u16, u16)) -> &mut Self {
        self.mouse(MouseEventKind::Down(MouseButton::Left), at);
        self.mouse(MouseEventKind::Up(MouseButton::Left), at)
    }

    pub(crate) fn right_click(&mut self, at: (u16, u16)) -> &mut Self {
        self.mouse(MouseEventKind::Down(MouseButton::Right), at)
    }

    /// The binder that stands first.
    pub(crate) fn first_binder(&self) -> &Binder {
        let collection = self.app.session().collection();
        collection.binder_at(0).unwrap()
    }

    /// The screen as text, without the spaces at the ends of lines.
    pub(crate) fn picture(&self) -> String {
        let area = *self.frame.area();
        let mut out = String::new();
        for y in area.top()..area.bottom() {
            let mut line = String::new();
            let mut skip = 0;
            for x in area.left()..area.right() {
                // The second cell of a wide character is not printed.
                if skip > 0 {
                    skip -= 1;
                    continue;
                }
                let symbol = self.frame[(x, y)].symbol();
                skip = ringbound::text::columns(symbol).saturating_sub(1);
                line.push_str(symbol);
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }

    /// Where this text stands on the screen first, in cells.
    pub(crate) fn find(&self, words: &str) -> Option<(u16, u16)> {
        let area = *self.frame.area();
        for y in area.top()..area.bottom() {
            for x in area.left()..area.right() {
                let mut rest = words;
                let mut at = x;
                while at < area.right() && !rest.is_empty() {
                    let Some(tail) = rest.strip_prefix(self.frame[(at, y)].symbol()) else {
                        break;
                    };
                    at += 1;
                    rest = tail;
                }
                if rest.is_empty() {
                    return Some((x, y));
                }
            }
        }
        None
    }

    pub(crate) fn at(&self, words: &str) -> (u16, u16) {
        self.find(words)
            .unwrap_or_else(|| panic!("{words:?} is not on the screen:\n{}", self.picture()))
    }
}
