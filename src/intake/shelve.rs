//! Where new cards get their pockets: a binder for each new set, pages at the end for a known one.

mod room;

use std::collections::HashSet;

use compact_str::CompactString;

use super::row::Intake;
use crate::layout::{by_finish, default_format, run, split_by_finish};
use crate::model::{
    Binder, BinderId, BinderKind, BinderSpec, Change, Collection, LayoutPage, PageFormat, PageId,
    PrintingId, Refused, SetHead, SetId,
};
use crate::text;

/// The binder that a new set gets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BinderOptions {
    pub format: PageFormat,
    pub kind: BinderKind,
}

/// A set whose changes are made, with the printings that are new in it.
#[derive(Debug)]
pub(super) struct ToShelve {
    pub(super) is_new: bool,
    pub(super) head: SetHead,
    /// With their numbers, in the order of the checklist; none where no binder is asked for.
    pub(super) printings: Vec<(CompactString, PrintingId)>,
}

/// Makes binders and pages, and keeps count of the ids and places that are given out.
pub(super) struct Shelver<'a> {
    collection: &'a Collection,
    binders: Box<dyn Iterator<Item = BinderId> + 'a>,
    pages: Box<dyn Iterator<Item = PageId> + 'a>,
    shelf: usize,
    /// Names of binders, in small letters: those of the shelf, and those given out.
    names: HashSet<String>,
}

impl<'a> Shelver<'a> {
    pub(super) fn new(collection: &'a Collection) -> Self {
        Self {
            collection,
            binders: Box::new(collection.fresh_binders()),
            pages: Box::new(collection.fresh_pages()),
            shelf: collection.shelf().len(),
            names: (collection.shelf())
                .map(|binder| binder.name().to_lowercase())
                .collect(),
        }
    }

    /// Gives every new printing of the set a pocket, as far as `options` want binders.
    pub(super) fn shelve(
        &mut self,
        id: SetId,
        ready: &ToShelve,
        options: Option<BinderOptions>,
        intake: &mut Intake,
    ) {
        let Some(options) = options.filter(|_| !ready.printings.is_empty()) else {
            return;
        };
        if ready.is_new {
            self.new_binder(id, ready, options, intake);
        } else if let Some(binder) = self.binder_for(id) {
            self.extend(binder, ready, intake);
        } else {
            intake.notes.push(format!(
                "{} has no binder; its {} no pocket yet",
                ready.head.code,
                new_printings(ready.printings.len())
            ));
        }
    }

    fn new_binder(
        &mut self,
        id: SetId,
        ready: &ToShelve,
        options: BinderOptions,
        intake: &mut Intake,
    ) {
        let Some(binder) = self.binders.next() else {
            return;
        };
        let name = self.free_name(&ready.head.code);
        let title = if ready.head.title.is_empty() {
            &ready.head.code
        } else {
            &ready.head.title
        };
        intake.step.changes.push(Change::AddBinder {
            binder,
            at: self.shelf,
            spec: Box::new(BinderSpec {
                name,
                title: title.clone(),
                set: Some(id),
                kind: options.kind,
                front_matter: Vec::new(),
            }),
        });
        self.shelf += 1;
        intake.added.binders += 1;
        let pages = by_finish(numbered(&ready.printings), options.format);
        self.add_pages(binder, 0, Some(0), pages, intake);
    }

