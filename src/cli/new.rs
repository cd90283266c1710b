//! `new`: a set from a phrase.

use serde::Serialize;

use super::args::NewArgs;
use super::error::CliError;
use super::import::AddedAnswer;
use super::open::{self, Where};
use super::output::Output;
use super::pages::binder_options;
use super::words::tell_intake;
use crate::intake::{Phrase, new_set};
use crate::model::SetHead;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    set: &'a str,
    added: AddedAnswer,
}

pub(super) fn run(
    args: &NewArgs,
    at: &Where,
    json: bool,
    out: &mut Output,
) -> Result<(), CliError> {
    let binder = binder_options(&args.binder)?;
    let phrase = Phrase::parse_usual(&args.phrase.join(" "), &at.settings.collecting.finishes)
        .map_err(CliError::usage)?;
    let head = SetHead {
        code: args.code.as_str().into(),
        title: args.title.as_str().into(),
        symbol: args.symbol.as_str().into(),
        shelf: args.shelf.as_str().into(),
    };
    let session = at.write()?;
    let intake = new_set(session.collection(), &head, &phrase, binder).map_err(CliError::usage)?;
    open::commit(at, session, intake.step.clone(), out)?;
    if json {
        return out.json(&Answer {
            format: "ringbound-new",
            version: 1,
            set: &head.code,
            added: AddedAnswer::new(&intake),
        });
    }
    tell_intake(&intake, out)
}
