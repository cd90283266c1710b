//! The screens, as a stack: the shelf at the bottom, an open binder on it, windows above.

pub(super) mod ask;
pub(super) mod binder;
pub(super) mod drafts;
pub(super) mod find;
pub(super) mod help;
pub(super) mod history;
pub(super) mod list;
pub(super) mod menu;
pub(super) mod new_set;
pub(super) mod pile;
pub(super) mod print;
pub(super) mod sections;
pub(super) mod shelf;
pub(super) mod supplies;
pub(super) mod swap;
pub(super) mod work;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::desk::{Desk, Tone};
use super::intent::Intent;
use super::keymap::Context;
use crate::hand::Ground;
use crate::model::Place;

/// One screen of the stack.
#[derive(Debug)]
pub(super) enum Screen {
    Shelf(shelf::Shelf),
    Binder(binder::OpenBinder),
    Find(find::Find),
    NewSet(Box<new_set::NewSet>),
    Ask(ask::Ask),
    Menu(menu::Menu),
    Drafts(drafts::Drafts),
    History(history::History),
    Work(Box<work::Work>),
    Pile(Box<pile::Pile>),
    Print(Box<print::Print>),
    List(Box<list::List>),
    Swap(Box<swap::Swap>),
    Supplies(Box<supplies::Supplies>),
    Sections(Box<sections::Sections>),
    Help(help::Help),
}

/// What follows from an intent or a click.
#[derive(Debug)]
pub(super) enum Next {
    Stay,
    Close,
    Open(Screen),
    /// Closes the window, and then as if this had been asked for.
    CloseAnd(Intent),
    /// Another screen in the place of this one.
    Instead(Screen),
    /// Closes what is above the shelf and opens the binder or the draft there.
    GoTo(Ground, Place),
    /// The binder under this window is shown on this ground from now on.
    Under(Ground),
}

/// A mouse button or the wheel, at a cell of the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mouse {
    Left,
    Right,
    Drag,
    Release,
    WheelUp,
    WheelDown,
}

impl Screen {
    pub(super) fn context(&self) -> Context {
        match self {
            Self::Shelf(_) => Context::Shelf,
            Self::Binder(open) if open.is_carrying() => Context::Carry,
            Self::Binder(_) => Context::Binder,
            Self::Find(_) => Context::Find,
            Self::NewSet(_) => Context::Form,
            Self::Ask(_) => Context::Prompt,
            Self::Menu(_) => Context::Menu,
            Self::Drafts(_) => Context::Drafts,
            Self::History(_) => Context::History,
            Self::Work(work) if work.is_choosing() => Context::Ways,
            Self::Work(_) => Context::Work,
            Self::Pile(_) => Context::Pile,
            Self::Print(_) => Context::Print,
            Self::List(list) if list.is_asking() => Context::File,
            Self::List(_) => Context::List,
            Self::Swap(swap) if swap.is_asking() => Context::File,
            Self::Swap(swap) if swap.is_form() => Context::SwapFiles,
            Self::Swap(_) => Context::Swap,
            Self::Supplies(_) => Context::Supplies,
            Self::Sections(screen) => screen.context(),
            Self::Help(_) => Context::Help,
        }
    }

    /// Whether the screen fills the terminal; others are windows over one that does.
    pub(super) fn is_full(&self) -> bool {
        matches!(
            self,
            Self::Shelf(_)
                | Self::Binder(_)
                | Self::Work(_)
                | Self::Pile(_)
                | Self::List(_)
                | Self::Swap(_)
                | Self::Print(_)
                | Self::Supplies(_)
                | Self::Sections(_)
        )
    }

