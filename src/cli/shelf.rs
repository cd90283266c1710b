//! `shelf`: the binders as they stand, and how far each is.

use serde::Serialize;

use super::error::CliError;
use super::open::Where;
use super::output::Output;
use super::table::{Align, Table};
use super::words::count;
use crate::hand;
use crate::model::{Binder, BinderTally};
use crate::report::{binder_summary, far_words, percent};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    /// From left to right.
    binders: Vec<BinderAnswer<'a>>,
}

#[derive(Serialize)]
struct BinderAnswer<'a> {
    binder: &'a str,
    title: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    set: Option<&'a str>,
    /// That stand in it.
    pages: usize,
    layout_pages: usize,
    in_place: u32,
    meant: u32,
    gaps: u32,
    misplaced: u32,
    drafts: usize,
}

pub(super) fn run(at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = &*hand::by_pages(session.collection(), None);
    if out.is_json() {
        let code = |binder: &Binder| Some(collection.set(binder.spec().set?)?.code());
        let binders = collection.shelf().map(|binder| BinderAnswer {
            binder: binder.name(),
            title: &binder.spec().title,
            set: code(binder),
            pages: binder.pages().len(),
            layout_pages: binder.layout().pages.len(),
            in_place: binder.tally().in_place,
            meant: binder.tally().meant,
            gaps: binder.tally().gaps(),
            misplaced: binder_summary(binder).misplaced,
            drafts: binder.drafts().len(),
        });
        return out.json(&Answer {
            format: "ringbound-shelf",
            version: 1,
            binders: binders.collect(),
        });
    }
    let many = collection.shelf().len() as u64;
    if many == 0 {
        return out.line(
            "No binder stands on the shelf. ringbound new makes a set, ringbound import checklist \
             takes one in.",
        );
    }
    let all: BinderTally = collection.shelf().map(Binder::tally).sum();
    let binders = count(many, "binder", "binders");
    out.line(&format!(
        "{binders}, from left to right; {}:",
        far_words(all)
    ))?;
    // Pages of the layout are told where those are others than stand in the binder.
    let to_be = |binder: &Binder| {
        let meant = binder.layout().pages.len();
        (meant != binder.pages().len()).then_some(meant)
    };
    let mut table = Table::new(&[
        ("binder", Align::Left),
        ("title", Align::Left),
        ("pages", Align::Right),
        ("in layout", Align::Right),
        ("in place", Align::Right),
        ("of", Align::Right),
        ("share", Align::Right),
        ("gaps", Align::Right),
        ("misplaced", Align::Right),
        ("drafts", Align::Right),
    ]);
    let some = |number: u64| match number {
        0 => String::new(),
        number => number.to_string(),
    };
    for binder in collection.shelf() {
        let tally = binder.tally();
        table.row([
            binder.name().to_owned(),
            binder.spec().title.to_string(),
            binder.pages().len().to_string(),
            to_be(binder).map_or_else(String::new, |meant| meant.to_string()),
            tally.in_place.to_string(),
            tally.meant.to_string(),
            percent(tally.in_place, tally.meant).unwrap_or_default(),
            tally.gaps().to_string(),
            some(u64::from(binder_summary(binder).misplaced)),
            some(binder.drafts().len() as u64),
        ]);
    }
    table.print(out)
}
