//! Which page of one layout is which of another: as many pockets alike as there can be, the order
//! kept (an alignment of two sequences: Needleman and Wunsch 1970).

use crate::model::{LayoutPage, Meaning};

/// Beyond this the pages between equal beginnings and ends are paired one by one.
const MOST: usize = 400;

/// Pairs of places, rising in both; pages of different formats are never paired.
pub(super) fn align(a: &[LayoutPage], b: &[LayoutPage]) -> Vec<(usize, usize)> {
    let start = a.iter().zip(b).take_while(|(a, b)| a == b).count();
    let (rest_a, rest_b) = (&a[start..], &b[start..]);
    let end = rest_a.iter().rev().zip(rest_b.iter().rev());
    let end = end.take_while(|(a, b)| a == b).count();
    let (rest_a, rest_b) = (&rest_a[..rest_a.len() - end], &rest_b[..rest_b.len() - end]);
    let mut pairs: Vec<_> = (0..start).map(|at| (at, at)).collect();
    let middle = between(rest_a, rest_b);
    pairs.extend(middle.into_iter().map(|(a, b)| (start + a, start + b)));
    let ends = (0..end).map(|at| (a.len() - end + at, b.len() - end + at));
    pairs.extend(ends);
    pairs
}

fn between(a: &[LayoutPage], b: &[LayoutPage]) -> Vec<(usize, usize)> {
    if a.len() > MOST || b.len() > MOST {
        let same = |at: &usize| a[*at].format() == b[*at].format();
        return (0..a.len().min(b.len()))
            .filter(same)
            .map(|at| (at, at))
            .collect();
    }
    // best[i][j]: the most that the pages from i and from j on can be alike.
    let mut best = vec![vec![0u32; b.len() + 1]; a.len() + 1];
    let mut alike = vec![vec![0u32; b.len()]; a.len()];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            alike[i][j] = likeness(&a[i], &b[j]);
            let pair = match alike[i][j] {
                0 => 0,
                alike => alike + best[i + 1][j + 1],
            };
            best[i][j] = pair.max(best[i + 1][j]).max(best[i][j + 1]);
        }
    }
    let (mut i, mut j, mut pairs) = (0, 0, Vec::new());
    while i < a.len() && j < b.len() {
        if alike[i][j] > 0 && best[i][j] == alike[i][j] + best[i + 1][j + 1] {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if best[i][j] == best[i + 1][j] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

/// 0 where the pages cannot be the same one; what both are for counts, in whichever pocket.
fn likeness(a: &LayoutPage, b: &LayoutPage) -> u32 {
    if a.format() != b.format() {
        return 0;
    }
    let pockets = || 0..a.format().pockets();
    let shared = pockets().filter(|at| {
        let meaning = a.meaning(*at);
        meaning != Meaning::Nothing && pockets().any(|other| b.meaning(other) == meaning)
    });
    1 + 2 * shared.count() as u32
}
