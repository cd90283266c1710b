//! Who goes with whom: a maximum matching.

type Came = Vec<Option<(usize, Option<usize>)>>;

/// Matches each of `wanted` with one of its groups, as many as possible. `wanted[i]` are the groups
/// that would do for the i-th, `room[g]` is how many group g takes. Of all largest matchings this
/// is the one that serves the first ones first: the i-th is left out only where serving it would
/// cost an earlier one.
///
/// Augmenting paths (H. W. Kuhn 1955; C. Berge 1957); who is served once stays served.
#[must_use]
pub(super) fn pairing(wanted: &[Vec<usize>], room: &[u32]) -> Vec<Option<usize>> {
    let mut taken: Vec<Vec<usize>> = vec![Vec::new(); room.len()];
    let mut with = vec![None; wanted.len()];
    for start in 0..wanted.len() {
        // Breadth first over groups; `came` is who would go there, and from which group it would
        // come away.
        let mut came: Came = vec![None; room.len()];
        let mut queue = Vec::new();
        let visit = |who: usize, from, came: &mut Came, queue: &mut Vec<usize>| {
            for &group in &wanted[who] {
                if came[group].is_none() {
                    came[group] = Some((who, from));
                    queue.push(group);
                }
            }
        };
        visit(start, None, &mut came, &mut queue);
        let mut next = 0;
        let mut free = None;
        while let Some(&group) = queue.get(next) {
            next += 1;
            if taken[group].len() < room[group] as usize {
                free = Some(group);
                break;
            }
            for &who in &taken[group] {
                if queue.len() == room.len() {
                    break;
                }
                visit(who, Some(group), &mut came, &mut queue);
            }
        }
        while let Some(group) = free {
            let Some((who, from)) = came[group] else {
                break;
            };
            if let Some(from) = from {
                taken[from].retain(|other| *other != who);
            }
            taken[group].push(who);
            with[who] = Some(group);
            free = from;
        }
    }
    with
}

#[cfg(test)]
mod tests {
    use pathfinding::prelude::{Matrix, edmonds_karp_dense, kuhn_munkres};
    use proptest::prelude::*;

    use super::*;

    /// Some that want, with few groups each, and the room of the groups.
    fn graphs() -> impl Strategy<Value = (Vec<Vec<usize>>, Vec<u32>)> {
        (1usize..7).prop_flat_map(|groups| {
            let wanted = prop::collection::btree_set(0..groups, 0..=groups);
            let wanted = prop::collection::vec(wanted, 0..14);
            let wanted = wanted.prop_map(|all| {
                all.into_iter()
                    .map(|one| one.into_iter().collect())
                    .collect()
            });
            (wanted, prop::collection::vec(0u32..4, groups))
        })
    }

    fn check(wanted: &[Vec<usize>], room: &[u32], with: &[Option<usize>]) {
        let mut taken = vec![0; room.len()];
        for (who, group) in with.iter().enumerate() {
            if let Some(group) = group {
                assert!(wanted[who].contains(group));
                taken[*group] += 1;
            }
        }
        assert!(taken.iter().zip(room).all(|(taken, room)| taken <= room));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(512))]

        /// The `pathfinding` library's maximum flow.
        #[test]
        fn as_many_are_served_as_a_maximum_flow_carries((wanted, room) in graphs()) {
            let with = pairing(&wanted, &room);
            check(&wanted, &room, &with);
            let (source, sink) = (0, 1);
            let group = |at: usize| 2 + at;
            let who = |at: usize| 2 + room.len() + at;
            let mut edges = Vec::new();
            for (at, room) in room.iter().enumerate() {
                edges.push(((group(at), sink), i64::from(*room)));
            }
            for (at, groups) in wanted.iter().enumerate() {
                edges.push(((source, who(at)), 1));
                edges.extend(groups.iter().map(|to| ((who(at), group(*to)), 1)));
            }
            let vertices: Vec<usize> = (0..2 + room.len() + wanted.len()).collect();
            let (_, flow, _) = edmonds_karp_dense(&vertices, &source, &sink, edges);
            prop_assert_eq!(with.iter().flatten().count() as i64, flow);
        }

        /// The same library's assignment, where serving one outweighs all that come after it.
        #[test]
        fn of_the_largest_the_one_is_taken_that_serves_the_first_ones((wanted, room) in graphs()) {
            let with = pairing(&wanted, &room);
            let places: Vec<usize> = (0..room.len())
                .flat_map(|group| (0..room[group]).map(move |_| group))
                .collect();
            let worth = |who: usize| 1i64 << (20 - who);
            // It wants no more rows than columns; those beyond the places serve nobody.
            let columns = places.len().max(wanted.len());
            prop_assume!(columns > 0 && !wanted.is_empty());
            let rows = wanted.iter().enumerate().map(|(who, groups)| {
                let does = |column: usize| places.get(column).is_some_and(|g| groups.contains(g));
                (0..columns).map(|column| if does(column) { worth(who) } else { 0 }).collect()
            });
            let rows: Vec<Vec<i64>> = rows.collect();
            let (best, _) = kuhn_munkres(&Matrix::from_rows(rows).unwrap());
            let served = with.iter().enumerate().filter(|(_, group)| group.is_some());
            prop_assert_eq!(served.map(|(who, _)| worth(who)).sum::<i64>(), best);
        }
    }
}
