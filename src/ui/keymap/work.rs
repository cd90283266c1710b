//! What is gone through line by line: the work sheet, a pile, lists, a swap, supplies.

use super::{LEAF, Place};
use crate::ui::intent::Intent as I;
use crate::ui::keymap::Context;

pub(super) const KEYS: &[Place] = &[
    Place {
        context: Context::Work,
        also: LEAF,
        own: &[
            ("enter space", I::Done, 1),
            ("x", I::Skip, 2),
            ("o", I::OtherWay, 3),
            ("u", I::Undo, 4),
            ("esc", I::Leave, 5),
            ("r", I::Redo, 7),
            ("?", I::Help, 6),
            ("f5", I::CopyOut, 0),
            ("P", I::Print, 9),
            ("q", I::Quit, 8),
        ],
    },
    Place {
        context: Context::Ways,
        also: &[],
        own: &[
            ("enter space", I::Accept, 1),
            ("up", I::Up, 0),
            ("down o", I::Down, 0),
            ("esc", I::Leave, 3),
            ("?", I::Help, 4),
            ("q", I::Quit, 5),
        ],
    },
    Place {
        context: Context::Pile,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("tab", I::NextField, 2),
            ("up", I::Up, 3),
            ("down", I::Down, 0),
            ("f1", I::Help, 5),
            ("esc", I::Leave, 4),
        ],
    },
    Place {
        context: Context::TypeIn,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("tab down", I::NextField, 2),
            ("up", I::Up, 3),
            ("shift-tab", I::PreviousField, 6),
            ("pgdn", I::PageOn, 0),
            ("pgup", I::PageBack, 0),
            ("f1", I::Help, 5),
            ("esc", I::Leave, 4),
        ],
    },
    Place {
        context: Context::List,
        also: &[],
        own: &[
            ("enter", I::Accept, 1),
            ("tab", I::NextField, 2),
            ("shift-tab", I::PreviousField, 0),
            ("f2", I::WriteOut, 3),
            ("f5", I::CopyOut, 7),
            ("+", I::More, 4),
            ("-", I::Fewer, 4),
            ("up", I::Up, 0),
            ("down", I::Down, 0),
            ("pgup", I::PageBack, 0),
            ("pgdn", I::PageOn, 0),
            ("f1", I::Help, 6),
            ("esc", I::Leave, 5),
        ],
    },
    Place {
        context: Context::Swap,
        also: LEAF,
        own: &[
            ("c", I::CarryOut, 1),
            ("y", I::ByRarity, 2),
            ("+", I::More, 3),
            ("-", I::Fewer, 3),
            ("f2", I::WriteOut, 4),
            ("f5", I::CopyOut, 7),
            ("esc q", I::Leave, 5),
            ("? f1", I::Help, 6),
        ],
    },
    Place {
        context: Context::Supplies,
        also: LEAF,
        own: &[
            ("right", I::OtherDraft, 2),
            ("left", I::DraftBefore, 0),
            ("tab", I::OtherTable, 1),
            ("v", I::Sleeves, 4),
            ("a", I::AsIfNew, 5),
            ("g", I::Rings, 6),
            ("esc", I::Leave, 3),
            ("?", I::Help, 7),
            ("enter", I::Accept, 0),
            ("u", I::Undo, 0),
            ("r", I::Redo, 0),
            ("q", I::Quit, 0),
        ],
    },
    Place {
        context: Context::History,
        also: LEAF,
        own: &[("enter", I::Accept, 1), ("esc", I::Leave, 2)],
    },
];
