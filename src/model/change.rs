//! Changes: the only way in which a collection alters.
//!
//! A change carries old and new, so that it can be refused when the ground has moved under it
//! and undone exactly. Most come in pairs, each the other's inverse.

use super::binder::{BinderSpec, Draft, LayoutPage, Meaning, Rules};
use super::format::PageFormat;
use super::id::{BinderId, PageId, PrintingId, SetId};
use super::pocket::{PagePlace, Place};
use super::set::{Card, Finish, SetHead};

/// What a person counts as one step: some changes under one name, done and undone together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Step {
    /// In the words in which it is told afterwards: "12a Moss Owl into page 3, front".
    pub label: String,
    pub changes: Vec<Change>,
}

impl Step {
    #[must_use]
    pub fn new(label: impl Into<String>, changes: Vec<Change>) -> Self {
        Self {
            label: label.into(),
            changes,
        }
    }
}

/// One change. Positions count from 0. Contents and layout are changed by changes of their own;
/// what the hands do on the real binder is a step that holds both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A set without cards comes in, as the `at`-th.
    AddSet {
        set: SetId,
        at: usize,
        head: Box<SetHead>,
    },
    /// A set goes that has no cards and no finishes, and that no binder is for.
    DropSet {
        set: SetId,
        at: usize,
        head: Box<SetHead>,
    },
    EditSet {
        set: SetId,
        old: Box<SetHead>,
        new: Box<SetHead>,
    },
    /// The set names a further finish, as its last.
    AddFinish {
        set: SetId,
        finish: Box<Finish>,
    },
    DropFinish {
        set: SetId,
        finish: Box<Finish>,
    },
    /// The collector does not collect the set's cards in this finish, and says so.
    LeaveOut {
        set: SetId,
        finish: u8,
    },
    /// They are collected again.
    Collect {
        set: SetId,
        finish: u8,
    },
    /// The set names a further rarity, as its last.
    AddRarity {
        set: SetId,
        name: Box<str>,
    },
    DropRarity {
        set: SetId,
        name: Box<str>,
    },
    /// Cards at the end of the checklist; `first` is the place of the first of them.
    AddCards {
        set: SetId,
        first: u32,
        cards: Vec<Card>,
    },
    /// The last cards of the checklist, of which there is no copy and no pocket, go.
    DropCards {
        set: SetId,
        first: u32,
        cards: Vec<Card>,
    },
    /// A card's entry is corrected, or it comes in further finishes. The number stays.
    EditCard {
        set: SetId,
        card: u32,
        old: Box<Card>,
        new: Box<Card>,
    },
    /// Copies come into the collection, loose.
    Acquire {
        printing: PrintingId,
        count: u32,
    },
    /// Loose copies leave the collection.
    PartWith {
        printing: PrintingId,
        count: u32,
    },
    /// An empty binder comes onto the shelf as the `at`-th.
    AddBinder {
        binder: BinderId,
        at: usize,
        spec: Box<BinderSpec>,
    },
    /// A binder without pages and layout goes.
    RemoveBinder {
        binder: BinderId,
        at: usize,
        spec: Box<BinderSpec>,
    },
    EditBinder {
        binder: BinderId,
        old: Box<BinderSpec>,
        new: Box<BinderSpec>,
    },
    /// A binder changes its place on the shelf; `to` is counted when it has been taken out.
    MoveBinder {
        binder: BinderId,
        from: usize,
        to: usize,
    },
    /// An empty page is put into a binder as the `at`-th.
    AddPage {
        binder: BinderId,
        at: usize,
        page: PageId,
        format: PageFormat,
    },
    /// An empty page is taken out of a binder.
    RemovePage {
        binder: BinderId,
        at: usize,
        page: PageId,
        format: PageFormat,
    },
    /// A page goes to another place, with all that is in it; the place in `to` is counted when
    /// it has been taken out.
    MovePage {
        page: PageId,
        from: PagePlace,
        to: PagePlace,
    },
    /// A loose copy goes into an empty pocket. `page` is the page that is expected there.
    Seat {
        place: Place,
        page: PageId,
        printing: PrintingId,
    },
    /// The copy in a pocket becomes loose.
    Lift {
        place: Place,
        page: PageId,
        printing: PrintingId,
    },
    /// A page comes into the layout as the `at`-th.
    AddLayoutPage {
        binder: BinderId,
        at: usize,
        page: Box<LayoutPage>,
    },
    RemoveLayoutPage {
        binder: BinderId,
        at: usize,
        page: Box<LayoutPage>,
    },
    /// A page of the layout changes its place; `to` is counted when it has been taken out.
    MoveLayoutPage {
        binder: BinderId,
        from: usize,
        to: usize,
    },
    /// A pocket of the layout gets another meaning.
    Mean {
        place: Place,
        old: Meaning,
        new: Meaning,
    },
    /// A layout gets other sections. Its pages stay as they are.
    SetSections {
        binder: BinderId,
        old: Rules,
        new: Rules,
    },
    /// The collector's own sections under a name, for any set, come, go (`None`) or become others.
    SetTemplate {
        name: Box<str>,
        old: Option<Rules>,
        new: Option<Rules>,
    },
    /// A draft is begun, as the `at`-th of its binder.
    AddDraft {
        binder: BinderId,
        at: usize,
        draft: Box<Draft>,
    },
    DropDraft {
        binder: BinderId,
        at: usize,
        draft: Box<Draft>,
    },
    RenameDraft {
        binder: BinderId,
        at: usize,
        old: Box<str>,
        new: Box<str>,
    },
    /// The binder's layout and that of its `at`-th draft change places.
    SwapLayout {
        binder: BinderId,
        at: usize,
    },
    /// A change of a layout (`AddLayoutPage`, `RemoveLayoutPage`, `MoveLayoutPage`, `Mean`,
    /// `SetSections`) is made in the binder's `draft`-th draft instead.
    InDraft {
        draft: usize,
        change: Box<Self>,
    },
}

