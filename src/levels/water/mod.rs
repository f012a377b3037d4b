//! Where the water of the paving leaves: every part of each area traced down its fall.
//!
//! In: the site with what its edges meet, one finish plane an area, the drains as shapes on plan.
//! Out: [`Water`]: the outlets with the area that drains to each, and the parts of the areas by
//! outlet. Water on a plane runs straight down its gradient, so that each area is cut into strips
//! along the fall, each from an upper side to a lower side of the outline (trapezoidal
//! decomposition); the areas are exact but for the chords of arcs. Across a shared edge water goes
//! on in the next area where that lies level with or below it and falls away; a step up and a
//! valley hold it, and it runs along the edge to the lower end. Millimetres.
//!
//! Left out: what stands on the finished surface (`on_paving`), whose foot is no edge of an outline
//! to trace water to: on a plane it only splits what comes to it, and water closes again behind it;
//! depth and spread of the water, what soaks into the joints, what splashes over a step up. Water
//! that follows an edge is a line without breadth.

pub mod bank;
mod ends;
mod joint;
mod path;
mod side;
mod strip;
mod thread;

use crate::geom::{Point, Shape};
use crate::levels::plane::Plane;
use crate::site::Site;

/// What water reaches at the end of its way.
#[derive(Clone, Debug, PartialEq)]
pub enum Outlet {
    /// An open edge, by area and name: lawn, planting.
    Open {
        /// Index of the area.
        area: usize,
        /// Name of the edge.
        edge: String,
    },
    /// A flush edge, by area and name: a kerb, a slab.
    Flush {
        /// Index of the area.
        area: usize,
        /// Name of the edge.
        edge: String,
    },
    /// The face of a wall or a building.
    Wall {
        /// Index of the area.
        area: usize,
        /// Name of the edge.
        edge: String,
    },
    /// A hole in the paving, or a pool beside it.
    Hole {
        /// Index of the area.
        area: usize,
        /// Name of the edge.
        edge: String,
        /// The structure in it, when there is one, by index.
        structure: Option<usize>,
    },
    /// A drain, by index.
    Drain(usize),
    /// Nothing: the water stands at a low point of the paving.
    Held {
        /// Index of an area that the low point is in.
        area: usize,
        /// The low point.
        at: Point,
    },
}

impl Outlet {
    /// The word that reports use.
    pub const fn word(&self) -> &'static str {
        match self {
            Outlet::Open { .. } => "open",
            Outlet::Flush { .. } => "flush",
            Outlet::Wall { .. } => "wall",
            Outlet::Hole { .. } => "hole",
            Outlet::Drain(_) => "drain",
            Outlet::Held { .. } => "held",
        }
    }
}

/// The words of [`Outlet::word`], in the order that reports list them.
pub const OUTLETS: [&str; 6] = ["open", "flush", "wall", "hole", "drain", "held"];

/// One outlet and what drains to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Drained {
    /// Where the water leaves.
    pub outlet: Outlet,
    /// The area that drains to it, on plan, in square millimetres.
    pub area_mm2: f64,
    /// Its share of all that was traced.
    pub share: f64,
    /// A place on it: the low point, or the middle of the stretch that most water reaches.
    pub at: Point,
    /// The stretches of edge that water reaches across their whole length, the paving on the left.
    pub reached: Vec<[Point; 2]>,
}

/// A part of an area that drains to one outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Index of the area.
    pub area: usize,
    /// Its corners: two up the fall, two down.
    pub ring: [Point; 4],
    /// Index into [`Water::outlets`].
    pub outlet: usize,
}

/// Where the water of the paving leaves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Water {
    /// The outlets, in the order first reached.
    pub outlets: Vec<Drained>,
    /// Every part of the paving by its outlet; the surface of a drain itself is none of them.
    pub parts: Vec<Part>,
    /// All that was traced, the drains' own surfaces included, in square millimetres.
    pub area_mm2: f64,
    /// For each point asked for, the index of the outlet that water poured out there reaches.
    pub from: Vec<Option<usize>>,
}

impl Water {
    /// Share of the area whose water leaves by outlets of a word, from 0 to 1.
    pub fn share(&self, word: &str) -> f64 {
        let of = self.outlets.iter().filter(|o| o.outlet.word() == word);
        of.map(|drained| drained.share).sum()
    }

    /// The area that drains into a drain, its own surface included, in square millimetres.
    pub fn catchment(&self, drain: usize) -> f64 {
        let of = self
            .outlets
            .iter()
            .filter(|o| o.outlet == Outlet::Drain(drain));
        of.map(|drained| drained.area_mm2).sum()
    }
}

/// Traces the water of a site. `planes` has one finish plane an area, `drains` the outlines of the
/// drains on plan, and `poured` places on the paving where water comes onto it.
pub fn trace(site: &Site, planes: &[Plane], drains: &[Shape], poured: &[Point]) -> Water {
    path::Tracer::new(site, planes, drains).run(poured)
}

#[cfg(test)]
mod tests;
