//! Which pictures of cards are asked for, and where they stand.

use ratatui::layout::Rect;

use super::{App, Flow};
use crate::session::PictureName;
use crate::ui::gallery::{Gallery, Made, Pictured, Wanted};

impl App {
    /// From now on pictures are asked for and shown.
    #[must_use]
    pub fn with_pictures(mut self) -> Self {
        self.desk.gallery = Some(Gallery::default());
        self
    }

    /// The pictures that can be seen and are not there yet.
    pub fn pictures_wanted(&mut self) -> Vec<Wanted> {
        let seen = self.pictured().into_iter().map(|(wanted, _)| wanted);
        let seen = seen.collect();
        let gallery = self.desk.gallery.as_mut();
        gallery.map_or_else(Vec::new, |gallery| gallery.lacking(seen))
    }

    /// Takes a picture that was made.
    pub fn take_picture(&mut self, made: Made) -> Flow {
        let Some(gallery) = &mut self.desk.gallery else {
            return Flow::Same;
        };
        let shows = made.picture.is_some();
        gallery.keep(made);
        if shows { Flow::Draw } else { Flow::Same }
    }

    /// The terminal was another program's for a while: what it was sent may be gone.
    pub(in crate::ui) fn forget_pictures(&mut self) {
        if let Some(gallery) = &mut self.desk.gallery {
            gallery.forget();
        }
    }

    /// Which pictures belong where. Under a window there are none: in some terminals they would
    /// stand over it.
    pub(in crate::ui) fn pictured(&self) -> Vec<(Wanted, Rect)> {
        if self.desk.gallery.is_none() || !self.top().is_full() {
            return Vec::new();
        }
        let pictures = self.top().pictures(&self.desk).into_iter();
        let of = |pictured: Pictured| {
            let name = PictureName::of(self.desk.collection(), pictured.printing)?;
            let size = pictured.area.as_size();
            Some((Wanted { name, size }, pictured.area))
        };
        pictures.filter_map(of).collect()
    }
}
