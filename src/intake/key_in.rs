//! Keying in: a real binder is flipped through, and the number of each card is typed as it lies in
//! its pocket. The checklist, the layout and the contents grow together, a step a card.
//!
//! ```text
//!   12            this card lies here
//!   12 reverse    in this finish; of a finish that is known its mark or beginning will do
//!   12 gap        the pocket is empty and kept for this card
//! ```

use super::checklist::{Checklist, ChecklistOptions};
use super::pile::read_line;
use super::row::CardRow;
use super::shelve::BinderOptions;
use crate::model::{
    Binder, BinderId, BinderSpec, Change, Collection, LayoutPage, Meaning, Page, PageFormat,
    PageId, Place, PocketState, PrintingId, SetHead, SetId, Step,
};
use crate::text;

/// So many empty pockets before a card are looked back over.
const LOOKED_BACK: usize = 80;

/// What keying in a card does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeyedIn {
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
    /// The cards that the empty pockets before it are kept for now.
    pub kept_before: Vec<Box<str>>,
}

/// A set without cards, and a binder for it with one empty page, to key in from.
///
/// # Errors
/// The code is missing or taken.
pub fn begin_keying_in(
    collection: &Collection,
    head: &SetHead,
    options: BinderOptions,
) -> Result<Step, String> {
    if head.code.is_empty() {
        return Err("the set needs a code".into());
    }
    if collection.set_by_code(&head.code).is_some() {
        return Err(format!(
            "a set with the code {} is there already",
            head.code
        ));
    }
    if collection.binder_by_name(&head.code).is_some() {
        return Err(format!("a binder named {} is there already", head.code));
    }
    let (set, binder) = (
        SetId(collection.sets().len() as u16),
        collection.fresh_binder(),
    );
    let title = match head.title.is_empty() {
        true => head.code.clone(),
        false => head.title.clone(),
    };
    let mut changes = vec![
        Change::AddSet {
            set,
            head: Box::new(head.clone()),
        },
        Change::AddBinder {
            binder,
            at: collection.shelf().len(),
            spec: Box::new(BinderSpec {
                name: head.code.clone(),
                title,
                set: Some(set),
                kind: options.kind,
                front_matter: Vec::new(),
            }),
        },
    ];
    add_page(
        &mut changes,
        binder,
        0,
        collection.fresh_page(),
        options.format,
    );
    let label = format!("new set {}, to be keyed in", head.code);
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
pub fn key_in(collection: &Collection, place: Place, typed: &str) -> Result<KeyedIn, String> {
    let binder = collection.binder(place.binder);
    let binder = binder.ok_or("the binder is gone")?;
    let set = binder.spec().set.ok_or("the binder is for no set")?;
    let said = Said::read(collection, set, typed)?;
    let mut changes = Vec::new();
    let page = pages_up_to(collection, binder, place.page, &mut changes)?;
    let state = collection.pocket(place);
    if let Some(held) = state.held().filter(|held| Some(*held) != said.known) {
        let number = collection.card(held).map_or("", |card| &card.number);
        return Err(format!(
            "{number} lies in this pocket already: take it out first"
        ));
    }
    let mut keyed = KeyedIn {
        step: Step::default(),
        number: said.number.clone(),
        finish: said.finish.clone(),
        is_new: said.known.is_none(),
        was_loose: false,
        is_gap: said.is_gap,
        is_misplaced: false,
        kept_before: Vec::new(),
    };
    let here = collection.meaning(place);
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
        keyed.kept_before.push(number);
    }
    let printing = cards.printing;
    match (here, said.is_gap) {
        (old @ (Meaning::Nothing | Meaning::Blank), _) => changes.push(Change::Mean {
            place,
            old,
            new: Meaning::Printing(printing),
        }),
        (Meaning::Printing(meant), _) if meant == printing => {}
        (Meaning::Printing(_), false) => keyed.is_misplaced = true,
        (Meaning::Printing(_), true) => {
            return Err("this pocket is kept for another card already".into());
        }
        (Meaning::Keepsake(words), _) => {
            return Err(format!("this pocket has a keepsake: {words}"));
        }
    }
    if !said.is_gap && state.held().is_none() {
        keyed.was_loose = said.known.is_some_and(|p| collection.tally(p).loose > 0);
        if !keyed.was_loose {
            changes.push(Change::Acquire { printing, count: 1 });
        }
        changes.push(Change::Seat {
            place,
            page,
            printing,
        });
    }
    let code = collection.set(set).map_or("", |set| set.code());
    let what = if said.is_gap { "gap for " } else { "" };
    let label = format!("keyed in: {what}{code} {}", keyed.words());
    keyed.step = Step::new(label, changes);
    Ok(keyed)
}

impl KeyedIn {
    /// Number and finish, as far as that need be said.
    #[must_use]
    pub fn words(&self) -> String {
        match &*self.finish {
            "regular" => self.number.to_string(),
            finish => format!("{} {finish}", self.number),
        }
    }
}

/// What a line says.
struct Said {
    number: Box<str>,
    finish: Box<str>,
    is_gap: bool,
    /// The printing, where the checklist has it.
    known: Option<PrintingId>,
}

