//! Writing a snapshot, straight into its bytes.

use serde::Serialize;

use super::put::{json, text};
use super::{FORMAT, VERSION, is_paired, seal, side, unpaired, usual};
use crate::model::{Binder, Collection, Set, SetId};
use crate::store::parts::{
    BinderName, DraftText, FormatText, HeadText, SpecText, TemplateText, rules_text,
};
use crate::store::position::Position;
use crate::store::strings::Str;
use crate::store::token::Token;

/// The snapshot of a collection, which includes the journal up to `through`.
#[must_use]
pub fn write_snapshot(collection: &Collection, through: Position) -> Vec<u8> {
    let pockets: u32 = collection
        .shelf()
        .map(|binder| binder.tally().pockets)
        .sum();
    let cards: usize = collection.sets().map(|(_, set)| set.cards().len()).sum();
    let mut to = Vec::with_capacity(256 + pockets as usize * 16 + cards * 72);
    text(&mut to, "{\"format\":");
    json(&mut to, FORMAT);
    text(&mut to, &format!(",\"version\":{VERSION},\n\"through\":"));
    json(&mut to, &through);
    text(&mut to, ",\n\"sets\":[");
    list(&mut to, collection.sets(), |to, (_, set)| {
        write_set(to, set);
    });
    text(&mut to, "],\n\"binders\":[");
    write_shelf(&mut to, collection, SHARED_FROM);
    text(&mut to, "],\n\"loose\":[");
    let sets = collection.sets();
    let loose = sets.flat_map(|(id, set)| loose(id, set));
    list(&mut to, loose, |to, (printing, count)| {
        let token = Token::of(collection, printing);
        to.push(b'[');
        let parts = token.as_ref().map(Token::parts);
        if !parts.is_some_and(|parts| usual::token(to, parts, false)) {
            json(to, &token);
        }
        text(to, &format!(",{count}]"));
    });
    text(&mut to, "]");
    if collection.templates().len() > 0 {
        text(&mut to, ",\n\"templates\":[");
        list(&mut to, collection.templates(), |to, (name, sections)| {
            let (name, sections) = (name.into(), rules_text(sections));
            json(to, &TemplateText { name, sections });
        });
        text(&mut to, "]");
    }
    seal::seal(&mut to);
    to
}

fn loose(id: SetId, set: &Set) -> impl Iterator<Item = (crate::model::PrintingId, u32)> {
    set.printings(id)
        .map(|printing| (printing, set.tally(printing).loose))
        .filter(|(_, count)| *count > 0)
}

fn write_set(to: &mut Vec<u8>, set: &Set) {
    open_with(to, &HeadText::from(set.head()));
    text(to, ",\n\"finishes\":");
    let finishes = set.finishes().iter();
    let finishes: Vec<_> = finishes
        .map(|finish| (&*finish.name, &*finish.mark))
        .collect();
    json(to, &finishes);
    let left_out = (0u8..).zip(set.finishes());
    let left_out = left_out.filter(|(at, _)| set.is_left_out(*at));
    let left_out: Vec<&str> = left_out.map(|(_, finish)| &*finish.name).collect();
    if !left_out.is_empty() {
        text(to, ",\n\"left_out\":");
        json(to, &left_out);
    }
    text(to, ",\n\"rarities\":");
    let rarities: Vec<Str<'_>> = set
        .rarities()
        .iter()
        .map(|name| name.as_ref().into())
        .collect();
    json(to, &rarities);
    text(to, ",\n\"cards\":[");
    let cards = usual::Cards::of(set);
    list(to, set.cards(), |to, card| cards.write(to, card));
    text(to, "]}");
}

/// A shelf of more pockets is written by several hands at once.
const SHARED_FROM: u32 = 50_000;

/// As many.
const HANDS: u32 = 4;

