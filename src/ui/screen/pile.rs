//! Entering a pile of cards: choose a set, then a number and Enter a card. The answer stands at
//! once: which pocket, whether it fills a gap, and how far the set is now. What was entered is
//! kept with each Enter.

use crossterm::event::{KeyCode, KeyEvent};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

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
use crate::ui::paint;
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
            Intent::Leave => return Next::Close,
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
            Err(why) => desk.warn(sentence(&why.to_string())),
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
                self.field = Field::default();
                self.field.insert(&last.typed);
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

    fn window(&self, desk: &Desk) -> Rect {
        let body = desk.body();
        let height = (body.height * 2 / 5).clamp(5, 14).min(body.height);
        Rect {
            y: body.bottom() - height,
            height,
            ..body
        }
    }

    fn list(&self, desk: &Desk) -> Rect {
        let window = self.window(desk);
        Rect {
            y: window.y + 2,
            height: window.height.saturating_sub(2),
            ..window
        }
    }

    pub(crate) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme, body) = (self.window(desk), desk.theme, desk.body());
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        match &self.behind {
            Some(behind) => behind.draw_within(desk, above, buf),
            None => {
                let words = "The pile: choose a set, then type a number and Enter for each card";
                let area = paint::centred(above, words.len() as u16, 1);
                paint::line(
                    buf,
                    (area.x, area.y),
                    area.width,
                    words,
                    theme.style(Role::Quiet),
                );
            }
        }
        let width = window.width.saturating_sub(2);
        let head = self.head(desk.collection());
        paint::line(
            buf,
            (window.x + 1, window.y),
            width,
            &head,
            theme.style(Role::Strong),
        );
        let label = if self.choosing { "Set: " } else { "Card: " };
        let at = (window.x + 1, window.y + 1);
        let used = paint::line(buf, at, width, label, theme.style(Role::Key));
        let room = width.saturating_sub(used);
        self.field.draw((at.0 + used, at.1), room, true, theme, buf);
        if self.choosing {
            self.draw_sets(desk, buf);
        } else {
            self.draw_entered(desk, buf);
        }
    }

    /// The set and how far it is, finish by finish.
    fn head(&self, collection: &Collection) -> String {
        let mut words = format!(
            "The pile: {} entered",
            text::count(u64::from(self.cards), "card", "cards")
        );
        let Some(set) = self.set else {
            return words;
        };
        for told in report::completion(collection, Some(set)) {
            let title = collection.set(set).map_or("", |set| set.title());
            let share = report::percent(told.all.held, told.all.total).unwrap_or_default();
            words = format!(
                "{words}. {title}: {} of {} ({share})",
                told.all.held, told.all.total
            );
            if told.by_finish.len() > 1 {
                for (finish, counts) in &told.by_finish {
                    words.push_str(&format!(", {finish} {}/{}", counts.held, counts.total));
                }
            }
        }
        words
    }

    fn draw_sets(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let shown = self.candidates.iter().enumerate();
        for (y, (at, set)) in (list.top()..list.bottom()).zip(shown) {
            let Some(set) = desk.collection().set(*set) else {
                continue;
            };
            let head = set.head();
            let words = format!(
                "{} {} {}  {}",
                head.symbol, head.shelf, head.code, head.title
            );
            let role = if at == self.chosen {
                Role::Selected
            } else {
                Role::Text
            };
            let width = list.width.saturating_sub(4);
            paint::line(buf, (list.x + 3, y), width, words.trim(), theme.style(role));
        }
    }

    fn draw_entered(&self, desk: &Desk, buf: &mut Buffer) {
        let (list, theme) = (self.list(desk), desk.theme);
        let newest = self.entered.iter().rev();
        for (y, entered) in (list.top()..list.bottom()).zip(newest) {
            let width = list.width.saturating_sub(3);
            let times = match entered.count {
                1 => String::new(),
                many => format!(" x{many}"),
            };
            let words = format!("{}{times}: {}", entered.words, entered.answer);
            paint::line(
                buf,
                (list.x + 2, y),
                width,
                &words,
                theme.style(entered.role),
            );
        }
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
