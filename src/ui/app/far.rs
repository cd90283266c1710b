//! What is done on another screen than the one on top.

use crossterm::event::{KeyCode, KeyEvent};

use super::{App, Flow};
use crate::ui::intent::Intent;
use crate::ui::keymap::{self, Context};
use crate::ui::message::Message;
use crate::ui::offers;
use crate::ui::screen::anything::Deed;

/// More screens than ever stand on each other.
const MOST_SCREENS: usize = 16;

impl App {
    /// Does a deed of this or of another screen: closes what stands above the one where it begins,
    /// and goes along its verbs from there.
    pub(super) fn carry_out(&mut self, deed: Deed) -> Flow {
        let (base, verbs, letter) = match deed {
            Deed::Verbs { base, verbs } => (base, verbs, None),
            Deed::Letter {
                base,
                verbs,
                letter,
            } => (base, verbs, Some(letter)),
            Deed::Command(_) => return Flow::Draw,
        };
        for _ in 0..MOST_SCREENS {
            if self.context() == base {
                break;
            }
            let depth = self.screens.len();
            self.act(Intent::Leave);
            // A screen that says something first is not left over its head.
            let is_held = (self.desk.message.as_ref()).is_some_and(Message::is_amiss);
            if is_held || depth == 1 {
                return Flow::Draw;
            }
        }
        if self.context() != base {
            return Flow::Draw;
        }
        let mut flow = Flow::Draw;
        for (at, verb) in verbs.iter().enumerate() {
            if let Some(why) = offers::why_not(self.top(), &self.desk, *verb) {
                self.desk.warn(format!("Not now: {why}"));
                return Flow::Draw;
            }
            let place = keymap::leads_to(self.context(), *verb);
            flow = self.act(*verb);
            let is_last = at + 1 == verbs.len() && letter.is_none();
            if !is_last && place != Some(self.context()) {
                return flow;
            }
        }
        if let Some(letter) = letter {
            let key = KeyEvent::from(KeyCode::Char(letter));
            let (top, desk) = self.on_top();
            let next = top.key(desk, &key);
            flow = self.follow(next);
            // The list still stands there: the letter has no line on it.
            if self.context() == Context::Menu && self.desk.message.is_none() {
                self.desk
                    .warn("Not now: this is what can be done at this pocket");
            }
        }
        flow
    }
}
