//! What each edge meets, stretch by stretch: found from the other areas and the structures.
//!
//! In: one edge, paving on its left, and what stands about. Out: fractions of the edge with what
//! they meet. A stretch is `joined` where another area's outline touches it (within 0.5 mm), `wall`
//! where it runs within 10 mm along a building or wall, `flush` where it so runs along a pool or
//! step, else `open`. "Along" is read as within 15° of the face, so that an edge that merely ends
//! at a face does not turn into a wall over its last 10 mm.

use super::corners::{FACE, SAME_PLACE};
use super::model::Against;
use super::spec::{EdgeKind, StructureKind, StructureSpec};
use crate::geom::{Arc, Edge, Ring};

/// Part of an edge, by fractions of its length, and what it meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// Where the part starts.
    pub start: f64,
    /// Where it ends.
    pub end: f64,
    /// What it meets.
    pub kind: EdgeKind,
    /// The very thing.
    pub against: Option<Against>,
}

/// Sine of the angle within which an edge runs along another: 15°.
const ALONG: f64 = 0.26;

/// What an edge of area `own` meets, from its start to its end without a gap.
pub fn meetings(
    edge: &Edge,
    own: usize,
    areas: &[Vec<Ring>],
    structures: &[StructureSpec],
) -> Vec<Meeting> {
    let mut others: Vec<(Against, EdgeKind, f64, &Edge)> = Vec::new();
    for (index, rings) in areas.iter().enumerate() {
        if index != own {
            for other in rings.iter().flat_map(|ring| &ring.edges) {
                others.push((Against::Area(index), EdgeKind::Joined, SAME_PLACE, other));
            }
        }
    }
    for (index, structure) in structures.iter().enumerate() {
        let kind = match structure.kind {
            StructureKind::Building | StructureKind::Wall => EdgeKind::Wall,
            StructureKind::Pool | StructureKind::Step => EdgeKind::Flush,
            _ => continue,
        };
        if structure.on_paving {
            continue;
        }
        for face in &structure.ring.edges {
            others.push((Against::Structure(index), kind, FACE, face));
        }
    }
    let box_of = edge.bounds();
    others.retain(|(_, _, reach, other)| {
        box_of.near(other.bounds(), *reach) && may_run_along(edge, other)
    });

    let length = edge.length();
    let mut cuts = vec![0.0, 1.0];
    for (_, _, reach, other) in &others {
        cuts.extend(cuts_of(edge, other, *reach));
    }
    cuts.sort_by(f64::total_cmp);
    let mut parts: Vec<Meeting> = Vec::new();
    let mut start = 0.0;
    for cut in cuts {
        let last = cut == 1.0;
        if (cut - start) * length < SAME_PLACE && !(last && start < 1.0) {
            continue;
        }
        if cut <= start {
            continue;
        }
        let found = met_at(edge, (start + cut) / 2.0, &others);
        let (kind, against) = found.map_or((EdgeKind::Open, None), |(k, a)| (k, Some(a)));
        let tail = last && (1.0 - start) * length < SAME_PLACE;
        match parts.last_mut() {
            Some(before) if tail || (before.kind, before.against) == (kind, against) => {
                before.end = cut;
            }
            _ => parts.push(Meeting {
                start,
                end: cut,
                kind,
                against,
            }),
        }
        start = cut;
    }
    parts
}

/// Whether two edges could run along each other: an arc somewhere may; straight ones do or do not.
fn may_run_along(edge: &Edge, other: &Edge) -> bool {
    if edge.arc.is_some() || other.arc.is_some() {
        return true;
    }
    let tangents = edge.tangent(0.0).zip(other.tangent(0.0));
    tangents.is_some_and(|(a, b)| a.cross(b).abs() <= ALONG)
}

/// The kind that wins at a fraction of the edge: joined before wall before flush.
fn met_at(
    edge: &Edge,
    fraction: f64,
    others: &[(Against, EdgeKind, f64, &Edge)],
) -> Option<(EdgeKind, Against)> {
    let at = edge.point_at(fraction);
    let along = edge.tangent(fraction)?;
    let rank = |kind: EdgeKind| match kind {
        EdgeKind::Joined => 0,
        EdgeKind::Wall => 1,
        EdgeKind::Flush => 2,
        EdgeKind::Open => 3,
    };
    others
        .iter()
        .filter(|(_, _, reach, other)| {
            let foot = other.fraction_near(at);
            let near = other.distance(at) <= reach + 1e-6;
            near && other
                .tangent(foot)
                .is_some_and(|t| t.cross(along).abs() <= ALONG)
                && runs_beside(edge, fraction, other, foot)
        })
        .map(|(against, kind, _, _)| (*kind, *against))
        .min_by_key(|(kind, _)| rank(*kind))
}

