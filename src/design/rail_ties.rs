//! Where the screed rails begin and end, taped from the base line.
//!
//! In: the rails as laid. Out: [`RailRun`]s, in site millimetres; none where the rails run square to
//! the first area's frame, since chains of dimensions on the plan then give them.

use super::AreaDesign;
use super::field::place_names;
use crate::geom::{Point, Vector};
use crate::job::Job;
use crate::levels::{CornerTies, ties};
use crate::screed::Rails;

/// Rails within this of a frame's axis, as the sine of the angle, are dimensioned along it.
pub const SQUARE: f64 = 0.01;

/// One run of a rail.
#[derive(Clone, Debug, PartialEq)]
pub struct RailRun {
    /// Its name on plan and in the table.
    pub name: String,
    /// Its high end and its low end.
    pub ends: [Point; 2],
    /// Tapes from the base line's ends to both.
    pub ties: [CornerTies; 2],
}

/// Whether rails down a fall run along or square to a frame's axis, so that a chain of dimensions
/// on the plan gives them.
fn rails_are_square(areas: &[AreaDesign], downhill: Vector) -> bool {
    areas.first().is_some_and(|area| {
        let mut axes = [area.frame.u, area.frame.v].into_iter();
        axes.any(|axis| downhill.dot(axis).abs() < SQUARE)
    })
}

/// The runs of the rails, rail by rail, each from its high end.
pub(super) fn rail_runs(
    job: &Job,
    areas: &[AreaDesign],
    base_line: &[(String, Point); 2],
    (rails, downhill): (&Rails, Vector),
) -> Vec<RailRun> {
    if rails_are_square(areas, downhill) {
        return Vec::new();
    }
    let base = [base_line[0].1, base_line[1].1];
    let runs: Vec<[Point; 2]> = rails.rails.iter().flat_map(|r| r.runs.clone()).collect();
    let begins: Vec<Point> = runs.iter().map(|run| run[0]).collect();
    let names = place_names(job, &["R", "RL", "RA", "RAIL"], &begins);
    runs.into_iter()
        .zip(names)
        .map(|(ends, name)| RailRun {
            name,
            ends,
            ties: ends.map(|end| ties(base, end)),
        })
        .collect()
}
