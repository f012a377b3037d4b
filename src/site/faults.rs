//! What makes outlines refused: too few corners, no size, self-crossing, overlaps.
//!
//! In: rings and structures, millimetres. Out: every [`SiteError`] found. Overlaps count when their
//! mean width (twice the area over the perimeter) is over 0.5 mm; over 10 mm where the structure is
//! a building or wall, whose face may be measured that loosely.

use super::corners::{FACE, SAME_PLACE};
use super::model::{OutlineItem, SiteError, SitePlace};
use super::resolve::outlines;
use super::spec::{AreaSpec, StructureKind, StructureSpec};
use crate::geom::{Edge, Point, Remains, Ring, Shape, clip};
use crate::language::{Phrase, phrase};

/// Longest side of a site, in kilometres.
pub const LARGEST_KM: u32 = 1;
/// Longest side of a site, in millimetres.
const LARGEST: f64 = LARGEST_KM as f64 * 1e6;

/// Farthest from the origin a coordinate may lie, in kilometres.
const FARTHEST_KM: u32 = 100;
/// Farthest from the origin a coordinate may lie, in millimetres.
const FARTHEST: f64 = FARTHEST_KM as f64 * 1e6;

/// Least area of an outline, in square millimetres.
const LEAST_AREA: f64 = 1.0;

/// What is wrong with a ring by itself.
pub(super) fn ring_faults(ring: &Ring, place: impl Fn(OutlineItem) -> SitePlace) -> Vec<SiteError> {
    let fault = |item, found: Phrase, wanted: Phrase| SiteError {
        place: place(item),
        found,
        at: None,
        wanted,
    };
    let edges = &ring.edges;
    let finite = |p: Point| p.x.abs() <= FARTHEST && p.y.abs() <= FARTHEST;
    let sound = |edge: &Edge| {
        let arc = edge
            .arc
            .is_none_or(|arc| finite(arc.centre) && arc.radius < FARTHEST);
        finite(edge.from) && finite(edge.to) && arc
    };
    if let Some(index) = edges.iter().position(|edge| !sound(edge)) {
        let wanted = phrase!(
            "coordinates within {most} km of the origin",
            most = FARTHEST_KM
        );
        return vec![fault(
            OutlineItem::Corner(index),
            phrase!("a corner out of reach"),
            wanted,
        )];
    }
    let arcs = edges.iter().filter(|edge| edge.arc.is_some()).count();
    let circle = edges.len() == 1 && edges[0].is_circle();
    if circle {
        let radius = edges[0].arc.map_or(0.0, |arc| arc.radius);
        if radius < SAME_PLACE {
            return vec![fault(
                OutlineItem::Whole,
                phrase!("a circle of no size"),
                phrase!("a radius above zero"),
            )];
        }
        return Vec::new();
    }
    if edges.len() < 2 || edges.len() == 2 && arcs == 0 {
        let found = phrase!(
            "an outline of {count} corner | an outline of {count} corners",
            count = edges.len()
        );
        let wanted = phrase!("three corners or more, or two with an arc");
        return vec![fault(OutlineItem::Whole, found, wanted)];
    }
    let mut faults = Vec::new();
    for (index, edge) in edges.iter().enumerate() {
        if edge.length() < SAME_PLACE || edge.is_circle() {
            let next = (index + 1) % edges.len();
            let found = phrase!("a corner where the one before it stands");
            faults.push(fault(
                OutlineItem::Corner(next),
                found,
                phrase!("corners apart from each other"),
            ));
        }
    }
    if !faults.is_empty() {
        return faults;
    }
    if let Some(crossing) = ring.self_crossing() {
        let found = phrase!("an outline that crosses or touches itself");
        let wanted = phrase!("corners in order round the outline");
        let item = OutlineItem::Edge(crossing.second);
        return vec![SiteError {
            at: Some(crossing.at),
            ..fault(item, found, wanted)
        }];
    }
    if ring.area() < LEAST_AREA {
        return vec![fault(
            OutlineItem::Whole,
            phrase!("an outline that encloses nothing"),
            phrase!("some area"),
        )];
    }
    Vec::new()
}

