//! Packs of one card.

use super::Class;

/// The most states that are gone through.
const MOST_STATES: usize = 4_000_000;

/// The expected number of single random cards until at most `left` are missing.
/// [`Class::per_pack`] is how often a card of the class comes, in any unit; within a class each
/// is as likely. `None` where it never comes to that, or where there are too many states (the
/// numbers missing, each and one, multiplied: more than four million).
#[must_use]
pub fn singles_until(classes: &[Class], left: usize) -> Option<f64> {
    let all: f64 = classes.iter().map(|class| class.per_pack).sum();
    let open: Vec<&Class> = classes.iter().filter(|class| class.missing > 0).collect();
    let mut strides = Vec::new();
    let mut states = 1usize;
    for class in &open {
        strides.push(states);
        states = states.checked_mul(class.missing + 1)?;
        if states > MOST_STATES {
            return None;
        }
    }
    // By the numbers missing, each class a digit. A state is reached from larger ones only, so
    // going up each needed value is there.
    let mut expected = vec![0.0f64; states];
    let mut missing = vec![0usize; open.len()];
    for state in 1..states {
        for (digit, class) in missing.iter_mut().zip(&open) {
            *digit += 1;
            if *digit <= class.missing {
                break;
            }
            *digit = 0;
        }
        if missing.iter().sum::<usize>() <= left {
            continue;
        }
        let (mut something, mut further) = (0.0, 0.0);
        for ((missing, class), stride) in missing.iter().zip(&open).zip(&strides) {
            let chance = class.per_pack / all * *missing as f64 / class.cards as f64;
            if chance > 0.0 {
                something += chance;
                further += chance * expected[state - stride];
            }
        }
        expected[state] = (1.0 + further) / something;
    }
    expected.last().copied().filter(|packs| packs.is_finite())
}
