//! The mouse on the shelf: choosing a binder, opening it, and carrying it along by its spine.

use ratatui::layout::Position;

use super::{Mouse, Next, Shelf};
use crate::model::{Binder, BinderId};
use crate::ui::desk::Desk;

/// A spine that the button went down on and has not been let go of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grip {
    binder: BinderId,
    /// It was the chosen one already: letting go of it where it stands opens it.
    opens: bool,
    /// The place over which it is held, counted when it has been taken out; none beside the spines.
    pub(super) to: Option<usize>,
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
            Mouse::WheelUp | Mouse::WheelDown => Next::Stay,
        }
    }

    /// The place of the spine under the pointer.
    fn under(&self, desk: &Desk, at: (u16, u16)) -> Option<usize> {
        let (boards, shown) = (self.boards(desk), self.shown(desk));
        (0..desk.collection().shelf().len()).find(|&place| {
            let spine = boards.spine(place, place == shown);
            spine.is_some_and(|spine| spine.contains(Position::from(at)))
        })
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
            };
            self.grip = binder.map(grip);
        }
        self.choose(desk, place);
    }

    /// The spine goes with the pointer, and it is told where it would stand.
    fn drag(&mut self, desk: &mut Desk, at: (u16, u16)) {
        let under = self.under(desk, at);
        let Some(grip) = &mut self.grip else {
            return;
        };
        if !desk.can_write() {
            self.grip = None;
            return desk
                .warn("Another program has this collection open: binders stay where they are");
        }
        grip.to = under;
        let Some((from, name)) = (desk.collection().shelf_place(grip.binder))
            .zip(desk.collection().binder(grip.binder).map(Binder::called))
        else {
            return;
        };
        let words = match under {
            Some(to) if to != from => format!("{name} is binder {} on the shelf then", to + 1),
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
            return Next::Stay;
        };
        self.carry(desk, grip.binder, to);
        Next::Stay
    }
}
