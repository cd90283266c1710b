//! Where something is typed, and the help.

use super::{Place, Row};
use crate::ui::intent::Intent as I;
use crate::ui::keymap::Context;

/// A form of several lines.
const FORM: &[Row] = &[
    ("enter", I::Accept, 1),
    ("tab down", I::NextField, 2),
    ("shift-tab up", I::PreviousField, 0),
    ("left", I::Left, 0),
    ("right", I::Right, 0),
    ("f1", I::Help, 4),
    ("esc", I::Leave, 3),
];

pub(super) const KEYS: &[Place] = &[
    Place {
        context: Context::Find,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("up", I::Up, 0),
            ("down", I::Down, 0),
            ("pgup", I::PageBack, 0),
            ("pgdn", I::PageOn, 0),
            ("f1", I::Help, 0),
            ("esc", I::Leave, 3),
        ],
    },
    Place {
        context: Context::Form,
        also: &[],
        own: FORM,
    },
    Place {
        context: Context::Spine,
        also: &[],
        own: FORM,
    },
    Place {
        context: Context::Import,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("tab down", I::NextField, 2),
            ("shift-tab up", I::PreviousField, 0),
            ("right", I::Right, 3),
            ("left", I::Left, 0),
            ("pgdn", I::PageOn, 4),
            ("pgup", I::PageBack, 0),
            ("f1", I::Help, 6),
            ("esc", I::Leave, 5),
        ],
    },
    Place {
        context: Context::Print,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("tab down", I::NextField, 2),
            ("shift-tab up", I::PreviousField, 0),
            ("right", I::Right, 3),
            ("left", I::Left, 0),
            ("pgdn", I::PageOn, 4),
            ("pgup", I::PageBack, 0),
            ("f1", I::Help, 6),
            ("esc", I::Leave, 5),
        ],
    },
    Place {
        context: Context::Prompt,
        also: &[],
        own: &[("enter", I::Accept, 1), ("esc", I::Leave, 2)],
    },
    Place {
        context: Context::File,
        also: &[],
        own: &[("enter", I::Accept, 1), ("esc", I::Leave, 2)],
    },
    Place {
        context: Context::SwapFiles,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("tab down", I::NextField, 2),
            ("shift-tab up", I::PreviousField, 0),
            ("f1", I::Help, 4),
            ("esc", I::Leave, 3),
        ],
    },
    Place {
        context: Context::Section,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("down tab", I::NextField, 2),
            ("up shift-tab", I::PreviousField, 0),
            ("right", I::Right, 3),
            ("left", I::Left, 0),
            ("esc", I::Leave, 4),
            ("f1", I::Help, 5),
        ],
    },
    Place {
        context: Context::Help,
        also: &[],
        own: &[
            ("esc ? f1 q", I::Leave, 1),
            ("f3 ctrl-f", I::Anything, 2),
            ("up", I::Up, 0),
            ("down", I::Down, 0),
            ("pgup", I::PageBack, 0),
            ("pgdn", I::PageOn, 0),
        ],
    },
    Place {
        context: Context::Anything,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("up", I::Up, 0),
            ("down", I::Down, 0),
            ("pgup", I::PageBack, 0),
            ("pgdn", I::PageOn, 0),
            ("esc f3 ctrl-f", I::Leave, 2),
        ],
    },
];