impl Change {
    /// The change that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        match self.clone() {
            Self::AddSet { set, at, head } => Self::DropSet { set, at, head },
            Self::DropSet { set, at, head } => Self::AddSet { set, at, head },
            Self::EditSet { set, old, new } => Self::EditSet {
                set,
                old: new,
                new: old,
            },
            Self::AddFinish { set, finish } => Self::DropFinish { set, finish },
            Self::DropFinish { set, finish } => Self::AddFinish { set, finish },
            Self::LeaveOut { set, finish } => Self::Collect { set, finish },
            Self::Collect { set, finish } => Self::LeaveOut { set, finish },
            Self::AddRarity { set, name } => Self::DropRarity { set, name },
            Self::DropRarity { set, name } => Self::AddRarity { set, name },
            Self::AddCards { set, first, cards } => Self::DropCards { set, first, cards },
            Self::DropCards { set, first, cards } => Self::AddCards { set, first, cards },
            Self::EditCard {
                set,
                card,
                old,
                new,
            } => Self::EditCard {
                set,
                card,
                old: new,
                new: old,
            },
            Self::Acquire { printing, count } => Self::PartWith { printing, count },
            Self::PartWith { printing, count } => Self::Acquire { printing, count },
            Self::AddBinder { binder, at, spec } => Self::RemoveBinder { binder, at, spec },
            Self::RemoveBinder { binder, at, spec } => Self::AddBinder { binder, at, spec },
            Self::EditBinder { binder, old, new } => Self::EditBinder {
                binder,
                old: new,
                new: old,
            },
            Self::MoveBinder { binder, from, to } => Self::MoveBinder {
                binder,
                from: to,
                to: from,
            },
            Self::AddPage {
                binder,
                at,
                page,
                format,
            } => Self::RemovePage {
                binder,
                at,
                page,
                format,
            },
            Self::RemovePage {
                binder,
                at,
                page,
                format,
            } => Self::AddPage {
                binder,
                at,
                page,
                format,
            },
            Self::MovePage { page, from, to } => Self::MovePage {
                page,
                from: to,
                to: from,
            },
            Self::Seat {
                place,
                page,
                printing,
            } => Self::Lift {
                place,
                page,
                printing,
            },
            Self::Lift {
                place,
                page,
                printing,
            } => Self::Seat {
                place,
                page,
                printing,
            },
            Self::AddLayoutPage { binder, at, page } => Self::RemoveLayoutPage { binder, at, page },
            Self::RemoveLayoutPage { binder, at, page } => Self::AddLayoutPage { binder, at, page },
            Self::MoveLayoutPage { binder, from, to } => Self::MoveLayoutPage {
                binder,
                from: to,
                to: from,
            },
            Self::Mean { place, old, new } => Self::Mean {
                place,
                old: new,
                new: old,
            },
            Self::SetSections { binder, old, new } => Self::SetSections {
                binder,
                old: new,
                new: old,
            },
            Self::SetTemplate { name, old, new } => Self::SetTemplate {
                name,
                old: new,
                new: old,
            },
            Self::AddDraft { binder, at, draft } => Self::DropDraft { binder, at, draft },
            Self::DropDraft { binder, at, draft } => Self::AddDraft { binder, at, draft },
            Self::RenameDraft {
                binder,
                at,
                old,
                new,
            } => Self::RenameDraft {
                binder,
                at,
                old: new,
                new: old,
            },
            Self::SwapLayout { binder, at } => Self::SwapLayout { binder, at },
            Self::InDraft { draft, change } => Self::InDraft {
                draft,
                change: Box::new(change.inverse()),
            },
        }
    }

    /// Whether sets, their finishes or their cards are altered, and not only where copies lie.
    #[must_use]
    pub fn touches_sets(&self) -> bool {
        matches!(
            self,
            Self::AddSet { .. }
                | Self::DropSet { .. }
                | Self::EditSet { .. }
                | Self::AddFinish { .. }
                | Self::DropFinish { .. }
                | Self::LeaveOut { .. }
                | Self::Collect { .. }
                | Self::AddRarity { .. }
                | Self::DropRarity { .. }
                | Self::AddCards { .. }
                | Self::DropCards { .. }
                | Self::EditCard { .. }
        )
    }
}
