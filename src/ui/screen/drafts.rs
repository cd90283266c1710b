//! The drafts of a binder side by side, with what each would cost against what lies in it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::ask::{Ask, Question};
use super::sections::Sections;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Cannot, Ground};
use crate::model::Step;
use crate::plan::Cost;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::job::Job;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows::Seen;
use crate::ui::theme::Role;

/// The table; its first line is the layout in force.
#[derive(Debug)]
pub(crate) struct Drafts {
    ground: Ground,
    /// Name and cost of each line.
    lines: Vec<(String, Option<Cost>)>,
    chosen: usize,
    /// What each would cost is found out, from the collection of this revision.
    job: Option<Job<Vec<Option<Cost>>>>,
    revision: Option<u64>,
    /// Adopting the chosen draft was asked for once, though cards are left without a pocket by it.
    asked: bool,
}

/// A column of numbers: its heading, its width, what stands in it, and whether that is the most
/// there can be.
type Column = (&'static str, u16, fn(&Cost) -> (usize, bool));

const COLUMNS: [Column; 4] = [
    ("cards out", 11, |cost| (cost.lifts, false)),
    ("pages moved", 13, |cost| {
        (cost.page_moves, cost.may_be_fewer())
    }),
    ("pages in", 10, |cost| (cost.pages_added, false)),
    ("pages out", 11, |cost| (cost.pages_removed, false)),
];

/// Where the names are long.
const CLOSE_COLUMNS: [Column; 4] = {
    let mut columns = COLUMNS;
    let mut at = 0;
    while at < columns.len() {
        columns[at].1 -= 1;
        at += 1;
    }
    columns
};

/// Where there is no room for all of them beside a name.
const FEW_COLUMNS: [Column; 2] = [
    ("cards", 7, |cost| (cost.lifts, false)),
    ("pages", 7, |cost| (cost.pages(), cost.may_be_fewer())),
];

/// Columns of the window where the names are short, and the most.
const USUAL: u16 = 78;
const WIDEST: u16 = 116;

/// Columns of a name beside which all numbers are shown.
const NAME: u16 = 16;

impl Drafts {
    pub(crate) fn of(desk: &Desk, ground: Ground) -> Self {
        let mut drafts = Self {
            ground,
            lines: Vec::new(),
            chosen: ground.draft.map_or(0, |at| at + 1),
            job: None,
            revision: None,
            asked: false,
        };
        drafts.refresh(desk);
        // In the real binder the draft is marked that one has come from.
        if let Some((binder, name)) = desk.left_draft.as_ref().filter(|_| ground.is_real())
            && *binder == ground.binder
        {
            let drafts_of = desk.collection().binder(*binder);
            let named = drafts_of
                .and_then(|binder| binder.drafts().iter().position(|draft| draft.name == *name));
            drafts.chosen = named.map_or(0, |at| at + 1);
        }
        drafts
    }

    /// The ground of the chosen line.
    fn here(&self) -> Ground {
        Ground {
            draft: self.chosen.checked_sub(1),
            ..self.ground
        }
    }

    fn ask(&self, question: Question, words: &str) -> Next {
        Next::instead(Ask::of(self.here(), question, words))
    }

    fn commit(&mut self, desk: &mut Desk, step: Result<Step, Cannot>) -> Next {
        match step {
            Ok(step) => {
                desk.commit(step);
                self.ground = Ground::real(self.ground.binder);
                self.refresh(desk);
                // What lies under this window may be a draft that is gone.
                Next::Under(self.ground)
            }
            Err(why) => {
                desk.warn(text::sentence(why));
                Next::Stay
            }
        }
    }

    /// Puts the chosen draft in force, and shows the binder with what is to be done now. Where
    /// cards would be left without a pocket that is asked first.
    fn adopt(&mut self, desk: &mut Desk) -> Next {
        let here = self.here();
        let step = match hand::adopt(desk.collection(), here) {
            Ok(step) => step,
            Err(why) => {
                desk.warn(text::sentence(why));
                return Next::Stay;
            }
        };
        let without = hand::left_without(desk.collection(), here) as u64;
        if without > 0 && !self.asked {
            self.asked = true;
            let (cards, key) = (
                text::count(without, "card has", "cards have"),
                desk.key(Context::Drafts, Intent::Adopt),
            );
            desk.warn(format!(
                "{cards} no pocket in this draft. Adopt it all the same? {key} once more does it"
            ));
            return Next::Stay;
        }
        if !desk.commit(step) {
            return Next::Stay;
        }
        let real = Ground::real(self.ground.binder);
        let cost = hand::cost(desk.collection(), real).unwrap_or_default();
        let words = match cost.is_nothing() {
            true => "Adopted: no card and no page has to be moved".to_owned(),
            false => {
                let key = desk.key(Context::Binder, Intent::Work);
                let task = cost.task();
                format!("Adopted: the cards lie where they were; {task}. {key} shows the work")
            }
        };
        desk.say_done(words);
        match self.ground.is_real() {
            true => Next::Close,
            // The draft under this window is gone.
            false => Next::GoTo(real, desk.left_at(real)),
        }
    }

    /// Takes what each would cost, if it has been found out.
    fn take(&mut self, desk: &Desk) {
        if let Some(Ok(costs)) = desk.ended(&mut self.job) {
            for (line, cost) in self.lines.iter_mut().zip(costs) {
                line.1 = cost;
            }
        }
    }

    /// Columns for the names, and the numbers beside them.
    fn columns(&self, width: u16) -> (u16, &'static [Column]) {
        let room = width.saturating_sub(6);
        let of = |columns: &[Column]| columns.iter().map(|column| column.1).sum::<u16>();
        let columns: &[Column] = match room {
            room if room >= of(&COLUMNS) + self.longest().max(NAME) => &COLUMNS,
            room if room >= of(&CLOSE_COLUMNS) + NAME => &CLOSE_COLUMNS,
            _ => &FEW_COLUMNS,
        };
        (room.saturating_sub(of(columns)), columns)
    }

    /// Columns of the longest name.
    fn longest(&self) -> u16 {
        let names = self.lines.iter().map(|(name, _)| text::columns(name));
        names.max().unwrap_or(0).min(usize::from(WIDEST)) as u16
    }

    fn window(&self, desk: &Desk) -> Rect {
        let hint = if self.lines.len() == 1 { 2 } else { 0 };
        let lines = self.lines.len().min(usize::from(desk.body().height)) as u16;
        // As wide as the longest name needs, within what can be looked along.
        let numbers = COLUMNS.iter().map(|column| column.1).sum::<u16>();
        let width = (self.longest() + numbers + 7).clamp(USUAL, WIDEST);
        paint::centred(desk.body(), width, lines + 4 + hint)
    }

    /// The drafts below the headings.
    fn seen(&self, desk: &Desk) -> Seen {
        let inside = paint::inside(self.window(desk));
        let rows = Rect {
            y: inside.y + 1,
            height: inside.height.saturating_sub(1),
            ..inside
        };
        Seen::of(rows, self.chosen, self.lines.len())
    }
}

impl Screen for Drafts {
    fn context(&self) -> Context {
        Context::Drafts
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::NewDraft | Intent::EmptyDraft => desk.can_write(),
            Intent::CopyDraft | Intent::RenameDraft | Intent::DropDraft | Intent::Adopt => {
                desk.can_write() && self.chosen > 0
            }
            _ => true,
        }
    }

    fn why_not(&self, desk: &Desk, intent: Intent) -> Option<String> {
        match intent {
            Intent::CopyDraft | Intent::RenameDraft | Intent::DropDraft | Intent::Adopt => {
                let new = desk.key(Context::Drafts, Intent::NewDraft);
                Some(format!("that is the layout in force; {new} begins a draft"))
            }
            _ => None,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.lines.len().saturating_sub(1);
        self.asked = self.asked && intent == Intent::Adopt;
        self.chosen = match intent {
            Intent::Leave if self.job.is_some() => {
                // Without what they cost they can be looked at and adopted all the same.
                self.job = None;
                return Next::Stay;
            }
            Intent::Leave => return Next::Close,
            Intent::Work => return Next::CloseAnd(Intent::Work),
            Intent::Accept => return Next::GoTo(self.here(), desk.left_at(self.ground)),
            Intent::NewDraft => return self.ask(Question::NewDraft { empty: false }, ""),
            Intent::EmptyDraft => return self.ask(Question::NewDraft { empty: true }, ""),
            Intent::Sections => {
                let sections = Sections::of(desk, self.here());
                return Next::instead(sections);
            }
            Intent::CopyDraft if self.chosen > 0 => return self.ask(Question::CopyDraft, ""),
            Intent::RenameDraft if self.chosen > 0 => {
                let name = self.lines[self.chosen].0.clone();
                return self.ask(Question::RenameDraft, &name);
            }
            Intent::DropDraft if self.chosen > 0 => {
                return self.commit(desk, hand::drop_draft(desk.collection(), self.here()));
            }
            Intent::Adopt if self.chosen > 0 => return self.adopt(desk),
            _ => intent.stepped(self.chosen, 1, last),
        };
        Next::Stay
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let under = self.seen(desk).under(at);
        let Some(at) = under.filter(|_| mouse == Mouse::Left) else {
            return Next::Stay;
        };
        if at == self.chosen {
            return self.act(desk, Intent::Accept);
        }
        self.asked = false;
        self.chosen = at;
        Next::Stay
    }

    /// Takes names and costs anew.
    fn refresh(&mut self, desk: &Desk) {
        let collection = desk.collection();
        let binder = collection.binder(self.ground.binder);
        let names = binder.map_or(&[][..], |binder| binder.drafts());
        let names = names.iter().map(|draft| draft.name.to_string());
        let names = ["as it is now".to_owned()].into_iter().chain(names);
        let revision = Some(desk.session.revision());
        if self.revision == revision {
            return;
        }
        self.revision = revision;
        self.lines = names.map(|name| (name, None)).collect();
        self.chosen = self.chosen.min(self.lines.len() - 1);
        // Each takes a plan.
        let (collection, binder) = (collection.clone(), self.ground.binder);
        let many = self.lines.len();
        self.job = Some(Job::begin(desk.beside.as_ref(), move |reins| {
            let grounds = (0..many).map(|line| Ground {
                binder,
                draft: line.checked_sub(1),
            });
            let told = grounds.enumerate().map_while(|(at, ground)| {
                let goes_on = reins.tell(at as u64, many as u64);
                goes_on.then(|| hand::cost(&collection, ground))
            });
            told.collect()
        }));
        self.take(desk);
    }

    fn hear(&mut self, desk: &mut Desk) -> Next {
        self.take(desk);
        Next::Stay
    }

    fn works(&self, desk: &Desk) -> Option<String> {
        let key = desk.key(Context::Drafts, Intent::Leave);
        Some(
            self.job
                .as_ref()?
                .says(&key, "Finding out what each would cost"),
        )
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " drafts ", theme);
        let (name, columns) = self.columns(area.width);
        let quiet = theme.style(Role::Quiet);
        let first = area.x + 4 + name;
        let mut x = first;
        for (word, width, _) in columns {
            let words = format!("{word:>at$}", at = usize::from(*width));
            paint::line(buf, (x, area.y + 1), *width, &words, quiet);
            x += width;
        }
        for (y, at) in self.seen(desk).rows() {
            let (words, cost) = &self.lines[at];
            let chosen = at == self.chosen;
            let role = if chosen { Role::Selected } else { Role::Text };
            let here = if chosen { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            paint::line(buf, (area.x + 3, y), name, words, theme.style(role));
            let Some(cost) = cost else {
                continue;
            };
            let mut x = first;
            for (_, width, of) in columns {
                let (number, may_be_less) = of(cost);
                let number = theme.number(number, may_be_less);
                let words = format!("{number:>at$}", at = usize::from(*width));
                paint::line(buf, (x, y), *width, &words, theme.style(Role::Text));
                x += width;
            }
        }
        if self.lines.len() == 1 {
            let key = |intent| desk.key(Context::Drafts, intent);
            let words = format!(
                "No draft yet: {} begins one from the layout, {} by sections. \
                 In a draft nothing on the shelf moves.",
                key(Intent::NewDraft),
                key(Intent::Sections)
            );
            let room = usize::from(area.width.saturating_sub(6));
            let lines = text::wrap(&words, room, 2, theme.glyphs().more);
            for (y, line) in (area.y + 4..area.bottom() - 1).zip(&lines) {
                paint::line(
                    buf,
                    (area.x + 3, y),
                    area.width.saturating_sub(6),
                    line,
                    quiet,
                );
            }
        }
    }
}
