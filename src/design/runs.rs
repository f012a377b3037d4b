//! Straight runs: edges of one line that follow each other from area to area, as one.
//!
//! In: straight edges with a value each that edges of one run must agree on. Out: the runs with
//! their outer ends, each where its first edge stood. Site millimetres.

use crate::geom::Point;

/// Ends nearer than this are one place, and a run this straight is straight, in millimetres.
const SAME: f64 = 1.0;

/// Edges of one line, end to end.
#[derive(Clone, Debug, PartialEq)]
pub struct Run<T> {
    /// Its outer ends, in the direction of its edges.
    pub ends: [Point; 2],
    /// What its first edge carries.
    pub of: T,
    /// How many edges it is made of.
    pub edges: usize,
}

/// Joins straight edges that go on in one line where `alike` says that what they carry agrees; the
/// question is given both and the ends of the run they would make.
pub fn straight_runs<T>(
    edges: Vec<([Point; 2], T)>,
    alike: impl Fn(&T, &T, [Point; 2]) -> bool,
) -> Vec<Run<T>> {
    let mut runs: Vec<Run<T>> = Vec::new();
    for (ends, of) in edges {
        let mut run = Run { ends, of, edges: 1 };
        let mut place = runs.len();
        // What is joined may itself be followed, on either side, by another run.
        while let Some((index, ends)) = runs
            .iter()
            .enumerate()
            .find_map(|(index, other)| Some((index, joined(other, &run, &alike)?)))
        {
            let first = runs.remove(index);
            place = place.min(index);
            run = Run {
                ends,
                edges: first.edges + run.edges,
                of: first.of,
            };
        }
        runs.insert(place.min(runs.len()), run);
    }
    runs
}

/// The ends of two runs as one; none where they are not one line end to end, or not alike.
fn joined<T>(
    a: &Run<T>,
    b: &Run<T>,
    alike: &impl Fn(&T, &T, [Point; 2]) -> bool,
) -> Option<[Point; 2]> {
    let ends = if a.ends[1].distance(b.ends[0]) < SAME {
        [a.ends[0], b.ends[1]]
    } else if b.ends[1].distance(a.ends[0]) < SAME {
        [b.ends[0], a.ends[1]]
    } else {
        return None;
    };
    let along = (ends[1] - ends[0]).unit()?;
    let off = |at: Point| along.cross(at - ends[0]).abs();
    let inner = [a.ends, b.ends].concat();
    let straight = inner.iter().all(|at| off(*at) < SAME);
    let onward = [a, b]
        .iter()
        .all(|run| (run.ends[1] - run.ends[0]).dot(along) > 0.0);
    (straight && onward && alike(&a.of, &b.of, ends)).then_some(ends)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn edge(a: (f64, f64), b: (f64, f64), of: u8) -> ([Point; 2], u8) {
        ([Point::new(a.0, a.1), Point::new(b.0, b.1)], of)
    }

    /// Three edges of a line, written out of order, and one square to them; one of the line is of
    /// another kind.
    #[test]
    fn edges_of_a_line_are_one_run() {
        let edges = vec![
            edge((0.0, 0.0), (1000.0, 0.0), 1),
            edge((2000.0, 0.0), (3000.0, 0.0), 1),
            edge((3000.0, 0.0), (3000.0, 900.0), 1),
            edge((1000.0, 0.0), (2000.0, 0.0), 1),
            edge((3000.0, 0.0), (4000.0, 0.0), 2),
        ];
        let runs = straight_runs(edges, |a, b, _| a == b);
        let found: Vec<_> = runs
            .iter()
            .map(|run| (run.ends[0].x, run.ends[1].x, run.edges))
            .collect();
        assert_eq!(
            found,
            [(0.0, 3000.0, 3), (3000.0, 3000.0, 1), (3000.0, 4000.0, 1)]
        );
    }

    /// A line that turns back on itself or bends by more than a millimetre is no run.
    #[test]
    fn a_bend_ends_a_run() {
        let bend = vec![
            edge((0.0, 0.0), (1000.0, 0.0), 1),
            edge((1000.0, 0.0), (2000.0, 10.0), 1),
        ];
        assert_eq!(straight_runs(bend, |_, _, _| true).len(), 2);
        let back = vec![
            edge((0.0, 0.0), (1000.0, 0.0), 1),
            edge((1000.0, 0.0), (500.0, 0.0), 1),
        ];
        assert_eq!(straight_runs(back, |_, _, _| true).len(), 2);
    }
}
