//! `panels.stagger`, `panels.four_corner`, `panels.narrow`: whether the base locks together.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::geom::Point;
use crate::units::{Length, print};

const SOURCE: &str = "common practice, no source";

/// Cross joints of neighbouring courses keep their distance.
pub fn stagger(design: &Design) -> Vec<Finding> {
    let limit = design.job.panels.min_stagger;
    let offsets = design
        .base
        .iter()
        .filter_map(|part| part.joints.min_offset_mm);
    let Some(least) = offsets.min_by(f64::total_cmp) else {
        return Vec::new();
    };
    let crosses = design.base.iter().flat_map(|part| &part.joints.crosses);
    let near = crosses.min_by(|a, b| a.offset_mm.total_cmp(&b.offset_mm));
    let under: usize = design.base.iter().map(|part| part.joints.under_limit).sum();
    let title = format!(
        "Cross joints of neighbouring courses stand {} apart or more (at least {}){}",
        length(design, least),
        length(design, limit),
        match under {
            0 => String::new(),
            1 => "; 1 place too close".to_string(),
            many => format!("; {many} places too close"),
        }
    );
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
        where_: near.map(|near| format!("courses {} and {}", near.courses[0], near.courses[1])),
        point: near.map(|near| near.at),
        source: SOURCE,
    }]
}

/// Nowhere do four panels meet.
pub fn four_corner(design: &Design) -> Vec<Finding> {
    if design.panels.pieces == 0 {
        return Vec::new();
    }
    let meets: usize = design.base.iter().map(|part| part.joints.four_corner).sum();
    let first = design
        .base
        .iter()
        .flat_map(|part| part.joints.crosses.iter())
        .find(|cross| cross.offset_mm <= LENGTH);
    vec![Finding {
        id: "panels.four_corner",
        status: if meets > 0 {
            Status::Fail
        } else {
            Status::Pass
        },
        title: match meets {
            0 => "Nowhere do four panels meet".to_string(),
            1 => "Four panels meet in 1 place".to_string(),
            many => format!("Four panels meet in {many} places"),
        },
        value: Some(meets as f64),
        limit: Some(0.0),
        unit: "places",
        at: place_of(design, "base.stagger"),
        where_: first.map(|cross| format!("courses {} and {}", cross.courses[0], cross.courses[1])),
        point: first.map(|cross| cross.at),
        source: SOURCE,
    }]
}

/// No piece is too narrow to lie still.
pub fn narrow(design: &Design) -> Vec<Finding> {
    let limit = design.job.panels.min_piece;
    let narrowest: Option<(f64, String, Point)> = design
        .base
        .iter()
        .flat_map(|part| {
            let frame = part.layout.frame;
            part.layout
                .pieces
                .iter()
                .map(move |piece| (piece.narrowest_mm, piece.mark(), piece.middle(&frame)))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((width, mark, at)) = narrowest else {
        return Vec::new();
    };
    let narrow = width < limit - LENGTH;
    vec![Finding {
        id: "panels.narrow",
        status: if narrow { Status::Warn } else { Status::Pass },
        title: format!(
            "Narrowest panel piece is {} (at least {})",
            length(design, width),
            length(design, limit)
        ),
        value: Some(width),
        limit: Some(limit),
        unit: "mm",
        at: place_of(design, "base.min_piece"),
        where_: Some(format!("piece {mark}")),
        point: Some(at),
        source: SOURCE,
    }]
}

fn length(design: &Design, mm: f64) -> String {
    print::length(
        Length::from_mm(mm),
        design.job.sheet.units,
        print::Precision::Drawing,
    )
}
