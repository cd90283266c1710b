//! Entering a pile of cards: choose a set, then a number and Enter a card. The answer stands at
//! once: which pocket, whether it fills a gap, and how far the set is now. What was entered is
//! kept with each Enter.

mod answer;
mod draw;

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::intake::{Entry, choose_set, pile_step, read_line, read_lines};
use crate::model::{Collection, Place, PocketState, PrintingId, SetId};
use crate::report::{self, SetCompletion};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::spread::Spread;
use answer::{Entered, answer};

/// The most entries that are kept in view.
const MOST: usize = 50;

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
                // The next number does not run into the wrong one.
                self.field.begin_anew();
                desk.warn(text::sentence(&why.to_string()));
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
                    self.tell(desk, entry, typed);
                }
            }
        }
    }

    /// Says what became of an entry that has been kept.
    fn tell(&mut self, desk: &Desk, entry: Entry, typed: String) {
        let by_pages = hand::by_pages(desk.collection(), None);
        let (told, place) = answer(&by_pages, self.set, entry, typed);
        let collection = desk.collection();
        self.behind = place.map(|place| Spread::on(collection, Ground::real(place.binder), place));
        self.entered.push(told);
        self.cards += entry.count;
        if self.entered.len() > MOST {
            self.entered.remove(0);
        }
        // A card of another set may have been entered.
        self.count(collection, Some(entry.printing.set()));
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

    /// Takes the last entry back and puts what was typed into the field again.
    fn correct(&mut self, desk: &mut Desk) {
        match self.entered.last() {
            Some(last) if !last.typed.is_empty() => {
                let last = last.clone();
                if !desk.undo() {
                    return;
                }
                self.entered.pop();
                self.cards = self.cards.saturating_sub(last.count);
                self.set = last.set;
                self.choosing = last.set.is_none();
                self.field = Field::default();
                self.field.insert(&last.typed);
                self.recount(desk.collection());
                let key = desk.key(Context::Pile, Intent::Accept);
                desk.say(format!("{} taken back: correct it, then {key}", last.words));
            }
            _ => desk.say("Nothing was entered here yet that could be corrected"),
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
            Intent::Up if self.choosing => "up",
            _ => intent.word(self.context()),
        }
    }

    fn can(&self, _: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Up => self.choosing || !self.entered.is_empty(),
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

    /// A pasted list goes in as one step; what is not taken is told.
    fn paste(&mut self, desk: &mut Desk, words: &str) {
        if !words.trim().contains('\n') || self.choosing {
            self.field.paste(words);
            return self.look(desk);
        }
        let pasted = read_lines(desk.collection(), self.set, words);
        let taken = pasted.taken.len();
        let lines = text::count(taken as u64, "line", "lines");
        let entries = pasted.taken.iter().map(|(_, entry)| entry);
        let step = pile_step(format!("{lines} of a pile"), entries);
        if taken > 0 && !desk.commit(step) {
            return;
        }
        // Those before the last are out of view at once.
        let (before, seen) = pasted.taken.split_at(taken.saturating_sub(MOST));
        self.cards += before.iter().map(|(_, entry)| entry.count).sum::<u32>();
        for (_, entry) in seen {
            self.tell(desk, *entry, String::new());
        }
        if let Some((line, words, why)) = pasted.not_taken.first() {
            let others = pasted.not_taken.len() - 1;
            let more = match others {
                0 => String::new(),
                many => {
                    let others = text::count(many as u64, "other line was", "other lines were");
                    format!("; {others} not taken")
                }
            };
            desk.warn(format!(
                "{lines} taken. Line {line} \u{201c}{words}\u{201d}: {why}{more}"
            ));
        }
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
