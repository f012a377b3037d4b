//! The cutting list: what is cut from each panel, where to mark it, and where each offcut goes.
//!
//! In: the regions of the panel that pieces take. Out: panel by panel the pieces in order of
//! laying and the lines to mark from the panel's sides. Millimetres, along the panel and across it,
//! from its corner nearest the start.
//!
//! A straight cut is marked at its ends. A curve is marked where it passes round measures of the
//! side that it runs along more, as a tape laid along that side reads them.

use super::Cut;
use super::contact::Lock;
use super::cuts::cuts;
use super::lay::rectangle;
use crate::geom::{Shape, clip};

/// Corners that turn more than this are corners of the cut, not points along a curve: the sine
/// of 15°, more than a flattened arc turns at a point (common practice, no source).
const CORNER: f64 = 0.26;
/// Marks nearer than this to another are one, in millimetres.
const SAME: f64 = 3.0;

/// A panel that is bought to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPanel {
    /// Its number among the panels that are cut, from 1, in order of laying.
    pub number: usize,
    /// The pieces cut from it, in order of laying: what is left of the panel after each goes to
    /// the next, and after the last to waste.
    pub pieces: Vec<CutPiece>,
    /// Whether the courses it is for follow each other to the right, as seen from above along
    /// them: across the panel is then to the right too.
    pub mirrored: bool,
    /// Area that no piece takes, in square millimetres.
    pub waste_mm2: f64,
}

/// A piece as it is cut from a panel.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPiece {
    /// Layout and piece, by index.
    pub of: (usize, usize),
    /// Its mark.
    pub mark: String,
    /// By how many quarters anticlockwise it lies in the panel from how it is laid.
    pub quarters: u32,
    /// The region of the panel that it takes.
    pub shape: Shape,
    /// The lines to cut.
    pub cuts: Vec<Cut>,
    /// The stretches of the panel's sides that lock to neighbours and must be kept.
    pub locks: Vec<Lock>,
}

impl CutPanel {
    pub(super) fn new(pieces: Vec<CutPiece>, mirrored: bool, size: [f64; 2]) -> Self {
        let used: f64 = pieces.iter().map(|piece| clip::area(&piece.shape)).sum();
        Self {
            number: 0,
            pieces,
            mirrored,
            waste_mm2: (size[0] * size[1] - used).max(0.0),
        }
    }

    /// The regions of the panel, `size` along and across, that no piece takes.
    pub fn waste(&self, size: [f64; 2]) -> Shape {
        let used = clip::union(self.pieces.iter().map(|piece| &piece.shape));
        clip::difference(&rectangle([0.0, 0.0], size), &used)
    }

    /// The mark of the piece that the offcut goes to after the piece at `place` is cut; none when
    /// what is left is waste.
    pub fn offcut_to(&self, place: usize) -> Option<&str> {
        self.pieces.get(place + 1).map(|piece| piece.mark.as_str())
    }
}

impl CutPiece {
    pub(super) fn new(
        of: (usize, usize),
        mark: String,
        quarters: u32,
        (shape, locks): (&Shape, Vec<Lock>),
        size: [f64; 2],
    ) -> Self {
        Self {
            of,
            mark,
            quarters,
            locks,
            cuts: cuts(shape, [0.0, 0.0], size),
            shape: shape.clone(),
        }
    }
}

impl Cut {
    /// Whether the cut is a curve, so that points along it have to be marked.
    pub fn is_curved(&self) -> bool {
        let mut turns = self.points.windows(3).map(turn);
        self.points.len() > 2 && turns.any(|sine| sine.abs() < CORNER)
    }

    /// The points to mark: ends and corners of the cut, and along its curves each place where it
    /// passes a multiple of `every` from the corner of the panel, measured along the side that
    /// the curve runs along more.
    pub fn marks(&self, every: f64) -> Vec<[f64; 2]> {
        let mut marks: Vec<[f64; 2]> = Vec::new();
        for run in self.runs() {
            let (first, last) = (run[0], run[run.len() - 1]);
            let span = |axis: usize| {
                let at = run.iter().map(|point| point[axis]);
                at.clone().fold(f64::NEG_INFINITY, f64::max) - at.fold(f64::INFINITY, f64::min)
            };
            let axis = usize::from(span(1) > span(0));
            let mut along = vec![first];
            if run.len() > 2 {
                for side in run.windows(2) {
                    along.extend(passes(side[0], side[1], axis, every));
                }
            }
            along.retain(|at| apart(*at, last) > SAME);
            along.push(last);
            for at in along {
                if marks.last().is_none_or(|before| apart(*before, at) > SAME) {
                    marks.push(at);
                }
            }
        }
        marks
    }

