//! What is read off the tape to cut a panel: dimensions from the panel's sides, and lists of
//! points for curves.
//!
//! In: the cuts of a panel and its size, in millimetres along the panel and across it, from its
//! corner nearest the start. Out: readings by the side of the panel that the tape lies on, and the
//! cuts that are marked by points. A cut parallel to a side is one reading; another straight cut is
//! read at both of its ends. Method: common practice, no source.

use crate::panels::CutPanel;

/// Lengths nearer than this are one, in millimetres.
const SAME: f64 = 0.5;
/// Most points of a cut that is dimensioned; one with more is listed.
const MOST: usize = 6;

/// A side of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Along the course, nearest the start edge.
    Near,
    /// Along the course, away from the start edge.
    Far,
    /// Across the course, at the start.
    Start,
    /// Across the course, away from the start.
    End,
}

impl Side {
    /// Every side.
    pub const ALL: [Self; 4] = [Self::Near, Self::Far, Self::Start, Self::End];

    /// Which coordinate is read on the side: 0 along the panel, 1 across it.
    pub fn axis(self) -> usize {
        match self {
            Self::Near | Self::Far => 0,
            Self::Start | Self::End => 1,
        }
    }

    /// The end of the side that the tape is hooked on, on a panel of that size.
    pub fn hook(self, size: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Near | Self::Start => [0.0, 0.0],
            Self::Far => [0.0, size[1]],
            Self::End => [size[0], 0.0],
        }
    }
}

/// A dimension to mark on a side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// The side that the tape lies on.
    pub side: Side,
    /// The end of the cut that it is read for.
    pub of: [f64; 2],
}

impl Reading {
    /// What the tape reads.
    pub fn at_mm(&self) -> f64 {
        self.of[self.side.axis()]
    }
}

/// A cut that is marked by points: a curve, or a line with many corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed {
    /// Which of the panel's pieces it is for.
    pub piece: usize,
    /// The points, along the panel and across it.
    pub points: Vec<[f64; 2]>,
}

/// All that is read to cut a panel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Readings {
    /// Dimensions, by side and from the hook on.
    pub sides: Vec<Reading>,
    /// Cuts marked by points.
    pub listed: Vec<Listed>,
}

/// The readings of a panel, `size` along and across; curves are marked at every so many
/// millimetres.
pub fn readings(panel: &CutPanel, size: [f64; 2], every: f64) -> Readings {
    let mut found = Readings::default();
    for (piece, cut) in panel.pieces.iter().enumerate() {
        for cut in &cut.cuts {
            let points = cut.marks(every);
            if cut.is_curved() || points.len() > MOST {
                found.listed.push(Listed { piece, points });
                continue;
            }
            for pair in points.windows(2) {
                for reading in line(pair[0], pair[1], size) {
                    add(&mut found.sides, reading, size);
                }
            }
        }
    }
    found
        .sides
        .sort_by(|a, b| a.side.cmp(&b.side).then(a.at_mm().total_cmp(&b.at_mm())));
    found
}

/// The readings of one straight line.
fn line(a: [f64; 2], b: [f64; 2], size: [f64; 2]) -> Vec<Reading> {
    for axis in 0..2 {
        if (a[axis] - b[axis]).abs() < SAME {
            let ends = [a, b].map(|at| reading(at, axis, size));
            let nearer = off(&ends[1], size) < off(&ends[0], size) - SAME;
            let level = (off(&ends[1], size) - off(&ends[0], size)).abs() <= SAME;
            // a cut from side to side is read on the side that the tape is hooked on
            let first = ends[1].side < ends[0].side;
            return vec![ends[usize::from(nearer || (level && first))]];
        }
    }
    let mut readings = Vec::new();
    for at in [a, b] {
        for axis in 0..2 {
            // on a side square to the axis the point is at its end
            if at[axis] > SAME && at[axis] < size[axis] - SAME {
                readings.push(reading(at, axis, size));
            }
        }
    }
    readings
}

/// The reading of a point's coordinate on the nearer of two sides.
fn reading(at: [f64; 2], axis: usize, size: [f64; 2]) -> Reading {
    let other = 1 - axis;
    let first = at[other] <= size[other] / 2.0 + SAME;
    let side = match (axis, first) {
        (0, true) => Side::Near,
        (0, false) => Side::Far,
        (_, true) => Side::Start,
        (_, false) => Side::End,
    };
    Reading { side, of: at }
}

/// How far a reading's point lies off the side.
fn off(reading: &Reading, size: [f64; 2]) -> f64 {
    let other = 1 - reading.side.axis();
    let at = reading.of[other];
    at.min(size[other] - at)
}

/// Adds a reading where the side has none of that place; of two the one nearer the side stays.
fn add(readings: &mut Vec<Reading>, new: Reading, size: [f64; 2]) {
    let same = readings
        .iter_mut()
        .find(|old| old.side == new.side && (old.at_mm() - new.at_mm()).abs() < SAME);
    match same {
        Some(old) if off(&new, size) < off(old, size) => *old = new,
        Some(_) => {}
        None => readings.push(new),
    }
}
