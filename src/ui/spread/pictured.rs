//! Where the cards of an open binder have their pictures.

use super::Spread;
use crate::ui::desk::Desk;
use crate::ui::gallery::{self, Pictured};

impl Spread {
    /// Where the cards that lie in the pockets shown may have their pictures.
    pub(crate) fn pictured(&self, desk: &Desk) -> Vec<Pictured> {
        let mut out = Vec::new();
        let Some(book) = self.book(desk, None) else {
            return out;
        };
        for side in &self.rooms(desk, &book).sides {
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
