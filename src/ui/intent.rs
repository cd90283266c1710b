//! What a person wants: the one thing between a key or a mouse button and its effect.

mod kinds;
mod sentence;

use super::context::Context;

/// Everything that can be asked for on a screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Intent {
    Left,
    Right,
    Up,
    Down,
    /// The spread or the side before, or a screenful up.
    PageBack,
    /// The spread or the side after, or a screenful down.
    PageOn,
    First,
    Last,
    /// Opens what is under the cursor, or accepts what was typed.
    Accept,
    /// Leaves the present screen or field.
    Leave,
    NextGap,
    PreviousGap,
    GoToPage,
    NextBinder,
    PreviousBinder,
    /// A loose copy goes into the pocket under the cursor.
    Put,
    /// The copy in the pocket under the cursor comes out.
    Take,
    /// A copy that is new to the collection: into the pocket if it is a gap, otherwise loose.
    Acquire,
    /// One loose copy leaves the collection.
    PartWith,
    /// The run of pockets or pages from here on is marked as the cursor moves.
    Mark,
    /// The card under the cursor, or the marked run, is picked up.
    Carry,
    /// The page under the cursor, or the marked run of pages, is picked up.
    CarryPages,
    /// What is in hand is put down by swapping instead of pushing along, or the other way.
    SwapOrPush,
    /// The list of what can be done to pages and pockets here.
    Arrange,
    /// The drafts of this binder.
    Drafts,
    NewDraft,
    EmptyDraft,
    CopyDraft,
    RenameDraft,
    DropDraft,
    Adopt,
    /// The sections of this binder: rules from which a draft is made.
    Sections,
    AddSection,
    DropSection,
    /// What stands on the spine of the binder is written anew.
    Spine,
    /// The binder changes its place on the shelf.
    BinderBack,
    BinderOn,
    /// The binder is taken off the shelf, and its set out of the collection.
    GiveUp,
    SectionUp,
    SectionDown,
    /// Sections to begin from.
    Templates,
    /// These sections under a name of one's own.
    SaveTemplate,
    DropTemplate,
    /// A draft is made, or made anew, by the sections.
    MakeDraft,
    /// The sections are kept with the binder, without a draft.
    KeepSections,
    /// Keeping places against all in order.
    CompareGrowth,
    /// A pile of cards is entered, number by number.
    Pile,
    /// What is wanted, missing, waiting or spare, as a list.
    Lists,
    /// A swap with another collector.
    Swap,
    /// What is shown goes to a file.
    WriteOut,
    /// One copy more of each card is kept, or one fewer.
    More,
    Fewer,
    /// A card only for one of the same rarity, or any for any.
    ByRarity,
    /// A pair of a swap is left out, or taken in again.
    LeaveOut,
    /// What was agreed on has been done.
    CarryOut,
    /// What the layouts take of pages, binders and sleeves; whether binders close.
    Supplies,
    /// The chosen binder is counted by its next draft, or by its layout again.
    OtherDraft,
    DraftBefore,
    /// What is to be bought, or ways side by side.
    OtherTable,
    /// Cards without sleeve, with one, with two.
    Sleeves,
    /// Counted from what is there, or from nothing.
    AsIfNew,
    /// The size and shape of the chosen binder's rings.
    Rings,
    /// The work sheet: what is to be done so that the cards lie as the layout says.
    Work,
    /// The deed, or all up to the chosen one, has been done.
    Done,
    /// The deed is left for later: the card cannot be found.
    Skip,
    /// The other way of working.
    OtherWay,
    /// Labels, lists and sheets on paper.
    Print,
    /// The list of what was done.
    History,
    /// What is chosen goes to the clipboard of the terminal.
    CopyOut,
    /// The mouse is for the program, or for the terminal's own selection.
    Mouse,
    Find,
    NewSet,
    /// A binder is typed in as one flips: a new one, or from the pocket under the cursor on.
    TypeIn,
    /// A CSV file comes in.
    Import,
    /// The invented collection, or back from it.
    Demo,
    NextField,
    PreviousField,
    Undo,
    Redo,
    /// All that can be done, here and elsewhere, by a few letters.
    Anything,
    Help,
    Redraw,
    Suspend,
    Quit,
}

