//! From the program to the terminal: of each frame what differs from the one before, in one
//! piece. A frame that shows the same sends nothing.

use std::io::{self, Write};

use crossterm::queue;
use crossterm::terminal::{BeginSynchronizedUpdate, Clear, ClearType, EndSynchronizedUpdate};
use ratatui::backend::{Backend, CrosstermBackend};
use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::Rect;

use super::app::App;
use super::view::view;
use crate::text;

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
            send(&mut self.out, (&self.shown, &self.next), &cells)?;
            queue!(self.out, EndSynchronizedUpdate)?;
            std::mem::swap(&mut self.shown, &mut self.next);
        }
        Write::flush(&mut self.out)
    }
}

/// The changed cells. Terminals disagree on how many columns a cluster of several characters takes
/// (vowel signs, flags, families), so the place of one is blanked before it is drawn, and what
/// comes behind it, or behind one that was there, is sent again, each call with its own place.
fn send<W: Write>(
    out: &mut CrosstermBackend<W>,
    (shown, next): (&Buffer, &Buffer),
    cells: &[(u16, u16, &Cell)],
) -> io::Result<()> {
    let mut sent = 0;
    for (at, (x, y, cell)) in cells.iter().enumerate() {
        if at < sent || !(is_doubtful(cell) || is_doubtful(&shown[(*x, *y)])) {
            continue;
        }
        out.draw(cells[sent..at].iter().copied())?;
        let behind = send_doubtful(out, (shown, next), (*x, *y))?;
        let row = cells[at..].iter();
        sent = at
            + row
                .take_while(|cell| cell.1 == *y && cell.0 < behind)
                .count();
    }
    out.draw(cells[sent..].iter().copied())
}

/// A place with such a cluster, or that had one, and all that a terminal may have drawn over which
/// takes the most columns for it; the column behind that.
fn send_doubtful<W: Write>(
    out: &mut CrosstermBackend<W>,
    (shown, next): (&Buffer, &Buffer),
    (mut x, y): (u16, u16),
) -> io::Result<u16> {
    let right = next.area.right();
    let mut until = x + 1;
    while x < until.min(right) {
        let cell = &next[(x, y)];
        let behind = (x + (text::columns(cell.symbol()) as u16).max(1)).min(right);
        if is_doubtful(cell) {
            let mut blank = cell.clone();
            blank.set_symbol(" ");
            out.draw((x..behind).map(|x| (x, y, &blank)))?;
        }
        for cell in [cell, &shown[(x, y)]]
            .into_iter()
            .filter(|cell| is_doubtful(cell))
        {
            let characters = cell.symbol().chars().count() as u16;
            until = until.max(x + 2 * characters);
        }
        out.draw(std::iter::once((x, y, cell)))?;
        x = behind;
    }
    Ok(x)
}

/// More than one character, or one of the pictures, whose width older terminals do not know; not
/// the commands that draw a picture.
fn is_doubtful(cell: &Cell) -> bool {
    let symbol = cell.symbol();
    let mut characters = symbol.chars();
    let first = characters.next();
    (characters.next().is_some() && !symbol.contains('\x1b'))
        || first.is_some_and(|first| first >= '\u{1F000}')
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

    /// A terminal with widths of its own, as far as the frames need one: places, and characters
    /// that erase the other half of what they are written over.
    struct Terminal {
        cells: Vec<Vec<char>>,
        width: fn(char) -> usize,
        at: (usize, usize),
    }

    const HALF: char = '\0';

    impl Terminal {
        fn put(&mut self, c: char) {
            let row = &mut self.cells[self.at.1];
            let width = (self.width)(c);
            for x in self.at.0..(self.at.0 + width).min(row.len()) {
                if row[x] == HALF
                    && let Some(begin) = (0..x).rev().find(|x| row[*x] != HALF)
                {
                    row[begin] = ' ';
                }
                row[x] = if x == self.at.0 { c } else { HALF };
                let mut behind = x + 1;
                while row.get(behind) == Some(&HALF) {
                    row[behind] = ' ';
                    behind += 1;
                }
            }
            self.at.0 += width;
        }

        fn take(&mut self, bytes: &[u8]) {
            let text = String::from_utf8(bytes.to_vec()).unwrap();
            let mut rest = text.chars();
            while let Some(c) = rest.next() {
                if c != '\x1b' {
                    self.put(c);
                    continue;
                }
                assert_eq!(rest.next(), Some('['));
                let mut command = String::new();
                let last = loop {
                    let c = rest.next().unwrap();
                    if c.is_ascii_alphabetic() {
                        break c;
                    }
                    command.push(c);
                };
                if last == 'H' {
                    let (row, column) = command.split_once(';').unwrap();
                    let number = |of: &str| of.parse::<usize>().unwrap() - 1;
                    self.at = (number(column), number(row));
                }
            }
        }
    }

    #[test]
    fn no_terminal_keeps_remains_of_names_that_it_measures_otherwise() {
        // Thai sara am, a Devanagari vowel sign, a flag, a family, an e with an accent of its own.
        const NAMES: [&str; 5] = [
            "น้ำ",
            "कि की",
            "\u{1F1E6}\u{1F1E7}",
            "\u{1F468}\u{200D}\u{1F469}\u{200D}\u{1F467}",
            "e\u{301}te\u{301}",
        ];
        let widths: [fn(char) -> usize; 3] = [
            |_| 1,
            |c| if u32::from(c) < 0x300 { 1 } else { 2 },
            |c| match u32::from(c) {
                0x300..0x370 | 0x200D => 0,
                0x900.. => 2,
                _ => 1,
            },
        ];
        let area = Rect::new(0, 0, 30, 3);
        for (name, width) in NAMES.into_iter().flat_map(|name| widths.map(|w| (name, w))) {
            let sink = Sink::default();
            let mut frames = Frames::new(sink.clone());
            let mut terminal = Terminal {
                cells: vec![vec![' '; 30]; 3],
                width,
                at: (0, 0),
            };
            let drawn = |line: String| {
                move |buf: &mut Buffer| {
                    for y in 0..3 {
                        buf.set_string(0, y, &line, ratatui::style::Style::new());
                    }
                }
            };
            let lines = [
                "x".repeat(30),
                format!("{:x<9}{name}{:y<19}", "", ""),
                format!("{:x<9}{name}{:y<9}z", "", ""),
                "x".repeat(30),
                format!("{:x<9}{name}", ""),
                String::from("z"),
            ];
            for line in lines {
                frames.show(area, drawn(line.clone())).unwrap();
                let sent = std::mem::take(&mut *sink.0.borrow_mut());
                terminal.take(&sent);
                for y in 0..3 {
                    for x in 0..30_usize {
                        let cell = frames.shown[(x as u16, y as u16)].symbol();
                        let behind = |x: usize| x < 9 + text::columns(name);
                        if x >= 9 && behind(x) && line.contains(name) {
                            continue;
                        }
                        let there = terminal.cells[y][x].to_string();
                        assert_eq!(there, cell, "{name} {line} {x} {y}");
                    }
                }
            }
        }
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
