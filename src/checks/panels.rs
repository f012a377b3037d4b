//! `panels.stagger`, `panels.four_corner`, `panels.narrow`: whether the base locks together.

use super::levels::length;
use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::panels::Cross;

const SOURCE: &str = "common practice, no source";

/// Cross joints of neighbouring courses keep their distance.
pub fn stagger(design: &Design) -> Vec<Finding> {
    let limit = design.job.panels.min_stagger;
    let joints = &design.cross_joints;
    let Some(least) = joints.min_offset_mm else {
        return Vec::new();
    };
    let near = joints
        .crosses
        .iter()
        .min_by(|a, b| a.offset_mm.total_cmp(&b.offset_mm));
    let under = joints.under_limit;
    let apart = phrase!(
        "Cross joints of neighbouring courses stand {least} apart or more (at least {limit})",
        least = length(design, least),
        limit = length(design, limit)
    );
    let title = match under {
        0 => apart,
        count => phrase!(
            "{apart}; {count} place too close. {remedy} | {apart}; {count} places too close. {remedy}",
            apart,
            count,
            remedy = put_right(design)
        ),
    };
    vec![Finding {
        id: "panels.stagger",
        status: if under > 0 {
            Status::Fail
        } else {
            Status::Pass
        },
        title,
        value: Some(least),
        limit: Some(limit),
        unit: "mm",
        at: place_of(design, "base.stagger"),
        where_: near.map(courses),
        point: near.map(|near| near.at),
        source: SOURCE,
    }]
}

/// The courses that two cross joints are of.
fn courses(cross: &Cross) -> Phrase {
    let [before, next] = cross.courses;
    phrase!("courses {before} and {next}", before, next)
}

/// What the crew does next: the first fault's course, and the least trim of its first panel.
fn put_right(design: &Design) -> Phrase {
    let mut crosses = design.cross_joints.crosses.iter();
    match crosses.find_map(|cross| cross.remedy) {
        Some(remedy) => phrase!(
            "Put right first: begin course {course} with a panel {first} long, so that its joints move back {back}",
            course = remedy.course,
            first = length(design, remedy.first_mm),
            back = length(design, remedy.back_mm)
        ),
        None => phrase!("No trim of a first panel puts it right: change the stagger"),
    }
}

/// Nowhere do four panels meet.
pub fn four_corner(design: &Design) -> Vec<Finding> {
    if design.panels.pieces == 0 {
        return Vec::new();
    }
    let joints = &design.cross_joints;
    let meets = joints.four_corner;
    let first = joints.crosses.iter().find(|cross| cross.four_corner);
    vec![Finding {
        id: "panels.four_corner",
        status: if meets > 0 {
            Status::Fail
        } else {
            Status::Pass
        },
        title: match meets {
            0 => phrase!("Nowhere do four panels meet"),
            count => phrase!(
                "Four panels meet in {count} place | Four panels meet in {count} places",
                count
            ),
        },
        value: Some(meets as f64),
        limit: Some(0.0),
        unit: "places",
        at: place_of(design, "base.stagger"),
        where_: first.map(courses),
        point: first.map(|cross| cross.at),
        source: SOURCE,
    }]
}

/// No piece is too narrow to lie still.
pub fn narrow(design: &Design) -> Vec<Finding> {
    let limit = design.job.panels.min_piece;
    let pieces = design.base.iter().flat_map(|part| {
        let pieces = part.layout.pieces.iter();
        pieces.map(|piece| (piece, part.layout.frame))
    });
    let narrowest = pieces.min_by(|a, b| a.0.narrowest_mm.total_cmp(&b.0.narrowest_mm));
    let Some((piece, frame)) = narrowest else {
        return Vec::new();
    };
    let width = piece.narrowest_mm;
    let narrow = width < limit - LENGTH;
    // A piece cut aslant is narrower than the length and the width that the cutting list gives.
    let least = piece.length_mm.min(piece.width_mm);
    let aslant = length(design, width) != length(design, least);
    vec![Finding {
        id: "panels.narrow",
        status: if narrow { Status::Warn } else { Status::Pass },
        title: match aslant {
            true => phrase!(
                "Narrowest panel piece is {width} across, aslant in a cut of {long} × {wide} (at least {limit})",
                width = length(design, width),
                long = length(design, piece.length_mm),
                wide = length(design, piece.width_mm),
                limit = length(design, limit)
            ),
            false => phrase!(
                "Narrowest panel piece is {width} (at least {limit})",
                width = length(design, width),
                limit = length(design, limit)
            ),
        },
        value: Some(width),
        limit: Some(limit),
        unit: "mm",
        at: place_of(design, "base.min_piece"),
        where_: Some(phrase!("piece {mark}", mark = piece.mark())),
        point: Some(piece.middle(&frame)),
        source: SOURCE,
    }]
}
