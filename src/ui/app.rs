//! The program between two frames: events come in, the stack of screens changes, nothing is drawn.

mod beside;
mod demo;
mod far;
mod last_place;
mod mouse;
mod pictures;
mod terminal;

use std::path::PathBuf;

use crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind};
use ratatui::layout::Rect;

use super::desk::Desk;
use super::footer;
use super::intent::Intent;
use super::keymap::{Context, Key};
use super::known;
use super::offers;
use super::screen::anything::Anything;
use super::screen::binder::OpenBinder;
use super::screen::{Next, Screen, help, shelf};
use super::theme::Theme;
use crate::hand::Ground;
use crate::model::Place;
use crate::session::Session;
use crate::settings::Settings;
use crate::supplies::PriceList;

/// What the loop has to do after an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flow {
    /// Nothing that is seen has changed.
    Same,
    Draw,
    /// The terminal may show something else: draw every cell.
    DrawAnew,
    Suspend,
    Quit,
}

/// The state of the program on a screen.
#[derive(Debug)]
pub struct App {
    pub(super) desk: Desk,
    /// Never empty; the first is the shelf.
    pub(super) screens: Vec<Box<dyn Screen>>,
    /// The last click did more than choose.
    click_did: bool,
}

impl App {
    /// Begins at the shelf, on a terminal of `width` x `height` cells.
    #[must_use]
    pub fn new(session: Session, theme: Theme, (width, height): (u16, u16)) -> Self {
        let area = Rect::new(0, 0, width, height);
        Self {
            desk: Desk::new(session, theme, area),
            screens: vec![Box::new(shelf::Shelf::default())],
            click_did: false,
        }
    }

    /// Where files go whose names do not say it.
    #[must_use]
    pub fn in_folder(mut self, folder: Option<PathBuf>) -> Self {
        self.desk.folder = folder;
        self
    }

    /// Says something on the message line, to be read before the first key.
    pub fn tell(&mut self, words: impl Into<String>) {
        self.desk.say(words);
    }

    /// The collection that is shown is the invented one already.
    #[must_use]
    pub fn of_demo(mut self, is_demo: bool) -> Self {
        self.desk.has_demo = is_demo;
        self
    }

    /// The collector's price list, and what could not be taken of it, in words.
    #[must_use]
    pub fn with_prices(mut self, list: PriceList, amiss: Vec<String>) -> Self {
        self.desk.prices = list;
        self.desk.prices_amiss = amiss;
        self
    }

    /// With other keys, and with what is usual for this person.
    #[must_use]
    pub fn with_settings(mut self, settings: Settings) -> Self {
        self.desk.keys = known::keymap(&settings);
        self.desk.mouse = settings.screen.mouse;
        self.desk.way.working = settings.collecting.working;
        self.desk.settings = settings;
        self
    }

    #[must_use]
    pub fn session(&self) -> &Session {
        &self.desk.session
    }

    /// Hands the session back, to be closed.
    #[must_use]
    pub fn into_session(mut self) -> Session {
        // Who waits for work beside the loop is gone, so that it stops.
        self.screens.clear();
        if let Some(beside) = self.desk.beside.take() {
            beside.end();
        }
        self.desk.take_up();
        self.desk.session
    }

    /// The terminal's cells.
    #[must_use]
    pub fn area(&self) -> Rect {
        self.desk.area
    }

    /// The screen that is on top, and what it works with.
    pub(super) fn on_top(&mut self) -> (&mut dyn Screen, &mut Desk) {
        let top = self.screens.len() - 1;
        (self.screens[top].as_mut(), &mut self.desk)
    }

    pub(super) fn top(&self) -> &dyn Screen {
        // `screens` is never empty: the shelf is not closed.
        self.screens[self.screens.len() - 1].as_ref()
    }

    /// Where a key would be pressed now.
    #[must_use]
    pub fn context(&self) -> Context {
        self.top().context()
    }

    /// Whether text is being typed, so that the terminal may mark pasted text as such.
    #[must_use]
    pub fn takes_text(&self) -> bool {
        self.top().has_field()
    }

    /// Takes one event of the terminal.
    pub fn handle(&mut self, event: &Event) -> Flow {
        let flow = self.take_event(event);
        self.tell_fault(flow)
    }

    fn take_event(&mut self, event: &Event) -> Flow {
        match event {
            Event::Key(key) if key.kind != KeyEventKind::Release => self.key(key),
            Event::Mouse(mouse) => self.click(mouse),
            Event::Paste(words) if self.takes_text() => {
                self.desk.message = None;
                // Many terminals send the ends of pasted lines as Enter is sent.
                let words = words.replace("\r\n", "\n").replace('\r', "\n");
                let (top, desk) = self.on_top();
                top.paste(desk, &words);
                Flow::Draw
            }
            Event::Resize(width, height) => {
                self.desk.area = Rect::new(0, 0, *width, *height);
                Flow::DrawAnew
            }
            _ => Flow::Same,
        }
    }

    fn key(&mut self, event: &KeyEvent) -> Flow {
        match self.desk.keys.lookup(self.context(), event) {
            Some(intent) => self.act_or_say_why(intent),
            None if self.top().takes_letters() => {
                self.desk.message = None;
                let (top, desk) = self.on_top();
                let next = top.key(desk, event);
                self.follow(next)
            }
            None => self.say_unbound(event),
        }
    }

