//! `layout`: sections, from rules to a draft, and what becomes of it when a set grows.

mod answer;
mod growth;
mod rules;

use serde::Serialize;

use super::args::{DraftArgs, Layout, SaveArgs, ShowSectionsArgs, TemplatesArgs, ThrowAwayArgs};
use super::error::CliError;
use super::named;
use super::open::{self, Where};
use super::output::Output;
use crate::hand::{self, Cannot};
use crate::layout::{Template, templates};
use crate::model::Collection;
use crate::session::Session;
use rules::{ground, rules_of};

pub(super) fn run(what: &Layout, at: &Where, out: &mut Output) -> Result<(), CliError> {
    match what {
        Layout::Templates(args) => list(args, at, out),
        Layout::Show(args) => show(args, at, out),
        Layout::Draft(args) => draft(args, at, out),
        Layout::Growth(args) => growth::run(args, at, out),
        Layout::Save(args) => save(args, at, out),
        Layout::ThrowAway(args) => drop_template(args, at, out),
    }
}

#[derive(Serialize)]
struct TemplatesAnswer<'a> {
    format: &'static str,
    version: u32,
    templates: Vec<TemplateAnswer<'a>>,
}

#[derive(Serialize)]
struct TemplateAnswer<'a> {
    name: &'a str,
    own: bool,
    sections: &'a [Box<str>],
}

fn list(args: &TemplatesArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = session.collection();
    let all = match &args.binder {
        Some(name) => templates(collection, named::binder(collection, name)?),
        None => own(collection),
    };
    if out.is_json() {
        let templates = all.iter().map(|one| TemplateAnswer {
            name: &one.name,
            own: one.is_own,
            sections: &one.rules,
        });
        return out.json(&TemplatesAnswer {
            format: "ringbound-templates",
            version: 1,
            templates: templates.collect(),
        });
    }
    for template in &all {
        out.apart()?;
        let own = if template.is_own { " (your own)" } else { "" };
        out.line(&format!("{}{own}", template.name))?;
        for rule in &template.rules {
            out.line(&format!("  {rule}"))?;
        }
    }
    if all.is_empty() {
        out.line("There is none of your own yet; name a binder for the usual ones.")?;
    }
    Ok(())
}

fn own(collection: &Collection) -> Vec<Template> {
    let own = collection.templates().map(|(name, rules)| Template {
        name: name.into(),
        is_own: true,
        rules: rules.clone(),
    });
    own.collect()
}

fn show(args: &ShowSectionsArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.read(out)?;
    let collection = session.collection();
    let ground = ground(collection, &args.binder, args.draft.as_deref())?;
    let rules = rules_of(collection, ground, &args.rules)?;
    let proposal = hand::propose(collection, ground, &rules)
        .ok_or_else(|| CliError::usage("the binder is gone"))?;
    if proposal.renewed.laid.has_fault() {
        out.falls_short();
    }
    answer::show(collection, ground, &proposal, out)
}

fn draft(args: &DraftArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.write()?;
    let collection = session.collection();
    let ground = ground(collection, &args.binder, args.draft.as_deref())?;
    let rules = rules_of(collection, ground, &args.rules)?;
    let proposal = hand::propose(collection, ground, &rules)
        .ok_or_else(|| CliError::usage("the binder is gone"))?;
    let made = hand::draft_by_sections(collection, ground, args.name.as_deref(), &rules);
    let made = made.map_err(|why| {
        let hint = "no draft was made or changed; ringbound layout show tells all there is to mend";
        match why {
            Cannot::Sections(_) => CliError::input(why).hint(hint),
            why => CliError::usage(why),
        }
    })?;
    let renewed = &proposal.renewed;
    if !renewed.laid.told.is_empty() || !renewed.lost.is_empty() || renewed.given_up > 0 {
        out.falls_short();
    }
    let session = keep(session, made.step)?;
    out.kept();
    answer::show(session.collection(), made.ground, &proposal, out)?;
    open::close(session);
    Ok(())
}

/// Commits the step and goes on.
fn keep(mut session: Session, step: crate::model::Step) -> Result<Session, CliError> {
    session.commit(step)?;
    Ok(session)
}

#[derive(Serialize)]
struct NamedAnswer<'a> {
    format: &'static str,
    version: u32,
    name: &'a str,
    sections: &'a [Box<str>],
}

fn save(args: &SaveArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.write()?;
    let collection = session.collection();
    let ground = ground(collection, &args.binder, args.draft.as_deref())?;
    let rules = rules_of(collection, ground, &args.rules)?;
    let step = hand::save_template(collection, &args.name, &rules).map_err(CliError::usage)?;
    let label = step.label.clone();
    open::commit(at, session, step, out)?;
    if out.is_json() {
        return out.json(&NamedAnswer {
            format: "ringbound-template",
            version: 1,
            name: args.name.trim(),
            sections: &rules,
        });
    }
    out.line(&label)
}

fn drop_template(args: &ThrowAwayArgs, at: &Where, out: &mut Output) -> Result<(), CliError> {
    let session = at.write()?;
    let step = hand::drop_template(session.collection(), &args.name).map_err(CliError::usage)?;
    let label = step.label.clone();
    open::commit(at, session, step, out)?;
    if out.is_json() {
        return out.json(&NamedAnswer {
            format: "ringbound-template",
            version: 1,
            name: &args.name,
            sections: &[],
        });
    }
    out.line(&label)
}