impl Said {
    fn read(collection: &Collection, id: SetId, typed: &str) -> Result<Self, String> {
        let mut words: Vec<&str> = typed.split_whitespace().collect();
        let is_gap = words.len() > 1 && words.last().is_some_and(|w| w.eq_ignore_ascii_case("gap"));
        if is_gap {
            words.pop();
        }
        let set = collection.set(id).ok_or("the set is gone")?;
        if words.is_empty() {
            return Err("type the number of the card in this pocket".into());
        }
        let of_set = |entry: &super::Entry| entry.printing.set() == id && entry.count == 1;
        let known = read_line(collection, Some(id), &words.join(" ")).ok();
        if let Some(entry) = known.filter(of_set) {
            let printing = entry.printing;
            let finish = set.finishes().get(usize::from(printing.finish()));
            return Ok(Self {
                number: set
                    .card(printing.card())
                    .map_or("".into(), |card| card.number.clone()),
                finish: finish.map_or("regular".into(), |finish| finish.name.clone()),
                is_gap,
                known: Some(printing),
            });
        }
        // A number that is not known, or that is not known in this finish.
        let (number, rest) = (words[0], words[1..].join(" "));
        Ok(Self {
            number: number.into(),
            finish: finish(set, &rest)?,
            is_gap,
            known: None,
        })
    }
}

/// The finish that the words name: one of the set, or a new one whose name is written out.
fn finish(set: &crate::model::Set, words: &str) -> Result<Box<str>, String> {
    if words.is_empty() {
        let first = set.finishes().first();
        return Ok(first.map_or("regular".into(), |finish| finish.name.clone()));
    }
    if let Some(at) = set.finish_by_name(words) {
        return Ok(set.finishes()[usize::from(at)].name.clone());
    }
    let folded = words.to_lowercase();
    let mut known =
        (set.finishes().iter().map(|finish| &*finish.name)).chain(["regular", "reverse"]);
    if let Some(name) =
        known.find(|name| folded.len() > 2 && name.to_lowercase().starts_with(&folded))
    {
        return Ok(name.into());
    }
    if folded == "r" {
        return Ok("reverse".into());
    }
    if folded.chars().count() < 3 {
        return Err(format!(
            "“{words}” is no finish: write a new one out, such as reverse"
        ));
    }
    Ok(words.into())
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
    for at in there..=page {
        add_page(changes, binder.id(), at, id, format);
        id = PageId(id.0 + 1);
    }
    Ok(PageId(id.0 - 1))
}

/// The empty pockets straight before this one, with the numbers that they are kept for: where a
/// card of the same finish lies before them, and exactly as many numbers are left out between.
fn before(
    collection: &Collection,
    binder: &Binder,
    place: Place,
    said: &Said,
) -> Vec<(Place, Box<str>)> {
    let mut free = Vec::new();
    let mut at = place;
    let last = loop {
        let Some(earlier) = pocket_before(binder, at) else {
            return Vec::new();
        };
        at = earlier;
        match collection.pocket(at) {
            PocketState::Unassigned if free.len() < LOOKED_BACK => free.push(at),
            PocketState::InPlace(printing)
            | PocketState::Gap(printing)
            | PocketState::Waiting(printing) => {
                break printing;
            }
            _ => return Vec::new(),
        }
    };
    let set = collection.set(last.set());
    let same_finish = set.is_some_and(|set| {
        let name = set.finishes().get(usize::from(last.finish()));
        binder.spec().set == Some(last.set()) && name.is_some_and(|name| name.name == said.finish)
    });
    if free.is_empty() || !same_finish {
        return Vec::new();
    }
    let mut number: Box<str> = collection
        .card(last)
        .map_or("".into(), |card| card.number.clone());
    let mut kept = Vec::new();
    for place in free.into_iter().rev() {
        match following(&number) {
            Some(next) => number = next.into(),
            None => return Vec::new(),
        }
        kept.push((place, number.clone()));
    }
    // A card that has its pocket elsewhere is not kept another one for.
    let has_pocket = |number: &str| {
        let card = set.and_then(|set| set.card_by_number(number));
        let printing = card.map(|card| PrintingId::new(last.set(), card, last.finish()));
        printing.is_some_and(|p| collection.tally(p).meant > 0)
    };
    let fits = following(&number).as_deref() == Some(&*said.number);
    if !fits || kept.iter().any(|(_, number)| has_pocket(number)) {
        return Vec::new();
    }
    kept
}

/// The pocket before, also on the page before, as far as pages stand as the layout has them. Pages
/// that are still to come are like the last one.
fn pocket_before(binder: &Binder, at: Place) -> Option<Place> {
    let pages = binder.pages();
    let (page, pocket) = match at.pocket.checked_sub(1) {
        Some(pocket) => (at.page, pocket),
        None => {
            let page = at.page.checked_sub(1)?;
            let pockets = pages.get(page).or(pages.last())?.format().pockets();
            (page, pockets.checked_sub(1)?)
        }
    };
    let earlier = Place { page, pocket, ..at };
    (page >= pages.len() || binder.comparable(page)).then_some(earlier)
}

/// The number that follows in a set: `12` after `11`, `P2` after `P1`, `013` after `012`, `13/102`
/// after `12/102`, `13` after `12a`.
#[must_use]
pub fn following(number: &str) -> Option<String> {
    let (head, tail) = number.split_at(number.find('/').unwrap_or(number.len()));
    let end = head.rfind(|c: char| c.is_ascii_digit())? + 1;
    let start = head[..end]
        .rfind(|c: char| !c.is_ascii_digit())
        .map_or(0, |at| {
            at + head[at..].chars().next().map_or(1, char::len_utf8)
        });
    let digits = &head[start..end];
    let next = digits.parse::<u64>().ok()?.checked_add(1)?;
    // What stands behind the digits, as in 12a, is of this card alone.
    let width = digits.len();
    Some(format!("{}{next:0width$}{tail}", &head[..start]))
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
        for (line, number) in (1..).zip(numbers()) {
            let row = CardRow {
                line,
                set: set.code().into(),
                number: number.clone(),
                finishes: vec![said.finish.clone()],
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
