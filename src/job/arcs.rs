//! Arcs of an outline, by radius and side or by a point on them.
//!
//! In: the node, the corner that the arc starts at. Out: the corner it leads to and its circle, site
//! millimetres. An arc given by its radius takes the shorter way round, its centre on the side
//! stated; one given by a point on it goes through that point (circle through three points).

use super::reader::{Bound, REASON, Reader};
use super::shape::{POINT, Points, SAME, point};
use super::tree::Node;
use crate::geom::{Arc, Point, Vector};
use crate::language::{Phrase, phrase};
use crate::site::CornerSpec;

/// How far a radius may fall short of half the chord and still be a half circle, in millimetres.
const HALF_CIRCLE: f64 = 0.5;

/// An arc of an outline: where it ends and the circle it follows. Without a `from` it is only
/// looked at for errors.
pub fn arc(
    r: &mut Reader,
    points: &Points,
    node: &Node,
    path: &str,
    from: Option<Point>,
) -> Option<(CornerSpec, Arc)> {
    let wanted = &Phrase::own("{to: …, radius: …, side: left} / {to: …, through: …}");
    let outer = r.map(node, path, &["arc"])?;
    let inner = r.required(&outer, "arc", wanted)?;
    let path = outer.key("arc");
    let map = r.map(inner, &path, &["to", "radius", "side", "through"])?;
    let to = r.required(&map, "to", POINT);
    let to = to.and_then(|to| point(r, points, to, &map.key("to")));
    if let Some(through) = map.entry("through") {
        if let Some(extra) = map.entry("radius").or_else(|| map.entry("side")) {
            let found = phrase!(
                "`{key}` beside `{other}`",
                key = extra.key,
                other = "through"
            );
            r.error("arc", extra.place, found, wanted);
            return None;
        }
        let at = point(r, points, &through.node, &map.key("through"));
        let (from, to, at) = (from?, to?, at?.at);
        let Some(arc) = arc_through(from, at, to.at) else {
            r.error(
                "arc",
                through.place,
                phrase!("the arc's two ends and the point it goes through lie in one line"),
                phrase!("a point beside the straight line from corner to corner"),
            );
            return None;
        };
        return Some((to, arc));
    }
    let radius = r.required(&map, "radius", phrase!("the arc's radius, or `through: …`"));
    let radius_node = radius;
    let radius = radius.and_then(|n| r.length(n, &map.key("radius"), Bound::Positive));
    let side = r.required(
        &map,
        "side",
        phrase!("left or right: where the centre lies, going along"),
    );
    let sides = [("left", 1.0), ("right", -1.0)];
    let side = side.and_then(|n| r.word(n, &map.key("side"), &sides));
    let (from, to, radius, side) = (from?, to?, radius?, side?);
    let chord = from.distance(to.at);
    if chord < SAME {
        r.error(
            "arc",
            node.place,
            phrase!("an arc that ends where it starts"),
            phrase!("an arc to another corner, or `circle: …`"),
        );
        return None;
    }
    if radius < chord / 2.0 - HALF_CIRCLE {
        let place = radius_node.map_or(node.place, |n| n.place);
        r.error(
            "arc",
            place,
            phrase!(
                "the radius of {radius} is too short for corners {chord} apart",
                radius = r.told(radius),
                chord = r.told(chord)
            ),
            phrase!("{least} or more", least = r.told_or_more(chord / 2.0)),
        );
        return None;
    }
    let half = chord / 2.0;
    let radius = radius.max(half);
    let rise = ((radius - half) * (radius + half)).sqrt();
    let along = (to.at - from).unit()?;
    let centre = from.midpoint(to.at) + along.left() * (side * rise);
    let arc = Arc {
        centre,
        radius,
        anticlockwise: side > 0.0,
    };
    Some((to, arc))
}

/// The arc from one point through a second to a third; `None` when they lie in one line.
fn arc_through(from: Point, through: Point, to: Point) -> Option<Arc> {
    let (b, c) = (through - from, to - from);
    let cross = b.cross(c);
    let longest = b.length().max(c.length());
    if cross.abs() < SAME * longest || (to - through).length() < SAME {
        return None;
    }
    let (bb, cc) = (b.dot(b), c.dot(c));
    let offset = Vector::new(
        (c.y * bb - b.y * cc) / (2.0 * cross),
        (b.x * cc - c.x * bb) / (2.0 * cross),
    );
    let radius = offset.length();
    (radius.is_finite() && radius <= REASON * 100.0).then_some(Arc {
        centre: from + offset,
        radius,
        anticlockwise: cross > 0.0,
    })
}
