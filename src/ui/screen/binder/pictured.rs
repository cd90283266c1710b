//! Where the cards of an open binder have their pictures.

use super::OpenBinder;
use crate::ui::desk::Desk;
use crate::ui::gallery::{self, Pictured};

impl OpenBinder {
    /// Where the cards that lie in the pockets shown may have their pictures. While something is
    /// in hand there are none: it is drawn over the pockets.
    pub(super) fn pictured(&self, desk: &Desk) -> Vec<Pictured> {
        let mut out = Vec::new();
        let (Some(book), Some(rooms), None) = (self.book(desk), self.rooms(desk), &self.hand)
        else {
            return out;
        };
        for side in &rooms.sides {
            let pockets = side.pockets().filter(|_| side.is_boxed());
            out.extend(pockets.filter_map(|(here, pocket, area)| {
                let state = book.state(here.page, pocket);
                let printing = state.held()?;
                // What is amiss stands at the foot of the pocket.
                let foot = state.wanted() != Some(printing);
                let area = gallery::room(area, foot)?;
                Some(Pictured { printing, area })
            }));
        }
        out
    }
}
