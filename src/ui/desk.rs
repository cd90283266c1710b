//! What every screen works with: the open session, the theme, the size, the message line.

mod faults;

use std::cell::RefCell;
use std::collections::HashMap;
use std::path::PathBuf;

use ratatui::layout::Rect;

use super::clipboard::{self, Copied};
use super::files;
use super::gallery::Gallery;
use super::intent::Intent;
use super::job::Workers;
use super::keymap::{Context, Keymap};
use super::left::LeftList;
use super::message::{self, Message, Tone};
use super::tallies::Tallies;
use super::theme::Theme;
use crate::hand::Ground;
use crate::model::{Binder, BinderId, BinderTally, Change, Collection, Place, Step};
use crate::plan::Way;
use crate::report::Finder;
use crate::session::{Access, PastStep, Ready, Session, SessionError};
use crate::settings::Settings;
use crate::supplies::PriceList;

/// The least screen on which anything can be shown.
pub(super) const LEAST: (u16, u16) = (24, 6);

/// The finder while its index is made.
#[derive(Debug, Default)]
struct Index {
    finder: Finder,
    is_whole: bool,
}

/// A collection that is put aside, with what belongs to it.
#[derive(Debug)]
struct Aside {
    session: Session,
    prices: PriceList,
    prices_amiss: Vec<String>,
}

/// Shared by all screens.
#[derive(Debug)]
pub(super) struct Desk {
    pub(super) session: Session,
    pub(super) theme: Theme,
    /// The whole terminal.
    pub(super) area: Rect,
    pub(super) keys: Keymap,
    pub(super) message: Option<Message>,
    /// Where each binder was last open.
    pub(super) bookmarks: HashMap<BinderId, Place>,
    /// The draft that was looked at last, by its name.
    pub(super) left_draft: Option<(BinderId, Box<str>)>,
    /// The list that was left to look at a pocket.
    pub(super) left_list: Option<LeftList>,
    /// How work is gone about, as chosen last.
    pub(super) way: Way,
    /// Where files go whose names do not say it.
    pub(super) folder: Option<PathBuf>,
    pub(super) prices: PriceList,
    /// What could not be taken of the price list.
    pub(super) prices_amiss: Vec<String>,
    /// What a person has set for good.
    pub(super) settings: Settings,
    /// The mouse is for the program, not for the terminal's own selection.
    pub(super) mouse: bool,
    /// On its way to the clipboard.
    pub(super) clipboard: Option<String>,
    /// Who works beside the loop; without anybody such work is done at once.
    pub(super) beside: Option<Workers>,
    /// The invented collection was asked for from outside: there is no other to go back to.
    pub(super) has_demo: bool,
    /// The person's own collection while the invented one is shown.
    aside: Option<Aside>,
    /// Where pictures are shown.
    pub(super) gallery: Option<Gallery>,
    /// Built when first needed; taken away when the catalogue may have changed.
    finder: Index,
    tallies: Tallies,
    /// What panics have said of work that was waited for, and that is still to be told.
    faults: RefCell<Vec<String>>,
}

impl Desk {
    pub(super) fn new(session: Session, theme: Theme, area: Rect) -> Self {
        Self {
            session,
            theme,
            area,
            keys: Keymap::default(),
            message: None,
            bookmarks: HashMap::new(),
            folder: None,
            left_draft: None,
            left_list: None,
            way: Way::default(),
            settings: Settings::default(),
            mouse: true,
            clipboard: None,
            beside: None,
            has_demo: false,
            aside: None,
            finder: Index::default(),
            tallies: Tallies::default(),
            faults: RefCell::default(),
            gallery: None,
            prices: PriceList::default(),
            prices_amiss: Vec::new(),
        }
    }

    pub(super) fn collection(&self) -> &Collection {
        self.session.collection()
    }

    /// Where the real binder was last open, or its first pocket.
    pub(super) fn left_at(&self, ground: Ground) -> Place {
        let left = self.bookmarks.get(&ground.binder).copied();
        left.unwrap_or_else(|| ground.place(0, 0))
    }