/// A site over 1 km across.
pub(super) fn size_fault(areas: &[AreaSpec], structures: &[StructureSpec]) -> Option<SiteError> {
    let rings = areas.iter().enumerate().flat_map(|(index, area)| {
        let rings = outlines(area).map(|outline| &outline.ring);
        rings.map(move |ring| (SitePlace::Area(index), ring))
    });
    let others = structures.iter().enumerate();
    let rings = rings.chain(others.map(|(i, s)| (SitePlace::Structure(i), &s.ring)));
    let mut whole: Option<crate::geom::Bounds> = None;
    for (place, ring) in rings {
        let Some(bounds) = ring.bounds() else {
            continue;
        };
        let grown = whole.map_or(bounds, |w| w.union(bounds));
        if grown.width() > LARGEST || grown.height() > LARGEST {
            return Some(SiteError {
                place,
                found: phrase!("a site over {most} km across", most = LARGEST_KM),
                at: None,
                wanted: phrase!("all of the site within {most} km", most = LARGEST_KM),
            });
        }
        whole = Some(grown);
    }
    None
}

/// Areas over areas, areas over structures, holes outside their area or over each other.
pub(super) fn overlaps(
    areas: &[AreaSpec],
    rings: &[Vec<Ring>],
    structures: &[StructureSpec],
) -> Vec<SiteError> {
    let mut errors = Vec::new();
    let mut shapes: Vec<Shape> = Vec::new();
    for (area, rings) in rings.iter().enumerate() {
        let outer = clip::shape_of(&rings[0]);
        let mut remains = Remains::of(&outer);
        for (index, hole) in rings.iter().enumerate().skip(1) {
            let hole = clip::shape_of(hole);
            if thick(&remains.outside(&hole), SAME_PLACE) {
                errors.push(SiteError {
                    place: SitePlace::Outline {
                        area,
                        ring: index,
                        item: OutlineItem::Whole,
                    },
                    found: phrase!(
                        "a hole that is not wholly within the paving left by the others"
                    ),
                    at: None,
                    wanted: phrase!("holes inside their area, apart from each other"),
                });
            }
            remains.take(hole);
        }
        shapes.push(remains.left());
    }
    for (area, shape) in shapes.iter().enumerate() {
        let place = SitePlace::Outline {
            area,
            ring: 0,
            item: OutlineItem::Whole,
        };
        for (other, before) in shapes.iter().enumerate().take(area) {
            if thick(&clip::intersection(shape, before), SAME_PLACE) {
                errors.push(SiteError {
                    place,
                    found: phrase!(
                        "{one} overlaps {other}",
                        one = areas[area].name,
                        other = areas[other].name
                    ),
                    at: None,
                    wanted: phrase!("areas that at most touch"),
                });
            }
        }
        for structure in structures.iter().filter(|s| !s.on_paving) {
            let loose = match structure.kind {
                StructureKind::Building | StructureKind::Wall => FACE,
                _ => SAME_PLACE,
            };
            if thick(
                &clip::intersection(shape, &clip::shape_of(&structure.ring)),
                loose,
            ) {
                errors.push(SiteError {
                    place,
                    found: phrase!(
                        "{one} overlaps {other}",
                        one = areas[area].name,
                        other = structure.name
                    ),
                    at: None,
                    wanted: phrase!(
                        "an outline clear of it, a hole round it, or `on_paving: true` if it \
                         stands on the finished surface"
                    ),
                });
            }
        }
    }
    errors
}

/// Whether any piece of a shape is wider in the mean than `width` millimetres.
fn thick(shape: &Shape, width: f64) -> bool {
    use geo::algorithm::{Area, Euclidean, Length};
    shape.iter().any(|polygon| {
        let rings = std::iter::once(polygon.exterior()).chain(polygon.interiors());
        let round: f64 = rings.map(|ring| Euclidean.length(ring)).sum();
        round > 0.0 && 2.0 * polygon.unsigned_area() / round > width
    })
}