/// Whether the foot of a place on `other` lies within it rather than at an end it has run past.
fn runs_beside(edge: &Edge, fraction: f64, other: &Edge, foot: f64) -> bool {
    if foot > 0.0 && foot < 1.0 || other.is_circle() {
        return true;
    }
    // At an end: square beside it still counts, beyond it does not.
    let end = other.point_at(foot);
    let Some(tangent) = other.tangent(foot) else {
        return false;
    };
    (edge.point_at(fraction) - end).dot(tangent).abs() <= 1e-6
}

/// Fractions of the edge where it may begin or cease to run along another.
fn cuts_of(edge: &Edge, other: &Edge, reach: f64) -> Vec<f64> {
    let mut places = vec![other.from, other.to];
    // An edge that is near its whole length gives no crossing with the lines `reach` either side.
    for side in [-reach, reach] {
        if let Some(shifted) = shifted(other, side) {
            places.extend(edge.meetings(&shifted, 1e-6));
        }
    }
    let fractions = places.into_iter().map(|at| edge.fraction_near(at));
    fractions.filter(|f| *f > 0.0 && *f < 1.0).collect()
}

fn shifted(edge: &Edge, right: f64) -> Option<Edge> {
    let (start, end) = (edge.tangent(0.0)?, edge.tangent(1.0)?);
    let arc = match edge.arc {
        Some(arc) => {
            let grow = if arc.anticlockwise { right } else { -right };
            if arc.radius + grow <= 0.0 {
                return None;
            }
            Some(Arc {
                radius: arc.radius + grow,
                ..arc
            })
        }
        None => None,
    };
    Some(Edge {
        from: edge.from + start.left() * -right,
        to: edge.to + end.left() * -right,
        arc,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;

    fn house() -> StructureSpec {
        let p = Point::new;
        StructureSpec {
            name: "House".into(),
            kind: StructureKind::Building,
            ring: Ring::polygon(&[
                p(0.0, -3000.0),
                p(4000.0, -3000.0),
                p(4000.0, 0.0),
                p(0.0, 0.0),
            ]),
            on_paving: false,
        }
    }

    #[test]
    fn a_joined_stretch_ends_where_the_other_area_does() {
        let other = Ring::polygon(&[
            Point::new(1200.0, 0.0),
            Point::new(5000.0, 0.0),
            Point::new(5000.0, 900.0),
            Point::new(1200.0, 900.0),
        ]);
        let edge = Edge::straight(Point::new(4000.0, 0.0), Point::new(0.0, 0.0));
        let found = meetings(&edge, 0, &[Vec::new(), vec![other]], &[]);
        let kinds: Vec<EdgeKind> = found.iter().map(|m| m.kind).collect();
        assert_eq!(kinds, [EdgeKind::Joined, EdgeKind::Open]);
        let end = found[0].end * 4000.0;
        assert!((end - 2800.0).abs() < 1e-6, "{end}");
    }

    #[test]
    fn only_the_stretch_along_the_face_is_wall() {
        let edge = Edge::straight(Point::new(1000.0, 4.0), Point::new(6000.0, 4.0));
        let found = meetings(&edge, 0, &[Vec::new()], &[house()]);
        let kinds: Vec<EdgeKind> = found.iter().map(|m| m.kind).collect();
        assert_eq!(kinds, [EdgeKind::Wall, EdgeKind::Open]);
        assert!((found[0].end - 0.6).abs() < 1e-9);
        assert_eq!(found[0].against, Some(Against::Structure(0)));
    }

    #[test]
    fn an_edge_that_ends_at_the_face_stays_open() {
        let edge = Edge::straight(Point::new(1000.0, 3000.0), Point::new(1000.0, 0.0));
        let found = meetings(&edge, 0, &[Vec::new()], &[house()]);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].kind, EdgeKind::Open);
    }

    #[test]
    fn too_far_from_the_face_is_open() {
        let edge = Edge::straight(Point::new(1000.0, 11.0), Point::new(3000.0, 11.0));
        let found = meetings(&edge, 0, &[Vec::new()], &[house()]);
        assert_eq!(found[0].kind, EdgeKind::Open);
    }
}
