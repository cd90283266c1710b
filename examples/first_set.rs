//! A set in one phrase, its default layout, two cards put away, and what is still missing.
//!
//! ```text
//! cargo run --example first_set
//! ```

use ringbound::intake::{BinderOptions, Phrase, new_set};
use ringbound::layout::default_format;
use ringbound::model::{BinderKind, Change, Collection, PrintingId, RingShape, SetHead, Step};
use ringbound::report::{completion, gaps, percent, place_words, printing_words};
use ringbound::session::Session;
use ringbound::{hand, text};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut session = Session::in_memory(Collection::new());

    // The set comes with a binder and a layout: a run for each finish, each on pages of its own.
    let head = SetHead {
        code: "POND".into(),
        title: "Seven Ponds".into(),
        symbol: "✿".into(),
        shelf: "1".into(),
    };
    let phrase = Phrase::parse("1 to 7 and P1, in regular and reverse")?;
    let binder = BinderOptions {
        format: default_format(),
        kind: BinderKind::Rings {
            size: 25,
            shape: RingShape::D,
        },
    };
    let intake = new_set(session.collection(), &head, &phrase, Some(binder))?;
    session.commit(intake.step)?;
    let Some(set) = session.collection().set_by_code("POND") else {
        return Ok(());
    };

    // Cards 1 and 5 arrive, and go to the pockets that wait for them.
    for card in [0, 4] {
        let printing = PrintingId::new(set, card, 0);
        let arrives = Change::Acquire { printing, count: 1 };
        session.commit(Step::new("a card arrives", vec![arrives]))?;
        let place = session.collection().places_meant(printing).next();
        if let Some(place) = place {
            let collection = session.collection();
            let put = hand::put(collection, place, &collection.pocket(place))?;
            session.commit(put)?;
        }
    }

    let collection = session.collection();
    for gap in gaps(collection, Some(set)) {
        let place = gap.place.map(|place| place_words(collection, place));
        let card = printing_words(collection, gap.printing);
        println!("{:<12} {}", text::safe(&card), place.unwrap_or_default());
    }
    for told in completion(collection, Some(set)) {
        let share = percent(told.all.held, told.all.total).unwrap_or_default();
        println!("{} of {}: {share}", told.all.held, told.all.total);
    }
    Ok(())
}
