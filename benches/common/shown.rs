//! The program on a screen in memory.

use std::sync::mpsc::{self, Receiver};
use std::time::Duration;

use crossterm::event::Event;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ringbound::model::Collection;
use ringbound::session::Session;
use ringbound::ui::{App, Colours, Key, Look, Theme, view};

use super::table::timed;

/// What a person has from a key to the finished frame, in milliseconds: one frame of 60 a second.
pub(crate) const FRAME: f64 = 16.0;

/// How long work beside the keys may be waited for.
const PATIENCE: Duration = Duration::from_secs(120);

pub(crate) struct Shown {
    pub(crate) app: App,
    pub(crate) buffer: Buffer,
    /// What works beside the keys says that there is something to hear.
    woken: Option<Receiver<()>>,
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
            woken: None,
        }
    }

    /// From now on what takes its time is made beside the keys, as a person has it.
    pub(crate) fn beside(&mut self) {
        let (out, woken) = mpsc::channel();
        // Who no longer listens has seen what there was.
        self.app.wake_by(move || out.send(()).unwrap_or_default());
        self.woken = Some(woken);
    }

    /// Goes on as the loop does while no key comes, until nothing is waited for any more and
    /// nothing is left to do: what was made beside the keys arrives and is drawn. Tells the
    /// longest of these frames, in milliseconds; 0 when there was none.
    pub(crate) fn settled(&mut self) -> f64 {
        let mut longest: f64 = 0.0;
        loop {
            let waits = self.app.waits();
            if !waits && !self.app.is_at_work() {
                return longest;
            }
            if let Some(woken) = self.woken.as_ref().filter(|_| waits) {
                woken.recv_timeout(PATIENCE).expect("an answer");
                while woken.try_recv().is_ok() {}
            }
            longest = longest.max(timed(|| {
                if waits {
                    self.app.hear();
                } else {
                    self.app.work_on();
                }
                self.draw();
            }));
        }
    }

    /// Keys by their names, and no frame between them.
    pub(crate) fn keys(&mut self, words: &str) {
        for word in words.split_whitespace() {
            self.handle(&event(word));
        }
    }

    /// Words from the clipboard.
    pub(crate) fn paste(&mut self, words: &str) {
        self.handle(&Event::Paste(words.into()));
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
