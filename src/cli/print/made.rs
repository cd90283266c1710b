//! The document that the arguments ask for.

use std::collections::HashMap;
use std::sync::Arc;

use super::read;
use crate::cli::args::{LabelArgs, PageArgs, PocketArgs, Print, ShoppingArgs};
use crate::cli::error::{CliError, say};
use crate::cli::lists::narrowed;
use crate::cli::named::binder as find;
use crate::cli::open::Where;
use crate::cli::output::Output;
use crate::cli::prices;
use crate::cli::show::pages_of;
use crate::cli::{measure, plan, sort_pile, swap};
use crate::hand;
use crate::model::{Binder, Collection};
use crate::paper::{
    Document, Fonts, LabelError, LabelLook, Listing, PageView, Picture, Size, Spine, basket_list,
    collection_sheet, index, labels, page_picture, parse_card, pile_sheet, pocket_cards,
    spares_list, stand_ins, swap_sheet, wants_list,
};
use crate::report::{Asked, ListFilter, listed};
use crate::supplies::{basket, needs};

/// A picture has at most so many bytes.
const MOST_PICTURE: u64 = 8_000_000;

/// What a document is made from.
pub(super) struct From<'a> {
    pub(super) at: &'a Where,
    pub(super) collection: &'a Collection,
    pub(super) paper: Size,
    /// A page is drawn in its own size.
    pub(super) natural: bool,
    pub(super) fonts: &'a Fonts<'a>,
}

pub(super) fn document(
    what: &Print,
    from: &From<'_>,
    out: &mut Output,
) -> Result<Document, CliError> {
    let &From {
        at,
        collection,
        paper,
        natural,
        fonts,
    } = from;
    let listing = match what {
        Print::Labels(args) => return spines(args, collection, paper, fonts),
        Print::Pockets(args) => return cards(args, collection, paper, fonts),
        Print::Page(args) => {
            // Paper that is named is meant.
            let paper = (!natural || args.paper.paper.is_some()).then_some(paper);
            return page(args, collection, paper, fonts);
        }
        Print::Index { binder, .. } => {
            let binder = find(collection, binder)?;
            let told = hand::by_pages(collection, Some(binder.id()));
            index(&told, told.binder(binder.id()).unwrap_or(binder))
        }
        Print::Wants { wants, .. } => {
            let filter = ListFilter {
                all_runs: wants.all,
                ..narrowed(collection, &wants.narrow)?
            };
            wants_list(
                collection,
                &listed(&hand::by_pages(collection, None), Asked::Wants, filter),
            )
        }
        Print::Spares { spares, .. } => {
            let filter = ListFilter {
                keep: spares.keep,
                ..narrowed(collection, &spares.narrow)?
            };
            spares_list(
                collection,
                &listed(&hand::by_pages(collection, None), Asked::Spares, filter),
            )
        }
        Print::Swap { swap: args, .. } => {
            if args.carry_out {
                return Err(CliError::usage("a sheet carries nothing out")
                    .hint("ringbound swap … --carry-out does"));
            }
            let told = hand::by_pages(collection, None);
            swap_sheet(collection, &swap::work_out(&told, args, out)?)
        }
        Print::WorkSheet { plan: args, .. } => {
            if args.after.is_some() {
                return Err(
                    CliError::usage("a sheet is printed for binders of the collection").hint(
                        "ringbound plan BEFORE AFTER > sheet.txt does it for two arrangements",
                    ),
                );
            }
            let targets = plan::targets(args, collection)?;
            let draft = args.draft.as_deref();
            collection_sheet(collection, &targets, draft, plan::way(args))
        }
        Print::Shopping(args) => shopping(args, at, collection, out)?,
        Print::Pile { pile, .. } => {
            let (order, sorting) = sort_pile::sorted(pile, collection)?;
            pile_sheet(collection, &order, &sorting)
        }
    };
    Ok(Document::Listing(listing))
}

