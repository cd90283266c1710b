//! The text of every change. The names of the variants are the keys in the file.
//!
//! Places are binder, page, side, row, column; places, rows and columns count from 1.

use serde::{Deserialize, Serialize};

use crate::store::parts::{
    BinderName, CardText, DraftText, FormatText, HeadText, LayoutPageText, MeaningText, PageName,
    SideText, SpecText,
};
use crate::store::strings::Str;
use crate::store::token::Token;

type Code<'a> = Str<'a>;
type At = usize;

#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", bound(deserialize = "'de: 'a"))]
pub(super) enum Written<'a> {
    /// As the last of the sets.
    AddSet(HeadText<'a>),
    DropSet(HeadText<'a>),
    /// Place among the sets, number, head. The number is that which the program has for the set as
    /// long as it runs: a set that left gets it back, so that nothing else that is told of it by
    /// that number becomes another set's. Where it is another's by now the set gets a free one.
    AddSetAt(At, u16, HeadText<'a>),
    DropSetAt(At, u16, HeadText<'a>),
    /// Old, new.
    EditSet(HeadText<'a>, HeadText<'a>),
    /// Set, name, mark.
    AddFinish(Code<'a>, Str<'a>, Str<'a>),
    DropFinish(Code<'a>, Str<'a>, Str<'a>),
    /// Set, name of the finish.
    LeaveOut(Code<'a>, Str<'a>),
    Collect(Code<'a>, Str<'a>),
    AddRarity(Code<'a>, Str<'a>),
    DropRarity(Code<'a>, Str<'a>),
    /// Set, place of the first card in the checklist, cards.
    AddCards(Code<'a>, At, Vec<CardText<'a>>),
    DropCards(Code<'a>, At, Vec<CardText<'a>>),
    /// Set, old, new.
    EditCard(Code<'a>, CardText<'a>, CardText<'a>),
    Acquire(Token<'a>, u32),
    PartWith(Token<'a>, u32),
    /// Binder, place on the shelf, what is said of it.
    AddBinder(BinderName, At, SpecText<'a>),
    RemoveBinder(BinderName, At, SpecText<'a>),
    /// Binder, old, new.
    EditBinder(BinderName, SpecText<'a>, SpecText<'a>),
    /// Binder, from, to.
    MoveBinder(BinderName, At, At),
    /// Binder, place, page, format.
    AddPage(BinderName, At, PageName, FormatText),
    RemovePage(BinderName, At, PageName, FormatText),
    /// Page, from, to.
    MovePage(PageName, (BinderName, At), (BinderName, At)),
    /// Card, place, the page that is there.
    Seat(Token<'a>, BinderName, At, SideText, u8, u8, PageName),
    Lift(Token<'a>, BinderName, At, SideText, u8, u8, PageName),
    /// Binder, place, page.
    AddLayoutPage(BinderName, At, LayoutPageText<'a>),
    RemoveLayoutPage(BinderName, At, LayoutPageText<'a>),
    /// Binder, from, to.
    MoveLayoutPage(BinderName, At, At),
    /// Place, old, new.
    Mean(
        BinderName,
        At,
        SideText,
        u8,
        u8,
        MeaningText<'a>,
        MeaningText<'a>,
    ),
    /// Binder, place among its drafts, the draft.
    AddDraft(BinderName, At, DraftText<'a>),
    DropDraft(BinderName, At, DraftText<'a>),
    /// Binder, place, old name, new name.
    RenameDraft(BinderName, At, Str<'a>, Str<'a>),
    /// Binder, place of the draft.
    SwapLayout(BinderName, At),
    /// Binder, old, new.
    SetSections(BinderName, Vec<Str<'a>>, Vec<Str<'a>>),
    /// Name, old, new; null for none.
    SetTemplate(Str<'a>, Option<Vec<Str<'a>>>, Option<Vec<Str<'a>>>),
    /// Place of the draft, the change of a layout.
    InDraft(At, Box<Self>),
}
