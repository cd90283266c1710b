//! Changes as text, and back.
//!
//! A change holds small ids; its text holds what they stand for, so that a file stays readable
//! and true. Each change is one JSON object with one key, the names of which are resolved against
//! the collection as it is right before the change (when it is taken) or right after it (when it
//! is taken back). That is why text and collection are gone through together, change by change.

mod decode;
mod encode;
mod written;

use serde_json::value::RawValue;

use crate::model::{Change, Collection, Refused};
use written::Written;

/// Which of a change's names are to be found in the collection: those before or after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Standing {
    Before,
    After,
}

/// Applies the changes and gives their text, a JSON array. When one is refused, those before it
/// are taken back.
///
/// # Errors
/// The refusal of the first change that does not fit; the collection is as it was then,
/// but for [`Refused::NotTakenBack`].
pub fn apply(changes: &[Change], collection: &mut Collection) -> Result<String, Refused> {
    // Most changes are seats, lifts and copies: about 50 bytes.
    let mut text = Vec::with_capacity(64 * changes.len() + 2);
    for (done, change) in changes.iter().enumerate() {
        text.push(if done == 0 { b'[' } else { b',' });
        let written = encode::encode(change, collection, &mut text);
        let applied = change.apply(collection).and_then(|()| {
            let text = written.ok_or_else(|| Refused::Unfit("it cannot be written".into()));
            text.or_else(|refused| {
                Change::take_back_all(std::slice::from_ref(change), collection)?;
                Err(refused)
            })
        });
        if let Err(refused) = applied {
            Change::take_back_all(&changes[..done], collection)?;
            return Err(refused);
        }
    }
    if text.is_empty() {
        text.push(b'[');
    }
    text.push(b']');
    String::from_utf8(text).map_err(|_| Refused::Unfit("it cannot be written".into()))
}

/// Applies changes from their text. The collection must be as it was when they were written.
///
/// # Errors
/// Says which change does not fit and why; the collection is as it was then,
/// but for [`Refused::NotTakenBack`].
pub fn redo(text: &str, collection: &mut Collection) -> Result<Vec<Change>, Refused> {
    let each = each(text).map_err(Refused::Unfit)?;
    let mut done: Vec<Change> = Vec::with_capacity(each.size_hint().0);
    for (at, written) in each {
        let change = decode::decode(written, collection, Standing::Before);
        let applied = change.and_then(|change| {
            change
                .apply(collection)
                .map_err(|refused| refused.to_string())?;
            Ok(change)
        });
        match applied {
            Ok(change) => done.push(change),
            Err(what) => {
                Change::take_back_all(&done, collection)?;
                return Err(Refused::Unfit(format!("change {}: {what}", at + 1)));
            }
        }
    }
    Ok(done)
}

/// Takes changes back from their text, the last one first. The collection must be as it was
/// right after them. Gives the changes in the order in which they were once taken.
///
/// # Errors
/// Says which change does not fit and why; the collection is as it was then,
/// but for [`Refused::NotTakenBack`].
pub fn undo(text: &str, collection: &mut Collection) -> Result<Vec<Change>, Refused> {
    let each = each(text).map_err(Refused::Unfit)?;
    let mut undone: Vec<Change> = Vec::with_capacity(each.size_hint().0);
    for (at, written) in each.rev() {
        let change = decode::decode(written, collection, Standing::After);
        let taken_back = change.and_then(|change| {
            let back = change.inverse().apply(collection);
            back.map_err(|refused| refused.to_string())?;
            Ok(change)
        });
        match taken_back {
            Ok(change) => undone.push(change),
            Err(what) => {
                for change in undone.iter().rev() {
                    let again = change.apply(collection);
                    again.map_err(Refused::not_taken_back)?;
                }
                return Err(Refused::Unfit(format!("change {}: {what}", at + 1)));
            }
        }
    }
    undone.reverse();
    Ok(undone)
}

/// Steps of so many bytes are read in one go, as nearly all are. Longer ones are read change by
/// change, since what is read takes several times the room.
const SHORT: usize = 16 << 10;

/// Changes as they are written, each with its place.
type Each<'a> = Box<dyn DoubleEndedIterator<Item = (usize, Result<Written<'a>, String>)> + 'a>;

fn each<'a>(text: &'a str) -> Result<Each<'a>, String> {
    let told = |error: serde_json::Error| error.to_string();
    if text.len() <= SHORT
        && let Ok(read) = serde_json::from_str::<Vec<Written<'_>>>(text)
    {
        return Ok(Box::new(read.into_iter().map(Ok).enumerate()));
    }
    // Change by change too where one of them cannot be read, so that it can be said which.
    let raw: Vec<&'a RawValue> = serde_json::from_str(text).map_err(told)?;
    let read = move |raw: &'a RawValue| serde_json::from_str(raw.get()).map_err(told);
    Ok(Box::new(raw.into_iter().map(read).enumerate()))
}
