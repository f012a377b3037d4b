//! The set-out tables from the computed design: corners, features, proofs, arcs, stakes, rails.
//!
//! In: design. Out: blocks of the further sheets, in the order the crew needs them. Lengths are
//! printed as the plan prints them; a tie whose tapes cross badly stands in brackets, as the corner
//! is then set by station and offset.

use super::column::Block;
use super::from_stakes;
use super::table::{Align, Table};
use super::words::{self, long};
use crate::design::field::is_strong;
use crate::design::{ArcSetout, Design, SetoutRow, What};
use crate::language::say;
use crate::levels::CornerTies;
use crate::site::ROUND;

/// Most lengths that stand one to a row.
const ONE_TO_A_ROW: usize = 4;
/// Lengths nearer than this print alike in most cases, in millimetres.
const SAME: f64 = 0.5;

/// Every set-out block.
pub fn blocks(design: &Design) -> Vec<Block> {
    let mut blocks = vec![corners(design)];
    blocks.extend(features(design));
    blocks.extend(proofs(design));
    blocks.extend(right_angles(design));
    blocks.extend(arcs(design));
    blocks.extend(from_stakes::table(design));
    blocks.extend(rails(design));
    blocks
}

/// Station and offset, then the two tapes, in brackets where they cross badly.
fn tie_cells(design: &Design, ties: &CornerTies) -> Vec<String> {
    let tape = |mm: f64| {
        let words = long(design, mm);
        if is_strong(ties) {
            words
        } else {
            format!("({words})")
        }
    };
    vec![
        long(design, ties.station),
        long(design, ties.offset),
        tape(ties.distance[0]),
        tape(ties.distance[1]),
    ]
}

/// Headings of [`tie_cells`].
fn tie_heads(design: &Design) -> [String; 4] {
    let languages = design.job.sheet.languages;
    let [a, b] = design.base_line.each_ref().map(|(name, _)| name);
    [
        say!(languages, "Along\n{a}–{b}", a, b),
        say!(languages, "Out"),
        say!(languages, "Tape\nfrom {a}", a),
        say!(languages, "Tape\nfrom {b}", b),
    ]
}

fn table<S: AsRef<str>>(heads: &[S]) -> Table {
    let columns: Vec<(&str, Align)> = heads
        .iter()
        .enumerate()
        .map(|(i, head)| {
            (
                head.as_ref(),
                if i == 0 { Align::Left } else { Align::Right },
            )
        })
        .collect();
    Table::new(&columns)
}

/// The corners from the base line.
fn corners(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let [a, b] = design.base_line.each_ref().map(|(name, _)| name);
    // Where the base line runs along x, x and y would only repeat along and out, counted from
    // elsewhere: its slope moves none of the corners so much that it prints.
    let [from, to] = design.base_line.each_ref().map(|(_, end)| *end);
    let reach = |row: &SetoutRow| row.ties.station.hypot(row.ties.offset);
    let farthest = design.setout.iter().map(reach).fold(0.0, f64::max);
    let slope = (to.y - from.y).abs() / from.distance(to);
    let plain = slope * farthest < SAME && to.x > from.x;
    let ties = tie_heads(design);
    let corner = say!(languages, "Corner");
    let mut heads = vec![corner.as_str(), &ties[0], &ties[1], &ties[2], &ties[3]];
    if !plain {
        heads.extend(["x", "y"]);
    }
    let mut table = table(&heads);
    for row in &design.setout {
        let mut cells = vec![row.corner.clone()];
        cells.extend(tie_cells(design, &row.ties));
        if !plain {
            cells.extend([long(design, row.at.x), long(design, row.at.y)]);
        }
        table.row(cells);
    }
    let base = design.base_line[0].1.distance(design.base_line[1].1);
    let mut words = vec![say!(
        languages,
        "Base line {a} to {b}: {base}. Out is square from it, to the left going from {a} to {b}; − is to the right.",
        a,
        b,
        base = long(design, base)
    )];
    words.extend(circle_words(design));
    let mut taped = design.setout.iter().map(|row| &row.ties);
    let mut features = design.field.features.iter().map(|feature| &feature.ties);
    if !taped.all(is_strong) || !features.all(is_strong) {
        words.push(
            say!(
                languages,
                "Tapes whose lengths stand in brackets cross too flat to fix a point: set it by along and out."
            )
            .to_string(),
        );
    }
    Block::explained(say!(languages, "Set-out of the corners"), &words, table)
}