    /// The stretches of the cut between its corners.
    fn runs(&self) -> Vec<&[[f64; 2]]> {
        let mut runs = Vec::new();
        let mut from = 0;
        for at in 1..self.points.len().saturating_sub(1) {
            if turn(&self.points[at - 1..=at + 1]).abs() >= CORNER {
                runs.push(&self.points[from..=at]);
                from = at;
            }
        }
        if self.points.len() > from + 1 {
            runs.push(&self.points[from..]);
        }
        runs
    }
}

/// Where a line passes the multiples of `every` along an axis, in its order.
fn passes(a: [f64; 2], b: [f64; 2], axis: usize, every: f64) -> Vec<[f64; 2]> {
    let run = b[axis] - a[axis];
    if run.abs() < 1e-9 {
        return Vec::new();
    }
    let (low, high) = (a[axis].min(b[axis]), a[axis].max(b[axis]));
    let first = libm::ceil(low / every) as i64;
    let last = libm::floor(high / every) as i64;
    let mut places: Vec<[f64; 2]> = (first..=last)
        .map(|step| {
            let share = (step as f64 * every - a[axis]) / run;
            [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share]
        })
        .collect();
    if run < 0.0 {
        places.reverse();
    }
    places
}

/// The sine of the turn at the middle of three points; 1 where the cut turns back.
fn turn(points: &[[f64; 2]]) -> f64 {
    let (p, q) = (
        [points[1][0] - points[0][0], points[1][1] - points[0][1]],
        [points[2][0] - points[1][0], points[2][1] - points[1][1]],
    );
    let lengths = (libm::hypot(p[0], p[1]) * libm::hypot(q[0], q[1])).max(1e-12);
    if p[0] * q[0] + p[1] * q[1] <= 0.0 {
        1.0
    } else {
        (p[0] * q[1] - p[1] * q[0]) / lengths
    }
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(points: &[[f64; 2]]) -> Cut {
        Cut {
            points: points.to_vec(),
            length_mm: 0.0,
        }
    }

    #[test]
    fn a_straight_cut_is_marked_at_its_ends_and_corners() {
        let straight = cut(&[[300.0, 0.0], [300.0, 600.0]]);
        assert!(!straight.is_curved());
        assert_eq!(straight.marks(150.0), [[300.0, 0.0], [300.0, 600.0]]);
        let notch = cut(&[[300.0, 0.0], [300.0, 200.0], [900.0, 200.0]]);
        assert!(!notch.is_curved());
        assert_eq!(notch.marks(150.0).len(), 3);
    }

    #[test]
    fn a_curve_is_marked_at_round_measures_with_its_offsets() {
        // a quarter of a circle of radius 800 about the corner at (0, -400), read every 100
        let points: Vec<[f64; 2]> = (0..=200)
            .map(|step| {
                let angle = std::f64::consts::FRAC_PI_3 * f64::from(step) / 200.0 + 0.52;
                [800.0 * angle.cos(), 800.0 * angle.sin() - 400.0]
            })
            .collect();
        let arc = cut(&points);
        assert!(arc.is_curved());
        let marks = arc.marks(100.0);
        for at in &marks[1..marks.len() - 1] {
            assert!(
                (at[0] / 100.0 - (at[0] / 100.0).round()).abs() < 1e-9,
                "{at:?}"
            );
            assert!((at[0].hypot(at[1] + 400.0) - 800.0).abs() < 0.02, "{at:?}");
        }
        assert_eq!(marks.len(), 8, "{marks:?}");
        assert!(marks.windows(2).all(|pair| pair[0][0] > pair[1][0]));
    }
}
