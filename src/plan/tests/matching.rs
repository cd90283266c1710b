//! The assignment against other solvers.

use pathfinding::prelude::{Matrix, kuhn_munkres};
use proptest::prelude::*;
use serde_json::Value;

use crate::plan::assign::{Assigned, NO, assign};
use crate::plan::overlap::Edges;

fn edges(matrix: &[Vec<u32>]) -> Edges {
    Edges::new(matrix.iter().map(|row| {
        let row = (0u32..).zip(row.iter().copied());
        row.filter(|(_, weight)| *weight > 0).collect()
    }))
}

fn columns(matrix: &[Vec<u32>]) -> usize {
    matrix.first().map_or(0, Vec::len)
}

/// What [`Assigned`] promises, which by linear programming duality proves the optimum.
fn check(matrix: &[Vec<u32>], found: &Assigned) {
    let mut weight = 0;
    for (row, column) in found.column.iter().enumerate() {
        if *column == NO {
            assert_eq!(found.row_price[row], 0);
            continue;
        }
        let column = *column as usize;
        assert_eq!(found.row[column], row as u32);
        let price = found.row_price[row] + found.column_price[column];
        assert_eq!(price, matrix[row][column]);
        weight += u64::from(matrix[row][column]);
    }
    for (column, row) in found.row.iter().enumerate() {
        if *row == NO {
            assert_eq!(found.column_price[column], 0);
        } else {
            assert_eq!(found.column[*row as usize], column as u32);
        }
    }
    for (row, weights) in matrix.iter().enumerate() {
        for (column, weight) in weights.iter().enumerate() {
            assert!(found.row_price[row] + found.column_price[column] >= *weight);
        }
    }
    assert_eq!(found.weight(), weight);
}

/// Optima of general-purpose libraries and of brute force (source in the data file). There the
/// shorter side is matched wholly, so weights are raised until none is below 0, which makes it
/// worth while here too. The weights of "large" do not fit: a page has at most 800 pockets.
#[test]
fn the_assignment_is_as_good_as_that_of_other_solvers() {
    let all: Value = serde_json::from_str(include_str!("../../../tests/data/lap.json")).unwrap();
    let mut seen = 0;
    for case in all["cases"].as_array().unwrap() {
        if case["name"] == "large" {
            continue;
        }
        let written = case["m"].as_array().unwrap().iter();
        let written: Vec<Vec<i64>> = written
            .map(|row| {
                let row = row.as_array().unwrap().iter();
                row.map(|weight| weight.as_i64().unwrap()).collect()
            })
            .collect();
        let least = written.iter().flatten().min().map_or(0, |least| *least);
        let raise = (-least).max(0);
        let matrix: Vec<Vec<u32>> = (written.iter())
            .map(|row| {
                let row = row.iter();
                row.map(|weight| u32::try_from(weight + raise).unwrap())
                    .collect()
            })
            .collect();
        let found = assign(&edges(&matrix), columns(&matrix));
        check(&matrix, &found);
        let pairs = matrix.len().min(columns(&matrix)) as i64;
        let weight = i64::try_from(found.weight()).unwrap();
        assert_eq!(
            weight - raise * pairs,
            case["max"].as_i64().unwrap(),
            "{case}"
        );
        seen += 1;
    }
    assert_eq!(seen, 44);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    /// The `pathfinding` library's Kuhn-Munkres method, on matrices with few and with many ties.
    #[test]
    fn the_assignment_weighs_what_kuhn_munkres_finds(
        (rows, columns, most, cells) in (1usize..14, 1usize..14, 1u32..20)
            .prop_flat_map(|(rows, columns, most)| {
                let cell = prop_oneof![2 => Just(0), 1 => 0..=most];
                let cells = prop::collection::vec(cell, rows * columns);
                (Just(rows), Just(columns), Just(most), cells)
            })
    ) {
        prop_assume!(most > 0);
        let matrix: Vec<Vec<u32>> = cells.chunks(columns).map(<[u32]>::to_vec).collect();
        let found = assign(&edges(&matrix), columns);
        check(&matrix, &found);
        let plain = matrix.iter().map(|row| row.iter().map(|w| i64::from(*w)));
        let weights = Matrix::from_rows(plain).unwrap();
        // It wants no more rows than columns.
        let weights = if rows > columns { weights.transposed() } else { weights };
        let (best, _) = kuhn_munkres(&weights);
        prop_assert_eq!(found.weight(), best as u64);
    }
}