/// What the quarter points of the circles are, and by which circles the base line lies.
fn circle_words(design: &Design) -> Vec<String> {
    let languages = design.job.sheet.languages;
    let [(name, from), (end, to)] = &design.base_line;
    let mut words = Vec::new();
    for circle in &design.quarters {
        let [(first, _), .., (last, _)] = &circle.points;
        let area = &design.areas[circle.area].name;
        let radius = long(design, circle.radius);
        let mut sides = (0..4).map(|side| circle.box_side(side));
        if sides.any(|side| side[0].distance(*from) < SAME && side[1].distance(*to) < SAME) {
            words.push(say!(
                languages,
                "{name} and {end} are corners of the box round {area}, whose sides touch it: drive a stake at each.",
                name,
                end,
                area
            ));
        }
        words.push(if circle.centre.distance(*from) < SAME {
            say!(
                languages,
                "{name} is the centre of {area}: drive a stake there and swing R {radius}. {first} to {last} are its quarter points, along the base line and square to it.",
                name,
                area,
                radius,
                first,
                last
            )
        } else if circle.centre_free {
            say!(
                languages,
                "{first} to {last} are the quarter points of {area}: from its centre along the base line and square to it, R {radius}. Drive a stake at the centre and swing the circle from there.",
                first,
                last,
                area,
                radius
            )
        } else {
            say!(
                languages,
                "{first} to {last} are the quarter points of {area}, R {radius}, along the base line and square to it: its centre cannot be taped from, so mark the circle by its points.",
                first,
                last,
                area,
                radius
            )
        });
    }
    words
}

/// What else is taped from the base line.
fn features(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let found = &design.field.features;
    if found.is_empty() {
        return None;
    }
    let ties = tie_heads(design);
    let place = say!(languages, "Place");
    // A long name goes on in a second line rather than part the figures that belong together.
    let mut columns = vec![(place.as_str(), Align::Stretch)];
    columns.extend(ties.iter().map(|head| (head.as_str(), Align::Right)));
    let mut table = Table::new(&columns);
    for feature in found {
        let name = match &feature.what {
            What::Sill(name) | What::Downspout(name) => name.clone(),
            What::ChannelEnd { drain, end, width } => say!(
                languages,
                "{drain} {width} wide, its middle at {end}",
                end,
                drain,
                width = long(design, *width)
            ),
            What::Gully(name, size) => say!(
                languages,
                "Middle of {name}, {size} square",
                name,
                size = long(design, *size)
            ),
            What::Middle(name, radius) => say!(
                languages,
                "Middle of {name}, R {radius}",
                name = words::with_point(design, name, feature.at),
                radius = long(design, *radius)
            ),
            What::Centre(edge, radius) if edge == ROUND => {
                say!(
                    languages,
                    "Centre of the circle, R {radius}",
                    radius = long(design, *radius)
                )
            }
            What::Centre(edge, radius) => say!(
                languages,
                "Centre of {edge}, R {radius}",
                edge,
                radius = long(design, *radius)
            ),
            What::OnArc(edge, number) if edge == ROUND => {
                say!(languages, "Circle, point {number}", number)
            }
            What::OnArc(edge, number) => say!(languages, "{edge}, point {number}", edge, number),
        };
        let mut cells = vec![name];
        cells.extend(tie_cells(design, &feature.ties));
        table.row(cells);
    }
    Some(Block::table(
        say!(languages, "Other points from the base line"),
        table,
    ))
}

