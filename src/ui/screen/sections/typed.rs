//! What is typed or chosen on a line of a section goes back into it.

use super::rows::{ALL, KEEPSAKES, Label, MAIN, NONE, OTHERS, OWN, SIDES, TOGETHER, TOP, WHICH};
use crate::layout::{Begin, Order, Pick, Room, Section, What, default_format};
use crate::text::Choice;

/// The word for a finish without what is told beside it.
fn untold(words: &str) -> &str {
    let is_it = |word: &&str| {
        words
            .strip_prefix(*word)
            .is_some_and(|rest| rest.starts_with(" ("))
    };
    [MAIN, OTHERS].into_iter().find(is_it).unwrap_or(words)
}

/// The section with these words on that line.
///
/// # Errors
/// Says what would be right.
pub(super) fn with(section: &Section, label: Label, words: &str) -> Result<Section, String> {
    let words = match words.trim() {
        words if label == Label::Finish => untold(words),
        words => words,
    };
    let mut new = section.clone();
    let read = |clause: &str| {
        let read: Result<Section, _> = format!("n: {clause} {words}").parse();
        read.map_err(|why| why.to_string())
    };
    let none = words.is_empty() || words == ALL || words == NONE;
    if let What::Cards(pick) = &mut new.what {
        let taken = |clause| {
            let read = read(clause)?;
            let pick = read.pick().cloned().unwrap_or_default();
            // Without what this line is for nothing should be said.
            let mut rest = pick.clone();
            match label {
                Label::Finish => rest.finishes.clear(),
                Label::Rarity => (rest.rarities, rest.but) = (Vec::new(), false),
                Label::Numbers => rest.numbers.clear(),
                Label::Picked => rest.list.clear(),
                Label::Order => rest.by = Order::default(),
                _ => rest.set = None,
            }
            let what = What::Cards(rest);
            let is_all = Section { what, ..read }
                == Section::of_cards("n", default_format(), Pick::default());
            let more = || format!("“{words}” says more than stands on this line");
            is_all.then_some(pick).ok_or_else(more)
        };
        match label {
            Label::Finish if none => pick.finishes.clear(),
            Label::Finish => pick.finishes = taken("finish")?.finishes,
            Label::Rarity if none => (pick.rarities, pick.but) = (Vec::new(), false),
            Label::Rarity => {
                let read = taken("rarity")?;
                (pick.rarities, pick.but) = (read.rarities, read.but);
            }
            Label::Numbers if none => pick.numbers.clear(),
            Label::Numbers => pick.numbers = taken("numbers")?.numbers,
            Label::Picked if none => pick.list.clear(),
            Label::Picked => pick.list = taken("cards")?.list,
            Label::Which => {
                let found = WHICH.iter().find(|(which, ..)| *which == words);
                let (_, rest, size) = found.ok_or("choose one of them")?;
                (pick.rest, pick.size) = (*rest, *size);
            }
            Label::Order => pick.by = taken("by")?.by,
            Label::Finishes => pick.together = words == TOGETHER,
            Label::Set if words == OWN || words.is_empty() => pick.set = None,
            Label::Set => pick.set = taken("set")?.set,
            _ => {}
        }
    }
    match label {
        Label::Name if words.is_empty() => return Err("a section needs a name".into()),
        Label::Name => new.name = words.into(),
        Label::Holds => match (words == KEEPSAKES, section.pick()) {
            (true, Some(_)) => new.what = What::Keepsakes(vec![(4, "pack art".into())]),
            (false, None) => new.what = What::Cards(Pick::default()),
            _ => {}
        },
        Label::Keepsakes => new.what = read("keepsakes")?.what,
        Label::Page => {
            new.page = read("page")?.page;
            new.page.sides = new.page.sides.min(section.page.sides);
        }
        Label::Sides => {
            let at = SIDES
                .iter()
                .position(|sides| *sides == words)
                .ok_or("choose one of them")?;
            new.page.sides = if at == 2 { 1 } else { 2 };
            new.fronts_only = at == 1;
        }
        Label::TopRow => new.top_empty = words == TOP[1],
        Label::Begins => {
            new.begin = Begin::of_word(words).ok_or("choose one of them")?;
        }
        Label::Room if none => new.room = Room::None,
        Label::Room => new.room = read("room")?.room,
        _ => {}
    }
    // What is written is what is kept: whatever cannot be read back is refused here.
    let again: Section = new.to_string().parse().map_err(|why| format!("{why}"))?;
    Ok(again)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_on_a_line_beyond_what_it_is_for_is_refused_and_not_dropped() {
        let section = Section::of_cards("Cards", default_format(), Pick::default());
        for (label, words) in [
            (Label::Rarity, "rare; by name"),
            (Label::Numbers, "1 to 5; rarity rare"),
            (Label::Finish, "reverse; room 1 page"),
        ] {
            let why = with(&section, label, words).unwrap_err();
            assert_eq!(why, format!("“{words}” says more than stands on this line"));
        }
        let rare = with(&section, Label::Rarity, "rare").unwrap();
        assert_eq!(*rare.pick().unwrap().rarities, ["rare".into()]);
    }
}
