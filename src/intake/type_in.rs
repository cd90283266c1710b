//! Typing in: a real binder is flipped through, and the number of each card is typed as it lies in
//! its pocket. The checklist, the layout and the contents grow together, a step a card.
//!
//! ```text
//!   12            this card lies here
//!   12 reverse    in this finish; of a finish that is known its mark or beginning will do
//!   12 gap        the pocket is empty and kept for this card; 12 gap reverse, 12 reverse gap too
//! ```

mod before;
mod said;

use super::checklist::{Checklist, ChecklistOptions};
use super::row::CardRow;
use super::shelve::BinderOptions;
use crate::model::{
    Binder, BinderId, BinderSpec, Change, Collection, Finish, LayoutPage, Meaning, Page,
    PageFormat, PageId, Place, PrintingId, SetHead, SetId, Step, ensure_finish_name,
};
use crate::text;
use before::before;
pub use before::{as_the_others, next_in_row};
use said::Said;

/// What typing in a card does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TypedIn {
    /// Without changes where all of it is known already.
    pub step: Step,
    /// The number as the checklist has it.
    pub number: Box<str>,
    pub finish: Box<str>,
    /// The card, or its finish, is new in the checklist.
    pub is_new: bool,
    /// A loose copy was taken for it, none came in.
    pub was_loose: bool,
    /// The pocket is empty and kept for the card.
    pub is_gap: bool,
    /// The pocket is meant for another card.
    pub is_misplaced: bool,
    /// What was typed here by mistake before; it lies here no longer, and its copy is gone.
    pub instead_of: Option<String>,
    /// Where the first one lies, of a card that came in once more.
    pub first: Option<Place>,
    /// The cards that the empty pockets before it are kept for now.
    pub kept_before: Vec<Box<str>>,
}

/// A set without cards, and a binder for it with one empty page, to type in from. A set that is there
/// without cards and without a binder gets the binder.
///
/// # Errors
/// The code is missing or taken.
pub fn begin_typing_in(
    collection: &Collection,
    head: &SetHead,
    options: BinderOptions,
) -> Result<Step, String> {
    if head.code.is_empty() {
        return Err("the set needs a code".into());
    }
    let there = collection.set_by_code(&head.code);
    let known = there.filter(|id| {
        let set = collection.set(*id);
        let mut shelf = collection.shelf();
        set.is_some_and(|set| set.cards().is_empty())
            && shelf.all(|binder| binder.spec().set != Some(*id))
    });
    if known != there {
        return Err(format!(
            "a set with the code {} is there already",
            head.code
        ));
    }
    if collection.binder_by_name(&head.code).is_some() {
        return Err(format!("a binder named {} is there already", head.code));
    }
    let at = collection.sets().len();
    let set = known.or_else(|| collection.fresh_sets(at).next());
    let set = set.ok_or("there is no room for one more set")?;
    let binder = collection.fresh_binder();
    let title = match head.title.is_empty() {
        true => head.code.clone(),
        false => head.title.clone(),
    };
    let mut changes = Vec::new();
    if known.is_none() {
        changes.push(Change::AddSet {
            set,
            at,
            head: Box::new(head.clone()),
        });
        // So that a number alone is a regular, also where a reverse lies first.
        changes.push(Change::AddFinish {
            set,
            finish: Box::new(Finish {
                name: "regular".into(),
                mark: "".into(),
            }),
        });
    }
    changes.push(Change::AddBinder {
        binder,
        at: collection.shelf().len(),
        spec: Box::new(BinderSpec {
            name: head.code.clone(),
            title,
            set: Some(set),
            kind: options.kind,
            front_matter: Vec::new(),
        }),
    });
    add_page(
        &mut changes,
        binder,
        0,
        collection.fresh_page(),
        options.format,
    );
    let label = match known {
        Some(_) => format!("a binder for the set {}, to be typed in", head.code),
        None => format!("new set {}, to be typed in", head.code),
    };
    Ok(Step::new(label, changes))
}

