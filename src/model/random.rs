//! Small collections at random, for property tests: whatever a hand could bring about.

use proptest::prelude::*;

use super::{
    Binder, BinderId, BinderKind, BinderSpec, Card, Change, Collection, Draft, Finish, Layout,
    LayoutPage, Meaning, PageFormat, PagePlace, Place, PrintingId, RingShape, SetHead, SetId,
};

const SETS: u16 = 2;
const CARDS: u32 = 5;
const FINISHES: u8 = 2;
const BINDERS: u32 = 2;

/// Two sets of five cards, two binders, and what up to 120 attempted changes leave; those that
/// do not fit are refused and leave no trace.
pub(crate) fn collections() -> impl Strategy<Value = Collection> {
    prop::collection::vec(attempt(), 0..120).prop_map(|attempts| {
        let mut collection = begin();
        for attempt in attempts {
            for change in changes(&collection, attempt) {
                // Refusals are expected: the attempt was made without looking.
                let refused = change.apply(&mut collection).is_err();
                if refused {
                    break;
                }
            }
        }
        assert!(collection.check().is_empty());
        collection
    })
}

/// A collection and changes that may come next; some of them fit, some do not.
pub(crate) fn collections_and_changes() -> impl Strategy<Value = (Collection, Vec<Change>)> {
    (collections(), prop::collection::vec(attempt(), 1..8)).prop_map(|(collection, attempts)| {
        let next = attempts.into_iter();
        let next = next.flat_map(|attempt| changes(&collection, attempt));
        let next = next.collect();
        (collection, next)
    })
}

/// Every pocket of the physical pages and, beyond them, of the layout, in shelf order.
pub(crate) fn places(collection: &Collection) -> impl Iterator<Item = Place> + '_ {
    collection.shelf().flat_map(|binder| {
        let (real, meant) = (binder.pages(), &binder.layout().pages);
        (0..real.len().max(meant.len())).flat_map(move |page| {
            let format = real.get(page).map(super::Page::format);
            let format = format.unwrap_or_else(|| meant[page].format());
            (0..format.pockets()).map(move |pocket| Place {
                binder: binder.id(),
                page,
                pocket,
            })
        })
    })
}

#[derive(Clone, Debug)]
enum Attempt {
    Acquire(PrintingId, u32),
    /// Acquired and put into a pocket.
    Seat(PrintingId, Place),
    Lift(Place),
    AddPage(BinderId, usize, PageFormat),
    AddLayoutPage(BinderId, usize, PageFormat),
    MovePage(PagePlace, PagePlace),
    Mean(Place, Meaning),
    /// The layout comes to say what is there.
    Accept(Place),
    PartWith(PrintingId, u32),
    RemovePage(BinderId, usize),
    RemoveLayoutPage(BinderId, usize),
    MoveLayoutPage(BinderId, usize, usize),
    MoveBinder(BinderId, usize, usize),
    /// A draft of this name, from the layout or from a draft.
    AddDraft(BinderId, usize, &'static str, Option<usize>),
    DropDraft(BinderId, usize),
    RenameDraft(BinderId, usize, &'static str),
    SwapLayout(BinderId, usize),
    /// A run is left out, or collected again.
    LeaveOut(SetId, u8, bool),
    SetSections(BinderId, Option<&'static str>),
    SetTemplate(&'static str, Option<&'static str>),
    /// What is attempted on a layout, in a draft.
    InDraft(usize, Box<Self>),
}

fn attempt() -> impl Strategy<Value = Attempt> {
    prop_oneof![
        30 => of_contents_and_layout(),
        2 => (binder(), 0usize..3, name(), prop::option::of(0usize..2))
            .prop_map(|(b, at, name, from)| Attempt::AddDraft(b, at, name, from)),
        1 => (binder(), 0usize..2).prop_map(|(b, at)| Attempt::DropDraft(b, at)),
        1 => (binder(), 0usize..2, name()).prop_map(|(b, at, name)| Attempt::RenameDraft(b, at, name)),
        1 => (binder(), 0usize..2).prop_map(|(b, at)| Attempt::SwapLayout(b, at)),
        1 => (0..SETS, 0..FINISHES, any::<bool>())
            .prop_map(|(set, finish, out)| Attempt::LeaveOut(SetId(set), finish, out)),
        1 => (name(), rule()).prop_map(|(name, rule)| Attempt::SetTemplate(name, rule)),
        6 => (0usize..2, of_layout()).prop_map(|(at, it)| Attempt::InDraft(at, Box::new(it))),
    ]
}

fn name() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec!["autumn", "winter", "rares in front"])
}

fn rule() -> impl Strategy<Value = Option<&'static str>> {
    prop::option::of(prop::sample::select(vec![
        "all: page 3x3",
        "rares: rarity rare",
    ]))
}

