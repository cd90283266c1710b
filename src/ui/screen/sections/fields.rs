//! The lines of one section: choosing, typing, and putting the words back into the section.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::rows::Row;
use super::typed::with;
use super::{Mode, Sections};
use crate::layout::Section;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::keymap::{Context, letter};

impl Sections {
    pub(super) fn act_fields(&mut self, desk: &mut Desk, intent: Intent) {
        let many = self.rows(desk).len().max(1);
        let Mode::Fields { row, typing } = &mut self.mode else {
            return;
        };
        let at = *row;
        match (intent, typing) {
            (Intent::Left | Intent::Right, Some(field)) => {
                field.sideways(intent == Intent::Left);
            }
            (Intent::Left, None) => self.turn(desk, -1),
            (Intent::Right, None) => self.turn(desk, 1),
            (Intent::Leave, Some(_)) => {
                // What was typed is dropped.
                self.mode = Mode::Fields {
                    row: at,
                    typing: None,
                };
                if let Some(rules) = self.before.pop() {
                    self.rules = rules;
                }
                self.look(desk);
            }
            (Intent::Leave, None) => {
                self.mode = Mode::List;
                if self.begun.take().as_ref() == Some(&self.rules) {
                    self.before_begun(desk);
                } else if !self.before.is_empty() {
                    let key = desk.key(Context::Sections, Intent::Undo);
                    desk.say(format!(
                        "What was changed stays; {key} takes the last edit back"
                    ));
                }
            }
            (Intent::Accept, None) => {
                self.begun = None;
                self.mode = Mode::List;
            }
            (Intent::Accept, Some(_)) => {
                self.settle(desk);
            }
            (Intent::NextField, _) => self.go_on(desk, (at + 1) % many),
            (Intent::PreviousField, _) => self.go_on(desk, (at + many - 1) % many),
            _ => {}
        }
    }

    /// A section that was only begun is taken out again.
    fn before_begun(&mut self, desk: &mut Desk) {
        if let Some(rules) = self.before.pop() {
            self.rules = rules;
        }
        self.chosen = self.chosen.saturating_sub(1);
        self.look(desk);
        desk.say("The section that was begun is taken out again");
    }

    /// To another line, if what was typed on this one is taken.
    fn go_on(&mut self, desk: &mut Desk, row: usize) {
        if self.settle(desk) {
            self.go_to_row(row);
        }
    }

    pub(super) fn go_to_row(&mut self, row: usize) {
        self.mode = Mode::Fields { row, typing: None };
    }

    /// Ends typing; words that are not taken stay, and are told. Tells whether it is ended.
    pub(super) fn settle(&mut self, desk: &mut Desk) -> bool {
        let Mode::Fields {
            row,
            typing: Some(field),
        } = &self.mode
        else {
            return true;
        };
        let (row, words) = (*row, field.value().to_owned());
        let rows = self.rows(desk);
        let result = match (self.section(), rows.get(row)) {
            (Some(section), Some(line)) => with(&section, line.label, &words),
            _ => return true,
        };
        match result {
            Ok(section) => {
                self.put(desk, &section);
                self.go_to_row(row);
                true
            }
            Err(why) => {
                desk.warn(text::sentence(&why));
                false
            }
        }
    }

    fn put(&mut self, desk: &Desk, section: &Section) {
        if let Some(rule) = self.rules.get_mut(self.chosen) {
            *rule = section.to_string().into();
        }
        self.look(desk);
    }

    /// The next of what may be chosen on this line.
    fn turn(&mut self, desk: &mut Desk, by: isize) {
        let Mode::Fields { row, .. } = self.mode else {
            return;
        };
        let rows = self.rows(desk);
        let Some((line, section)) = rows.get(row).zip(self.section()) else {
            return;
        };
        let many = line.choices.len();
        if many == 0 {
            return desk.say(format!("Type: {}", line.hint));
        }
        let here = line.choices.iter().position(|one| *one == line.value);
        let mut at = match (here, by < 0) {
            (Some(at), _) => at.wrapping_add(many).wrapping_add_signed(by) % many,
            (None, true) => many - 1,
            (None, false) => 0,
        };
        // What is not possible here is passed over: a top row left empty on pages of one row.
        for _ in 0..many {
            if let Ok(section) = with(&section, line.label, &line.choices[at]) {
                self.remember();
                return self.put(desk, &section);
            }
            at = at.wrapping_add(many).wrapping_add_signed(by) % many;
        }
    }

    /// A letter begins to type over what stands on the line.
    pub(crate) fn type_key(&mut self, desk: &mut Desk, event: &KeyEvent) {
        if let Mode::Naming(field) = &mut self.mode {
            field.key(event);
            return;
        }
        let rows = self.rows(desk);
        let Mode::Fields { row, typing } = &mut self.mode else {
            return;
        };
        let (at, Some(line)) = (*row, rows.get(*row)) else {
            return;
        };
        if typing.is_none() {
            let is_edit = letter(event).is_some()
                || matches!(event.code, KeyCode::Backspace | KeyCode::Delete);
            if !is_edit {
                return;
            }
            let mut field = Field::default();
            field.insert(&line.value);
            field.begin_anew();
            *typing = Some(field);
            let rules = self.rules.clone();
            self.before.push(rules);
        }
        let Mode::Fields {
            typing: Some(field),
            ..
        } = &mut self.mode
        else {
            return;
        };
        field.key(event);
        self.try_typed(desk, at, &rows);
    }

    pub(crate) fn type_words(&mut self, desk: &mut Desk, words: &str) {
        if let Mode::Naming(field) = &mut self.mode {
            return field.paste(words);
        }
        for c in words.trim().chars().filter(|c| !c.is_control()) {
            self.type_key(desk, &KeyEvent::new(KeyCode::Char(c), KeyModifiers::NONE));
        }
    }

    /// While one types, the pages follow as soon as the words can be taken.
    fn try_typed(&mut self, desk: &Desk, row: usize, rows: &[Row]) {
        let Mode::Fields {
            typing: Some(field),
            ..
        } = &self.mode
        else {
            return;
        };
        let words = field.value().to_owned();
        // The name is taken as it stood before, or each letter would be another section.
        if let (Some(section), Some(line)) = (self.section(), rows.get(row))
            && let Ok(section) = with(&section, line.label, &words)
        {
            self.put(desk, &section);
        }
    }
}