/// Lengths between corners that no tape above repeats.
fn proofs(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    // Names and lengths are short: many stand two to a row.
    let proofs = &design.field.proofs;
    let across = if proofs.len() > ONE_TO_A_ROW { 2 } else { 1 };
    let heads = [
        (say!(languages, "From – to"), Align::Left),
        (say!(languages, "Length"), Align::Right),
    ];
    let heads: Vec<_> = heads.iter().cycle().take(2 * across).cloned().collect();
    let mut table = Table::new(&heads);
    for row in proofs.chunks(across) {
        let cells = row.iter().flat_map(|proof| {
            let [a, b] = &proof.corners;
            [
                say!(languages, "{a} to {b}", a, b),
                long(design, proof.length),
            ]
        });
        let mut cells: Vec<String> = cells.collect();
        cells.resize(table.columns.len(), String::new());
        table.row(cells);
    }
    (!table.rows.is_empty())
        .then(|| Block::table(say!(languages, "Lengths that prove the shape"), table))
}

/// Right angles by 3-4-5.
fn right_angles(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let mut table = table(&[
        say!(languages, "Corner"),
        say!(languages, "Mark on one side"),
        say!(languages, "Mark on the other"),
        say!(languages, "Between\nthe marks"),
    ]);
    for square in &design.field.right_angles {
        let [before, corner, after] = &square.corners;
        let [first, second] = square.proof.marks;
        table.row(vec![
            corner.clone(),
            say!(
                languages,
                "{first} towards {before}",
                first = long(design, first),
                before
            ),
            say!(
                languages,
                "{second} towards {after}",
                second = long(design, second),
                after
            ),
            long(design, square.proof.across),
        ]);
    }
    (!table.rows.is_empty())
        .then(|| Block::table(say!(languages, "Square corners by 3-4-5"), table))
}

/// Arcs by centre and radius and by offsets from the chord.
fn arcs(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let mut table = Table::new(&[
        (say!(languages, "Edge"), Align::Left),
        (say!(languages, "Radius"), Align::Right),
        (say!(languages, "Chord"), Align::Right),
        (say!(languages, "Rise"), Align::Right),
        (say!(languages, "Centre"), Align::Left),
        (
            say!(languages, "Along the chord: out to the arc"),
            Align::Stretch,
        ),
    ]);
    for arc in &design.field.arcs {
        let centre = if arc.centre_free {
            say!(languages, "see above")
        } else {
            say!(languages, "not in reach")
        };
        let flat = |which: usize| {
            let chord = arc.marks.chord.map(|both| long(design, both[which]));
            chord.unwrap_or_default()
        };
        table.row(vec![
            words::edge(design, &arc.edge),
            long(design, arc.marks.radius),
            flat(0),
            flat(1),
            centre.to_string(),
            offsets(design, arc),
        ]);
    }
    (!table.rows.is_empty()).then(|| Block::table(say!(languages, "Arcs"), table))
}

fn offsets(design: &Design, arc: &ArcSetout) -> String {
    let languages = design.job.sheet.languages;
    let marks: Vec<String> = arc
        .marks
        .points
        .iter()
        .filter_map(|point| point.chord)
        .map(|[station, out]| format!("{}: {}", long(design, station), long(design, out)))
        .collect();
    match (&arc.ends, marks.is_empty()) {
        (Some([from, to]), false) => say!(
            languages,
            "from {from} to {to} at {join}",
            from,
            to,
            join = marks.join(&say!(languages, "; "))
        ),
        _ if arc.centre_free => say!(languages, "swing it from the centre"),
        _ => say!(languages, "points on it: see above"),
    }
}

/// Where each run of the rails begins and ends, where no chain on the plan gives it.
fn rails(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let runs = &design.field.rails;
    if runs.is_empty() {
        return None;
    }
    let [along, out, ..] = tie_heads(design);
    let mut table = table(&[
        say!(languages, "Rail"),
        along.clone(),
        out.clone(),
        along,
        out,
        say!(languages, "Length"),
    ]);
    for run in runs {
        let mut cells = vec![run.name.clone()];
        for ties in &run.ties {
            cells.extend([long(design, ties.station), long(design, ties.offset)]);
        }
        cells.push(long(design, run.ends[0].distance(run.ends[1])));
        table.row(cells);
    }
    let words = say!(
        languages,
        "High end first, then low end, both on the edge of the base or of what stands in it."
    );
    Some(Block::explained(
        say!(languages, "Screed rails from the base line"),
        &[words],
        table,
    ))
}
