//! Drafts, sections and what can be done to pages.

use super::{LEAF, Place, STEP};
use crate::ui::intent::Intent as I;
use crate::ui::keymap::Context;

pub(super) const KEYS: &[Place] = &[
    Place {
        context: Context::Drafts,
        also: STEP,
        own: &[
            ("enter", I::Accept, 1),
            ("n", I::NewDraft, 2),
            ("e", I::EmptyDraft, 8),
            ("c", I::CopyDraft, 5),
            ("r", I::RenameDraft, 7),
            ("x", I::DropDraft, 6),
            ("a", I::Adopt, 3),
            ("w", I::Work, 6),
            ("u", I::Undo, 9),
            ("esc", I::Leave, 4),
            ("?", I::Help, 10),
            ("s", I::Sections, 5),
        ],
    },
    Place {
        context: Context::Sections,
        also: LEAF,
        own: &[
            ("d", I::MakeDraft, 1),
            ("enter", I::Accept, 2),
            ("n", I::AddSection, 3),
            ("x", I::DropSection, 4),
            ("<", I::SectionUp, 8),
            (">", I::SectionDown, 9),
            ("t", I::Templates, 5),
            ("s", I::SaveTemplate, 10),
            ("g", I::CompareGrowth, 11),
            ("k", I::KeepSections, 12),
            ("u", I::Undo, 13),
            ("esc", I::Leave, 6),
            ("? f1", I::Help, 7),
        ],
    },
    Place {
        context: Context::Templates,
        also: STEP,
        own: &[
            ("enter", I::Accept, 1),
            ("esc", I::Leave, 2),
            ("x", I::DropTemplate, 3),
            ("?", I::Help, 4),
        ],
    },
    Place {
        context: Context::Growth,
        also: STEP,
        own: &[
            ("enter", I::Accept, 1),
            ("esc", I::Leave, 2),
            ("?", I::Help, 3),
        ],
    },
    Place {
        context: Context::Menu,
        also: STEP,
        own: &[("enter", I::Accept, 1), ("esc", I::Leave, 2)],
    },
];