/// The binders of these names, or all, in the order in which they stand on the shelf.
fn chosen<'c>(collection: &'c Collection, names: &[String]) -> Result<Vec<&'c Binder>, CliError> {
    if names.is_empty() {
        return Ok(collection.shelf().collect());
    }
    let found = names.iter().map(|name| find(collection, name));
    let found: Vec<&Binder> = found.collect::<Result<_, _>>()?;
    let is_named = |binder: &&Binder| found.iter().any(|other| other.id() == binder.id());
    Ok(collection.shelf().filter(is_named).collect())
}

fn spines(
    args: &LabelArgs,
    collection: &Collection,
    paper: Size,
    fonts: &Fonts<'_>,
) -> Result<Document, CliError> {
    let binders = chosen(collection, &args.binders)?;
    let mut pictures = HashMap::new();
    for word in &args.picture {
        let (id, file) = match word.split_once('=') {
            Some((name, file)) => (find(collection, name)?.id(), file),
            None => match &binders[..] {
                [only] => (only.id(), word.as_str()),
                _ => {
                    return Err(CliError::usage("there are several binders for one picture")
                        .hint("say whose it is: --picture BINDER=FILE"));
                }
            },
        };
        let bytes = read(file.as_ref(), MOST_PICTURE)?;
        let picture = Picture::read(&bytes);
        let picture = picture.map_err(|e| CliError::input(format!("{file}: {e}")))?;
        if let Some(note) = &picture.note {
            say(&format!("{file}: {note}"));
        }
        pictures.insert(id, Arc::new(picture));
    }
    let spine = |binder: &&Binder| Spine {
        picture: pictures.get(&binder.id()).cloned(),
        ..Spine::of(collection, binder)
    };
    let spines: Vec<Spine> = binders.iter().map(spine).collect();
    let usual = LabelLook::on(paper);
    let look = LabelLook {
        spine: args.spine,
        height: args.height.unwrap_or(usual.height),
        margin: args.margin,
        foot: args.foot,
        turn: args.reading,
        ..usual
    };
    let drawn = labels(&spines, &look, fonts).map_err(|e| {
        let error = CliError::usage(&e);
        match e {
            LabelError::TooLarge { .. } => error.hint("larger paper, or --spine and --height"),
            LabelError::Narrow(_) if args.spine.is_none() => {
                error.hint("measure the spine and say how wide it is: --spine 32")
            }
            _ => error,
        }
    })?;
    Ok(Document::Drawing(drawn))
}

fn shopping(
    args: &ShoppingArgs,
    at: &Where,
    collection: &Collection,
    out: &mut Output,
) -> Result<Listing, CliError> {
    let choice = measure::choice(collection, &args.counted)?;
    let list = prices::given(&args.counted.prices, at, out)?.unwrap_or_default();
    let needs = needs(collection, &choice, &list);
    Ok(basket_list(&basket(&needs.needs, &list), &list))
}

fn cards(
    args: &PocketArgs,
    collection: &Collection,
    paper: Size,
    fonts: &Fonts<'_>,
) -> Result<Document, CliError> {
    let size = parse_card(&args.size).map_err(CliError::usage)?;
    let filter = narrowed(collection, &args.narrow)?;
    let gaps = listed(&hand::by_pages(collection, None), Asked::Wants, filter);
    let cards = stand_ins(collection, &gaps, size);
    let drawn = pocket_cards(&cards, paper, fonts).map_err(CliError::usage)?;
    Ok(Document::Drawing(drawn))
}

fn page(
    args: &PageArgs,
    collection: &Collection,
    paper: Option<Size>,
    fonts: &Fonts<'_>,
) -> Result<Document, CliError> {
    let binder = find(collection, &args.binder)?;
    let pages = pages_of(binder);
    let page = args.page - 1;
    let view = match args.side {
        None => PageView::Spread(page),
        Some(side) => PageView::Side(page, side),
    };
    let none = || {
        let name = binder.name();
        CliError::usage(if page < pages {
            "this page is loaded on its front only".into()
        } else {
            format!("there is no page {}: {name} has {pages}", args.page)
        })
    };
    let told = hand::by_pages(collection, Some(binder.id()));
    let stands = told.binder(binder.id()).unwrap_or(binder);
    // Behind the last page one sees its back.
    let drawn = (page < pages)
        .then(|| page_picture(&told, stands, view, paper, fonts))
        .flatten();
    drawn.map(Document::Drawing).ok_or_else(none)
}
