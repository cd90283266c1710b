//! `demo`: an invented collection, to try the program on. Nothing of it is kept.

use super::args::DemoArgs;
use super::clock::clock;
use super::error::CliError;
use super::log;
use super::output::Output;
use super::screen::{ScreenOpened, ScreenRequest, ensure_terminal};
use super::show::tell_page;
use crate::demo;
use crate::model::Side;
use crate::session::{Open, Session};
use crate::settings::Settings;

pub(super) fn run(
    args: &DemoArgs,
    settings: Settings,
    terminal: bool,
    out: &mut Output,
) -> Result<Option<Box<ScreenRequest>>, CliError> {
    if args.print {
        if out.is_json() {
            return Err(CliError::usage(
                "demo --print is words only; show answers with --json",
            ));
        }
        return print(out).map(|()| None);
    }
    ensure_terminal(terminal)?;
    let failed = |e| CliError::output("the folder of the demo", e);
    let scratch = tempfile::Builder::new().prefix("ringbound-").tempdir();
    let scratch = scratch.map_err(failed)?;
    let (mut session, notices) =
        Session::open(scratch.path(), Open::ForWriting, clock()).map_err(CliError::damaged)?;
    for step in demo::step_by_step() {
        session.commit(step)?;
    }
    log::opened(scratch.path(), &mut session, &notices);
    Ok(Some(Box::new(ScreenRequest::opened(ScreenOpened {
        last_place: None,
        session,
        notices,
        prices: demo::prices(),
        prices_amiss: Vec::new(),
        settings,
        pictures: None,
        scratch: Some(scratch),
    }))))
}

/// The first spread of the first binder that has one: the back of page 1, the front of page 2.
fn print(out: &mut Output) -> Result<(), CliError> {
    let collection = demo::collection();
    let spread = collection.shelf().find(|binder| binder.pages().len() > 1);
    if let Some(binder) = spread {
        tell_page(&collection, binder, 0, Some(Side::Back), out)?;
        tell_page(&collection, binder, 1, Some(Side::Front), out)?;
    }
    Ok(())
}
