//! An open binder: one side or a spread, the strip of miniatures, and the pocket under the cursor
//! told in full.

mod cursor;
mod draw;
mod rooms;

use super::find::Find;
use super::page_prompt::PagePrompt;
use super::{Mouse, Next, Screen};
use crate::hand;
use crate::model::{BinderId, Collection, Place, PocketAt, Side, Step};
use crate::report;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use cursor::Cursor;
use rooms::Rooms;

/// A binder opened at a pocket.
#[derive(Clone, Debug)]
pub(crate) struct OpenBinder {
    binder: BinderId,
    cursor: Cursor,
}

impl OpenBinder {
    /// Opens the binder at this place, or as near to it as there is a pocket.
    pub(crate) fn at(collection: &Collection, place: Place) -> Self {
        let mut open = Self {
            binder: place.binder,
            cursor: Cursor::default(),
        };
        if let Some(binder) = collection.binder(place.binder) {
            open.cursor = Cursor::at(binder, place.page, place.pocket);
        }
        open
    }

    /// The pocket under the cursor; `None` when the binder has no pages.
    fn place(&self, desk: &Desk) -> Option<Place> {
        let binder = desk.collection().binder(self.binder)?;
        let cursor = self.cursor.within(binder);
        let page = binder.pages().get(cursor.page)?;
        Some(Place {
            binder: self.binder,
            page: cursor.page,
            pocket: page.format().index(cursor.at)?,
        })
    }

    fn deed(&self, desk: &Desk, intent: Intent) -> Result<Step, hand::Cannot> {
        let place = self.place(desk).ok_or("the binder has no pages")?;
        let collection = desk.collection();
        match intent {
            Intent::Put => hand::put(collection, place),
            Intent::Take => hand::take(collection, place),
            Intent::Acquire => hand::acquire(collection, place),
            Intent::PartWith => hand::part_with(collection, place),
            _ => Err("that cannot be done here"),
        }
    }

    pub(crate) fn can(&self, desk: &Desk, intent: Intent) -> bool {
        match intent {
            Intent::Put | Intent::Take | Intent::Acquire | Intent::PartWith => {
                self.deed(desk, intent).is_ok()
            }
            Intent::NextGap | Intent::PreviousGap => desk
                .collection()
                .binder(self.binder)
                .is_some_and(|binder| binder.tally().gaps() > 0),
            _ => true,
        }
    }

    pub(crate) fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => {
                desk.bookmarks.insert(self.binder, self.clone());
                return Next::Close;
            }
            Intent::Find => return Next::Open(Screen::Find(Find::open(desk))),
            Intent::GoToPage => {
                return Next::Open(Screen::PagePrompt(PagePrompt::new(self.binder)));
            }
            Intent::NextBinder | Intent::PreviousBinder => {
                return self.beside(desk, intent == Intent::NextBinder);
            }
            Intent::Put | Intent::Take | Intent::Acquire | Intent::PartWith => {
                match self.deed(desk, intent) {
                    Ok(step) => {
                        desk.commit(step);
                    }
                    Err(why) => desk.warn(sentence(why)),
                }
            }
            Intent::NextGap | Intent::PreviousGap => {
                self.go_to_gap(desk, intent == Intent::NextGap);
            }
            _ => self.move_cursor(desk, intent),
        }
        Next::Stay
    }

    fn move_cursor(&mut self, desk: &Desk, intent: Intent) {
        let Some(binder) = desk.collection().binder(self.binder) else {
            return;
        };
        let spread = Rooms::fit(desk, binder, self.cursor).is_spread();
        let cursor = self.cursor.within(binder);
        self.cursor = match intent {
            Intent::Left => cursor.left(binder),
            Intent::Right => cursor.right(binder),
            Intent::Up => cursor.up(),
            Intent::Down => cursor.down(binder),
            Intent::PageOn if spread => cursor.spread_on(binder),
            Intent::PageBack if spread => cursor.spread_back(binder),
            Intent::PageOn => cursor.side_on(binder).unwrap_or(cursor),
            Intent::PageBack => cursor.side_back(binder).unwrap_or(cursor),
            Intent::First => Cursor::default(),
            Intent::Last => Cursor::last(binder),
            _ => cursor,
        }
        .within(binder);
    }

    fn go_to_gap(&mut self, desk: &mut Desk, forward: bool) {
        let Some(place) = self.place(desk) else {
            return;
        };
        match report::next_gap(desk.collection(), place, forward) {
            Some(gap) => self.cursor = Self::at(desk.collection(), gap).cursor,
            None if forward => desk.say("No gap after this one; b goes back"),
            None => desk.say("No gap before this one; n goes on"),
        }
    }

    /// The binder at the right or left on the shelf.
    fn beside(&self, desk: &mut Desk, right: bool) -> Next {
        let collection = desk.collection();
        let here = collection.shelf_place(self.binder);
        let there = here.and_then(|here| {
            if right {
                Some(here + 1)
            } else {
                here.checked_sub(1)
            }
        });
        match there.and_then(|there| collection.binder_at(there)) {
            Some(binder) => Next::GoTo(Place {
                binder: binder.id(),
                page: 0,
                pocket: 0,
            }),
            None => {
                desk.say("No binder stands there");
                Next::Stay
            }
        }
    }

    pub(crate) fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp => return self.act(desk, Intent::PageBack),
            Mouse::WheelDown => return self.act(desk, Intent::PageOn),
            Mouse::Left | Mouse::Right => {}
        }
        let Some(binder) = desk.collection().binder(self.binder) else {
            return Next::Stay;
        };
        let rooms = Rooms::fit(desk, binder, self.cursor);
        if let Some((page, side)) = rooms.miniature_under(at) {
            let at = PocketAt {
                side,
                row: 0,
                column: 0,
            };
            self.cursor = Cursor { page, at }.within(binder);
            return Next::Stay;
        }
        if let Some(cursor) = rooms.pocket_under(at) {
            let again = cursor == self.cursor.within(binder);
            self.cursor = cursor;
            let held = self
                .place(desk)
                .and_then(|place| desk.collection().held(place));
            return match (mouse, held) {
                (Mouse::Right, Some(_)) => self.act(desk, Intent::Take),
                (Mouse::Right, None) => self.act(desk, Intent::Put),
                (_, None) if again => self.act(desk, Intent::Put),
                _ => Next::Stay,
            };
        }
        match rooms.edge_under(at) {
            Some(Side::Front) => self.act(desk, Intent::PageOn),
            Some(Side::Back) => self.act(desk, Intent::PageBack),
            None => Next::Stay,
        }
    }
}

/// The words with a capital.
fn sentence(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + chars.as_str()
    })
}