    /// Carries out what a key asks for. Where there is nothing here yet that it could be done
    /// with and nothing else is said either, why not.
    fn act_or_say_why(&mut self, intent: Intent) -> Flow {
        // A form is not filled in to be refused at the end.
        if offers::is_barred(self.top(), &self.desk, intent) {
            self.desk.message = None;
            self.desk.warn(format!("Not now: {}", offers::READ_ONLY));
            return Flow::Draw;
        }
        let why = match self.top().why_not(&self.desk, intent) {
            Some(why) if !footer::can(self.top(), &self.desk, intent) => Some(why),
            _ => None,
        };
        let screens = self.screens.len();
        let flow = self.act(intent);
        if let Some(why) = why
            && self.desk.message.is_none()
            && self.screens.len() == screens
        {
            self.desk.say(format!("Not now: {why}"));
            return Flow::Draw;
        }
        flow
    }

    /// A key that nothing is bound to here.
    fn say_unbound(&mut self, event: &KeyEvent) -> Flow {
        let known = self.desk.message.take().is_some();
        let context = self.context();
        let is_sign = matches!(event.code, KeyCode::Char(_) | KeyCode::F(_));
        match Key::of(event).filter(|_| is_sign) {
            Some(key) if !context.takes_letters() => {
                let help = self.desk.key(context, Intent::Help);
                self.desk
                    .say(format!("{key} does nothing here; {help} tells what does"));
                Flow::Draw
            }
            _ if known => Flow::Draw,
            _ => Flow::Same,
        }
    }

    /// Carries out what was asked for.
    pub fn act(&mut self, intent: Intent) -> Flow {
        self.desk.message = None;
        match intent {
            Intent::Quit if self.desk.is_aside() => self.leave_demo(),
            Intent::Demo if self.desk.is_aside() => self.leave_demo(),
            Intent::Demo => self.show_demo(),
            Intent::Quit => return Flow::Quit,
            Intent::Suspend => return Flow::Suspend,
            Intent::Redraw => return Flow::DrawAnew,
            Intent::Undo => {
                let (top, desk) = self.on_top();
                if !top.take_back(desk) {
                    if desk.undo() {
                        top.taken_back();
                    }
                    self.refresh();
                }
                return self.hear();
            }
            Intent::Redo => {
                let (top, desk) = self.on_top();
                if desk.redo() {
                    top.done_again();
                }
                self.refresh();
                return self.hear();
            }
            Intent::CopyOut => {
                let copied = self.top().copied(&self.desk);
                self.desk.copy_out(copied);
            }
            Intent::Mouse => self.desk.switch_mouse(self.context()),
            Intent::Help => {
                let context = self.context();
                let intents = self.desk.keys.intents(context).into_iter();
                let rows = intents.map(|(intent, keys, _)| help::Row {
                    intent,
                    keys,
                    why_not: offers::why_not(self.top(), &self.desk, intent),
                });
                let help = help::Help::new(context, rows.collect());
                self.screens.push(Box::new(help));
            }
            Intent::Anything => {
                // From the help it is about the screen below.
                if self.context() == Context::Help {
                    self.screens.pop();
                }
                let deeds = Anything::of(offers::lines(&self.screens, &self.desk));
                self.screens.push(Box::new(deeds));
            }
            _ => {
                let (top, desk) = self.on_top();
                let next = top.act(desk, intent);
                return self.follow(next);
            }
        }
        Flow::Draw
    }

    fn follow(&mut self, next: Next) -> Flow {
        match next {
            Next::Stay => {}
            Next::Close => {
                if self.screens.len() > 1 {
                    self.screens.pop();
                }
                self.refresh();
                // What ended while a window stood over it is heard now.
                return self.hear();
            }
            Next::CloseAnd(intent) => {
                if self.screens.len() > 1 {
                    self.screens.pop();
                }
                return self.act(intent);
            }
            Next::Now(intent) => return self.act(intent),
            Next::Do(deed) => {
                self.screens.pop();
                return self.carry_out(deed);
            }
            Next::Open(screen) => {
                self.screens.push(screen);
                // What was done in no time stands in the first frame.
                return self.hear();
            }
            Next::Instead(screen) => {
                self.screens.pop();
                self.screens.push(screen);
                self.refresh();
                return self.hear();
            }
            Next::GoTo(ground, place) => self.go_to(ground, place),
            Next::LeafTo(ground, place) => {
                self.follow(Next::Close);
                let (top, desk) = self.on_top();
                if !top.leaf_to(desk, ground, place) {
                    self.go_to(ground, place);
                }
            }
            Next::GoToAnd(ground, place, intent) => {
                self.go_to(ground, place);
                let told = self.desk.message.take();
                let flow = self.act(intent);
                self.desk.message = self.desk.message.take().or(told);
                return flow;
            }
            Next::Under(ground) => {
                for screen in &mut self.screens {
                    screen.stand_on(&self.desk, ground);
                }
            }
        }
        Flow::Draw
    }

    /// Closes what is above the shelf and opens the binder or the draft there.
    fn go_to(&mut self, ground: Ground, place: Place) {
        self.screens.truncate(1);
        self.screens[0].follow(&self.desk, place);
        let open = OpenBinder::on(self.desk.collection(), ground, place);
        self.screens.push(Box::new(open));
    }

    /// Screens that keep something told take it anew.
    pub(super) fn refresh(&mut self) {
        for screen in &mut self.screens {
            screen.refresh(&self.desk);
        }
    }
}
