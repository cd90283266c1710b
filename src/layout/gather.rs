//! Who has which card: the cards shared out among the rules.

use std::collections::HashMap;

use super::pick::{Criteria, fits};
use super::pour::{Pins, Poured, pour};
use super::section::{Section, SectionError, What};
use super::told::{Never, Told};
use crate::model::{CardSize, Collection, Meaning, PrintingId, Rules, SetId};

/// How many cards of each checklist the rules knew of: all that there are now, or so many.
#[derive(Clone, Debug, Default)]
pub(super) enum Known {
    #[default]
    All,
    First(HashMap<SetId, u32>),
}

impl Known {
    fn of(&self, set: SetId) -> u32 {
        match self {
            Self::All => u32::MAX,
            Self::First(cards) => cards.get(&set).copied().unwrap_or(0),
        }
    }
}

/// Each section with what it is to be filled with.
#[derive(Clone, Debug, Default)]
pub(super) struct Gathered {
    /// `None` for a line that cannot be read or must not be followed.
    pub(super) sections: Vec<Option<Section>>,
    pub(super) items: Vec<Vec<Meaning>>,
    pub(super) told: Vec<Told>,
}

impl Gathered {
    /// Into pockets, but for what is `withheld`: asked of all, in their order.
    pub(super) fn pour(&self, mut withheld: impl FnMut(&Meaning) -> bool, pins: &Pins) -> Poured {
        let empty = Section::new("", super::default_format(), What::Keepsakes(Vec::new()));
        let sections: Vec<(&Section, Vec<Meaning>)> = (self.sections.iter().zip(&self.items))
            .map(|(section, items)| match section {
                Some(section) => {
                    let items = items.iter().filter(|item| !withheld(item));
                    (section, items.cloned().collect())
                }
                None => (&empty, Vec::new()),
            })
            .collect();
        pour(&sections, pins)
    }
}

/// Shares the cards out among the rules: each goes to the first that matches it.
pub(super) fn gather(
    collection: &Collection,
    own: Option<SetId>,
    rules: &Rules,
    known: &Known,
) -> Gathered {
    let mut gathered = Gathered::default();
    let mut taken: HashMap<PrintingId, usize> = HashMap::new();
    let mut sets: Vec<SetId> = Vec::new();
    for (number, rule) in rules.iter().enumerate() {
        let read: Result<Section, SectionError> = rule.parse();
        let (section, items) = match read {
            Err(why) => {
                let why = why.to_string();
                gathered.told.push(Told::Unread {
                    section: number,
                    why,
                });
                (None, Vec::new())
            }
            Ok(section) => {
                let items = match &section.what {
                    What::Keepsakes(all) => keepsakes(all),
                    What::Cards(_) => {
                        let mut cards = Cards {
                            collection,
                            own,
                            known,
                            taken: &mut taken,
                            sets: &mut sets,
                            told: &mut gathered.told,
                        };
                        cards.of(number, &section)
                    }
                };
                (Some(section), items)
            }
        };
        gathered.sections.push(section);
        gathered.items.push(items);
    }
    if sets.is_empty() {
        sets.extend(own);
    }
    let mut printings = Vec::new();
    for id in sets {
        let Some(set) = collection.set(id) else {
            continue;
        };
        let all = set.printings(id);
        printings.extend(all.filter(|printing| !taken.contains_key(printing)));
    }
    if matches!(known, Known::All) && !printings.is_empty() {
        gathered.told.push(Told::Unmatched { printings });
    }
    gathered
}

struct Cards<'a> {
    collection: &'a Collection,
    own: Option<SetId>,
    known: &'a Known,
    taken: &'a mut HashMap<PrintingId, usize>,
    sets: &'a mut Vec<SetId>,
    told: &'a mut Vec<Told>,
}

impl Cards<'_> {
    fn of(&mut self, number: usize, section: &Section) -> Vec<Meaning> {
        let Some(pick) = section.pick() else {
            return Vec::new();
        };
        let asked = match Criteria::of(self.collection, self.own, pick) {
            Ok(asked) => asked,
            Err(why) => return self.never(number, why),
        };
        if !self.sets.contains(&asked.id) {
            self.sets.push(asked.id);
        }
        let numbers: Vec<_> = asked.missing().cloned().collect();
        if !numbers.is_empty() {
            let section = number;
            self.told.push(Told::Missing { section, numbers });
        }
        let matched = asked.printings(self.known.of(asked.id));
        if matched.is_empty() {
            return self.never(number, Never::Nothing);
        }
        let mut twice: Vec<(usize, Vec<PrintingId>)> = Vec::new();
        let mut own = Vec::with_capacity(matched.len());
        for printing in matched {
            match self.taken.get(&printing) {
                None => own.push(printing),
                Some(_) if pick.rest => {}
                Some(first) => match twice.iter_mut().find(|(other, _)| other == first) {
                    Some((_, printings)) => printings.push(printing),
                    None => twice.push((*first, vec![printing])),
                },
            }
        }
        if own.is_empty() {
            return self.never(number, Never::Taken);
        }
        twice.sort_by_key(|(first, _)| *first);
        self.told
            .extend(twice.into_iter().map(|(first, printings)| Told::Twice {
                first,
                second: number,
                printings,
            }));
        self.taken
            .extend(own.iter().map(|printing| (*printing, number)));
        if self.too_large(number, section, &own) {
            return Vec::new();
        }
        own.into_iter().map(Meaning::Printing).collect()
    }

    fn never(&mut self, section: usize, why: Never) -> Vec<Meaning> {
        self.told.push(Told::Never { section, why });
        Vec::new()
    }

    /// Tells what does not fit; whether nothing does.
    fn too_large(&mut self, section: usize, of: &Section, own: &[PrintingId]) -> bool {
        let pocket = CardSize {
            width: of.page.pocket_width.into(),
            height: of.page.pocket_height.into(),
        };
        if pocket.width == 0 || pocket.height == 0 {
            return false;
        }
        let size = |printing: &PrintingId| {
            let card = self.collection.card(*printing);
            card.and_then(|card| card.size).unwrap_or(CardSize::USUAL)
        };
        let cards = own.iter().filter(|card| !fits(size(card), pocket)).count();
        if cards == own.len() {
            self.told.push(Told::HoldsNone { section });
            return true;
        }
        if cards > 0 {
            self.told.push(Told::TooLarge { section, cards });
        }
        false
    }
}

/// `4 x pack art` are pack art 1 to pack art 4.
fn keepsakes(all: &[(u32, Box<str>)]) -> Vec<Meaning> {
    let each = all.iter().flat_map(|(many, words)| {
        (1..=*many).map(move |at| match many {
            1 => Meaning::Keepsake(words.as_ref().into()),
            _ => Meaning::Keepsake(format!("{words} {at}").into()),
        })
    });
    each.collect()
}
