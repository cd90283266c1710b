//! From its text to a change.

use super::Standing;
use super::written::Written;
use crate::model::{
    Binder, BinderId, Card, Change, Collection, Draft, Finish, LayoutPage, Page, PageFormat,
    PagePlace, Place, PocketAt, PrintingId, Set, SetId,
};
use crate::store::parts::{BinderName, CardText, DraftText, HeadText, SideText, rules};
use crate::store::strings::Str;
use crate::store::token::{Finder, Token, find_set};

/// The change of a text, if that could be read, its names looked up in the collection right before or after it.
pub(super) fn decode(
    written: Result<Written<'_>, String>,
    collection: &Collection,
    standing: Standing,
) -> Result<Change, String> {
    Reader {
        collection,
        standing,
        draft: None,
    }
    .change(written?)
}

struct Reader<'c> {
    collection: &'c Collection,
    standing: Standing,
    /// The place of the draft in which a change of a layout is made.
    draft: Option<usize>,
}

impl Reader<'_> {
    fn change(&self, written: Written<'_>) -> Result<Change, String> {
        let set = |code: &str| find_set(self.collection, code);
        let spec = |text: &crate::store::parts::SpecText<'_>| text.spec(self.collection);
        Ok(match written {
            Written::AddSet(head) => self.add_set(None, &head, Standing::Before)?,
            Written::AddSetAt(at, number, head) => self.add_set(
                Some((from_one(at)?, SetId(number))),
                &head,
                Standing::Before,
            )?,
            Written::DropSet(head) => self.add_set(None, &head, Standing::After)?.inverse(),
            Written::DropSetAt(at, number, head) => {
                let as_it_was = Some((from_one(at)?, SetId(number)));
                self.add_set(as_it_was, &head, Standing::After)?.inverse()
            }
            Written::EditSet(old, new) => Change::EditSet {
                set: match self.standing {
                    Standing::Before => set(&old.code)?,
                    Standing::After => set(&new.code)?,
                },
                old: Box::new(old.head()),
                new: Box::new(new.head()),
            },
            Written::AddFinish(code, name, mark) => Change::AddFinish {
                set: set(&code)?,
                finish: finish(&name, &mark),
            },
            Written::DropFinish(code, name, mark) => Change::DropFinish {
                set: set(&code)?,
                finish: finish(&name, &mark),
            },
            Written::LeaveOut(code, name) => {
                let (set, finish) = self.finish(&code, &name)?;
                Change::LeaveOut { set, finish }
            }
            Written::Collect(code, name) => {
                let (set, finish) = self.finish(&code, &name)?;
                Change::Collect { set, finish }
            }
            Written::AddRarity(code, name) => Change::AddRarity {
                set: set(&code)?,
                name: name.boxed(),
            },
            Written::DropRarity(code, name) => Change::DropRarity {
                set: set(&code)?,
                name: name.boxed(),
            },
            Written::AddCards(code, first, cards) => {
                let (set, first, cards) = self.cards(&code, first, &cards)?;
                Change::AddCards { set, first, cards }
            }
            Written::DropCards(code, first, cards) => {
                let (set, first, cards) = self.cards(&code, first, &cards)?;
                Change::DropCards { set, first, cards }
            }
            Written::EditCard(code, old, new) => self.edit_card(set(&code)?, &old, &new)?,
            Written::Acquire(token, count) => Change::Acquire {
                printing: self.printing(&token)?,
                count,
            },
            Written::PartWith(token, count) => Change::PartWith {
                printing: self.printing(&token)?,
                count,
            },
            Written::AddBinder(binder, at, new) => Change::AddBinder {
                binder: binder.0,
                at: from_one(at)?,
                spec: Box::new(spec(&new)?),
            },
            Written::RemoveBinder(binder, at, old) => Change::RemoveBinder {
                binder: binder.0,
                at: from_one(at)?,
                spec: Box::new(spec(&old)?),
            },
            Written::EditBinder(binder, old, new) => Change::EditBinder {
                binder: binder.0,
                old: Box::new(spec(&old)?),
                new: Box::new(spec(&new)?),
            },
            Written::MoveBinder(binder, from, to) => Change::MoveBinder {
                binder: binder.0,
                from: from_one(from)?,
                to: from_one(to)?,
            },
            Written::AddPage(binder, at, page, format) => Change::AddPage {
                binder: binder.0,
                at: from_one(at)?,
                page: page.0,
                format: format.format()?,
            },
            Written::RemovePage(binder, at, page, format) => Change::RemovePage {
                binder: binder.0,
                at: from_one(at)?,
                page: page.0,
                format: format.format()?,
            },
            Written::MovePage(page, from, to) => Change::MovePage {
                page: page.0,
                from: PagePlace::new(from.0.0, from_one(from.1)?),
                to: PagePlace::new(to.0.0, from_one(to.1)?),
            },
            Written::Seat(token, binder, at, side, row, column, page) => Change::Seat {
                place: self.pocket(binder, at, (side, row, column))?,
                page: page.0,
                printing: self.printing(&token)?,
            },
            Written::Lift(token, binder, at, side, row, column, page) => Change::Lift {
                place: self.pocket(binder, at, (side, row, column))?,
                page: page.0,
                printing: self.printing(&token)?,
            },
            Written::AddLayoutPage(binder, at, page) => Change::AddLayoutPage {
                binder: binder.0,
                at: from_one(at)?,
                page: Box::new(page.page(self.collection, &mut Finder::default(), None)?),
            },
            Written::RemoveLayoutPage(binder, at, page) => Change::RemoveLayoutPage {
                binder: binder.0,
                at: from_one(at)?,
                page: Box::new(page.page(self.collection, &mut Finder::default(), None)?),
            },
            Written::MoveLayoutPage(binder, from, to) => Change::MoveLayoutPage {
                binder: binder.0,
                from: from_one(from)?,
                to: from_one(to)?,
            },
            Written::Mean(binder, at, side, row, column, old, new) => {
                let mut finder = Finder::default();
                Change::Mean {
                    place: self.slot(binder, at, (side, row, column))?,
                    old: old.meaning(self.collection, &mut finder)?,
                    new: new.meaning(self.collection, &mut finder)?,
                }
            }
            Written::AddDraft(binder, at, draft) => Change::AddDraft {
                binder: binder.0,
                at: from_one(at)?,
                draft: self.draft(&draft)?,
            },
            Written::DropDraft(binder, at, draft) => Change::DropDraft {
                binder: binder.0,
                at: from_one(at)?,
                draft: self.draft(&draft)?,
            },
            Written::RenameDraft(binder, at, old, new) => Change::RenameDraft {
                binder: binder.0,
                at: from_one(at)?,
                old: old.boxed(),
                new: new.boxed(),
            },
            Written::SwapLayout(binder, at) => Change::SwapLayout {
                binder: binder.0,
                at: from_one(at)?,
            },
            Written::SetSections(binder, old, new) => Change::SetSections {
                binder: binder.0,
                old: rules(&old),
                new: rules(&new),
            },
            Written::SetTemplate(name, old, new) => Change::SetTemplate {
                name: name.boxed(),
                old: old.as_deref().map(rules),
                new: new.as_deref().map(rules),
            },
            Written::InDraft(draft, change) => {
                // One level only: what stands in a draft is a change of a layout.
                if self.draft.is_some() {
                    return Err("a draft within a draft".into());
                }
                let draft = from_one(draft)?;
                let within = Reader {
                    draft: Some(draft),
                    ..*self
                };
                Change::InDraft {
                    draft,
                    change: Box::new(within.change(*change)?),
                }
            }
        })
    }

    /// The change by which a set comes in at a place and under an id, or as the last. It is not
    /// there yet, or no longer, when `absent` is where we stand.
    fn add_set(
        &self,
        as_it_was: Option<(usize, SetId)>,
        head: &HeadText<'_>,
        absent: Standing,
    ) -> Result<Change, String> {
        let sets = self.collection.sets().len();
        let (at, id) = as_it_was.unzip();
        let (set, last) = if self.standing == absent {
            let mut fresh = self.collection.fresh_sets(at.unwrap_or(sets));
            let own = id.filter(|id| self.collection.is_free_set(*id));
            let set = own.or_else(|| fresh.next());
            (set.ok_or("too many sets")?, sets)
        } else {
            (find_set(self.collection, &head.code)?, sets - 1)
        };
        Ok(Change::AddSet {
            set,
            at: at.unwrap_or(last),
            head: Box::new(head.head()),
        })
    }

    fn set(&self, id: SetId) -> Result<&Set, String> {
        self.collection.set(id).ok_or_else(|| "no such set".into())
    }

    fn finish(&self, code: &str, name: &str) -> Result<(SetId, u8), String> {
        let id = find_set(self.collection, code)?;
        let finishes = self.set(id)?.finishes().iter();
        let at = finishes
            .into_iter()
            .position(|finish| *finish.name == *name);
        let at = at.and_then(|at| u8::try_from(at).ok());
        Ok((
            id,
            at.ok_or_else(|| format!("there is no finish {name:?}"))?,
        ))
    }

    fn cards(
        &self,
        code: &str,
        first: usize,
        cards: &[CardText<'_>],
    ) -> Result<(SetId, u32, Vec<Card>), String> {
        let id = find_set(self.collection, code)?;
        let set = self.set(id)?;
        let first = u32::try_from(from_one(first)?).map_err(|_| "too many cards")?;
        let cards = cards
            .iter()
            .map(|card| card.card(set.rarities(), set.finishes()));
        Ok((id, first, cards.collect::<Result<_, _>>()?))
    }

    fn edit_card(
        &self,
        id: SetId,
        old: &CardText<'_>,
        new: &CardText<'_>,
    ) -> Result<Change, String> {
        let set = self.set(id)?;
        let old = old.card(set.rarities(), set.finishes())?;
        let new = new.card(set.rarities(), set.finishes())?;
        let card = set.card_by_number(&old.number);
        Ok(Change::EditCard {
            set: id,
            card: card.ok_or_else(|| format!("there is no card {:?}", old.number))?,
            old: Box::new(old),
            new: Box::new(new),
        })
    }

    fn draft(&self, draft: &DraftText<'_>) -> Result<Box<Draft>, String> {
        let draft = draft.draft(self.collection, &mut Finder::default(), None)?;
        Ok(Box::new(draft))
    }

    fn printing(&self, token: &Token<'_>) -> Result<PrintingId, String> {
        Finder::default().find_token(self.collection, token)
    }

    fn pocket(
        &self,
        binder: BinderName,
        at: usize,
        spot: (SideText, u8, u8),
    ) -> Result<Place, String> {
        let page = from_one(at)?;
        let binder = binder.0;
        let pages = self.collection.binder(binder).map(Binder::pages);
        let format = pages.and_then(|pages| pages.get(page)).map(Page::format);
        place(binder, page, format, spot)
    }

    fn slot(
        &self,
        binder: BinderName,
        at: usize,
        spot: (SideText, u8, u8),
    ) -> Result<Place, String> {
        let page = from_one(at)?;
        let binder = binder.0;
        let layout = self.collection.binder(binder).and_then(|binder| {
            let draft = self.draft.map(|at| binder.drafts().get(at));
            draft.map_or(Some(binder.layout()), |draft| {
                draft.map(|draft| &draft.layout)
            })
        });
        let format = layout
            .and_then(|layout| layout.pages.get(page))
            .map(LayoutPage::format);
        place(binder, page, format, spot)
    }
}

fn place(
    binder: BinderId,
    page: usize,
    format: Option<PageFormat>,
    (side, row, column): (SideText, u8, u8),
) -> Result<Place, String> {
    let format = format.ok_or_else(|| format!("{binder} has no page {}", page + 1))?;
    let at = PocketAt {
        side: side.into(),
        row: row.checked_sub(1).ok_or("rows count from 1")?,
        column: column.checked_sub(1).ok_or("columns count from 1")?,
    };
    let pocket = format.index(at);
    let pocket = pocket.ok_or_else(|| format!("page {} has no such pocket", page + 1))?;
    Ok(Place {
        binder,
        page,
        pocket,
    })
}

fn from_one(at: usize) -> Result<usize, String> {
    at.checked_sub(1)
        .ok_or_else(|| "places count from 1".into())
}

fn finish(name: &Str<'_>, mark: &Str<'_>) -> Box<Finish> {
    Box::new(Finish {
        name: name.boxed(),
        mark: mark.boxed(),
    })
}
