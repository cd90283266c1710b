//! The windows over the sections: templates to begin from, a name for one's own, and the two ways
//! in which a layout can grow.

use super::{Mode, Sections};
use crate::hand;
use crate::layout::templates;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::screen::Next;

impl Sections {
    pub(super) fn open_templates(&mut self, desk: &Desk) {
        let binder = self.binder(desk);
        let all = binder.map_or_else(Vec::new, |binder| templates(desk.collection(), binder));
        if !all.is_empty() {
            self.mode = Mode::Templates { all, chosen: 0 };
        }
    }

    pub(super) fn act_templates(&mut self, desk: &mut Desk, intent: Intent) {
        let Mode::Templates { all, chosen } = &mut self.mode else {
            return;
        };
        let last = all.len().saturating_sub(1);
        match intent {
            Intent::Up | Intent::Down | Intent::First | Intent::Last => {
                *chosen = intent.stepped(*chosen, 1, last);
            }
            Intent::Leave => self.mode = Mode::List,
            Intent::Accept => {
                if let Some(template) = all.get(*chosen).cloned() {
                    self.remember();
                    self.rules = template.rules;
                    self.chosen = 0;
                    self.mode = Mode::List;
                }
            }
            Intent::DropTemplate => {
                let name = all.get(*chosen).map(|one| one.name.clone());
                let name = name.unwrap_or_default();
                match hand::drop_template(desk.collection(), &name) {
                    Ok(step) => {
                        desk.commit(step);
                        self.open_templates(desk);
                    }
                    Err(why) => desk.warn(text::sentence(&why)),
                }
            }
            _ => return,
        }
        self.look(desk);
    }

    pub(super) fn act_naming(&mut self, desk: &mut Desk, intent: Intent) {
        let Mode::Naming(field) = &mut self.mode else {
            return;
        };
        match intent {
            Intent::Leave => self.mode = Mode::List,
            Intent::Accept => {
                let name = field.value().to_owned();
                match hand::save_template(desk.collection(), &name, &self.rules) {
                    Ok(step) => {
                        desk.commit(step);
                        self.mode = Mode::List;
                    }
                    Err(why) => desk.warn(text::sentence(&why)),
                }
            }
            _ => {}
        }
    }

    pub(super) fn compare(&mut self, desk: &mut Desk) {
        match hand::compare_growth(desk.collection(), self.ground, &self.rules) {
            Ok(grown) => {
                self.mode = Mode::Growth {
                    grown: Box::new(grown),
                    chosen: 0,
                };
            }
            Err(why) => desk.warn(format!("Not compared. {}", self.refusal(desk, &why))),
        }
    }

    pub(super) fn act_growth(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let Mode::Growth { grown, chosen } = &mut self.mode else {
            return Next::Stay;
        };
        let last = grown.ways.len() - 1;
        match intent {
            Intent::Leave => self.mode = Mode::List,
            Intent::Accept => {
                let way = &grown.ways[*chosen];
                match hand::draft_of_way(desk.collection(), self.ground.binder, way) {
                    Ok(draft) => {
                        if desk.commit(draft.step) {
                            return Next::GoTo(draft.ground, draft.ground.place(0, 0));
                        }
                    }
                    Err(why) => desk.warn(text::sentence(&why)),
                }
            }
            _ => *chosen = intent.stepped(*chosen, 1, last),
        }
        Next::Stay
    }

    pub(super) fn naming(&self) -> Option<&Field> {
        match &self.mode {
            Mode::Naming(field) => Some(field),
            _ => None,
        }
    }
}
