//! `site.services` and `backfill`: what is buried, and what fills the dig beside the paving.
//!
//! In: the nodes. Out: [`ServiceSpec`]s with their courses in site millimetres, and the
//! [`BackfillSpec`]. Whether a service comes near the dig is left to the checks.

use super::blocks::LOOSE_EARTH;
use super::reader::{Bound, Map, Reader};
use super::shape::{self, Points};
use super::tree::Node;
use super::values::{density, one_of_words};
use crate::language::phrase;
use crate::levels::BackfillSpec;
use crate::paving::PaverSpec;
use crate::site::{ServiceKind, ServiceSpec, ServiceTop};

/// Most services, and most points of one.
const MOST: usize = 200;
/// What a service looks like.
const EXAMPLE: &str = "{name: Gas, kind: gas, line: [[2', 0], [2', 12']], depth: 24\"}";
/// The tolerance zone where the job states none. What is law differs from place to place: 18 in
/// and 24 in are common (from memory); the larger is taken.
const ZONE: (&str, &str) = ("24\"", "600 mm");

/// Reads `site.services`.
pub fn services(r: &mut Reader, points: &Points, site: &Map<'_>) -> Vec<ServiceSpec> {
    let Some(node) = site.get("services") else {
        return Vec::new();
    };
    let path = site.key("services");
    let wanted = &phrase!("a list of {entries}", entries = EXAMPLE);
    let Some(items) = r.list(node, &path, wanted) else {
        return Vec::new();
    };
    if items.len() > MOST {
        r.wrong(node, &path, phrase!("at most {most} services", most = MOST));
        return Vec::new();
    }
    let mut services = Vec::new();
    for (index, item) in items.iter().enumerate() {
        services.extend(service(r, points, item, &format!("{path}[{index}]")));
    }
    services
}

/// One service.
fn service(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<ServiceSpec> {
    let map = r.map(
        node,
        path,
        &["name", "kind", "line", "depth", "level", "zone"],
    )?;
    let kinds = [
        ("gas", ServiceKind::Gas),
        ("water", ServiceKind::Water),
        ("electric", ServiceKind::Electric),
        ("telecom", ServiceKind::Telecom),
        ("sewer", ServiceKind::Sewer),
        ("drain", ServiceKind::Drain),
        ("irrigation", ServiceKind::Irrigation),
        ("other", ServiceKind::Other),
    ];
    let wanted = &one_of_words(&kinds);
    let kind = r.required(&map, "kind", wanted);
    let kind = kind.and_then(|n| r.word(n, &map.key("kind"), &kinds));
    let name = r.text_at(&map, "name");
    let line = r.required(&map, "line", phrase!("two points or more"));
    let line = line.and_then(|n| course(r, points, n, &map.key("line")));
    let depth = r.length_at(&map, "depth", Bound::NotNegative);
    let level = r.length_at(&map, "level", Bound::Any);
    if map.get("depth").is_some()
        && let Some(entry) = map.entry("level")
    {
        let found = phrase!("{path} has both `depth` and `level`", path);
        r.error("service", entry.place, found, phrase!("one of the two"));
    }
    let zone = r.length_or(&map, "zone", Bound::Positive, ZONE);
    let kind = kind?;
    Some(ServiceSpec {
        name: name.unwrap_or_else(|| kind.word().to_owned()),
        kind,
        line: line?,
        top: depth
            .map(ServiceTop::Depth)
            .or(level.map(ServiceTop::Level)),
        zone,
    })
}

/// The course of a service.
fn course(
    r: &mut Reader,
    points: &Points,
    node: &Node,
    path: &str,
) -> Option<Vec<crate::geom::Point>> {
    let wanted = &phrase!("two points or more, such as [[2', 0], [2', 12']]");
    let items = r.list(node, path, wanted)?;
    if items.len() < 2 || items.len() > MOST {
        r.wrong(node, path, wanted);
        return None;
    }
    let mut line = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let at = shape::point(r, points, item, &format!("{path}[{index}]"));
        line.push(at.map(|corner| corner.at));
    }
    let line = line.into_iter().collect::<Option<Vec<_>>>()?;
    let length: f64 = line.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
    if length < 1.0 {
        r.error(
            "service",
            node.place,
            phrase!("the line has no length"),
            wanted,
        );
        return None;
    }
    Some(line)
}

/// Reads `backfill`. The defaults: common practice, no source.
pub fn backfill(r: &mut Reader, root: &Map<'_>, pavers: &[PaverSpec]) -> BackfillSpec {
    let map = r.block(root, "backfill", &["drop", "topsoil", "density"]);
    let drop = r.length_or(&map, "drop", Bound::NotNegative, ("1/2\"", "15 mm"));
    let topsoil = r.length_or(&map, "topsoil", Bound::NotNegative, ("2\"", "50 mm"));
    let density = r.value_or(&map, "density", Bound::Positive, LOOSE_EARTH, density);
    let thinnest = pavers.iter().map(|paver| paver.thickness);
    if drop >= thinnest.fold(f64::INFINITY, f64::min)
        && let Some(node) = map.get("drop")
    {
        let found = phrase!("backfill.drop is not less than the pavers' thickness");
        r.error(
            "backfill",
            node.place,
            found,
            phrase!("backfill above the base"),
        );
    }
    BackfillSpec {
        drop,
        topsoil,
        density,
    }
}
