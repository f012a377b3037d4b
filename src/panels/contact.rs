//! Where laid pieces lie against each other.
//!
//! In: a layout. Out: for each piece the stretches of its panel's four sides that it keeps, and
//! which of them another piece lies against. Millimetres in the frame of the start corner.

use super::lay::to_local;
use super::{Layout, Piece};
use crate::geom::{Frame, clip};

/// A point nearer than this to a side of the panel is on it.
const TOLERANCE: f64 = 0.5;

/// The sides of a piece as drawn that run square to the course: where along it, and from where to
/// where across. `starts` face the start, `ends` away from it.
#[derive(Clone, Debug, Default)]
pub(super) struct Sides {
    pub(super) starts: Vec<[f64; 3]>,
    pub(super) ends: Vec<[f64; 3]>,
}

/// The sides of a piece as drawn, whatever made them.
pub(super) fn sides(piece: &Piece, frame: &Frame) -> Sides {
    let local = to_local(&piece.shape, frame);
    let rings = clip::rings(&local);
    let mut sides = Sides::default();
    for line in rings.flat_map(|ring| ring.lines()) {
        let (a, b) = (line.start, line.end);
        if (a.x - b.x).abs() > TOLERANCE || (a.y - b.y).abs() <= TOLERANCE {
            continue;
        }
        let side = [(a.x + b.x) / 2.0, a.y.min(b.y), a.y.max(b.y)];
        // what is inside lies to the left
        if b.y > a.y {
            sides.ends.push(side);
        } else {
            sides.starts.push(side);
        }
    }
    sides
}

/// Stretches of one side, each from its least to its greatest coordinate along the side.
pub(super) type Stretches = Vec<[f64; 2]>;

/// What a piece keeps of the sides of its panel.
#[derive(Clone, Debug, Default)]
pub(super) struct Kept {
    pub(super) start: Stretches,
    pub(super) end: Stretches,
    pub(super) near: Stretches,
    pub(super) far: Stretches,
}

/// What each piece keeps of its panel's sides: start and end along the course (stretches in `v`),
/// near and far across it (stretches in `u`).
pub(super) fn kept(layout: &Layout, size: [f64; 2]) -> Vec<Kept> {
    let of_piece = |piece: &super::Piece| {
        let [u0, v0] = piece.cell;
        let (u1, v1) = (u0 + size[0], v0 + size[1]);
        if piece.cuts.is_empty() && piece.whole {
            return Kept {
                start: vec![[v0, v1]],
                end: vec![[v0, v1]],
                near: vec![[u0, u1]],
                far: vec![[u0, u1]],
            };
        }
        let local = to_local(&piece.shape, &layout.frame);
        let lines = local.iter().flat_map(|part| part.exterior().lines());
        let mut kept = Kept::default();
        for line in lines {
            let (a, b) = (line.start, line.end);
            let on = |p: f64, q: f64, side: f64| {
                (p - side).abs() < TOLERANCE && (q - side).abs() < TOLERANCE
            };
            let along = [a.x.min(b.x), a.x.max(b.x)];
            let across = [a.y.min(b.y), a.y.max(b.y)];
            if on(a.x, b.x, u0) {
                kept.start.push(across);
            } else if on(a.x, b.x, u1) {
                kept.end.push(across);
            }
            if on(a.y, b.y, v0) {
                kept.near.push(along);
            } else if on(a.y, b.y, v1) {
                kept.far.push(along);
            }
        }
        kept
    };
    layout.pieces.iter().map(of_piece).collect()
}

/// The stretches that two sides lying against each other share, in order; what is not longer
/// than 0.5 mm is none.
pub(super) fn shared(one: &[[f64; 2]], other: &[[f64; 2]]) -> Stretches {
    let mut shared: Stretches = Vec::new();
    for a in one {
        for b in other {
            let (low, high) = (a[0].max(b[0]), a[1].min(b[1]));
            if high - low > TOLERANCE {
                shared.push([low, high]);
            }
        }
    }
    shared.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut joined: Stretches = Vec::new();
    for [low, high] in shared {
        match joined.last_mut() {
            Some(last) if low - last[1] <= TOLERANCE => last[1] = last[1].max(high),
            _ => joined.push([low, high]),
        }
    }
    joined
}

/// A stretch of a side that locks, from one end to the other, in the panel's coordinates.
pub type Lock = [[f64; 2]; 2];

