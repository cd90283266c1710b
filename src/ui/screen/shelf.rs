//! The shelf: every binder as its spine, standing on boards.

mod boards;
mod welcome;

use ratatui::buffer::Buffer;
use ratatui::layout::Position;

use super::binder::OpenBinder;
use super::find::Find;
use super::history::History;
use super::import::Import;
use super::list::List;
use super::new_set::NewSet;
use super::pile::Pile;
use super::print::Print;
use super::spine::SpineForm;
use super::supplies::Supplies;
use super::swap::Swap;
use super::work::Work;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::model::{Binder, Place};
use crate::report;
use crate::supplies::Rings;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;
use crate::ui::widget::spine;
use boards::{Boards, detail_lines};

/// The shelf with one binder chosen.
#[derive(Debug, Default)]
pub(crate) struct Shelf {
    chosen: usize,
}

impl Shelf {
    /// The chosen place, which stays on the shelf when binders have gone.
    fn chosen(&self, desk: &Desk) -> usize {
        let binders = desk.collection().shelf().len();
        self.chosen.min(binders.saturating_sub(1))
    }

    fn boards(&self, desk: &Desk) -> Boards {
        let binders = desk.collection().shelf().len();
        Boards::fit(desk.body(), binders, self.chosen(desk))
    }

    fn open(&self, desk: &mut Desk) -> Next {
        let Some(binder) = desk.collection().binder_at(self.chosen(desk)) else {
            // The way to begin that is marked.
            let ways = Self::ways(desk);
            let way = ways.get(self.chosen.min(ways.len().saturating_sub(1)));
            return way.map_or(Next::Stay, |way| Next::Now(*way));
        };
        let ground = Ground::real(binder.id());
        let place = desk.bookmarks.get(&ground.binder).copied();
        let place = place.unwrap_or_else(|| ground.place(0, 0));
        Next::open(OpenBinder::on(desk.collection(), ground, place))
    }

    /// What is done to the chosen binder as a whole, the `at`-th.
    fn act_on_binder(&mut self, desk: &mut Desk, at: usize, intent: Intent) -> Next {
        let Some(binder) = desk.collection().binder_at(at).map(Binder::id) else {
            return Next::Stay;
        };
        let to = match intent {
            Intent::BinderBack => at.saturating_sub(1),
            Intent::BinderOn => at + 1,
            _ => return SpineForm::of(desk, binder).map_or(Next::Stay, Next::open),
        };
        match hand::move_binder(desk.collection(), binder, to) {
            Ok(step) => {
                if desk.commit(step) {
                    self.chosen = to;
                }
            }
            Err(why) => desk.warn(text::sentence(why)),
        }
        Next::Stay
    }

    fn draw_scroll(&self, boards: &Boards, binders: usize, desk: &Desk, buf: &mut Buffer) {
        let all = binders.div_ceil(boards.across);
        if all <= boards.seen {
            return;
        }
        let last = (boards.first + boards.seen).min(all);
        let words = match boards.is_list() {
            true => format!("{} to {last}", boards.first + 1),
            false if boards.seen == 1 => format!("board {last} of {all}"),
            false => format!("boards {} to {last} of {all}", boards.first + 1),
        };
        let body = desk.body();
        let width = words.len() as u16;
        if body.width > width + 24 {
            let x = body.right() - width - 1;
            paint::line(
                buf,
                (x, body.y),
                width,
                &words,
                desk.theme.style(Role::Quiet),
            );
        }
    }

    fn draw_detail(&self, desk: &Desk, buf: &mut Buffer) {
        let body = desk.body();
        let Some(binder) = desk.collection().binder_at(self.chosen(desk)) else {
            return;
        };
        let lines = detail_lines(body);
        let top = body.bottom() - lines;
        let width = body.width.saturating_sub(2);
        let strong = desk.theme.style(Role::Strong);
        let title = match &*binder.spec().title {
            "" => binder.name().to_owned(),
            title => format!("{title} ({})", binder.name()),
        };
        paint::line(buf, (body.x + 1, top), width, &title, strong);
        if lines > 1 {
            let text = desk.theme.style(Role::Text);
            paint::line(
                buf,
                (body.x + 1, top + 1),
                width,
                &describe(desk, binder),
                text,
            );
        }
    }
}

