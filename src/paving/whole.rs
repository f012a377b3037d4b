//! Whole pavers, kept as rows of equal steps: a field of any size takes memory by its outline.
//!
//! In: rows, or single pavers. Out: how many there are, and the corners of each when asked for.
//! Site millimetres.

use crate::geom::{Point, Vector};

/// Whole pavers of one kind.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Whole {
    rows: Vec<Row>,
    count: usize,
}

/// Pavers that lie one equal step from each to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Corners of the first, the long side first.
    pub first: [Point; 4],
    /// From each to the next.
    pub step: Vector,
    /// How many.
    pub count: usize,
}

impl Whole {
    /// How many pavers.
    pub fn len(&self) -> usize {
        self.count
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// The rows in the order laid.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// Corners of each paver, row by row.
    pub fn iter(&self) -> impl Iterator<Item = [Point; 4]> + '_ {
        self.rows.iter().flat_map(Row::iter)
    }

    /// Adds one paver.
    pub fn push(&mut self, corners: [Point; 4]) {
        self.push_row(Row {
            first: corners,
            step: Vector::default(),
            count: 1,
        });
    }

    /// Adds a row.
    pub fn push_row(&mut self, row: Row) {
        self.count += row.count;
        self.rows.push(row);
    }
}

impl Row {
    /// Corners of each paver.
    pub fn iter(&self) -> impl Iterator<Item = [Point; 4]> + '_ {
        (0..self.count).map(|number| {
            let by = self.step * number as f64;
            self.first.map(|corner| corner + by)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_counts_and_lists_its_pavers() {
        let at = |x: f64| [(x, 0.0), (x + 2.0, 0.0), (x + 2.0, 1.0), (x, 1.0)];
        let corners = |x: f64| at(x).map(|(x, y)| Point::new(x, y));
        let mut whole = Whole::default();
        assert!(whole.is_empty());
        whole.push(corners(-9.0));
        whole.push_row(Row {
            first: corners(0.0),
            step: Vector::new(3.0, 0.0),
            count: 3,
        });
        let all: Vec<[Point; 4]> = whole.iter().collect();
        assert_eq!(all, [-9.0, 0.0, 3.0, 6.0].map(corners));
        assert_eq!((whole.len(), whole.rows().len()), (4, 2));
    }
}