/// For each piece the stretches of its panel's sides that another piece lies against, in the
/// coordinates of the panel that it is cut from.
pub(super) fn locks(layout: &Layout, kept: &[Kept], size: [f64; 2]) -> Vec<Vec<Lock>> {
    let mut locks: Vec<Vec<Lock>> = vec![Vec::new(); layout.pieces.len()];
    let [length, width] = size;
    let mut lay_against = |index: usize, axis: usize, at: f64, stretches: &Stretches| {
        let cell = layout.pieces[index].cell;
        locks[index].extend(stretches.iter().map(|&[low, high]| {
            let [low, high] = [low - cell[axis], high - cell[axis]];
            match axis {
                0 => [[low, at], [high, at]],
                _ => [[at, low], [at, high]],
            }
        }));
    };
    for (at, course) in layout.courses.iter().enumerate() {
        let next = layout
            .courses
            .get(at + 1)
            .filter(|next| next.number == course.number + 1);
        for index in course.pieces.clone() {
            let piece = &layout.pieces[index];
            // the pieces of the same panel, at the most a few, stand between
            for other in index + 1..course.pieces.end {
                let apart = layout.pieces[other].cell[0] - piece.cell[0];
                if apart > 1.5 * size[0] {
                    break;
                }
                if apart > 0.5 * size[0] {
                    let beside = shared(&kept[index].end, &kept[other].start);
                    lay_against(index, 1, length, &beside);
                    lay_against(other, 1, 0.0, &beside);
                }
            }
            let Some(next) = next else { continue };
            let pieces = &layout.pieces[next.pieces.clone()];
            let first = pieces.partition_point(|other| other.cell[0] + size[0] < piece.x_mm);
            for other in next.pieces.start + first..next.pieces.end {
                if layout.pieces[other].cell[0] > piece.x_mm + piece.length_mm {
                    break;
                }
                let beyond = shared(&kept[index].far, &kept[other].near);
                lay_against(index, 0, width, &beyond);
                lay_against(other, 0, 0.0, &beyond);
            }
        }
    }
    locks
}

#[cfg(test)]
mod tests {
    use super::super::lay::rectangle;
    use super::super::{LayoutRule, PanelSpec, PanelsSpec, lay};
    use super::*;
    use crate::geom::{Point, Vector};

    /// Two courses of panels of 900 × 600, the second shifted by half a panel, by hand: the place of
    /// every lock in the panel that the piece is cut from.
    #[test]
    fn locks_are_where_pieces_lie_against_each_other() {
        let spec = PanelsSpec {
            panel: PanelSpec {
                length: 900.0,
                width: 600.0,
                thickness: 20.0,
                joint: 0.0,
            },
            stagger: 450.0,
            min_stagger: 0.0,
            min_piece: 0.0,
            layout: LayoutRule::Fixed,
            course_starts: Default::default(),
        };
        let frame = Frame {
            origin: Point::new(0.0, 0.0),
            u: Vector::new(1.0, 0.0),
            v: Vector::new(0.0, 1.0),
        };
        let base = rectangle([0.0, 0.0], [1800.0, 1000.0]);
        let layout = lay(&spec, &base, &frame);
        let size = [900.0, 600.0];
        let found = locks(&layout, &kept(&layout, size), size);
        let marks: Vec<String> = layout.pieces.iter().map(Piece::mark).collect();
        assert_eq!(marks, ["1-1", "1-2", "2-1", "2-2", "2-3"]);
        let wanted: [&[Lock]; 5] = [
            // its end, and its far side under 2-1 and 2-2
            &[
                [[900.0, 0.0], [900.0, 600.0]],
                [[0.0, 600.0], [450.0, 600.0]],
                [[450.0, 600.0], [900.0, 600.0]],
            ],
            // its start, and its far side under 2-2 and 2-3
            &[
                [[0.0, 0.0], [0.0, 600.0]],
                [[0.0, 600.0], [450.0, 600.0]],
                [[450.0, 600.0], [900.0, 600.0]],
            ],
            // the second half of a panel: its near side on 1-1, its end, as high as the base goes
            &[[[450.0, 0.0], [900.0, 0.0]], [[900.0, 0.0], [900.0, 400.0]]],
            &[
                [[0.0, 0.0], [450.0, 0.0]],
                [[450.0, 0.0], [900.0, 0.0]],
                [[0.0, 0.0], [0.0, 400.0]],
                [[900.0, 0.0], [900.0, 400.0]],
            ],
            // the first half of a panel
            &[[[0.0, 0.0], [450.0, 0.0]], [[0.0, 0.0], [0.0, 400.0]]],
        ];
        for ((mark, found), wanted) in marks.iter().zip(&found).zip(wanted) {
            let mut left: Vec<&Lock> = wanted.iter().collect();
            for lock in found {
                let same = |other: &&Lock| {
                    lock.iter()
                        .flatten()
                        .zip(other.iter().flatten())
                        .all(|(a, b)| (a - b).abs() < 1e-6)
                };
                let at = left.iter().position(same);
                left.remove(at.unwrap_or_else(|| panic!("{mark}: {lock:?}")));
            }
            assert!(left.is_empty(), "{mark}: {left:?}");
        }
    }
}
