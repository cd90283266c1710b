//! What the layouts take of pages, binders and sleeves; whether each binder closes; what it costs.
//! Each binder can be counted by one of its drafts instead.

mod draw;

use super::ask::{Ask, Question};
use super::{Mouse, Next, Screen};
use crate::hand::Ground;
use crate::model::{Binder, BinderId, Collection, LayoutPage, PageFormat};
use crate::report;
use crate::supplies::{
    Basket, Choice, Fit, Housing, LayoutOf, Misfit, Needs, PriceList, Question as WaysQuestion,
    Rings, Sleeve, SleeveOpening, Sleeves, Splits, basket, fit, formats, misfits, needs,
    opening_words, sleeve_words, splits, ways,
};
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::job::{Job, Progress};
use crate::ui::keymap::Context;
use ratatui::buffer::Buffer;

/// A binder as it was looked at.
#[derive(Debug)]
struct Seen {
    name: String,
    /// The draft it is counted by.
    draft: Option<String>,
    fit: Fit,
    /// Of the chosen one only, where it does not surely close.
    splits: Splits,
    misfits: Vec<Misfit>,
    formats: Vec<PageFormat>,
    /// Which way round its sleeves go.
    turned: String,
}

/// The screen; everything that is told is taken anew by [`Supplies::refresh`].
#[derive(Debug, Default)]
pub(crate) struct Supplies {
    choice: Choice,
    chosen: usize,
    seen: Vec<Seen>,
    needs: Needs,
    basket: Option<Basket>,
    /// The ways are shown instead of what is to be bought.
    comparing: bool,
    compared: Option<(WaysQuestion, Vec<Housing>)>,
    /// Lines of the lower table above its first one that is seen.
    top: usize,
    /// Counting, from the collection of this revision.
    job: Option<Job<Counted>>,
    revision: u64,
    /// Counting came to nothing: a fault of this program.
    failed: bool,
}

/// What all binders come to.
#[derive(Debug)]
struct Counted {
    seen: Vec<Seen>,
    needs: Needs,
    basket: Basket,
}

impl Counted {
    /// Of no use when it was stopped meanwhile.
    fn of(
        collection: &Collection,
        choice: &Choice,
        prices: &PriceList,
        progress: &Progress,
    ) -> Self {
        let many = collection.shelf().len() as u64;
        let see = |(at, binder): (u64, &Binder)| {
            let of = choice.of(binder.id());
            let draft = match of {
                LayoutOf::Draft(at) => binder.drafts().get(at),
                _ => None,
            };
            // Half of it is done when each has been looked at.
            progress.tell(at, 2 * many).then(|| Seen {
                name: report::binder_words(collection, binder.id()),
                draft: draft.map(|draft| draft.name.to_string()),
                fit: fit(binder, of, choice.thickness, None),
                splits: Splits::default(),
                misfits: Vec::new(),
                formats: Vec::new(),
                turned: String::new(),
            })
        };
        let seen = (0..).zip(collection.shelf()).map_while(see).collect();
        let needs = needs(collection, choice, prices);
        Self {
            seen,
            basket: basket(&needs.needs, prices),
            needs,
        }
    }
}

impl Supplies {
    /// Takes what was counted, if it has been.
    fn take(&mut self, desk: &Desk) {
        match desk.ended(&mut self.job) {
            Some(Ok(_)) if self.revision != desk.session.revision() => self.refresh(desk),
            Some(Ok(counted)) => {
                self.seen = counted.seen;
                self.needs = counted.needs;
                self.basket = Some(counted.basket);
                self.chosen = self.chosen.min(self.seen.len().saturating_sub(1));
                self.look_closer(desk);
            }
            Some(Err(_)) => self.failed = true,
            None => {}
        }
    }

    /// With this binder chosen.
    pub(crate) fn of(desk: &Desk, binder: Option<BinderId>) -> Self {
        let place = binder.and_then(|binder| desk.collection().shelf_place(binder));
        let mut supplies = Self {
            chosen: place.unwrap_or(0),
            ..Self::default()
        };
        supplies.choice.thickness.sleeves = desk.settings.supplies.sleeves;
        supplies.refresh(desk);
        supplies
    }

    /// What is told of the chosen binder alone.
    fn look_closer(&mut self, desk: &Desk) {
        let collection = desk.collection();
        let Some(binder) = collection.binder_at(self.chosen) else {
            return;
        };
        if self.chosen >= self.seen.len() {
            return;
        }
        let (of, thickness) = (self.choice.of(binder.id()), self.choice.thickness);
        let seen = &mut self.seen[self.chosen];
        let sleeve = Sleeve::usual(thickness.sleeves);
        seen.misfits = misfits(collection, binder, of, sleeve);
        seen.formats = formats(binder, of);
        let (fit, pages) = (seen.fit, seen.fit.pages);
        if let Some(room) = fit.room.filter(|room| fit.thickness > room.sure) {
            let over = |at: usize| at.min(pages - at) as u64;
            seen.splits = splits(collection, binder, of, thickness, room.sure, over);
        }
        let layout = of.layout(binder);
        let cards: usize = (layout.pages.iter())
            .map(|page| page.printings().count())
            .sum();
        let format = layout.pages.first().map(LayoutPage::format);
        if let Some(format) = format {
            let sleeve = sleeve_words(format.opening, SleeveOpening::Top, thickness.sleeves);
            seen.turned = format!("{} {sleeve}", opening_words(format.opening));
        }
        self.compared = format.map(|format| {
            let question = WaysQuestion {
                cards: cards as u64,
                rows: format.rows,
                columns: format.columns,
                thickness,
            };
            (question, ways(question, &desk.prices))
        });
    }

