//! Circles among the areas: the points that they are set out by and levelled at, and a base line
//! where nothing else gives one.
//!
//! In: the job, the direction of the base line. Out: names and places, in site millimetres. A circle
//! has no corners, so its quarter points take their place: from its centre along the base line and
//! square to it, anticlockwise.

use super::field::{obstacles, place_names};
use crate::geom::{Arc, Point, Vector, clip};
use crate::job::Job;
use crate::levels::centre_is_free;

/// The quarter points of a circle.
#[derive(Clone, Debug, PartialEq)]
pub struct Quarters {
    /// The area whose outline it is, by index.
    pub area: usize,
    /// Centre.
    pub centre: Point,
    /// Radius, in millimetres.
    pub radius: f64,
    /// Whether a tape from the centre reaches all of the circle.
    pub centre_free: bool,
    /// The points with their names, anticlockwise, the first along the base line.
    pub points: [(String, Point); 4],
}

/// An outer outline that is a circle.
struct Circle {
    /// The area, by index.
    area: usize,
    arc: Arc,
    /// Whether a tape from the centre reaches all of it.
    free: bool,
}

/// The outer outlines that are circles.
fn circles(job: &Job) -> Vec<Circle> {
    let obstacles = obstacles(job);
    let areas = job.site.areas.iter().enumerate();
    let circles = areas.filter_map(|(area, site)| {
        let edge = site.rings.first()?.edges.first()?;
        Some(Circle {
            area,
            arc: edge.edge.arc.filter(|_| edge.edge.is_circle())?,
            free: centre_is_free(&edge.edge, &obstacles),
        })
    });
    circles.collect()
}

/// The quarter points of every circle that is an area's outline; `along` is the direction of the
/// base line.
pub(super) fn quarters(job: &Job, along: Vector) -> Vec<Quarters> {
    let u = along.unit().unwrap_or(Vector::new(1.0, 0.0));
    let ways = [u, u.left(), -u, -u.left()];
    let circles = circles(job);
    let places = circles.iter().map(|circle| &circle.arc);
    let places = places.flat_map(|arc| ways.map(|way| arc.centre + way * arc.radius));
    let places: Vec<Point> = places.collect();
    let names = place_names(job, &["Q", "QP", "QT", "QTR"], &places);
    let mut named = names.into_iter().zip(places);
    circles
        .iter()
        .map(|circle| Quarters {
            area: circle.area,
            centre: circle.arc.centre,
            radius: circle.arc.radius,
            centre_free: circle.free,
            points: std::array::from_fn(|_| named.next().unwrap_or_default()),
        })
        .collect()
}

/// A base line for a job that has no straight edge: from the centre of the first circle whose centre
/// is free to its first quarter point, along x. Where something stands in the middle of each, along
/// a side of the first one's box: the lower side, or the next one round that runs clear of what
/// stands there.
pub(super) fn circle_line(job: &Job) -> Option<[(String, Point); 2]> {
    let prefixes = ["M", "MP", "MD", "MID"];
    let quarters = quarters(job, Vector::new(1.0, 0.0));
    if let Some(first) = quarters.iter().find(|circle| circle.centre_free) {
        let name = place_names(job, &prefixes, &[first.centre]);
        let [to, ..] = first.points.clone();
        return Some([(name.into_iter().next()?, first.centre), to]);
    }
    let first = quarters.first()?;
    let obstacles = obstacles(job);
    let sides = (0..4).map(|side| first.box_side(side));
    let mut clear = sides.clone().filter(|[from, to]| {
        !clip::contains(&obstacles, *from)
            && !clip::contains(&obstacles, *to)
            && clip::clip_lines(&[(*from, *to)], &obstacles).is_empty()
    });
    let ends = clear.next().or_else(|| sides.clone().next())?;
    let names = place_names(job, &prefixes, &ends);
    let [from, to] = <[String; 2]>::try_from(names).ok()?;
    Some([(from, ends[0]), (to, ends[1])])
}

impl Quarters {
    /// A side of the box round the circle, from corner to corner, the circle on its left: the lower
    /// one first, then anticlockwise.
    pub fn box_side(&self, side: usize) -> [Point; 2] {
        let (x, y) = (Vector::new(self.radius, 0.0), Vector::new(0.0, self.radius));
        let corners = [-x - y, x - y, x + y, y - x].map(|way| self.centre + way);
        [corners[side % 4], corners[(side + 1) % 4]]
    }
}
