//! Typing in: the real binder lies open, and the number of each card is typed as it lies in its
//! pocket. What was typed is kept with each Enter, so one can stop at any time and go on later.

mod draw;

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;

use super::{Next, Screen};
use crate::hand::Ground;
use crate::intake::{self, TypedIn};
use crate::layout;
use crate::model::{BinderId, Collection, Page, PageFormat, Place, PocketState};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::spread::Spread;
use draw::told;

/// The most entries that are kept in view.
const MOST: usize = 50;

/// One deed, as it is told and as it can be corrected.
#[derive(Clone, Debug)]
struct Entered {
    place: Place,
    typed: String,
    words: String,
    /// Number and finish alone.
    short: String,
    is_gap: bool,
}

/// The screen.
#[derive(Debug)]
pub(crate) struct TypeIn {
    place: Place,
    field: Field,
    entered: Vec<Entered>,
    cards: usize,
    behind: Spread,
    /// What becomes a new card if it is entered again: a number without a figure, or one that is
    /// written otherwise than the others.
    asked: Option<String>,
}

impl TypeIn {
    /// At this pocket of the real binder; behind it, where it has the last card that there is.
    pub(crate) fn at(collection: &Collection, place: Place) -> Self {
        let ground = Ground::real(place.binder);
        let mut typing = Self {
            place,
            field: Field::default(),
            entered: Vec::new(),
            cards: 0,
            behind: Spread::on(collection, ground, place),
            asked: None,
        };
        if typing.is_last_card(collection) {
            typing.go_on(collection);
        }
        typing.look(collection);
        typing
    }

    /// Whether a card lies here, and none lies or is to lie behind it.
    fn is_last_card(&self, collection: &Collection) -> bool {
        let Some(binder) = collection.binder(self.place.binder) else {
            return false;
        };
        let pages = binder.pages().iter().enumerate().skip(self.place.page);
        let places = pages.flat_map(|(page, real)| {
            let pockets = 0..real.format().pockets();
            pockets.map(move |pocket| Place {
                page,
                pocket,
                ..self.place
            })
        });
        let mut behind = places.skip(self.place.pocket + 1);
        collection.pocket(self.place).held().is_some()
            && behind.all(|place| collection.pocket(place) == PocketState::Unassigned)
    }

    /// The format of a page; one that is still to come is like the last one.
    fn format(collection: &Collection, binder: BinderId, page: usize) -> PageFormat {
        let pages = collection.binder(binder).map_or(&[][..], |b| b.pages());
        let like = pages.get(page).or(pages.last());
        like.map_or_else(layout::default_format, Page::format)
    }

    fn is_there(&self, collection: &Collection) -> bool {
        let binder = collection.binder(self.place.binder);
        binder.is_some_and(|binder| self.place.page < binder.pages().len())
    }

    /// One pocket on, over the edges of sides and pages.
    fn go_on(&mut self, collection: &Collection) {
        let format = Self::format(collection, self.place.binder, self.place.page);
        self.place.pocket += 1;
        if self.place.pocket >= format.pockets() {
            self.place.page += 1;
            self.place.pocket = 0;
        }
    }

    fn go_back(&mut self, collection: &Collection) {
        if let Some(pocket) = self.place.pocket.checked_sub(1) {
            self.place.pocket = pocket;
        } else if let Some(page) = self.place.page.checked_sub(1) {
            let format = Self::format(collection, self.place.binder, page);
            self.place.page = page;
            self.place.pocket = format.pockets().saturating_sub(1);
        }
    }

    /// Shows the pocket, and proposes what may lie in it: what it is kept for, else the number
    /// that follows.
    fn look(&mut self, collection: &Collection) {
        let ground = Ground::real(self.place.binder);
        self.behind = Spread::on(collection, ground, self.place);
        self.field = Field::default();
        if let Some(words) = self.proposal(collection) {
            self.field.insert(&words);
            self.field.begin_anew();
        }
    }

    fn proposal(&self, collection: &Collection) -> Option<String> {
        let state = collection.pocket(self.place);
        if let PocketState::Gap(wanted) | PocketState::Waiting(wanted) = state {
            let card = collection.card(wanted)?;
            let set = collection.set(wanted.set())?;
            let finish = set.finishes().get(usize::from(wanted.finish()))?;
            return Some(match wanted.finish() {
                0 => card.number.to_string(),
                _ => format!("{} {}", card.number, finish.name),
            });
        }
        match state {
            PocketState::Unassigned => intake::next_in_row(collection, self.place),
            _ => None,
        }
    }

