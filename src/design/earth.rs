//! The earth on plan: contours of the existing ground, and how deep the dig is where.
//!
//! In: the job, the parts of the dig and the ground. Out: [`EarthPlan`], in millimetres. Intervals
//! and spacings are round figures in the units that the sheet prints.

use crate::geom::Frame;
use crate::job::Job;
use crate::levels::{self, Contour, DepthFigure, DigPart, Ground, contours};
use crate::units::System;

/// Most contours on a plan: more lines than this crowd it (common practice, no source).
const MOST_CONTOURS: usize = 12;
/// Most figures of depth on a plan.
const MOST_FIGURES: f64 = 60.0;
/// Intervals between contours, in decimal feet: levels are printed in them.
const FEET: [f64; 9] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
/// Intervals between contours, metric, in millimetres.
const METRIC: [f64; 9] = [
    20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0,
];
/// Spacings of the grid of depths, in feet and in metres.
const GRID_FEET: [f64; 7] = [2.0, 4.0, 5.0, 10.0, 20.0, 50.0, 100.0];
/// Spacings of the grid of depths, metric, in millimetres.
const GRID_METRIC: [f64; 7] = [500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0, 50_000.0];
/// A foot, in millimetres.
const FOOT: f64 = 304.8;

/// What the plan shows of the earth; there is one only when spot levels are given.
#[derive(Clone, Debug, PartialEq)]
pub struct EarthPlan {
    /// The ground.
    pub ground: Ground,
    /// Interval between contours; `None` when the ground is level or its spots are in a line.
    pub interval: Option<f64>,
    /// Contours, lowest first.
    pub contours: Vec<Contour>,
    /// Spacing of the figures of depth.
    pub spacing: f64,
    /// Figures of depth on a grid along the first area's start edge.
    pub depths: Vec<DepthFigure>,
    /// Where cut turns to fill: stretches with the cut on their left.
    pub no_depth: Vec<[crate::geom::Point; 2]>,
}

/// The earth on plan; `None` without spot levels.
pub fn earth_plan(
    job: &Job,
    parts: &[DigPart],
    area_mm2: f64,
    frame: &Frame,
    ground: Option<&Ground>,
) -> Option<EarthPlan> {
    let ground = ground?.clone();
    let metric = job.sheet.units == System::Metric;
    let intervals = if metric {
        METRIC
    } else {
        FEET.map(|feet| feet * FOOT)
    };
    let grid = if metric {
        GRID_METRIC
    } else {
        GRID_FEET.map(|feet| feet * FOOT)
    };
    let interval = levels::interval(ground.spots(), &intervals, MOST_CONTOURS);
    let contours = interval.map_or(Vec::new(), |interval| contours(&ground, interval));
    let spacing = grid
        .into_iter()
        .find(|spacing| area_mm2 / (spacing * spacing) <= MOST_FIGURES)
        .unwrap_or(grid[grid.len() - 1]);
    Some(EarthPlan {
        interval: interval.filter(|_| !contours.is_empty()),
        contours,
        spacing,
        depths: levels::depth_grid(parts, &ground, frame, spacing),
        no_depth: levels::no_depth(parts, &ground),
        ground,
    })
}
