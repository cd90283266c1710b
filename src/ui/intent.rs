//! What a person wants: the one thing between a key or a mouse button and its effect.

mod kinds;

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

    /// A sentence for the help.
    #[must_use]
    pub fn sentence(self, context: Context) -> &'static str {
        use Context::{Binder, Carry, Sections, Shelf};
        let is_list = !matches!(context, Shelf | Binder | Carry | Sections);
        match self {
            Self::Accept if context == Sections => "edit the section",
            Self::Undo if context == Sections => "take the last edit of the sections back",
            Self::Accept if context == Context::TypeIn => {
                "the card of this number lies in this pocket"
            }
            Self::NextField if context == Context::TypeIn => "the pocket is empty: on to the next",
            Self::PreviousField if context == Context::TypeIn => "back to the pocket before",
            Self::PageOn if context == Context::TypeIn => "to the next page",
            Self::PageBack if context == Context::TypeIn => "to the page before",
            Self::Up if context == Context::TypeIn => "take the last card back and correct it",
            Self::Leave if context == Context::TypeIn => "stop; all is kept, go on at any time",
            Self::NextField if context == Context::List => "to the next list",
            Self::PreviousField if context == Context::List => "to the list before",
            Self::NextField if context == Context::Pile => "choose another set",
            Self::Up if context == Context::Pile => "take the last entry back and correct it",
            Self::PageOn if context == Context::Print => "to the next sheet",
            Self::PageBack if context == Context::Print => "to the sheet before",
            Self::First if context == Shelf => "to the first binder",
            Self::Last if context == Shelf => "to the last binder",
            Self::PageBack if is_list || context == Shelf => "a screenful up",
            Self::PageOn if is_list || context == Shelf => "a screenful down",
            Self::First if is_list => "to the first line",
            Self::Last if is_list => "to the last line",
            Self::Left if context == Shelf => "to the binder at the left",
            Self::Right if context == Shelf => "to the binder at the right",
            Self::Left if is_list || context == Sections => "the choice before",
            Self::Right if is_list || context == Sections => "the next choice",
            Self::Left => "move left; from the edge of a page to the page beside it",
            Self::Right => "move right; from the edge of a page to the page beside it",
            Self::Up => "move up",
            Self::Down => "move down",
            Self::PageBack => "turn the page back",
            Self::PageOn => "turn the page",
            Self::First => "to the first page, or the first of a list",
            Self::Last => "to the last page, or the last of a list",
            Self::Accept if is_list => self.word(context),
            Self::Accept if context == Carry => "put it down here",
            Self::Accept => "open the binder that is chosen",
            Self::Leave if context == Carry => "put it back where it was",
            Self::Leave if context == Binder => {
                "close it: to the shelf, from a draft to the real binder"
            }
            Self::Leave => "close this; nothing is lost",
            Self::NextGap => "to the next gap of this binder",
            Self::PreviousGap => "to the gap before",
            Self::GoToPage => "type a page number and go there",
            Self::NextBinder => "open the next binder on the shelf",
            Self::PreviousBinder => "open the binder before",
            Self::Put => "put a loose copy into the pocket that is meant for it",
            Self::Take => "take the card out of the pocket; the copy becomes loose",
            Self::Acquire => "a new copy came in: into this gap, else loose",
            Self::PartWith => "a loose copy of this card leaves the collection",
            Self::Mark => "mark pockets: from here to where the cursor goes",
            Self::Carry => "pick up the card, or the marked ones, and carry them",
            Self::CarryPages => "pick up the page, or the marked pages, and carry them",
            Self::SwapOrPush => "put down by swapping, or by pushing the others along",
            Self::Arrange => "what can be done to pages and pockets here",
            Self::Drafts => "the drafts of this binder, with what each would cost",
            Self::NewDraft => "begin a draft from the layout",
            Self::EmptyDraft => "begin a draft with this binder's pages, all pockets free",
            Self::CopyDraft => "begin a draft as a copy of this one",
            Self::RenameDraft => "give the draft another name",
            Self::DropDraft => "throw the draft away",
            Self::Adopt => "adopt the draft as the layout; the cards follow as you work",
            Self::Sections => "lay the binder out by sections: rules that make a draft",
            Self::AddSection => "a new section behind this one",
            Self::DropSection => "take the section out",
            Self::Spine => "change what the spine says, or the set's code",
            Self::BinderBack => "carry the binder to the left on the shelf",
            Self::BinderOn => "carry the binder to the right on the shelf",
            Self::GiveUp => "take the binder off the shelf, alone or with its set",
            Self::SectionUp => "carry the section up",
            Self::SectionDown => "carry the section down",
            Self::Templates => "begin from one of the usual ways, or from one of your own",
            Self::SaveTemplate => "keep these sections under a name, for other sets too",
            Self::DropTemplate => "throw this template of your own away",
            Self::MakeDraft => "make a draft by these sections, or make it again",
            Self::KeepSections => "keep these sections with the binder, which stands as they say",
            Self::CompareGrowth => "after the set has grown: leave what lies, or all in order",
            Self::Pile => "enter a pile of cards, number by number",
            Self::Lists => "lists of wants, gaps, waiting copies and spares",
            Self::Swap => "swap with another collector, from files of their lists",
            Self::WriteOut => "write what is shown to a file, never over another",
            Self::More => "keep one spare copy more of each card",
            Self::Fewer => "keep one spare copy fewer of each card",
            Self::ByRarity => "swap only within a rarity, or any card for any",
            Self::CarryOut => "the swap is made: what you gave leaves, what you got is loose",
            Self::Supplies => "pages, binders, sleeves: how many, what fits, the cost",
            Self::OtherDraft => "count the chosen binder by its next draft or its layout",
            Self::DraftBefore => "count it by the draft before",
            Self::OtherTable => "the shopping list, or ways to keep the cards",
            Self::Sleeves => "cards without sleeves, with one, with two",
            Self::AsIfNew => "count from what is there, or from nothing",
            Self::Rings => "say the size and shape of the chosen binder's rings",
            Self::Work => "the work sheet: step by step until all lies as planned",
            Self::Done => "this is done, and all above the chosen line",
            Self::Skip => "leave it for later: the card cannot be found",
            Self::OtherWay => "choose again: two passes or hand to hand, pages moved or left",
            Self::Print => "labels, lists and sheets on paper",
            Self::CopyOut => "copy what is chosen, as words, to the clipboard",
            Self::Mouse => "leave the mouse to the terminal, or take it back",
            Self::History => "what was done, and going back to any point of it",
            Self::Find => "find a card by number or name, or a binder by its title",
            Self::NewSet => "begin a set: its code, title and numbers",
            Self::TypeIn if context == Shelf => {
                "begin a binder: type each card as you flip through it"
            }
            Self::TypeIn => "type each card as it lies in its pocket, from here on",
            Self::Import => "take in a CSV file: a checklist, or what you own",
            Self::Demo => "look around in an invented collection; nothing of it is kept",
            Self::NextField => "to the next line of the form",
            Self::PreviousField => "to the line before",
            Self::Undo => "undo: take the last step back, also one from another day",
            Self::Redo => "redo: do the step again that was taken back",
            Self::Anything => "find by a few letters whatever else can be done",
            Self::Help => "show or hide this help",
            Self::Redraw => "draw the screen again",
            Self::Suspend => "go to the shell; `fg` brings you back",
            Self::Quit => "leave; everything is kept already",
        }
    }
}
