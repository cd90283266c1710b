//! `new`: a set from a phrase, or a binder for a set that has none.

use serde::Serialize;

use super::args::NewArgs;
use super::error::CliError;
use super::import::AddedAnswer;
use super::open::{self, Where};
use super::output::Output;
use super::pages::binder_options;
use super::words::tell_intake;
use crate::intake::{BinderOptions, Intake, Phrase, binder_for_set, new_set};
use crate::model::{Collection, SetHead};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    set: &'a str,
    added: AddedAnswer,
}

pub(super) fn run(args: &NewArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let binder = binder_options(&args.binder)?;
    let words = args.phrase.join(" ");
    let usual = &at.settings.collecting.finishes;
    let phrase = (!words.trim().is_empty()).then(|| Phrase::parse_usual(&words, usual));
    let phrase = phrase.transpose().map_err(CliError::usage)?;
    let session = at.write()?;
    let intake = match phrase {
        Some(phrase) => {
            new_set(session.collection(), &head(args), &phrase, binder).map_err(CliError::usage)?
        }
        None => binder_alone(session.collection(), args, binder)?,
    };
    open::commit(at, session, intake.step.clone(), out)?;
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-new",
            version: 1,
            set: &args.code,
            added: AddedAnswer::new(&intake),
        });
    }
    tell_intake(&intake, out)
}

fn head(args: &NewArgs) -> SetHead {
    SetHead {
        code: args.code.as_str().into(),
        title: args.title.as_str().into(),
        symbol: args.symbol.as_str().into(),
        shelf: args.shelf.as_str().into(),
    }
}

/// For a set that is there.
fn binder_alone(
    collection: &Collection,
    args: &NewArgs,
    binder: Option<BinderOptions>,
) -> Result<Intake, CliError> {
    let Some(set) = collection.set_by_code(&args.code) else {
        let why = format!(
            "there is no set {} yet: say which cards it has, such as 1 to 120",
            args.code
        );
        return Err(CliError::usage(why));
    };
    let head = [&args.title, &args.symbol, &args.shelf];
    let (Some(binder), true) = (binder, head.iter().all(|word| word.is_empty())) else {
        let why = "for a set that is there only its binder can be made: say nothing but its pages";
        return Err(CliError::usage(why));
    };
    binder_for_set(collection, set, binder).map_err(CliError::usage)
}
