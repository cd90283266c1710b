//! A set of 200 cards in two finishes, each fifth of them rare, in a binder of its own.

use ringbound::intake::{BinderOptions, Phrase, new_set};
use ringbound::model::{
    BinderKind, Change, Collection, PageFormat, PrintingId, RingShape, SetHead, SetId,
};

/// Two of three regulars and one of three reverses lie in their pockets.
pub(crate) fn heath() -> Collection {
    let mut collection = Collection::new();
    let head = SetHead {
        code: "HEA".into(),
        title: "Heath and Hollow".into(),
        symbol: "\u{2663}".into(),
        shelf: "1".into(),
    };
    let phrase = Phrase::parse("1 to 200, in regular and reverse").unwrap();
    let binder = BinderOptions {
        format: PageFormat::new(3, 3, 2),
        kind: BinderKind::Rings {
            size: 40,
            shape: RingShape::D,
        },
    };
    let made = new_set(&collection, &head, &phrase, Some(binder)).unwrap();
    Change::apply_all(&made.step.changes, &mut collection).unwrap();
    let set = SetId(0);
    for name in ["common", "rare"] {
        let name = name.into();
        Change::AddRarity { set, name }
            .apply(&mut collection)
            .unwrap();
    }
    for card in 0..200 {
        let old = collection.set(set).unwrap().cards()[card as usize].clone();
        let mut new = old.clone();
        new.rarity = Some(u16::from(card % 5 == 4));
        new.name = format!("Bird {}", card + 1).into();
        let edit = Change::EditCard {
            set,
            card,
            old: Box::new(old),
            new: Box::new(new),
        };
        edit.apply(&mut collection).unwrap();
        for finish in 0..2 {
            if card % 3 <= u32::from(finish == 0) {
                put(&mut collection, PrintingId::new(set, card, finish));
            }
        }
    }
    collection
}

/// A copy comes in, into the pocket meant for it.
fn put(collection: &mut Collection, printing: PrintingId) {
    let place = collection.places_meant(printing).next().unwrap();
    let page = collection.binder(place.binder).unwrap().pages()[place.page].id();
    let changes = [
        Change::Acquire { printing, count: 1 },
        Change::Seat {
            place,
            page,
            printing,
        },
    ];
    Change::apply_all(&changes, collection).unwrap();
}
