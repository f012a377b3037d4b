//! The way of the water: where areas meet, where water leaves, what ground it meets outside, and
//! the drains with their catchments.

use geo::{Distance, Euclidean};

use super::{AreaDesign, BasePart};
use crate::geom::{Point, Shape, Vector, clip};
use crate::job::Job;
use crate::levels::water::bank::{Bank, banks};
use crate::levels::water::trace;
use crate::levels::{DrainKind, Ground, Meet, Outlet, Plane, Water, meets};

/// A drain stands on every area within this of it, in millimetres.
const ON: f64 = 10.0;
/// Pieces within this of a grate are cut to it, in millimetres.
const CUT: f64 = 0.1;

/// One drain as designed; millimetres unless a name says otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct DrainDesign {
    /// The grate on plan, anticlockwise; none for a downspout.
    pub grate: Option<[Point; 4]>,
    /// Finish level at its place, or at both ends of its line.
    pub finish: Vec<f64>,
    /// Rim level there: the finish less the set-down; empty for a downspout.
    pub rim: Vec<f64>,
    /// The paving that drains to it, its grate included, in square metres.
    pub catchment_m2: f64,
    /// The roofs whose downspouts it takes, or the downspout's own roof, in square metres.
    pub roof_m2: f64,
    /// Flow by the rational method in litres a second, where a rainfall is stated.
    pub flow: Option<f64>,
    /// Pavers cut round it.
    pub pavers_cut: usize,
    /// Panels cut round it.
    pub panels_cut: usize,
    /// For a downspout: where its water leaves, as an index into the outlets of the water.
    pub leaves: Option<usize>,
}

/// The grates of the job's drains, in order; empty for a downspout. A gully's sides run along the
/// start edge of the area that it stands on.
pub fn grates(job: &Job) -> Vec<Option<[Point; 4]>> {
    let along = |at: Point| {
        let on = job
            .site
            .areas
            .iter()
            .position(|area| clip::distance(&area.shape(), at) <= ON);
        let start = on.and_then(|area| job.paving_starts[area].as_ref().zip(on));
        let frame = start.and_then(|(start, area)| job.site.frame(start, area));
        frame.map_or(Vector::new(1.0, 0.0), |frame| frame.u)
    };
    let drains = job.drains.iter();
    drains
        .map(|drain| {
            let at = drain.kind.places().first().copied().unwrap_or_default();
            drain.kind.grate(along(at))
        })
        .collect()
}

/// All of the grates as one shape.
pub fn standing(grates: &[Option<[Point; 4]>]) -> Shape {
    let shapes = grates.iter().flatten();
    let shapes: Vec<Shape> = shapes.map(|grate| clip::shape_of_points(grate)).collect();
    clip::union(shapes.iter())
}

/// A shape less the grates in it.
pub fn less_grates(shape: &Shape, grates: &[Option<[Point; 4]>]) -> Shape {
    let grates = grates.iter().flatten();
    grates.fold(shape.clone(), |shape, grate| {
        clip::difference(&shape, &clip::shape_of_points(grate))
    })
}

/// Where areas meet, where their water leaves, and what ground it meets outside.
pub fn water(
    job: &Job,
    areas: &[AreaDesign],
    grates: &[Option<[Point; 4]>],
    ground: Option<&Ground>,
) -> (Vec<Meet>, Water, Vec<Bank>) {
    let planes: Vec<Plane> = areas.iter().map(|area| area.plane).collect();
    let nothing = || geo::MultiPolygon(Vec::new());
    let shapes: Vec<Shape> = grates
        .iter()
        .map(|grate| grate.map_or_else(nothing, |ring| clip::shape_of_points(&ring)))
        .collect();
    let poured: Vec<Point> = downspouts(job).map(|(_, at, _)| at).collect();
    let water = trace(&job.site, &planes, &shapes, &poured);
    let banks = ground.map_or_else(Vec::new, |ground| {
        // The lip of the dig, but never nearer than the ground can be told from the edge.
        let out = job.dig_extension.max(job.base_extension).max(1.0);
        let paved: Vec<&Shape> = areas.iter().map(|area| &area.shape).collect();
        banks(&water, ground, &planes, &job.site, &paved, out)
    });
    (meets(&job.site, &planes), water, banks)
}

