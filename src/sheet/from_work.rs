//! What the order of work takes from the computed design, in words ready to print.
//!
//! In: design. Out: depths, laps, starts, nails and bends of the restraint, tolerances. Tolerances
//! are common practice, no source.

use super::notes::Work;
use super::words::{self, depths};
use crate::design::Design;
use crate::geom::Point;
use crate::language::{Ordinal, Phrase, phrase};
use crate::levels::ties;
use crate::paving::{Corners, Form};
use crate::site::{StartSpec, edge_named};
use crate::units::{Volume, print};

/// The words of the order of work.
pub fn work(design: &Design) -> Work {
    let job = &design.job;
    let thin = |mm: f64| words::thin(design, mm);
    let long = |mm: f64| words::long(design, mm);
    let tolerance =
        |inch: f64, metric: f64| format!("±{}", thin(words::stated(design, inch, metric)));
    Work {
        proof: proof(design),
        stakes: design.field.stakes.is_some(),
        services: services(design),
        depth: depths(design),
        fill: fill(design),
        past: long(job.dig_extension.max(job.base_extension)),
        lap: long(job.textile.overlap),
        bedding: [thin(job.bedding.loose), thin(job.bedding.compacted)],
        in_parts: design.rails.parts.len() > 1,
        rails: (design.rails.pieces > 0).then(|| {
            [
                phrase!(
                    "{diameter} outside diameter",
                    diameter = thin(job.bedding.rails.diameter)
                ),
                rail_spacing(design),
            ]
        }),
        panels: panels_starts(design),
        stagger: long(job.panels.min_stagger),
        paving: paving_starts(design),
        border: border(design),
        nails: nails(design),
        bends: bends(design),
        settle: settle(design),
        patch: long(job.bedding.test_patch),
        mist: [
            phrase!("{count} pass | {count} passes", count = job.jointing.mist),
            Phrase::own(format!("{} h", print::number(job.jointing.dry, 1))),
        ],
        drains: drains(design),
        below: thin(job.jointing.below),
        graded: graded(design),
        tolerance: tolerance(0.125, 3.0),
        rough: tolerance(0.5, 10.0),
    }
}

/// What proves the corners: what the tables of the set-out give beside the ties.
fn proof(design: &Design) -> Phrase {
    let field = &design.field;
    match (field.proofs.is_empty(), field.right_angles.is_empty()) {
        (false, false) => {
            phrase!("prove the shape by the lengths and the 3-4-5 squares of the set-out")
        }
        (false, true) => phrase!("prove the shape by the lengths of the set-out"),
        (true, false) => phrase!("prove the corners square by 3-4-5"),
        (true, true) => phrase!("prove each corner by both its tapes"),
    }
}

/// The buried services that come near the dig.
fn services(design: &Design) -> Option<Phrase> {
    let names = design.near_services().map(|service| service.spec.called());
    let names: Vec<Phrase> = names.collect();
    (!names.is_empty()).then(|| Phrase::listed(names))
}

/// The edges outside which the ground stands above the finish.
fn graded(design: &Design) -> Option<String> {
    let edges = design.holding_banks();
    let edges: Vec<&str> = edges.map(|bank| edge_named(&bank.edge)).collect();
    (!edges.is_empty()).then(|| edges.join(", "))
}

/// The fill that the formation needs.
fn fill(design: &Design) -> Option<String> {
    let fill = design.dig.fill_m3()?;
    let units = design.job.sheet.units;
    Some(print::volume(Volume::from_m3(fill), units))
}

