//! The one key table. The footer, the help and the keys themselves are read from it.

mod key;

use crossterm::event::{KeyCode, KeyEvent};

use super::intent::Intent;
pub use key::Key;
use key::{ctrl, letter, plain};

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
    /// The list of what was done.
    History,
    Help,
}

/// A line of the table: in a context, a key asks for something. `shown` puts it into the footer,
/// the lowest number first; 0 is for the help only.
#[derive(Clone, Copy, Debug)]
pub struct Binding {
    pub context: Context,
    pub key: Key,
    pub intent: Intent,
    pub shown: u8,
}

const fn bind(context: Context, key: Key, intent: Intent, shown: u8) -> Binding {
    Binding {
        context,
        key,
        intent,
        shown,
    }
}

/// The table. The first key of an intent in a context is the one that is shown.
pub static BINDINGS: &[Binding] = {
    use Context::{
        Binder, Carry, Drafts, File, Find, Form, Help, History, List, Menu, Pile, Print, Prompt,
        Shelf, Swap, SwapFiles, Ways, Work,
    };
    use Intent as I;
    use KeyCode as K;
    &[
        bind(Shelf, plain(K::Enter), I::Accept, 1),
        bind(Shelf, letter('f'), I::Find, 2),
        bind(Shelf, letter('/'), I::Find, 0),
        bind(Shelf, letter('s'), I::NewSet, 3),
        bind(Shelf, letter('u'), I::Undo, 4),
        bind(Shelf, letter('r'), I::Redo, 5),
        bind(Shelf, letter('?'), I::Help, 6),
        bind(Shelf, plain(K::F(1)), I::Help, 0),
        bind(Shelf, letter('q'), I::Quit, 7),
        bind(Shelf, ctrl('c'), I::Quit, 0),
        bind(Shelf, plain(K::Left), I::Left, 0),
        bind(Shelf, plain(K::Right), I::Right, 0),
        bind(Shelf, plain(K::Up), I::Up, 0),
        bind(Shelf, plain(K::Down), I::Down, 0),
        bind(Shelf, plain(K::PageUp), I::PageBack, 0),
        bind(Shelf, plain(K::PageDown), I::PageOn, 0),
        bind(Shelf, plain(K::Home), I::First, 0),
        bind(Shelf, plain(K::End), I::Last, 0),
        bind(Shelf, ctrl('l'), I::Redraw, 0),
        bind(Shelf, ctrl('z'), I::Suspend, 0),
        bind(Binder, plain(K::PageDown), I::PageOn, 1),
        bind(Binder, letter(' '), I::PageOn, 0),
        bind(Binder, plain(K::PageUp), I::PageBack, 0),
        bind(Binder, plain(K::Backspace), I::PageBack, 0),
        bind(Binder, letter('n'), I::NextGap, 2),
        bind(Binder, letter('b'), I::PreviousGap, 0),
        bind(Binder, letter('p'), I::Put, 3),
        bind(Binder, letter('t'), I::Take, 3),
        bind(Binder, letter('+'), I::Acquire, 4),
        bind(Binder, letter('-'), I::PartWith, 11),
        bind(Binder, letter('g'), I::GoToPage, 9),
        bind(Binder, letter('f'), I::Find, 7),
        bind(Binder, letter('/'), I::Find, 0),
        bind(Binder, letter('u'), I::Undo, 8),
        bind(Binder, letter('r'), I::Redo, 12),
        bind(Binder, plain(K::Left), I::Left, 0),
        bind(Binder, plain(K::Right), I::Right, 0),
        bind(Binder, plain(K::Up), I::Up, 0),
        bind(Binder, plain(K::Down), I::Down, 0),
        bind(Binder, plain(K::Home), I::First, 0),
        bind(Binder, plain(K::End), I::Last, 0),
        bind(Binder, letter('m'), I::Mark, 0),
        bind(Binder, letter('c'), I::Carry, 13),
        bind(Binder, letter('C'), I::CarryPages, 14),
        bind(Binder, letter('a'), I::Arrange, 15),
        bind(Binder, letter('d'), I::Drafts, 16),
        bind(Binder, letter('w'), I::Work, 8),
        bind(Shelf, letter('w'), I::Work, 3),
        bind(Shelf, letter('e'), I::Pile, 3),
        bind(Binder, letter('e'), I::Pile, 8),
        bind(Shelf, letter('l'), I::Lists, 6),
        bind(Binder, letter('l'), I::Lists, 17),
        bind(Shelf, letter('x'), I::Swap, 8),
        bind(List, plain(K::Enter), I::Accept, 1),
        bind(List, plain(K::Tab), I::NextField, 2),
        bind(List, plain(K::BackTab), I::PreviousField, 0),
        bind(List, plain(K::F(2)), I::WriteOut, 3),
        bind(List, letter('+'), I::More, 4),
        bind(List, letter('-'), I::Fewer, 4),
        bind(List, plain(K::Up), I::Up, 0),
        bind(List, plain(K::Down), I::Down, 0),
        bind(List, plain(K::PageUp), I::PageBack, 0),
        bind(List, plain(K::PageDown), I::PageOn, 0),
        bind(List, plain(K::F(1)), I::Help, 6),
        bind(List, plain(K::Esc), I::Leave, 5),
        bind(List, ctrl('c'), I::Leave, 0),
        bind(List, ctrl('l'), I::Redraw, 0),
        bind(List, ctrl('z'), I::Suspend, 0),
        bind(File, plain(K::Enter), I::Accept, 1),
        bind(File, plain(K::Esc), I::Leave, 2),
        bind(File, ctrl('c'), I::Leave, 0),
        bind(File, ctrl('l'), I::Redraw, 0),
        bind(File, ctrl('z'), I::Suspend, 0),
        bind(SwapFiles, plain(K::Enter), I::Accept, 1),
        bind(SwapFiles, plain(K::Tab), I::NextField, 2),
        bind(SwapFiles, plain(K::Down), I::NextField, 0),
        bind(SwapFiles, plain(K::BackTab), I::PreviousField, 0),
        bind(SwapFiles, plain(K::Up), I::PreviousField, 0),
        bind(SwapFiles, plain(K::F(1)), I::Help, 4),
        bind(SwapFiles, plain(K::Esc), I::Leave, 3),
        bind(SwapFiles, ctrl('c'), I::Leave, 0),
        bind(SwapFiles, ctrl('l'), I::Redraw, 0),
        bind(SwapFiles, ctrl('z'), I::Suspend, 0),
        bind(Swap, letter('c'), I::CarryOut, 1),
        bind(Swap, letter('y'), I::ByRarity, 2),
        bind(Swap, letter('+'), I::More, 3),
        bind(Swap, letter('-'), I::Fewer, 3),
        bind(Swap, plain(K::F(2)), I::WriteOut, 4),
        bind(Swap, plain(K::Esc), I::Leave, 5),
        bind(Swap, plain(K::Up), I::Up, 0),
        bind(Swap, plain(K::Down), I::Down, 0),
        bind(Swap, plain(K::PageUp), I::PageBack, 0),
        bind(Swap, plain(K::PageDown), I::PageOn, 0),
        bind(Swap, plain(K::Home), I::First, 0),
        bind(Swap, plain(K::End), I::Last, 0),
        bind(Swap, letter('?'), I::Help, 6),
        bind(Swap, plain(K::F(1)), I::Help, 0),
        bind(Swap, letter('q'), I::Leave, 0),
        bind(Swap, ctrl('c'), I::Leave, 0),
        bind(Swap, ctrl('l'), I::Redraw, 0),
        bind(Swap, ctrl('z'), I::Suspend, 0),
        bind(Shelf, letter('P'), I::Print, 9),
        bind(Binder, letter('P'), I::Print, 17),
        bind(Print, plain(K::Enter), I::Accept, 1),
        bind(Print, plain(K::Tab), I::NextField, 2),
        bind(Print, plain(K::Down), I::NextField, 0),
        bind(Print, plain(K::BackTab), I::PreviousField, 0),
        bind(Print, plain(K::Up), I::PreviousField, 0),
        bind(Print, plain(K::Right), I::Right, 3),
        bind(Print, plain(K::Left), I::Left, 0),
        bind(Print, plain(K::PageDown), I::PageOn, 4),
        bind(Print, plain(K::PageUp), I::PageBack, 0),
        bind(Print, plain(K::F(1)), I::Help, 6),
        bind(Print, plain(K::Esc), I::Leave, 5),
        bind(Print, ctrl('c'), I::Leave, 0),
        bind(Print, ctrl('l'), I::Redraw, 0),
        bind(Print, ctrl('z'), I::Suspend, 0),
        bind(Pile, plain(K::Enter), I::Accept, 1),
        bind(Pile, plain(K::Tab), I::NextField, 2),
        bind(Pile, plain(K::Up), I::Up, 3),
        bind(Pile, plain(K::Down), I::Down, 0),
        bind(Pile, plain(K::F(1)), I::Help, 5),
        bind(Pile, plain(K::Esc), I::Leave, 4),
        bind(Pile, ctrl('c'), I::Leave, 0),
        bind(Pile, ctrl('l'), I::Redraw, 0),
        bind(Pile, ctrl('z'), I::Suspend, 0),
        bind(Work, plain(K::Enter), I::Done, 1),
        bind(Work, letter(' '), I::Done, 0),
        bind(Work, letter('x'), I::Skip, 2),
        bind(Work, letter('o'), I::OtherWay, 3),
        bind(Work, letter('u'), I::Undo, 4),
        bind(Work, plain(K::Esc), I::Leave, 5),
        bind(Work, plain(K::Up), I::Up, 0),
        bind(Work, plain(K::Down), I::Down, 0),
        bind(Work, plain(K::PageUp), I::PageBack, 0),
        bind(Work, plain(K::PageDown), I::PageOn, 0),
        bind(Work, plain(K::Home), I::First, 0),
        bind(Work, plain(K::End), I::Last, 0),
        bind(Work, letter('r'), I::Redo, 7),
        bind(Work, letter('?'), I::Help, 6),
        bind(Work, letter('q'), I::Quit, 8),
        bind(Work, ctrl('c'), I::Leave, 0),
        bind(Work, ctrl('l'), I::Redraw, 0),
        bind(Work, ctrl('z'), I::Suspend, 0),
        bind(Ways, plain(K::Enter), I::Accept, 1),
        bind(Ways, letter(' '), I::Accept, 0),
        bind(Ways, plain(K::Up), I::Up, 0),
        bind(Ways, plain(K::Down), I::Down, 0),
        bind(Ways, letter('o'), I::Down, 2),
        bind(Ways, plain(K::Esc), I::Leave, 3),
        bind(Ways, letter('?'), I::Help, 4),
        bind(Ways, letter('q'), I::Quit, 5),
        bind(Ways, ctrl('c'), I::Leave, 0),
        bind(Ways, ctrl('l'), I::Redraw, 0),
        bind(Ways, ctrl('z'), I::Suspend, 0),
        bind(Binder, letter('h'), I::History, 0),
        bind(Shelf, letter('h'), I::History, 0),
        bind(Binder, letter('.'), I::NextBinder, 0),
        bind(Binder, letter(','), I::PreviousBinder, 0),
        bind(Binder, letter('?'), I::Help, 6),
        bind(Binder, plain(K::F(1)), I::Help, 0),
        bind(Binder, plain(K::Esc), I::Leave, 5),
        bind(Binder, letter('q'), I::Quit, 10),
        bind(Binder, ctrl('c'), I::Quit, 0),
        bind(Binder, ctrl('l'), I::Redraw, 0),
        bind(Binder, ctrl('z'), I::Suspend, 0),
        bind(Find, plain(K::Enter), I::Accept, 1),
        bind(Find, plain(K::Up), I::Up, 0),
        bind(Find, plain(K::Down), I::Down, 0),
        bind(Find, plain(K::PageUp), I::PageBack, 0),
        bind(Find, plain(K::PageDown), I::PageOn, 0),
        bind(Find, plain(K::F(1)), I::Help, 0),
        bind(Find, plain(K::Esc), I::Leave, 3),
        bind(Find, ctrl('c'), I::Leave, 0),
        bind(Find, ctrl('l'), I::Redraw, 0),
        bind(Find, ctrl('z'), I::Suspend, 0),
        bind(Form, plain(K::Enter), I::Accept, 1),
        bind(Form, plain(K::Tab), I::NextField, 2),
        bind(Form, plain(K::Down), I::NextField, 0),
        bind(Form, plain(K::BackTab), I::PreviousField, 0),
        bind(Form, plain(K::Up), I::PreviousField, 0),
        bind(Form, plain(K::Left), I::Left, 0),
        bind(Form, plain(K::Right), I::Right, 0),
        bind(Form, plain(K::F(1)), I::Help, 4),
        bind(Form, plain(K::Esc), I::Leave, 3),
        bind(Form, ctrl('c'), I::Leave, 0),
        bind(Form, ctrl('l'), I::Redraw, 0),
        bind(Form, ctrl('z'), I::Suspend, 0),
        bind(Prompt, plain(K::Enter), I::Accept, 1),
        bind(Prompt, plain(K::Esc), I::Leave, 2),
        bind(Prompt, ctrl('c'), I::Leave, 0),
        bind(Prompt, ctrl('l'), I::Redraw, 0),
        bind(Prompt, ctrl('z'), I::Suspend, 0),
        bind(Carry, plain(K::Enter), I::Accept, 1),
        bind(Carry, plain(K::Esc), I::Leave, 2),
        bind(Carry, letter('x'), I::OtherManner, 3),
        bind(Carry, letter('?'), I::Help, 4),
        bind(Carry, plain(K::F(1)), I::Help, 0),
        bind(Carry, plain(K::Left), I::Left, 0),
        bind(Carry, plain(K::Right), I::Right, 0),
        bind(Carry, plain(K::Up), I::Up, 0),
        bind(Carry, plain(K::Down), I::Down, 0),
        bind(Carry, plain(K::PageUp), I::PageBack, 0),
        bind(Carry, plain(K::Backspace), I::PageBack, 0),
        bind(Carry, plain(K::PageDown), I::PageOn, 0),
        bind(Carry, letter(' '), I::PageOn, 0),
        bind(Carry, plain(K::Home), I::First, 0),
        bind(Carry, plain(K::End), I::Last, 0),
        bind(Carry, letter('n'), I::NextGap, 0),
        bind(Carry, letter('b'), I::PreviousGap, 0),
        bind(Carry, ctrl('c'), I::Leave, 0),
        bind(Carry, ctrl('l'), I::Redraw, 0),
        bind(Carry, ctrl('z'), I::Suspend, 0),
        bind(Menu, plain(K::Enter), I::Accept, 1),
        bind(Menu, plain(K::Esc), I::Leave, 2),
        bind(Menu, plain(K::Up), I::Up, 0),
        bind(Menu, plain(K::Down), I::Down, 0),
        bind(Menu, plain(K::Home), I::First, 0),
        bind(Menu, plain(K::End), I::Last, 0),
        bind(Menu, ctrl('c'), I::Leave, 0),
        bind(Menu, ctrl('l'), I::Redraw, 0),
        bind(Menu, ctrl('z'), I::Suspend, 0),
        bind(Drafts, plain(K::Enter), I::Accept, 1),
        bind(Drafts, letter('n'), I::NewDraft, 2),
        bind(Drafts, letter('e'), I::EmptyDraft, 8),
        bind(Drafts, letter('c'), I::CopyDraft, 5),
        bind(Drafts, letter('r'), I::RenameDraft, 7),
        bind(Drafts, letter('x'), I::DropDraft, 6),
        bind(Drafts, letter('a'), I::Adopt, 3),
        bind(Drafts, letter('u'), I::Undo, 9),
        bind(Drafts, plain(K::Esc), I::Leave, 4),
        bind(Drafts, plain(K::Up), I::Up, 0),
        bind(Drafts, plain(K::Down), I::Down, 0),
        bind(Drafts, plain(K::Home), I::First, 0),
        bind(Drafts, plain(K::End), I::Last, 0),
        bind(Drafts, letter('?'), I::Help, 10),
        bind(Drafts, ctrl('c'), I::Leave, 0),
        bind(Drafts, ctrl('l'), I::Redraw, 0),
        bind(Drafts, ctrl('z'), I::Suspend, 0),
        bind(History, plain(K::Enter), I::Accept, 1),
        bind(History, plain(K::Esc), I::Leave, 2),
        bind(History, plain(K::Up), I::Up, 0),
        bind(History, plain(K::Down), I::Down, 0),
        bind(History, plain(K::PageUp), I::PageBack, 0),
        bind(History, plain(K::PageDown), I::PageOn, 0),
        bind(History, plain(K::Home), I::First, 0),
        bind(History, plain(K::End), I::Last, 0),
        bind(History, ctrl('c'), I::Leave, 0),
        bind(History, ctrl('l'), I::Redraw, 0),
        bind(History, ctrl('z'), I::Suspend, 0),
        bind(Help, plain(K::Esc), I::Leave, 1),
        bind(Help, letter('?'), I::Leave, 0),
        bind(Help, plain(K::F(1)), I::Leave, 0),
        bind(Help, letter('q'), I::Leave, 0),
        bind(Help, ctrl('c'), I::Leave, 0),
        bind(Help, plain(K::Up), I::Up, 0),
        bind(Help, plain(K::Down), I::Down, 0),
        bind(Help, plain(K::PageUp), I::PageBack, 0),
        bind(Help, plain(K::PageDown), I::PageOn, 0),
        bind(Help, ctrl('l'), I::Redraw, 0),
        bind(Help, ctrl('z'), I::Suspend, 0),
    ]
};

