//! The sheet on paper: to be printed, ticked off, and understood without the program.

use super::Ways;
use super::names::Names;
use super::phrase;
use crate::cli::error::CliError;
use crate::cli::output::Output;
use crate::cli::table::{Align, Table};
use crate::cli::words::count;
use crate::plan::{Step, Work, Working};

pub(super) fn tell(
    title: &str,
    names: &Names,
    work: &Work,
    ways: &Ways,
    out: &mut Output,
) -> Result<(), CliError> {
    let paper = Paper {
        names,
        work,
        couples: work.couples(),
    };
    out.line(&format!("Work sheet: {title}"))?;
    if work.steps.is_empty() {
        out.line("")?;
        out.line("Nothing is to be done: what can be in its pocket is.")?;
        return paper.unfilled(out);
    }
    out.line("")?;
    paper.figures(ways, out)?;
    paper.how(out)?;
    paper.ready(out)?;
    match work.working {
        Working::TwoPasses => paper.two_passes(out)?,
        Working::HandToHand => paper.hand_to_hand(out)?,
    }
    paper.ends(out)?;
    paper.unfilled(out)
}

pub(super) struct Paper<'p> {
    pub(super) names: &'p Names,
    pub(super) work: &'p Work,
    pub(super) couples: Vec<Option<usize>>,
}

/// So many pockets that stay empty are named; the list of gaps names all.
const MOST_UNFILLED: usize = 40;

/// So many loose cards are named at the beginning.
const MOST_READY: usize = 20;

const CARD_WORDS: (&str, &str) = ("card", "cards");

pub(super) fn cards(number: usize) -> String {
    count(number as u64, CARD_WORDS.0, CARD_WORDS.1)
}

impl Paper<'_> {
    fn figures(&self, ways: &Ways, out: &mut Output) -> Result<(), CliError> {
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
        let mut table = Table::new(&[
            ("", Align::Left),
            (
                heading(Working::TwoPasses, "two passes", "two passes (this sheet)"),
                Align::Right,
            ),
            (
                heading(
                    Working::HandToHand,
                    "hand to hand",
                    "hand to hand (this sheet)",
                ),
                Align::Right,
            ),
        ]);
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
                table.row([words, &a.to_string(), &b.to_string()]);
            }
        }
        table.print(out)?;
        if self.work.figures.lifts == 0 {
            return Ok(());
        }
        out.line("")?;
        let figures = &self.work.figures;
        let moves = match (figures.page_moves, figures.page_moves_proven_least) {
            (0, _) => "",
            (_, true) => ", and none that takes as few out moves fewer pages",
            (_, false) => {
                ". Whether one that takes as few out could move fewer pages was not found out"
            }
        };
        if ways.way.pages_stay {
            out.line("No plan that leaves each page where it is takes fewer cards out.")?;
        } else {
            out.line(&format!("No plan takes fewer cards out{moves}."))?;
        }
        let Some(other) = ways.pages else {
            return Ok(());
        };
        let lifts = cards(other.lifts);
        let times = count(other.handlings as u64, "time", "times");
        let moved = count(other.page_moves as u64, "page", "pages");
        out.line(&if ways.way.pages_stay {
            format!("With {moved} moved: {lifts} out, and a card is picked up {times}.")
        } else {
            format!("With --pages-stay no page moves: {lifts} out, a card is picked up {times}.")
        })
    }

    fn how(&self, out: &mut Output) -> Result<(), CliError> {
        out.line("")?;
        out.line("How to go about it")?;
        let mut lines = match self.work.working {
            Working::TwoPasses => vec![
                "Go through the parts in order, line by line, and tick each line off.",
                "What you take out lies on the table until a line says where it goes.",
            ],
            Working::HandToHand => vec![
                "Go line by line, and tick each line off. A card goes straight to the pocket that",
                "the line names, which is empty by then. At most one card lies aside.",
            ],
        };
        lines.extend([
            "You can stop after any line and go on another day.",
            "Pages are counted from the front, as the binder stands when you come to the line.",
            "A page that was moved, added or taken out changes the numbers of those behind it.",
            "The front of a page is the side with the rings at its left; turn it over for the back.",
            "Rows are counted from the top, pockets from the left of the side you look at.",
            "In the small picture of a page a number is that of a line below it, not of a card;",
            "a dot is a pocket that you leave alone.",
        ]);
        if self.work.figures.extra_touches > 0 {
            lines.push(
                "Where front and back share a pocket, hold the card in front while you reach past it.",
            );
        }
        for line in lines {
            out.line(&format!("  {line}"))?;
        }
        Ok(())
    }

    /// Loose cards that are put in.
    fn ready(&self, out: &mut Output) -> Result<(), CliError> {
        let steps = self.work.steps.iter().zip(&self.couples);
        let loose = steps.filter_map(|(step, couple)| match step {
            Step::Seat { card, .. } if couple.is_none() => Some(*card),
            _ => None,
        });
        let loose_cards = loose.clone().count();
        let words = phrase::cards(self.names, loose);
        if words.is_empty() {
            return Ok(());
        }
        out.line("")?;
        // More are found more easily line by line.
        if loose_cards > MOST_READY {
            return out.line(&format!(
                "Have ready, from the loose cards, the {loose_cards} that the lines name."
            ));
        }
        out.line(&format!("Have ready, from the loose cards: {words}."))
    }

    /// What lies on the table at the end.
    fn ends(&self, out: &mut Output) -> Result<(), CliError> {
        let steps = self.work.steps.iter().zip(&self.couples);
        let left = steps.filter_map(|(step, couple)| match step {
            Step::Lift { card, .. } if couple.is_none() => Some(*card),
            _ => None,
        });
        let words = phrase::cards(self.names, left);
        out.line("")?;
        if words.is_empty() {
            return out.line("That is all.");
        }
        out.line(&format!(
            "That is all. Left on the table, for the loose cards: {words}."
        ))
    }

    fn unfilled(&self, out: &mut Output) -> Result<(), CliError> {
        if self.work.unfilled.is_empty() {
            return Ok(());
        }
        out.line("")?;
        out.line("These pockets stay empty, for no copy is left for them:")?;
        for gap in self.work.unfilled.iter().take(MOST_UNFILLED) {
            let grid = self.names.layout(gap.at);
            let page = phrase::page(self.names, gap.at);
            out.line(&format!(
                "  {page}, {}: {}",
                crate::plan::pocket_words(grid, gap.pocket),
                self.names.printing(gap.card)
            ))?;
        }
        let more = self.work.unfilled.len().saturating_sub(MOST_UNFILLED);
        if more > 0 {
            out.line(&format!("  and {more} more"))?;
        }
        Ok(())
    }
}