fn add_page(
    changes: &mut Vec<Change>,
    binder: BinderId,
    at: usize,
    page: PageId,
    format: PageFormat,
) {
    changes.push(Change::AddPage {
        binder,
        at,
        page,
        format,
    });
    changes.push(Change::AddLayoutPage {
        binder,
        at,
        page: Box::new(LayoutPage::empty(format)),
    });
}

/// What was typed for the card in this pocket, as a step. A page that is not there yet is put in,
/// like the last one.
///
/// # Errors
/// It cannot be taken so, and what would be right.
pub fn type_in(collection: &Collection, place: Place, typed: &str) -> Result<TypedIn, String> {
    let binder = collection.binder(place.binder);
    let binder = binder.ok_or("the binder is gone")?;
    let set = binder.spec().set.ok_or("the binder is for no set")?;
    let said = Said::read(collection, set, typed)?;
    let mut changes = Vec::new();
    let page = pages_up_to(collection, binder, place.page, &mut changes)?;
    let held = collection.pocket(place).held();
    let other = held.filter(|held| Some(*held) != said.known);
    let instead_of = match other {
        Some(other) => Some(leave(
            collection,
            (place, page),
            other,
            &said,
            &mut changes,
        )?),
        None => None,
    };
    let mut put = TypedIn {
        step: Step::default(),
        number: said.number.clone(),
        finish: said.finish.clone(),
        is_new: said.known.is_none(),
        was_loose: false,
        is_gap: said.is_gap,
        is_misplaced: false,
        instead_of,
        first: None,
        kept_before: Vec::new(),
    };
    let here = match other {
        Some(_) => Meaning::Nothing,
        None => collection.meaning(place),
    };
    let is_free = matches!(here, Meaning::Nothing | Meaning::Blank);
    let kept = match is_free {
        true => before(collection, binder, place, &said),
        false => Vec::new(),
    };
    let cards = Grown::of(collection, set, &said, &kept)?;
    changes.extend(cards.changes);
    for ((place, number), printing) in kept.into_iter().zip(cards.kept) {
        changes.push(Change::Mean {
            place,
            old: Meaning::Nothing,
            new: Meaning::Printing(printing),
        });
        put.kept_before.push(number);
    }
    let printing = cards.printing;
    match (here, said.is_gap) {
        (old @ (Meaning::Nothing | Meaning::Blank), _) => changes.push(Change::Mean {
            place,
            old,
            new: Meaning::Printing(printing),
        }),
        (Meaning::Printing(meant), _) if meant == printing => {}
        (Meaning::Printing(_), false) => put.is_misplaced = true,
        (Meaning::Printing(_), true) => {
            return Err("this pocket is kept for another card already".into());
        }
        (Meaning::Keepsake(words), _) => {
            return Err(format!("this pocket has a keepsake: {words}"));
        }
    }
    if !said.is_gap && (held.is_none() || other.is_some()) {
        put.was_loose = said.known.is_some_and(|p| collection.tally(p).loose > 0);
        if !put.was_loose {
            changes.push(Change::Acquire { printing, count: 1 });
            put.first = (said.known).and_then(|p| collection.places_holding(p).next());
        }
        changes.push(Change::Seat {
            place,
            page,
            printing,
        });
    }
    let code = collection.set(set).map_or("", |set| set.code());
    let what = if said.is_gap { "gap for " } else { "" };
    let mut label = format!("typed in: {what}{code} {}", put.words());
    if let Some(other) = &put.instead_of {
        label += &format!(" instead of {other}");
    }
    put.step = Step::new(label, changes);
    Ok(put)
}

/// What was typed in here by mistake leaves, and its copy with it, so that the pocket is free for
/// what is typed now. Gives its words.
///
/// # Errors
/// The card was not typed in here: the pocket is meant for another; or the card that is typed now
/// has its pocket elsewhere.
fn leave(
    collection: &Collection,
    (place, page): (Place, PageId),
    held: PrintingId,
    said: &Said,
    changes: &mut Vec<Change>,
) -> Result<String, String> {
    let words = said::words_of(collection, held);
    let is_meant = collection.meaning(place) == Meaning::Printing(held);
    let has_pocket = said.known.is_some_and(|of| collection.tally(of).meant > 0);
    if said.is_gap || !is_meant || has_pocket {
        return Err(format!(
            "{words} lies in this pocket already: take it out first"
        ));
    }
    changes.extend([
        Change::Lift {
            place,
            page,
            printing: held,
        },
        Change::PartWith {
            printing: held,
            count: 1,
        },
        Change::Mean {
            place,
            old: Meaning::Printing(held),
            new: Meaning::Nothing,
        },
    ]);
    Ok(words)
}

