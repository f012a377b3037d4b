//! Cautions that what stands on the site or under it calls for: buried services, trees, open water.
//!
//! In: design. Out: phrases, to stand with those that every sheet carries. How near a tree is minded is
//! common practice, no source.

use super::words;
use crate::design::Design;
use crate::geom::{Point, Ring, SAGITTA, clip};
use crate::language::{Phrase, phrase};
use crate::site::StructureKind;

/// A tree this near to the dig has roots in it: 10 ft or 3 m.
const ROOTS: [f64; 2] = [120.0, 3000.0];

/// All of them.
pub fn of_the_site(design: &Design) -> Vec<Phrase> {
    let mut all = by_hand(design);
    all.extend(roots(design));
    all.extend(open_water(design));
    all
}

/// For each buried service near the dig: where to dig by hand.
fn by_hand(design: &Design) -> Vec<Phrase> {
    let near = design.near_services();
    near.map(|service| {
        let zone = words::long(design, service.spec.zone);
        let name = service.spec.called();
        if !service.nails.is_empty() {
            return phrase!(
                "{service}: dig by hand within {zone} of its marks; no machine, no nail there. Have it located before any digging.",
                service = name,
                zone
            );
        }
        if service.edges.is_empty() || service.spec.top.is_none() {
            return phrase!(
                "{service}: dig by hand within {zone} of its marks; no machine there. Have it located before any digging.",
                service = name,
                zone
            );
        }
        phrase!(
            "{service}: dig by hand within {zone} of its marks; no machine there. Nails drawn there end {zone} or more above it at the depth stated. Have it located before any digging.",
            service = name,
            zone
        )
    })
    .collect()
}

/// For the trees beside the dig.
fn roots(design: &Design) -> Option<Phrase> {
    let near = words::stated(design, ROOTS[0], ROOTS[1]);
    let dig = &design.extents.dig.shape;
    let trees = standing(design, StructureKind::Tree, |ring| {
        let outline = ring.flatten(SAGITTA);
        let mut points = outline.coords().map(|c| Point::new(c.x, c.y));
        points.any(|at| clip::distance(dig, at) <= near)
    });
    Some(phrase!(
        "Roots of {trees}: dig by hand near the trunk, and cut no thick one before someone who knows trees has seen it.",
        trees = trees?
    ))
}

/// For pools, wherever they stand on the site.
fn open_water(design: &Design) -> Option<Phrase> {
    let pools = standing(design, StructureKind::Pool, |_| true);
    Some(phrase!(
        "Open water at {pools}: cover it or bar it off whenever nobody works there; no mains tool beside it.",
        pools = pools?
    ))
}

/// The names of the structures of a kind whose outline is meant; `None` without any.
fn standing(design: &Design, kind: StructureKind, meant: impl Fn(&Ring) -> bool) -> Option<Phrase> {
    let structures = design.job.site.structures.iter();
    let found = structures
        .filter(|structure| structure.kind == kind)
        .filter(|structure| meant(&structure.ring));
    let names: Vec<Phrase> = found.map(|each| Phrase::own(&each.name)).collect();
    (!names.is_empty()).then(|| Phrase::listed(names))
}
