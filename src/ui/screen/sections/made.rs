//! What comes of the sections: a draft, why there is none, or nothing.

use std::fmt::Display;

use super::Sections;
use crate::hand::{self, NewDraft};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::screen::Next;

impl Sections {
    pub(super) fn make(&mut self, desk: &mut Desk) -> Next {
        match hand::draft_by_sections(desk.collection(), self.ground, None, &self.rules) {
            Ok(NewDraft { step, ground }) => {
                if !desk.commit(step) {
                    return Next::Stay;
                }
                let named = ground
                    .draft
                    .and_then(|at| self.binder(desk)?.drafts().get(at));
                let named = named.map_or("", |draft| &draft.name).to_owned();
                desk.say(format!(
                    "The draft \u{201c}{}\u{201d} is made. {} shows the drafts: {} adopts it, then {} shows the work",
                    text::fit(&named, 24, desk.theme.glyphs().more),
                    desk.key(Context::Binder, Intent::Drafts),
                    desk.key(Context::Drafts, Intent::Adopt),
                    desk.key(Context::Binder, Intent::Work)
                ));
                Next::GoTo(ground, ground.place(0, 0))
            }
            Err(why) => {
                desk.warn(format!("No draft made. {}", self.refusal(desk, &why)));
                Next::Stay
            }
        }
    }

    /// Why something was not done, and how to go on.
    pub(super) fn refusal(&self, desk: &Desk, why: impl Display) -> String {
        let proposal = self.proposal.as_ref();
        let faulty = proposal.is_some_and(|proposal| proposal.renewed.laid.has_fault());
        let why = text::sentence(why);
        if !faulty {
            return why;
        }
        let key = |intent| desk.key(Context::Sections, intent);
        let (edit, out) = (key(Intent::Accept), key(Intent::DropSection));
        let back = match self.before.is_empty() {
            true => String::new(),
            false => format!(", {} takes the last edit back", key(Intent::Undo)),
        };
        format!("{why}. {edit} edits the section, {out} takes it out{back}")
    }

    pub(super) fn leave(&mut self, desk: &mut Desk) -> Next {
        if !self.is_changed(desk) || self.leaving {
            return Next::Close;
        }
        self.leaving = true;
        let key = |intent| desk.key(Context::Sections, intent);
        let (make, leave) = (key(Intent::MakeDraft), key(Intent::Leave));
        desk.warn(if self.ground.is_real() {
            let save = key(Intent::SaveTemplate);
            format!("Not kept yet: {make} makes a draft, {save} keeps the rules under a name; {leave} once more drops them")
        } else {
            format!("Not kept yet: {make} makes the draft anew; {leave} once more throws the edits away")
        });
        Next::Stay
    }
}
