//! Words that several sheets share: lengths and levels in the sheet's units, depths, bonds.
//!
//! In: design and millimetres. Out: words ready to print.

use crate::design::{AreaDesign, Design};
use crate::geom::Point;
use crate::language::{Phrase, phrase, say};
use crate::paving::Bond;
use crate::site::ROUND;
use crate::units::{Fall, Length, Precision, System, print};

/// A length as dimensions give it; in millimetres.
pub fn long(design: &Design, mm: f64) -> String {
    let system = design.job.sheet.units;
    print::length(Length::from_mm(mm), system, Precision::Drawing)
}

/// A thickness or another small measure; in millimetres.
pub fn thin(design: &Design, mm: f64) -> String {
    let system = design.job.sheet.units;
    print::length(Length::from_mm(mm), system, Precision::Thickness)
}

/// A level; in millimetres, up positive.
pub fn level(design: &Design, mm: f64) -> String {
    print::level(Length::from_mm(mm), design.job.sheet.units)
}

/// A fall as a crew sets it on a level.
pub fn fall(design: &Design, ratio: f64) -> String {
    let sheet = &design.job.sheet;
    let per = say!(sheet.languages, "per");
    print::fall(Fall::from_ratio(ratio), sheet.units, &per)
}

/// Millimetres of a rule that is round in either kind of units, as the sheet's units state it.
pub fn stated(design: &Design, inch: f64, metric_mm: f64) -> f64 {
    match design.job.sheet.units {
        System::Metric => metric_mm,
        System::FeetInches | System::Dual => inch * 25.4,
    }
}

/// The depths from finish to formation that the areas have, each once.
pub fn depths(design: &Design) -> Phrase {
    let mut depths: Vec<String> = Vec::new();
    for area in &design.areas {
        let depth = thin(design, area.build_up.total());
        if !depths.contains(&depth) {
            depths.push(depth);
        }
    }
    let depths = depths.into_iter().map(Phrase::own);
    depths
        .reduce(|one, other| phrase!("{one} or {other}", one, other))
        .unwrap_or_default()
}

/// The bond as the trade calls it.
pub fn bond(bond: &Bond) -> Phrase {
    match bond {
        Bond::Running => phrase!("running bond"),
        Bond::Stack => phrase!("stack bond"),
        Bond::Herringbone => phrase!("herringbone"),
        Bond::Basketweave => phrase!("basketweave"),
        Bond::Modular(own) => phrase!("bond “{name}”", name = own.name),
    }
}

/// An edge as tables name it: a circle has one alone.
pub fn edge(design: &Design, name: &str) -> String {
    match name {
        ROUND => say!(design.job.sheet.languages, "circle"),
        name => name.to_owned(),
    }
}

/// A name with that of the measured point where it stands.
pub fn with_point(design: &Design, name: &str, at: Point) -> String {
    match design.job.survey.name_at(at) {
        Some(point) if point != name => format!("{name} ({point})"),
        _ => name.to_string(),
    }
}

/// The words with a capital at their start.
pub fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().collect::<String>() + letters.as_str())
        .unwrap_or_default()
}

/// How far a shifted bond starts from the start corner, along the start edge and square off it in
/// millimetres; `None` where it starts at the corner.
pub fn start_shift(area: &AreaDesign) -> Option<[f64; 2]> {
    let from = area.paving.start.from - area.frame.origin;
    let shift = [from.dot(area.frame.u), from.dot(area.frame.v)];
    shift.iter().any(|mm| mm.abs() > 0.5).then_some(shift)
}

/// That distance as a crew measures it.
pub fn from_corner(design: &Design, area: &AreaDesign, shift: [f64; 2]) -> String {
    let languages = design.job.sheet.languages;
    let [along, off] = shift.map(|mm| long(design, mm));
    let index = design
        .areas
        .iter()
        .position(|other| std::ptr::eq(other, area));
    let stated = index.and_then(|index| design.job.paving_starts.get(index)?.as_ref());
    match stated {
        Some(start) => say!(
            languages,
            "{along} from {corner} along {edge}, {off} square off it",
            along,
            corner = start.corner,
            edge = start.along,
            off
        ),
        None => say!(
            languages,
            "{along} right of and {off} above the lower left of its box",
            along,
            off
        ),
    }
}
