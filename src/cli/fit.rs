//! `fit`: does each binder close over its pages, and do the cards fit the pockets.

mod answer;
mod details;

use super::args::FitArgs;
use super::error::CliError;
use super::measure;
use super::named;
use super::open::Where;
use super::output::Output;
use super::table::{Align, Table};
use crate::model::{Binder, BinderKind, Collection};
use crate::supplies::{
    Care, Fit, LayoutOf, Misfit, Rings, Sleeve, Splits, Thickness, WEAK, care, fit, fit_together,
    millimetres_in_column, misfits, splits,
};

/// One binder, and what was found.
struct Looked<'c> {
    binder: &'c Binder,
    of: LayoutOf,
    fit: Fit,
    splits: Splits,
    misfits: Vec<Misfit>,
}

/// How it is looked at.
struct Look {
    thickness: Thickness,
    sleeve: Sleeve,
    rings: Option<Rings>,
    usable: Option<u32>,
}

pub(super) fn run(args: &FitArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let look = look(args)?;
    let session = at.read(out)?;
    let collection = session.collection();
    let drafts = measure::drafts(collection, &args.draft)?;
    let of = |binder: &Binder| {
        let draft = drafts.iter().find(|(id, _)| *id == binder.id());
        match draft {
            Some((_, at)) => LayoutOf::Draft(*at),
            None if args.contents => LayoutOf::Contents,
            None => LayoutOf::InForce,
        }
    };
    let binders: Vec<&Binder> = if args.binder.is_empty() {
        collection.shelf().collect()
    } else {
        let named = args.binder.iter();
        named
            .map(|name| named::binder(collection, name))
            .collect::<Result<_, _>>()?
    };
    if let Some((id, _)) = drafts
        .iter()
        .find(|(id, _)| !binders.iter().any(|b| b.id() == *id))
    {
        let name = collection.binder(*id).map_or("", Binder::name);
        return Err(CliError::usage(format!(
            "--draft names binder {name}, which is not looked at"
        )));
    }
    let together = args.together.then(|| {
        let all: Vec<_> = binders.iter().map(|binder| (*binder, of(binder))).collect();
        fit_together(&all, look.thickness, look.rings, look.usable)
    });
    let looked: Vec<Looked> = (binders.iter())
        .map(|binder| see(collection, binder, of(binder), &look))
        .collect();
    if out.is_json() {
        return out.json(&answer::Answer::new(
            collection,
            &looked,
            together.as_ref(),
            &look,
        ));
    }
    if let Some(together) = together {
        return details::together(&binders, &together, &look, out);
    }
    match &looked[..] {
        [] => out.prose("The shelf is empty."),
        [only] if !args.binder.is_empty() => details::one(collection, only, &look, out),
        _ => table(&looked, &look, out),
    }
}

fn look(args: &FitArgs) -> Result<Look, CliError> {
    let thickness = measure::thickness(&args.measure)?;
    let mut sleeve = Sleeve::usual(thickness.sleeves);
    if let Some(adds) = &args.sleeve_adds {
        let tenths =
            crate::text::parse_tenths(adds.trim()).and_then(|tenths| tenths.try_into().ok());
        sleeve.adds = tenths.ok_or_else(|| {
            CliError::usage(format!(
                "--sleeve-adds {adds} is no length; write millimetres as 2 or 2.5"
            ))
        })?;
    }
    let rings = args.rings.as_deref().map(Rings::parse).transpose();
    let usable = args.depth.as_deref();
    Ok(Look {
        thickness,
        sleeve,
        rings: rings.map_err(CliError::usage)?,
        usable: usable
            .map(|depth| measure::length("--depth", depth, 1_000))
            .transpose()?,
    })
}

fn see<'c>(
    collection: &'c Collection,
    binder: &'c Binder,
    of: LayoutOf,
    look: &Look,
) -> Looked<'c> {
    let fit = match look.rings.filter(|_| binder.spec().kind.pages_move()) {
        Some(rings) => fit_together(&[(binder, of)], look.thickness, Some(rings), look.usable),
        None => fit(binder, of, look.thickness, look.usable),
    };
    let room = fit.room.filter(|room| fit.thickness > room.sure);
    let divided = room.map(|room| {
        // The smaller part goes into the second binder, page by page.
        let pages = fit.pages;
        let over = |at: usize| at.min(pages - at) as u64;
        splits(collection, binder, of, look.thickness, room.sure, over)
    });
    Looked {
        binder,
        of,
        fit,
        splits: divided.unwrap_or_default(),
        misfits: misfits(collection, binder, of, look.sleeve),
    }
}

/// What is looked at, in words: nothing for the layout in force.
fn of_words(binder: &Binder, of: LayoutOf) -> String {
    match of {
        LayoutOf::InForce => String::new(),
        LayoutOf::Contents => "what lies in it".into(),
        LayoutOf::Draft(at) => {
            let draft = binder.drafts().get(at);
            draft.map_or_else(String::new, |draft| format!("draft {}", draft.name))
        }
    }
}

fn table(looked: &[Looked<'_>], look: &Look, out: &mut Output) -> Result<(), CliError> {
    let mut table = Table::new(&[
        ("binder", Align::Left),
        ("counted by", Align::Left),
        ("pages", Align::Right),
        ("mm", Align::Right),
        ("rings", Align::Left),
        ("hold mm", Align::Right),
        ("at most", Align::Right),
        ("does it close", Align::Left),
        ("cards that fit badly", Align::Right),
    ]);
    for seen in looked {
        let fit = &seen.fit;
        let (sure, most) = fit.room.map_or_else(Default::default, |room| {
            (
                millimetres_in_column(room.sure),
                millimetres_in_column(room.most),
            )
        });
        let rings = match seen.binder.spec().kind {
            BinderKind::Fixed => String::new(),
            BinderKind::Rings { .. } => fit.rings.map_or_else(|| "?".into(), Rings::word),
        };
        let badly: usize = seen.misfits.iter().map(|misfit| misfit.pockets).sum();
        table.row([
            seen.binder.name().to_owned(),
            match seen.of {
                LayoutOf::InForce => "its layout".into(),
                of => of_words(seen.binder, of),
            },
            fit.pages.to_string(),
            millimetres_in_column(fit.thickness),
            rings,
            sure,
            most,
            fit.verdict.word(),
            if badly == 0 {
                String::new()
            } else {
                badly.to_string()
            },
        ]);
    }
    table.print(out)?;
    out.apart()?;
    out.prose(&format!(
        "With every card in its pocket and {}. {WEAK}",
        look.thickness.sleeves.told()
    ))?;
    out.prose("ringbound fit BINDER tells more of one: where to split it, which cards fit badly.")?;
    out.prose(care(Care::Shelf))
}
