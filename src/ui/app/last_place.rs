//! Where the person is, to be noted, and beginning there again.

use super::App;
use crate::hand::Ground;
use crate::session::LastPlace;

impl App {
    /// Where the person is now; not told of the invented collection.
    #[must_use]
    pub fn last_place(&self) -> Option<LastPlace> {
        if self.desk.is_aside() || self.desk.has_demo {
            return None;
        }
        let mut screens = self.screens.iter().rev();
        let (place, is_open) = screens.find_map(|screen| screen.place(&self.desk))?;
        LastPlace::of(self.desk.collection(), place, is_open)
    }

    /// Begins where the person was before, as near to it as there is a pocket.
    #[must_use]
    pub fn at_last_place(mut self, last_place: &LastPlace) -> Self {
        if let Some(place) = last_place.place(self.desk.collection()) {
            self.screens[0].follow(&self.desk, place);
            if last_place.open.is_some() {
                self.go_to(Ground::real(place.binder), place);
            }
        }
        self
    }
}
