//! What the screen is opened with.

use std::path::PathBuf;

use super::error::CliError;
use super::open::{self, Where};
use super::prices;
use crate::session::{LastPlace, Notice, Open, Session};
use crate::settings::{Palette, Settings};
use crate::store::SNAPSHOT_FILE;
use crate::supplies::PriceList;

/// What the screen is to show.
#[derive(Debug)]
pub struct ScreenRequest {
    shown: Shown,
    /// The colours that an option names.
    pub asked: Option<Palette>,
}

#[derive(Debug)]
enum Shown {
    /// The collection of a folder, to be opened.
    Kept {
        at: Box<Where>,
        at_shelf: bool,
    },
    Opened(Box<ScreenOpened>),
}

/// What the screen is opened with.
#[derive(Debug)]
pub struct ScreenOpened {
    pub session: Session,
    /// Where the screen was last left, if it is to begin there.
    pub last_place: Option<LastPlace>,
    /// To be told to the person.
    pub notices: Vec<Notice>,
    /// The collector's price list.
    pub prices: PriceList,
    /// What could not be taken of it.
    pub prices_amiss: Vec<String>,
    pub settings: Settings,
    /// The folder of the cards' pictures, if there is one.
    pub pictures: Option<PathBuf>,
    /// The folder of an invented collection. It is thrown away when this is dropped.
    pub scratch: Option<tempfile::TempDir>,
}

/// Bytes of a snapshot that take longer than the eye to read.
const LONG: u64 = 4_000_000;

impl ScreenRequest {
    pub(super) fn opened(opened: ScreenOpened) -> Self {
        Self {
            shown: Shown::Opened(Box::new(opened)),
            asked: None,
        }
    }

    #[must_use]
    pub fn settings(&self) -> &Settings {
        match &self.shown {
            Shown::Kept { at, .. } => &at.settings,
            Shown::Opened(opened) => &opened.settings,
        }
    }

    /// Whether opening takes so long that something should be shown before.
    #[must_use]
    pub fn is_long(&self) -> bool {
        let Shown::Kept { at, .. } = &self.shown else {
            return false;
        };
        let about = std::fs::metadata(at.dir.join(SNAPSHOT_FILE));
        about.is_ok_and(|about| about.len() > LONG)
    }

    /// Opens the collection.
    ///
    /// # Errors
    /// It cannot be opened at all; to be told by [`super::refused`].
    pub fn open(self) -> Result<ScreenOpened, CliError> {
        let (at, at_shelf) = match self.shown {
            Shown::Opened(opened) => return Ok(*opened),
            Shown::Kept { at, at_shelf } => (at, at_shelf),
        };
        let (session, notices) = at.open(Open::ForWriting).map_err(CliError::damaged)?;
        let currency = at.settings.supplies.currency;
        let (prices, prices_amiss) = prices::for_screen(&at.dir, currency);
        Ok(ScreenOpened {
            last_place: session.last_place().filter(|_| !at_shelf),
            settings: at.settings.clone(),
            session,
            notices,
            prices,
            prices_amiss,
            pictures: Some(at.pictures()).filter(|folder| folder.is_dir()),
            scratch: None,
        })
    }
}

impl ScreenOpened {
    /// The notices, and the way on from the first that has one.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let mut words: Vec<_> = self.notices.iter().map(ToString::to_string).collect();
        let way = self.notices.iter().find_map(open::way_on);
        words.extend(way.map(ToOwned::to_owned));
        (!words.is_empty()).then(|| words.join("; "))
    }
}

/// The collection for the screen, which tells itself what there is to tell.
pub(super) fn screen(
    at: Where,
    terminal: bool,
    at_shelf: bool,
) -> Result<Box<ScreenRequest>, CliError> {
    ensure_terminal(terminal)?;
    let shown = Shown::Kept {
        at: Box::new(at),
        at_shelf,
    };
    Ok(Box::new(ScreenRequest { shown, asked: None }))
}

pub(super) fn ensure_terminal(terminal: bool) -> Result<(), CliError> {
    if terminal {
        return Ok(());
    }
    Err(
        CliError::usage("the screen needs a terminal, and this is not one")
            .hint("ringbound --help lists the commands that answer in plain text"),
    )
}
