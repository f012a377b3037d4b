//! The tables of levels and of the survey from the computed design: levels and rod readings by
//! corner, measured points, traverse, levelling.
//!
//! In: design. Out: blocks of the further sheets. Readings are printed in the units of the crew's
//! rod, in the order of the work, with blanks to write down what was read.

use super::column::{Block, Entry};
use super::table::{Align, Row, Table};
use super::words::{level, long};
use crate::design::Design;
use crate::levels::Readings;
use crate::survey::{How, Measured, SurveyPoint};
use crate::units::{Angle, Length, Rod, print};

/// How often the day's reading on the datum can be written down.
const SETUPS: u32 = 3;

/// How points and levels were measured and how well they are fixed.
pub fn survey(design: &Design) -> Vec<Block> {
    let mut blocks = Vec::new();
    blocks.extend(points(design));
    blocks.extend(traverse(design));
    blocks.extend(levelling(design));
    blocks
}

/// What the face of the rod is divided in.
const fn face(rod: Rod) -> &'static str {
    match rod {
        Rod::DecimalFeet => "feet and hundredths",
        Rod::FeetInches => "feet, inches and eighths",
        Rod::Metric => "metres and millimetres",
    }
}

/// The table's title, with the datum that levels are measured from and the laser's height.
fn levels_title(design: &Design) -> String {
    let levels = &design.job.levels;
    match (&levels.datum, levels.instrument) {
        (Some(datum), Some(laser)) => format!(
            "Levels and rod readings; datum {} {}; laser at {}",
            datum.name,
            level(design, datum.level),
            level(design, laser)
        ),
        (None, Some(laser)) => {
            format!("Levels and rod readings; laser at {}", level(design, laser))
        }
        (Some(datum), None) => format!(
            "Levels and rod readings; datum {} {}",
            datum.name,
            level(design, datum.level)
        ),
        (None, None) => "Levels".to_string(),
    }
}

/// Levels of the layers at each corner, and the readings that set them in the order of the work.
pub fn levels(design: &Design) -> Block {
    let rod = design.job.levels.rod;
    let ground = design.setout.iter().any(|row| row.ground.is_some());
    let laser = design.setout.iter().any(|row| row.readings.is_some());
    let datum = design.setout.iter().any(|row| row.from_datum.is_some());
    let mut heads = vec![("Corner", Align::Left)];
    if ground {
        heads.push(("Ground\nlevel", Align::Right));
    }
    heads.extend([
        ("Formation\nlevel", Align::Right),
        ("Finish\nlevel", Align::Right),
    ]);
    if laser || datum {
        let layers = if laser {
            [
                "Rod on\nformation",
                "Rod on\nrail",
                "Rod on\nbedding",
                "Rod on\npanel",
                "Rod on\nfinish",
            ]
        } else {
            [
                "Add for\nformation",
                "Add for\nrail",
                "Add for\nbedding",
                "Add for\npanel",
                "Add for\nfinish",
            ]
        };
        let [formation, rail, bedding, panel, finish] = layers;
        heads.extend([
            (formation, Align::Right),
            ("Read", Align::Symbol),
            (rail, Align::Right),
            ("Read", Align::Symbol),
            (bedding, Align::Right),
            (panel, Align::Right),
            (finish, Align::Right),
            ("Read", Align::Symbol),
        ]);
    }
    let mut table = Table::new(&heads);
    let cells_of = |readings: &Readings, print: &dyn Fn(f64) -> String| {
        [
            print(readings.formation),
            String::new(),
            print(readings.rail_top),
            String::new(),
            print(readings.bedding),
            print(readings.panel_top),
            print(readings.finish),
            String::new(),
        ]
    };
    for row in &design.setout {
        let mut cells = vec![row.corner.clone()];
        if ground {
            cells.push(row.ground.map(|mm| level(design, mm)).unwrap_or_default());
        }
        cells.extend([
            level(design, row.levels.formation),
            level(design, row.levels.finish),
        ]);
        if let Some(readings) = &row.readings {
            cells.extend(cells_of(readings, &|mm| {
                print::rod(Length::from_mm(mm), rod)
            }));
        } else if let Some(differences) = &row.from_datum {
            let signed = |mm: f64| print::rod_difference(Length::from_mm(mm), rod);
            cells.extend(cells_of(differences, &signed));
        }
        table.row(cells);
    }
    let mut entries = Vec::new();
    if laser {
        entries.push(Entry::plain(&format!(
            "Rod readings in {}. If the laser is moved, read the datum again.",
            face(rod)
        )));
    }
    if let (true, Some(benchmark)) = (datum, &design.job.levels.datum) {
        let words = format!(
            "Read the rod on {} each time the laser is set up, and write it down here. Reading on a layer = that reading + the figure below; rod in {}.",
            benchmark.name,
            face(rod)
        );
        entries.push(Entry::plain(&words));
        let mut blanks = Table::new(&[
            ("Set-up", Align::Left),
            ("Date", Align::Symbol),
            ("Reading", Align::Symbol),
            ("", Align::Stretch),
        ]);
        for number in 1..=SETUPS {
            let cells = [
                number.to_string(),
                String::new(),
                String::new(),
                String::new(),
            ];
            blanks.row(cells.to_vec());
        }
        entries.push(Entry::Table(blanks));
    }
    entries.push(Entry::Table(table));
    Block::paragraphs(&levels_title(design), entries)
}

