//! The loop: wait, take all that has come in, draw once.

use std::io;
use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::time::Duration;

use crossterm::event::Event;

use super::app::{App, Flow};
use super::events::{self, Wake};
use super::terminal::Screen;
use super::theme::{Look, Theme};
use crate::session::{Session, Spot};
use crate::supplies::PriceList;

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
    pub spot: Option<Spot>,
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
    /// Where to begin; at the shelf where it is not said.
    pub spot: Option<Spot>,
    /// The collection is the invented one.
    pub is_demo: bool,
}

/// Shows the collection until the person leaves.
///
/// # Errors
/// The terminal cannot be had. What was committed until then is kept.
pub fn run(session: Session, look: Look, given: Given) -> Result<Ended, UiError> {
    let (wakes, out) = events::listen()?;
    let mut screen = Screen::enter()?;
    let size = screen.size()?;
    let mut app = App::new(session, Theme::new(look), (size.width, size.height))
        .with_prices(given.prices, given.prices_amiss)
        .of_demo(given.is_demo)
        .in_folder(std::env::current_dir().ok());
    if let Some(spot) = &given.spot {
        app = app.at_spot(spot);
    }
    app.wake_by(move || drop(out.send(Wake::Told)));
    if let Some(words) = given.words {
        app.tell(words);
    }
    screen.draw(&app)?;
    let signal = serve(&wakes, &mut screen, &mut app);
    drop(screen);
    Ok(Ended {
        spot: app.spot(),
        session: app.into_session(),
        signal: signal?,
    })
}

fn serve(wakes: &Receiver<Wake>, screen: &mut Screen, app: &mut App) -> io::Result<Option<i32>> {
    loop {
        let mut flow = Flow::Same;
        // Only while a pointer rests at an edge with something in hand is there a time to wake.
        let mut next = if app.turns() {
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
                Wake::Input(event) => app.handle(&event),
                Wake::Told => app.hear(),
                Wake::InputEnded => return Ok(None),
                Wake::End(signal) => return Ok(Some(signal)),
                Wake::Stop => Flow::Suspend,
                Wake::Continued => {
                    screen.retake()?;
                    Flow::DrawAnew
                }
            };
            match then {
                Flow::Quit => return Ok(None),
                Flow::Suspend => {
                    screen.leave();
                    events::stop();
                    // Going on again comes as a wake of its own.
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
            screen.draw_anew()?;
        }
        let size = screen.size()?;
        app.handle(&Event::Resize(size.width, size.height));
        screen.draw(app)?;
    }
}
