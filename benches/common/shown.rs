//! The program on a screen in memory.

use crossterm::event::Event;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ringbound::model::Collection;
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Key, Look, Theme, view};

/// What a person has from a key to the finished frame, in milliseconds: one frame of 60 a second.
pub(crate) const FRAME: f64 = 16.0;

pub(crate) struct Shown {
    pub(crate) app: App,
    pub(crate) buffer: Buffer,
}

/// A program that shows this collection, kept in memory: what the disk takes is measured by the
/// bench `keep`.
pub(crate) fn app(collection: &Collection, size: (u16, u16)) -> App {
    let look = Look {
        colours: Colours::Indexed,
        ascii: false,
    };
    let session = Session::in_memory(collection.clone());
    App::new(session, Theme::new(look), size)
}

impl Shown {
    pub(crate) fn new(collection: &Collection, (width, height): (u16, u16)) -> Self {
        Self {
            app: app(collection, (width, height)),
            buffer: Buffer::empty(Rect::new(0, 0, width, height)),
        }
    }

    /// Keys by their names, and no frame between them.
    pub(crate) fn keys(&mut self, words: &str) {
        for word in words.split_whitespace() {
            self.handle(&event(word));
        }
    }

    /// The letters of a word, typed.
    pub(crate) fn text(&mut self, words: &str) {
        for letter in words.chars() {
            let name = if letter == ' ' {
                "space".into()
            } else {
                letter.to_string()
            };
            self.keys(&name);
        }
    }

    pub(crate) fn handle(&mut self, event: &Event) {
        self.app.handle(event);
    }

    pub(crate) fn draw(&mut self) {
        self.buffer.reset();
        view(&self.app, &mut self.buffer);
    }
}

/// A key by its name.
pub(crate) fn event(key: &str) -> Event {
    Event::Key(Key::parse(key).expect("a key").event())
}