    /// How far a binder is; a page that is still to be moved counts with its cards.
    pub(super) fn tally(&self, binder: &Binder) -> BinderTally {
        self.tallies.of(binder, self.session.revision())
    }

    /// How far all binders are together; not told where finding it out would keep a key waiting.
    pub(super) fn tally_of_all(&self) -> Option<BinderTally> {
        let revision = self.session.revision();
        self.tallies.of_all(self.collection(), revision)
    }

    /// Whether the person's own collection is put aside for the invented one.
    pub(super) fn is_aside(&self) -> bool {
        self.aside.is_some()
    }

    /// Shows this collection instead; the one before is not touched meanwhile.
    pub(super) fn put_aside(&mut self, session: Session, prices: PriceList) {
        self.aside = Some(Aside {
            session: std::mem::replace(&mut self.session, session),
            prices: std::mem::replace(&mut self.prices, prices),
            prices_amiss: std::mem::take(&mut self.prices_amiss),
        });
        self.forget();
    }

    /// Back to the collection that was put aside, if one was.
    pub(super) fn take_up(&mut self) {
        if let Some(own) = self.aside.take() {
            self.session = own.session;
            self.prices = own.prices;
            self.prices_amiss = own.prices_amiss;
            self.forget();
        }
    }

    /// What was remembered of the collection that was shown.
    fn forget(&mut self) {
        self.bookmarks.clear();
        self.left_draft = None;
        self.left_list = None;
        self.finder = Index::default();
        self.tallies = Tallies::default();
    }

    pub(super) fn can_write(&self) -> bool {
        self.session.access() == Access::Writable
    }

    pub(super) fn say(&mut self, words: impl Into<String>) {
        self.message = Some(Message {
            words: words.into(),
            tone: Tone::Done,
            way: None,
        });
    }

    /// Says what a step that was kept just now comes to, and by which key it is taken back.
    pub(super) fn say_done(&mut self, words: String) {
        let words = message::as_sentence(self.collection(), &words);
        self.say_with(words, Intent::Undo, "takes it back.");
    }

    /// Says what happened, and by which key it is taken back or done again.
    fn say_with(&mut self, label: String, way: Intent, words: &'static str) {
        self.message = Some(Message {
            words: label,
            tone: Tone::Done,
            way: Some((way, words)),
        });
    }

    /// Puts a sentence before what is said already.
    pub(super) fn say_before(&mut self, words: &str) {
        if let Some(message) = &mut self.message {
            message.words = format!("{words} {}", message.words);
        }
    }

    /// The key of an intent, for words on the screen.
    pub(super) fn key(&self, context: Context, intent: Intent) -> String {
        self.keys.word(context, intent)
    }

    pub(super) fn warn(&mut self, words: impl Into<String>) {
        self.message = Some(Message {
            words: words.into(),
            tone: Tone::Amiss,
            way: None,
        });
    }

    /// Words in which `{left}` and `{right}` stand for the keys that choose.
    pub(super) fn with_keys(&self, context: Context, words: &str) -> String {
        words
            .replace("{left}", &self.key(context, Intent::Left))
            .replace("{right}", &self.key(context, Intent::Right))
    }

    /// Sends something to the clipboard with the next frame, and says so.
    pub(super) fn copy_out(&mut self, copied: Option<Copied>) {
        let Some(Copied { what, text }) = copied else {
            return self.say("There is nothing here to copy");
        };
        if text.len() > clipboard::MOST_BYTES {
            let most = clipboard::MOST_BYTES / 1_000;
            return self.warn(format!("Too long for a clipboard: {what}, over {most} kB"));
        }
        self.say(format!("Sent to the terminal's clipboard: {what}"));
        self.clipboard = Some(text);
    }

    /// The mouse to the terminal, or back.
    pub(super) fn switch_mouse(&mut self, context: Context) {
        self.mouse = !self.mouse;
        let key = self.key(context, Intent::Mouse);
        self.say(if self.mouse {
            "The mouse works here again".into()
        } else {
            format!("The mouse is left to the terminal: select with it. {key} takes it back")
        });
    }

