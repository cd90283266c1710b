//! The loop: wait, take all that has come in, draw once.

use std::path::PathBuf;
use std::sync::mpsc::{self, Receiver, RecvTimeoutError, Sender, TryRecvError};
use std::time::{Duration, Instant};
use std::{fmt, io};

use crossterm::event::{Event, MouseButton, MouseEvent, MouseEventKind};

use super::app::{App, Flow};
use super::events::{self, Wake};
use super::gallery::{Asker, Maker};
use super::terminal::Terminal;
use super::theme::{Look, Theme};
use crate::session::{LastPlace, Session};
use crate::settings::Settings;
use crate::supplies::PriceList;

/// Two clicks on one cell within this time are a double one (common practice, no source).
const DOUBLE_WITHIN: Duration = Duration::from_millis(350);

/// How long a pointer rests at an edge before the next page is turned.
const TURN_AFTER: Duration = Duration::from_millis(450);

/// Why the screen could not be shown.
#[derive(Debug, thiserror::Error)]
pub enum UiError {
    #[error("the terminal cannot be used: {0}")]
    Terminal(#[from] io::Error),
}

/// How the screen was left.
#[derive(Debug)]
pub struct Ended {
    /// To be closed.
    pub session: Session,
    /// Where the person was in it.
    pub last_place: Option<LastPlace>,
    /// The signal that ended it, if one did.
    pub signal: Option<i32>,
}

/// What comes to the screen besides the collection.
#[derive(Debug, Default)]
pub struct Given {
    /// Told on the message line at first.
    pub words: Option<String>,
    pub prices: PriceList,
    /// What could not be taken of the price list.
    pub prices_amiss: Vec<String>,
    pub settings: Settings,
    /// Where to begin; at the shelf where it is not said.
    pub last_place: Option<LastPlace>,
    /// The collection is the invented one.
    pub is_demo: bool,
    /// The folder of the cards' pictures, if there is one.
    pub pictures: Option<PathBuf>,
}

/// The terminal, taken before there is a collection to show.
pub struct Begun {
    out: Sender<Wake>,
    wakes: Receiver<Wake>,
    terminal: Terminal,
    theme: Theme,
}

impl fmt::Debug for Begun {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Begun").finish_non_exhaustive()
    }
}

/// Takes the terminal. It is given back when what comes of this is dropped.
///
/// # Errors
/// The terminal cannot be had.
pub fn begin(theme: Theme) -> Result<Begun, UiError> {
    let (out, wakes) = mpsc::channel();
    events::signals(&out)?;
    Ok(Begun {
        out,
        wakes,
        terminal: Terminal::enter()?,
        theme,
    })
}

impl Begun {
    /// Shows words, for what takes longer than a frame before there is more to show. Keys pressed
    /// meanwhile wait for it.
    ///
    /// # Errors
    /// The terminal takes no more.
    pub fn say(&mut self, words: &str) -> Result<(), UiError> {
        Ok(self.terminal.say(words, self.theme)?)
    }

    /// Shows the collection until the person leaves.
    ///
    /// # Errors
    /// The terminal takes no more. What was committed until then is kept.
    pub fn run(self, session: Session, given: Given) -> Result<Ended, UiError> {
        let Self {
            out,
            wakes,
            mut terminal,
            theme,
        } = self;
        let asker = asker(theme.look, &given, &out)?;
        let tell = out.clone();
        events::input(out)?;
        let size = terminal.size()?;
        let mut app = App::new(session, theme, size)
            .with_settings(given.settings)
            .with_prices(given.prices, given.prices_amiss)
            .of_demo(given.is_demo)
            .in_folder(std::env::current_dir().ok());
        if let Some(last_place) = &given.last_place {
            app = app.at_last_place(last_place);
        }
        app.wake_by(move || drop(tell.send(Wake::Told)));
        if asker.is_some() {
            app = app.with_pictures();
        }
        if let Some(words) = given.words {
            app.tell(words);
        }
        draw(&mut terminal, &mut app, asker.as_ref())?;
        let signal = serve(&wakes, &mut terminal, &mut app, asker.as_ref());
        drop(terminal);
        Ok(Ended {
            last_place: app.last_place(),
            session: app.into_session(),
            signal: signal?,
        })
    }
}

