//! Banks: edges that water leaves over with the soil beyond them higher than the finish.
//!
//! In: where the water leaves, the site, the ground from spot levels, the finish planes. Out: for
//! each open edge and each edge of a hole with soil in it, the greatest height of the ground above
//! the finish at the edge, and where. Taken every `EVERY` along the edge and at its ends, at the lip
//! of the dig, where the ground stays as it is; at the edge itself where nothing is measured at the
//! lip or a hole is too narrow for one. What lies outside the spots' hull is no measurement. Levels
//! and lengths in millimetres.

use geo::{Distance, Euclidean};

use super::{Outlet, Water};
use crate::geom::{Bounds, Point, Shape, Vector, clip};
use crate::levels::ground::Ground;
use crate::levels::plane::Plane;
use crate::site::{Site, StructureKind};

/// Ground beyond an edge may stand this far above the finish: what spot levels do not tell, in
/// millimetres.
pub const UNTOLD: f64 = 6.0;
/// Heights within this are equal, in millimetres.
const SAME: f64 = 0.5;
/// Distance between places looked at, in millimetres.
const EVERY: f64 = 100.0;
/// A structure within this of an edge stands at it, in millimetres.
const FACE: f64 = 10.0;
/// A place within this of a hole is on its edge, in millimetres.
const ON: f64 = 1.0;

/// Ground beyond an edge, above the finish.
#[derive(Clone, Debug, PartialEq)]
pub struct Bank {
    /// Index of the area.
    pub area: usize,
    /// Name of the edge.
    pub edge: String,
    /// How far the ground stands above the finish; below it when negative.
    pub above: f64,
    /// Where on the edge.
    pub at: Point,
    /// The trees that stand in the hole that the edge is of, by index of structure.
    pub trees: Vec<usize>,
}

impl Bank {
    /// Whether it holds the water back until it is graded away.
    pub fn holds(&self) -> bool {
        holds(self.above)
    }
}

/// Whether ground so far above the finish beside it holds the water back.
pub fn holds(above: f64) -> bool {
    above > UNTOLD + SAME
}

/// The ground beyond each edge that water leaves over onto soil, in the order of the outlets: at the
/// place where it stands highest above the finish. `planes` and `paved` have one entry an area; `out`
/// is the distance from an edge to the lip of the dig.
pub fn banks(
    water: &Water,
    ground: &Ground,
    planes: &[Plane],
    site: &Site,
    paved: &[&Shape],
    out: f64,
) -> Vec<Bank> {
    let land = Land::new(site, paved, out);
    let mut banks = Vec::new();
    for drained in &water.outlets {
        let Some((area, edge)) = onto_soil(site, &drained.outlet) else {
            continue;
        };
        let holes = match drained.outlet {
            Outlet::Open { .. } => None,
            _ => Some(holes(site, area, edge)),
        };
        let above = |(at, way): (Point, Vector)| {
            let soil = match &holes {
                None => land.outside(at, way),
                Some(holes) => land.in_hole(area, holes, at, way),
            };
            let mut soil = soil.into_iter().flatten();
            let told = soil.find(|soil| !ground.is_extrapolated(*soil))?;
            Some((ground.level_at(told) - planes[area].level_at(at), at))
        };
        let places = drained.reached.iter().flat_map(|stretch| along(*stretch));
        let highest = places.filter_map(above).max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((above, at)) = highest {
            banks.push(Bank {
                area,
                edge: edge.to_string(),
                above,
                at,
                trees: holes.map_or_else(Vec::new, |holes| trees(site, &holes, at)),
            });
        }
    }
    banks
}

/// The area and the edge of an outlet that may lead onto soil. Water runs round a post in a hole.
fn onto_soil<'a>(site: &Site, outlet: &'a Outlet) -> Option<(usize, &'a str)> {
    match outlet {
        Outlet::Open { area, edge } => Some((*area, edge)),
        Outlet::Hole {
            area,
            edge,
            structure,
        } => {
            let kind = structure.map(|index| site.structures[index].kind);
            (kind != Some(StructureKind::Post)).then_some((*area, edge))
        }
        _ => None,
    }
}

