//! `site.points` and `site.traverse`: how points were measured, and the points that come of it.
//!
//! In: the nodes. Out: [`PointSpec`]s and the [`Traverse`], worked by `survey`, whose errors are
//! given the places of the points and legs they are about. A tie takes its first two tapes, further
//! ones prove it.

use super::reader::{Bound, Map, Reader};
use super::shape::{Points, pair};
use super::tree::{Entry, Node, Value};
use super::values::angle;
use crate::diag::{Diagnostic, Place};
use crate::language::{Phrase, phrase};
use crate::survey::{ErrorPlace, Leg, Measured, PointSpec, Redundant, Traverse, Turning, solve};
use crate::units::System;

/// Most points of a job.
const MOST_POINTS: usize = 2000;

/// What the survey part of a job comes to.
#[derive(Debug, Default)]
pub struct Measurements {
    /// As written.
    pub points: Vec<PointSpec>,
    /// As written.
    pub traverse: Option<Traverse>,
    /// As worked.
    pub resolved: Points,
}

/// Reads and works `points` and `traverse` of the site.
pub fn read(r: &mut Reader, site: &Map<'_>) -> Measurements {
    let mut points = Vec::new();
    let mut places = Vec::new();
    let mut written = Vec::new();
    let mut broken: Vec<String> = Vec::new();
    if let Some(node) = site.get("points")
        && let Some(map) = r.open_map(node, &site.key("points"))
    {
        if map.entries().len() > MOST_POINTS {
            let found = phrase!(
                "{count} point | {count} points",
                count = map.entries().len()
            );
            r.error(
                "too-many",
                map.place,
                found,
                phrase!("at most {most}", most = MOST_POINTS),
            );
            return Measurements::default();
        }
        for entry in map.entries() {
            written.push(entry.key.clone());
            match spec(r, entry, &map.key(&entry.key)) {
                Some(spec) => {
                    points.push(spec);
                    places.push(entry.place);
                }
                None => broken.push(entry.key.clone()),
            }
        }
    }
    let mut legs = Vec::new();
    let mut start = Place::default();
    let measured = written.len();
    let traverse = site.entry("traverse").and_then(|entry| {
        start = entry.place;
        let traverse = traverse(
            r,
            &entry.node,
            &site.key("traverse"),
            &mut legs,
            &mut written,
        );
        if traverse.is_none() {
            broken.extend(written.iter().skip(measured).cloned());
        }
        traverse
    });
    let system = match r.metric {
        true => System::Metric,
        false => System::FeetInches,
    };
    let mut survey = solve(&points, traverse.as_ref(), system);
    for error in std::mem::take(&mut survey.errors) {
        let place = match error.place {
            ErrorPlace::Point(index) => places.get(index).copied().unwrap_or_default(),
            ErrorPlace::Start => start,
            ErrorPlace::Leg(index) => legs.get(index).copied().unwrap_or(start),
        };
        // A point that could not be read makes those that use it fail: that is one error, not two.
        if !broken
            .iter()
            .any(|name| error.found == phrase!("there is no point {name}", name))
        {
            r.error("survey", place, error.found, error.wanted);
        }
    }
    Measurements {
        points,
        traverse,
        resolved: Points {
            survey,
            written,
            ..Points::default()
        },
    }
}

