//! The work sheet on paper: to be printed, ticked off, and understood without the program.

mod lines;
mod names;
mod phrase;

pub use names::{Names, ReadBy};

use super::listing::{Align, Block, Listing, Table};
use crate::model::{Binder, Collection};
use crate::plan::{Figures, Target, Way, Work, WorkStep, Working, sheet};
use crate::text::count;

/// The sheet for a plan, with the figures of the other ways beside.
#[must_use]
pub fn work_sheet(title: &str, names: &Names, work: &Work, ways: &Ways) -> Listing {
    let paper = Paper {
        names,
        work,
        couples: work.couples(),
    };
    let mut out = Listing::new(format!("Work sheet: {title}"));
    if work.steps.is_empty() {
        out.words("Nothing is to be done: what can be in its pocket is.");
    } else {
        paper.figures(ways, &mut out);
        paper.how(&mut out);
        paper.ready(&mut out);
        match work.working {
            Working::TwoPasses => paper.two_passes(&mut out),
            Working::HandToHand => paper.hand_to_hand(&mut out),
        }
        paper.ends(&mut out);
    }
    paper.unfilled(&mut out);
    out
}

/// What the other ways of going about it come to.
#[derive(Clone, Copy, Debug)]
pub struct Ways {
    way: Way,
    /// The other way of working.
    other: Figures,
    /// This way of working, with the pages moved if they stay here, left where they are if not.
    /// Only where it makes a difference.
    pages: Option<Figures>,
}

impl Ways {
    /// `by` does the same work another way.
    pub fn new(work: &Work, way: Way, by: impl Fn(Way) -> Work) -> Self {
        let other = match way.working {
            Working::TwoPasses => Working::HandToHand,
            Working::HandToHand => Working::TwoPasses,
        };
        let pages_matter = way.pages_stay || work.figures.page_moves > 0;
        let pages = || by(Way::new(way.working, !way.pages_stay)).figures;
        Self {
            way,
            other: by(Way::new(other, way.pages_stay)).figures,
            pages: pages_matter
                .then(pages)
                .filter(|figures| *figures != work.figures),
        }
    }
}

/// The sheet for these binders of a collection; `draft` is the name of the draft that the only
/// one is brought to, if it is one.
#[must_use]
pub fn collection_sheet(
    collection: &Collection,
    targets: &[Target<'_>],
    draft: Option<&str>,
    way: Way,
) -> Listing {
    let found = sheet(collection, targets, way);
    let names = Names::of_collection(collection, targets, &found, ReadBy::Person);
    let title = match targets {
        [only] => {
            let binder = collection.binder(only.binder).map_or("", Binder::name);
            let draft = draft.map_or_else(String::new, |name| format!(", draft {name}"));
            format!("binder {binder}{draft}")
        }
        _ => "the whole shelf".into(),
    };
    let ways = Ways::new(&found.work, way, |way| sheet(collection, targets, way).work);
    work_sheet(&title, &names, &found.work, &ways)
}

struct Paper<'p> {
    names: &'p Names,
    work: &'p Work,
    couples: Vec<Option<usize>>,
}

/// So many pockets that stay empty are named; the list of gaps names all.
const MOST_UNFILLED: usize = 40;

/// So many loose cards are named at the beginning.
const MOST_READY: usize = 20;

const CARD_WORDS: (&str, &str) = ("card", "cards");

fn cards(number: usize) -> String {
    count(number as u64, CARD_WORDS.0, CARD_WORDS.1)
}