impl Screen for Shelf {
    fn context(&self) -> Context {
        Context::Shelf
    }

    fn is_full(&self) -> bool {
        true
    }

    fn is_stepped(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::NewSet | Intent::TypeIn | Intent::Import => desk.can_write(),
            Intent::Demo => !desk.has_demo,
            Intent::Pile => desk.can_write() && desk.collection().sets().len() > 0,
            Intent::Help | Intent::Quit | Intent::History => true,
            Intent::Spine => desk.can_write() && desk.collection().shelf().len() > 0,
            Intent::BinderBack => desk.can_write() && self.chosen(desk) > 0,
            Intent::BinderOn => {
                desk.can_write() && self.chosen(desk) + 1 < desk.collection().shelf().len()
            }
            Intent::Find | Intent::Lists | Intent::Swap => desk.collection().sets().len() > 0,
            Intent::Accept | Intent::Up | Intent::Down => {
                desk.collection().shelf().len() > 0 || !Self::ways(desk).is_empty()
            }
            _ => desk.collection().shelf().len() > 0,
        }
    }

    fn why_not(&self, desk: &Desk, intent: Intent) -> Option<String> {
        let key = desk.key(Context::Shelf, Intent::NewSet);
        Some(match intent {
            Intent::Pile | Intent::Find | Intent::Lists | Intent::Swap
                if desk.collection().sets().len() == 0 =>
            {
                format!("there is no set yet; {key} begins one")
            }
            Intent::BinderBack => "no binder stands to the left of it".into(),
            Intent::BinderOn => "no binder stands to the right of it".into(),
            _ if desk.collection().shelf().len() == 0 => {
                format!("no binder stands here yet; {key} begins a set")
            }
            _ => return None,
        })
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let binders = desk.collection().shelf().len();
        if binders == 0 && matches!(intent, Intent::Up | Intent::Down) {
            let last = Self::ways(desk).len().saturating_sub(1);
            self.chosen = intent.stepped(self.chosen, 1, last);
            return Next::Stay;
        }
        let across = self.boards(desk).across;
        let screenful = across * self.boards(desk).seen;
        let at = self.chosen(desk);
        let last = binders.saturating_sub(1);
        self.chosen = match intent {
            Intent::Left => at.saturating_sub(1),
            Intent::Right => (at + 1).min(last),
            Intent::Up => at.checked_sub(across).unwrap_or(at),
            // From above a short last board, down still leads onto it.
            Intent::Down if at / across < last / across => (at + across).min(last),
            Intent::PageBack => at.saturating_sub(screenful),
            Intent::PageOn => (at + screenful).min(last),
            Intent::First => 0,
            Intent::Last => last,
            Intent::Accept => return self.open(desk),
            Intent::Find if self.can(desk, intent) => {
                return Next::open(Find::open(desk));
            }
            Intent::NewSet => return Next::open(NewSet::of(desk)),
            Intent::TypeIn => return Next::open(NewSet::typed_in(desk)),
            Intent::Import => return Next::open(Import::of(desk)),
            Intent::Print if self.can(desk, intent) => {
                let binder = desk.collection().binder_at(self.chosen(desk));
                let Some(binder) = binder.map(Binder::id) else {
                    return Next::Stay;
                };
                let print = Print::of(desk, binder, 0, true);
                return Next::open(print);
            }
            Intent::Spine | Intent::BinderBack | Intent::BinderOn if self.can(desk, intent) => {
                return self.act_on_binder(desk, at, intent);
            }
            Intent::History => return Next::open(History::default()),
            Intent::Pile if self.can(desk, intent) => {
                return Next::open(Pile::of(desk, None));
            }
            Intent::Lists if self.can(desk, intent) => {
                return Next::open(List::open(desk, None));
            }
            Intent::Swap if self.can(desk, intent) => {
                return Next::open(Swap::of(desk));
            }
            Intent::Supplies if self.can(desk, intent) => {
                let binder = desk.collection().binder_at(at).map(Binder::id);
                return Next::open(Supplies::of(desk, binder));
            }
            Intent::Work if self.can(desk, intent) => {
                return Next::open(Work::of(desk, None));
            }
            _ => at,
        };
        Next::Stay
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            Mouse::Left | Mouse::Right => {}
            _ => return Next::Stay,
        }
        if desk.collection().shelf().len() == 0 {
            let way = Self::way_under(desk, at);
            return way.map_or(Next::Stay, Next::Now);
        }
        let boards = self.boards(desk);
        let chosen = self.chosen(desk);
        let binders = desk.collection().shelf().len();
        let under = (0..binders).find(|&place| {
            let spine = boards.spine(place, place == chosen);
            spine.is_some_and(|spine| spine.contains(Position::from(at)))
        });
        match under {
            Some(place) if place == chosen && mouse == Mouse::Left => self.open(desk),
            Some(place) => {
                self.chosen = place;
                Next::Stay
            }
            None => Next::Stay,
        }
    }

    fn place(&self, desk: &Desk) -> Option<(Place, bool)> {
        let binder = desk.collection().binder_at(self.chosen(desk))?;
        let place = Place {
            binder: binder.id(),
            page: 0,
            pocket: 0,
        };
        Some((place, false))
    }

    fn follow(&mut self, desk: &Desk, place: Place) {
        if let Some(at) = desk.collection().shelf_place(place.binder) {
            self.chosen = at;
        }
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let collection = desk.collection();
        let binders = collection.shelf().len();
        let words = if binders == 0 && collection.sets().len() == 0 {
            "Ringbound".to_owned()
        } else {
            let binders = text::count(binders as u64, "binder", "binders");
            format!("The shelf: {binders}")
        };
        let words = match desk.is_aside() {
            true => format!(
                "{words}, invented: {} leads back",
                desk.key(Context::Shelf, Intent::Quit)
            ),
            false => words,
        };
        let strong = theme.style(Role::Strong);
        paint::line(
            buf,
            (body.x + 1, body.y),
            body.width.saturating_sub(2),
            &words,
            strong,
        );
        if binders == 0 {
            return self.draw_welcome(desk, buf);
        }
        let boards = self.boards(desk);
        let chosen = self.chosen(desk);
        let from = boards.first * boards.across;
        let shown = (from..binders).take(boards.seen * boards.across);
        for at in shown {
            if let (Some(binder), Some(area)) =
                (collection.binder_at(at), boards.spine(at, at == chosen))
            {
                if boards.is_list() {
                    spine::draw_flat(collection, binder, at == chosen, area, theme, buf);
                } else {
                    spine::draw(collection, binder, at == chosen, area, theme, buf);
                }
            }
        }
        // Boards without a binder are there too, as on a shelf that is not full.
        let standing = if boards.is_list() {
            0
        } else {
            boards.area.height / (boards.height + 2)
        };
        for board in 1..=standing {
            let y = boards.area.y + board * (boards.height + 2) - 1;
            for x in body.left()..body.right() {
                paint::sign(buf, (x, y), theme.glyphs().shelf, theme.style(Role::Quiet));
            }
        }
        self.draw_scroll(&boards, binders, desk, buf);
        self.draw_detail(desk, buf);
    }
}

