//! The tables of levels and of the survey from the computed design: levels and rod readings by
//! corner, measured points, traverse, levelling.
//!
//! In: design. Out: blocks of the further sheets. Readings are printed in the units of the crew's
//! rod, in the order of the work, with blanks to write down what was read.

use super::column::{Block, Entry};
use super::table::{Align, Row, Table};
use super::words::{level, long};
use crate::design::{Design, SetoutRow};
use crate::geom::Point;
use crate::language::{Phrase, phrase, say};
use crate::levels::Readings;
use crate::survey::{How, Measured, SurveyPoint};
use crate::units::{Angle, Length, Rod, print};

/// How often the day's reading on the datum can be written down.
const SETUPS: u32 = 3;
/// Levels nearer than this are one, in millimetres.
const ALIKE: f64 = 0.5;
/// A measured point this near to a place is at it, in millimetres.
const AT_POINT: f64 = 1.0;

/// How points and levels were measured and how well they are fixed.
pub fn survey(design: &Design) -> Vec<Block> {
    let mut blocks = Vec::new();
    blocks.extend(points(design));
    blocks.extend(traverse(design));
    blocks.extend(levelling(design));
    blocks
}

/// What the face of the rod is divided in.
fn face(rod: Rod) -> Phrase {
    match rod {
        Rod::DecimalFeet => phrase!("feet and hundredths"),
        Rod::FeetInches => phrase!("feet, inches and eighths"),
        Rod::Metric => phrase!("metres and millimetres"),
    }
}

/// The table's title, with the datum that levels are measured from and the laser's height.
fn levels_title(design: &Design) -> String {
    let languages = design.job.sheet.languages;
    let levels = &design.job.levels;
    match (&levels.datum, levels.instrument) {
        (Some(datum), Some(laser)) => say!(
            languages,
            "Levels and rod readings; datum {name} {level}; laser at {laser}",
            name = datum.name,
            level = level(design, datum.level),
            laser = level(design, laser)
        ),
        (None, Some(laser)) => {
            say!(
                languages,
                "Levels and rod readings; laser at {laser}",
                laser = level(design, laser)
            )
        }
        (Some(datum), None) => say!(
            languages,
            "Levels and rod readings; datum {name} {level}",
            name = datum.name,
            level = level(design, datum.level)
        ),
        (None, None) => say!(languages, "Levels"),
    }
}