    fn enter(&mut self, desk: &mut Desk) {
        let typed = self.field.value().trim().to_owned();
        if typed.is_empty() {
            let (pass, stop) = (
                desk.key(Context::TypeIn, Intent::NextField),
                desk.key(Context::TypeIn, Intent::Leave),
            );
            return desk.warn(format!(
                "Type the number of the card in this pocket; {pass} if it is empty, {stop} to stop"
            ));
        }
        let put = intake::type_in(desk.collection(), self.place, &typed);
        let asked = std::mem::take(&mut self.asked);
        if let Ok(put) = &put
            && put.is_new
            && asked.as_ref() != Some(&typed)
            && self.ask(desk, put, &typed)
        {
            self.asked = Some(typed);
            return;
        }
        match put {
            Err(why) => {
                self.field.begin_anew();
                desk.warn(text::sentence(&why));
            }
            Ok(put) => {
                let words = told(desk.collection(), &put);
                if !put.step.changes.is_empty() {
                    if !desk.commit(put.step.clone()) {
                        return;
                    }
                    desk.message = None;
                    self.cards += usize::from(!put.is_gap);
                    self.entered.push(Entered {
                        place: self.place,
                        typed,
                        words,
                        short: put.words(),
                        is_gap: put.is_gap,
                    });
                    if self.entered.len() > MOST {
                        self.entered.remove(0);
                    }
                } else {
                    desk.say(format!("{} was noted here already", put.words()));
                }
                self.go_on(desk.collection());
                self.look(desk.collection());
            }
        }
    }

    /// A new card that looks like a slip of the finger is asked about; whether it does.
    fn ask(&mut self, desk: &mut Desk, put: &TypedIn, typed: &str) -> bool {
        let key = desk.key(Context::TypeIn, Intent::Accept);
        if !typed.contains(|c: char| c.is_ascii_digit()) {
            desk.warn(format!(
                "“{typed}” has no figure in it: a new card all the same? {key} again takes it"
            ));
            return true;
        }
        let binder = desk.collection().binder(self.place.binder);
        let set = binder.and_then(|b| desk.collection().set(b.spec().set?));
        let number = set.filter(|set| set.card_by_number(&put.number).is_none());
        let whole = number.and_then(|set| intake::as_the_others(set, &put.number));
        let (Some(whole), Some(rest)) = (whole, typed.strip_prefix(&*put.number)) else {
            return false;
        };
        self.field = Field::default();
        self.field.insert(&format!("{whole}{rest}"));
        self.field.begin_anew();
        let (whole, number) = (text::safe(&whole), text::safe(&put.number));
        desk.warn(format!(
            "{whole}, as the others are? {key} takes it; {number} again stays {number}"
        ));
        true
    }

    /// The pocket is empty: nothing is noted of it yet.
    fn pass(&mut self, desk: &Desk) {
        self.go_on(desk.collection());
        self.look(desk.collection());
    }

    /// Takes the last deed back and stands at its pocket again.
    fn correct(&mut self, desk: &mut Desk) {
        if self.entered.is_empty() {
            let key = desk.key(Context::TypeIn, Intent::PreviousField);
            return desk.say(format!(
                "Nothing was typed in since you came here; {key} goes to the pocket before, and \
                 another number there corrects its card"
            ));
        }
        if !desk.undo() {
            return;
        }
        let Some(last) = self.entered.pop() else {
            return;
        };
        self.cards = self.cards.saturating_sub(usize::from(!last.is_gap));
        self.place = last.place;
        self.look(desk.collection());
        self.field = Field::default();
        self.field.insert(&last.typed);
        let key = desk.key(Context::TypeIn, Intent::Accept);
        desk.say(format!(
            "{} is taken back: correct it, then {key}",
            last.short
        ));
    }
}

impl Screen for TypeIn {
    fn context(&self) -> Context {
        Context::TypeIn
    }

    fn is_full(&self) -> bool {
        true
    }

    fn has_field(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Accept => desk.can_write(),
            Intent::Up => !self.entered.is_empty(),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => {
                let cards = text::count(self.cards as u64, "card", "cards");
                let key = desk.key(Context::Binder, Intent::TypeIn);
                desk.say(format!(
                    "{cards} typed in; {key} goes on from the pocket you choose"
                ));
                // The pocket that comes next, or the last that there is.
                let ground = Ground::real(self.place.binder);
                return Next::GoTo(ground, self.place);
            }
            Intent::Accept => self.enter(desk),
            Intent::NextField => self.pass(desk),
            Intent::PreviousField => {
                self.go_back(desk.collection());
                self.look(desk.collection());
            }
            Intent::PageOn if self.is_there(desk.collection()) => {
                self.place.page += 1;
                self.place.pocket = 0;
                self.look(desk.collection());
            }
            Intent::PageBack => {
                self.place.page = self.place.page.saturating_sub(1);
                self.place.pocket = 0;
                self.look(desk.collection());
            }
            Intent::Up => self.correct(desk),
            _ => {}
        }
        Next::Stay
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        if event.code == KeyCode::Backspace && self.field.value().is_empty() {
            self.correct(desk);
        } else {
            self.field.key(event);
        }
        Next::Stay
    }

    fn paste(&mut self, _: &mut Desk, words: &str) {
        self.field.paste(words);
    }

    fn place(&self, _: &Desk) -> Option<(Place, bool)> {
        Some((self.place, true))
    }

    fn refresh(&mut self, desk: &Desk) {
        let ground = Ground::real(self.place.binder);
        self.behind = Spread::on(desk.collection(), ground, self.place);
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
