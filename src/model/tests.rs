//! Tests of the model.

mod cases;
mod laws;

use super::Collection;

/// Equal in everything but the ids that were given away and are free again.
fn same(a: &Collection, b: &Collection) -> bool {
    let sets = |c: &Collection| -> Vec<_> {
        c.sets()
            .map(|(id, s)| {
                let numbers = (s.numbers.clone(), s.binders.clone());
                let tallies = s.tallies.clone();
                let finishes = (s.finishes.clone(), s.left_out);
                let named = (s.head.clone(), finishes, s.rarities.clone());
                (id, named, s.cards.clone(), numbers, tallies)
            })
            .collect()
    };
    let binders = |c: &Collection| -> Vec<_> {
        c.binders
            .values()
            .map(|b| {
                let lies = (b.id, b.spec.clone(), b.pages.clone());
                (lies, b.layout.clone(), b.drafts.clone(), b.tally)
            })
            .collect()
    };
    sets(a) == sets(b)
        && binders(a) == binders(b)
        && (&a.codes, &a.names, &a.called, &a.shelf) == (&b.codes, &b.names, &b.called, &b.shelf)
        && a.page_binder == b.page_binder
        && a.templates == b.templates
}
