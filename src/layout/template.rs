//! Sections to begin from: the usual ways to lay a set out, in plain words.

use super::pick::is_oversize;
use super::section::{Begin, Order, Pick, Room, Section, Size, What};
use super::words::default_format;
use crate::model::{Binder, Card, Collection, LayoutPage, Page, PageFormat, Rules, Set};
use crate::text;

/// A list of sections to begin from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Template {
    pub name: Box<str>,
    /// The collector's own, not one of those given.
    pub is_own: bool,
    pub rules: Rules,
}

/// What a binder can begin from: the usual ways as far as they make sense for its set, then the
/// collector's own.
#[must_use]
pub fn templates(collection: &Collection, binder: &Binder) -> Vec<Template> {
    let set = binder.spec().set.and_then(|set| collection.set(set));
    let page = usual_page(binder);
    let mut all: Vec<_> = set.map_or_else(Vec::new, |set| usual(set, page));
    all.extend(collection.templates().map(|(name, rules)| Template {
        name: name.into(),
        is_own: true,
        rules: rules.clone(),
    }));
    all
}

/// The template of this name, in any case; else the only one that begins so.
#[must_use]
pub fn template_by_name<'t>(all: &'t [Template], name: &str) -> Option<&'t Template> {
    let folded = name.to_lowercase();
    let exact = all
        .iter()
        .rev()
        .find(|one| one.name.to_lowercase() == folded);
    exact.or_else(|| {
        let begins = |one: &&Template| one.name.to_lowercase().starts_with(&folded);
        let mut found = all.iter().filter(begins);
        found.next().filter(|_| found.next().is_none())
    })
}

/// The page format that the binder has: that of its first page.
#[must_use]
pub fn usual_page(binder: &Binder) -> PageFormat {
    let real = binder.pages().first().map(Page::format);
    let meant = binder.layout().pages.first().map(LayoutPage::format);
    real.or(meant).unwrap_or_else(default_format)
}

fn usual(set: &Set, page: PageFormat) -> Vec<Template> {
    let parts = Parts::of(set, page);
    let mut all = Vec::new();
    let mut add = |name: &str, sections: Vec<Section>| {
        let rules = sections.iter().map(|section| section.to_string().into());
        all.push(Template {
            name: name.into(),
            is_own: false,
            rules: rules.collect(),
        });
    };
    let further = parts.has_further();
    let named = |with: &'static str, without: &'static str| if further { with } else { without };
    let plain = || parts.with(vec![parts.regulars(Pick::default())]);
    add(
        named("Regulars, then reverses", "All cards by number"),
        plain(),
    );
    if !parts.rares.is_empty() {
        let front = || parts.with(vec![parts.rares(), parts.regulars(rest())]);
        add(
            named("Rares in front, reverses behind", "Rares in front"),
            front(),
        );
        let mut all = front();
        all.extend(parts.keepsakes());
        add(
            named(
                "Rares in front; pack art, packaging behind",
                "Rares in front; pack art, packaging last",
            ),
            all,
        );
        let others = parts.regulars(Pick {
            rarities: parts.rares.clone(),
            but: true,
            ..Pick::default()
        });
        let behind = parts.with(vec![others, parts.rares()]);
        add(named("Rares behind, then reverses", "Rares behind"), behind);
        let by_rarity = parts.regulars(Pick {
            by: Order::Rarity,
            ..Pick::default()
        });
        add(
            named("By rarity, then reverses", "By rarity"),
            parts.with(vec![by_rarity]),
        );
    }
    if further {
        let mut pairs = parts.cards("Cards", Pick::default());
        if let What::Cards(pick) = &mut pairs.what {
            pick.together = true;
        }
        add(
            "Regular and reverse side by side",
            parts.with_oversize(vec![pairs]),
        );
        let mut flowing = plain();
        for section in flowing.iter_mut().skip(1) {
            if section.page == page {
                section.begin = Begin::On;
            }
        }
        add("Reverses flowing on behind regulars", flowing);
    }
    let mut roomy = plain();
    for section in &mut roomy {
        section.room = Room::Pages(1);
    }
    add("With a page of room behind each run", roomy);
    if page.sides == 2 {
        let mut fronts = plain();
        for section in &mut fronts {
            section.fronts_only = true;
        }
        add("Fronts only, backs left empty", fronts);
    }
    let mut keepsakes = plain();
    keepsakes.extend(parts.keepsakes());
    add("Pack art and packaging behind the cards", keepsakes);
    all
}