/// The binders one after the other. However many write, the bytes are the same.
fn write_shelf(to: &mut Vec<u8>, collection: &Collection, shared_from: u32) {
    let pockets = |binder: &&Binder| binder.tally().pockets;
    let binders: Vec<&Binder> = collection.shelf().collect();
    let all: u32 = binders.iter().map(pockets).sum();
    if all < shared_from {
        return list(to, binders, |to, binder| {
            write_binder(to, collection, binder);
        });
    }
    let share = all / HANDS + 1;
    let mut before = 0;
    let shares = binders.chunk_by(|binder, _| {
        let was = before / share;
        before += pockets(binder);
        before / share == was
    });
    let write = |binders: &[&Binder]| {
        let pockets: u32 = binders.iter().map(pockets).sum();
        let mut part = Vec::with_capacity(pockets as usize * 20);
        list(&mut part, binders, |to, binder| {
            write_binder(to, collection, binder);
        });
        part
    };
    std::thread::scope(|scope| {
        let hands = shares.map(|share| {
            let hand = std::thread::Builder::new().spawn_scoped(scope, || write(share));
            (share, hand)
        });
        for (at, (share, hand)) in hands.collect::<Vec<_>>().into_iter().enumerate() {
            // Where there is no further thread to be had, or one fails, this one does the work.
            let part = hand.ok().and_then(|hand| hand.join().ok());
            text(to, if at == 0 { "" } else { "," });
            to.extend(part.unwrap_or_else(|| write(share)));
        }
    });
}

fn write_binder(to: &mut Vec<u8>, collection: &Collection, binder: &Binder) {
    text(to, "{\"id\":");
    json(to, &BinderName(binder.id()));
    text(to, ",\"spec\":");
    json(to, &SpecText::of(collection, binder.spec()));
    let physical = binder.pages().first().map(crate::model::Page::format);
    let meant = binder
        .layout()
        .pages
        .first()
        .map(crate::model::LayoutPage::format);
    let usual = physical.or(meant);
    if let Some(format) = usual {
        text(to, ",\n\"format\":");
        json(to, &FormatText::from(format));
    }
    if is_paired(binder) {
        text(to, ",\n\"pages\":[");
        let pages = binder.pages().iter().zip(&binder.layout().pages);
        list(to, pages, |to, (page, meant)| {
            side::write_page(to, collection, binder.spec().set, usual, page, meant);
        });
    } else {
        text(to, ",\n\"contents\":[");
        list(to, binder.pages(), |to, page| {
            json(to, &unpaired::PageText::of(collection, page, usual));
        });
        text(to, "],\n\"layout\":[");
        list(to, &binder.layout().pages, |to, page| {
            json(to, &unpaired::layout_page(collection, page, usual));
        });
    }
    if !binder.layout().sections.is_empty() {
        text(to, "],\n\"sections\":[");
        list(to, &binder.layout().sections, json);
    }
    if !binder.drafts().is_empty() {
        text(to, "],\n\"drafts\":[");
        list(to, binder.drafts(), |to, draft| {
            let draft = DraftText::of(collection, draft);
            json(to, &draft.map(|draft| draft.without_formats_if(usual)));
        });
    }
    text(to, "]}");
}

/// Each on a line of its own.
fn list<T>(
    to: &mut Vec<u8>,
    items: impl IntoIterator<Item = T>,
    mut each: impl FnMut(&mut Vec<u8>, T),
) {
    for (at, item) in items.into_iter().enumerate() {
        text(to, if at == 0 { "\n" } else { ",\n" });
        each(to, item);
    }
}

/// An object without its closing brace, so that more can follow.
fn open_with(to: &mut Vec<u8>, value: &impl Serialize) {
    json(to, value);
    let brace = to.pop();
    debug_assert_eq!(brace, Some(b'}'), "an object ends so");
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::model::random::collections;

    proptest! {
        #[test]
        fn several_hands_write_the_same_bytes_as_one(collection in collections()) {
            let mut bytes = [Vec::new(), Vec::new()];
            for (bytes, shared_from) in bytes.iter_mut().zip([u32::MAX, 0]) {
                write_shelf(bytes, &collection, shared_from);
            }
            prop_assert_eq!(&bytes[0], &bytes[1]);
        }
    }
}
