use proptest::prelude::*;

use super::*;
use crate::demo;
use crate::model::random::collections;
use crate::report;

/// Everything of the collection, this many of each.
fn of_all(collection: &Collection, count: u32) -> Stock {
    let all = collection.sets().flat_map(|(id, set)| set.printings(id));
    all.map(|printing| (printing, count)).collect()
}

fn rarity(collection: &Collection, printing: PrintingId) -> String {
    let set = collection.set(printing.set()).unwrap();
    set.rarity_name(set.card(printing.card()).unwrap())
        .to_lowercase()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// What is given was spare and wanted there, what is got was wanted and spare there.
    #[test]
    fn a_swap_gives_spares_for_wants_and_undo_takes_it_back(
        mut collection in collections(),
        by_rarity in any::<bool>(),
        keep in 0u32..2,
        count in 1u32..3,
    ) {
        let (wanted, spare) = (of_all(&collection, count), of_all(&collection, 1));
        let found = swap(&collection, &wanted, &spare, keep, by_rarity);
        if !by_rarity {
            let give: u32 = found.could_give.iter().map(|(_, count)| count).sum();
            prop_assert_eq!(found.pairs.len(), found.could_get.len().min(give as usize));
        }
        for (get, give) in &found.pairs {
            let get = rarity(&collection, found.could_get[*get].gap.printing);
            let give = rarity(&collection, *give);
            prop_assert!(!by_rarity || get == give || get.is_empty() || give.is_empty());
        }
        let (before, wants_before) = (collection.clone(), report::wants(&collection, WantFilter::default()));
        let step = crate::hand::swapped(&found);
        crate::model::Change::apply_all(&step.changes, &mut collection).unwrap();
        prop_assert_eq!(collection.check(), []);
        for (printing, _) in &found.could_give {
            let (was, is) = (before.tally(*printing), collection.tally(*printing));
            let given = found.pairs.iter().filter(|(_, give)| give == printing).count() as u32;
            prop_assert_eq!(was.spares() - is.spares(), given);
            prop_assert!(given == 0 || is.spares() >= keep);
            prop_assert_eq!(was.waiting(), is.waiting());
        }
        let wants_after = report::wants(&collection, WantFilter::default());
        prop_assert_eq!(wants_before.len() - wants_after.len(), found.pairs.len());
        for change in step.changes.iter().rev() {
            change.inverse().apply(&mut collection).unwrap();
        }
        for (id, set) in before.sets() {
            for printing in set.printings(id) {
                prop_assert_eq!(before.tally(printing), collection.tally(printing));
            }
        }
    }
}

#[test]
fn the_fullest_pages_are_filled_first() {
    let demo = demo::collection();
    let all = of_all(&demo, 1);
    let found = swap(&demo, &all, &all, 0, false);
    let share = |get: &Get| f64::from(get.page.0) / f64::from(get.page.1.max(1));
    assert!(found.could_get.is_sorted_by(|a, b| share(a) >= share(b)));
    // There is less to give than to get, and then the first ones are got.
    assert!(!found.pairs.is_empty() && found.pairs.len() < found.could_get.len());
    let got: Vec<usize> = found.pairs.iter().map(|(get, _)| *get).collect();
    assert_eq!(got, (0..got.len()).collect::<Vec<_>>());
    for get in &found.could_get {
        let Some(place) = get.gap.place else { continue };
        let binder = demo.binder(place.binder).unwrap();
        let pockets = 0..binder.layout().pages[place.page].format().pockets();
        let states: Vec<_> = pockets
            .map(|pocket| demo.pocket(crate::model::Place { pocket, ..place }))
            .collect();
        let in_place = states
            .iter()
            .filter(|state| matches!(state, crate::model::PocketState::InPlace(_)))
            .count();
        assert_eq!(get.page.0 as usize, in_place);
    }
}

/// Counted by hand: like for like first, what is left goes for what there is most of.
#[test]
fn where_any_goes_for_any_like_still_goes_for_like_first() {
    let words = |words: &[&str]| -> Vec<String> { words.iter().map(ToString::to_string).collect() };
    let groups = ["heirloom", "common", ""];
    let with =
        |wanted: &[&str], room: [u32; 3]| any_for_any(&words(wanted), &groups, room.to_vec());
    assert_eq!(with(&["common", "heirloom"], [1, 1, 0]), [Some(1), Some(0)]);
    assert_eq!(with(&["common", "common"], [1, 1, 0]), [Some(1), Some(0)]);
    assert_eq!(with(&["rare", "common"], [1, 3, 0]), [Some(1), Some(1)]);
    // The fullest page is the first, and it is filled whatever for.
    assert_eq!(with(&["rare", "heirloom"], [1, 0, 0]), [Some(0), None]);
    assert_eq!(with(&["rare"], [0, 0, 0]), [None]);
    assert_eq!(
        with(&["rare", "", "common"], [2, 0, 1]),
        [Some(0), Some(2), Some(0)]
    );
}

#[test]
fn by_rarity_like_goes_for_like() {
    let demo = demo::collection();
    let all = of_all(&demo, 1);
    let found = swap(&demo, &all, &all, 0, true);
    assert!(!found.pairs.is_empty());
    for (get, give) in &found.pairs {
        let get = rarity(&demo, found.could_get[*get].gap.printing);
        let give = rarity(&demo, *give);
        assert!(
            get == give || get.is_empty() || give.is_empty(),
            "{get} {give}"
        );
    }
}

#[test]
fn what_was_left_out_stays_so_as_often_as_it_is_proposed_again() {
    let demo = demo::collection();
    let (wants, spares) = (of_all(&demo, 2), of_all(&demo, 1));
    let before = swap(&demo, &wants, &spares, 0, false);
    let many = before.pairs.len();
    assert!(many > 3);
    let mut some = before.clone();
    for at in [1, 2, many, 2] {
        some.leave_out(at);
    }
    assert_eq!((some.left_out.len(), some.many_agreed()), (1, many - 1));
    let agreed: Vec<_> = some.agreed().collect();
    assert_eq!(agreed.len(), many - 1);
    assert!(!agreed.contains(&before.pairs[1]));
    let mut again = before.clone();
    again.leave_out_as(&some);
    assert_eq!(again, some);
    // A pair that is no longer proposed is forgotten.
    let mut fewer = swap(&demo, &wants, &Stock::new(), 0, false);
    fewer.leave_out_as(&some);
    assert_eq!((fewer.left_out.len(), fewer.many_agreed()), (0, 0));
    // What goes in is what is agreed on.
    let of = |swap: &Swap| crate::hand::swapped(swap);
    assert!(of(&some).label.starts_with(&format!("{} cards", many - 1)));
    assert!(of(&before).label.starts_with(&format!("{many} cards")));
}
