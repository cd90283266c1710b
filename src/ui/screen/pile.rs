//! Entering a pile of cards: choose a set, then a number and Enter a card. The answer stands at
//! once: which pocket, whether it fills a gap, and how far the set is now. What was entered is
//! kept with each Enter.

mod answer;
mod draw;
mod pasted;

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::intake::{Entry, choose_set, named_set, pile_step, read_line, read_lines};
use crate::model::{Collection, Place, PocketState, PrintingId, SetId};
use crate::report::{self, SetCompletion};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::spread::Spread;
use answer::{Entered, answer};
use pasted::Refused;

/// The most entries that are kept in view.
const MOST: usize = 50;

/// One step that was kept, as it is taken back.
#[derive(Clone, Debug)]
struct Kept {
    /// The set that was chosen.
    set: Option<SetId>,
    /// What was typed; a pasted list was not.
    typed: Option<String>,
    words: String,
    cards: u32,
    /// How many of what is in view came with it.
    seen: usize,
}

/// The entry screen.
#[derive(Debug, Default)]
pub(crate) struct Pile {
    field: Field,
    set: Option<SetId>,
    /// A set is being chosen, not a card entered.
    choosing: bool,
    candidates: Vec<SetId>,
    chosen: usize,
    /// What was entered, newest last.
    entered: Vec<Entered>,
    /// The steps of them, newest last.
    kept: Vec<Kept>,
    /// What was not taken of the list that was pasted last.
    refused: Refused,
    cards: u32,
    /// How far the set is that was chosen, or whose card was entered last.
    far: Option<SetCompletion>,
    /// The binder opened at the last card's pocket.
    behind: Option<Spread>,
}

impl Pile {
    /// With the set of the open binder chosen, if there is one.
    pub(crate) fn of(desk: &Desk, set: Option<SetId>) -> Self {
        let mut pile = Self {
            set,
            choosing: set.is_none(),
            ..Self::default()
        };
        pile.recount(desk.collection());
        pile.look(desk);
        pile
    }

    fn look(&mut self, desk: &Desk) {
        self.chosen = 0;
        if self.choosing {
            let collection = desk.collection();
            self.candidates = match (self.field.value().trim(), self.set) {
                // Until something is typed all of them are there to choose from.
                ("", _) => collection.sets().map(|(id, _)| id).collect(),
                (typed, _) => choose_set(collection, typed),
            };
        }
    }

    fn choose(&mut self, desk: &Desk, set: Option<SetId>) {
        self.set = set;
        self.recount(desk.collection());
        self.choosing = set.is_none();
        self.field = Field::default();
        self.candidates.clear();
    }

    fn enter(&mut self, desk: &mut Desk) {
        let typed = self.field.value().trim().to_owned();
        match read_line(desk.collection(), self.set, &typed) {
            Err(why) => {
                let named = named_set(desk.collection(), &typed);
                if let Some(set) = named.and_then(|id| desk.collection().set(id)) {
                    let words = format!("{} {}", set.code(), set.title());
                    desk.say(format!("The cards of {} come next", words.trim()));
                    return self.choose(desk, named);
                }
                // The next number does not run into the wrong one.
                self.field.begin_anew();
                desk.warn(text::sentence(why));
            }
            Ok(entry) => {
                let words = hand::named(desk.collection(), entry.printing);
                let times = match entry.count {
                    1 => String::new(),
                    many => format!(" x{many}"),
                };
                let step = pile_step(format!("{words}{times} came in"), [&entry]);
                if desk.commit(step) {
                    desk.message = None;
                    self.field = Field::default();
                    self.tell(desk, &[entry]);
                    let words = self.entered.last().map(|last| last.words.clone());
                    self.keep(Kept {
                        set: self.set,
                        typed: Some(typed),
                        words: words.unwrap_or_default(),
                        cards: entry.count,
                        seen: 1,
                    });
                }
            }
        }
    }

    /// Says what became of entries that have been kept. One that is out of view at once is not
    /// told.
    fn tell(&mut self, desk: &Desk, entries: &[Entry]) {
        let by_pages = hand::by_pages(desk.collection(), None);
        let mut shown = None;
        for entry in &entries[entries.len().saturating_sub(MOST)..] {
            let (told, place) = answer(&by_pages, self.set, *entry);
            self.entered.push(told);
            shown = place;
        }
        let over = self.entered.len().saturating_sub(MOST);
        self.entered.drain(..over);
        let collection = desk.collection();
        self.behind = shown.map(|place| Spread::on(collection, Ground::real(place.binder), place));
        // A card of another set may have been entered.
        let last = entries.last().map(|entry| entry.printing.set());
        self.count(collection, last);
    }

    fn keep(&mut self, kept: Kept) {
        self.cards += kept.cards;
        self.kept.push(kept);
        if self.kept.len() > MOST {
            self.kept.remove(0);
        }
    }

    /// How far the chosen set is now; counted here, so that no frame has to.
    fn recount(&mut self, collection: &Collection) {
        self.count(collection, self.set);
    }

    fn count(&mut self, collection: &Collection, set: Option<SetId>) {
        let told = set.map(|set| report::completion(collection, Some(set)));
        self.far = told.and_then(|mut told| told.pop());
    }