fn of_layout() -> impl Strategy<Value = Attempt> {
    prop_oneof![
        2 => (binder(), 0usize..3, format()).prop_map(|(b, at, f)| Attempt::AddLayoutPage(b, at, f)),
        6 => (place(), meaning()).prop_map(|(place, meaning)| Attempt::Mean(place, meaning)),
        1 => (binder(), rule()).prop_map(|(b, rule)| Attempt::SetSections(b, rule)),
        1 => (binder(), 0usize..3).prop_map(|(b, at)| Attempt::RemoveLayoutPage(b, at)),
        1 => (binder(), 0usize..3, 0usize..3).prop_map(|(b, from, to)| Attempt::MoveLayoutPage(b, from, to)),
    ]
}

fn of_contents_and_layout() -> impl Strategy<Value = Attempt> {
    prop_oneof![
        10 => of_layout(),
        2 => (printing(), 1u32..4).prop_map(|(p, count)| Attempt::Acquire(p, count)),
        6 => (printing(), place()).prop_map(|(p, place)| Attempt::Seat(p, place)),
        1 => place().prop_map(Attempt::Lift),
        2 => (binder(), 0usize..3, format()).prop_map(|(b, at, f)| Attempt::AddPage(b, at, f)),
        2 => ((binder(), 0usize..3), (binder(), 0usize..3))
            .prop_map(|((a, from), (b, to))| {
                Attempt::MovePage(PagePlace::new(a, from), PagePlace::new(b, to))
            }),
        2 => place().prop_map(Attempt::Accept),
        1 => (printing(), 1u32..3).prop_map(|(p, count)| Attempt::PartWith(p, count)),
        1 => (binder(), 0usize..3).prop_map(|(b, at)| Attempt::RemovePage(b, at)),
        1 => (binder(), 0usize..2, 0usize..2).prop_map(|(b, from, to)| Attempt::MoveBinder(b, from, to)),
    ]
}

fn binder() -> impl Strategy<Value = BinderId> {
    (1..=BINDERS).prop_map(BinderId)
}

fn printing() -> impl Strategy<Value = PrintingId> {
    (0..SETS, 0..CARDS, 0..FINISHES).prop_map(|(set, card, finish)| {
        // The last card exists in the first finish only.
        let finish = if card + 1 == CARDS { 0 } else { finish };
        PrintingId::new(SetId(set), card, finish)
    })
}

fn place() -> impl Strategy<Value = Place> {
    (binder(), 0usize..3, 0usize..8).prop_map(|(binder, page, pocket)| Place {
        binder,
        page,
        pocket,
    })
}

fn format() -> impl Strategy<Value = PageFormat> {
    // Mostly one grid, so that contents and layout can often be compared.
    prop_oneof![
        5 => Just(PageFormat::new(2, 2, 2)),
        1 => Just(PageFormat::new(1, 3, 1)),
    ]
}

fn meaning() -> impl Strategy<Value = Meaning> {
    prop_oneof![
        6 => printing().prop_map(Meaning::Printing),
        1 => Just(Meaning::Blank),
        1 => Just(Meaning::Keepsake("a ticket".into())),
    ]
}

