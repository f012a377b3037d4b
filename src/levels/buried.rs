//! Buried services against the dig: where the tolerance zone runs in it, and how much earth stays
//! over a service.
//!
//! In: the course of a service with the depth or level of its top, the parts of the dig and the
//! ground, millimetres. Out: the zone, the band of the dig in it, and the least cover, formation
//! less top of the service, with its place. Both are straight between the breaks of the ground
//! along the course, so the least is exact. Without spot levels the ground is taken at finish
//! level, as everywhere. The zone's round ends and bends are flattened.

use super::earthwork::{DigPart, Extreme};
use super::ground::Ground;
use crate::geom::{Point, Ring, Shape, clip};
use crate::site::{ServiceSpec, ServiceTop};

/// A service against the dig.
#[derive(Clone, Debug, PartialEq)]
pub struct Buried {
    /// The tolerance zone: everything within the stated distance of the course.
    pub zone: Shape,
    /// The part of the dig in the zone, to be dug by hand.
    pub band: Shape,
    /// Length of the course within the dig, in millimetres.
    pub in_dig: f64,
    /// Least cover over the service under the dig, negative where the formation is deeper than its
    /// top; `None` when its depth is not known or its course stays out of the dig.
    pub cover: Option<Extreme>,
}

/// Compares a service with the dig.
pub fn buried(
    service: &ServiceSpec,
    parts: &[DigPart],
    dig: &Shape,
    ground: Option<&Ground>,
) -> Buried {
    let zone = zone(&service.line, service.zone);
    let mut in_dig = 0.0;
    let mut cover: Option<Extreme> = None;
    for part in parts {
        let course: Vec<(Point, Point)> = service.line.windows(2).map(|p| (p[0], p[1])).collect();
        for (from, to) in clip::clip_lines(&course, &part.shape) {
            in_dig += from.distance(to);
            for at in breaks(from, to, ground) {
                let Some(top) = top(service, at, part, ground) else {
                    continue;
                };
                let value = part.finish.formation(part.build_up).level_at(at) - top;
                if cover.is_none_or(|least| value < least.value) {
                    cover = Some(Extreme { value, at });
                }
            }
        }
    }
    Buried {
        band: clip::intersection(&zone, dig),
        zone,
        in_dig,
        cover,
    }
}

/// The level of a service's top at a place over its zone; `None` when it is not known.
pub fn top(
    service: &ServiceSpec,
    at: Point,
    part: &DigPart,
    ground: Option<&Ground>,
) -> Option<f64> {
    match service.top? {
        ServiceTop::Level(level) => Some(level),
        ServiceTop::Depth(depth) => Some(surface(at, part, ground) - depth),
    }
}

/// The level that depths count from, in millimetres: the ground, or the finish where none was
/// measured.
pub fn surface(at: Point, part: &DigPart, ground: Option<&Ground>) -> f64 {
    match ground {
        Some(ground) => ground.level_at(at),
        None => part.finish.level_at(at),
    }
}

/// Ends of a stretch and where the ground breaks between them.
fn breaks(from: Point, to: Point, ground: Option<&Ground>) -> Vec<Point> {
    let (Some(ground), Some(along)) = (ground, (to - from).unit()) else {
        return vec![from, to];
    };
    let stations = ground.profile(from, to).into_iter();
    stations.map(|[s, _]| from + along * s).collect()
}

/// Everything within a distance of a run of points.
fn zone(line: &[Point], distance: f64) -> Shape {
    let round = line
        .iter()
        .map(|at| clip::shape_of(&Ring::circle(*at, distance)));
    let strips = line.windows(2).filter_map(|pair| {
        let out = (pair[1] - pair[0]).unit()?.left() * distance;
        Some(clip::shape_of_points(&[
            pair[0] + -out,
            pair[1] + -out,
            pair[1] + out,
            pair[0] + out,
        ]))
    });
    let all: Vec<Shape> = round.chain(strips).collect();
    clip::union(&all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::samples::{part, spot};
    use crate::site::ServiceKind;

    fn service(top: Option<ServiceTop>, line: &[(f64, f64)]) -> ServiceSpec {
        ServiceSpec {
            name: "Gas".to_owned(),
            kind: ServiceKind::Gas,
            line: line.iter().map(|(x, y)| Point::new(*x, *y)).collect(),
            top,
            zone: 500.0,
        }
    }

    /// Ground rises from 0 to 400 along x, then falls to 200 at x = 4 m; the service lies 450 under
    /// it: tops −450 at x = 0, −50 at 2 m, −250 at 4 m. Formation −100: least cover −50 at 2 m.
    #[test]
    fn cover_is_least_where_the_ground_breaks() {
        let spots = [
            spot(0.0, -10.0, 0.0),
            spot(2000.0, -10.0, 400.0),
            spot(4000.0, -10.0, 200.0),
            spot(0.0, 3010.0, 0.0),
            spot(2000.0, 3010.0, 400.0),
            spot(4000.0, 3010.0, 200.0),
        ];
        let ground = Ground::through(&spots);
        let part = part();
        let line = [(-1000.0, 1500.0), (5000.0, 1500.0)];
        let gas = service(Some(ServiceTop::Depth(450.0)), &line);
        let found = buried(
            &gas,
            std::slice::from_ref(&part),
            &part.shape,
            ground.as_ref(),
        );
        let cover = found.cover.expect("a depth is stated");
        assert!((cover.value + 50.0).abs() < 1e-3, "{cover:?}");
        assert!((cover.at.x - 2000.0).abs() < 1.0);
        assert!((found.in_dig - 4000.0).abs() < 1e-6);
        // The band: 1 m wide over 4 m.
        assert!((clip::area(&found.band) - 4e6).abs() < 10.0);
    }

    #[test]
    fn a_service_beside_the_dig_has_a_band_but_no_cover() {
        let part = part();
        let water = service(
            Some(ServiceTop::Level(-300.0)),
            &[(-200.0, -50.0), (-200.0, 4000.0)],
        );
        let found = buried(&water, std::slice::from_ref(&part), &part.shape, None);
        assert_eq!((found.in_dig, found.cover), (0.0, None));
        assert!((clip::area(&found.band) - 0.3 * 3e6).abs() < 2e3);
        let far = service(None, &[(-900.0, -50.0), (-900.0, 4000.0)]);
        let found = buried(&far, std::slice::from_ref(&part), &part.shape, None);
        assert!(found.band.0.is_empty());
    }
}
