//! What goes on beside the keys and between them: work of a thread, a pointer that rests, what is
//! left to do when no key waits.

use super::{App, Flow};
use crate::ui::job::{Work, Workers};

impl App {
    /// Something that works beside the loop has something to tell.
    pub fn hear(&mut self) -> Flow {
        let (top, desk) = self.on_top();
        let next = top.hear(desk);
        let flow = self.follow(next);
        self.tell_fault(flow)
    }

    /// Whether the screen waits for something that is made beside the loop.
    #[must_use]
    pub fn waits(&self) -> bool {
        self.top().works(&self.desk).is_some()
    }

    /// What works beside the loop calls this when it has something to tell; [`App::hear`] follows
    /// then. Without it such work is done at once.
    pub fn wake_by(&mut self, wake: impl Fn() + Send + Sync + 'static) {
        self.desk.beside = Some(Workers::threads(wake));
    }

    /// Such work is handed to `hand`, which does it whenever it likes, or drops it; [`App::hear`]
    /// follows then. So that what is shown meanwhile can be looked at.
    pub fn hand_work_to(&mut self, hand: impl Fn(Work) + Send + Sync + 'static) {
        self.desk.beside = Some(Workers::handed(hand));
    }

    /// Whether a pointer rests at an edge with something in hand: then the loop wakes from time to
    /// time and calls [`App::turn`].
    #[must_use]
    pub fn turns(&self) -> bool {
        self.top().turns(&self.desk)
    }

    /// Turns a page under a pointer that rests at an edge.
    pub fn turn(&mut self) -> Flow {
        let (top, desk) = self.on_top();
        match top.turn(desk) {
            true => Flow::Draw,
            false => Flow::Same,
        }
    }

    /// Whether something is left to do between keys: then the loop calls [`App::work_on`] whenever
    /// no key waits.
    #[must_use]
    pub fn is_at_work(&self) -> bool {
        self.top().is_at_work(&self.desk)
    }

    /// Does a part of what is left, short enough that no key waits for it.
    pub fn work_on(&mut self) -> Flow {
        let revision = self.desk.session.revision();
        let (top, desk) = self.on_top();
        if !top.work_on(desk) {
            return Flow::Same;
        }
        if self.desk.session.revision() != revision {
            self.refresh();
        }
        match self.is_at_work() {
            true => Flow::Draw,
            // What follows from what has come to its end.
            false => self.hear(),
        }
    }

    /// Says what a fault of this program said, if there was one beside the loop.
    pub(super) fn tell_fault(&mut self, flow: Flow) -> Flow {
        let Some(said) = self.desk.take_fault() else {
            return flow;
        };
        self.desk.tell_fault(&said);
        match flow {
            Flow::Same => Flow::Draw,
            flow => flow,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::cell::RefCell;
    use std::rc::Rc;

    use super::*;
    use crate::model::Collection;
    use crate::session::{Event as Told, Session};
    use crate::ui::job::Job;
    use crate::ui::keymap::Context;
    use crate::ui::theme::{Colours, Look, Theme};

    #[test]
    fn what_a_panic_beside_the_keys_said_is_told_and_heard_by_the_witness_of_the_session() {
        let heard = Rc::new(RefCell::new(Vec::new()));
        let mut session = Session::in_memory(Collection::new());
        let hears = Rc::clone(&heard);
        session.tell(move |event| {
            if let Told::Failed(said) = event {
                hears.borrow_mut().push(said.to_owned());
            }
        });
        let look = Look {
            colours: Colours::None,
            ascii: false,
        };
        let mut app = App::new(session, Theme::new(look), (80, 24));
        for (before, told) in [
            (None, "A fault of this program: 7 pages of 5"),
            (Some("Not written"), "Not written: 7 pages of 5"),
        ] {
            let mut job = Some(Job::begin(None, |_| -> u8 { panic!("{} pages of 5", 7) }));
            assert!(app.desk.ended(&mut job).is_some());
            app.desk.message = None;
            if let Some(words) = before {
                app.desk.warn(words);
            }
            assert_eq!(app.hear(), Flow::Draw);
            let message = app.desk.message.as_ref().unwrap();
            assert_eq!(message.told(&app.desk, Context::Shelf).0, told);
        }
        assert_eq!(*heard.borrow(), ["7 pages of 5"; 2]);
    }
}
