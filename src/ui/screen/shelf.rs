//! The shelf: every binder as its spine, standing on boards.

mod boards;
mod pointer;
mod told;
mod welcome;

use ratatui::buffer::Buffer;

use super::binder::OpenBinder;
use super::find::Find;
use super::history::History;
use super::import::Import;
use super::list::List;
use super::menu::Menu;
use super::new_set::NewSet;
use super::pile::Pile;
use super::print::Print;
use super::spine::SpineForm;
use super::supplies::Supplies;
use super::swap::Swap;
use super::work::Work;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground};
use crate::model::{Binder, BinderId, Place};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;
use crate::ui::widget::spine;
use boards::Boards;
use pointer::Grip;

/// The shelf with one binder chosen.
#[derive(Debug, Default)]
pub(crate) struct Shelf {
    /// The chosen place; where the shelf is empty, the way to begin.
    chosen: usize,
    /// The binder that was chosen there. It stays the chosen one wherever it goes.
    binder: Option<BinderId>,
    /// The board that was seen first, so that none moves under the pointer.
    first: usize,
    /// The spine that the mouse holds.
    grip: Option<Grip>,
}

impl Shelf {
    /// The place of the chosen binder. When it has gone, the one in its place is chosen, as long as
    /// there is one.
    fn chosen(&self, desk: &Desk) -> usize {
        let stands = |binder| desk.collection().shelf_place(binder);
        if let Some(place) = self.binder.and_then(stands) {
            return place;
        }
        let binders = desk.collection().shelf().len();
        self.chosen.min(binders.saturating_sub(1))
    }

    fn boards(&self, desk: &Desk) -> Boards {
        let binders = desk.collection().shelf().len();
        // While a spine is carried the boards go on and back under the pointer alone.
        let carried = self.grip.is_some_and(Grip::is_carried);
        let shown = (!carried).then(|| self.shown(desk));
        Boards::fit(desk.body(), binders, shown, self.first)
    }

    fn choose(&mut self, desk: &Desk, place: usize) {
        self.chosen = place;
        self.binder = desk.collection().binder_at(place).map(Binder::id);
        self.first = self.boards(desk).first;
    }

    /// The place at which the chosen binder is shown: while it is carried by its spine, that where
    /// it would stand.
    fn shown(&self, desk: &Desk) -> usize {
        let to = self.grip.and_then(|grip| grip.to);
        to.unwrap_or_else(|| self.chosen(desk))
    }

    /// The binder that is shown at a place of the shelf.
    fn binder_shown<'d>(&self, desk: &'d Desk, at: usize) -> Option<&'d Binder> {
        let (from, to) = (self.chosen(desk), self.shown(desk));
        let place = match at {
            at if at == to => from,
            at if (from..to).contains(&at) => at + 1,
            at if (to + 1..=from).contains(&at) => at - 1,
            at => at,
        };
        desk.collection().binder_at(place)
    }

    fn open(&self, desk: &mut Desk) -> Next {
        let Some(binder) = desk.collection().binder_at(self.chosen(desk)) else {
            // The way to begin that is marked.
            let ways = Self::ways(desk);
            let way = ways.get(self.chosen.min(ways.len().saturating_sub(1)));
            return way.map_or(Next::Stay, |way| Next::Now(*way));
        };
        let ground = Ground::real(binder.id());
        let place = desk.left_at(ground);
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
        self.carry(desk, binder, to);
        Next::Stay
    }

    /// The binder stands at this place from now on, and is the chosen one.
    fn carry(&mut self, desk: &mut Desk, binder: BinderId, to: usize) {
        match hand::move_binder(desk.collection(), binder, to) {
            Ok(step) => {
                if desk.commit(step) {
                    self.choose(desk, to);
                }
            }
            Err(why) => desk.warn(text::sentence(why)),
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

    /// While the mouse holds a spine the wheel moves the boards.
    fn is_stepped(&self) -> bool {
        self.grip.is_none()
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::NewSet | Intent::TypeIn | Intent::Import => desk.can_write(),
            Intent::Demo => !desk.has_demo,
            Intent::Pile => desk.can_write() && desk.collection().sets().len() > 0,
            Intent::Help | Intent::Quit | Intent::History => true,
            Intent::GiveUp => {
                let collection = desk.collection();
                let any = collection.shelf().len() + collection.sets().len() > 0;
                desk.can_write() && any
            }
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
        self.grip = None;
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
        let place = match intent {
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
                let binder = desk.collection().binder_at(at);
                let Some(binder) = binder.map(Binder::id) else {
                    return Next::Stay;
                };
                let print = Print::of(desk, binder, 0, true);
                return Next::open(print);
            }
            Intent::GiveUp if self.can(desk, intent) => {
                let binder = desk.collection().binder_at(at).map(Binder::id);
                return Next::open(Menu::to_give_up(desk, binder));
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
        self.choose(desk, place);
        Next::Stay
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        self.point(desk, mouse, at)
    }

    fn turns(&self, desk: &Desk) -> bool {
        self.scroll_under(desk).is_some()
    }

    fn turn(&mut self, desk: &mut Desk) -> bool {
        let on = self.scroll_under(desk);
        on.is_some_and(|on| self.scroll(desk, on))
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
            self.choose(desk, at);
        }
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let binders = desk.collection().shelf().len();
        let boards = (binders > 0).then(|| self.boards(desk));
        let words = Self::head(desk, boards.as_ref());
        let strong = theme.style(Role::Strong);
        paint::line(
            buf,
            (body.x + 1, body.y),
            body.width.saturating_sub(2),
            &words,
            strong,
        );
        let Some(boards) = boards else {
            return self.draw_welcome(desk, buf);
        };
        let chosen = self.shown(desk);
        let from = boards.first * boards.across;
        let shown = (from..binders).take(boards.seen * boards.across);
        for at in shown {
            if let (Some(binder), Some(area)) =
                (self.binder_shown(desk, at), boards.spine(at, at == chosen))
            {
                if boards.is_list() {
                    spine::draw_flat(desk, binder, at == chosen, area, buf);
                } else {
                    spine::draw(desk, binder, at == chosen, area, buf);
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
