//! What the model takes: texts, codes, finishes, cards and binders are looked at here, whether
//! they come by a change or by a snapshot.

use crate::model::binder::{BinderSpec, Rules};
use crate::model::collection::Collection;
use crate::model::id::PrintingId;
use crate::model::refused::Refused;
use crate::model::set::{Card, Finish, Set, SetHead, limits};

pub(in crate::model) fn ensure(
    fits: bool,
    otherwise: impl FnOnce() -> Refused,
) -> Result<(), Refused> {
    if fits { Ok(()) } else { Err(otherwise()) }
}

/// Codes and names stand in files as `CODE:12 r` and on command lines, so they are one plain word. A
/// single quote and a backslash may be in it: the store writes them so that JSON reads them back.
pub(crate) fn ensure_word(what: &str, word: &str) -> Result<(), Refused> {
    let plain = |c: char| !c.is_whitespace() && !c.is_control() && !"\":();,".contains(c);
    ensure(
        !word.is_empty() && word.len() <= limits::WORD && word.chars().all(plain),
        || {
            Refused::Unfit(format!(
                "{what} must be one word of at most {} bytes without : ; , ( ) or \"",
                limits::WORD
            ))
        },
    )
}

pub(crate) fn ensure_text(what: &str, text: &str, most: usize) -> Result<(), Refused> {
    ensure(text.len() <= most, || {
        Refused::Unfit(format!("{what} is longer than {most} bytes"))
    })
}

pub(in crate::model) fn ensure_head(head: &SetHead) -> Result<(), Refused> {
    ensure_word("a set's code", &head.code)?;
    ensure_text("a set's title", &head.title, limits::TEXT)?;
    ensure_text("a set's symbol", &head.symbol, limits::WORD)?;
    ensure_text("a shelf number", &head.shelf, limits::WORD)
}

pub(crate) fn ensure_finish_name(name: &str) -> Result<(), Refused> {
    ensure_text("a finish", name, limits::WORD)?;
    let plain = |c: char| c != ';' && !c.is_control();
    ensure(!name.trim().is_empty() && name.chars().all(plain), || {
        Refused::Unfit("a finish needs a name without ; and control characters".into())
    })
}

pub(in crate::model) fn ensure_finish(set: &Set, finish: &Finish) -> Result<(), Refused> {
    ensure_finish_name(&finish.name)?;
    ensure_text("a finish's mark", &finish.mark, limits::WORD)?;
    let mark_plain = |c: char| c.is_alphanumeric();
    ensure(finish.mark.chars().all(mark_plain), || {
        Refused::Unfit("a finish's mark is made of letters and digits".into())
    })?;
    ensure(set.finishes.len() < limits::FINISHES, || {
        Refused::Unfit(format!("a set has at most {} finishes", limits::FINISHES))
    })?;
    let first = set.finishes.is_empty();
    ensure(first || !finish.mark.is_empty(), || {
        Refused::Unfit("only the first finish of a set goes without a mark".into())
    })?;
    let taken = |other: &Finish| {
        other.name.to_lowercase() == finish.name.to_lowercase() || other.mark == finish.mark
    };
    ensure(!set.finishes.iter().any(taken), || {
        Refused::FinishTaken(finish.name.clone())
    })
}

/// A name that a set's list of rarities, `listed` long so far, may take on; `taken` where it stands
/// there. That is asked last: to hold it against a list that is too long would take too long.
pub(in crate::model) fn ensure_rarity(
    name: &str,
    listed: usize,
    taken: impl FnOnce() -> bool,
) -> Result<(), Refused> {
    ensure(listed < limits::RARITIES, || {
        Refused::Unfit(format!("a set has at most {} rarities", limits::RARITIES))
    })?;
    ensure_text("a rarity", name, limits::WORD)?;
    ensure(!name.is_empty() && !taken(), || {
        Refused::Unfit("a set names each rarity once, and none without a name".into())
    })
}

pub(in crate::model) fn ensure_card(set: &Set, card: &Card) -> Result<(), Refused> {
    ensure_text("a number", &card.number, limits::WORD)?;
    ensure_text("a card's name", &card.name, limits::TEXT)?;
    ensure(!card.number.is_empty(), || {
        Refused::Unfit("a card needs a number".into())
    })?;
    let known = (1u64 << (set.finishes.len() % 64)).wrapping_sub(1);
    let known = if set.finishes.len() == limits::FINISHES {
        u64::MAX
    } else {
        known
    };
    ensure(card.finishes != 0 && card.finishes & !known == 0, || {
        Refused::Unfit("a card exists in one or more of its set's finishes".into())
    })?;
    let rarity_known = |at: u16| usize::from(at) < set.rarities.len();
    ensure(card.rarity.is_none_or(rarity_known), || {
        Refused::Unfit("the card's rarity is not one of its set".into())
    })
}

pub(in crate::model) fn ensure_spec(spec: &BinderSpec, within: &Collection) -> Result<(), Refused> {
    ensure_word("a binder's name", &spec.name)?;
    ensure_text("a binder's title", &spec.title, limits::TEXT)?;
    for line in &spec.front_matter {
        ensure_text("a line of front matter", line, limits::TEXT)?;
    }
    match spec.set {
        Some(set) if within.set(set).is_none() => Err(Refused::NoSuchSet(set)),
        _ => Ok(()),
    }
}

/// Rules of which some reader can make sense or tell what is wrong: short enough, a line each.
pub(in crate::model) fn ensure_rules(rules: &Rules) -> Result<(), Refused> {
    ensure(rules.len() <= limits::SECTIONS, || {
        Refused::Unfit(format!(
            "a layout has at most {} sections",
            limits::SECTIONS
        ))
    })?;
    for rule in rules {
        ensure_text("a section", rule, limits::RULE)?;
        let plain = !rule.trim().is_empty() && !rule.chars().any(char::is_control);
        ensure(plain, || {
            Refused::Unfit("a section is one line of words".into())
        })?;
    }
    Ok(())
}

impl Collection {
    pub(super) fn ensure_printing(&self, printing: PrintingId) -> Result<(), Refused> {
        ensure(self.has_printing(printing), || {
            Refused::NoSuchPrinting(printing)
        })
    }
}
