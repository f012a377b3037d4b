//! Levels: finish planes and where they meet, the way of the water, build-up and formation, ground
//! from spot levels, cut and fill, rod readings, set-out ties and stakes. Levels are millimetres,
//! up positive.

pub mod arcs;
pub mod backfill;
pub mod buried;
pub mod contours;
pub mod depths;
pub mod drains;
pub mod earthwork;
pub mod facet;
pub mod fit;
pub mod ground;
pub mod meet;
pub mod odd;
mod outline;
pub mod plane;
pub mod readings;
#[cfg(test)]
mod samples;
pub mod setout;
pub mod spec;
pub mod stakes;
pub mod strings;
mod triangles;
pub mod water;

pub use arcs::{ArcMarks, ArcPoint, arc_marks, centre_is_free};
pub use backfill::{Backfill, backfill};
pub use buried::{Buried, buried};
pub use contours::{Contour, contours, interval};
pub use depths::{DepthFigure, depth_grid, no_depth};
pub use drains::{DrainKind, DrainSpec, Rainfall};
pub use earthwork::{DigPart, Earthwork, Extreme, earthwork, loads};
pub use facet::Facet;
pub use fit::{Fit, best_plane, fit};
pub use ground::{Ground, Spread};
pub use meet::{Meet, MeetKind, meets};
pub use odd::{OddSpot, odd_spots};
pub use plane::{Plane, away_from, towards};
pub use readings::{LayerLevels, Readings};
pub use setout::{CornerTies, Diagonal, RightAngle, Side, diagonals, right_angle, ties};
pub use spec::{
    BackfillSpec, BuildUp, Datum, FallDirection, FinishSpec, FixedEdge, LevelsSpec, SillSpec, Spot,
    WallLevel,
};
pub use stakes::{Held, Stake, StakeLine, stakes};
pub use water::{Drained, Outlet, Water};
