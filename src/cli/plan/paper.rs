//! The sheet on paper: to be printed, ticked off, and understood without the program.

use super::names::Names;
use super::phrase;
use crate::cli::error::CliError;
use crate::cli::output::Output;
use crate::cli::table::{Align, Table};
use crate::cli::words::count;
use crate::plan::task::Grid;
use crate::plan::{At, PageNumber, Step, Work, Working, row_words, side_words};

pub(super) fn tell(
    title: &str,
    names: &Names,
    work: &Work,
    other: &Work,
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
    paper.figures(other, out)?;
    paper.how(out)?;
    paper.ready(out)?;
    match work.working {
        Working::TwoPasses => paper.two_passes(out)?,
        Working::HandToHand => paper.hand_to_hand(out)?,
    }
    paper.ends(out)?;
    paper.unfilled(out)
}

struct Paper<'p> {
    names: &'p Names,
    work: &'p Work,
    couples: Vec<Option<usize>>,
}

const CARD_WORDS: (&str, &str) = ("card", "cards");

fn cards(number: usize) -> String {
    count(number as u64, CARD_WORDS.0, CARD_WORDS.1)
}

impl Paper<'_> {
    fn figures(&self, other: &Work, out: &mut Output) -> Result<(), CliError> {
        let both = if self.work.working == Working::TwoPasses {
            [self.work, other]
        } else {
            [other, self.work]
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
        let [passes, hands] = both.map(|work| work.figures);
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
        out.line("")?;
        out.line("No plan takes fewer cards out.")?;
        if self.work.figures.page_moves > 0 {
            out.line(if self.work.figures.page_moves_proven_least {
                "None that takes as few out moves fewer pages."
            } else {
                "Whether one that takes as few out could move fewer pages was not found out."
            })?;
        }
        Ok(())
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
            "Rows are counted from the top, pockets from the left of the side you look at.",
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
        let words = phrase::cards(self.names, loose);
        if words.is_empty() {
            return Ok(());
        }
        out.line("")?;
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
            return out.line("That is all. Nothing that you took out is left on the table.");
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
        for gap in &self.work.unfilled {
            let grid = self.names.layout(gap.at);
            let page = phrase::page(self.names, gap.at);
            out.line(&format!(
                "  {page}, {}: {}",
                crate::plan::pocket_words(grid, gap.pocket),
                self.names.printing(gap.card)
            ))?;
        }
        Ok(())
    }

    fn two_passes(&self, out: &mut Output) -> Result<(), CliError> {
        let part = |step: &Step| match step {
            Step::Lift { .. } => 0,
            Step::Seat { .. } => 2,
            _ => 1,
        };
        let titles = ["Take out", "Put the pages in order", "Put in"];
        let mut parts = 0;
        let mut table = 0;
        let mut from = 0;
        for chunk in self.work.steps.chunk_by(|a, b| part(a) == part(b)) {
            parts += 1;
            let title = titles[part(&chunk[0])];
            out.line("")?;
            out.line(&format!("Part {parts}: {title}"))?;
            match part(&chunk[0]) {
                1 => {
                    out.line("")?;
                    for (number, step) in (from + 1..).zip(chunk) {
                        self.page_line(number, step, out)?;
                    }
                }
                _ => self.sides(from, chunk, out)?,
            }
            from += chunk.len();
            if matches!(chunk[0], Step::Lift { .. }) {
                table = chunk.len();
                out.line("")?;
                out.line(&format!("Check: you have taken out {} now.", cards(table)))?;
            } else if matches!(chunk[0], Step::Seat { .. }) && table > 0 {
                let left = (0..table).filter(|at| self.couples[*at].is_none()).count();
                out.line("")?;
                out.line(&format!(
                    "Check: of those that you took out {} left on the table.",
                    match left {
                        0 => "none is".into(),
                        1 => "1 card is".into(),
                        left => format!("{left} cards are"),
                    }
                ))?;
            }
        }
        Ok(())
    }

    /// Lifts or seats, the side of a page together, with a picture of the side in which the
    /// numbers of the lines stand where the pockets are.
    fn sides(&self, from: usize, steps: &[Step], out: &mut Output) -> Result<(), CliError> {
        let side = |step: &Step| {
            spot(step).map(|(page, _, pocket, _)| (page, self.names.grid(page).is_front(pocket)))
        };
        let mut next = from;
        for chunk in steps.chunk_by(|a, b| side(a) == side(b)) {
            let Some((page, at, first, _)) = chunk.first().and_then(spot) else {
                continue;
            };
            let grid = self.names.grid(page);
            let mut heading = phrase::page(self.names, at);
            let words = side_words(grid, first);
            if !words.is_empty() {
                heading = format!("{heading}, {words}");
            }
            out.line("")?;
            out.line(&format!("  {}", upper(&heading)))?;
            for line in picture(grid, next + 1, chunk) {
                out.line(&format!("      {line}"))?;
            }
            for step in chunk {
                next += 1;
                if let Some((page, _, pocket, card)) = spot(step) {
                    let card = self.names.printing(card);
                    let pocket = row_words(self.names.grid(page), pocket);
                    let note = self.note(next - 1);
                    out.line(&format!("  [ ] {next:>3}  {pocket}: {card}{note}"))?;
                }
            }
        }
        Ok(())
    }

    /// What is unusual about a card of two passes.
    fn note(&self, step: usize) -> &'static str {
        match (self.work.steps[step], self.couples[step]) {
            (Step::Lift { .. }, None) => " (goes to the loose cards)",
            (Step::Seat { .. }, None) => " (from the loose cards)",
            _ => "",
        }
    }

    fn hand_to_hand(&self, out: &mut Output) -> Result<(), CliError> {
        out.line("")?;
        let mut at = 0;
        for (number, deed) in (1..).zip(self.work.deeds()) {
            let place = |step: &Step| {
                spot(step).map_or_else(String::new, |(page, at, pocket, _)| {
                    phrase::place(self.names, page, at, pocket)
                })
            };
            let card = |step: &Step| spot(step).map_or("", |spot| self.names.printing(spot.3));
            match deed {
                [from, to] => self.line(
                    number,
                    &format!("{}: from {} to {}.", card(from), place(from), place(to)),
                    out,
                )?,
                [only @ Step::Lift { .. }] => {
                    let then = match self.couples[at] {
                        Some(_) => "and lay it aside; it has its turn soon",
                        None => "for the loose cards",
                    };
                    let words = format!("{}: out of {}, {then}.", card(only), place(only));
                    self.line(number, &words, out)?;
                }
                [only @ Step::Seat { .. }] => {
                    let which = match self.couples[at] {
                        Some(_) => "the one laid aside",
                        None => "from the loose cards",
                    };
                    let words = format!("{}, {which}: into {}.", card(only), place(only));
                    self.line(number, &words, out)?;
                }
                deed => {
                    for step in deed {
                        self.page_line(number, step, out)?;
                    }
                }
            }
            at += deed.len();
        }
        Ok(())
    }

    fn page_line(&self, number: usize, step: &Step, out: &mut Output) -> Result<(), CliError> {
        let words = match *step {
            Step::MovePage { from, to, .. } => phrase::move_page(self.names, from, to),
            Step::AddPage { to, grid, .. } => phrase::add_page(self.names, to, grid),
            Step::RemovePage { from, .. } => phrase::remove_page(self.names, from),
            Step::Lift { .. } | Step::Seat { .. } => return Ok(()),
        };
        self.line(number, &words, out)
    }

    fn line(&self, number: usize, words: &str, out: &mut Output) -> Result<(), CliError> {
        out.line(&format!("  [ ] {number:>3}  {words}"))
    }
}

fn spot(step: &Step) -> Option<(PageNumber, At, usize, u32)> {
    match *step {
        Step::Lift {
            page,
            at,
            pocket,
            card,
        }
        | Step::Seat {
            page,
            at,
            pocket,
            card,
        } => Some((page, at, pocket, card)),
        _ => None,
    }
}

/// The side as a grid, with the number of each line where its pocket is.
fn picture(grid: Grid, first: usize, steps: &[Step]) -> Vec<String> {
    let mut cells = vec![String::from("."); grid.per_side()];
    for (number, step) in (first..).zip(steps) {
        if let Some((_, _, pocket, _)) = spot(step) {
            cells[pocket % grid.per_side()] = number.to_string();
        }
    }
    let width = cells.iter().map(String::len).max().unwrap_or(1);
    let rows = cells.chunks(usize::from(grid.columns).max(1));
    rows.map(|row| {
        let cells: Vec<_> = row.iter().map(|cell| format!("{cell:>width$}")).collect();
        format!("| {} |", cells.join(" | "))
    })
    .collect()
}

fn upper(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) if words.starts_with("page") => {
            first.to_uppercase().collect::<String>() + letters.as_str()
        }
        _ => words.into(),
    }
}