/// One point.
fn spec(r: &mut Reader, entry: &Entry, path: &str) -> Option<PointSpec> {
    let name = entry.key.clone();
    let node = &entry.node;
    let wanted = &Phrase::own(
        "[x, y] / {tape: [[H1, 12'-3\"], [H2, 15'-1\"]], side: left} / {along: [H1, H2], at: 6', out: 9'}",
    );
    match &node.value {
        Value::List(_) => {
            let at = pair(r, node, path)?;
            return Some(PointSpec {
                name,
                measured: Measured::At(at),
                redundant: Vec::new(),
            });
        }
        Value::Scalar(..) => {
            r.wrong(node, path, wanted);
            return None;
        }
        Value::Map(_) => {}
    }
    let map = r.map(node, path, &["tape", "side", "along", "at", "out"])?;
    if map.get("tape").is_some() {
        if let Some(extra) = ["along", "at", "out"].iter().find_map(|k| map.entry(k)) {
            let found = phrase!("`{key}` beside `{other}`", key = extra.key, other = "tape");
            r.error("point", extra.place, found, wanted);
        }
        return tie(r, name, &map);
    }
    if let Some(extra) = map.entry("side") {
        r.error(
            "point",
            extra.place,
            phrase!("`{key}` without `{other}`", key = "side", other = "tape"),
            wanted,
        );
    }
    let along = r.required(&map, "along", wanted);
    let along = along.and_then(|n| names(r, n, &map.key("along")));
    let length = |r: &mut Reader, key| {
        let node = r.required(
            &map,
            key,
            phrase!("a length such as {example}", example = "6'"),
        )?;
        r.length(node, &map.key(key), Bound::Any)
    };
    let (at, out) = (length(r, "at"), length(r, "out"));
    Some(PointSpec {
        name,
        measured: Measured::Offset {
            along: along?,
            at: at?,
            out: out?,
        },
        redundant: Vec::new(),
    })
}

/// Two names of points.
fn names(r: &mut Reader, node: &Node, path: &str) -> Option<[String; 2]> {
    let wanted = &phrase!("two names of points such as [H1, H2]");
    let items = r.list(node, path, wanted)?;
    let [a, b] = items else {
        r.wrong(node, path, wanted);
        return None;
    };
    let a = r.text(a, &format!("{path}[0]"));
    let b = r.text(b, &format!("{path}[1]"));
    Some([a?, b?])
}

/// A point by its tapes.
fn tie(r: &mut Reader, name: String, map: &Map<'_>) -> Option<PointSpec> {
    let wanted = &phrase!("two tapes or more, such as [[H1, 12'-3\"], [H2, 15'-1\"]]");
    let node = map.get("tape")?;
    let path = map.key("tape");
    let sides = [("left", true), ("right", false)];
    let side = r.required(
        map,
        "side",
        phrase!("left or right of the line from the first point taped from to the second"),
    );
    let side = side.and_then(|n| r.word(n, &map.key("side"), &sides));
    let mut tapes: Vec<Option<(String, f64)>> = Vec::new();
    match &node.value {
        Value::Map(entries) => {
            for entry in entries {
                let length = r.length(
                    &entry.node,
                    &format!("{path}.{}", entry.key),
                    Bound::Positive,
                );
                tapes.push(length.map(|length| (entry.key.clone(), length)));
            }
        }
        Value::List(items) => {
            for (index, item) in items.iter().enumerate() {
                tapes.push(tape(r, item, &format!("{path}[{index}]")));
            }
        }
        Value::Scalar(..) => {
            r.wrong(node, &path, wanted);
            return None;
        }
    }
    if tapes.len() < 2 {
        r.wrong(node, &path, wanted);
        return None;
    }
    let mut tapes = tapes.into_iter().collect::<Option<Vec<_>>>()?.into_iter();
    let ((a, to_a), (b, to_b)) = (tapes.next()?, tapes.next()?);
    Some(PointSpec {
        name,
        measured: Measured::Tie {
            from: [a, b],
            distance: [to_a, to_b],
            left: side?,
        },
        redundant: tapes
            .map(|(from, distance)| Redundant { from, distance })
            .collect(),
    })
}

/// One tape: a point's name and a distance.
fn tape(r: &mut Reader, node: &Node, path: &str) -> Option<(String, f64)> {
    let wanted = &phrase!("a point's name and a distance, such as [H1, 12'-3\"]");
    let items = r.list(node, path, wanted)?;
    let [from, distance] = items else {
        r.wrong(node, path, wanted);
        return None;
    };
    let from = r.text(from, &format!("{path}[0]"));
    let distance = r.length(distance, &format!("{path}[1]"), Bound::Positive);
    Some((from?, distance?))
}

