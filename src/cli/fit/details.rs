//! All that can be said of one binder.

use super::{Look, Looked, of_words};
use crate::cli::error::CliError;
use crate::cli::output::Output;
use crate::cli::words::count;
use crate::model::{Binder, Collection, Opening, Page};
use crate::supplies::{
    Care, Fit, LayoutOf, SleeveOpening, Sleeves, Verdict, WEAK, binders, care, formats, grams,
    millimetres, opening_words, pockets_words, shares, sheet_words, sleeve_words,
};

/// What a card weighs is reckoned at this many grams a square metre. Common practice, no source.
const GRAMMAGE: u32 = 300;

pub(super) fn together(
    binders: &[&Binder],
    fit: &Fit,
    look: &Look,
    out: &mut Output,
) -> Result<(), CliError> {
    let names: Vec<_> = binders.iter().map(|binder| binder.name()).collect();
    out.prose(&format!(
        "{} in one binder: {}, {} mm with {}.",
        names.join(", "),
        count(fit.pages as u64, "page", "pages"),
        millimetres(fit.thickness),
        look.thickness.sleeves.told()
    ))?;
    closes(fit, look, out)?;
    out.prose(care(Care::Shelf))
}

pub(super) fn one(
    collection: &Collection,
    seen: &Looked<'_>,
    look: &Look,
    out: &mut Output,
) -> Result<(), CliError> {
    let (binder, fit) = (seen.binder, &seen.fit);
    let of = match of_words(binder, seen.of) {
        of if of.is_empty() => of,
        of => format!(" ({of})"),
    };
    out.prose(&format!(
        "{}{of}: {}, {} mm with {}.",
        binder.name(),
        count(fit.pages as u64, "page", "pages"),
        millimetres(fit.thickness),
        look.thickness.sleeves.told()
    ))?;
    closes(fit, look, out)?;
    divided(seen, look, out)?;
    sets(collection, binder, seen.of, out)?;
    pockets(seen, look, out)?;
    weight(binder, seen.of, look, out)
}

fn closes(fit: &Fit, look: &Look, out: &mut Output) -> Result<(), CliError> {
    if let Some(words) = fit.room_words() {
        out.prose(&format!("{words}."))?;
    }
    let wants = |so: &str| format!("{so} {}.", fit.sure_words());
    match fit.verdict {
        Verdict::Closes => out.prose("It closes, and the pages turn.")?,
        Verdict::Tight => out.prose(&wants("It may close, and be hard to turn."))?,
        Verdict::DoesNotClose => out.prose(&wants("It does not close."))?,
        Verdict::Unknown => {
            out.prose(&wants("The size of its rings is not known."))?;
            out.prose("Say it with: ringbound rings BINDER 40 D")?;
        }
        Verdict::Fixed | Verdict::FixedLacks(_) => {
            out.prose(&format!("{}.", fit.fixed_words().unwrap_or_default()))?;
        }
    }
    match fit.verdict {
        Verdict::Fixed | Verdict::FixedLacks(_) => {}
        verdict => {
            // What was measured is no estimate.
            if look.usable.is_none() {
                out.prose(WEAK)?;
            }
            if verdict != Verdict::Closes {
                out.prose(care(Care::Full))?;
            }
        }
    }
    Ok(())
}

fn divided(seen: &Looked<'_>, look: &Look, out: &mut Output) -> Result<(), CliError> {
    let splits = &seen.splits;
    let Some(balanced) = splits.balanced else {
        if seen.fit.verdict == Verdict::DoesNotClose {
            let room = seen.fit.room.map_or(0, |room| room.sure);
            let many = binders(seen.binder, seen.of, look.thickness, room);
            out.prose(&format!("It takes {many} such binders."))?;
        }
        return Ok(());
    };
    out.apart()?;
    out.prose("Over two such binders:")?;
    let pages = seen.fit.pages;
    if let Some(at_section) = splits.at_section.filter(|split| *split != balanced) {
        let words = at_section.words(pages);
        out.line(&format!("  where a section ends  {words}"))?;
    }
    let ends = if balanced.ends_section {
        ", where a section ends"
    } else {
        ""
    };
    out.line(&format!(
        "  as equal as can be    {}{ends}",
        balanced.words(pages)
    ))?;
    if let Some(least) = splits.least_handling.filter(|split| *split != balanced) {
        let over = count(least.handling, "page goes", "pages go");
        out.line(&format!(
            "  the least handling    {}; {over} over",
            least.words(pages)
        ))?;
    }
    Ok(())
}

/// Where several live in it.
fn sets(
    collection: &Collection,
    binder: &Binder,
    of: LayoutOf,
    out: &mut Output,
) -> Result<(), CliError> {
    let shares = shares(binder, of);
    if shares.len() < 2 {
        return Ok(());
    }
    out.apart()?;
    out.prose("In it live:")?;
    for share in shares {
        let code = collection.set(share.set).map_or("", |set| set.code());
        out.line(&format!(
            "  {code}: {} on {}",
            count(share.pockets as u64, "pocket", "pockets"),
            count(share.pages as u64, "page", "pages")
        ))?;
    }
    Ok(())
}

fn pockets(seen: &Looked<'_>, look: &Look, out: &mut Output) -> Result<(), CliError> {
    let formats = formats(seen.binder, seen.of);
    out.apart()?;
    for words in pockets_words(&formats, &seen.misfits) {
        out.prose(&format!("{words}."))?;
    }
    for format in &formats {
        if let Some(words) = sheet_words(*format) {
            out.prose(&words)?;
        }
    }
    for opening in [Opening::Top, Opening::Side] {
        if formats.iter().any(|format| format.opening == opening) {
            out.prose(opening_words(opening))?;
            let sleeves = look.thickness.sleeves;
            if sleeves != Sleeves::Bare {
                out.line(&format!(
                    "  {}",
                    sleeve_words(opening, SleeveOpening::Top, sleeves)
                ))?;
            }
        }
    }
    out.prose(care(Care::Plastic))
}

fn weight(binder: &Binder, of: LayoutOf, look: &Look, out: &mut Output) -> Result<(), CliError> {
    let cards: u64 = match of {
        LayoutOf::Contents => {
            let cards = binder.pages().iter().flat_map(Page::cards);
            cards.flatten().count() as u64
        }
        _ => {
            let pages = of.layout(binder).pages.iter();
            pages.map(|page| page.printings().count() as u64).sum()
        }
    };
    let usual = look.sleeve.usual;
    let grams = grams(usual.width, usual.height, GRAMMAGE, cards);
    out.apart()?;
    let weight = match grams {
        0..1_000 => format!("{grams} g"),
        grams => format!("{}.{} kg", grams / 1_000, grams % 1_000 / 100),
    };
    out.prose(&format!(
        "Its {} about {weight} (at {GRAMMAGE} g a square metre), pages and binder not counted.",
        count(cards, "card weighs", "cards weigh")
    ))?;
    out.prose(care(Care::Shelf))?;
    out.prose(care(Care::Room))
}
