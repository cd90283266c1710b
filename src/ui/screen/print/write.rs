//! Writing what was made, beside the loop: each file whole or not at all.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::{Made, Next, Print};
use crate::paper::{DocumentError, Fonts, Format, Size, numbered};
use crate::session::{Outside, OutsideError};
use crate::ui::desk::Desk;
use crate::ui::files;
use crate::ui::intent::Intent;
use crate::ui::job::{Job, NoAnswer, Progress};
use crate::ui::keymap::Context;

/// So much is written before it is asked whether to go on.
const PIECE: usize = 64 * 1024;

/// What was done beside the loop.
#[derive(Debug)]
pub(super) enum Done {
    Made(Result<Made, String>),
    /// The files that were written.
    Written(Result<Vec<String>, NotWritten>),
}

/// Why not everything is written.
#[derive(Debug)]
pub(super) enum NotWritten {
    /// The file is there already, in words.
    Exists(PathBuf, String),
    Failed(String),
    /// It was stopped after these files.
    Stopped(Vec<String>),
}

/// What is to be written, and where.
#[derive(Debug)]
struct Order {
    made: Arc<Made>,
    format: Format,
    paper: Size,
    path: PathBuf,
    overwrite: bool,
    /// The collection's own folder, into which nothing is written.
    folder: Option<PathBuf>,
}

impl Print {
    /// Writes the file, whole or not at all; one that is there only when asked a second time.
    pub(super) fn write(&mut self, desk: &mut Desk) -> Next {
        if self.job.is_some() {
            return Next::Stay;
        }
        match self.order(desk) {
            Err(why) => {
                desk.warn(why);
                Next::Stay
            }
            Ok(order) => {
                self.stopping = false;
                self.job = Some(Job::begin(desk.beside.as_ref(), move |progress| {
                    Done::Written(written(&order, progress))
                }));
                self.take(desk)
            }
        }
    }

    fn order(&self, desk: &Desk) -> Result<Order, String> {
        let made = (self.made.as_ref()).map_err(|why| format!("Not yet: {why}"))?;
        let path = desk.outside_path(self.file.value().trim())?;
        let ending = path.extension().and_then(|ending| ending.to_str());
        let format = ending.and_then(Format::of_ending);
        let format = format.ok_or("The file's name must end in .pdf, .svg, .png, .txt or .md")?;
        Ok(Order {
            made: Arc::clone(made),
            format,
            paper: self.paper(),
            overwrite: self.over.as_ref() == Some(&path),
            path,
            folder: desk.session.folder().map(Path::to_owned),
        })
    }

    /// Asks the writing to stop, and a second time waits for it no longer.
    pub(super) fn stop(&mut self) -> Next {
        if self.stopping {
            return Next::Close;
        }
        self.stopping = true;
        if let Some(job) = &self.job {
            job.stop();
        }
        Next::Stay
    }

    /// Takes sheets that have been made, if they have.
    pub(super) fn take_made(&mut self, desk: &Desk) {
        match desk.ended(&mut self.job) {
            Some(Ok(Done::Made(_))) if self.made_at != desk.session.revision() => {
                self.renew(desk);
            }
            Some(Ok(Done::Made(made))) => self.made = made.map(Arc::new),
            Some(Err(_)) => {
                self.made = Err("it could not be made: a fault of this program".into());
            }
            Some(Ok(Done::Written(_))) | None => {}
        }
    }

    /// Takes what was made or written, if it has been.
    pub(super) fn take(&mut self, desk: &mut Desk) -> Next {
        if !self.is_writing() {
            self.take_made(desk);
            return Next::Stay;
        }
        match desk.ended(&mut self.job) {
            Some(Ok(Done::Written(Ok(files)))) => {
                let is_drawn = |file: &String| {
                    let ending = Path::new(file).extension().and_then(|e| e.to_str());
                    ending
                        .and_then(Format::of_ending)
                        .is_some_and(Format::is_drawn)
                };
                let how = match files.iter().any(is_drawn) {
                    true => " Print at 100 %, no scaling.",
                    false => "",
                };
                desk.say(format!("Written: {}.{how}", files.join(", ")));
                return Next::Close;
            }
            Some(Ok(Done::Written(Err(why)))) => self.tell(desk, why),
            Some(Err(NoAnswer::Stopped)) => self.tell(desk, NotWritten::Stopped(Vec::new())),
            Some(Err(NoAnswer::Failed(_))) => {
                let why = "Not written: a fault of this program".into();
                self.tell(desk, NotWritten::Failed(why));
            }
            Some(Ok(Done::Made(_))) | None => {}
        }
        Next::Stay
    }

    fn tell(&mut self, desk: &mut Desk, why: NotWritten) {
        match why {
            NotWritten::Exists(path, why) => {
                let key = desk.key(Context::Print, Intent::Accept);
                self.over = Some(path);
                desk.warn(format!("{why}. {key} again writes over it."));
            }
            NotWritten::Failed(why) => desk.warn(why),
            NotWritten::Stopped(files) if files.is_empty() => {
                desk.say("Stopped: nothing is written");
            }
            NotWritten::Stopped(files) => {
                desk.say(format!("Stopped after {}", files.join(", ")));
            }
        }
    }
}

fn written(order: &Order, progress: &Progress) -> Result<Vec<String>, NotWritten> {
    let fonts = Fonts::own();
    let made = &order.made;
    let tell = &mut |done, of| progress.tell(done, of);
    let of = (order.paper, &fonts);
    let sheets = (made.document).write_drawn(&made.drawing, order.format, of, tell);
    let sheets = sheets.map_err(|e| match e {
        DocumentError::Stopped => NotWritten::Stopped(Vec::new()),
        e => NotWritten::Failed(format!("That does not work: {e}")),
    })?;
    let mut targets = Vec::new();
    for file in &sheets {
        let path = file
            .sheet
            .map_or_else(|| order.path.clone(), |sheet| numbered(&order.path, sheet));
        match Outside::new(&path, order.overwrite, order.folder.as_deref()) {
            Ok(target) => targets.push((target, &file.bytes)),
            Err(e @ OutsideError::Exists(_)) => {
                return Err(NotWritten::Exists(order.path.clone(), e.to_string()));
            }
            Err(e) => return Err(NotWritten::Failed(files::not_written(&e))),
        }
    }
    let mut told = Vec::new();
    for (target, bytes) in targets {
        let shown = target.path().display().to_string();
        let written = files::put_beside(progress, target, |to| {
            for piece in bytes.chunks(PIECE) {
                if !progress.goes_on() {
                    return Err(io::Error::other("it was stopped"));
                }
                to.write_all(piece)?;
            }
            Ok(())
        });
        match written {
            Some(Ok(())) => told.push(shown),
            Some(Err(why)) => return Err(NotWritten::Failed(why)),
            None => return Err(NotWritten::Stopped(told)),
        }
    }
    Ok(told)
}
