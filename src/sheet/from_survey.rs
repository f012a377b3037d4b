//! The tables of the survey from the computed design: measured points, traverse, levelling.
//!
//! In: design. Out: blocks of the further sheets. Readings are printed in the units of the crew's
//! rod.

use super::column::{Block, Entry};
use super::table::{Align, Row, Table};
use super::words::{level, long};
use crate::design::Design;
use crate::language::say;
use crate::survey::{How, Measured, SurveyPoint};
use crate::units::{Angle, Length, print};

/// How points and levels were measured and how well they are fixed.
pub fn survey(design: &Design) -> Vec<Block> {
    let mut blocks = Vec::new();
    blocks.extend(points(design));
    blocks.extend(traverse(design));
    blocks.extend(levelling(design));
    blocks
}

/// The measured points, how each was got and how well it is fixed.
fn points(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let points = &design.job.survey.points;
    if points.iter().all(|point| point.how == How::Given) {
        return None;
    }
    let mut table = Table::new(&[
        (say!(languages, "Point"), Align::Left),
        ("x".to_string(), Align::Right),
        ("y".to_string(), Align::Right),
        (say!(languages, "Measured by"), Align::Stretch),
        (say!(languages, "Tapes\ncross at"), Align::Right),
        (say!(languages, "Further tape\nmisses by"), Align::Right),
    ]);
    for point in points {
        let crossing = point.crossing_deg.map(Angle::from_degrees);
        let crossing = crossing.map(|angle| format!("{:.0}°", angle.degrees()));
        let misses: Vec<String> = point
            .residuals
            .iter()
            .map(|residual| {
                let miss = long(design, residual.residual_mm());
                format!("{}: {miss}", residual.from)
            })
            .collect();
        table.row(vec![
            point.name.clone(),
            long(design, point.at.x),
            long(design, point.at.y),
            measured_by(design, point),
            crossing.unwrap_or_default(),
            misses.join(", "),
        ]);
    }
    Some(Block::table(say!(languages, "Measured points"), table))
}

fn measured_by(design: &Design, point: &SurveyPoint) -> String {
    let languages = design.job.sheet.languages;
    let spec = design
        .job
        .points
        .iter()
        .find(|spec| spec.name == point.name);
    match spec.map(|spec| &spec.measured) {
        None => say!(languages, "traverse"),
        Some(Measured::At(_)) => say!(languages, "given"),
        Some(Measured::Tie { from, distance, .. }) => say!(
            languages,
            "{distance} from {from}, {distance_2} from {from_2}",
            distance = long(design, distance[0]),
            from = from[0],
            distance_2 = long(design, distance[1]),
            from_2 = from[1]
        ),
        Some(Measured::Offset { along, at, out }) => say!(
            languages,
            "{at} along {along}–{along_2}, out {out}",
            at = long(design, *at),
            along = along[0],
            along_2 = along[1],
            out = long(design, *out)
        ),
    }
}

/// The traverse's legs and its misclosure.
fn traverse(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let traverse = design.job.survey.traverse.as_ref()?;
    let mut table = Table::new(&[
        (say!(languages, "Leg to"), Align::Left),
        (say!(languages, "Bearing"), Align::Right),
        (say!(languages, "Distance"), Align::Right),
        (say!(languages, "Adjusted\nbearing"), Align::Right),
        (say!(languages, "Adjusted\ndistance"), Align::Right),
    ]);
    let bearing = |degrees: f64| print::angle(Angle::from_degrees(degrees));
    for leg in &traverse.legs {
        let adjusted = if traverse.adjusted {
            [
                bearing(leg.adjusted_bearing_deg()),
                long(design, leg.adjusted_distance_mm()),
            ]
        } else {
            [String::new(), String::new()]
        };
        let mut cells = vec![
            leg.to.clone(),
            bearing(leg.bearing_deg),
            long(design, leg.distance_mm),
        ];
        cells.extend(adjusted);
        table.row(cells);
    }
    let title = match (traverse.misclosure_mm, traverse.ratio, traverse.adjusted) {
        (Some(miss), Some(ratio), true) => say!(
            languages,
            "Traverse: misses by {miss}, 1:{ratio}; adjusted by the compass rule",
            miss = long(design, miss),
            ratio = format!("{ratio:.0}")
        ),
        (Some(miss), Some(ratio), false) => say!(
            languages,
            "Traverse: misses by {miss}, 1:{ratio}; not adjusted",
            miss = long(design, miss),
            ratio = format!("{ratio:.0}")
        ),
        (Some(_), None, _) => say!(languages, "Traverse: closes"),
        (None, ..) => say!(
            languages,
            "Traverse: ends at a new point, nothing proves it"
        ),
    };
    Some(Block::table(&title, table))
}

/// The field book of the levelling, reduced.
fn levelling(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let (_, result) = design.job.levelling.as_ref()?;
    let rod = design.job.levels.rod;
    let mut table = Table::new(&[
        (say!(languages, "Point"), Align::Left),
        (say!(languages, "Back"), Align::Right),
        (say!(languages, "Inter-\nmediate"), Align::Right),
        (say!(languages, "Fore"), Align::Right),
        (say!(languages, "Instrument"), Align::Right),
        (say!(languages, "Rise (+)\nor fall (−)"), Align::Right),
        (say!(languages, "Reduced\nlevel"), Align::Right),
        (say!(languages, "Level"), Align::Right),
    ]);
    let reading = |mm: Option<f64>| {
        mm.map(|mm| print::rod(Length::from_mm(mm), rod))
            .unwrap_or_default()
    };
    for line in &result.lines {
        let rise = line.rise.map(Length::from_mm);
        let rise = rise.map(|rise| print::rod_difference(rise, rod));
        table.rows.push(Row {
            cells: vec![
                line.sight.at.clone(),
                reading(line.sight.back),
                reading(line.sight.intermediate),
                reading(line.sight.fore),
                line.instrument
                    .map(|mm| level(design, mm))
                    .unwrap_or_default(),
                rise.unwrap_or_default(),
                level(design, line.reduced),
                level(design, line.level),
            ],
            ..Row::default()
        });
    }
    let miss = |mm: f64| print::rod_difference(Length::from_mm(mm), rod);
    let title = match (result.misclosure, result.adjusted) {
        (Some(by), true) => say!(
            languages,
            "Levelling: closes {by} off, spread over {setups} set-ups",
            by = miss(by),
            setups = result.setups
        ),
        (Some(by), false) => say!(
            languages,
            "Levelling: closes {by} off, not spread",
            by = miss(by)
        ),
        (None, _) => say!(languages, "Levelling: ends at no point of known level"),
    };
    let mut entries: Vec<Entry> = design
        .job
        .levels
        .fixed
        .iter()
        .filter_map(|fixed| {
            let names = fixed
                .levels
                .iter()
                .filter_map(|spot| design.job.survey.name_at(spot.at));
            let points: Vec<&str> = names.collect();
            (!points.is_empty()).then(|| {
                Entry::plain(say!(
                    languages,
                    "{points}: on {surface}.",
                    points = points.join(", "),
                    surface = fixed.surface
                ))
            })
        })
        .collect();
    entries.push(Entry::Table(table));
    Some(Block::paragraphs(&title, entries))
}