fn changes(collection: &Collection, attempt: Attempt) -> Vec<Change> {
    match attempt {
        Attempt::LeaveOut(set, finish, true) => vec![Change::LeaveOut { set, finish }],
        Attempt::LeaveOut(set, finish, false) => vec![Change::Collect { set, finish }],
        Attempt::InDraft(draft, attempt) => {
            let layout = |binder| layout(collection, binder, Some(draft));
            let changes = of_a_layout(layout, *attempt).into_iter();
            let within = |change| Change::InDraft {
                draft,
                change: Box::new(change),
            };
            changes.map(within).collect()
        }
        Attempt::AddLayoutPage(..)
        | Attempt::RemoveLayoutPage(..)
        | Attempt::MoveLayoutPage(..)
        | Attempt::SetSections(..)
        | Attempt::Mean(..) => of_a_layout(|binder| layout(collection, binder, None), attempt),
        Attempt::AddDraft(..)
        | Attempt::DropDraft(..)
        | Attempt::RenameDraft(..)
        | Attempt::SwapLayout(..) => of_drafts(collection, attempt),
        Attempt::SetTemplate(name, rule) => vec![Change::SetTemplate {
            name: name.into(),
            old: collection.template(name).cloned(),
            new: rule.map(|rule| vec![rule.into()]),
        }],
        attempt => of_contents(collection, attempt),
    }
}

fn layout(collection: &Collection, binder: BinderId, draft: Option<usize>) -> Option<&Layout> {
    let binder = collection.binder(binder)?;
    match draft {
        None => Some(binder.layout()),
        Some(at) => binder.drafts().get(at).map(|draft| &draft.layout),
    }
}

fn of_a_layout<'c>(
    layout: impl Fn(BinderId) -> Option<&'c Layout>,
    attempt: Attempt,
) -> Vec<Change> {
    let page = |binder, at: usize| layout(binder)?.pages.get(at);
    let change = match attempt {
        Attempt::AddLayoutPage(binder, at, format) => Some(Change::AddLayoutPage {
            binder,
            at,
            page: Box::new(LayoutPage::empty(format)),
        }),
        Attempt::RemoveLayoutPage(binder, at) => {
            page(binder, at).map(|page| Change::RemoveLayoutPage {
                binder,
                at,
                page: Box::new(page.clone()),
            })
        }
        Attempt::MoveLayoutPage(binder, from, to) => {
            Some(Change::MoveLayoutPage { binder, from, to })
        }
        Attempt::SetSections(binder, rule) => layout(binder).map(|layout| Change::SetSections {
            binder,
            old: layout.sections.clone(),
            new: rule.into_iter().map(Into::into).collect(),
        }),
        Attempt::Mean(place, new) => page(place.binder, place.page).map(|page| Change::Mean {
            place,
            old: page.meaning(place.pocket),
            new,
        }),
        _ => None,
    };
    change.into_iter().collect()
}

fn of_drafts(collection: &Collection, attempt: Attempt) -> Vec<Change> {
    let drafts = |binder| collection.binder(binder).map_or(&[][..], Binder::drafts);
    let change = match attempt {
        Attempt::AddDraft(binder, at, name, from) => {
            layout(collection, binder, from).map(|layout| Change::AddDraft {
                binder,
                at,
                draft: Box::new(Draft {
                    name: name.into(),
                    layout: layout.clone(),
                }),
            })
        }
        Attempt::DropDraft(binder, at) => drafts(binder).get(at).map(|draft| Change::DropDraft {
            binder,
            at,
            draft: Box::new(draft.clone()),
        }),
        Attempt::RenameDraft(binder, at, new) => {
            drafts(binder).get(at).map(|draft| Change::RenameDraft {
                binder,
                at,
                old: draft.name.clone(),
                new: new.into(),
            })
        }
        Attempt::SwapLayout(binder, at) => Some(Change::SwapLayout { binder, at }),
        _ => None,
    };
    change.into_iter().collect()
}