/// The way to the pictures, where there are some and the terminal can show them. It is asked only
/// then, and before anything else reads from it.
fn asker(look: Look, given: &Given, out: &Sender<Wake>) -> io::Result<Option<Asker>> {
    let Some(folder) = given.pictures.clone() else {
        return Ok(None);
    };
    let Some(maker) = Maker::for_terminal(given.settings.screen.pictures, look) else {
        return Ok(None);
    };
    let out = out.clone();
    let send = move |made| out.send(Wake::Picture(made)).is_ok();
    Asker::start(maker, folder, send).map(Some)
}

/// Draws a frame, and asks for the pictures that it lacks.
fn draw(terminal: &mut Terminal, app: &mut App, asker: Option<&Asker>) -> io::Result<()> {
    terminal.draw(app)?;
    if let Some(asker) = asker {
        asker.ask(app.pictures_wanted());
    }
    Ok(())
}

/// Tells double clicks, of which a terminal knows nothing.
#[derive(Debug, Default)]
struct Clicks(Option<(Instant, (u16, u16))>);

impl Clicks {
    /// The event, where it is the second click of a double one.
    fn second<'e>(&mut self, event: &'e Event) -> Option<&'e MouseEvent> {
        let Event::Mouse(mouse) = event else {
            return None;
        };
        if mouse.kind != MouseEventKind::Down(MouseButton::Left) {
            return None;
        }
        let (now, at) = (Instant::now(), (mouse.column, mouse.row));
        let before = self.0.replace((now, at));
        let is_second =
            before.is_some_and(|(then, there)| there == at && now - then <= DOUBLE_WITHIN);
        is_second.then_some(mouse)
    }
}

fn serve(
    wakes: &Receiver<Wake>,
    terminal: &mut Terminal,
    app: &mut App,
    asker: Option<&Asker>,
) -> io::Result<Option<i32>> {
    let mut clicks = Clicks::default();
    loop {
        let mut flow = Flow::Same;
        let mut next = if app.is_at_work() {
            match wakes.try_recv() {
                Ok(wake) => Some(wake),
                Err(TryRecvError::Empty) => {
                    flow = app.work_on();
                    None
                }
                Err(TryRecvError::Disconnected) => return Ok(None),
            }
        } else if app.turns() {
            // Only while a pointer rests at an edge with something in hand is there a time to
            // wake.
            match wakes.recv_timeout(TURN_AFTER) {
                Ok(wake) => Some(wake),
                Err(RecvTimeoutError::Timeout) => {
                    flow = app.turn();
                    None
                }
                Err(RecvTimeoutError::Disconnected) => return Ok(None),
            }
        } else {
            match wakes.recv() {
                Ok(wake) => Some(wake),
                Err(_) => return Ok(None),
            }
        };
        while let Some(wake) = next {
            let then = match wake {
                Wake::Input(event) => match clicks.second(&event) {
                    Some(click) => app.handle_second_click(click),
                    None => app.handle(&event),
                },
                Wake::Told => app.hear(),
                Wake::Picture(made) => app.take_picture(made),
                Wake::InputEnded => return Ok(None),
                Wake::End(signal) => return Ok(Some(signal)),
                Wake::Stop => Flow::Suspend,
                Wake::Continued => {
                    terminal.retake()?;
                    app.forget_pictures();
                    Flow::DrawAnew
                }
            };
            match then {
                Flow::Quit => return Ok(None),
                Flow::Suspend => {
                    terminal.leave();
                    events::stop();
                    // Going on again comes as a wake of its own; what was to be drawn before it
                    // would go onto the shell's screen.
                    flow = Flow::Same;
                }
                Flow::DrawAnew => flow = Flow::DrawAnew,
                Flow::Draw if flow == Flow::Same => flow = Flow::Draw,
                Flow::Draw | Flow::Same => {}
            }
            next = wakes.try_recv().ok();
        }
        if flow == Flow::Same {
            continue;
        }
        if flow == Flow::DrawAnew {
            terminal.draw_anew();
        }
        let (width, height) = terminal.size()?;
        app.handle(&Event::Resize(width, height));
        if let Some(text) = app.take_clipboard() {
            terminal.copy(&text)?;
        }
        draw(terminal, app, asker)?;
    }
}