/// What the key asks for here, if anything.
#[must_use]
pub fn lookup(context: Context, event: &KeyEvent) -> Option<Intent> {
    let key = Key::of(event)?;
    BINDINGS
        .iter()
        .find(|binding| binding.context == context && binding.key == key)
        .map(|binding| binding.intent)
}

/// The intents of a context, each once, with all its keys, in the order of the table.
#[must_use]
pub fn intents(context: Context) -> Vec<(Intent, Vec<Key>, u8)> {
    let mut found: Vec<(Intent, Vec<Key>, u8)> = Vec::new();
    for binding in BINDINGS.iter().filter(|b| b.context == context) {
        match found
            .iter_mut()
            .find(|(intent, ..)| *intent == binding.intent)
        {
            Some((_, keys, _)) => keys.push(binding.key),
            None => found.push((binding.intent, vec![binding.key], binding.shown)),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn no_key_asks_for_two_things_in_one_place() {
        let mut seen = HashSet::new();
        for binding in BINDINGS {
            let fresh = seen.insert((binding.context, binding.key));
            assert!(fresh, "{:?} {} twice", binding.context, binding.key);
        }
    }

    #[test]
    fn what_is_written_for_a_key_is_read_back_as_that_key() {
        for binding in BINDINGS {
            let word = binding.key.to_string();
            assert_eq!(Key::parse(&word), Some(binding.key), "{word}");
        }
    }

    #[test]
    fn every_context_can_be_left_and_drawn_anew() {
        use Context::*;
        for context in [
            Shelf, Binder, Carry, Menu, Drafts, Work, Ways, Pile, List, File, SwapFiles, Swap,
            History, Find, Form, Prompt, Print, Help,
        ] {
            let intents: Vec<_> = intents(context).into_iter().map(|i| i.0).collect();
            let leave = intents.contains(&Intent::Leave) || intents.contains(&Intent::Quit);
            assert!(leave && intents.contains(&Intent::Redraw), "{context:?}");
        }
    }
}
