//! The sections of a binder: rules at the left, the pages taking shape at the right, below them
//! what it would take and what is to be told. Nothing is kept until a draft is made.

mod draw;
mod fields;
mod lists;
mod made;
mod mouse;
mod rooms;
mod rows;
mod typed;
mod windows;

use super::{Mouse, Next, Screen};
use crate::hand::{self, Ground, Proposal};
use crate::layout::{Pick, Section, Template, usual_page};
use crate::model::{Binder, Rules, SetId};
use crate::text;
use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::spread::Cursor;
use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;
use rows::{Row, rows};

/// The editor.
#[derive(Debug)]
pub(crate) struct Sections {
    ground: Ground,
    rules: Rules,
    chosen: usize,
    proposal: Option<Proposal>,
    /// Where the pages as they would be are open.
    view: Cursor,
    mode: Mode,
    /// The rules before each edit.
    before: Vec<Rules>,
    /// The rules with a section that was only begun: leaving it takes it out again.
    begun: Option<Rules>,
    /// Leaving was asked for once, with rules that are kept nowhere.
    leaving: bool,
}

#[derive(Debug)]
enum Mode {
    List,
    /// The lines of the chosen section.
    Fields {
        row: usize,
        typing: Option<Field>,
    },
    Templates {
        all: Vec<Template>,
        chosen: usize,
    },
    /// A name for a template of one's own.
    Naming(Field),
    Growth {
        grown: Box<hand::Grown>,
        chosen: usize,
    },
}

impl Sections {
    /// The rules of the ground; where there are none yet, the templates to begin from.
    pub(crate) fn of(desk: &Desk, ground: Ground) -> Self {
        let collection = desk.collection();
        let layout = ground.layout(collection).ok();
        let rules = layout.map_or_else(Rules::new, |layout| layout.sections.clone());
        let mut sections = Self {
            ground,
            rules,
            chosen: 0,
            proposal: None,
            view: Cursor::default(),
            mode: Mode::List,
            before: Vec::new(),
            begun: None,
            leaving: false,
        };
        if sections.rules.is_empty() {
            sections.open_templates(desk);
        }
        sections.look(desk);
        sections
    }

    fn binder<'d>(&self, desk: &'d Desk) -> Option<&'d Binder> {
        desk.collection().binder(self.ground.binder)
    }

    fn own(&self, desk: &Desk) -> Option<SetId> {
        self.binder(desk).and_then(|binder| binder.spec().set)
    }

    /// The rules as they are shown: those under the cursor where templates are chosen from.
    fn shown(&self) -> &Rules {
        match &self.mode {
            Mode::Templates { all, chosen } => all.get(*chosen).map_or(&self.rules, |t| &t.rules),
            _ => &self.rules,
        }
    }

    /// Makes the pages anew after a change.
    fn look(&mut self, desk: &Desk) {
        let rules = self.shown().clone();
        self.proposal = hand::propose(desk.collection(), self.ground, &rules);
        self.chosen = self.chosen.min(self.rules.len().saturating_sub(1));
        self.leaving = false;
        self.show_chosen(desk);
    }

    /// Leafs to where the chosen section begins.
    fn show_chosen(&mut self, desk: &Desk) {
        let at = match &self.mode {
            Mode::Templates { .. } => 0,
            _ => self.first_page(),
        };
        if let (Some(proposal), Some(binder)) = (&self.proposal, self.binder(desk)) {
            let book = Book::proposed(desk.collection(), binder, &proposal.layout);
            self.view = Cursor::at(&book, at, 0);
        }
    }

    /// The page on which the chosen section begins; pages put in by hand are not counted.
    fn first_page(&self) -> usize {
        let laid = self
            .proposal
            .as_ref()
            .map(|proposal| &proposal.renewed.laid);
        let filled = laid.and_then(|laid| laid.filled.get(self.chosen));
        filled.and_then(|filled| filled.first_page).unwrap_or(0)
    }

    fn is_changed(&self, desk: &Desk) -> bool {
        let layout = self.ground.layout(desk.collection()).ok();
        layout.is_some_and(|layout| layout.sections != self.rules)
    }

    fn section(&self) -> Option<Section> {
        self.rules.get(self.chosen)?.parse().ok()
    }

    fn rows(&self, desk: &Desk) -> Vec<Row> {
        let section = self.section();
        section.map_or_else(Vec::new, |section| {
            rows(desk.collection(), self.own(desk), &section)
        })
    }

    /// Keeps the rules as they are, to be taken back to.
    fn remember(&mut self) {
        self.before.push(self.rules.clone());
    }

    fn act_list(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let last = self.rules.len().saturating_sub(1);
        if intent != Intent::Leave {
            self.leaving = false;
        }
        match intent {
            Intent::Up | Intent::Down | Intent::First | Intent::Last => {
                self.choose(desk, intent.stepped(self.chosen, 1, last));
            }
            Intent::PageOn | Intent::PageBack => self.leaf(desk, intent == Intent::PageOn),
            Intent::Accept => self.edit(desk),
            Intent::AddSection => self.add(desk),
            Intent::DropSection if self.chosen < self.rules.len() => {
                self.remember();
                self.rules.remove(self.chosen);
                self.look(desk);
            }
            Intent::SectionUp => self.carry(desk, -1),
            Intent::SectionDown => self.carry(desk, 1),
            Intent::Templates => {
                self.open_templates(desk);
                self.look(desk);
            }
            Intent::SaveTemplate => self.mode = Mode::Naming(Field::default()),
            Intent::CompareGrowth => self.compare(desk),
            Intent::KeepSections => {
                match hand::keep_sections(desk.collection(), self.ground, &self.rules) {
                    Ok(step) => {
                        desk.commit(step);
                    }
                    Err(why) => {
                        let key = |intent| desk.key(Context::Sections, intent);
                        let (make, save) = (key(Intent::MakeDraft), key(Intent::SaveTemplate));
                        desk.warn(format!(
                            "{}; {make} makes a draft by them, {save} keeps them under a name",
                            text::sentence(&why)
                        ));
                    }
                }
            }
            Intent::MakeDraft => return self.make(desk),
            Intent::Leave => return self.leave(desk),
            _ => {}
        }
        Next::Stay
    }

    fn choose(&mut self, desk: &Desk, at: usize) {
        self.chosen = at;
        self.show_chosen(desk);
    }

    fn leaf(&mut self, desk: &Desk, on: bool) {
        if let (Some(proposal), Some(binder)) = (&self.proposal, self.binder(desk)) {
            let book = Book::proposed(desk.collection(), binder, &proposal.layout);
            self.view = self.view.leafed(&book, on);
        }
    }

    fn edit(&mut self, desk: &mut Desk) {
        if self.rules.is_empty() {
            return self.open_templates(desk);
        }
        if self.section().is_none() {
            let key = desk.key(Context::Sections, Intent::DropSection);
            return desk.warn(format!("This line cannot be read: {key} takes it out"));
        }
        // The name is seldom what one wants to change.
        self.mode = Mode::Fields {
            row: 2,
            typing: None,
        };
    }

    fn add(&mut self, desk: &mut Desk) {
        let Some(binder) = self.binder(desk) else {
            return;
        };
        let page = usual_page(binder);
        let pick = Pick {
            rest: true,
            ..Pick::default()
        };
        let at = (self.chosen + 1).min(self.rules.len());
        // By the number that it has in the list, or the next that no other is called by.
        let number = (at + 1..).find(|number| {
            let name = format!("Section {number}:");
            !self.rules.iter().any(|rule| rule.starts_with(&name))
        });
        let name = format!("Section {}", number.unwrap_or(at + 1));
        self.remember();
        let section = Section::of_cards(&name, page, pick);
        self.rules.insert(at, section.to_string().into());
        self.chosen = at;
        self.begun = Some(self.rules.clone());
        self.look(desk);
        self.mode = Mode::Fields {
            row: 0,
            typing: None,
        };
    }

    fn carry(&mut self, desk: &Desk, by: isize) {
        let to = self.chosen.saturating_add_signed(by);
        if to < self.rules.len() && to != self.chosen {
            self.remember();
            self.rules.swap(self.chosen, to);
            self.chosen = to;
            self.look(desk);
        }
    }
}

