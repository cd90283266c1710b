//! From the program to the terminal: of each frame what differs from the one before, in one
//! piece. A frame that shows the same sends nothing.

use std::io::{self, Write};

use crossterm::queue;
use crossterm::terminal::{BeginSynchronizedUpdate, Clear, ClearType, EndSynchronizedUpdate};
use ratatui::backend::{Backend, CrosstermBackend};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::app::App;
use super::view::view;

/// What a terminal shows, and the way to it.
#[derive(Debug)]
pub struct Frames<W: Write> {
    out: CrosstermBackend<W>,
    /// Empty as long as nothing is known of it.
    shown: Buffer,
    next: Buffer,
}

impl<W: Write> Frames<W> {
    pub fn new(out: W) -> Self {
        Self {
            out: CrosstermBackend::new(out),
            shown: Buffer::default(),
            next: Buffer::default(),
        }
    }

    /// Where the frames go, for what else is sent there. It is flushed with the next frame.
    pub fn out(&mut self) -> &mut impl Write {
        &mut self.out
    }

    /// The terminal may show anything: the next frame draws every cell.
    pub fn forget(&mut self) {
        self.shown = Buffer::default();
    }

    /// Draws the program as it is now, at the size it has been told.
    ///
    /// # Errors
    /// The terminal takes no more.
    pub fn draw(&mut self, app: &App) -> io::Result<()> {
        self.show(app.area(), |buf| view(app, buf))
    }

    /// Shows what is drawn into this many cells.
    pub(super) fn show(&mut self, area: Rect, draw: impl FnOnce(&mut Buffer)) -> io::Result<()> {
        if area.is_empty() {
            return Ok(());
        }
        self.next.resize(area);
        self.next.reset();
        draw(&mut self.next);
        let is_anew = self.shown.area != area;
        if is_anew {
            self.shown = Buffer::empty(area);
        }
        let cells = self.shown.diff(&self.next);
        if is_anew || !cells.is_empty() {
            queue!(self.out, BeginSynchronizedUpdate)?;
            if is_anew {
                queue!(self.out, Clear(ClearType::All))?;
            }
            self.out.draw(cells.into_iter())?;
            queue!(self.out, EndSynchronizedUpdate)?;
            std::mem::swap(&mut self.shown, &mut self.next);
        }
        Write::flush(&mut self.out)
    }
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::rc::Rc;

    use crossterm::event::Event;

    use super::*;
    use crate::session::Session;
    use crate::ui::{Key, Look, Theme};

    /// Keeps what a terminal would be sent.
    #[derive(Clone, Default)]
    struct Sink(Rc<RefCell<Vec<u8>>>);

    impl Write for Sink {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.borrow_mut().write(bytes)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    struct Shown {
        app: App,
        sink: Sink,
        frames: Frames<Sink>,
    }

    impl Shown {
        fn new() -> Self {
            let session = Session::in_memory(crate::demo::collection());
            let look = Look {
                colours: crate::ui::Colours::Indexed,
                ascii: false,
            };
            let sink = Sink::default();
            Self {
                app: App::new(session, Theme::new(look), (80, 24)),
                frames: Frames::new(sink.clone()),
                sink,
            }
        }

        /// What is sent for the next frame.
        fn sent(&mut self) -> Vec<u8> {
            self.frames.draw(&self.app).unwrap();
            std::mem::take(&mut self.sink.0.borrow_mut())
        }
    }

    #[test]
    fn the_same_frame_again_sends_nothing() {
        let mut shown = Shown::new();
        assert!(shown.sent().len() > 1_000);
        assert!(shown.sent().is_empty());
        let right = Key::parse("right").unwrap().event();
        shown.app.handle(&Event::Key(right));
        let step = shown.sent().len();
        assert!((1..1_000).contains(&step), "{step}");
        assert!(shown.sent().is_empty());
    }

    /// ECMA-48 (1991): `ESC [ 2 J` clears the screen.
    #[test]
    fn what_is_not_known_is_cleared_and_drawn_whole() {
        let mut shown = Shown::new();
        let first = shown.sent();
        shown.frames.forget();
        assert_eq!(shown.sent(), first);
        shown.app.handle(&Event::Resize(81, 24));
        let wider = shown.sent();
        assert!(wider.len() > 1_000);
        assert!(String::from_utf8_lossy(&wider).contains("\x1b[2J"));
    }
}
