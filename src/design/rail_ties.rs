//! Where the screed rails begin and end, taped from the base line.
//!
//! In: the rails as laid. Out: [`RailRun`]s, in site millimetres; none where all rails run
//! along or square to the first area's frame, since chains of dimensions on the plan then give them.

use super::AreaDesign;
use super::field::place_names;
use crate::geom::{Point, Vector};
use crate::job::Job;
use crate::levels::{CornerTies, ties};
use crate::screed::{RailPart, Rails};

/// Rails within this of square to a direction, as the cosine of the angle, are dimensioned along it.
const SQUARE: f64 = 0.01;

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

/// Rails of two parts nearer than this across their fall are too near for one chain, unless they
/// are in one line; in millimetres.
const CLOSE: f64 = 300.0;
/// Rails nearer than this across their fall are in one line, in millimetres.
pub const IN_LINE: f64 = 8.0;

/// Whether the rails of a part run square to a direction, so that a chain along it gives them.
pub fn run_square(part: &RailPart, along: Vector) -> bool {
    part.downhill.dot(along).abs() < SQUARE
}

/// Whether chains of dimensions on the plan give the rails: those of each part run along or square
/// to the first area's frame, and where parts' rails stand in one chain they can be told apart.
fn are_chained(areas: &[AreaDesign], rails: &Rails) -> bool {
    let Some(frame) = areas.first().map(|area| area.frame) else {
        return false;
    };
    let axes = [frame.u, frame.v];
    let mut parts = rails.parts.iter().filter(|part| !part.rails.is_empty());
    parts.all(|part| axes.iter().any(|axis| run_square(part, *axis)))
        && axes.iter().all(|axis| {
            let parts = rails.parts.iter().enumerate();
            let parts = parts.filter(|(_, part)| run_square(part, *axis));
            let stations = parts.flat_map(|(index, part)| {
                let runs = part.rails.iter().filter_map(|rail| rail.runs.first());
                runs.map(move |run| (index, (run[0] - Point::default()).dot(*axis)))
            });
            let mut stations: Vec<(usize, f64)> = stations.collect();
            stations.sort_by(|a, b| a.1.total_cmp(&b.1));
            stations.windows(2).all(|pair| {
                let apart = pair[1].1 - pair[0].1;
                pair[0].0 == pair[1].0 || apart <= IN_LINE || apart >= CLOSE
            })
        })
}

/// The runs of the rails, rail by rail, each from its high end.
pub(super) fn rail_runs(
    job: &Job,
    areas: &[AreaDesign],
    base_line: &[(String, Point); 2],
    rails: &Rails,
) -> Vec<RailRun> {
    if are_chained(areas, rails) {
        return Vec::new();
    }
    let base = [base_line[0].1, base_line[1].1];
    let runs: Vec<[Point; 2]> = rails.runs().collect();
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