    /// The binder that is for the set, else the last one that has to do with it.
    fn binder_for(&self, id: SetId) -> Option<&'a Binder> {
        let set = self.collection.set(id);
        let within = |binder: &Binder| set.is_some_and(|set| set.is_in(binder.id()));
        let last = |own: bool| {
            let mut from_the_end = self.collection.shelf().rev();
            from_the_end.find(|binder| match own {
                true => binder.spec().set == Some(id),
                false => within(binder),
            })
        };
        last(true).or_else(|| last(false))
    }

    /// Room on the last page of each finish's run is used first, then new pages at the end.
    fn extend(&mut self, binder: &Binder, ready: &ToShelve, intake: &mut Intake) {
        let changes = intake.step.changes.len();
        let mut pages: Vec<LayoutPage> = Vec::new();
        let mut unplaced = 0;
        for mut left in split_by_finish(numbered(&ready.printings)).into_values() {
            let Some(first) = left.first().copied() else {
                continue;
            };
            let last_page = room::last_page_of(binder, first);
            if let Some(page) = last_page {
                left = room::fill(binder, page, left, intake);
            }
            if binder.spec().kind == BinderKind::Fixed {
                unplaced += left.len();
                continue;
            }
            let meant = &binder.layout().pages;
            let like = last_page.map(|page| &meant[page]).or(meant.last());
            let format = like.map_or_else(default_format, LayoutPage::format);
            pages.extend(run(format, &left));
        }
        if unplaced > 0 {
            intake.notes.push(format!(
                "the pages of binder {} are fixed and there is no room in its runs; \
                 {} no pocket yet",
                binder.name(),
                new_printings(unplaced)
            ));
        }
        let meant = binder.layout().pages.len();
        let real = (binder.pages().len() == meant).then_some(meant);
        let added = pages.len();
        self.add_pages(binder.id(), meant, real, pages, intake);
        if intake.step.changes.len() > changes {
            intake.notes.push(match (added, real) {
                (0, _) => format!("binder {}: new cards in room that was free", binder.name()),
                (_, Some(_)) => format!(
                    "binder {}: {} added at the end",
                    binder.name(),
                    text::count(added as u64, "page", "pages")
                ),
                (_, None) => format!(
                    "binder {}: {} added at the end of its layout only, since its pages are not \
                     yet as the layout has them",
                    binder.name(),
                    text::count(added as u64, "page", "pages")
                ),
            });
        }
    }

    /// Pages of a layout from place `meant` on, and empty physical ones alike from place `real` on.
    fn add_pages(
        &mut self,
        binder: BinderId,
        meant: usize,
        real: Option<usize>,
        pages: Vec<LayoutPage>,
        intake: &mut Intake,
    ) {
        for (offset, page) in pages.into_iter().enumerate() {
            let fresh = real.and_then(|real| Some((real + offset, self.pages.next()?)));
            if let Some((at, fresh)) = fresh {
                intake.step.changes.push(Change::AddPage {
                    binder,
                    at,
                    page: fresh,
                    format: page.format(),
                });
                intake.added.pages += 1;
            }
            intake.step.changes.push(Change::AddLayoutPage {
                binder,
                at: meant + offset,
                page: Box::new(page),
            });
        }
    }

    /// The code, with a number behind it where a binder has that name.
    fn free_name(&mut self, code: &str) -> Box<str> {
        let numbered = (2..).map(|n: u32| format!("{code}-{n}"));
        let mut names = std::iter::once(code.to_owned()).chain(numbered);
        let name = names.find(|name| self.names.insert(name.to_lowercase()));
        name.unwrap_or_default().into()
    }
}

/// A binder of its own for a set that is there without one, with a pocket for each card that is
/// collected and has none yet. Copies that are loose wait for their pockets then.
///
/// # Errors
/// The set is gone, or a binder is for it already, or each of its cards has a pocket elsewhere.
pub fn binder_for_set(
    collection: &Collection,
    id: SetId,
    options: BinderOptions,
) -> Result<Intake, Refused> {
    let set = collection.set(id).ok_or(Refused::NoSuchSet(id))?;
    let code = set.code();
    if let Some(binder) = collection.shelf().find(|b| b.spec().set == Some(id)) {
        let name = binder.called();
        return Err(Refused::Unfit(format!(
            "the set {code} has a binder, {name}"
        )));
    }
    let lacking = set.printings(id).filter(|printing| {
        !set.is_left_out(printing.finish()) && collection.tally(*printing).meant == 0
    });
    let numbered = lacking.filter_map(|printing| {
        let card = set.card(printing.card())?;
        Some((card.number.clone(), printing))
    });
    let ready = ToShelve {
        is_new: true,
        head: set.head().clone(),
        printings: numbered.collect(),
    };
    if ready.printings.is_empty() {
        let why = format!("each card of the set {code} has a pocket already");
        return Err(Refused::Unfit(why));
    }
    let mut intake = Intake::default();
    Shelver::new(collection).shelve(id, &ready, Some(options), &mut intake);
    let pages = text::count(intake.added.pages as u64, "page", "pages");
    intake.step.label = format!("a binder of {pages} for the set {code}");
    Ok(intake)
}

fn new_printings(many: usize) -> String {
    text::count(many as u64, "new printing has", "new printings have")
}

fn numbered(printings: &[(CompactString, PrintingId)]) -> Vec<(&str, PrintingId)> {
    let pairs = printings.iter();
    pairs
        .map(|(number, printing)| (number.as_str(), *printing))
        .collect()
}