/// A binder in one line: cards, gaps, pages, and how it holds them.
fn describe(desk: &Desk, binder: &Binder) -> String {
    let tally = hand::tally_by_pages(binder);
    let share = report::percent(tally.in_place, tally.meant);
    let share = share.map(|share| format!(" ({share})")).unwrap_or_default();
    let gaps = text::count(tally.gaps() as u64, "gap", "gaps");
    let pages = text::count(binder.pages().len() as u64, "page", "pages");
    let kind = binder.spec().kind;
    let kind = match Rings::of(kind) {
        Some(rings) => rings.words(),
        None if kind.pages_move() => "rings".to_owned(),
        None => "fixed pages".to_owned(),
    };
    let in_place = tally.in_place;
    if tally.is_under_way() {
        let cards = text::count(tally.filled.into(), "card", "cards");
        let key = desk.key(Context::Shelf, Intent::Work);
        return format!(
            "{cards}, {in_place} of them in place: {key} shows the work; {pages}, {kind}"
        );
    }
    let meant = tally.meant;
    if tally != binder.tally() {
        let key = desk.key(Context::Shelf, Intent::Work);
        return format!(
            "{in_place} of {meant} in place{share}; pages are still to be moved: {key} shows the work"
        );
    }
    format!("{in_place} of {meant} in place{share}, {gaps}; {pages}, {kind}")
}