    /// The chosen binder.
    fn binder<'d>(&self, desk: &'d Desk) -> Option<&'d Binder> {
        desk.collection().binder_at(self.chosen)
    }

    /// Lines of the lower table.
    fn lines(&self) -> usize {
        match (&self.compared, self.comparing) {
            (Some((_, ways)), true) => ways.len(),
            _ => self.basket.as_ref().map_or(0, |basket| basket.lines.len()),
        }
    }

    /// The layout, then each draft, then the layout again.
    fn turn(&mut self, desk: &Desk, by: isize) {
        let Some(binder) = self.binder(desk) else {
            return;
        };
        let (id, drafts) = (binder.id(), binder.drafts().len());
        let now = match self.choice.of(id) {
            LayoutOf::Draft(at) => at + 1,
            _ => 0,
        };
        let next = (now + drafts + 1).saturating_add_signed(by) % (drafts + 1);
        self.choice.drafts.retain(|(binder, _)| *binder != id);
        if let Some(draft) = next.checked_sub(1) {
            self.choice.drafts.push((id, draft));
        }
        self.refresh(desk);
    }

    fn ask_rings(&self, desk: &Desk) -> Next {
        let Some(binder) = self.binder(desk) else {
            return Next::Stay;
        };
        let words = Rings::of(binder.spec().kind).map_or_else(String::new, Rings::word);
        let ground = Ground::real(binder.id());
        Next::open(Ask::of(ground, Question::Rings, &words))
    }

    fn open(&self, desk: &Desk) -> Next {
        let Some(binder) = self.binder(desk) else {
            return Next::Stay;
        };
        let draft = match self.choice.of(binder.id()) {
            LayoutOf::Draft(at) => Some(at),
            _ => None,
        };
        let ground = Ground {
            binder: binder.id(),
            draft,
        };
        Next::GoTo(ground, ground.place(0, 0))
    }
}

impl Screen for Supplies {
    fn context(&self) -> Context {
        Context::Supplies
    }

    fn is_full(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        let binder = || self.binder(desk).filter(|_| !self.seen.is_empty());
        match intent {
            Intent::OtherDraft | Intent::DraftBefore => {
                binder().is_some_and(|binder| !binder.drafts().is_empty())
            }
            Intent::Rings => {
                desk.can_write() && binder().is_some_and(|binder| binder.spec().kind.pages_move())
            }
            Intent::OtherTable | Intent::Accept => binder().is_some(),
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.seen.len().saturating_sub(1);
        let before = self.chosen;
        match intent {
            Intent::Leave => return Next::Close,
            // What is chosen is not there yet.
            Intent::Up | Intent::Down | Intent::First | Intent::Last if self.job.is_some() => {}
            Intent::Accept => return self.open(desk),
            Intent::Up | Intent::Down | Intent::First | Intent::Last => {
                self.chosen = intent.stepped(self.chosen, 1, last);
            }
            Intent::PageOn | Intent::PageBack => {
                let shown = usize::from(self.rooms(desk).table.height.saturating_sub(1)).max(1);
                let furthest = self.lines().saturating_sub(shown);
                self.top = intent.stepped(self.top, shown, furthest);
            }
            Intent::OtherTable => {
                self.comparing = !self.comparing;
                self.top = 0;
            }
            Intent::OtherDraft | Intent::DraftBefore if !self.can(desk, intent) => {
                let Some(binder) = self.binder(desk) else {
                    return Next::Stay;
                };
                let name = crate::report::binder_words(desk.collection(), binder.id());
                let key = desk.key(Context::Binder, Intent::Drafts);
                desk.say(format!(
                    "{name} has no draft to be counted by: {key} in the binder begins one"
                ));
            }
            Intent::OtherDraft => self.turn(desk, 1),
            Intent::DraftBefore => self.turn(desk, -1),
            Intent::Sleeves => {
                let sleeves = &mut self.choice.thickness.sleeves;
                *sleeves = match sleeves {
                    Sleeves::Bare => Sleeves::One,
                    Sleeves::One => Sleeves::Two,
                    Sleeves::Two => Sleeves::Bare,
                };
                self.refresh(desk);
            }
            Intent::AsIfNew => {
                self.choice.anew = !self.choice.anew;
                self.refresh(desk);
            }
            Intent::Rings if self.can(desk, intent) => return self.ask_rings(desk),
            _ => {}
        }
        if self.chosen != before {
            self.look_closer(desk);
        }
        Next::Stay
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, (_, y): (u16, u16)) -> Next {
        if mouse != Mouse::Left {
            return Next::Stay;
        }
        let rooms = self.rooms(desk);
        let Some(row) = y.checked_sub(rooms.binders.y).map(usize::from) else {
            return Next::Stay;
        };
        let at = rooms.first + row;
        if row < usize::from(rooms.binders.height) && at < self.seen.len() {
            self.chosen = at;
            self.look_closer(desk);
        }
        Next::Stay
    }

    /// Counts anew.
    fn refresh(&mut self, desk: &Desk) {
        let collection = desk.collection();
        // A draft that is gone counts no more.
        self.choice.drafts.retain(|(binder, at)| {
            let binder = collection.binder(*binder);
            binder.is_some_and(|binder| *at < binder.drafts().len())
        });
        self.seen.clear();
        self.revision = desk.session.revision();
        let (choice, prices) = (self.choice.clone(), desk.prices.clone());
        let collection = desk.collection().clone();
        self.job = Some(Job::begin(desk.beside.as_ref(), move |progress| {
            Counted::of(&collection, &choice, &prices, progress)
        }));
        self.take(desk);
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        self.take(desk);
        Next::Stay
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let job = self.job.as_ref()?;
        Some(job.says(&desk.key(Context::Supplies, Intent::Leave), "Counting"))
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
