//! Packs of several cards.

use super::Class;

/// The expected number of packs until at most `left` cards are missing. `None` where that never
/// comes: too many are missing of classes of which no pack has any.
#[must_use]
pub fn packs_until(classes: &[Class], left: usize) -> Option<f64> {
    let (coming, never) = apart(classes);
    let left = left.checked_sub(never)?;
    match coming[..] {
        [] => Some(0.0),
        [class] if class.per_pack.fract() == 0.0 => Some(by_recursion(&class, left)),
        _ => Some(by_sum(&coming, left)),
    }
}

/// The least number of packs after which nothing is missing with at least this chance, which is
/// below 1. `None` where it never comes to that.
#[must_use]
pub fn packs_for_chance(classes: &[Class], chance: f64) -> Option<u32> {
    let (coming, never) = apart(classes);
    if never > 0 || !(0.0..1.0).contains(&chance) {
        return None;
    }
    let mut walks: Vec<Walk> = coming.iter().map(Walk::new).collect();
    for packs in 0..=u32::MAX {
        let complete: f64 = walks.iter().map(|walk| walk.missing[0]).product();
        if complete >= chance {
            return Some(packs);
        }
        walks.iter_mut().for_each(Walk::step);
    }
    None
}

/// The classes of which something is missing that packs bring, and how many cards are missing
/// that they never bring.
fn apart(classes: &[Class]) -> (Vec<Class>, usize) {
    let missing = classes.iter().filter(|class| class.missing > 0);
    let (coming, never): (Vec<Class>, Vec<Class>) =
        missing.copied().partition(|class| class.per_pack > 0.0);
    (coming, never.iter().map(|class| class.missing).sum())
}

/// Chances that a pack of `drawn` different cards out of `cards`, of which `missing` are missing,
/// brings 0, 1, … of these. Card by card, with positive terms only.
fn brings(cards: usize, missing: usize, drawn: usize) -> Vec<f64> {
    let mut chances = vec![0.0; drawn + 1];
    chances[0] = 1.0;
    for at in 0..drawn.min(cards) {
        let lie = (cards - at) as f64;
        for new in (0..=at).rev() {
            let chance = chances[new];
            let wanted = missing.saturating_sub(new);
            let others = (cards - at).saturating_sub(wanted);
            chances[new + 1] += chance * wanted as f64 / lie;
            chances[new] = chance * others as f64 / lie;
        }
    }
    chances
}

fn by_recursion(class: &Class, left: usize) -> f64 {
    let drawn = class.per_pack as usize;
    let mut expected = vec![0.0; class.missing + 1];
    for missing in left + 1..=class.missing {
        let chances = brings(class.cards, missing, drawn);
        let (mut something, mut further) = (0.0, 0.0);
        for (new, chance) in (1..=missing).zip(&chances[1..]) {
            something += chance;
            further += chance * expected[missing - new];
        }
        // Nothing new comes for a while; then something does.
        expected[missing] = (1.0 + further) / something;
    }
    expected[class.missing]
}

/// What is below this is nothing: chances, and what is left of a sum.
const NOTHING: f64 = 1e-15;

fn by_sum(classes: &[Class], left: usize) -> f64 {
    let mut walks: Vec<Walk> = classes.iter().map(Walk::new).collect();
    // At last the chance of not being done shrinks by this factor with every pack, or faster.
    let slowest = classes
        .iter()
        .map(|class| class.per_pack / class.cards as f64);
    let slowest = slowest.fold(1.0, f64::min);
    let mut sum = 0.0;
    loop {
        let open = not_done(&walks, left);
        if open / slowest <= NOTHING * sum || open == 0.0 {
            return sum;
        }
        sum += open;
        walks.iter_mut().for_each(Walk::step);
    }
}

/// The chance that more than `left` cards are missing.
fn not_done(walks: &[Walk], left: usize) -> f64 {
    if left == 0 {
        // Of numbers that may be close to one: without cancelling.
        let logs = walks.iter().map(|walk| {
            let open: f64 = walk.missing[1..].iter().sum();
            (-open.min(1.0)).ln_1p()
        });
        return -logs.sum::<f64>().exp_m1();
    }
    // Chances of 0, 1, … `left` missing over all classes, and of more.
    let (mut few, mut more) = (vec![0.0; left + 1], 0.0);
    few[0] = 1.0;
    for walk in walks {
        let mut both = vec![0.0; left + 1];
        // From behind: the chance that more are missing here than there is room for.
        let reach = (left + 1).min(walk.missing.len());
        let mut beyond: f64 = walk.missing[reach..].iter().sum();
        for (here, chance) in few.iter().enumerate() {
            let room = (left - here).min(walk.missing.len() - 1);
            for (there, other) in walk.missing[..=room].iter().enumerate() {
                both[here + there] += chance * other;
            }
            more += chance * beyond;
            // The next has one place less.
            if left - here < walk.missing.len() {
                beyond += walk.missing[left - here];
            }
        }
        few = both;
    }
    more
}

/// Chances of how many cards of a class are missing, pack by pack.
struct Walk {
    /// By the number missing.
    missing: Vec<f64>,
    /// What a pack brings, by the number missing.
    brings: Vec<Vec<f64>>,
}

impl Walk {
    fn new(class: &Class) -> Self {
        let (drawn, part) = (class.per_pack as usize, class.per_pack.fract());
        let brings = (0..=class.missing).map(|missing| {
            let mut chances = brings(class.cards, missing, drawn);
            if part > 0.0 {
                chances.push(0.0);
                let with_more = brings(class.cards, missing, drawn + 1);
                for (chance, more) in chances.iter_mut().zip(with_more) {
                    *chance += part * (more - *chance);
                }
            }
            chances
        });
        let brings = brings.collect();
        let mut missing = vec![0.0; class.missing + 1];
        missing[class.missing] = 1.0;
        Self { missing, brings }
    }

    fn step(&mut self) {
        for missing in 0..self.missing.len() {
            let chance = std::mem::take(&mut self.missing[missing]);
            // Too rare to be told from rounding, and they are many.
            if chance < 1e-40 {
                continue;
            }
            for (new, brought) in self.brings[missing].iter().enumerate().take(missing + 1) {
                self.missing[missing - new] += chance * brought;
            }
        }
    }
}

#[cfg(test)]
pub(super) fn by_sum_of(classes: &[Class], left: usize) -> f64 {
    by_sum(classes, left)
}
