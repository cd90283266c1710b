//! `show`: a binder or a page of it as plain text that reads well aloud, with a drawn grid.

mod answer;
mod grid;
mod words;

use super::args::ShowArgs;
use super::error::CliError;
use super::named;
use super::open::Where;
use super::output::Output;
use crate::hand;
use crate::layout::describe;
use crate::model::{Binder, BinderKind, Collection, Page, PageFormat, Place, Side};
use crate::report::{binder_summary, far_words, pages_words};

pub(super) fn run(args: &ShowArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = &*hand::by_pages(session.collection(), None);
    let binder = named::binder(collection, &args.binder)?;
    let pages = pages_of(binder);
    let asked = match args.page {
        None => 0..pages,
        Some(page) if (1..=pages).contains(&page) => page - 1..page,
        Some(page) => {
            let there = match pages {
                0 => "has no pages".into(),
                1 => "has 1 page".into(),
                pages => format!("has pages 1 to {pages}"),
            };
            let name = binder.name();
            return Err(CliError::usage(format!(
                "there is no page {page}: {name} {there}"
            )));
        }
    };
    let side = args.side;
    if let (Some(Side::Back), Some(_)) = (side, args.page)
        && let Some(format) = format_of(binder, asked.start)
        && !format.has_side(Side::Back)
    {
        return Err(CliError::usage("this page is loaded on its front only"));
    }
    if out.is_json() {
        return out.json(&answer::Answer::new(collection, binder, asked, side));
    }
    if args.page.is_none() {
        head(binder, out)?;
    }
    for page in asked {
        tell_page(collection, binder, page, side, out)?;
    }
    Ok(())
}

/// Pages that stand in the binder or that its layout has.
pub(super) fn pages_of(binder: &Binder) -> usize {
    binder.pages().len().max(binder.layout().pages.len())
}

/// The format of the page that stands there, or is to stand there.
fn format_of(binder: &Binder, page: usize) -> Option<PageFormat> {
    let real = binder.pages().get(page).map(Page::format);
    real.or_else(|| {
        binder
            .layout()
            .pages
            .get(page)
            .map(crate::model::LayoutPage::format)
    })
}

fn head(binder: &Binder, out: &mut Output) -> Result<(), CliError> {
    let summary = binder_summary(binder);
    let tally = binder.tally();
    let title = match binder.called() {
        title if title == binder.name() => String::new(),
        title => format!(", {title}"),
    };
    let kind = match binder.spec().kind {
        BinderKind::Fixed => "fixed pages",
        BinderKind::Rings { .. } => "rings",
    };
    out.line(&format!(
        "Binder {}{title}: {}, {kind}.",
        binder.name(),
        pages_words(binder)
    ))?;
    let misplaced = match summary.misplaced {
        0 => String::new(),
        misplaced => format!(", {misplaced} misplaced"),
    };
    out.line(&format!("{}{misplaced}.", far_words(tally)))
}

/// One page, the asked side or both: a heading, the grid, and a line for each pocket.
pub(super) fn tell_page(
    collection: &Collection,
    binder: &Binder,
    page: usize,
    only: Option<Side>,
    out: &mut Output,
) -> Result<(), CliError> {
    let Some(format) = format_of(binder, page) else {
        return Ok(());
    };
    let stands = if page < binder.pages().len() {
        ""
    } else {
        " (in the layout only, not in the binder yet)"
    };
    for side in [Side::Front, Side::Back] {
        if !format.has_side(side) || only.is_some_and(|only| only != side) {
            continue;
        }
        out.apart()?;
        out.line(&format!(
            "{}, page {}, {side}{stands}: {}",
            binder.name(),
            page + 1,
            describe(&format)
        ))?;
        for line in grid::draw(collection, binder, page, format, side) {
            out.line(&line)?;
        }
        for (at, place) in pockets(binder, page, format, side) {
            let state = collection.pocket(place);
            out.line(&format!(
                "{}: {}",
                at.row_words(),
                words::tell(collection, binder, &state)
            ))?;
        }
    }
    Ok(())
}

/// The pockets of one side, row by row.
fn pockets(
    binder: &Binder,
    page: usize,
    format: PageFormat,
    side: Side,
) -> impl Iterator<Item = (crate::model::PocketAt, Place)> {
    let binder = binder.id();
    (0..format.pockets()).filter_map(move |pocket| {
        let at = format.at(pocket).filter(|at| at.side == side)?;
        let place = Place {
            binder,
            page,
            pocket,
        };
        Some((at, place))
    })
}
