//! Entering a pile of cards: choose a set, then a number and Enter a card. The answer stands at
//! once: which pocket, whether it fills a gap, and how far the set is now. What was entered is
//! kept with each Enter.

mod draw;

use crossterm::event::{KeyCode, KeyEvent};

use super::binder::{OpenBinder, sentence};
use super::{Mouse, Next};
use crate::hand::Ground;
use crate::intake::{Entry, choose_set, read_line, read_lines};
use crate::model::{Change, Collection, Place, SetId, Step};
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::theme::Role;

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
    /// The binder opened at the last card's pocket.
    behind: Option<OpenBinder>,
}

/// One entry, as it is told and as it can be corrected.
#[derive(Clone, Debug)]
struct Entered {
    set: Option<SetId>,
    typed: String,
    words: String,
    answer: String,
    role: Role,
    count: u32,
}

impl Pile {
    /// With the set of the open binder chosen, if there is one.
    pub(crate) fn of(set: Option<SetId>) -> Self {
        Self {
            set,
            choosing: set.is_none(),
            ..Self::default()
        }
    }

    pub(crate) fn key(&mut self, desk: &mut Desk, event: &KeyEvent) {
        if event.code == KeyCode::Backspace && self.field.value().is_empty() && !self.choosing {
            return self.correct(desk);
        }
        if self.field.key(event) {
            self.look(desk);
        }
    }

    fn look(&mut self, desk: &Desk) {
        self.chosen = 0;
        if self.choosing {
            self.candidates = choose_set(desk.collection(), self.field.value());
        }
    }

    /// A pasted list goes in as one step; what is not taken is told.
    pub(crate) fn paste(&mut self, desk: &mut Desk, words: &str) {
        if !words.trim().contains('\n') || self.choosing {
            self.field.insert(words);
            return self.look(desk);
        }
        let pasted = read_lines(desk.collection(), self.set, words);
        let mut changes = Vec::new();
        for (_, entry) in &pasted.taken {
            changes.push(Change::Acquire {
                printing: entry.printing,
                count: entry.count,
            });
        }
        let lines = pasted.taken.len();
        if lines > 0 && !desk.commit(Step::new(format!("{lines} lines of a pile"), changes)) {
            return;
        }
        for (_, entry) in &pasted.taken {
            self.tell(desk, *entry, String::new());
        }
        if let Some((line, words, why)) = pasted.not_taken.first() {
            let others = pasted.not_taken.len() - 1;
            let more = match others {
                0 => String::new(),
                many => format!("; {many} other lines were not taken"),
            };
            desk.warn(format!(
                "{lines} lines taken. Line {line} \u{201c}{words}\u{201d}: {why}{more}"
            ));
        }
    }

    pub(crate) fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave if self.choosing && self.set.is_some() => self.choose(self.set),
            Intent::Leave => {
                if self.cards > 0 {
                    let cards = text::count(u64::from(self.cards), "card", "cards");
                    desk.say(format!("{cards} entered. w tells where to put them away"));
                }
                return Next::Close;
            }
            Intent::NextField => {
                self.choosing = !self.choosing || self.set.is_none();
                self.field = Field::default();
                self.candidates.clear();
            }
            Intent::Accept if self.choosing => {
                let set = self.candidates.get(self.chosen).copied();
                if set.is_none() {
                    desk.warn(
                        "No set is called so: its symbol, code, number or a part of its title",
                    );
                }
                self.choose(set.or(self.set));
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

    fn choose(&mut self, set: Option<SetId>) {
        self.set = set;
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
                desk.warn(sentence(&why.to_string()));
            }
            Ok(entry) => {
                let words = report::printing_words(desk.collection(), entry.printing);
                let times = match entry.count {
                    1 => String::new(),
                    many => format!(" x{many}"),
                };
                let change = Change::Acquire {
                    printing: entry.printing,
                    count: entry.count,
                };
                let step = Step::new(format!("{words}{times} came in"), vec![change]);
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
        let collection = desk.collection();
        let tally = collection.tally(entry.printing);
        let place = gap_for(collection, entry.printing);
        let (answer, role) = match place {
            Some(place) if tally.spares() < entry.count => {
                let binder = collection.binder(place.binder);
                let title = binder.map_or("", |binder| &binder.spec().title);
                let words = report::place_words(collection, place);
                (
                    format!(
                        "fills a gap: {title}, {words}{}",
                        left_on_side(collection, place)
                    ),
                    Role::InPlace,
                )
            }
            _ if tally.meant == 0 && tally.spares() == 0 => {
                ("no pocket is meant for it yet".to_owned(), Role::Waiting)
            }
            _ => (format!("spare, you have {}", tally.copies()), Role::Waiting),
        };
        let at = place.or_else(|| collection.places_holding(entry.printing).next());
        self.behind = at.map(|place| OpenBinder::on(collection, Ground::real(place.binder), place));
        self.entered.push(Entered {
            set: self.set,
            typed,
            words: report::printing_words(collection, entry.printing),
            answer,
            role,
            count: entry.count,
        });
        self.cards += entry.count;
        if self.entered.len() > MOST {
            self.entered.remove(0);
        }
    }

    /// Takes the last entry back and puts what was typed into the field again.
    fn correct(&mut self, desk: &mut Desk) {
        match self.entered.last() {
            Some(last) if !last.typed.is_empty() => {
                let last = last.clone();
                desk.undo();
                self.entered.pop();
                self.cards = self.cards.saturating_sub(last.count);
                self.set = last.set;
                self.choosing = last.set.is_none();
                self.field = Field::default();
                self.field.insert(&last.typed);
                desk.say(format!(
                    "{} taken back: mend it and press enter",
                    last.words
                ));
            }
            _ => desk.say("There is no entry to correct"),
        }
    }

    pub(crate) fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (x, y): (u16, u16)) -> Next {
        let list = self.list(desk);
        if mouse == Mouse::Left && self.choosing && list.contains((x, y).into()) {
            let at = usize::from(y - list.y);
            if at < self.candidates.len() {
                self.chosen = at;
                return self.act(desk, Intent::Accept);
            }
        }
        Next::Stay
    }
}

/// The first gap that a copy of the printing can fill.
fn gap_for(collection: &Collection, printing: crate::model::PrintingId) -> Option<Place> {
    collection
        .places_meant(printing)
        .find(|place| collection.held(*place) != Some(printing))
}

/// How many gaps the side of this pocket has beside it: the last ones are worth knowing.
fn left_on_side(collection: &Collection, place: Place) -> String {
    let page = collection
        .binder(place.binder)
        .and_then(|binder| binder.pages().get(place.page));
    let Some(format) = page.map(crate::model::Page::format) else {
        return String::new();
    };
    let first = place.pocket / format.per_side() * format.per_side();
    let gaps = (first..first + format.per_side())
        .filter(|pocket| *pocket != place.pocket)
        .filter(|pocket| {
            let other = Place {
                pocket: *pocket,
                ..place
            };
            collection.pocket(other).is_gap()
        });
    match gaps.count() {
        0 => "; it makes this side whole".into(),
        1 => "; 1 gap is left on this side".into(),
        many => format!("; {many} gaps are left on this side"),
    }
}
