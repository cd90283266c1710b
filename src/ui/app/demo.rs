//! The invented collection in the place of the person's own, and back.

use super::{App, shelf};
use crate::demo;
use crate::session::Session;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;

impl App {
    /// The invented collection stands in the place of the person's own until it is left. It is
    /// kept nowhere, so nothing of it can get into the other.
    pub(super) fn show_demo(&mut self) {
        if self.desk.has_demo {
            self.desk.say("This is the invented collection");
            return;
        }
        let key = self.desk.key(Context::Shelf, Intent::Quit);
        self.desk
            .put_aside(Session::in_memory(demo::collection()), demo::prices());
        self.screens.clear();
        self.screens.push(Box::new(shelf::Shelf::default()));
        self.desk.say(format!(
            "An invented collection: try what you like, nothing of it is kept. {key} leads back to yours"
        ));
    }

    pub(super) fn leave_demo(&mut self) {
        self.desk.take_up();
        self.screens.clear();
        self.screens.push(Box::new(shelf::Shelf::default()));
        self.desk
            .say("This is your own collection again, as you left it");
    }
}
