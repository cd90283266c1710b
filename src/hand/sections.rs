//! Sections: from rules to a draft, the rules of a layout, and lists of them under a name.

use super::Cannot;
use super::cost::cost_of;
use super::draft::fresh_name;
use super::ground::Ground;
use super::ground::quoted;
use crate::layout::{self, Renewed, Told, renew};
use crate::model::{
    Binder, BinderKind, Change, Collection, Draft, Layout, LayoutPage, Meaning, Rules, Step, limits,
};
use crate::plan::Cost;
use crate::report::{binder_words, printing_words};
use crate::text::count;

/// What rules would make of the ground that they are used on.
#[derive(Clone, Debug)]
pub struct Proposal {
    pub layout: Layout,
    pub renewed: Renewed,
    /// Against what lies in the binder.
    pub cost: Cost,
    /// All that there is to tell, a line each; what has to be mended first of all.
    pub told: Vec<String>,
}

impl Proposal {
    /// All that there is to tell, and whether it is a fault; what there is to tell of this section
    /// before all else.
    pub fn told_of(&self, section: usize) -> impl Iterator<Item = (&str, bool)> {
        let of: Vec<&Told> = told_in_order(&self.renewed).collect();
        let is_own = move |at: usize| {
            let told: Option<&&Told> = of.get(at);
            told.is_some_and(|told| told.section() == Some(section))
        };
        let faults = self.renewed.laid.told.iter().filter(|told| told.is_fault());
        let faults = faults.count();
        let (own, others): (Vec<usize>, Vec<usize>) =
            (0..self.told.len()).partition(|at| is_own(*at));
        let order = own.into_iter().chain(others);
        order.map(move |at| (self.told[at].as_str(), at < faults))
    }
}

/// Lays out a binder, or one of its drafts, by these rules. Exceptions made by hand on that ground
/// are kept as far as they can be. `None` when the ground is gone.
#[must_use]
pub fn propose(collection: &Collection, ground: Ground, rules: &Rules) -> Option<Proposal> {
    let binder = collection.binder(ground.binder)?;
    let old = ground.layout(collection).ok()?;
    let renewed = renew(collection, binder.spec().set, old, rules);
    let mut told = told_words(collection, &renewed, rules);
    told.extend(unfit_words(binder, &renewed.laid.pages));
    let layout = Layout {
        pages: renewed.laid.pages.clone(),
        sections: rules.clone(),
    };
    Some(Proposal {
        cost: cost_of(binder, &layout),
        layout,
        renewed,
        told,
    })
}

/// What has to be mended first of all.
fn told_in_order(renewed: &Renewed) -> impl Iterator<Item = &Told> {
    let all = || renewed.laid.told.iter();
    let faults = all().filter(|told| told.is_fault());
    faults.chain(all().filter(|told| !told.is_fault()))
}

pub(super) fn told_words(collection: &Collection, renewed: &Renewed, rules: &Rules) -> Vec<String> {
    let told = told_in_order(renewed);
    let mut words: Vec<_> = told.map(|told| told.words(collection, rules)).collect();
    if !renewed.lost.is_empty() {
        let many = count(renewed.lost.len() as u64, "exception", "exceptions");
        let some = renewed.lost.iter().take(4);
        let some: Vec<_> = some
            .map(|meaning| meaning_words(collection, meaning))
            .collect();
        words.push(format!(
            "{many} made by hand lost, since their pockets are gone: {}",
            some.join(", ")
        ));
    }
    if renewed.given_up > 0 {
        words.push(format!(
            "The layout before hardly follows its rules ({} stand otherwise): it is made anew, \
             without exceptions",
            count(renewed.given_up as u64, "card", "cards")
        ));
    }
    if renewed.kept > 0 {
        words.push(format!(
            "{} made by hand kept",
            count(renewed.kept as u64, "exception", "exceptions")
        ));
    }
    words
}

fn meaning_words(collection: &Collection, meaning: &Meaning) -> String {
    match meaning {
        Meaning::Printing(printing) => printing_words(collection, *printing),
        Meaning::Keepsake(words) => format!("keepsake {words}"),
        Meaning::Blank => "a pocket left empty".into(),
        Meaning::Nothing => "a free pocket".into(),
    }
}

/// Where pages are fixed a layout must be made of those that are there.
fn unfit_words(binder: &Binder, pages: &[LayoutPage]) -> Option<String> {
    if binder.spec().kind != BinderKind::Fixed {
        return None;
    }
    let fits = |(at, page): (usize, &LayoutPage)| {
        let real = binder.pages().get(at);
        real.is_some_and(|real| real.format().same_grid(&page.format()))
    };
    let at = pages.iter().enumerate().position(|page| !fits(page))?;
    let is = match binder.pages().get(at) {
        Some(real) => format!("is {}", layout::grid_word(&real.format())),
        None => "is not there".into(),
    };
    Some(format!(
        "The pages of this binder are fixed, and page {} {is}: it cannot be adopted so",
        at + 1
    ))
}

/// A draft that can be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewDraft {
    pub step: Step,
    /// Where it is when that is done.
    pub ground: Ground,
}

