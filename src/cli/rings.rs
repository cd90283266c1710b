//! `rings`: which rings a binder has.

use serde::Serialize;

use super::args::RingsArgs;
use super::error::CliError;
use super::named;
use super::open::{self, Where};
use super::output::Output;
use crate::hand;
use crate::model::RingShape;
use crate::supplies::Rings;
use crate::text::Choice;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    binder: &'a str,
    /// In millimetres; absent where not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    size_mm: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    shape: Option<&'static str>,
    changed: bool,
}

pub(super) fn run(args: &RingsArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let words = args.rings.join(" ");
    let rings = match words.trim() {
        "unknown" => None,
        words => Some(Rings::parse(words).map_err(CliError::usage)?),
    };
    let session = at.write()?;
    let binder = named::binder(session.collection(), &args.binder)?;
    let (id, name) = (binder.id(), binder.name().to_owned());
    let (size, shape) = rings.map_or((0, RingShape::D), |rings| (rings.size, rings.shape));
    let step = hand::set_rings(session.collection(), id, size, shape).map_err(CliError::usage)?;
    let (label, changed) = (step.label.clone(), !step.changes.is_empty());
    open::commit(at, session, step, out)?;
    if out.is_json() {
        return out.json(&Answer {
            format: "ringbound-rings",
            version: 1,
            binder: &name,
            size_mm: rings.map(|rings| rings.size),
            shape: rings.map(|rings| rings.shape.word()),
            changed,
        });
    }
    out.line(&match changed {
        true => format!("Kept: {label}."),
        false => format!("Nothing is new: {label}."),
    })
}
