//! What kind of thing is asked for, and what else it may be called.

use super::Intent;

impl Intent {
    /// Whether it only moves about, or is the same on every screen.
    #[must_use]
    pub fn is_plain(self) -> bool {
        matches!(
            self,
            Self::Left
                | Self::Right
                | Self::Up
                | Self::Down
                | Self::PageBack
                | Self::PageOn
                | Self::First
                | Self::Last
                | Self::Accept
                | Self::Leave
                | Self::NextField
                | Self::PreviousField
                | Self::Anything
                | Self::Help
                | Self::Redraw
                | Self::Suspend
        )
    }

    /// Where a cursor among the rows `0..=last`, or the top of what is scrolled so far at most, comes
    /// to from `at`; where it is, for what does not move it. `room` is the height of a screenful.
    #[must_use]
    pub fn stepped(self, at: usize, room: usize, last: usize) -> usize {
        let to = match self {
            Self::Up => at.saturating_sub(1),
            Self::Down => at.saturating_add(1),
            Self::PageBack => at.saturating_sub(room.max(1)),
            Self::PageOn => at.saturating_add(room.max(1)),
            Self::First => 0,
            Self::Last => last,
            _ => at,
        };
        to.min(last)
    }

    /// Whether it is meant to alter the collection.
    #[must_use]
    pub fn changes(self) -> bool {
        matches!(
            self,
            Self::Put
                | Self::Take
                | Self::Acquire
                | Self::PartWith
                | Self::Mark
                | Self::Carry
                | Self::CarryPages
                | Self::Arrange
                | Self::NewDraft
                | Self::EmptyDraft
                | Self::CopyDraft
                | Self::RenameDraft
                | Self::DropDraft
                | Self::Adopt
                | Self::MakeDraft
                | Self::KeepSections
                | Self::SaveTemplate
                | Self::DropTemplate
                | Self::Pile
                | Self::CarryOut
                | Self::Rings
                | Self::Spine
                | Self::BinderBack
                | Self::BinderOn
                | Self::GiveUp
                | Self::Done
                | Self::NewSet
                | Self::TypeIn
                | Self::Import
                | Self::Undo
                | Self::Redo
        )
    }

    /// Other words under which a person may look for it.
    #[must_use]
    pub fn other_words(self) -> &'static str {
        match self {
            Self::Accept => "go choose take",
            Self::Leave => "cancel close escape back out",
            Self::NextGap | Self::PreviousGap => "missing empty pocket",
            Self::GoToPage => "jump number",
            Self::PageOn | Self::PageBack => "flip turn page next spread",
            Self::Put => "file insert seat place card",
            Self::Take => "remove card out",
            Self::Acquire => "add bought pulled new copy have got",
            Self::PartWith => "remove sold sell traded given away gave lost lose delete copy part",
            Self::Mark => "select range run",
            Self::Carry | Self::CarryPages => "move drag pick up",
            Self::Arrange => {
                "menu blank keepsake insert page sort reverse gather rarity front format"
            }
            Self::Drafts | Self::NewDraft | Self::EmptyDraft => "plan layout what if reorder",
            Self::Adopt => "put in force apply layout",
            Self::Sections => "rules rares reverses layout order",
            Self::Pile => "type numbers add cards bulk",
            Self::Lists => {
                "want wanted wishlist list missing gaps spares duplicates doubles waiting export"
            }
            Self::Swap => "trade other collector",
            Self::LeaveOut => "drop except untick tick mark not this one",
            Self::WriteOut => "export save csv",
            Self::Supplies => "buy shopping pages sleeves binders cost price rings close fit",
            Self::Work => "file put away walk reorder steps sort",
            Self::Print => "print labels pdf paper want list spine index work sheet",
            Self::History => "steps log changes past",
            Self::Find => "search card number name where title binder go",
            Self::NewSet => "add series begin binder",
            Self::TypeIn => "type flip numbers enter add begin binder",
            Self::Import => "import csv spreadsheet load add checklist copies file",
            Self::Demo => "example try tour sample",
            Self::Undo => "take back revert",
            Self::Redo => "again repeat",
            Self::Help => "keys manual",
            Self::Quit => "exit end program leave",
            Self::Spine => "rename name code title symbol shelf number edit set binder",
            Self::BinderBack | Self::BinderOn => "move order shelf binder sort",
            Self::GiveUp => "remove delete drop sold mistake set binder",
            Self::Mouse => "select text copy",
            Self::CopyOut => "clipboard text",
            _ => "",
        }
    }
}
