//! Where the cards of an open binder have their pictures.

use super::OpenBinder;
use crate::model::PocketAt;
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
            let (Some(page), Some(format), Some(grid)) = (side.page, side.format, side.grid) else {
                continue;
            };
            for row in 0..grid.rows {
                for column in 0..grid.columns {
                    let at = PocketAt {
                        side: side.side,
                        row,
                        column,
                    };
                    let state = format.index(at).map(|pocket| book.state(page, pocket));
                    let held = state.and_then(|state| Some((state.held()?, state)));
                    // What is amiss stands at the foot of the pocket.
                    let room = held.and_then(|(printing, state)| {
                        let foot = state.wanted() != Some(printing);
                        let area = gallery::room(grid.pocket_rect(row, column), foot)?;
                        Some(Pictured { printing, area })
                    });
                    out.extend(room.filter(|_| grid.boxed));
                }
            }
        }
        out
    }
}
