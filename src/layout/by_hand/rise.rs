//! What stands in the rule's order, as much of it as there is.

/// Where an item stands in the rule's order, the last first. Nearly always there is but one place,
/// which then takes no memory of its own.
#[derive(Debug, Default)]
pub(super) struct Places {
    one: [usize; 1],
    all: Vec<usize>,
    many: usize,
}

impl Places {
    pub(super) fn add(&mut self, at: usize) {
        self.many += 1;
        match self.many {
            1 => self.one = [at],
            2 => self.all = vec![at, self.one[0]],
            _ => self.all.insert(0, at),
        }
    }

    pub(super) fn all(&self) -> &[usize] {
        match self.many {
            1 => &self.one,
            _ => &self.all,
        }
    }
}

/// Each may stand in any of its places, the last of which comes first: the place of each that is
/// part of a longest run that rises. (A longest common subsequence where things may stand more
/// than once: Hunt and Szymanski 1977.)
pub(super) fn longest_rise(places: &[&[usize]]) -> Vec<Option<usize>> {
    let all = places.iter().enumerate();
    let all: Vec<(usize, usize)> = all
        .flat_map(|(at, places)| places.iter().map(move |place| (at, *place)))
        .collect();
    // The last element of the best run of each length, and before each element the one before it.
    let mut ends: Vec<usize> = Vec::new();
    let mut before = vec![usize::MAX; all.len()];
    for (at, (_, place)) in all.iter().enumerate() {
        let length = ends.partition_point(|end| all[*end].1 < *place);
        if length > 0 {
            before[at] = ends[length - 1];
        }
        match ends.get_mut(length) {
            Some(end) => *end = at,
            None => ends.push(at),
        }
    }
    let mut flows = vec![None; places.len()];
    let mut at = ends.last().copied();
    while let Some(here) = at {
        let (of, place) = all[here];
        flows[of] = Some(place);
        at = Some(before[here]).filter(|before| *before != usize::MAX);
    }
    flows
}