/// Makes a draft by rules: a draft that was made by
/// rules is renewed, anything else stays as it is and a new draft is begun.
///
/// # Errors
/// What has to be mended first, in words; a name that is taken.
pub fn draft_by_sections(
    collection: &Collection,
    ground: Ground,
    name: Option<&str>,
    rules: &Rules,
) -> Result<NewDraft, Cannot> {
    let binder = ground.binder(collection)?;
    let proposal = propose(collection, ground, rules).ok_or(Cannot::BinderGone)?;
    if rules.is_empty() {
        return Err(Cannot::NoSections);
    }
    if proposal.renewed.laid.has_fault() {
        let first = proposal.told.into_iter().next();
        return Err(Cannot::Sections(first.unwrap_or_default()));
    }
    let here = ground
        .draft
        .and_then(|at| Some((at, binder.drafts().get(at)?)));
    let renewed = here.filter(|(_, draft)| !draft.layout.sections.is_empty() && name.is_none());
    if let Some((at, old)) = renewed {
        if old.layout == proposal.layout {
            return Err(Cannot::AsSectionsMakeIt);
        }
        let draft = Draft {
            name: old.name.clone(),
            layout: proposal.layout,
        };
        let words = format!("draft made anew by its sections: {}", quoted(&draft.name));
        let changes = vec![
            Change::DropDraft {
                binder: ground.binder,
                at,
                draft: Box::new(old.clone()),
            },
            Change::AddDraft {
                binder: ground.binder,
                at,
                draft: Box::new(draft),
            },
        ];
        return Ok(NewDraft {
            step: Step::new(words, changes),
            ground,
        });
    }
    let name = match name {
        Some(name) => fresh_name(binder.drafts(), name)?.to_owned(),
        None => free_name(binder.drafts()),
    };
    let words = made_by(&proposal.layout.sections, &name);
    Ok(begun(binder, name, proposal.layout, words))
}

/// The first of `by sections`, `by sections 2` and so on that no draft has.
fn free_name(drafts: &[Draft]) -> String {
    let mut names = std::iter::once("by sections".to_owned())
        .chain((2..).map(|number: u32| format!("by sections {number}")));
    let is_free = |name: &String| drafts.iter().all(|draft| *draft.name != **name);
    names.find(is_free).unwrap_or_default()
}

/// `draft made by 3 sections: “by sections”`.
pub(super) fn made_by(rules: &Rules, name: &str) -> String {
    format!("draft made by {}: {}", sections_word(rules), quoted(name))
}

pub(super) fn begun(binder: &Binder, name: String, layout: Layout, words: String) -> NewDraft {
    let at = binder.drafts().len();
    let add = Change::AddDraft {
        binder: binder.id(),
        at,
        draft: Box::new(Draft {
            name: name.into(),
            layout,
        }),
    };
    let ground = Ground {
        binder: binder.id(),
        draft: Some(at),
    };
    NewDraft {
        step: Step::new(words, vec![add]),
        ground,
    }
}

fn sections_word(rules: &Rules) -> String {
    count(rules.len() as u64, "section", "sections")
}

/// The rules are kept with the binder's layout, as those that its pages follow; no page changes.
///
/// # Errors
/// They are the same as before; the ground is a draft, whose rules are those that made it; or the
/// layout does not follow them: what stands otherwise would count as an exception made by hand,
/// which nobody made.
pub fn keep_sections(
    collection: &Collection,
    ground: Ground,
    rules: &Rules,
) -> Result<Step, Cannot> {
    if !ground.is_real() {
        return Err(Cannot::SectionsOfDraft);
    }
    let old = &ground.layout(collection)?.sections;
    if old == rules {
        return Err(Cannot::HasSections);
    }
    let made = propose(collection, ground, rules).ok_or(Cannot::BinderGone)?;
    if !rules.is_empty() && made.layout.pages != ground.layout(collection)?.pages {
        return Err(Cannot::NotAsSectionsSay);
    }
    let name = binder_words(collection, ground.binder);
    let words = format!("{} kept with {name}", sections_word(rules));
    let change = Change::SetSections {
        binder: ground.binder,
        old: old.clone(),
        new: rules.clone(),
    };
    Ok(Step::new(words, vec![change]))
}

/// The rules under a name, for this set and others; over an earlier list of that name.
///
/// # Errors
/// No name, no rules, or both as they are.
pub fn save_template(collection: &Collection, name: &str, rules: &Rules) -> Result<Step, Cannot> {
    let name = name.trim();
    if name.is_empty() {
        return Err(Cannot::TemplateNeedsName);
    }
    if name.len() > limits::TEXT {
        return Err(Cannot::NameTooLong);
    }
    if rules.is_empty() {
        return Err(Cannot::NoSections);
    }
    let old = collection.template(name).cloned();
    if old.as_ref() == Some(rules) {
        return Err(Cannot::TemplateKept);
    }
    let change = Change::SetTemplate {
        name: name.into(),
        old,
        new: Some(rules.clone()),
    };
    let words = format!("{} kept as template {}", sections_word(rules), quoted(name));
    Ok(Step::new(words, vec![change]))
}

/// A list of one's own is thrown away.
///
/// # Errors
/// None of one's own has this name.
pub fn drop_template(collection: &Collection, name: &str) -> Result<Step, Cannot> {
    let Some(old) = collection.template(name) else {
        return Err(Cannot::NoOwnTemplate);
    };
    let change = Change::SetTemplate {
        name: name.into(),
        old: Some(old.clone()),
        new: None,
    };
    Ok(Step::new(
        format!("template {} thrown away", quoted(name)),
        vec![change],
    ))
}