fn rest() -> Pick {
    Pick {
        rest: true,
        ..Pick::default()
    }
}

struct Parts<'s> {
    set: &'s Set,
    page: PageFormat,
    rares: Vec<Box<str>>,
    has_oversize: bool,
}

impl<'s> Parts<'s> {
    fn of(set: &'s Set, page: PageFormat) -> Self {
        Self {
            set,
            page,
            rares: rares(set),
            has_oversize: set.cards().iter().any(is_oversize),
        }
    }

    fn has_further(&self) -> bool {
        self.set.finishes().len() > 1
    }

    fn cards(&self, name: &str, mut pick: Pick) -> Section {
        if self.has_oversize {
            pick.size = Size::Usual;
        }
        Section::of_cards(name, self.page, pick)
    }

    fn regulars(&self, mut pick: Pick) -> Section {
        if self.has_further() {
            pick.finishes = vec!["main".into()];
        }
        self.cards(
            if self.has_further() {
                "Regulars"
            } else {
                "Cards"
            },
            pick,
        )
    }

    fn rares(&self) -> Section {
        let mut pick = Pick {
            rarities: self.rares.clone(),
            by: Order::Rarity,
            ..Pick::default()
        };
        if self.has_further() {
            pick.finishes = vec!["main".into()];
        }
        self.cards("Rares", pick)
    }

    /// The further finishes behind these, and what is oversize.
    fn with(&self, mut sections: Vec<Section>) -> Vec<Section> {
        let further = self.set.finishes().iter().skip(1);
        let many = self.set.finishes().len() > 2;
        if many {
            for finish in further {
                let pick = Pick {
                    finishes: vec![finish.name.clone()],
                    ..Pick::default()
                };
                sections.push(self.cards(&text::sentence(&finish.name), pick));
            }
        } else if self.has_further() {
            let pick = Pick {
                finishes: vec!["others".into()],
                ..Pick::default()
            };
            sections.push(self.cards("Reverses", pick));
        }
        self.with_oversize(sections)
    }

    fn with_oversize(&self, mut sections: Vec<Section>) -> Vec<Section> {
        if self.has_oversize {
            let pick = Pick {
                size: Size::Oversize,
                ..Pick::default()
            };
            let page = PageFormat::new(1, 1, 2);
            sections.push(Section::of_cards("Oversize", page, pick));
        }
        sections
    }

    /// Pack art on pages of four, and packaging, which is taller than a pocket, on pages of three
    /// one above the other whose top pocket stays empty.
    fn keepsakes(&self) -> Vec<Section> {
        let of = |name: &str, words: &str, many, rows, columns| {
            let what = What::Keepsakes(vec![(many, words.into())]);
            Section::new(name, PageFormat::new(rows, columns, 2), what)
        };
        let art = of("Pack art", "pack art", 4, 2, 2);
        let mut packaging = of("Packaging", "packaging", 2, 3, 1);
        packaging.top_empty = true;
        vec![art, packaging]
    }
}

/// The rarities that go in front: those called rare, else the one with the fewest cards.
fn rares(set: &Set) -> Vec<Box<str>> {
    let is_rare = |name: &str| {
        let name = name.to_lowercase();
        let mut words = name.split(|c: char| !c.is_alphanumeric());
        words.any(|word| word == "rare")
    };
    let named = set.rarities().iter().filter(|name| is_rare(name));
    let named: Vec<Box<str>> = named.map(|name| shown(name)).collect();
    if !named.is_empty() || set.rarities().len() < 2 {
        return named;
    }
    let count = |at: usize| {
        let of = |card: &&Card| card.rarity.map(usize::from) == Some(at);
        set.cards().iter().filter(of).count()
    };
    let fewest = (0..set.rarities().len())
        .filter(|at| count(*at) > 0)
        .min_by_key(|at| count(*at));
    fewest
        .map(|at| shown(&set.rarities()[at]))
        .into_iter()
        .collect()
}

/// As a section can say it: a rule is one line, and a name from a file may hold anything.
fn shown(name: &str) -> Box<str> {
    text::safe(name).into()
}
