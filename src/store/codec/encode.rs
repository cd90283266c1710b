//! From a change to its text.

use super::written::Written;
use crate::model::{Card, Change, Collection, PageFormat, Place, SetId};
use crate::store::parts::{
    BinderName, CardText, DraftText, LayoutPageText, MeaningText, PageName, SideText, SpecText,
    rules_text,
};
use crate::store::token::Token;

/// Appends the text of a change that is about to be applied. `None` when it names something that
/// is not there: then it does not fit the collection either.
pub(super) fn encode(change: &Change, before: &Collection, to: &mut Vec<u8>) -> Option<()> {
    let written = written(change, before)?;
    serde_json::to_writer(to, &written).ok()
}

fn written<'a>(change: &'a Change, before: &'a Collection) -> Option<Written<'a>> {
    written_in(change, before, None)
}

/// `draft` is the place of the draft in which a change of a layout is made.
fn written_in<'a>(
    change: &'a Change,
    before: &'a Collection,
    draft: Option<usize>,
) -> Option<Written<'a>> {
    let code = |set: SetId| before.set(set).map(|set| set.code().into());
    let name = |set: SetId, finish: u8| {
        let finish = before.set(set)?.finishes().get(usize::from(finish))?;
        Some(finish.name.as_ref().into())
    };
    let card = |set, card| card_text(before, set, card);
    let cards = |set: SetId, cards: &'a [Card]| -> Option<Vec<_>> {
        cards.iter().map(|c| card(set, c)).collect()
    };
    let spec = |spec| SpecText::of(before, spec);
    let token = |printing| Token::of(before, printing);
    Some(match change {
        Change::AddSet { set, at, head } => {
            let last = before.sets().len();
            match *at == last && before.fresh_sets(last).next() == Some(*set) {
                true => Written::AddSet(head.as_ref().into()),
                false => Written::AddSetAt(at + 1, set.0, head.as_ref().into()),
            }
        }
        Change::DropSet { set, at, head } => {
            Written::DropSetAt(at + 1, set.0, head.as_ref().into())
        }
        Change::EditSet { old, new, .. } => {
            Written::EditSet(old.as_ref().into(), new.as_ref().into())
        }
        Change::AddFinish { set, finish } => Written::AddFinish(
            code(*set)?,
            finish.name.as_ref().into(),
            finish.mark.as_ref().into(),
        ),
        Change::DropFinish { set, finish } => Written::DropFinish(
            code(*set)?,
            finish.name.as_ref().into(),
            finish.mark.as_ref().into(),
        ),
        Change::LeaveOut { set, finish } => Written::LeaveOut(code(*set)?, name(*set, *finish)?),
        Change::Collect { set, finish } => Written::Collect(code(*set)?, name(*set, *finish)?),
        Change::AddRarity { set, name } => Written::AddRarity(code(*set)?, name.as_ref().into()),
        Change::DropRarity { set, name } => Written::DropRarity(code(*set)?, name.as_ref().into()),
        Change::AddCards {
            set,
            first,
            cards: new,
        } => Written::AddCards(code(*set)?, *first as usize + 1, cards(*set, new)?),
        Change::DropCards {
            set,
            first,
            cards: old,
        } => Written::DropCards(code(*set)?, *first as usize + 1, cards(*set, old)?),
        Change::EditCard { set, old, new, .. } => {
            Written::EditCard(code(*set)?, card(*set, old)?, card(*set, new)?)
        }
        Change::Acquire { printing, count } => Written::Acquire(token(*printing)?, *count),
        Change::PartWith { printing, count } => Written::PartWith(token(*printing)?, *count),
        Change::AddBinder {
            binder,
            at,
            spec: new,
        } => Written::AddBinder(BinderName(*binder), at + 1, spec(new)?),
        Change::RemoveBinder {
            binder,
            at,
            spec: old,
        } => Written::RemoveBinder(BinderName(*binder), at + 1, spec(old)?),
        Change::EditBinder { binder, old, new } => {
            Written::EditBinder(BinderName(*binder), spec(old)?, spec(new)?)
        }
        Change::MoveBinder { binder, from, to } => {
            Written::MoveBinder(BinderName(*binder), from + 1, to + 1)
        }
        Change::AddPage {
            binder,
            at,
            page,
            format,
        } => Written::AddPage(
            BinderName(*binder),
            at + 1,
            PageName(*page),
            (*format).into(),
        ),
        Change::RemovePage {
            binder,
            at,
            page,
            format,
        } => Written::RemovePage(
            BinderName(*binder),
            at + 1,
            PageName(*page),
            (*format).into(),
        ),
        Change::MovePage { page, from, to } => Written::MovePage(
            PageName(*page),
            (BinderName(from.binder), from.page + 1),
            (BinderName(to.binder), to.page + 1),
        ),
        Change::Seat {
            place,
            page,
            printing,
        } => {
            let (binder, at, side, row, column) = pocket_text(before, *place)?;
            Written::Seat(
                token(*printing)?,
                binder,
                at,
                side,
                row,
                column,
                PageName(*page),
            )
        }
        Change::Lift {
            place,
            page,
            printing,
        } => {
            let (binder, at, side, row, column) = pocket_text(before, *place)?;
            Written::Lift(
                token(*printing)?,
                binder,
                at,
                side,
                row,
                column,
                PageName(*page),
            )
        }
        Change::AddLayoutPage { binder, at, page } => {
            let page = LayoutPageText::of(before, page)?;
            Written::AddLayoutPage(BinderName(*binder), at + 1, page)
        }
        Change::RemoveLayoutPage { binder, at, page } => {
            let page = LayoutPageText::of(before, page)?;
            Written::RemoveLayoutPage(BinderName(*binder), at + 1, page)
        }
        Change::MoveLayoutPage { binder, from, to } => {
            Written::MoveLayoutPage(BinderName(*binder), from + 1, to + 1)
        }
        Change::Mean { place, old, new } => {
            let binder = before.binder(place.binder)?;
            let layout = match draft {
                None => binder.layout(),
                Some(at) => &binder.drafts().get(at)?.layout,
            };
            let page = layout.pages.get(place.page)?;
            let (binder, at, side, row, column) = pocket_text_on(page.format(), *place)?;
            let old = MeaningText::of(before, old)?;
            let new = MeaningText::of(before, new)?;
            Written::Mean(binder, at, side, row, column, old, new)
        }
        Change::AddDraft { binder, at, draft } => {
            let draft = DraftText::of(before, draft)?;
            Written::AddDraft(BinderName(*binder), at + 1, draft)
        }
        Change::DropDraft { binder, at, draft } => {
            let draft = DraftText::of(before, draft)?;
            Written::DropDraft(BinderName(*binder), at + 1, draft)
        }
        Change::RenameDraft {
            binder,
            at,
            old,
            new,
        } => Written::RenameDraft(
            BinderName(*binder),
            at + 1,
            old.as_ref().into(),
            new.as_ref().into(),
        ),
        Change::SwapLayout { binder, at } => Written::SwapLayout(BinderName(*binder), at + 1),
        Change::SetSections { binder, old, new } => {
            Written::SetSections(BinderName(*binder), rules_text(old), rules_text(new))
        }
        Change::SetTemplate { name, old, new } => Written::SetTemplate(
            name.as_ref().into(),
            old.as_ref().map(rules_text),
            new.as_ref().map(rules_text),
        ),
        Change::InDraft { draft, change } => {
            let change = written_in(change, before, Some(*draft))?;
            Written::InDraft(draft + 1, Box::new(change))
        }
    })
}

fn card_text<'a>(before: &'a Collection, set: SetId, card: &'a Card) -> Option<CardText<'a>> {
    let set = before.set(set)?;
    CardText::of(card, set.rarities(), set.finishes())
}

type PocketText = (BinderName, usize, SideText, u8, u8);

/// A pocket of a physical page, as it is written.
fn pocket_text(before: &Collection, place: Place) -> Option<PocketText> {
    let page = before.binder(place.binder)?.pages().get(place.page)?;
    pocket_text_on(page.format(), place)
}

fn pocket_text_on(format: PageFormat, place: Place) -> Option<PocketText> {
    let at = format.at(place.pocket)?;
    Some((
        BinderName(place.binder),
        place.page + 1,
        at.side.into(),
        at.row + 1,
        at.column + 1,
    ))
}