    /// Whether the intent can be carried out here and now.
    pub(super) fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match self {
            Self::Shelf(screen) => screen.can(desk, intent),
            Self::Binder(screen) => screen.can(desk, intent),
            Self::Drafts(screen) => screen.can(intent),
            Self::Work(screen) => screen.can(desk, intent),
            Self::List(screen) => screen.can(intent),
            Self::Swap(screen) => screen.can(desk, intent),
            Self::Supplies(screen) => screen.can(desk, intent),
            Self::Sections(screen) => screen.can(desk, intent),
            _ => true,
        }
    }

    pub(super) fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match self {
            Self::Shelf(screen) => screen.act(desk, intent),
            Self::Binder(screen) => screen.act(desk, intent),
            Self::Find(screen) => screen.act(desk, intent),
            Self::NewSet(screen) => screen.act(desk, intent),
            Self::Ask(screen) => screen.act(desk, intent),
            Self::Menu(screen) => screen.act(desk, intent),
            Self::Drafts(screen) => screen.act(desk, intent),
            Self::History(screen) => screen.act(desk, intent),
            Self::Work(screen) => screen.act(desk, intent),
            Self::Pile(screen) => screen.act(desk, intent),
            Self::Print(screen) => screen.act(desk, intent),
            Self::List(screen) => screen.act(desk, intent),
            Self::Swap(screen) => screen.act(desk, intent),
            Self::Supplies(screen) => screen.act(desk, intent),
            Self::Sections(screen) => screen.act(desk, intent),
            Self::Help(screen) => screen.act(desk, intent),
        }
    }

    /// A key that the table does not know here: text for a field, a letter of a list.
    pub(super) fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        match self {
            Self::Find(screen) => screen.key(desk, event),
            Self::NewSet(screen) => screen.key(event),
            Self::Ask(screen) => screen.key(event),
            Self::Pile(screen) => screen.key(desk, event),
            Self::Print(screen) => screen.key(desk, event),
            Self::List(screen) => screen.key(desk, event),
            Self::Swap(screen) => screen.key(event),
            Self::Sections(screen) => screen.key(desk, event),
            Self::Menu(screen) => return screen.key(desk, event),
            _ => {}
        }
        Next::Stay
    }

    /// Pasted text, for a field.
    pub(super) fn paste(&mut self, desk: &mut Desk, words: &str) {
        match self {
            Self::Find(screen) => screen.paste(desk, words),
            Self::NewSet(screen) => screen.paste(words),
            Self::Ask(screen) => screen.paste(words),
            Self::Pile(screen) => screen.paste(desk, words),
            Self::Print(screen) => screen.paste(desk, words),
            Self::List(screen) => screen.paste(desk, words),
            Self::Swap(screen) => screen.paste(words),
            Self::Sections(screen) => screen.paste(desk, words),
            _ => {}
        }
    }

    /// What the screen has to say of its own on the message line.
    pub(super) fn says(&self) -> Option<(String, Tone)> {
        let Self::Binder(open) = self else {
            return None;
        };
        Some(match open.in_hand()? {
            Ok(words) => (words, Tone::Done),
            Err(why) => (format!("In hand. Not here: {why}"), Tone::Amiss),
        })
    }

    /// Whether there is a field to type in.
    pub(super) fn has_field(&self) -> bool {
        match self {
            Self::Find(_)
            | Self::NewSet(_)
            | Self::Ask(_)
            | Self::Pile(_)
            | Self::List(_)
            | Self::Print(_) => true,
            Self::Swap(screen) => screen.has_field(),
            Self::Sections(screen) => screen.has_field(),
            _ => false,
        }
    }

    /// Whether the wheel goes up and down as the arrows do.
    fn is_stepped(&self) -> bool {
        matches!(
            self,
            Self::Shelf(_)
                | Self::Find(_)
                | Self::Menu(_)
                | Self::Drafts(_)
                | Self::History(_)
                | Self::Work(_)
                | Self::List(_)
                | Self::Supplies(_)
                | Self::Help(_)
        )
    }

    pub(super) fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp if self.is_stepped() => return self.act(desk, Intent::Up),
            Mouse::WheelDown if self.is_stepped() => return self.act(desk, Intent::Down),
            _ => {}
        }
        match self {
            Self::Shelf(screen) => screen.mouse(desk, mouse, at),
            Self::Binder(screen) => screen.mouse(desk, mouse, at),
            Self::Find(screen) => screen.mouse(desk, mouse, at),
            Self::NewSet(screen) => screen.mouse(desk, mouse, at),
            Self::Help(screen) => screen.mouse(desk, mouse, at),
            Self::Menu(screen) => screen.mouse(desk, mouse, at),
            Self::Drafts(screen) => screen.mouse(desk, mouse, at),
            Self::Work(screen) => screen.mouse(desk, mouse, at),
            Self::Pile(screen) => screen.mouse(desk, mouse, at),
            Self::Print(screen) => screen.mouse(desk, mouse, at),
            Self::List(screen) => screen.mouse(desk, mouse, at),
            Self::Swap(screen) => screen.mouse(desk, mouse, at),
            Self::Supplies(screen) => screen.mouse(desk, mouse, at),
            Self::Sections(screen) => screen.mouse(desk, mouse, at),
            Self::Ask(_) | Self::History(_) => Next::Stay,
        }
    }

    pub(super) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        match self {
            Self::Shelf(screen) => screen.draw(desk, buf),
            Self::Binder(screen) => screen.draw(desk, buf),
            Self::Find(screen) => screen.draw(desk, buf),
            Self::NewSet(screen) => screen.draw(desk, buf),
            Self::Ask(screen) => screen.draw(desk, buf),
            Self::Menu(screen) => screen.draw(desk, buf),
            Self::Drafts(screen) => screen.draw(desk, buf),
            Self::History(screen) => screen.draw(desk, buf),
            Self::Work(screen) => screen.draw(desk, buf),
            Self::Pile(screen) => screen.draw(desk, buf),
            Self::Print(screen) => screen.draw(desk, buf),
            Self::List(screen) => screen.draw(desk, buf),
            Self::Swap(screen) => screen.draw(desk, buf),
            Self::Supplies(screen) => screen.draw(desk, buf),
            Self::Sections(screen) => screen.draw(desk, buf),
            Self::Help(screen) => screen.draw(desk, buf),
        }
    }
}