impl Paper<'_> {
    fn figures(&self, ways: &Ways, out: &mut Listing) {
        let both = if self.work.working == Working::TwoPasses {
            [self.work.figures, ways.other]
        } else {
            [ways.other, self.work.figures]
        };
        let heading = |working: Working, words: &'static str, chosen: &'static str| {
            if self.work.working == working {
                chosen
            } else {
                words
            }
        };
        let passes = heading(Working::TwoPasses, "two passes", "two passes (this sheet)");
        let hands = heading(
            Working::HandToHand,
            "hand to hand",
            "hand to hand (this sheet)",
        );
        let heads = [
            ("", Align::Left),
            (passes, Align::Right),
            (hands, Align::Right),
        ];
        let mut table = Table::new(&heads, false);
        let [passes, hands] = both;
        let rows = [
            ("Cards taken out of a pocket", passes.lifts, hands.lifts),
            ("Cards put into a pocket", passes.seats, hands.seats),
            (
                "Times a card is picked up",
                passes.handlings,
                hands.handlings,
            ),
            (
                "Cards on the table at most, to go back in",
                passes.most_cards_aside,
                hands.most_cards_aside,
            ),
            ("Pages moved", passes.page_moves, hands.page_moves),
            ("Pages added", passes.pages_added, hands.pages_added),
            ("Pages taken out", passes.pages_removed, hands.pages_removed),
            (
                "Times another page is opened",
                passes.page_turns,
                hands.page_turns,
            ),
            (
                "Cards reached past the one in front",
                passes.extra_touches,
                hands.extra_touches,
            ),
        ];
        for (words, a, b) in rows {
            if a + b > 0 {
                table.row([words.to_owned(), a.to_string(), b.to_string()]);
            }
        }
        out.table(table);
        if self.work.figures.lifts == 0 {
            return;
        }
        let figures = &self.work.figures;
        let moves = match (figures.page_moves, figures.page_moves_proven_least) {
            (0, _) => "",
            (_, true) => ", and none that takes as few out moves fewer pages",
            (_, false) => {
                ". Whether one that takes as few out could move fewer pages was not found out"
            }
        };
        let mut words = if ways.way.pages_stay {
            "No plan that leaves each page where it is takes fewer cards out.".to_owned()
        } else {
            format!("No plan takes fewer cards out{moves}.")
        };
        if let Some(other) = ways.pages {
            let lifts = cards(other.lifts);
            let times = count(other.handlings as u64, "time", "times");
            let moved = count(other.page_moves as u64, "page", "pages");
            words.push_str(&if ways.way.pages_stay {
                format!("\nWith {moved} moved: {lifts} out, and a card is picked up {times}.")
            } else {
                format!(
                    "\nWith --pages-stay no page moves: {lifts} out, a card is picked up {times}."
                )
            });
        }
        out.words(words);
    }

    fn how(&self, out: &mut Listing) {
        out.heading("How to go about it");
        let mut lines = match self.work.working {
            Working::TwoPasses => vec![
                "Go through the parts in order, line by line, and tick each line off.",
                "What you take out lies on the table until a line says where it goes.",
            ],
            Working::HandToHand => vec![
                "Go line by line, and tick each line off. A card goes straight to the pocket that \
                 the line names, which is empty by then. At most one card lies aside.",
            ],
        };
        lines.extend([
            "You can stop after any line and go on another day.",
            "Pages are counted from the front, as the binder stands when you come to the line.",
            "A page that was moved, added or taken out changes the numbers of those behind it.",
            "The front of a page is the side with the rings at its left; turn it over for the back.",
            "Rows are counted from the top, pockets from the left of the side you look at.",
            "In the small picture of a page a number is that of a line below it, not of a card; \
             a dot is a pocket that you leave alone.",
        ]);
        if self.work.figures.extra_touches > 0 {
            lines.push(
                "Where front and back share a pocket, hold the card in front while you reach past it.",
            );
        }
        let lines = lines.into_iter().map(Into::into);
        out.blocks.push(Block::Lines(lines.collect()));
    }

    /// Loose cards that are put in.
    fn ready(&self, out: &mut Listing) {
        let steps = self.work.steps.iter().zip(&self.couples);
        let loose = steps.filter_map(|(step, couple)| match step {
            WorkStep::Seat { card, .. } if couple.is_none() => Some(*card),
            _ => None,
        });
        let loose_cards = loose.clone().count();
        let words = phrase::cards(self.names, loose);
        if words.is_empty() {
            return;
        }
        // More are found more easily line by line.
        if loose_cards > MOST_READY {
            return out.words(format!(
                "Have ready, from the loose cards, the {loose_cards} that the lines name."
            ));
        }
        out.words(format!("Have ready, from the loose cards: {words}."));
    }

    /// What lies on the table at the end.
    fn ends(&self, out: &mut Listing) {
        let steps = self.work.steps.iter().zip(&self.couples);
        let left = steps.filter_map(|(step, couple)| match step {
            WorkStep::Lift { card, .. } if couple.is_none() => Some(*card),
            _ => None,
        });
        let words = phrase::cards(self.names, left);
        if words.is_empty() {
            return out.words("That is all.");
        }
        out.words(format!(
            "That is all. Left on the table, for the loose cards: {words}."
        ));
    }

    fn unfilled(&self, out: &mut Listing) {
        if self.work.unfilled.is_empty() {
            return;
        }
        out.words("These pockets stay empty, for no copy is left for them:");
        let told = self.work.unfilled.iter().take(MOST_UNFILLED);
        let mut lines: Vec<String> = told
            .map(|gap| {
                let grid = self.names.layout(gap.at);
                let page = phrase::page(self.names, gap.at);
                let pocket = crate::plan::pocket_words(grid, gap.pocket);
                format!("{page}, {pocket}: {}", self.names.printing(gap.card))
            })
            .collect();
        let more = self.work.unfilled.len().saturating_sub(MOST_UNFILLED);
        if more > 0 {
            lines.push(format!("and {more} more"));
        }
        out.blocks.push(Block::Lines(lines));
    }
}
