//! The mouse on the shelf: choosing a binder, opening it, and carrying it along by its spine.

use ratatui::layout::Position;

use super::{Mouse, Next, Shelf};
use crate::hand;
use crate::model::{Binder, BinderId};
use crate::ui::desk::Desk;
use crate::ui::offers;

/// A spine that the button went down on and has not been let go of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grip {
    binder: BinderId,
    /// It was the chosen one already: letting go of it where it stands opens it.
    opens: bool,
    /// The place over which it is held, counted when it has been taken out; none beside the spines.
    pub(super) to: Option<usize>,
    /// Where the pointer holds it, once it has moved.
    pointer: Option<(u16, u16)>,
}

impl Grip {
    /// Whether it was taken along, and not only pressed.
    pub(super) fn is_carried(self) -> bool {
        self.pointer.is_some()
    }
}

impl Shelf {
    pub(super) fn point(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            Mouse::Left | Mouse::Right => {
                if desk.collection().shelf().len() == 0 {
                    let way = Self::way_under(desk, at);
                    return way.map_or(Next::Stay, Next::Now);
                }
                self.press(desk, mouse, at);
                Next::Stay
            }
            Mouse::Drag => {
                self.drag(desk, at);
                Next::Stay
            }
            Mouse::Release => self.let_go(desk, at),
            Mouse::WheelUp | Mouse::WheelDown => {
                self.drag(desk, at);
                self.scroll(desk, mouse == Mouse::WheelDown);
                Next::Stay
            }
        }
    }

    /// The way in which the boards go under a spine that is held at their lower or upper edge.
    pub(super) fn scroll_under(&self, desk: &Desk) -> Option<bool> {
        let (_, y) = self.grip?.pointer?;
        let area = self.boards(desk).area;
        let way = match y {
            y if y <= area.y => false,
            y if y + 1 >= area.bottom() => true,
            _ => return None,
        };
        let binders = desk.collection().shelf().len();
        let boards = self.boards(desk);
        (boards.scrolled(binders, way) != boards.first).then_some(way)
    }

    /// Another board comes in sight below or above, and the spine goes with the pointer; tells
    /// whether there was one.
    pub(super) fn scroll(&mut self, desk: &mut Desk, on: bool) -> bool {
        let Some(at) = self.grip.and_then(|grip| grip.pointer) else {
            return false;
        };
        let boards = self.boards(desk);
        let first = boards.scrolled(desk.collection().shelf().len(), on);
        let scrolled = first != boards.first;
        self.first = first;
        self.drag(desk, at);
        scrolled
    }

    /// The place of the spine under the pointer; behind the last one a spine that is carried comes
    /// to stand last.
    fn under(&self, desk: &Desk, at: (u16, u16)) -> Option<usize> {
        let (boards, shown) = (self.boards(desk), self.shown(desk));
        let binders = desk.collection().shelf().len();
        let under = (0..binders).find(|&place| {
            let spine = boards.spine(place, place == shown);
            spine.is_some_and(|spine| spine.contains(Position::from(at)))
        });
        let carried = self.grip.is_some_and(Grip::is_carried);
        let last = binders.checked_sub(1).filter(|_| carried);
        under.or_else(|| last.filter(|last| boards.is_behind(*last, at)))
    }

    fn press(&mut self, desk: &Desk, mouse: Mouse, at: (u16, u16)) {
        self.grip = None;
        let Some(place) = self.under(desk, at) else {
            return;
        };
        let binder = desk.collection().binder_at(place).map(Binder::id);
        if mouse == Mouse::Left {
            let opens = place == self.chosen(desk);
            let grip = |binder| Grip {
                binder,
                opens,
                to: Some(place),
                pointer: None,
            };
            self.grip = binder.map(grip);
        }
        self.choose(desk, place);
    }

    /// The spine goes with the pointer, and it is told where it would stand.
    fn drag(&mut self, desk: &mut Desk, at: (u16, u16)) {
        let Some(grip) = &mut self.grip else {
            return;
        };
        if !desk.can_write() {
            self.grip = None;
            let why = offers::READ_ONLY;
            return desk.warn(format!("Binders stay where they are: {why}"));
        }
        grip.pointer = Some(at);
        let under = self.under(desk, at);
        let Some(grip) = &mut self.grip else {
            return;
        };
        grip.to = under;
        let Some((from, name)) = (desk.collection().shelf_place(grip.binder))
            .zip(desk.collection().binder(grip.binder).map(Binder::called))
        else {
            return;
        };
        let words = match under {
            Some(to) if to != from => {
                let where_to = hand::neighbour_words(desk.collection(), from, to);
                format!("{name} stands {where_to} then")
            }
            _ => format!("{name} stays where it is"),
        };
        grip.opens = false;
        desk.say(words);
    }

    fn let_go(&mut self, desk: &mut Desk, at: (u16, u16)) -> Next {
        let under = self.under(desk, at);
        let Some(grip) = self.grip.take() else {
            return Next::Stay;
        };
        let from = desk.collection().shelf_place(grip.binder);
        if grip.opens && under == from {
            return self.open(desk);
        }
        let Some(to) = grip.to.filter(|to| !grip.opens && Some(*to) != from) else {
            // Back to where the chosen binder stands.
            self.choose(desk, self.chosen(desk));
            return Next::Stay;
        };
        self.carry(desk, grip.binder, to);
        Next::Stay
    }
}
