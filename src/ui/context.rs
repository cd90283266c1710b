//! The places in which keys mean something.

/// Where a key is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Context {
    Shelf,
    Binder,
    /// A list with a text field above it.
    Find,
    /// A form of several lines.
    Form,
    /// One line to type in.
    Prompt,
    /// An open binder with something in hand.
    Carry,
    /// A list of deeds to choose from.
    Menu,
    /// The drafts of a binder.
    Drafts,
    /// The work sheet beside the binder.
    Work,
    /// The ways of going about that work.
    Ways,
    /// A pile of cards is entered.
    Pile,
    /// What is wanted, missing, waiting or spare.
    List,
    /// The name of a file is typed.
    File,
    /// The lists of another collector are named.
    SwapFiles,
    /// The sheet of a swap.
    Swap,
    /// What goes on paper.
    Print,
    /// What the layouts take, and whether binders close.
    Supplies,
    /// The sections of a layout.
    Sections,
    /// The lines of one section.
    Section,
    /// Sections to begin from.
    Templates,
    /// The ways in which a layout can grow.
    Growth,
    /// The list of what was done.
    History,
    /// What stands on the spine of a binder.
    Spine,
    /// A binder is typed in, pocket by pocket.
    TypeIn,
    /// A file comes in.
    Import,
    /// All that can be done, by a few letters.
    Anything,
    Help,
}

impl Context {
    /// Whether letters are text here, or stand for the lines of a list.
    #[must_use]
    pub fn takes_letters(self) -> bool {
        match self {
            Self::Find
            | Self::Form
            | Self::Prompt
            | Self::Menu
            | Self::Pile
            | Self::List
            | Self::File
            | Self::SwapFiles
            | Self::Print
            | Self::TypeIn
            | Self::Import
            | Self::Spine
            | Self::Anything
            | Self::Section => true,
            Self::Shelf
            | Self::Binder
            | Self::Carry
            | Self::Drafts
            | Self::Work
            | Self::Ways
            | Self::Swap
            | Self::Supplies
            | Self::Sections
            | Self::Templates
            | Self::Growth
            | Self::History
            | Self::Help => false,
        }
    }
}
