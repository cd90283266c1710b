//! Opening the collection, and the way on where that is not all well.

use std::path::PathBuf;
use std::rc::Rc;

use super::args::Cli;
use super::clock::clock;
use super::error::{CliError, say};
use super::folder;
use super::log;
use super::output::Output;
use crate::model::Step;
use crate::session::{Access, Notice, Open, Session, StoreError};
use crate::settings::Settings;
use crate::store::files::{Disk, Files};
use crate::store::{self, Beside};

/// Where the collection is.
#[derive(Debug)]
pub(super) struct Where {
    pub(super) dir: PathBuf,
    pub(super) settings: Settings,
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
        let missing = self.is_absent();
        if missing {
            let dir = self.dir.display();
            say(&format!("there is no collection in {dir} yet"));
        }
        missing
    }

    /// Where it cannot be looked for, opening it tells why.
    fn is_absent(&self) -> bool {
        matches!(self.dir.try_exists(), Ok(false))
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

    /// As it is, damage and all: what is damaged comes with it, the way on is the answer's hint,
    /// and all else is told.
    pub(super) fn looked_at(&self, out: &mut Output) -> Result<(Session, Vec<Notice>), StoreError> {
        let (session, notices) = self.open(Open::ForReading)?;
        let (damage, others): (Vec<_>, Vec<_>) = notices.into_iter().partition(Notice::is_damage);
        for notice in others {
            say(&format!("warning: {notice}"));
        }
        if let Some(hint) = damage.iter().find_map(way_on) {
            out.hint(hint);
        }
        Ok((session, damage))
    }

    /// For going on after damage. What there is to tell comes with it.
    pub(super) fn mended(&self, how: Open) -> Result<(Session, Vec<Notice>), CliError> {
        let (session, notices) = self.open(how).map_err(CliError::damaged)?;
        if let Access::ReadOnly(why) = session.access() {
            let is_held = |notice: &Notice| matches!(notice, Notice::ReadOnly { held: true, .. });
            return Err(match notices.iter().any(is_held) {
                true => held(why),
                false => CliError::damaged(why),
            });
        }
        Ok((session, notices))
    }

    /// For a command that changes something. Where there is no folder none is made before there is
    /// something to keep in it: see [`commit`].
    pub(super) fn write(&self) -> Result<Session, CliError> {
        if self.is_absent() {
            let opened = Session::open(&self.dir, Open::ForReading, clock());
            return Ok(opened.map_err(CliError::damaged)?.0);
        }
        self.write_there()
    }

    fn write_there(&self) -> Result<Session, CliError> {
        let (session, notices) = self.open(Open::ForWriting).map_err(CliError::damaged)?;
        let access = session.access();
        for notice in notices {
            if let Notice::ReadOnly { why, held: true } = notice {
                return Err(held(why));
            }
            if notice.is_damage() && access != Access::Writable {
                let way_on = way_on(&notice).unwrap_or(MEND);
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

/// What a person can do about this.
pub(super) fn way_on(notice: &Notice) -> Option<&'static str> {
    match notice {
        Notice::SnapshotAltered => Some(
            "if you altered it, ringbound recover --accept takes it as it now is; if not, \
             ringbound recover --put-back has it as it was before",
        ),
        Notice::Later { .. } => {
            Some("open it with that later version; ringbound recover lists what else is kept")
        }
        notice if notice.is_damage() => Some(MEND),
        _ => None,
    }
}

/// The way on from most damage.
const MEND: &str = "ringbound check --mend goes on with what can be read, and keeps \
                               the files as they are beside it";

/// Another program writes.
fn held(why: String) -> CliError {
    CliError::locked(why).hint("end the other program, or let it do what it does, and try again")
}

/// Commits a step to the session of [`Where::write`] and lets the collection go. A folder that is
/// not there is made now: the step was worked out on an empty collection, as a new one is.
pub(super) fn commit(
    at: &Where,
    mut session: Session,
    step: Step,
    out: &mut Output,
) -> Result<(), CliError> {
    if session.access() != Access::Writable {
        session = at.write_there()?;
    }
    session.commit(step)?;
    out.kept();
    close(session);
    Ok(())
}

/// Lets the collection go. What was committed is kept, whether or not a new snapshot is written.
pub fn close(session: Session) {
    match session.close() {
        Ok(None) => {}
        Ok(Some(notice)) => say(&format!("warning: {notice}")),
        Err(e) => say(&format!("warning: {e}")),
    }
}