/// Levels of the layers at each corner, and the readings that set them in the order of the work.
pub fn levels(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let rod = design.job.levels.rod;
    let ground = design.setout.iter().any(|row| row.ground.is_some());
    let laser = design.setout.iter().any(|row| row.readings.is_some());
    let datum = design.setout.iter().any(|row| row.from_datum.is_some());
    let mut heads = vec![(say!(languages, "Corner"), Align::Left)];
    if ground {
        heads.push((say!(languages, "Ground\nlevel"), Align::Right));
    }
    if laser || datum {
        heads.extend([
            (say!(languages, "Formation\nlevel"), Align::Right),
            (say!(languages, "Finish\nlevel"), Align::Right),
        ]);
    }
    let layers = match (laser, datum) {
        (true, _) => [
            say!(languages, "Rod on\nformation"),
            say!(languages, "Rod on\nrail"),
            say!(languages, "Rod on\nbedding"),
            say!(languages, "Rod on\npanel"),
            say!(languages, "Rod on\nfinish"),
        ],
        (false, true) => [
            say!(languages, "Add for\nformation"),
            say!(languages, "Add for\nrail"),
            say!(languages, "Add for\nbedding"),
            say!(languages, "Add for\npanel"),
            say!(languages, "Add for\nfinish"),
        ],
        (false, false) => [
            say!(languages, "Formation\nlevel"),
            say!(languages, "Rail\nlevel"),
            say!(languages, "Bedding\nlevel"),
            say!(languages, "Panel\nlevel"),
            say!(languages, "Finish\nlevel"),
        ],
    };
    for layer in layers {
        heads.push((layer, Align::Right));
        heads.push((say!(languages, "Read"), Align::Symbol));
    }
    let mut table = Table::new(&heads);
    // Each figure with a blank beside it.
    let with_blanks = |figures: [f64; 5], print: &dyn Fn(f64) -> String| {
        let cells = figures.map(|mm| [print(mm), String::new()]);
        cells.into_iter().flatten().collect::<Vec<String>>()
    };
    let readings_of = |r: &Readings| [r.formation, r.rail_top, r.bedding, r.panel_top, r.finish];
    for row in &design.setout {
        let alone = [(row.corner.clone(), row.levels, row.readings, row.from_datum)];
        let stepped = row.steps.iter().map(|step| {
            let name = format!("{} {}", row.corner, design.area_names(&step.areas));
            (name, step.levels, step.readings, step.from_datum)
        });
        let stepped: Vec<_> = stepped.collect();
        let rows = if stepped.is_empty() {
            &alone[..]
        } else {
            &stepped
        };
        for (name, of, readings, from_datum) in rows {
            let mut cells = vec![name.clone()];
            if ground {
                cells.push(row.ground.map(|mm| level(design, mm)).unwrap_or_default());
            }
            if laser || datum {
                cells.extend([level(design, of.formation), level(design, of.finish)]);
            }
            if let Some(readings) = readings {
                let plain = |mm: f64| print::rod(Length::from_mm(mm), rod);
                cells.extend(with_blanks(readings_of(readings), &plain));
            } else if let Some(differences) = from_datum {
                let signed = |mm: f64| print::rod_difference(Length::from_mm(mm), rod);
                cells.extend(with_blanks(readings_of(differences), &signed));
            } else {
                let levels = [
                    of.formation,
                    of.rail_top,
                    of.bedding,
                    of.panel_top,
                    of.finish,
                ];
                cells.extend(with_blanks(levels, &|mm| level(design, mm)));
            }
            table.row(cells);
        }
    }
    let mut entries = Vec::new();
    if let (false, false, Some(from)) = (laser, datum, counted_from(design)) {
        entries.push(Entry::plain(say!(
            languages,
            "The job names no datum: the finish at {corner} counts as {level}, and every other level is set from it.",
            corner = from.corner,
            level = level(design, from.levels.finish)
        )));
    }
    if ground {
        let mut named: Vec<&str> = Vec::new();
        for fixed in &design.job.levels.fixed {
            let surface = fixed.surface.as_str();
            if named.contains(&surface) {
                continue;
            }
            named.push(surface);
            entries.push(Entry::plain(say!(
                languages,
                "Ground level is of the soil beside {surface}, not of its top.",
                surface
            )));
        }
    }
    if laser {
        entries.push(Entry::plain(say!(
            languages,
            "Rod readings in {rod}. If the laser is moved, read the datum again.",
            rod = face(rod)
        )));
    }
    if let (true, Some(benchmark)) = (datum, &design.job.levels.datum) {
        let words = say!(
            languages,
            "Read the rod on {name} each time the laser is set up, and write it down here. Reading on a layer = that reading + the figure below; rod in {rod}.",
            name = benchmark.name,
            rod = face(rod)
        );
        entries.push(Entry::plain(&words));
        let mut blanks = Table::new(&[
            (say!(languages, "Set-up"), Align::Left),
            (say!(languages, "Date"), Align::Symbol),
            (say!(languages, "Reading"), Align::Symbol),
            (String::new(), Align::Stretch),
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
    Block::paragraphs(levels_title(design), entries)
}

/// The corner whose finish other levels are set from where the job names no datum: the first of the
/// highest.
pub fn counted_from(design: &Design) -> Option<&SetoutRow> {
    let higher =
        |best: &'_ SetoutRow, row: &SetoutRow| row.levels.finish > best.levels.finish + ALIKE;
    let rows = design.setout.iter();
    rows.reduce(|best, row| if higher(best, row) { row } else { best })
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

/// The name of the measured point at a place.
pub fn name_at(design: &Design, at: Point) -> Option<&str> {
    let points = &design.job.survey.points;
    let point = points
        .iter()
        .find(|point| point.at.distance(at) < AT_POINT)?;
    Some(&point.name)
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
                .filter_map(|spot| name_at(design, spot.at));
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
