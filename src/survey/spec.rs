//! How points were measured: the input of the survey.

use crate::geom::Point;

/// A named point and how it was measured, in the order the job writes them.
#[derive(Clone, Debug, PartialEq)]
pub struct PointSpec {
    /// The point's name.
    pub name: String,
    /// The measurement that places it.
    pub measured: Measured,
    /// Further tapes beyond the two that place it; each gives a residual.
    pub redundant: Vec<Redundant>,
}

/// A measurement that places a point.
#[derive(Clone, Debug, PartialEq)]
pub enum Measured {
    /// Coordinates in the site frame.
    At(Point),
    /// Two taped distances, in millimetres, from two named points.
    Tie {
        /// The points taped from, in the order written.
        from: [String; 2],
        /// The distances, in millimetres.
        distance: [f64; 2],
        /// Whether the point lies left of the line from the first to the second.
        left: bool,
    },
    /// Station along a line between two named points and offset square from it, in millimetres.
    Offset {
        /// The base line's ends.
        along: [String; 2],
        /// Station from the first end.
        at: f64,
        /// Offset: left of the line, negative right.
        out: f64,
    },
}

/// A further taped distance to a point that is already placed.
#[derive(Clone, Debug, PartialEq)]
pub struct Redundant {
    /// The point taped from.
    pub from: String,
    /// The distance, in millimetres.
    pub distance: f64,
}

/// A traverse: legs walked from a known point.
#[derive(Clone, Debug, PartialEq)]
pub struct Traverse {
    /// Where it starts.
    pub start: String,
    /// Bearing of the back line at the start, in degrees clockwise from up the plan.
    pub back_bearing: f64,
    /// The legs in order.
    pub legs: Vec<Leg>,
    /// Whether the compass (Bowditch) rule spreads the misclosure over the legs.
    pub adjust: bool,
    /// Limit of the misclosure: the n of 1:n.
    pub limit: f64,
}

/// One leg of a traverse.
#[derive(Clone, Debug, PartialEq)]
pub struct Leg {
    /// The point it ends at.
    pub to: String,
    /// How its direction was taken.
    pub turning: Turning,
    /// Its length, in millimetres.
    pub distance: f64,
}

/// How a leg's direction was taken, in degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turning {
    /// Angle to the right (clockwise) from the back line.
    Turn(f64),
    /// Bearing, clockwise from up the plan.
    Bearing(f64),
}
