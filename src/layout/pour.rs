//! Items are poured into pockets, section after section; pockets that a hand has filled otherwise
//! stay so, and the items flow around them.

use std::collections::{HashMap, HashSet};

use super::section::{Begin, Room, Section};
use crate::model::{LayoutPage, Meaning};

/// A pocket as its section counts it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct SectionPocket {
    pub(super) section: usize,
    /// One of those that the rule leaves empty on purpose; they are counted by themselves.
    pub(super) is_left: bool,
    /// From 0, from the section's first pocket on.
    pub(super) nth: usize,
}

/// Pages, and for each of their pockets the spot that it is.
#[derive(Clone, Debug, Default)]
pub(super) struct Poured {
    pub(super) pages: Vec<LayoutPage>,
    pub(super) spots: Vec<Vec<SectionPocket>>,
    /// Sections that could not begin where they were to.
    pub(super) on_new_page: Vec<usize>,
    /// Pins for which there was no pocket.
    pub(super) lost: Vec<SectionPocket>,
}

/// What stands in some spots, whatever the rules say.
pub(super) type Pins = HashMap<SectionPocket, Meaning>;

/// Pours each section's items.
pub(super) fn pour(sections: &[(&Section, Vec<Meaning>)], pins: &Pins) -> Poured {
    let mut table = Table::default();
    for (number, (section, items)) in sections.iter().enumerate() {
        if !items.is_empty() {
            table.section(number, section, items, pins);
        }
    }
    table.close();
    let mut lost: Vec<_> = (pins.keys().copied())
        .filter(|spot| !table.met.contains(spot))
        .collect();
    lost.sort_unstable();
    Poured {
        pages: table.pages,
        spots: table.spots,
        on_new_page: table.on_new_page,
        lost,
    }
}

#[derive(Default)]
struct Table {
    pages: Vec<LayoutPage>,
    spots: Vec<Vec<SectionPocket>>,
    /// The next pocket of the last page.
    next: usize,
    on_new_page: Vec<usize>,
    met: HashSet<SectionPocket>,
    /// The section that fills pockets now: its number, and how many of its spots there are.
    filling: Option<(usize, [usize; 2])>,
}

impl Table {
    fn section(&mut self, number: usize, section: &Section, items: &[Meaning], pins: &Pins) {
        self.begin(number, section);
        let mut items = items.iter();
        while items.len() > 0 {
            let pocket = self.pocket(section, pins);
            if let Some(pocket) = pocket
                && let Some(item) = items.next()
                && let Some(page) = self.pages.last_mut()
            {
                page.set_meaning(pocket, item.clone());
            }
        }
        match section.room {
            Room::None => {}
            Room::Pockets(many) => {
                for _ in 0..many {
                    self.pocket(section, pins);
                }
            }
            Room::Pages(many) => {
                self.rest_of_page(section, pins);
                for _ in 0..many {
                    self.open(section);
                    self.rest_of_page(section, pins);
                }
            }
        }
        // A pin on the rest of the page stands; what comes next begins behind it.
        self.tail(section, pins);
    }

    fn begin(&mut self, number: usize, section: &Section) {
        let same = self
            .pages
            .last()
            .is_some_and(|page| page.format() == section.page);
        let per_side = section.page.per_side().max(1);
        let columns = usize::from(section.page.columns).max(1);
        let to = match section.begin {
            Begin::Page => None,
            Begin::Side => Some(self.next.div_ceil(per_side) * per_side),
            Begin::Row => Some(self.next.div_ceil(columns) * columns),
            Begin::On => Some(self.next),
        };
        if !same && to.is_some() && !self.pages.is_empty() {
            self.on_new_page.push(number);
        }
        let to = to.filter(|to| same && *to < section.page.pockets());
        match to {
            // What is passed over is still the section's before.
            Some(to) => {
                self.pass(to);
                self.filling = Some((number, [0, 0]));
            }
            None => {
                self.close();
                self.filling = Some((number, [0, 0]));
                self.open(section);
            }
        }
    }

    /// The spot of the next pocket of the last page.
    fn spot(&mut self, is_left: bool) -> SectionPocket {
        let (section, counts) = self.filling.get_or_insert((0, [0, 0]));
        let count = &mut counts[usize::from(is_left)];
        *count += 1;
        SectionPocket {
            section: *section,
            is_left,
            nth: *count - 1,
        }
    }

    /// The next pocket that the section fills and no hand has; one that is pinned is passed and
    /// gives `None`.
    fn pocket(&mut self, section: &Section, pins: &Pins) -> Option<usize> {
        loop {
            if self
                .pages
                .last()
                .is_none_or(|page| self.next >= page.format().pockets())
            {
                self.open(section);
            }
            let (pocket, is_left) = (self.next, section.leaves(self.next));
            let pinned = self.take(is_left, pins);
            if !is_left {
                return (!pinned).then_some(pocket);
            }
        }
    }

    /// Takes the next pocket of the last page, and puts into it what is pinned there, or leaves it
    /// as the rule says. Tells whether it was pinned.
    fn take(&mut self, is_left: bool, pins: &Pins) -> bool {
        let spot = self.spot(is_left);
        let pocket = self.next;
        self.next += 1;
        let pin = pins.get(&spot);
        if let (Some(page), Some(spots)) = (self.pages.last_mut(), self.spots.last_mut()) {
            spots.push(spot);
            match pin {
                Some(meaning) => page.set_meaning(pocket, meaning.clone()),
                None if is_left => page.set_meaning(pocket, Meaning::Blank),
                None => page.set_meaning(pocket, Meaning::Nothing),
            }
        }
        if pin.is_some() {
            self.met.insert(spot);
        }
        pin.is_some()
    }

    fn open(&mut self, section: &Section) {
        self.pages.push(LayoutPage::empty(section.page));
        self.spots.push(Vec::with_capacity(section.page.pockets()));
        self.next = 0;
    }

    /// The pockets up to `to` stay as they are, and are the section's that fills now.
    fn pass(&mut self, to: usize) {
        while self.next < to {
            let page = self.pages.last();
            let is_left = page.is_some_and(|page| page.meaning(self.next) == Meaning::Blank);
            let spot = self.spot(is_left);
            if let Some(spots) = self.spots.last_mut() {
                spots.push(spot);
            }
            self.next += 1;
        }
    }

    fn rest_of_page(&mut self, section: &Section, pins: &Pins) {
        while self.next < section.page.pockets() {
            self.take(section.leaves(self.next), pins);
        }
    }

    /// Takes the rest of the page as far as something is pinned there; and blanks what the rule
    /// leaves empty, without going past it.
    fn tail(&mut self, section: &Section, pins: &Pins) {
        let Some((number, counts)) = self.filling else {
            return;
        };
        let mut at = counts;
        let mut last = None;
        for pocket in self.next..section.page.pockets() {
            let is_left = section.leaves(pocket);
            let spot = SectionPocket {
                section: number,
                is_left,
                nth: at[usize::from(is_left)],
            };
            at[usize::from(is_left)] += 1;
            if pins.contains_key(&spot) {
                last = Some(pocket);
            }
        }
        if let Some(last) = last {
            while self.next <= last {
                self.take(section.leaves(self.next), pins);
            }
        }
        if let Some(page) = self.pages.last_mut() {
            for pocket in self.next..section.page.pockets() {
                if section.leaves(pocket) {
                    page.set_meaning(pocket, Meaning::Blank);
                }
            }
        }
    }

    /// The rest of the last page is the last section's.
    fn close(&mut self) {
        if let Some(page) = self.pages.last() {
            self.pass(page.format().pockets());
        }
    }
}
