//! Random changes of drafts, for the random steps.

use ringbound::model::{BinderId, Change, Collection, Draft, Layout, LayoutPage, Place, Rules};

use super::changes::{binder, format, some_meaning};
use super::dice::Dice;

const NAMES: [&str; 5] = ["autumn", "rares in front", "\"q\"", "ÄÖ\n", "\u{202e}x"];

/// A draft is begun, dropped, renamed or put in force; they may be refused.
pub(crate) fn drafts(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((binder, drafts)) = drafts_of(on, dice) else {
        return Vec::new();
    };
    let at = dice.below(drafts.len().max(1));
    let Some(draft) = drafts.get(at).filter(|_| !dice.once_in(4)) else {
        let layout = match dice.below(3) {
            0 => Layout::default(),
            1 => drafts
                .first()
                .map_or_else(Layout::default, |draft| draft.layout.clone()),
            _ => on
                .binder(binder)
                .map_or_else(Layout::default, |binder| binder.layout().clone()),
        };
        let name = dice.text(&NAMES);
        return vec![Change::AddDraft {
            binder,
            at: dice.below(drafts.len() + 1),
            draft: Box::new(Draft { name, layout }),
        }];
    };
    vec![match dice.below(4) {
        0 => Change::DropDraft {
            binder,
            at,
            draft: Box::new(draft.clone()),
        },
        1 => Change::RenameDraft {
            binder,
            at,
            old: draft.name.clone(),
            new: dice.text(&NAMES),
        },
        _ => Change::SwapLayout { binder, at },
    }]
}

/// A change of a layout, in a draft.
pub(crate) fn in_draft(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let Some((binder, all)) = drafts_of(on, dice) else {
        return Vec::new();
    };
    let draft = dice.below(all.len().max(1));
    let Some(pages) = all.get(draft).map(|draft| &draft.layout.pages) else {
        return drafts(on, dice);
    };
    let at = dice.below(pages.len().max(1));
    let change = match (pages.get(at), dice.below(6)) {
        (_, 5) => Change::SetSections {
            binder,
            old: all[draft].layout.sections.clone(),
            new: some_rules(dice),
        },
        (None, _) | (Some(_), 0) => {
            let format = format(dice);
            let mut page = LayoutPage::empty(format);
            for pocket in 0..format.pockets() {
                page.set_meaning(pocket, some_meaning(on, dice));
            }
            Change::AddLayoutPage {
                binder,
                at: dice.below(pages.len() + 1),
                page: Box::new(page),
            }
        }
        (Some(page), 1) => Change::RemoveLayoutPage {
            binder,
            at,
            page: Box::new(page.clone()),
        },
        (Some(_), 2) => Change::MoveLayoutPage {
            binder,
            from: at,
            to: dice.below(pages.len()),
        },
        (Some(page), _) => {
            let pocket = dice.below(page.format().pockets());
            Change::Mean {
                place: Place {
                    binder,
                    page: at,
                    pocket,
                },
                old: page.meaning(pocket),
                new: some_meaning(on, dice),
            }
        }
    };
    let change = Box::new(change);
    vec![Change::InDraft { draft, change }]
}

/// The sections of a layout in force, or a list of them under a name.
pub(crate) fn sections(on: &Collection, dice: &mut Dice) -> Vec<Change> {
    let name: Box<str> = dice.text(&NAMES);
    let there = on.template(&name).cloned();
    let template = Change::SetTemplate {
        new: Some(some_rules(dice)).filter(|_| there.is_none() || !dice.once_in(3)),
        old: there,
        name,
    };
    match binder(on, dice).and_then(|(id, _)| on.binder(id)) {
        Some(binder) if dice.once_in(2) => vec![Change::SetSections {
            binder: binder.id(),
            old: binder.layout().sections.clone(),
            new: some_rules(dice),
        }],
        _ => vec![template],
    }
}

const RULES: [&str; 4] = [
    "all: page 3x3",
    "rares: rarity rare; by number",
    "\"a \\ b\": keepsakes \"Ä;Ö\", x",
    "\u{202e}what no one can read",
];

fn some_rules(dice: &mut Dice) -> Rules {
    (0..dice.below(3)).map(|_| dice.text(&RULES)).collect()
}

/// One that hardly ever fits: also what is no change of a layout, made in a draft.
pub(crate) fn stray(on: &Collection, change: Change, dice: &mut Dice) -> Change {
    let binder = BinderId(dice.below(4) as u32);
    let at = dice.below(3);
    let layout = on
        .binder(binder)
        .map_or_else(Layout::default, |binder| binder.layout().clone());
    let name = dice.text(&["", " ", "autumn"]);
    let draft = Box::new(Draft { name, layout });
    match dice.below(5) {
        0 => Change::AddDraft { binder, at, draft },
        1 => Change::DropDraft { binder, at, draft },
        2 => Change::RenameDraft {
            binder,
            at,
            old: "autumn".into(),
            new: dice.text(&["", "ÄÖ\n"]),
        },
        3 => Change::SwapLayout { binder, at },
        _ => Change::InDraft {
            draft: at,
            change: Box::new(change),
        },
    }
}

fn drafts_of<'c>(on: &'c Collection, dice: &mut Dice) -> Option<(BinderId, &'c [Draft])> {
    let (id, _) = binder(on, dice)?;
    Some((id, on.binder(id)?.drafts()))
}
