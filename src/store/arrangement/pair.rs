//! Two arrangements, before and after, as one task for the planner.

use std::collections::{HashMap, HashSet};

use super::Remark;
use super::read::{Arrangement, Binder, Page};
use crate::plan::task::{self, Card, NONE, Task};

/// A task, and what the files call its binders, pages and printings.
#[derive(Clone, Debug)]
pub struct Paired {
    pub task: Task,
    pub binders: Vec<String>,
    /// The pages before, in the order of the task; pages that are added follow.
    pub pages: Vec<String>,
    printings: Vec<String>,
    taken: HashSet<String>,
    next_new: usize,
}

/// Which of the two files.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    Before,
    After,
}

/// Why two arrangements do not go together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    pub which: Which,
    pub remark: Remark,
}

impl Paired {
    /// The printing that the task calls by this number.
    #[must_use]
    pub fn printing(&self, card: Card) -> &str {
        let at = (card as usize).checked_sub(1);
        at.and_then(|at| self.printings.get(at))
            .map_or("", String::as_str)
    }

    /// Gives the next added page an id that no page has.
    pub fn add_page(&mut self) {
        loop {
            self.next_new += 1;
            let id = format!("new{}", self.next_new);
            if self.taken.insert(id.clone()) {
                self.pages.push(id);
                return;
            }
        }
    }
}

/// Puts the two together: binders by their id, in the order before; those that are only after
/// follow, and are empty before.
///
/// # Errors
/// A binder with fixed pages that would have to get other pages.
pub fn pair(before: &Arrangement, after: &Arrangement) -> Result<Paired, Wrong> {
    let mut names = Names::default();
    let mut paired = Paired {
        task: Task::default(),
        binders: Vec::new(),
        pages: Vec::new(),
        printings: Vec::new(),
        taken: HashSet::new(),
        next_new: 0,
    };
    let by_id: HashMap<&str, &Binder> = (after.binders.iter())
        .map(|binder| (binder.id.as_str(), binder))
        .collect();
    let mut known = HashSet::new();
    for binder in &before.binders {
        known.insert(binder.id.as_str());
        let meant = by_id.get(binder.id.as_str()).copied();
        ensure_fits(binder, meant)?;
        for page in &binder.pages {
            paired.pages.push(page.id.clone());
            paired.taken.insert(page.id.clone());
        }
        let meant = meant.map_or(&[][..], |meant| &meant.pages);
        paired.add(
            &mut names,
            &binder.id,
            binder.pages_move,
            [&binder.pages, meant],
        );
    }
    for binder in &after.binders {
        if known.contains(binder.id.as_str()) {
            continue;
        }
        if !binder.pages_move && !binder.pages.is_empty() {
            return Err(wrong(
                Which::After,
                binder,
                "has fixed pages and is not there before; put it there too, with its pages empty",
            ));
        }
        paired.add(
            &mut names,
            &binder.id,
            binder.pages_move,
            [&[], &binder.pages],
        );
    }
    let loose: Vec<Card> = (before.loose.iter())
        .map(|name| names.number(name))
        .collect();
    paired.task.loose = vec![0; names.all.len() + 1];
    for card in loose {
        paired.task.loose[card as usize] += 1;
    }
    paired.printings = names.all;
    Ok(paired)
}

impl Paired {
    fn add(&mut self, names: &mut Names, id: &str, pages_move: bool, pages: [&[Page]; 2]) {
        let [before, after] = pages.map(|pages| {
            let pages = pages.iter().map(|page| task::Page {
                grid: page.grid,
                pockets: (page.pockets.iter())
                    .map(|card| card.as_deref().map_or(NONE, |card| names.number(card)))
                    .collect(),
            });
            pages.collect()
        });
        self.binders.push(id.into());
        self.task.binders.push(task::Binder {
            pages: task::Pages::rings(pages_move),
            before,
            after,
        });
    }
}

/// Fixed pages stay what and where they are.
fn ensure_fits(before: &Binder, after: Option<&Binder>) -> Result<(), Wrong> {
    let Some(after) = after else {
        if before.pages_move || before.pages.is_empty() {
            return Ok(());
        }
        let what = "has fixed pages, which cannot be taken out, and is not there afterwards";
        return Err(wrong(Which::Before, before, what));
    };
    if before.pages_move != after.pages_move {
        let what = if before.pages_move {
            "has fixed pages, but before its pages move; say the same in both files"
        } else {
            "has pages that move, but before they are fixed; say the same in both files"
        };
        return Err(wrong(Which::After, after, what));
    }
    if before.pages_move {
        return Ok(());
    }
    if before.pages.len() != after.pages.len() {
        let what = format!(
            "has fixed pages: {} of them before, so it cannot have {}",
            before.pages.len(),
            after.pages.len()
        );
        return Err(wrong(Which::After, after, &what));
    }
    let both = before.pages.iter().zip(&after.pages);
    for (number, (real, meant)) in (1..).zip(both) {
        if real.grid != meant.grid {
            return Err(Wrong {
                which: Which::After,
                remark: Remark {
                    at: meant.at,
                    what: format!(
                        "page {number} of binder “{}” is fixed, so it must have the rows, \
                         columns, sides and sharing that it has before",
                        after.id
                    ),
                },
            });
        }
    }
    Ok(())
}

fn wrong(which: Which, binder: &Binder, what: &str) -> Wrong {
    Wrong {
        which,
        remark: Remark {
            at: binder.at,
            what: format!("binder “{}” {what}", binder.id),
        },
    }
}

/// Numbers for printings, from 1.
#[derive(Default)]
struct Names {
    number: HashMap<String, Card>,
    all: Vec<String>,
}

impl Names {
    fn number(&mut self, name: &str) -> Card {
        if let Some(number) = self.number.get(name) {
            return *number;
        }
        self.all.push(name.into());
        let number = self.all.len() as Card;
        self.number.insert(name.into(), number);
        number
    }
}