    /// The first gap that a copy of the printing can fill.
    fn gap_for(collection: &Collection, printing: PrintingId) -> Option<Place> {
        collection
            .places_meant(printing)
            .find(|place| !matches!(collection.pocket(*place), PocketState::InPlace(_)))
    }

    /// Takes the last entry back and puts what was typed into the field again; a pasted list is
    /// taken back as a whole.
    fn correct(&mut self, desk: &mut Desk) {
        if self.kept.is_empty() {
            return desk.say("Nothing was entered here yet that could be corrected");
        }
        if !desk.undo() {
            return;
        }
        let Some(last) = self.kept.pop() else {
            return;
        };
        let stay = self.entered.len().saturating_sub(last.seen);
        self.entered.truncate(stay);
        self.cards = self.cards.saturating_sub(last.cards);
        self.set = last.set;
        self.choosing = last.set.is_none();
        self.field = Field::default();
        self.look(desk);
        self.recount(desk.collection());
        match last.typed {
            Some(typed) => {
                self.field.insert(&typed);
                let key = desk.key(Context::Pile, Intent::Accept);
                desk.say(format!("{} taken back: correct it, then {key}", last.words));
            }
            None => {
                self.refused = Refused::default();
                desk.say(format!("The pasted list is taken back: {}", last.words));
            }
        }
    }

    /// A pasted list goes in as one step; what is not taken stays in view.
    fn enter_list(&mut self, desk: &mut Desk, words: &str) {
        let pasted = read_lines(desk.collection(), self.set, words);
        let entries: Vec<Entry> = pasted.taken.iter().map(|(_, entry)| *entry).collect();
        let lines = text::count(entries.len() as u64, "line", "lines");
        if !entries.is_empty() {
            let words = pasted::words(desk.collection(), &entries);
            if !desk.commit(pile_step(words.clone(), &entries)) {
                return;
            }
            desk.message = None;
            self.tell(desk, &entries);
            self.keep(Kept {
                set: self.set,
                typed: None,
                words,
                cards: entries.iter().map(|entry| entry.count).sum(),
                seen: entries.len().min(MOST),
            });
        }
        self.refused = Refused::of(&pasted.not_taken);
        match pasted.not_taken.len() as u64 {
            0 => desk.say(format!("{lines} taken")),
            not => desk.warn(format!("{lines} taken, {not} not taken")),
        }
    }
}

impl Screen for Pile {
    fn context(&self) -> Context {
        Context::Pile
    }

    fn is_full(&self) -> bool {
        true
    }

    fn has_field(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        self.choosing
    }

    /// While a set is chosen the keys go through the sets.
    fn word(&self, intent: Intent) -> &'static str {
        match intent {
            Intent::Accept if self.choosing => "choose the set",
            Intent::Up if self.choosing => "the set before",
            _ => intent.word(self.context()),
        }
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Up => self.choosing || !self.kept.is_empty(),
            Intent::PageOn | Intent::PageBack => self.is_longer(desk),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave if self.choosing && self.set.is_some() => self.choose(desk, self.set),
            Intent::Leave => {
                if self.cards > 0 {
                    let cards = text::count(u64::from(self.cards), "card", "cards");
                    let key = desk.key(Context::Binder, Intent::Work);
                    desk.say(format!(
                        "{cards} entered. {key} tells where to put them away"
                    ));
                }
                return Next::Close;
            }
            Intent::NextField => {
                self.choosing = !self.choosing || self.set.is_none();
                self.field = Field::default();
                self.candidates.clear();
                self.look(desk);
            }
            Intent::Accept if self.choosing => {
                let set = self.candidates.get(self.chosen).copied();
                // What comes next must not go into the wrong set.
                if set.is_none() && !self.field.value().trim().is_empty() {
                    self.field.begin_anew();
                    desk.warn(
                        "No set has that name: its symbol, code, number or a part of its title",
                    );
                    return Next::Stay;
                }
                self.choose(desk, set.or(self.set));
            }
            Intent::Accept => self.enter(desk),
            Intent::Up if self.choosing => self.chosen = self.chosen.saturating_sub(1),
            Intent::Down if self.choosing => {
                self.chosen = (self.chosen + 1).min(self.candidates.len().saturating_sub(1));
            }
            Intent::Up => self.correct(desk),
            Intent::PageOn | Intent::PageBack => self.scroll(desk, intent),
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        if event.code == KeyCode::Backspace && self.field.value().is_empty() && !self.choosing {
            self.correct(desk);
            return Next::Stay;
        }
        if self.field.key(event) {
            self.look(desk);
        }
        Next::Stay
    }

    fn paste(&mut self, desk: &mut Desk, words: &str) {
        if words.trim().contains('\n') {
            // Also before a set is chosen: each line may name its own.
            self.choosing = false;
            return self.enter_list(desk, words);
        }
        self.field.paste(words);
        self.look(desk);
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        if mouse == Mouse::Left
            && self.choosing
            && let Some(at) = self.seen(desk).under(at)
        {
            if at == self.chosen {
                return self.act(desk, Intent::Accept);
            }
            self.chosen = at;
        }
        Next::Stay
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
