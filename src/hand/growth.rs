//! What becomes of a layout when its set grows: both ways side by side.

use super::Cannot;
use super::cost::cost_of;
use super::ground::{Ground, quoted};
use super::sections::{NewDraft, begun, made_by, told_words};
use crate::layout::{followed, growth, templates};
use crate::model::{BinderId, Collection, Layout, LayoutPage, Rules};
use crate::plan::{Cost, Target, Way, sheet};

/// One way to take cards in that joined a set.
#[derive(Clone, Debug)]
pub struct Candidate {
    pub name: &'static str,
    /// Whether it is not by rules that it stands so.
    keeps_places: bool,
    pub layout: Layout,
    pub pages: usize,
    pub cost: Cost,
    /// Times a card is picked up, loose cards that are put away included; in two passes.
    pub handlings: usize,
    /// What is to be told of this way.
    pub told: Vec<String>,
}

/// What becomes of a layout when its set has grown: both ways, with what each takes.
#[derive(Clone, Debug)]
pub struct Grown {
    /// Cards that no pocket was meant for.
    pub new: usize,
    /// New ones in room and at the end; all in order.
    pub ways: [Candidate; 2],
}

/// Compares keeping places with putting all in order.
///
/// # Errors
/// No rules, or such as have to be mended first.
pub fn compare_growth(
    collection: &Collection,
    ground: Ground,
    rules: &Rules,
) -> Result<Grown, Cannot> {
    let binder = ground.binder(collection)?;
    let old = ground.layout(collection)?;
    // A layout that this program made has no rules until some are kept, and follows a template.
    let templates = match rules.is_empty() {
        true => templates(collection, binder),
        false => Vec::new(),
    };
    let by = followed(collection, binder.spec().set, &old.pages, &templates);
    let (rules, old) = match by {
        Some(by) => (
            &by.rules,
            &Layout {
                pages: old.pages.clone(),
                sections: by.rules.clone(),
            },
        ),
        None if rules.is_empty() => {
            return Err(Cannot::FollowsNoTemplate);
        }
        None => (rules, old),
    };
    let grown = growth(collection, binder.spec().set, old, rules);
    if grown.in_order.laid.has_fault() {
        let first = told_words(collection, &grown.in_order, rules)
            .into_iter()
            .next();
        return Err(Cannot::Sections(first.unwrap_or_default()));
    }
    let way = |name, keeps_places, pages: Vec<LayoutPage>, sections: &Rules, told| {
        let layout = Layout {
            pages,
            sections: sections.clone(),
        };
        let target = Target {
            binder: ground.binder,
            layout: &layout,
        };
        Candidate {
            name,
            keeps_places,
            pages: layout.pages.len(),
            cost: cost_of(binder, &layout),
            handlings: sheet(collection, &[target], Way::default())
                .work
                .figures
                .handlings,
            told,
            layout,
        }
    };
    let mut in_order = told_words(collection, &grown.in_order, rules);
    if let Some(by) = by {
        let name = quoted(&by.name);
        in_order.insert(
            0,
            format!("by the template {name}, as which the binder stands"),
        );
    }
    Ok(Grown {
        new: grown.new,
        ways: [
            way(
                "keep places, new ones at the end",
                true,
                grown.keep_places,
                &old.sections,
                Vec::new(),
            ),
            way(
                "all in order",
                false,
                grown.in_order.laid.pages,
                rules,
                in_order,
            ),
        ],
    })
}

/// One of the ways as a draft of its own.
///
/// # Errors
/// The binder is gone.
pub fn draft_of_way(
    collection: &Collection,
    binder: BinderId,
    way: &Candidate,
) -> Result<NewDraft, Cannot> {
    let binder = Ground::real(binder).binder(collection)?;
    let names = (1..).map(|number: u32| match number {
        1 => way.name.to_owned(),
        number => format!("{} {number}", way.name),
    });
    let mut names = names;
    let is_free = |name: &String| binder.drafts().iter().all(|draft| *draft.name != **name);
    let name = names.find(is_free).unwrap_or_default();
    let by = match way.keeps_places {
        true => format!("draft made: {}", quoted(&name)),
        false => made_by(&way.layout.sections, &name),
    };
    Ok(begun(binder, name, way.layout.clone(), by))
}
