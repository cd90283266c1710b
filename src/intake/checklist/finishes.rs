//! The finishes of a set while its checklist comes in, and the marks that new ones get.

use crate::model::{Finish, Set};

/// Names get a number in the order in which they are met. The set will name new ones in the order
/// in which the rows list them, as far as rows agree: `reverse` on the first card and
/// `regular;reverse` on a later one make regular, reverse.
#[derive(Debug)]
pub(super) struct Finishes {
    known: usize,
    names: Vec<Box<str>>,
    folded: Vec<String>,
    /// For each, the bits of those that a row lists before it.
    before: Vec<u64>,
}

impl Finishes {
    pub(super) fn new(set: Option<&Set>) -> Self {
        let names: Vec<Box<str>> = set.map_or_else(Vec::new, |set| {
            set.finishes().iter().map(|f| f.name.clone()).collect()
        });
        Self {
            known: names.len(),
            folded: names.iter().map(|name| name.to_lowercase()).collect(),
            before: vec![0; names.len()],
            names,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.names.len()
    }

    pub(super) fn name(&self, number: usize) -> &str {
        &self.names[number]
    }

    /// How many of the names would be new.
    pub(super) fn unknown(&self, names: &[&str]) -> usize {
        names
            .iter()
            .filter(|name| self.number(name).is_none())
            .count()
    }

    fn number(&self, name: &str) -> Option<usize> {
        let exact = self.names.iter().position(|other| **other == *name);
        exact.or_else(|| {
            let folded = name.to_lowercase();
            self.folded.iter().position(|other| *other == folded)
        })
    }

    /// The names as bits, with new names taken in.
    pub(super) fn bits(&mut self, names: &[&str]) -> u64 {
        let mut bits = 0;
        for name in names {
            let number = self.number(name).unwrap_or_else(|| {
                self.names.push((*name).into());
                self.folded.push(name.to_lowercase());
                self.before.push(0);
                self.names.len() - 1
            });
            self.before[number] |= bits;
            bits |= 1 << number;
        }
        bits
    }

    /// The numbers in the order of the set: known ones first, then always the first met of those
    /// whose forerunners are all placed, or of all where rows contradict each other.
    pub(super) fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.known).collect();
        let mut left: Vec<usize> = (self.known..self.names.len()).collect();
        while !left.is_empty() {
            let waiting = left.iter().fold(0, |bits, number| bits | 1u64 << number);
            let free = left.iter().position(|n| self.before[*n] & waiting == 0);
            order.push(left.remove(free.unwrap_or(0)));
        }
        order
    }

    /// The new ones in their order, each with a mark of its own. `set` is the set as it is kept.
    pub(super) fn fresh(&self, set: Option<&Set>) -> Vec<Finish> {
        let mut all: Vec<Finish> = set.map_or_else(Vec::new, |set| set.finishes().to_vec());
        for number in self.order().split_off(self.known) {
            let name = self.names[number].clone();
            let mark = if all.is_empty() {
                "".into()
            } else {
                mark(&name, &all, &self.folded)
            };
            all.push(Finish { name, mark });
        }
        all.split_off(self.known)
    }
}

/// Bits by number as bits by place in `order`.
pub(super) fn ordered(bits: u64, order: &[usize]) -> u64 {
    let places = (0..).zip(order);
    let there = places.filter(|(_, number)| bits >> **number & 1 == 1);
    there.fold(0, |all, (place, _): (u32, _)| all | 1 << place)
}

/// The shortest beginning of the name, in small letters, that is neither a mark nor a name yet;
/// where all are taken, the first letter with a number.
fn mark(name: &str, others: &[Finish], names: &[String]) -> Box<str> {
    let letters: String = name
        .to_lowercase()
        .chars()
        .filter(|c| c.is_alphanumeric())
        .take(20)
        .collect();
    let free = |mark: &str| {
        let own = name.to_lowercase();
        others.iter().all(|other| *other.mark != *mark)
            && names.iter().all(|other| *other != mark || *other == own)
    };
    let beginnings = letters
        .char_indices()
        .map(|(at, c)| letters[..at + c.len_utf8()].to_owned());
    let stem = letters.chars().next().unwrap_or('f');
    let numbered = (2..).map(|n: u32| format!("{stem}{n}"));
    beginnings
        .chain(numbered)
        .find(|mark| free(mark))
        .unwrap_or_default()
        .into()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(rows: &[&[&str]]) -> Vec<(String, String)> {
        let mut finishes = Finishes::new(None);
        for row in rows {
            finishes.bits(row);
        }
        let fresh = finishes.fresh(None);
        fresh
            .iter()
            .map(|f| (f.name.to_string(), f.mark.to_string()))
            .collect()
    }

    fn pairs(of: &[(&str, &str)]) -> Vec<(String, String)> {
        of.iter().map(|(a, b)| ((*a).into(), (*b).into())).collect()
    }

    #[test]
    fn the_first_finish_has_no_mark_and_the_others_the_shortest_free_beginning() {
        assert_eq!(
            marks(&[&["regular", "Reverse", "rainbow", "re", "½ gold", "***"]]),
            pairs(&[
                ("regular", ""),
                ("Reverse", "r"),
                ("rainbow", "ra"),
                ("re", "re"),
                ("½ gold", "½"),
                ("***", "f2"),
            ])
        );
    }

    #[test]
    fn new_finishes_are_ordered_as_the_rows_list_them() {
        assert_eq!(
            marks(&[
                &["reverse"],
                &["gold"],
                &["regular"],
                &["regular", "reverse"]
            ]),
            pairs(&[("gold", ""), ("regular", "r"), ("reverse", "re")])
        );
        // Rows that contradict each other: the first met first.
        assert_eq!(
            marks(&[&["reverse", "regular"], &["regular", "reverse"]]),
            pairs(&[("reverse", ""), ("regular", "r")])
        );
    }

    #[test]
    fn bits_follow_the_order_of_the_set() {
        let mut finishes = Finishes::new(None);
        let first = finishes.bits(&["reverse"]);
        let second = finishes.bits(&["regular", "Reverse"]);
        let order = finishes.order();
        assert_eq!(ordered(first, &order), 0b10);
        assert_eq!(ordered(second, &order), 0b11);
    }
}