/// The traverse; the places of its legs go to `places`, the names of its points to `written`.
fn traverse(
    r: &mut Reader,
    node: &Node,
    path: &str,
    places: &mut Vec<Place>,
    written: &mut Vec<String>,
) -> Option<Traverse> {
    let map = r.map(node, path, &["start", "legs", "adjust", "limit"])?;
    let start = r.required(&map, "start", Phrase::own("{point: H1, bearing: 90°}"));
    let start = start.and_then(|node| {
        let start = r.map(node, &map.key("start"), &["point", "bearing"])?;
        let point = r.required(&start, "point", phrase!("the name of a point"));
        let point = point.and_then(|n| r.text(n, &start.key("point")));
        let bearing = r.required(
            &start,
            "bearing",
            phrase!("the bearing of the back line, such as 90°"),
        );
        let bearing = bearing.and_then(|n| r.value(n, &start.key("bearing"), Bound::Any, angle));
        Some((point?, bearing?))
    });
    let adjusts = [("compass", true), ("none", false)];
    let adjust = match map.get("adjust") {
        Some(_) => r.word_at(&map, "adjust", &adjusts),
        None => {
            r.assume(map.key("adjust"), "compass");
            Some(true)
        }
    };
    let limit = r.value_or(&map, "limit", Bound::Positive, ("1:500", "1:500"), |text| {
        crate::units::read::scale(text)
    });
    let wanted = &phrase!(
        "a list of legs such as {example}",
        example = "[{to: P2, turn: 90°, distance: 14'}]"
    );
    let node = r.required(&map, "legs", wanted)?;
    let items = r.list(node, &map.key("legs"), wanted)?;
    if items.is_empty() || items.len() > MOST_POINTS {
        r.wrong(node, &map.key("legs"), wanted);
        return None;
    }
    let mut legs = Vec::new();
    for (index, item) in items.iter().enumerate() {
        places.push(item.place);
        legs.push(leg(
            r,
            item,
            &format!("{}[{index}]", map.key("legs")),
            written,
        ));
    }
    let legs = legs.into_iter().collect::<Option<Vec<Leg>>>();
    let (start, back_bearing) = start?;
    Some(Traverse {
        start,
        back_bearing,
        legs: legs?,
        adjust: adjust?,
        limit,
    })
}

/// One leg.
fn leg(r: &mut Reader, node: &Node, path: &str, written: &mut Vec<String>) -> Option<Leg> {
    let map = r.map(node, path, &["to", "turn", "bearing", "distance"])?;
    let to = r.required(&map, "to", phrase!("the name of the point the leg ends at"));
    let to = to.and_then(|n| r.text(n, &map.key("to")));
    if let Some(to) = &to
        && !written.contains(to)
    {
        written.push(to.clone());
    }
    let distance = r.required(
        &map,
        "distance",
        phrase!("a length such as {example}", example = "14'"),
    );
    let distance = distance.and_then(|n| r.length(n, &map.key("distance"), Bound::Positive));
    let turning = match (map.entry("turn"), map.entry("bearing")) {
        (Some(turn), None) => r
            .value(&turn.node, &map.key("turn"), Bound::Any, angle)
            .map(Turning::Turn),
        (None, Some(bearing)) => r
            .value(&bearing.node, &map.key("bearing"), Bound::Any, angle)
            .map(Turning::Bearing),
        (Some(_), Some(second)) => {
            r.add(
                Diagnostic::error("traverse", phrase!("a leg with both `turn` and `bearing`"))
                    .at(second.place)
                    .wanted(phrase!("one of the two")),
            );
            None
        }
        (None, None) => {
            let wanted = &phrase!("`turn: 90°` or `bearing: 180°`");
            r.error(
                "missing",
                map.place,
                phrase!("a leg without its direction"),
                wanted,
            );
            None
        }
    };
    Some(Leg {
        to: to?,
        turning: turning?,
        distance: distance?,
    })
}
