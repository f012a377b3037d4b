//! Keeping nails out of places where none may be driven.
//!
//! In: the restraint as laid and what bars a nail at a place. Out: the restraint with each barred
//! nail moved to the nearest free hole of its piece, no farther than the nailing pitch, or left
//! out, its counts changed with it; and the stretches concerned, edge by edge. Millimetres.

use super::lay::{Path, hole_count};
use super::{EdgeRestraint, EdgeRun, Edging, EdgingSpec};
use crate::geom::Point;

/// A stretch of an edge whose nails were moved or left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Spared {
    /// The edge's name.
    pub edge: String,
    /// First and last barred nail, measured along the edge from its start.
    pub stretch: [f64; 2],
    /// Nails moved to a free hole.
    pub moved: usize,
    /// Nails left out.
    pub left_out: usize,
    /// What bars them, by the number that `barred` gave.
    pub by: usize,
}

/// Clears the nails that `barred` gives a number for. `runs` are those that were laid.
pub fn keep_clear(
    spec: &EdgingSpec,
    runs: &[EdgeRun],
    edging: &mut Edging,
    barred: impl Fn(Point) -> Option<usize>,
) -> Vec<Spared> {
    let mut all = Vec::new();
    for (restraint, run) in edging.by_edge.iter_mut().zip(runs) {
        all.extend(clear_edge(spec, run, restraint, &barred));
    }
    edging.nails = edging.by_edge.iter().map(|edge| edge.nails).sum();
    let per_box = spec.nails_per_box.filter(|&per| per > 0);
    edging.boxes = per_box.map(|per| edging.nails.div_ceil(per as usize));
    all
}

fn clear_edge(
    spec: &EdgingSpec,
    run: &EdgeRun,
    restraint: &mut EdgeRestraint,
    barred: &impl Fn(Point) -> Option<usize>,
) -> Vec<Spared> {
    let path = Path::new(&run.edges);
    let mut spared: Vec<Spared> = Vec::new();
    for piece in &mut restraint.laid {
        let holes: Vec<(f64, Point)> = (0..hole_count(piece.length_mm, spec.holes))
            .map(|hole| piece.station_mm + (hole as f64 + 0.5) * spec.holes)
            .map(|station| (station, path.offset(station, spec.width / 2.0)))
            .collect();
        let nailed = |at: Point| piece.nails.iter().any(|nail| nail.distance(at) < 1e-6);
        let mut takes: Vec<bool> = holes.iter().map(|(_, at)| nailed(*at)).collect();
        let reach = spec.nail_every.max(spec.curve_nail_every) as usize;
        for hole in 0..holes.len() {
            let (station, at) = holes[hole];
            let Some(by) = barred(at).filter(|_| takes[hole]) else {
                continue;
            };
            takes[hole] = false;
            let free = (1..=reach)
                .flat_map(|step| [hole.checked_sub(step), hole.checked_add(step)])
                .flatten()
                .find(|&other| {
                    other < holes.len() && !takes[other] && barred(holes[other].1).is_none()
                });
            let entry = match spared.iter_mut().position(|s| s.by == by) {
                Some(index) => &mut spared[index],
                None => {
                    spared.push(Spared {
                        edge: restraint.edge.clone(),
                        stretch: [station, station],
                        moved: 0,
                        left_out: 0,
                        by,
                    });
                    let last = spared.len() - 1;
                    &mut spared[last]
                }
            };
            entry.stretch[1] = station;
            match free {
                Some(other) => {
                    takes[other] = true;
                    entry.moved += 1;
                }
                None => entry.left_out += 1,
            }
        }
        let kept = holes.iter().zip(&takes).filter(|(_, takes)| **takes);
        piece.nails = kept.map(|((_, at), _)| *at).collect();
    }
    restraint.nails = restraint.laid.iter().map(|piece| piece.nails.len()).sum();
    spared
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edging::lay;
    use crate::geom::Edge;

    /// A piece of 2,400 mm with holes every 100 mm from 50 mm on, a nail in every second and the
    /// last: 50, 250, …, 2250, 2350. Barred from 1,000 to 1,300 mm: 1050 moves down to 950, 1250
    /// finds 1350 free; barred from 1,000 to 1,700 mm: 1050 → 950, 1650 → 1750, 1250 and 1450 go.
    #[test]
    fn nails_move_to_the_nearest_free_hole_or_go() {
        let spec = EdgingSpec {
            piece: 2400.0,
            width: 50.0,
            holes: 100.0,
            nail_every: 2,
            curve_nail_every: 1,
            nail: 250.0,
            nail_diameter: 10.0,
            mass: 1.2,
            nails_per_box: Some(4),
        };
        let run = EdgeRun {
            name: "A-B".to_owned(),
            edges: vec![Edge::straight(
                Point::new(0.0, 0.0),
                Point::new(2400.0, 0.0),
            )],
        };
        let whole = lay(&spec, std::slice::from_ref(&run));
        for (to, moved, left_out) in [(1300.0, 2, 0), (1700.0, 2, 2)] {
            let mut edging = whole.clone();
            let bars = |at: Point| (at.x > 1000.0 && at.x < to).then_some(7);
            let spared = keep_clear(&spec, std::slice::from_ref(&run), &mut edging, bars);
            assert_eq!(spared.len(), 1);
            let one = &spared[0];
            assert_eq!((one.moved, one.left_out, one.by), (moved, left_out, 7));
            assert!((one.stretch[0] - 1050.0).abs() < 1e-9);
            assert_eq!(edging.nails, whole.nails - left_out);
            assert_eq!(edging.boxes, Some((whole.nails - left_out).div_ceil(4)));
            let nails = &edging.by_edge[0].laid[0].nails;
            assert!(nails.iter().all(|at| bars(*at).is_none()));
            assert!(nails.windows(2).all(|pair| pair[0].x < pair[1].x));
            assert!(nails.iter().any(|at| (at.x - 950.0).abs() < 1e-9));
        }
    }
}