impl Screen for Sections {
    fn context(&self) -> Context {
        match self.mode {
            Mode::List => Context::Sections,
            Mode::Fields { .. } => Context::Section,
            Mode::Templates { .. } => Context::Templates,
            Mode::Naming(_) => Context::Prompt,
            Mode::Growth { .. } => Context::Growth,
        }
    }

    fn is_full(&self) -> bool {
        true
    }

    fn has_field(&self) -> bool {
        matches!(self.mode, Mode::Fields { .. } | Mode::Naming(_))
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        let has_rules = !self.rules.is_empty();
        match intent {
            Intent::Undo => !self.before.is_empty(),
            Intent::MakeDraft | Intent::SaveTemplate => has_rules && desk.can_write(),
            Intent::KeepSections => {
                desk.can_write() && self.ground.is_real() && self.is_changed(desk)
            }
            Intent::DropSection => has_rules,
            Intent::SectionUp | Intent::SectionDown => self.rules.len() > 1,
            Intent::DropTemplate => match &self.mode {
                Mode::Templates { all, chosen } => {
                    desk.can_write() && all.get(*chosen).is_some_and(|one| one.is_own)
                }
                _ => false,
            },
            _ => true,
        }
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match self.mode {
            Mode::List => self.act_list(desk, intent),
            Mode::Fields { .. } => {
                self.act_fields(desk, intent);
                Next::Stay
            }
            Mode::Templates { .. } => {
                self.act_templates(desk, intent);
                Next::Stay
            }
            Mode::Naming(_) => {
                self.act_naming(desk, intent);
                Next::Stay
            }
            Mode::Growth { .. } => self.act_growth(desk, intent),
        }
    }

    fn key(&mut self, desk: &mut Desk, event: &KeyEvent) -> Next {
        self.type_key(desk, event);
        Next::Stay
    }

    fn paste(&mut self, desk: &mut Desk, words: &str) {
        self.type_words(desk, words);
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        self.point(desk, mouse, at)
    }

    fn has_own_undo(&self) -> bool {
        true
    }

    fn take_back(&mut self, desk: &mut Desk) -> bool {
        match self.before.pop() {
            Some(rules) => {
                self.rules = rules;
                self.mode = Mode::List;
                self.look(desk);
                desk.say("The last edit of the sections is taken back");
            }
            None => desk.say("Nothing has been edited here yet: there is nothing to take back"),
        }
        true
    }

    fn refresh(&mut self, desk: &Desk) {
        self.look(desk);
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