/// How far apart the rails stand: once where they stand alike in all parts of the base, else part by
/// part of those that have some.
fn rail_spacing(design: &Design) -> Phrase {
    let mut parts = design.rails.parts.iter();
    if let Some(spacing) = design.rails.spacing_mm()
        && parts.all(|part| part.spacing_mm.is_some())
    {
        return Phrase::own(words::long(design, spacing));
    }
    let mut alike: Vec<(String, Vec<String>)> = Vec::new();
    for (part, rails) in design.base.iter().zip(&design.rails.parts) {
        let Some(spacing) = rails.spacing_mm.map(|mm| words::long(design, mm)) else {
            continue;
        };
        let names = design.area_names(&part.areas);
        match alike.iter_mut().find(|(known, _)| *known == spacing) {
            Some((_, all)) => all.push(names),
            None => alike.push((spacing, vec![names])),
        }
    }
    let parts = alike.into_iter().map(|(spacing, names)| {
        let names = Phrase::own(format!("({})", names.join(", ")));
        Phrase::row([Phrase::own(spacing), names], " ")
    });
    let parts: Vec<Phrase> = parts.collect();
    match parts.is_empty() {
        true => phrase!("as drawn"),
        false => Phrase::row(parts, ", "),
    }
}

/// The gullies and channels by name.
fn drains(design: &Design) -> Option<String> {
    let drains = design.job.drains.iter();
    let set = drains.filter(|drain| drain.kind.set_down().is_some());
    let names: Vec<&str> = set.map(|drain| drain.name.as_str()).collect();
    (!names.is_empty()).then(|| names.join(", "))
}

/// A start corner with the edge that it goes along; `laid` is what is laid from there.
fn corner(design: &Design, stated: Option<&StartSpec>, origin: Point, laid: Phrase) -> Phrase {
    if let Some(start) = stated {
        return phrase!(
            "corner {corner} along {edge}",
            corner = &start.corner,
            edge = &start.along
        );
    }
    // A circle is laid from the lower left of its box, which nothing marks on the site.
    let [(a, from), (b, to)] = &design.base_line;
    let ties = ties([*from, *to], origin);
    phrase!(
        "the lower left of the box round {laid}, {along} along {a}–{b} and {out} out",
        laid,
        along = words::long(design, ties.station),
        a,
        b,
        out = words::long(design, ties.offset)
    )
}

/// Where the courses of panels begin, part by part of the base.
fn panels_starts(design: &Design) -> Phrase {
    let alone = design.base.len() == 1;
    let parts = design.base.iter().map(|part| {
        let names = design.area_names(&part.areas);
        let laid = match alone {
            true => phrase!("the base"),
            false => Phrase::own(&names),
        };
        let origin = part.layout.frame.origin;
        (names, corner(design, part.start.as_ref(), origin, laid))
    });
    starts(parts.collect())
}

/// Where the pavers start, area by area.
fn paving_starts(design: &Design) -> Phrase {
    let areas = design.areas.iter().enumerate();
    let areas = areas.map(|(index, area)| (area.name.clone(), paving_start(design, index)));
    starts(areas.collect())
}

/// Where what is named starts: once for all that starts alike, else one by one.
fn starts(all: Vec<(String, Phrase)>) -> Phrase {
    match all.first() {
        Some((_, first)) if all.iter().all(|(_, start)| start == first) => {
            phrase!("from {start}", start = first.clone())
        }
        _ => Phrase::listed(
            all.into_iter()
                .map(|(area, start)| phrase!("{area} from {start}", area, start)),
        ),
    }
}

/// Where the pavers of an area start, how they are turned, and what a search moved the bond by.
fn paving_start(design: &Design, index: usize) -> Phrase {
    let area = &design.areas[index];
    let stated = design.job.paving_starts.get(index);
    let stated = stated.and_then(Option::as_ref);
    let mut start = corner(design, stated, area.frame.origin, Phrase::own(&area.name));
    let turn = design.job.paving.get(index).map_or(0.0, |spec| spec.turn);
    if turn.abs() > 1e-9 {
        let turn = print::number(turn, 1);
        start = match stated {
            Some(_) => phrase!("{start}, turned {turn}° from the start edge", start, turn),
            None => phrase!(
                "{start}, turned {turn}° from the foot of that box",
                start,
                turn
            ),
        };
    }
    let Some(search) = area.paving.search else {
        return start;
    };
    let shifted = words::start_shift(area);
    let Some([along, off]) = shifted.map(|shift| shift.map(|mm| words::long(design, mm))) else {
        return start;
    };
    if stated.is_none() {
        return phrase!(
            "{start}, the bond begun {along} right of there and {off} above ({best} slivers instead of {fixed})",
            start,
            along,
            off,
            best = search.best.slivers,
            fixed = search.fixed.slivers
        );
    }
    phrase!(
        "{start}, the bond begun {along} from there along the edge and {off} square off it ({best} slivers instead of {fixed})",
        start,
        along,
        off,
        best = search.best.slivers,
        fixed = search.fixed.slivers
    )
}

