//! What tests of levels are made of.

use super::{BuildUp, DigPart, Plane, Spot};
use crate::geom::{Point, clip};

/// A spot level.
pub fn spot(x: f64, y: f64, level: f64) -> Spot {
    Spot {
        at: Point::new(x, y),
        level,
    }
}

/// A level dig of 4 m by 3 m under a finish at nought.
pub fn part() -> DigPart {
    let corners = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)];
    DigPart {
        shape: clip::shape_of_points(&corners.map(|(x, y)| Point::new(x, y))),
        finish: Plane::flat(0.0),
        build_up: BuildUp {
            paver: 60.0,
            panel: 20.0,
            bedding_loose: 30.0,
            bedding_compacted: 20.0,
        },
    }
}
