//! Drafts are begun, copied, named, adopted and thrown away.

use std::collections::HashSet;

use super::Cannot;
use super::ground::{Ground, meant_elsewhere, quoted};
use crate::model::{
    BinderId, Change, Collection, Draft, Layout, LayoutPage, Page, PageFormat, PrintingId, Step,
    limits,
};

/// A draft that begins as the binder's layout; or `empty`, with the pages that the binder has,
/// none of which is meant for anything.
///
/// # Errors
/// The name is missing or taken.
pub fn begin_draft(
    collection: &Collection,
    binder: BinderId,
    name: &str,
    empty: bool,
) -> Result<Step, Cannot> {
    let real = Ground::real(binder);
    let layout = if empty {
        let mut formats = real.formats(collection);
        let to_come = real.layout(collection)?.pages.iter().skip(formats.len());
        formats.extend(to_come.map(LayoutPage::format));
        Layout::of_pages(formats.into_iter().map(LayoutPage::empty).collect())
    } else {
        real.layout(collection)?.clone()
    };
    begun(collection, binder, name, layout, |name| {
        format!("draft begun: {}", quoted(name))
    })
}

/// A draft that begins as another.
///
/// # Errors
/// The name is missing or taken, or the draft is gone.
pub fn copy_draft(collection: &Collection, ground: Ground, name: &str) -> Result<Step, Cannot> {
    let (_, draft) = of(collection, ground)?;
    let (layout, old) = (draft.layout.clone(), &draft.name);
    begun(collection, ground.binder, name, layout, |name| {
        format!("draft copied: {} as {}", quoted(old), quoted(name))
    })
}

fn begun(
    collection: &Collection,
    id: BinderId,
    name: &str,
    layout: Layout,
    words: impl Fn(&str) -> String,
) -> Result<Step, Cannot> {
    let binder = Ground::real(id).binder(collection)?;
    let name = fresh_name(binder.drafts(), name)?;
    let add = Change::AddDraft {
        binder: id,
        at: binder.drafts().len(),
        draft: Box::new(Draft {
            name: name.into(),
            layout,
        }),
    };
    Ok(Step::new(words(name), vec![add]))
}

/// Cards of a binder that a draft of it would leave without a pocket: those that lie in it or are
/// meant to, and that neither the draft nor the layout of another binder has. Each printing counts
/// once.
#[must_use]
pub fn left_without(collection: &Collection, ground: Ground) -> usize {
    let (Ok((_, draft)), Ok(binder)) = (of(collection, ground), ground.binder(collection)) else {
        return 0;
    };
    let meant = |layout: &Layout| -> HashSet<PrintingId> {
        let pages = layout.pages.iter();
        let printings = pages.flat_map(|page| page.printings().map(|(_, printing)| printing));
        printings.collect()
    };
    let kept = meant(&draft.layout);
    let mut now = meant(binder.layout());
    now.extend(binder.pages().iter().flat_map(Page::cards).flatten());
    let elsewhere = meant_elsewhere(collection, binder);
    let without = now.difference(&kept);
    without.filter(|printing| !elsewhere(**printing)).count()
}

pub(super) fn fresh_name<'n>(drafts: &[Draft], name: &'n str) -> Result<&'n str, Cannot> {
    let name = name.trim();
    if name.is_empty() {
        return Err(Cannot::DraftNeedsName);
    }
    if name.len() > limits::TEXT {
        return Err(Cannot::NameTooLong);
    }
    if drafts.iter().any(|draft| &*draft.name == name) {
        return Err(Cannot::DraftNameTaken);
    }
    Ok(name)
}

fn of(collection: &Collection, ground: Ground) -> Result<(usize, &Draft), Cannot> {
    let at = ground.draft.ok_or(Cannot::IsReal)?;
    let binder = ground.binder(collection)?;
    let draft = binder.drafts().get(at).ok_or(Cannot::DraftGone)?;
    Ok((at, draft))
}

/// The draft is called something else.
///
/// # Errors
/// The draft is gone, or the name is missing or taken.
pub fn rename_draft(collection: &Collection, ground: Ground, name: &str) -> Result<Step, Cannot> {
    let (at, draft) = of(collection, ground)?;
    let name = fresh_name(ground.binder(collection)?.drafts(), name)?;
    let rename = Change::RenameDraft {
        binder: ground.binder,
        at,
        old: draft.name.clone(),
        new: name.into(),
    };
    Ok(Step::new(
        format!(
            "draft renamed: {} is {} now",
            quoted(&draft.name),
            quoted(name)
        ),
        vec![rename],
    ))
}