fn of_contents(collection: &Collection, attempt: Attempt) -> Vec<Change> {
    let page = |(binder, at): (BinderId, usize)| {
        let page = collection.binder(binder)?.pages().get(at)?;
        Some((page.id(), page.format()))
    };
    let page_at = |place: Place| page((place.binder, place.page)).map(|(id, _)| id);
    match attempt {
        Attempt::Acquire(printing, count) => vec![Change::Acquire { printing, count }],
        Attempt::Seat(printing, place) => {
            let seat = page_at(place).map(|page| Change::Seat {
                place,
                page,
                printing,
            });
            let acquire = Change::Acquire { printing, count: 1 };
            [acquire].into_iter().chain(seat).collect()
        }
        Attempt::Lift(place) => (collection.held(place).zip(page_at(place)))
            .map(|(printing, page)| Change::Lift {
                place,
                page,
                printing,
            })
            .into_iter()
            .collect(),
        Attempt::AddPage(binder, at, format) => vec![Change::AddPage {
            binder,
            at,
            page: collection.fresh_page(),
            format,
        }],
        Attempt::MovePage(from, to) => (page((from.binder, from.page)).into_iter())
            .map(|(page, _)| Change::MovePage { page, from, to })
            .collect(),
        Attempt::PartWith(printing, count) => vec![Change::PartWith { printing, count }],
        Attempt::RemovePage(binder, at) => (page((binder, at)).into_iter())
            .map(|(page, format)| Change::RemovePage {
                binder,
                at,
                page,
                format,
            })
            .collect(),
        Attempt::MoveBinder(binder, from, to) => vec![Change::MoveBinder { binder, from, to }],
        Attempt::Accept(place) => match collection.held(place) {
            Some(held) => {
                let accept = Attempt::Mean(place, Meaning::Printing(held));
                of_a_layout(|binder| layout(collection, binder, None), accept)
            }
            None => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn begin() -> Collection {
    let mut changes = Vec::new();
    for set in (0..SETS).map(SetId) {
        let head = SetHead {
            code: format!("S{}", set.0).into(),
            ..SetHead::default()
        };
        changes.push(Change::AddSet {
            set,
            at: usize::from(set.0),
            head: Box::new(head),
        });
        for (name, mark) in [("regular", ""), ("reverse", "r")] {
            let finish = Finish {
                name: name.into(),
                mark: mark.into(),
            };
            changes.push(Change::AddFinish {
                set,
                finish: Box::new(finish),
            });
        }
        changes.push(Change::AddRarity {
            set,
            name: "common".into(),
        });
        let card = |at: u32| Card {
            number: (at + 1).to_string().into(),
            name: "".into(),
            rarity: at.is_multiple_of(2).then_some(0),
            size: None,
            finishes: if at + 1 == CARDS { 0b01 } else { 0b11 },
        };
        changes.push(Change::AddCards {
            set,
            first: 0,
            cards: (0..CARDS).map(card).collect(),
        });
    }
    for at in 0..BINDERS {
        let spec = BinderSpec {
            name: format!("b{at}").into(),
            title: "".into(),
            set: None,
            kind: BinderKind::Rings {
                size: 25,
                shape: RingShape::D,
            },
            front_matter: Vec::new(),
        };
        let binder = BinderId(at + 1);
        changes.push(Change::AddBinder {
            binder,
            at: 0,
            spec: Box::new(spec),
        });
        for page in 0..2 {
            let format = PageFormat::new(2, 2, 2);
            changes.push(Change::AddPage {
                binder,
                at: page,
                page: super::PageId(at * 2 + page as u32 + 1),
                format,
            });
            changes.push(Change::AddLayoutPage {
                binder,
                at: page,
                page: Box::new(LayoutPage::empty(format)),
            });
        }
    }
    let mut collection = Collection::new();
    Change::apply_all(&changes, &mut collection).unwrap();
    collection
}
