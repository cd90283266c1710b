//! The one owner of the terminal: raw mode, alternate screen, mouse, pasted text.
//!
//! It is given back by [`Terminal::leave`], when the owner goes, and by the panic hook.

use std::io::{self, BufWriter, Stdout, Write};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};

use crossterm::clipboard::CopyToClipboard;
use crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use crossterm::terminal::{
    EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode,
    enable_raw_mode,
};
use crossterm::{cursor, queue};
use ratatui::layout::Rect;

use super::app::App;
use super::frames::Frames;
use super::gallery::THREAD;
use super::job;
use super::paint;
use super::theme::{Role, Theme};
use crate::text;

/// Whether the terminal is ours at the moment; asked by the panic hook, which may run anywhere.
static TAKEN: AtomicBool = AtomicBool::new(false);
static HOOK: Once = Once::new();

/// A whole frame leaves in one write.
const FRAME_BYTES: usize = 256 * 1024;

/// The terminal while it is ours.
pub(super) struct Terminal {
    frames: Frames<BufWriter<Stdout>>,
    takes_text: bool,
    /// What was asked of the terminal last.
    takes_mouse: bool,
}

impl Terminal {
    /// Takes the terminal, the mouse with the first frame.
    pub(super) fn enter() -> io::Result<Self> {
        HOOK.call_once(|| {
            let before = std::panic::take_hook();
            std::panic::set_hook(Box::new(move |panic| {
                if job::is_caught()
                    && let Some(place) = panic.location()
                {
                    job::note_place(place);
                }
                if std::thread::current().name() == Some(THREAD) || job::is_caught() {
                    return;
                }
                give_back();
                before(panic);
            }));
        });
        take()?;
        let out = BufWriter::with_capacity(FRAME_BYTES, io::stdout());
        Ok(Self {
            frames: Frames::new(out),
            takes_text: false,
            takes_mouse: false,
        })
    }

    /// Gives the terminal back for a while; [`Terminal::retake`] follows.
    pub(super) fn leave(&mut self) {
        give_back();
        self.takes_text = false;
        self.takes_mouse = false;
    }

    /// Takes the terminal again and draws every cell with the next frame.
    pub(super) fn retake(&mut self) -> io::Result<()> {
        take()?;
        self.takes_text = false;
        self.takes_mouse = false;
        self.frames.forget();
        Ok(())
    }

    /// Columns and rows.
    pub(super) fn size(&self) -> io::Result<(u16, u16)> {
        crossterm::terminal::size()
    }

    /// The next frame draws every cell.
    pub(super) fn draw_anew(&mut self) {
        self.frames.forget();
    }

    /// Shows words in the middle, as long as there is no program to draw.
    pub(super) fn say(&mut self, words: &str, theme: Theme) -> io::Result<()> {
        let (width, height) = self.size()?;
        self.frames.show(Rect::new(0, 0, width, height), |buf| {
            let columns = text::columns(words).min(usize::from(width)) as u16;
            let at = ((width - columns) / 2, height / 2);
            paint::line(buf, at, columns, words, theme.style(Role::Text));
        })
    }

    /// Sends a text to the clipboard. A terminal that does not know how passes it over.
    pub(super) fn copy(&mut self, text: &str) -> io::Result<()> {
        queue!(self.frames.out(), CopyToClipboard::to_clipboard_from(text))
    }

    /// Draws one frame, in one piece where the terminal can.
    pub(super) fn draw(&mut self, app: &App) -> io::Result<()> {
        let takes_text = app.takes_text();
        if takes_text != self.takes_text {
            self.takes_text = takes_text;
            let out = self.frames.out();
            if takes_text {
                queue!(out, EnableBracketedPaste)?;
            } else {
                queue!(out, DisableBracketedPaste)?;
            }
        }
        let takes_mouse = app.takes_mouse();
        if takes_mouse != self.takes_mouse {
            self.takes_mouse = takes_mouse;
            mouse(self.frames.out(), takes_mouse)?;
        }
        self.frames.draw(app)
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        give_back();
    }
}

fn take() -> io::Result<()> {
    enable_raw_mode()?;
    TAKEN.store(true, Ordering::SeqCst);
    let mut out = io::stdout();
    let taken = queue!(out, EnterAlternateScreen, cursor::Hide).and_then(|()| out.flush());
    // There is no owner yet who would do it.
    taken.inspect_err(|_| give_back())
}

/// Gives the terminal back as it was. Errors are passed over: there is nobody left to tell.
fn give_back() {
    if !TAKEN.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut out = io::stdout();
    let restored = mouse(&mut out, false)
        .and_then(|()| {
            queue!(
                out,
                DisableBracketedPaste,
                EndSynchronizedUpdate,
                LeaveAlternateScreen,
                cursor::Show
            )
        })
        .and_then(|()| out.flush());
    drop(restored);
    drop(disable_raw_mode());
}

/// Presses, drags and the wheel (modes 1000 and 1002 in the coordinates of 1006), but not every
/// movement, with which some terminals flood a program.
#[cfg(unix)]
fn mouse(out: &mut impl Write, on: bool) -> io::Result<()> {
    let end = if on { 'h' } else { 'l' };
    for mode in [1000, 1002, 1006] {
        write!(out, "\x1b[?{mode}{end}")?;
    }
    Ok(())
}

#[cfg(windows)]
fn mouse(out: &mut impl Write, on: bool) -> io::Result<()> {
    use crossterm::event::{DisableMouseCapture, EnableMouseCapture};
    if on {
        queue!(out, EnableMouseCapture)
    } else {
        queue!(out, DisableMouseCapture)
    }
}