/// The downspouts: index of the drain, place, roof in square metres.
fn downspouts(job: &Job) -> impl Iterator<Item = (usize, Point, f64)> {
    let drains = job.drains.iter().enumerate();
    drains.filter_map(|(index, drain)| match drain.kind {
        DrainKind::Downspout { at, roof_m2 } => Some((index, at, roof_m2)),
        _ => None,
    })
}

/// The drains with their rims, catchments and flows, and what is cut round them.
pub fn drains(
    job: &Job,
    areas: &[AreaDesign],
    base: &[BasePart],
    grates: &[Option<[Point; 4]>],
    water: &Water,
) -> Vec<DrainDesign> {
    let poured: Vec<(usize, f64, Option<usize>)> = downspouts(job)
        .zip(&water.from)
        .map(|((index, _, roof), leaves)| (index, roof, *leaves))
        .collect();
    let designed = job.drains.iter().enumerate().map(|(index, drain)| {
        let places = drain.kind.places();
        let finish: Vec<f64> = places.iter().map(|at| finish(areas, *at)).collect();
        let set_down = drain.kind.set_down();
        let rim = match set_down {
            Some(down) => finish.iter().map(|level| level - down).collect(),
            None => Vec::new(),
        };
        let own = poured.iter().find(|(drain, ..)| *drain == index);
        let taken = |leaves: &Option<usize>| {
            leaves.is_some_and(|outlet| water.outlets[outlet].outlet == Outlet::Drain(index))
        };
        let roof_m2 = match own {
            Some((_, roof, _)) => *roof,
            None => {
                let taken = poured.iter().filter(|(.., leaves)| taken(leaves));
                taken.map(|(_, roof, _)| roof).sum()
            }
        };
        let catchment_m2 = water.catchment(index) / 1e6;
        let shape = grates[index].map(|ring| clip::shape_of_points(&ring));
        let [pavers_cut, panels_cut] = shape.map_or([0, 0], |shape| cuts(areas, base, &shape));
        DrainDesign {
            grate: grates[index],
            finish,
            rim,
            catchment_m2,
            roof_m2,
            flow: job.rainfall.map(|rain| rain.flow(catchment_m2 + roof_m2)),
            pavers_cut,
            panels_cut,
            leaves: own.and_then(|(.., leaves)| *leaves),
        }
    });
    designed.collect()
}

/// The finish at a place: the lowest of the areas that it stands on.
fn finish(areas: &[AreaDesign], at: Point) -> f64 {
    let on = areas
        .iter()
        .filter(|area| clip::distance(&area.shape, at) <= ON);
    let lowest = on
        .map(|area| area.plane.level_at(at))
        .fold(f64::INFINITY, f64::min);
    if lowest.is_finite() {
        return lowest;
    }
    areas.first().map_or(0.0, |area| area.plane.level_at(at))
}

/// Pavers and panels that are cut to a grate.
fn cuts(areas: &[AreaDesign], base: &[BasePart], grate: &Shape) -> [usize; 2] {
    let bounds = clip::bounds(grate);
    let cut_to = |shape: &Shape| {
        let near = clip::bounds(shape)
            .zip(bounds)
            .is_some_and(|(a, b)| a.near(b, CUT));
        near && Euclidean.distance(shape, grate) <= CUT
    };
    let courses = areas.iter().flat_map(|area| &area.paving.courses);
    let pavers = courses
        .flat_map(|laid| &laid.cut)
        .filter(|cut| cut_to(&cut.shape));
    let pieces = base.iter().flat_map(|part| &part.layout.pieces);
    let panels = pieces.filter(|piece| !piece.whole && cut_to(&piece.shape));
    [pavers.count(), panels.count()]
}
