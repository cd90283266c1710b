//! The lines to tick off.

use super::{Paper, cards, phrase};
use crate::paper::listing::{Block, Listing, Tick};
use crate::plan::task::Grid;
use crate::plan::{At, PageNumber, WorkStep, pocket_at};
use crate::text::count;
use crate::text::sentence;

impl Paper<'_> {
    pub(super) fn two_passes(&self, out: &mut Listing) {
        let part = |step: &WorkStep| match step {
            WorkStep::Lift { .. } => 0,
            WorkStep::Seat { .. } => 2,
            _ => 1,
        };
        let title = |chunk: &[WorkStep]| match part(&chunk[0]) {
            0 => "Take out",
            1 => pages_title(chunk),
            _ => "Put in",
        };
        let mut parts = 0;
        let mut table = 0;
        let mut from = 0;
        for chunk in self.work.steps.chunk_by(|a, b| part(a) == part(b)) {
            parts += 1;
            let title = title(chunk);
            out.heading(format!("Part {parts}: {title}"));
            match part(&chunk[0]) {
                1 => {
                    let ticks = (from + 1..).zip(chunk);
                    let ticks = ticks.map(|(number, step)| self.page_tick(number, step));
                    out.blocks.push(Block::Ticks(ticks.collect()));
                }
                _ => self.sides(from, chunk, out),
            }
            from += chunk.len();
            if matches!(chunk[0], WorkStep::Lift { .. }) {
                table = chunk.len();
                out.words(format!("Check: you have taken out {} now.", cards(table)));
            } else if matches!(chunk[0], WorkStep::Seat { .. }) && table > 0 {
                let left = (0..table).filter(|at| self.couples[*at].is_none()).count();
                out.words(format!(
                    "Check: of those that you took out {} left on the table.",
                    match left {
                        0 => "none is".into(),
                        left => count(left as u64, "card is", "cards are"),
                    }
                ));
            }
        }
    }

    /// Lifts or seats, the side of a page together, with a picture of the side in which the
    /// numbers of the lines stand where the pockets are.
    fn sides(&self, from: usize, steps: &[WorkStep], out: &mut Listing) {
        let side = |step: &WorkStep| {
            spot(step).map(|(page, _, pocket, _)| (page, self.names.grid(page).is_front(pocket)))
        };
        let mut next = from;
        for chunk in steps.chunk_by(|a, b| side(a) == side(b)) {
            let Some((page, at, first, _)) = chunk.first().and_then(spot) else {
                continue;
            };
            let grid = self.names.grid(page);
            let side = pocket_at(grid, first).side;
            let heading = format!("{}, {side}", phrase::page(self.names, at));
            out.blocks.push(Block::Subheading(upper(&heading)));
            out.blocks.push(Block::Grid(picture(grid, next + 1, chunk)));
            let mut ticks = Vec::new();
            for step in chunk {
                next += 1;
                if let Some((page, _, pocket, card)) = spot(step) {
                    let card = self.names.printing(card);
                    let pocket = pocket_at(self.names.grid(page), pocket).row_words();
                    let note = self.note(next - 1);
                    ticks.push(tick(next, format!("{pocket}: {card}{note}")));
                }
            }
            out.blocks.push(Block::Ticks(ticks));
        }
    }

    /// What is unusual about a card of two passes.
    fn note(&self, step: usize) -> String {
        let front = self.work.in_front.iter().find(|(at, _)| *at == step);
        let behind = front.map_or_else(String::new, |(_, card)| {
            format!(
                " (behind {}: that comes out first, and goes back)",
                self.names.printing(*card)
            )
        });
        let note = match (self.work.steps[step], self.couples[step]) {
            (WorkStep::Lift { .. }, None) => " (goes to the loose cards)",
            (WorkStep::Seat { .. }, None) => " (from the loose cards)",
            _ => "",
        };
        format!("{note}{behind}")
    }

    pub(super) fn hand_to_hand(&self, out: &mut Listing) {
        let mut ticks = Vec::new();
        let mut at = 0;
        for (number, deed) in (1..).zip(self.work.deeds()) {
            let place = |step: &WorkStep| {
                spot(step).map_or_else(String::new, |(page, at, pocket, _)| {
                    phrase::place(self.names, page, at, pocket)
                })
            };
            let card = |step: &WorkStep| spot(step).map_or("", |spot| self.names.printing(spot.3));
            match deed {
                [from, to] => ticks.push(tick(
                    number,
                    format!("{}: from {} to {}.", card(from), place(from), place(to)),
                )),
                [only @ WorkStep::Lift { .. }] => {
                    let then = match self.couples[at] {
                        Some(_) => "and lay it aside; it has its turn soon",
                        None => "for the loose cards",
                    };
                    let words = format!("{}: out of {}, {then}.", card(only), place(only));
                    ticks.push(tick(number, words));
                }
                [only @ WorkStep::Seat { .. }] => {
                    let which = match self.couples[at] {
                        Some(_) => "the one laid aside",
                        None => "from the loose cards",
                    };
                    let words = format!("{}, {which}: into {}.", card(only), place(only));
                    ticks.push(tick(number, words));
                }
                deed => {
                    let lines = deed.iter().map(|step| self.page_tick(number, step));
                    ticks.extend(lines);
                }
            }
            at += deed.len();
        }
        out.blocks.push(Block::Ticks(ticks));
    }

    fn page_tick(&self, number: usize, step: &WorkStep) -> Tick {
        let words = match *step {
            WorkStep::MovePage { from, to, .. } => phrase::move_page(self.names, from, to),
            WorkStep::AddPage { to, grid, .. } => phrase::add_page(self.names, to, grid),
            WorkStep::RemovePage { from, .. } => phrase::remove_page(self.names, from),
            WorkStep::Lift { .. } | WorkStep::Seat { .. } => String::new(),
        };
        tick(number, words)
    }
}

fn tick(number: usize, words: String) -> Tick {
    Tick {
        number: Some(number),
        words,
    }
}

fn spot(step: &WorkStep) -> Option<(PageNumber, At, usize, u32)> {
    match *step {
        WorkStep::Lift {
            page,
            at,
            pocket,
            card,
        }
        | WorkStep::Seat {
            page,
            at,
            pocket,
            card,
        } => Some((page, at, pocket, card)),
        _ => None,
    }
}

/// The side as a grid, with the number of each line where its pocket is.
fn picture(grid: Grid, first: usize, steps: &[WorkStep]) -> Vec<Vec<String>> {
    let mut cells = vec![String::from("."); grid.per_side()];
    for (number, step) in (first..).zip(steps) {
        if let Some((_, _, pocket, _)) = spot(step) {
            cells[pocket % grid.per_side()] = number.to_string();
        }
    }
    let rows = cells.chunks(usize::from(grid.columns).max(1));
    rows.map(<[String]>::to_vec).collect()
}

fn upper(words: &str) -> String {
    if words.starts_with("page") {
        sentence(words)
    } else {
        words.into()
    }
}

/// What is done to the pages, in a heading.
fn pages_title(steps: &[WorkStep]) -> &'static str {
    let any = |is: fn(&WorkStep) -> bool| steps.iter().any(is);
    let moves = any(|step| matches!(step, WorkStep::MovePage { .. }));
    let adds = any(|step| matches!(step, WorkStep::AddPage { .. }));
    let removes = any(|step| matches!(step, WorkStep::RemovePage { .. }));
    match (moves, adds, removes) {
        (false, true, false) => "Put in new pages",
        (false, false, true) => "Take out empty pages",
        (false, _, _) => "Pages in and out",
        (true, _, _) => "Put the pages in order",
    }
}