/// When the border courses are laid and how their corners are; `None` without any.
fn border(design: &Design) -> Option<Phrase> {
    let courses = design.job.paving.iter().flat_map(|spec| &spec.border);
    let corners: Vec<Corners> = courses.map(|course| course.corners).collect();
    let is = |wanted: Corners| corners.contains(&wanted);
    match (is(Corners::Mitred), is(Corners::Butted)) {
        (false, false) => None,
        (true, false) => Some(phrase!(
            "Cut the field to the border's inner line, then set the border, corners mitred."
        )),
        (false, true) => Some(phrase!(
            "Cut the field to the border's inner line, then set the border, corners butted."
        )),
        (true, true) => Some(phrase!(
            "Cut the field to the border's inner line, then set the border, corners as drawn."
        )),
    }
}

/// Which holes of the edge restraint take a nail.
fn nails(design: &Design) -> Phrase {
    let edging = &design.job.edging;
    let nail = words::long(design, edging.nail);
    let straight = Ordinal(edging.nail_every);
    let curved = design
        .edging
        .by_edge
        .iter()
        .any(|edge| edge.bend_mm().is_some());
    match (curved, edging.curve_nail_every) {
        (false, _) => phrase!(
            "{nail} nails in the first, every {straight} and the last hole of each piece",
            nail,
            straight
        ),
        (true, 1) => phrase!(
            "{nail} nails in the first, every {straight} and the last hole of each piece, on curves in every hole",
            nail,
            straight
        ),
        (true, n) => phrase!(
            "{nail} nails in the first, every {straight} and the last hole of each piece, on curves in every {curved}",
            nail,
            straight,
            curved = Ordinal(n)
        ),
    }
}

/// Each curve of the edge restraint with the radius that its pieces are bent to.
fn bends(design: &Design) -> Option<Phrase> {
    let edges = design.edging.by_edge.iter();
    let bends = edges.filter_map(|edge| {
        let radius = words::long(design, edge.bend_mm()?);
        Some(phrase!(
            "{count} piece along {edge} to a radius of {radius} | {count} pieces along {edge} to a radius of {radius}",
            count = edge.laid.len(),
            edge = &edge.edge,
            radius
        ))
    });
    let bends: Vec<Phrase> = bends.collect();
    (!bends.is_empty()).then(|| Phrase::listed(bends))
}

/// What is laid, course by course: pavers or slabs.
pub fn forms(design: &Design) -> Vec<Form> {
    let laid = design.areas.iter().flat_map(|area| &area.paving.courses);
    laid.map(|laid| design.job.pavers[laid.paver].form())
        .collect()
}

/// How what is laid is settled: a plate compactor cracks slabs.
fn settle(design: &Design) -> Phrase {
    let forms = forms(design);
    match (forms.contains(&Form::Paver), forms.contains(&Form::Slab)) {
        (_, false) => {
            phrase!("settle the pavers with a plate compactor on a soft pad, three passes")
        }
        (false, true) => phrase!(
            "settle the slabs with a mallet or a light roller, never with a plate compactor"
        ),
        (true, true) => phrase!(
            "settle the pavers with a plate compactor on a soft pad, three passes, and the slabs with a mallet or a light roller only"
        ),
    }
}
