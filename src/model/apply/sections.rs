//! Changes of the rules that layouts are made by, and of the collector's own lists of them.

use super::ensure::{ensure, ensure_rules, ensure_text};
use crate::model::binder::Rules;
use crate::model::collection::Collection;
use crate::model::id::BinderId;
use crate::model::refused::Refused;
use crate::model::set::limits;

impl Collection {
    pub(super) fn set_sections(
        &mut self,
        id: BinderId,
        old: &Rules,
        new: &Rules,
    ) -> Result<(), Refused> {
        ensure_rules(new)?;
        let layout = &mut self.binder_mut(id)?.layout;
        ensure(layout.sections == *old, stale)?;
        layout.sections.clone_from(new);
        Ok(())
    }

    pub(in crate::model) fn set_template(
        &mut self,
        name: &str,
        old: Option<&Rules>,
        new: Option<&Rules>,
    ) -> Result<(), Refused> {
        ensure_text("a template's name", name, limits::TEXT)?;
        ensure(!name.trim().is_empty(), || {
            Refused::Unfit("a template needs a name".into())
        })?;
        ensure(self.templates.get(name) == old, || {
            Refused::Stale("the template")
        })?;
        match new {
            Some(rules) => {
                ensure_rules(rules)?;
                let many = self.templates.len() + usize::from(old.is_none());
                ensure(many <= limits::TEMPLATES, || {
                    Refused::Unfit(format!(
                        "a collection has at most {} templates",
                        limits::TEMPLATES
                    ))
                })?;
                self.templates.insert(name.into(), rules.clone());
            }
            None => {
                self.templates.remove(name);
            }
        }
        Ok(())
    }
}

pub(super) fn stale() -> Refused {
    Refused::Stale("the list of sections")
}
