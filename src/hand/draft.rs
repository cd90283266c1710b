//! Drafts are begun, copied, named, adopted and thrown away.

use std::collections::HashSet;

use super::Cannot;
use super::ground::{Ground, quoted};
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
    let elsewhere = |printing: PrintingId| {
        let mut places = collection.places_meant(printing);
        places.any(|place| place.binder != ground.binder)
    };
    let without = now.difference(&kept);
    without.filter(|printing| !elsewhere(**printing)).count()
}

pub(super) fn fresh_name<'n>(drafts: &[Draft], name: &'n str) -> Result<&'n str, Cannot> {
    let name = name.trim();
    if name.is_empty() {
        return Err("the draft needs a name");
    }
    if name.len() > limits::TEXT {
        return Err("this is too long for a name");
    }
    if drafts.iter().any(|draft| &*draft.name == name) {
        return Err("a draft of this name is there already");
    }
    Ok(name)
}

fn of(collection: &Collection, ground: Ground) -> Result<(usize, &Draft), Cannot> {
    let at = ground.draft.ok_or("this is the real binder")?;
    let binder = ground.binder(collection)?;
    let draft = binder.drafts().get(at).ok_or("the draft is gone")?;
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
        return Err("the pages of this binder are fixed, and the draft has others");
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