impl TypedIn {
    /// Number and finish, as far as that need be said.
    #[must_use]
    pub fn words(&self) -> String {
        said::words(&self.number, &self.finish)
    }
}

/// The page in which the card lies; pages that are not there yet come in with it.
fn pages_up_to(
    collection: &Collection,
    binder: &Binder,
    page: usize,
    changes: &mut Vec<Change>,
) -> Result<PageId, String> {
    let apart = "the pages do not stand as the layout has them: work off the work sheet first";
    if let Some(real) = binder.pages().get(page) {
        return match binder.comparable(page) {
            true => Ok(real.id()),
            false => Err(apart.into()),
        };
    }
    let there = binder.pages().len();
    if binder.layout().pages.len() != there {
        return Err(apart.into());
    }
    let last = binder.pages().last().map(Page::format);
    let format = last.unwrap_or_else(crate::layout::default_format);
    let mut id = collection.fresh_page();
    for (at, fresh) in (there..=page).zip(collection.fresh_pages()) {
        id = fresh;
        add_page(changes, binder.id(), at, id, format);
    }
    Ok(id)
}

/// The checklist as it grows by a card and by those that are kept room for before it.
struct Grown {
    changes: Vec<Change>,
    printing: PrintingId,
    kept: Vec<PrintingId>,
}

impl Grown {
    fn of(
        collection: &Collection,
        id: SetId,
        said: &Said,
        kept: &[(Place, Box<str>)],
    ) -> Result<Self, String> {
        let set = collection.set(id).ok_or("the set is gone")?;
        let numbers = || kept.iter().map(|(_, number)| number).chain([&said.number]);
        let mut checklist = Checklist::new(collection, ChecklistOptions::default());
        ensure_finish_name(&said.finish).map_err(|refused| refused.to_string())?;
        for (line, number) in (1..).zip(numbers()) {
            let row = CardRow {
                line,
                set: set.code(),
                number,
                finishes: &said.finish,
                ..CardRow::default()
            };
            checklist.row(row).map_err(|bad| bad.why)?;
        }
        let changes = checklist.finish().step.changes;
        let mut finishes: Vec<&str> = set.finishes().iter().map(|f| &*f.name).collect();
        let mut fresh: Vec<&str> = Vec::new();
        for change in &changes {
            match change {
                Change::AddFinish { finish, .. } => finishes.push(&finish.name),
                Change::AddCards { cards, .. } => {
                    fresh.extend(cards.iter().map(|card| &*card.number));
                }
                _ => {}
            }
        }
        let finish = finishes.iter().position(|name| *name == &*said.finish);
        let finish = finish.ok_or("the finish is not known")? as u8;
        let first = set.cards().len() as u32;
        let printings: Option<Vec<_>> = numbers()
            .map(|number| {
                let card = set.card_by_number(number).or_else(|| {
                    let at = fresh.iter().position(|fresh| *fresh == &**number)?;
                    Some(first + at as u32)
                })?;
                Some(PrintingId::new(id, card, finish))
            })
            .collect();
        let mut kept = printings.ok_or("the card is not known")?;
        let printing = kept.pop().ok_or("the card is not known")?;
        Ok(Self {
            changes,
            printing,
            kept,
        })
    }
}

/// The numbers in few words: `13 to 15`.
#[must_use]
pub fn in_few_words(numbers: &[Box<str>]) -> String {
    match numbers {
        [] => String::new(),
        [one] => text::safe(one).into_owned(),
        [first, .., last] => format!("{} to {}", text::safe(first), text::safe(last)),
    }
}

#[cfg(test)]
mod tests;
