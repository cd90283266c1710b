//! Which verb leads from one place to another, so that a verb of another screen can be told with
//! all its keys, and be done from here.

use std::collections::VecDeque;

use super::Context;
use crate::ui::intent::Intent;

/// In the first, asking for the verb opens the second.
const LEADS: &[(Context, Intent, Context)] = &[
    (Context::Shelf, Intent::Accept, Context::Binder),
    (Context::Shelf, Intent::NewSet, Context::Form),
    (Context::Shelf, Intent::TypeIn, Context::Form),
    (Context::Shelf, Intent::Import, Context::Import),
    (Context::Shelf, Intent::Find, Context::Find),
    (Context::Shelf, Intent::Work, Context::Work),
    (Context::Shelf, Intent::Pile, Context::Pile),
    (Context::Shelf, Intent::Lists, Context::List),
    (Context::Shelf, Intent::Swap, Context::SwapFiles),
    (Context::Shelf, Intent::Supplies, Context::Supplies),
    (Context::Shelf, Intent::Print, Context::Print),
    (Context::Shelf, Intent::Spine, Context::Spine),
    (Context::Shelf, Intent::History, Context::History),
    (Context::Binder, Intent::TypeIn, Context::TypeIn),
    (Context::Binder, Intent::Find, Context::Find),
    (Context::Binder, Intent::Work, Context::Work),
    (Context::Binder, Intent::Pile, Context::Pile),
    (Context::Binder, Intent::Lists, Context::List),
    (Context::Binder, Intent::Print, Context::Print),
    (Context::Binder, Intent::History, Context::History),
    (Context::Binder, Intent::Arrange, Context::Menu),
    (Context::Binder, Intent::Drafts, Context::Drafts),
    (Context::Work, Intent::Print, Context::Print),
    (Context::Work, Intent::Lists, Context::List),
    (Context::Work, Intent::Pile, Context::Pile),
    (Context::Drafts, Intent::Sections, Context::Sections),
    (Context::Sections, Intent::Templates, Context::Templates),
    (Context::Sections, Intent::CompareGrowth, Context::Growth),
];

/// The verbs that lead from one place to another, the fewest that do; none where it is the same
/// place, `None` where nothing leads there.
pub(crate) fn way(from: Context, to: Context) -> Option<Vec<Intent>> {
    let mut seen = vec![from];
    let mut next = VecDeque::from([(from, Vec::new())]);
    while let Some((here, way)) = next.pop_front() {
        if here == to {
            return Some(way);
        }
        for (_, verb, there) in LEADS.iter().filter(|(place, ..)| *place == here) {
            if !seen.contains(there) {
                seen.push(*there);
                let mut way = way.clone();
                way.push(*verb);
                next.push_back((*there, way));
            }
        }
    }
    None
}

/// The place that the verb opens here, if it opens one.
pub(crate) fn leads_to(here: Context, verb: Intent) -> Option<Context> {
    let mut leads = LEADS.iter();
    let lead = leads.find(|(place, intent, _)| (*place, *intent) == (here, verb));
    lead.map(|(.., there)| *there)
}

#[cfg(test)]
mod tests {
    use super::super::Keymap;
    use super::*;

    #[test]
    fn every_verb_that_leads_somewhere_has_a_key_there() {
        for (place, verb, _) in LEADS {
            let intents = Keymap::default().intents(*place);
            let bound = intents.iter().any(|(intent, ..)| intent == verb);
            assert!(bound, "{verb:?} in {place:?}");
        }
    }

    #[test]
    fn the_fewest_verbs_lead_there_or_none() {
        let way = |to| way(Context::Shelf, to);
        assert_eq!(way(Context::Shelf), Some(vec![]));
        assert_eq!(
            way(Context::Sections),
            Some(vec![Intent::Accept, Intent::Drafts, Intent::Sections])
        );
        assert_eq!(super::way(Context::Binder, Context::Supplies), None);
    }
}