impl Intent {
    /// Two or three words for the footer of a screen.
    #[must_use]
    pub fn word(self, context: Context) -> &'static str {
        match self {
            Self::NextField if context == Context::List => "next list",
            Self::Accept if context == Context::SwapFiles => "read them",
            Self::Accept if context == Context::File => "write",
            Self::Leave if matches!(context, Context::Swap | Context::File) => "back",
            Self::Accept if context == Context::Print => "write it",
            Self::Right if context == Context::Print => "choose",
            Self::PageOn if context == Context::Print => "next sheet",
            Self::Accept if context == Context::Pile => "add it",
            Self::Accept if context == Context::Ways => "begin",
            Self::Down if context == Context::Ways => "next way",
            Self::NextField if context == Context::Pile => "another set",
            Self::Up if context == Context::Pile => "correct the last",
            Self::Accept if context == Context::Form => "begin the set",
            Self::Accept if context == Context::TypeIn => "it lies here",
            Self::NextField if context == Context::TypeIn => "empty pocket",
            Self::PreviousField if context == Context::TypeIn => "pocket before",
            Self::Up if context == Context::TypeIn => "correct",
            Self::Leave if context == Context::TypeIn => "stop here",
            Self::Accept if context == Context::Import => "take it in",
            Self::Accept if context == Context::Spine => "write it",
            Self::Left | Self::Right if context == Context::Import => "choose",
            Self::Accept if context == Context::Sections => "edit",
            Self::Accept if context == Context::Section => "done",
            Self::Accept if context == Context::Templates => "begin with it",
            Self::Accept if context == Context::Growth => "make it a draft",
            Self::Left | Self::Right if context == Context::Section => "choose",
            Self::Leave if context == Context::Section => "back",
            Self::Accept if context == Context::Carry => "put down",
            Self::Accept if context == Context::History => "go back to it",
            Self::Accept
                if matches!(context, Context::Menu | Context::Prompt | Context::Anything) =>
            {
                "do it"
            }
            Self::Accept if matches!(context, Context::Find | Context::List) => "go there",
            Self::Leave if context == Context::Binder => "shelf",
            Self::Leave if context == Context::Carry => "put back",
            Self::Left => "left",
            Self::Right => "right",
            Self::Up => "up",
            Self::Down => "down",
            Self::PageBack => "turn back",
            Self::PageOn => "turn",
            Self::First => "first",
            Self::Last => "last",
            Self::Accept => "open",
            Self::Leave => "close",
            Self::NextGap => "next gap",
            Self::PreviousGap => "gap before",
            Self::GoToPage => "go to page",
            Self::NextBinder => "next binder",
            Self::PreviousBinder => "binder before",
            Self::Put => "put in",
            Self::Take => "take out",
            Self::Acquire => "one more",
            Self::PartWith => "one less",
            Self::Mark => "mark",
            Self::Carry => "carry",
            Self::CarryPages => "carry page",
            Self::SwapOrPush => "swap or push",
            Self::Arrange => "arrange",
            Self::Drafts => "drafts",
            Self::NewDraft => "new from layout",
            Self::EmptyDraft => "new empty",
            Self::CopyDraft => "copy",
            Self::RenameDraft => "rename",
            Self::DropDraft => "throw away",
            Self::Adopt => "adopt",
            Self::Sections => "by sections",
            Self::AddSection => "new",
            Self::DropSection => "take out",
            Self::Spine => "spine",
            Self::BinderBack => "to the left",
            Self::BinderOn => "to the right",
            Self::GiveUp => "give up",
            Self::SectionUp => "up",
            Self::SectionDown => "down",
            Self::Templates => "templates",
            Self::SaveTemplate => "save as own",
            Self::DropTemplate => "throw away",
            Self::MakeDraft => "make a draft",
            Self::KeepSections => "keep",
            Self::CompareGrowth => "set has grown",
            Self::Pile => "enter a pile",
            Self::Lists => "lists",
            Self::Swap => "swap",
            Self::WriteOut => "to a file",
            Self::More => "keep more",
            Self::Fewer => "keep fewer",
            Self::ByRarity => "same rarity or any",
            Self::LeaveOut => "leave out",
            Self::CarryOut => "carry out",
            Self::Work if context == Context::Shelf => "work",
            Self::Supplies => "supplies",
            Self::OtherDraft => "by a draft",
            Self::DraftBefore => "by the draft before",
            Self::OtherTable => "compare ways",
            Self::Sleeves => "sleeves",
            Self::AsIfNew => "from nothing",
            Self::Rings => "rings",
            Self::Work => "work sheet",
            Self::Done => "done",
            Self::Skip => "cannot find it",
            Self::OtherWay => "another way",
            Self::Print => "on paper",
            Self::History => "what was done",
            Self::CopyOut => "copy",
            Self::Mouse => "mouse on or off",
            Self::Find => "find",
            Self::NewSet => "new set",
            Self::TypeIn => "type in",
            Self::Import => "from a file",
            Self::Demo => "demo",
            Self::NextField => "next line",
            Self::PreviousField => "line before",
            Self::Undo => "undo",
            Self::Redo => "redo",
            Self::Anything => "anything else",
            Self::Help => "help",
            Self::Redraw => "draw again",
            Self::Suspend => "to the shell",
            Self::Quit => "quit",
        }
    }
}
