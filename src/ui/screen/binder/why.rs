//! Why something cannot be done at an open binder, and what can be done instead.

use super::OpenBinder;
use crate::hand::Cannot;
use crate::model::{Place, SetId};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;

/// Why nothing is done with a card at a pocket.
#[derive(Debug, thiserror::Error)]
pub(super) enum NoDeed {
    #[error("this is a draft; the cards lie in the real binder")]
    InDraft,
    #[error("the binder has no pages")]
    NoPages,
    #[error("the pocket holds a keepsake")]
    Keepsake,
    #[error("that cannot be done here")]
    NoneOfThese,
    #[error(transparent)]
    Cannot(#[from] Cannot),
}

fn key(desk: &Desk, intent: Intent) -> String {
    desk.key(Context::Binder, intent)
}

impl OpenBinder {
    /// The set that the binder is for.
    pub(super) fn set(&self, desk: &Desk) -> Option<SetId> {
        let binder = desk.collection().binder(self.ground().binder);
        binder.and_then(|binder| binder.spec().set)
    }

    pub(super) fn reason(&self, desk: &Desk, intent: Intent) -> Option<String> {
        let has_pages = self.book(desk).is_some_and(|book| book.len() > 0);
        if let (Intent::Carry | Intent::CarryPages, Some(why)) = (intent, self.pages_first(desk)) {
            return Some(why);
        }
        Some(match intent {
            Intent::Put | Intent::Take | Intent::Acquire | Intent::PartWith => {
                self.deed(desk, intent).err()?.to_string()
            }
            Intent::TypeIn if !self.ground().is_real() => NoDeed::InDraft.to_string(),
            Intent::TypeIn => Cannot::NoSet.to_string(),
            _ if !has_pages => NoDeed::NoPages.to_string(),
            Intent::Carry => "there is nothing in this pocket to carry".into(),
            Intent::NextGap | Intent::PreviousGap if !self.ground().is_real() => {
                "a draft has no gaps".into()
            }
            Intent::NextGap | Intent::PreviousGap if self.hands().lifted().is_some() => {
                "only cards are carried to a gap".into()
            }
            Intent::NextGap | Intent::PreviousGap => "this binder has no gaps".into(),
            Intent::PageOn => "this is the last side".into(),
            Intent::PageBack => "this is the first side".into(),
            Intent::SwapOrPush => "only cards can be swapped, or push others along".into(),
            _ => return None,
        })
    }

    /// Why a deed cannot be done at a pocket, and what would be done instead.
    pub(super) fn instead(&self, desk: &Desk, intent: Intent, why: &NoDeed) -> String {
        let told = text::sentence(why);
        if let NoDeed::Keepsake = why {
            return format!(
                "{told}: {}, then c takes it out",
                key(desk, Intent::Arrange)
            );
        }
        if !self.ground().is_real() {
            return format!("{told}; {} leads there", key(desk, Intent::Leave));
        }
        let can_come_in = self.deed(desk, Intent::Acquire).is_ok();
        instead(desk, intent, &told, can_come_in)
    }
}

fn instead(desk: &Desk, intent: Intent, why: &str, can_come_in: bool) -> String {
    match intent {
        Intent::Put if can_come_in => {
            format!("{why}; {} takes a new copy in", key(desk, Intent::Acquire))
        }
        Intent::Take => format!("{why}; {} goes to the next gap", key(desk, Intent::NextGap)),
        Intent::PartWith => format!("{why}; {} takes a card out", key(desk, Intent::Take)),
        _ => format!(
            "{why}; {} arranges what it is for",
            key(desk, Intent::Arrange)
        ),
    }
}

/// That marking has begun or ended.
pub(super) fn marked(desk: &Desk, is_marked: bool) -> String {
    if is_marked {
        format!(
            "Marked from here: move on, then {} carries, {} arranges; {} lets go",
            key(desk, Intent::Carry),
            key(desk, Intent::Arrange),
            key(desk, Intent::Leave)
        )
    } else {
        format!(
            "Nothing is marked; {} marks from here on",
            key(desk, Intent::Mark)
        )
    }
}

/// How much is marked, and what can be done with it.
pub(super) fn marking(desk: &Desk, run: &[Place]) -> String {
    let pockets = text::count(run.len() as u64, "pocket", "pockets");
    let pages = match run {
        [first, .., last] if first.page < last.page => last.page - first.page + 1,
        _ => 1,
    };
    let (on, them) = match pages {
        1 => (String::new(), String::new()),
        pages => (
            format!(" on {pages} pages"),
            format!(", {} the pages", key(desk, Intent::CarryPages)),
        ),
    };
    format!(
        "{pockets}{on} marked: {} carries{them}, {} arranges; {} lets go",
        key(desk, Intent::Carry),
        key(desk, Intent::Arrange),
        key(desk, Intent::Leave)
    )
}

/// That the shelf ends at the right, or at the left.
pub(super) fn no_binder(desk: &Desk, right: bool) -> String {
    if right {
        let key = key(desk, Intent::PreviousBinder);
        format!("This is the last binder on the shelf; {key} opens the one before")
    } else {
        let key = key(desk, Intent::NextBinder);
        format!("This is the first binder on the shelf; {key} opens the next")
    }
}

/// That there is no further gap, after or before this pocket.
pub(super) fn no_gap(desk: &Desk, forward: bool) -> String {
    if forward {
        let key = key(desk, Intent::PreviousGap);
        format!("No gap after this one; {key} goes back")
    } else {
        let key = key(desk, Intent::NextGap);
        format!("No gap before this one; {key} goes on")
    }
}
