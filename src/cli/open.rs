//! Opening the collection for a command or for the screen.

use std::path::PathBuf;
use std::rc::Rc;

use super::args::Cli;
use super::error::{CliError, say};
use super::folder;
use super::log;
use super::measure;
use super::output::Output;
use super::recover;
use crate::model::{Binder, Collection, SetId, Step};
use crate::session::{Access, Clock, Notice, Open, Session, Spot, StoreError};
use crate::settings::{Palette, Settings};
use crate::store::files::{Disk, Files};
use crate::store::{self, Beside};
use crate::supplies::PriceList;

/// Where the collection is.
#[derive(Debug)]
pub(super) struct Where {
    pub(super) dir: PathBuf,
    pub(super) settings: Settings,
}

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
    pub spot: Option<Spot>,
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
        let about = std::fs::metadata(at.dir.join("collection.json"));
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
        let (prices, prices_amiss) = measure::prices_for_screen(&at.dir, currency);
        Ok(ScreenOpened {
            spot: session.spot().filter(|_| !at_shelf),
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
    /// The notices in one line.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let words: Vec<_> = self.notices.iter().map(ToString::to_string).collect();
        (!words.is_empty()).then(|| words.join("; "))
    }
}

/// The present time for what is kept.
pub(super) fn clock() -> Clock {
    // Whole seconds tell enough, and read better.
    let second = || jiff::Timestamp::from_second(jiff::Timestamp::now().as_second());
    Box::new(move || second().unwrap_or_default().to_string())
}

impl Where {
    pub(super) fn new(cli: &Cli, settings: Settings) -> Result<Self, CliError> {
        folder::find(cli.data.as_deref()).map(|dir| Self { dir, settings })
    }

    /// Where pictures of cards are looked for.
    pub(super) fn pictures(&self) -> PathBuf {
        self.dir.join("pictures")
    }

    /// What there is to tell comes with it.
    pub(super) fn open(&self, how: Open) -> Result<(Session, Vec<Notice>), StoreError> {
        let (mut session, notices) = Session::open(&self.dir, how, clock())?;
        log::opened(&self.dir, &mut session, &notices);
        Ok((session, notices))
    }

    /// What is kept beside the collection.
    pub(super) fn beside(&self) -> Result<Beside, StoreError> {
        let files: Rc<dyn Files> = Rc::new(Disk);
        store::beside(&files, &self.dir)
    }

    /// Whether there is no folder, which is then told: a mistyped one looks like an empty
    /// collection otherwise.
    pub(super) fn is_missing(&self) -> bool {
        // Where it cannot be looked for, opening it tells why.
        let missing = matches!(self.dir.try_exists(), Ok(false));
        if missing {
            let dir = self.dir.display();
            say(&format!("there is no collection in {dir} yet"));
        }
        missing
    }

    /// For a command that only reads. Works beside a program that writes. What is damaged is told,
    /// and the answer is what can be read.
    pub(super) fn read(&self, out: &mut Output) -> Result<Session, CliError> {
        self.is_missing();
        let (session, notices) = self.open(Open::ForReading).map_err(CliError::damaged)?;
        for notice in &notices {
            say(&format!("warning: {notice}"));
            if notice.is_damage() {
                out.damaged();
            }
        }
        Ok(session)
    }

    /// For a command that changes something.
    pub(super) fn write(&self) -> Result<Session, CliError> {
        let (session, notices) = self.open(Open::ForWriting).map_err(CliError::damaged)?;
        let access = session.access();
        for notice in notices {
            if let Notice::ReadOnly { why, held: true } = notice {
                return Err(held(why));
            }
            if notice.is_damage() && access != Access::Writable {
                let way_on = recover::way_on(&notice).unwrap_or(MEND);
                return Err(
                    CliError::damaged(notice).hint(format!("nothing was changed; {way_on}"))
                );
            }
            if !matches!(notice, Notice::ReadOnly { .. }) {
                say(&format!("warning: {notice}"));
            }
        }
        match access {
            Access::Writable => Ok(session),
            Access::ReadOnly(why) => {
                let hint = "the collection can be read; to change it, its folder must be writable";
                Err(CliError::damaged(why).hint(hint))
            }
        }
    }
}

/// The way on from damage.
pub(super) const MEND: &str = "ringbound check --mend goes on with what can be read, and keeps \
                               the files as they are beside it";

/// Another program writes.
pub(super) fn held(why: String) -> CliError {
    CliError::locked(why).hint("end the other program, or let it do what it does, and try again")
}

/// Commits a step and lets the collection go.
pub(super) fn commit(mut session: Session, step: Step) -> Result<(), CliError> {
    session.commit(step)?;
    close(session);
    Ok(())
}

/// Lets the collection go. What was committed is kept, whether or not a new snapshot is written.
pub fn close(session: Session) {
    if let Err(e) = session.close() {
        say(&format!("warning: {e}"));
    }
}

/// The set that `--set` names.
pub(super) fn only(collection: &Collection, code: Option<&str>) -> Result<Option<SetId>, CliError> {
    let Some(code) = code else {
        return Ok(None);
    };
    let found = collection.set_by_code(code);
    found.map(Some).ok_or_else(|| {
        let codes: Vec<_> = collection.sets().map(|(_, set)| set.code()).collect();
        let hint = crate::intake::hint(code, codes.into_iter());
        CliError::usage(format!("there is no set “{code}”{hint}"))
    })
}

/// The binder of this name.
pub(super) fn binder<'c>(collection: &'c Collection, name: &str) -> Result<&'c Binder, CliError> {
    let found = collection.binder_by_name(name);
    found.and_then(|id| collection.binder(id)).ok_or_else(|| {
        let names: Vec<_> = collection.shelf().map(Binder::name).collect();
        let hint = crate::intake::hint(name, names.into_iter());
        CliError::usage(format!("there is no binder “{name}”{hint}"))
    })
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
        CliError::usage("the screen needs a terminal, and this is none")
            .hint("ringbound --help lists the commands that answer in plain text"),
    )
}
