//! Circles among the areas: the points that they are set out by and levelled at, and a base line
//! where nothing else gives one.
//!
//! In: the job, the direction of the base line. Out: names and places, in site millimetres. A circle
//! has no corners, so its quarter points take their place: from its centre along the base line and
//! square to it, anticlockwise.

use super::field::place_names;
use crate::geom::{Arc, Point, Vector};
use crate::job::Job;

/// The quarter points of a circle.
#[derive(Clone, Debug, PartialEq)]
pub struct Quarters {
    /// The area whose outline it is, by index.
    pub area: usize,
    /// Centre.
    pub centre: Point,
    /// Radius, in millimetres.
    pub radius: f64,
    /// The points with their names, anticlockwise, the first along the base line.
    pub points: [(String, Point); 4],
}

/// The outer outlines that are circles, with the areas that have them.
fn outlines(job: &Job) -> impl Iterator<Item = (usize, Arc)> {
    let areas = job.site.areas.iter().enumerate();
    areas.filter_map(|(index, area)| {
        let edge = area.rings.first()?.edges.first()?;
        let arc = edge.edge.arc.filter(|_| edge.edge.is_circle())?;
        Some((index, arc))
    })
}

/// The quarter points of every circle that is an area's outline; `along` is the direction of the
/// base line.
pub(super) fn quarters(job: &Job, along: Vector) -> Vec<Quarters> {
    let u = along.unit().unwrap_or(Vector::new(1.0, 0.0));
    let ways = [u, u.left(), -u, -u.left()];
    let places = outlines(job).flat_map(|(_, arc)| ways.map(|way| arc.centre + way * arc.radius));
    let places: Vec<Point> = places.collect();
    let names = place_names(job, &["Q", "QP", "QT", "QTR"], &places);
    let mut named = names.into_iter().zip(places);
    outlines(job)
        .map(|(area, arc)| Quarters {
            area,
            centre: arc.centre,
            radius: arc.radius,
            points: std::array::from_fn(|_| named.next().unwrap_or_default()),
        })
        .collect()
}

/// A base line for a job whose first outline is a circle: from its centre to its first quarter
/// point, along x.
pub(super) fn centre_line(job: &Job) -> Option<[(String, Point); 2]> {
    let first = quarters(job, Vector::new(1.0, 0.0)).into_iter().next()?;
    let name = place_names(job, &["M", "MP", "MD", "MID"], &[first.centre]);
    let [to, ..] = first.points;
    Some([(name.into_iter().next()?, first.centre), to])
}
