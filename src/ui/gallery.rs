//! Pictures of cards in their pockets.
//!
//! Drawing never waits for one: after each frame the loop asks for what is seen and is not there
//! yet, a thread of its own reads and scales it ([`Maker`]), and what it made wakes the loop.

mod maker;

use std::collections::HashMap;
use std::fmt;

use ratatui::buffer::Buffer;
use ratatui::layout::{Rect, Size};
use ratatui::widgets::Widget;
use ratatui_image::Image;
use ratatui_image::protocol::Protocol;

pub use maker::Maker;
pub(super) use maker::{Asker, THREAD};

use crate::model::PrintingId;
use crate::session::PictureName;

/// The least room in which a picture shows more than the name that stands there otherwise.
const LEAST: Size = Size {
    width: 6,
    height: 4,
};
/// The most memory that made pictures take, as they reckon it themselves.
const MOST_BYTES: usize = 64 << 20;
/// The most names that are remembered as having no picture.
const MOST_NAMES: usize = 20_000;

/// A picture that is to be made: whose, and for how many cells.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Wanted {
    pub name: PictureName,
    pub size: Size,
}

/// What came of it.
pub struct Made {
    pub wanted: Wanted,
    /// `None` where the card has no picture, or one that cannot be read.
    pub picture: Option<Protocol>,
    /// Memory that it takes.
    pub bytes: usize,
}

impl fmt::Debug for Made {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Made")
            .field("wanted", &self.wanted)
            .field("bytes", &self.bytes)
            .finish_non_exhaustive()
    }
}

/// A place on the screen where a card's picture may stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Pictured {
    pub(super) printing: PrintingId,
    pub(super) area: Rect,
}

/// A picture that is kept, with the turn at which it was last seen.
struct Kept {
    made: Made,
    seen: u64,
}

/// The pictures that are at hand.
#[derive(Default)]
pub(super) struct Gallery {
    kept: HashMap<Wanted, Kept>,
    bytes: usize,
    turn: u64,
}

impl fmt::Debug for Gallery {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Gallery")
            .field("kept", &self.kept.len())
            .field("bytes", &self.bytes)
            .finish_non_exhaustive()
    }
}

impl Gallery {
    /// What is to be made for these; what is there already counts as seen now.
    pub(super) fn lacking(&mut self, seen: Vec<Wanted>) -> Vec<Wanted> {
        self.turn += 1;
        let mut lacking = seen;
        lacking.retain(|wanted| match self.kept.get_mut(wanted) {
            Some(kept) => {
                kept.seen = self.turn;
                false
            }
            None => true,
        });
        lacking
    }

    /// Keeps a picture, and lets those go that were seen longest ago when memory is short.
    pub(super) fn keep(&mut self, made: Made) {
        self.bytes += made.bytes;
        let kept = Kept {
            seen: self.turn,
            made,
        };
        if let Some(before) = self.kept.insert(kept.made.wanted.clone(), kept) {
            self.bytes -= before.made.bytes;
        }
        if self.bytes > MOST_BYTES || self.kept.len() > MOST_NAMES {
            self.let_go();
        }
    }

    /// Down to half of what is allowed, so that this is done seldom; never what is seen now.
    fn let_go(&mut self) {
        let mut by_age: Vec<_> = self
            .kept
            .iter()
            .filter(|(_, kept)| kept.seen < self.turn)
            .map(|(wanted, kept)| (kept.seen, wanted.clone()))
            .collect();
        by_age.sort_by_key(|(seen, _)| *seen);
        for (_, wanted) in by_age {
            if self.bytes <= MOST_BYTES / 2 && self.kept.len() <= MOST_NAMES / 2 {
                return;
            }
            if let Some(gone) = self.kept.remove(&wanted) {
                self.bytes -= gone.made.bytes;
            }
        }
    }

    /// The terminal may have forgotten what it was sent: all of it is made anew.
    pub(super) fn forget(&mut self) {
        self.kept.clear();
        self.bytes = 0;
    }

    /// Draws a picture in the middle of its room, if it is there.
    pub(super) fn draw(&self, wanted: &Wanted, area: Rect, buf: &mut Buffer) {
        let Some(kept) = self.kept.get(wanted) else {
            return;
        };
        let Some(picture) = &kept.made.picture else {
            return;
        };
        let size = picture.size();
        if size.width > area.width || size.height > area.height {
            return;
        }
        for y in area.top()..area.bottom() {
            for x in area.left()..area.right() {
                buf[(x, y)].reset();
            }
        }
        let place = Rect {
            x: area.x + (area.width - size.width) / 2,
            y: area.y + (area.height - size.height) / 2,
            width: size.width,
            height: size.height,
        };
        Image::new(picture).render(place, buf);
    }
}

/// The part of a pocket's cells that a picture takes: what is below its first line, within its
/// outline. `None` where that is too little.
pub(super) fn room(pocket: Rect, foot: bool) -> Option<Rect> {
    let area = Rect {
        x: pocket.x + 1,
        y: pocket.y + 2,
        width: pocket.width.checked_sub(2)?,
        height: pocket.height.checked_sub(3 + u16::from(foot))?,
    };
    (area.width >= LEAST.width && area.height >= LEAST.height).then_some(area)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn wanted(nth: usize) -> Wanted {
        let collection = demo::collection();
        let (id, set) = collection.sets().next().unwrap();
        let printing = set.printings(id).nth(nth).unwrap();
        Wanted {
            name: PictureName::of(&collection, printing).unwrap(),
            size: LEAST,
        }
    }

    fn made(wanted: &Wanted, bytes: usize) -> Made {
        Made {
            wanted: wanted.clone(),
            picture: None,
            bytes,
        }
    }

    #[test]
    fn what_is_seen_is_asked_for_once() {
        let mut gallery = Gallery::default();
        let seen = vec![wanted(0), wanted(1)];
        assert_eq!(gallery.lacking(seen.clone()), seen);
        gallery.keep(made(&seen[0], 10));
        assert_eq!(gallery.lacking(seen.clone()), seen[1..]);
        gallery.keep(made(&seen[1], 10));
        assert!(gallery.lacking(seen).is_empty());
    }

    #[test]
    fn memory_is_limited_and_what_is_seen_now_stays() {
        let mut gallery = Gallery::default();
        let big = MOST_BYTES / 4;
        for nth in 0..20 {
            let one = wanted(nth);
            gallery.lacking(vec![one.clone()]);
            gallery.keep(made(&one, big));
            assert!(gallery.bytes <= MOST_BYTES, "{nth}");
            assert!(gallery.lacking(vec![one]).is_empty(), "{nth}");
        }
        gallery.forget();
        assert_eq!(gallery.lacking(vec![wanted(3)]).len(), 1);
    }
}