/// The measured points, how each was got and how well it is fixed.
fn points(design: &Design) -> Option<Block> {
    let points = &design.job.survey.points;
    if points.iter().all(|point| point.how == How::Given) {
        return None;
    }
    let mut table = Table::new(&[
        ("Point", Align::Left),
        ("x", Align::Right),
        ("y", Align::Right),
        ("Measured by", Align::Stretch),
        ("Tapes\ncross at", Align::Right),
        ("Further tape\nmisses by", Align::Right),
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
    Some(Block::table("Measured points", table))
}

fn measured_by(design: &Design, point: &SurveyPoint) -> String {
    let spec = design
        .job
        .points
        .iter()
        .find(|spec| spec.name == point.name);
    match spec.map(|spec| &spec.measured) {
        None => "traverse".to_string(),
        Some(Measured::At(_)) => "given".to_string(),
        Some(Measured::Tie { from, distance, .. }) => format!(
            "{} from {}, {} from {}",
            long(design, distance[0]),
            from[0],
            long(design, distance[1]),
            from[1]
        ),
        Some(Measured::Offset { along, at, out }) => format!(
            "{} along {}–{}, out {}",
            long(design, *at),
            along[0],
            along[1],
            long(design, *out)
        ),
    }
}

/// The traverse's legs and its misclosure.
fn traverse(design: &Design) -> Option<Block> {
    let traverse = design.job.survey.traverse.as_ref()?;
    let mut table = Table::new(&[
        ("Leg to", Align::Left),
        ("Bearing", Align::Right),
        ("Distance", Align::Right),
        ("Adjusted\nbearing", Align::Right),
        ("Adjusted\ndistance", Align::Right),
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
        (Some(miss), Some(ratio), true) => format!(
            "Traverse: misses by {}, 1:{ratio:.0}; adjusted by the compass rule",
            long(design, miss)
        ),
        (Some(miss), Some(ratio), false) => format!(
            "Traverse: misses by {}, 1:{ratio:.0}; not adjusted",
            long(design, miss)
        ),
        (Some(_), None, _) => "Traverse: closes".to_string(),
        (None, ..) => "Traverse: ends at a new point, nothing proves it".to_string(),
    };
    Some(Block::table(&title, table))
}

/// The field book of the levelling, reduced.
fn levelling(design: &Design) -> Option<Block> {
    let (_, result) = design.job.levelling.as_ref()?;
    let rod = design.job.levels.rod;
    let mut table = Table::new(&[
        ("Point", Align::Left),
        ("Back", Align::Right),
        ("Inter-\nmediate", Align::Right),
        ("Fore", Align::Right),
        ("Instrument", Align::Right),
        ("Rise (+)\nor fall (−)", Align::Right),
        ("Reduced\nlevel", Align::Right),
        ("Level", Align::Right),
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
        (Some(by), true) => format!(
            "Levelling: closes {} off, spread over {} set-ups",
            miss(by),
            result.setups
        ),
        (Some(by), false) => format!("Levelling: closes {} off, not spread", miss(by)),
        (None, _) => "Levelling: ends at no point of known level".to_string(),
    };
    Some(Block::table(&title, table))
}