/// The draft is thrown away.
///
/// # Errors
/// The draft is gone.
pub fn drop_draft(collection: &Collection, ground: Ground) -> Result<Step, Cannot> {
    let (at, draft) = of(collection, ground)?;
    let drop = Change::DropDraft {
        binder: ground.binder,
        at,
        draft: Box::new(draft.clone()),
    };
    Ok(Step::new(
        format!("draft thrown away: {}", quoted(&draft.name)),
        vec![drop],
    ))
}

/// The draft comes into force; the contents follow as the work is done. The layout that was in
/// force is not kept: undo brings it back.
///
/// # Errors
/// The draft is gone, or has other pages than a binder in which they are fixed.
pub fn adopt(collection: &Collection, ground: Ground) -> Result<Step, Cannot> {
    let (at, draft) = of(collection, ground)?;
    let binder = ground.binder(collection)?;
    let real = Ground::real(ground.binder).formats(collection);
    let fits = |(at, page): (usize, &LayoutPage)| {
        let real: Option<&PageFormat> = real.get(at);
        real.is_some_and(|real| real.same_grid(&page.format()))
    };
    let mut pages = draft.layout.pages.iter().enumerate();
    if !binder.spec().kind.pages_move() && !pages.all(fits) {
        return Err(Cannot::FixedOtherPages);
    }
    let before = Draft {
        name: draft.name.clone(),
        layout: binder.layout().clone(),
    };
    let changes = vec![
        Change::SwapLayout {
            binder: ground.binder,
            at,
        },
        Change::DropDraft {
            binder: ground.binder,
            at,
            draft: Box::new(before),
        },
    ];
    let words = format!("draft adopted: {}", quoted(&draft.name));
    Ok(Step::new(words, changes))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hand::fill;
    use crate::model::{
        BinderKind, BinderSpec, Builder, Card, Finish, Meaning, SetHead, SetId, SetParts,
    };

    /// A set of so many cards, all of which the first binder is meant for but the last, and the
    /// second for the first card only. Its draft is empty, as is a page at the end of its layout.
    fn shelf(cards: u32) -> Collection {
        let mut builder = Builder::new();
        let card = |number: u32| Card {
            number: number.to_string().into(),
            name: "".into(),
            rarity: None,
            size: None,
            finishes: 1,
        };
        let parts = SetParts {
            head: SetHead {
                code: "FEN".into(),
                ..SetHead::default()
            },
            finishes: vec![Finish {
                name: "regular".into(),
                mark: "".into(),
            }],
            rarities: Vec::new(),
            cards: (1..=cards).map(card).collect(),
        };
        let set = Some(builder.set(parts).unwrap());
        let format = PageFormat::new(20, 20, 2);
        let all: Vec<u32> = (0..cards - 1).collect();
        let page = |cards: &[u32]| {
            let mut page = LayoutPage::empty(format);
            for (pocket, card) in cards.iter().enumerate() {
                let printing = PrintingId::new(SetId(0), *card, 0);
                page.set_meaning(pocket, Meaning::Printing(printing));
            }
            page
        };
        let first = all.chunks(format.pockets()).map(page).collect();
        for (id, pages) in [(1, first), (2, vec![page(&[0]), page(&[])])] {
            let spec = BinderSpec {
                name: format!("b{id}").into(),
                title: "".into(),
                set,
                kind: BinderKind::RINGS,
                front_matter: Vec::new(),
            };
            let layout = Layout::of_pages(pages);
            builder
                .binder(BinderId(id), spec, Vec::new(), layout)
                .unwrap();
            let draft = Draft {
                name: "empty".into(),
                layout: Layout::of_pages(vec![page(&[])]),
            };
            builder.draft(BinderId(id), draft).unwrap();
        }
        builder.finish().unwrap()
    }

    fn draft_of(binder: u32) -> Ground {
        Ground {
            binder: BinderId(binder),
            draft: Some(0),
        }
    }

    /// More cards and pockets than could be gone through for one another.
    #[test]
    fn what_an_empty_draft_leaves_without_is_counted_and_not_looked_for_pocket_by_pocket() {
        let cards = 60_000;
        let shelf = shelf(cards);
        // All that the first has but the one that the second has too.
        assert_eq!(left_without(&shelf, draft_of(1)), cards as usize - 2);
        assert_eq!(left_without(&shelf, draft_of(2)), 0);
        let place = draft_of(2).place(0, 0);
        let filled = fill(&shelf, draft_of(2), place).unwrap();
        assert_eq!(filled.words, "from here on a pocket for 1 card");
    }
}