    /// The part of the screen above the message line and the footer.
    pub(super) fn body(&self) -> Rect {
        Rect {
            height: self.area.height.saturating_sub(self.chrome()),
            ..self.area
        }
    }

    /// Lines at the foot: message and keys; on a low screen they share one.
    pub(super) fn chrome(&self) -> u16 {
        if self.area.height < 12 { 1 } else { 2 }
    }

    /// The file of this name, in the folder that the program was begun in.
    pub(super) fn outside_path(&self, name: &str) -> Result<PathBuf, String> {
        if name.trim().is_empty() {
            return Err("The file needs a name".into());
        }
        let path = files::path(name);
        if path.is_absolute() {
            return Ok(path);
        }
        let folder = self.folder.as_ref();
        let folder = folder.ok_or("There is no folder to write into: name the whole path")?;
        Ok(folder.join(path))
    }

    /// The finder, with the collection that it is of, when its index is whole; until then each
    /// call takes this many more cards into it.
    pub(super) fn finder(&mut self, cards: usize) -> Option<(&Finder, &Collection)> {
        let collection = self.session.collection();
        let index = &mut self.finder;
        index.is_whole = index.is_whole || index.finder.take_in(collection, cards);
        index.is_whole.then_some((&index.finder, collection))
    }

    pub(super) fn has_finder(&self) -> bool {
        self.finder.is_whole
    }

    /// Keeps a step and says so; a step that could not be kept is told and has changed nothing.
    /// Tells whether it was kept.
    pub(super) fn commit(&mut self, step: Step) -> bool {
        let (label, catalogue) = (step.label.clone(), touches_sets(&step));
        let kept = self.session.commit(step);
        self.told_of(label, catalogue, kept).is_some()
    }

    /// The same of a step that was made ready beside the loop, on the collection as it was then.
    pub(super) fn commit_ready(&mut self, ready: Ready, revision: u64) -> bool {
        let step = ready.step();
        let (label, catalogue) = (step.label.clone(), touches_sets(step));
        let kept = self.session.commit_ready(ready, revision);
        let Some(left) = self.told_of(label, catalogue, kept) else {
            return false;
        };
        // A million pockets take a while to be let go.
        match &self.beside {
            Some(beside) => beside.does(move || drop(left)),
            None => drop(left),
        }
        true
    }

    /// Says what became of a step.
    fn told_of<T>(
        &mut self,
        label: String,
        catalogue: bool,
        kept: Result<T, SessionError>,
    ) -> Option<T> {
        match kept {
            Ok(kept) => {
                if catalogue {
                    self.finder = Index::default();
                }
                self.say_done(label);
                Some(kept)
            }
            Err(error) => {
                self.warn(format!("Not done: {error}"));
                None
            }
        }
    }

    /// Takes the last step back and says so; or says why not. Tells whether it was taken back.
    pub(super) fn undo(&mut self) -> bool {
        self.finder = Index::default();
        match self.session.undo() {
            Ok(Some(told)) => {
                let label = format!("Taken back: {}", when(&told));
                self.say_with(label, Intent::Redo, "does it again.");
                return true;
            }
            Ok(None) => self.warn("There is nothing to take back"),
            Err(error) => self.warn(format!("Not taken back: {error}")),
        }
        false
    }

    /// Does the step again that was taken back last, and says so; or says why not. Tells whether
    /// it was done again.
    pub(super) fn redo(&mut self) -> bool {
        self.finder = Index::default();
        match self.session.redo() {
            Ok(Some(told)) => {
                let label = format!("Done again: {}", when(&told));
                self.say_with(label, Intent::Undo, "takes it back.");
                return true;
            }
            Ok(None) => self.warn("There is nothing to do again"),
            Err(error) => self.warn(format!("Not done again: {error}")),
        }
        false
    }
}

/// Whether what can be found by its name may have changed.
fn touches_sets(step: &Step) -> bool {
    step.changes.iter().any(Change::touches_sets)
}

/// The step's words, with the day it was done where that is known.
fn when(told: &PastStep) -> String {
    let day = told.at.as_deref().and_then(|at| at.get(..10));
    match day {
        Some(day) => format!("{} ({day})", told.label),
        None => told.label.clone(),
    }
}