/// The holes of an area that have an edge of a name: one, or all round ones; none for an edge of the
/// outer outline along a pool.
fn holes(site: &Site, area: usize, edge: &str) -> Vec<Shape> {
    let holes = site.areas[area].rings.iter().skip(1);
    let named = holes.filter(|ring| ring.edges.iter().any(|known| known.name == edge));
    named.map(|ring| clip::shape_of(&ring.ring())).collect()
}

/// Those of the holes that a place is on the edge of.
fn of_place(holes: &[Shape], at: Point) -> impl Iterator<Item = &Shape> {
    let on = move |hole: &&Shape| clip::distance(hole, at) <= ON;
    holes.iter().filter(on)
}

/// The trees whose middle lies in the hole that a place is on the edge of.
fn trees(site: &Site, holes: &[Shape], at: Point) -> Vec<usize> {
    let middle = |bounds: Bounds| bounds.min.midpoint(bounds.max);
    let stands = |index: &usize| {
        let structure = &site.structures[*index];
        let Some(middle) = structure.ring.bounds().map(middle) else {
            return false;
        };
        structure.kind == StructureKind::Tree
            && of_place(holes, at).any(|hole| clip::contains(hole, middle))
    };
    (0..site.structures.len()).filter(stands).collect()
}

/// Where there is soil on the site.
struct Land<'a> {
    paved: &'a [&'a Shape],
    built: Vec<Shape>,
    out: f64,
}

impl<'a> Land<'a> {
    fn new(site: &Site, paved: &'a [&'a Shape], out: f64) -> Self {
        let built = site.structures.iter().map(|s| clip::shape_of(&s.ring));
        Self {
            paved,
            built: built.collect(),
            out,
        }
    }

    /// The places whose ground tells of the soil beyond a place on an outer edge, the better first;
    /// none where the lip of the dig lies in paving or a structure.
    fn outside(&self, at: Point, way: Vector) -> [Option<Point>; 2] {
        let lip = at + way * self.out;
        match self.is_free(lip, None) {
            true => [Some(lip), Some(at)],
            false => [None, None],
        }
    }

    /// The same for a place on the edge of a hole of an area; at the edge itself where the lip would
    /// lie across the hole or in what stands in it; none where that stands at the edge.
    fn in_hole(&self, area: usize, holes: &[Shape], at: Point, way: Vector) -> [Option<Point>; 2] {
        let lip = at + way * self.out;
        let within = of_place(holes, at).any(|hole| clip::contains(hole, lip));
        let soil = of_place(holes, at).next().is_some();
        [
            (within && self.is_free(lip, Some(area))).then_some(lip),
            (soil && self.is_free(at + way * FACE, Some(area))).then_some(at),
        ]
    }

    /// Whether a place is in no structure and in no paving, that of an area aside whose hole it is
    /// in. Beyond an outer edge it is in none on the face of one: the edge may end at a wall that
    /// runs on.
    fn is_free(&self, at: Point, aside: Option<usize>) -> bool {
        let paved = self.paved.iter().enumerate();
        let paved = paved.filter(|(area, _)| Some(*area) != aside);
        let mut taken = paved.map(|(_, shape)| *shape).chain(&self.built);
        let on_face = |shape: &Shape| aside.is_none() && to_rim(shape, at) <= ON;
        !taken.any(|shape| clip::contains(shape, at) && !on_face(shape))
    }
}

/// Distance from a place to the outline of a shape, its holes' outlines included.
fn to_rim(shape: &Shape, at: Point) -> f64 {
    let at = geo::Point::new(at.x, at.y);
    let rims = shape
        .iter()
        .flat_map(|polygon| std::iter::once(polygon.exterior()).chain(polygon.interiors()));
    rims.map(|rim| Euclidean.distance(&at, rim))
        .fold(f64::INFINITY, f64::min)
}

/// Places along a stretch of edge, each with the way out of the paving.
fn along([from, to]: [Point; 2]) -> Vec<(Point, Vector)> {
    let Some(way) = (to - from).unit() else {
        return Vec::new();
    };
    let length = from.distance(to);
    let count = (length / EVERY).ceil().max(1.0);
    let places = (0..=count as usize).map(|k| from + way * (length * k as f64 / count));
    places.map(|at| (at, way.left() * -1.0)).collect()
}
