//! The cutting list says all that is needed to cut every piece, and no more than is drawn.

use super::*;
use crate::design;
use crate::draw::{Face, Item, Text};
use crate::geom::{Point, Shape, clip};
use crate::panels::Cut;

/// Printed dimensions are off by half a step at most: 1/16 in, or half a millimetre.
const FEET: f64 = 25.4 / 16.0;
/// Lengths nearer than this are one reading.
const SAME: f64 = 0.5;

fn designed(units: &str, outline: &str, more: &str) -> Design {
    let yaml = format!(
        "job: {{title: Yard}}
sheet: {{units: {units}}}
paving:
  - name: Yard
    {outline}
pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}
levels: {{finish: {{fall: 2%}}}}
{more}"
    );
    let job = crate::job::read(yaml.as_bytes()).expect("a job");
    design::run(job).expect("a design")
}

/// Jobs with straight, slanted, notched and curved cuts, in each kind of units.
fn jobs() -> Vec<Design> {
    vec![
        designed(
            "feet-inches",
            "outline: [[0, 0], [20', 0], [22', 9'], {arc: {to: [16', 15'], radius: 6.5', side: left}}, [0, 15']]
    holes: [{outline: [[6', 5'], [8', 5'], [8', 7'], [6', 7'-4\"]]}]",
            "",
        ),
        designed(
            "metric",
            "rectangle: {corner: [0, 0], width: 6.3 m, depth: 4.7 m, turn: 12°}
    holes: [{circle: {centre: [2.5 m, 2.5 m], radius: 400 mm}}]",
            "base: {layout: best}",
        ),
        designed(
            "dual",
            "outline: [[0, 0], [9 m, 0], [9 m, 3 m], [4 m, 5 m], [4 m, 8 m], [0, 7.1 m]]",
            "",
        ),
    ]
}

fn texts(items: &[Item]) -> Vec<&Text> {
    items
        .iter()
        .flat_map(|item| match item {
            Item::Group(group) => texts(&group.items),
            Item::Text(text) => vec![text],
            Item::Path(_) => Vec::new(),
        })
        .collect()
}

/// A printed dimension in millimetres.
fn read(words: &str, system: System) -> f64 {
    let words = match system {
        System::Metric => format!("{words} mm"),
        System::FeetInches => words.to_string(),
        System::Dual => words.split(" [").next().expect("a part").to_string(),
    };
    match Length::parse(&words) {
        Ok(length) => length.mm(),
        Err(error) => panic!("`{words}`: {error:?}"),
    }
}

fn step(system: System) -> f64 {
    match system {
        System::Metric => 0.5,
        System::FeetInches | System::Dual => FEET,
    }
}

/// What a figure prints: dimensions along and across, and the points of its curves.
fn printed(figure: &Figure, system: System) -> ([Vec<f64>; 2], Vec<[f64; 2]>) {
    let mut dimensions = [Vec::new(), Vec::new()];
    for text in texts(&figure.items) {
        if text.face == Face::Regular {
            let axis = usize::from((text.angle - 90.0).abs() < 1.0);
            dimensions[axis].push(read(&text.text, system));
        }
    }
    let mut points = Vec::new();
    for note in &figure.notes {
        if let Some((_, words)) = note.split_once("] Dimension ") {
            let value = read(words, system);
            dimensions.iter_mut().for_each(|axis| axis.push(value));
        } else if !note.contains("Curve of") {
            for place in note.split(';').filter(|part| part.contains(" × ")) {
                let (along, across) = place.trim().split_once(" × ").expect("a pair");
                points.push([along, across].map(|words| read(words, system)));
            }
        }
    }
    (dimensions, points)
}

fn nearest(value: f64, known: &[f64]) -> f64 {
    let by = |a: &&f64, b: &&f64| (*a - value).abs().total_cmp(&(*b - value).abs());
    *known.iter().min_by(by).expect("the panel's sides")
}

/// The distance of a point from a cut.
fn off(at: [f64; 2], cut: &Cut) -> f64 {
    let from = |pair: &[[f64; 2]]| {
        let (a, b) = (pair[0], pair[1]);
        let run = [b[0] - a[0], b[1] - a[1]];
        let long = (run[0] * run[0] + run[1] * run[1]).max(1e-12);
        let t = ((at[0] - a[0]) * run[0] + (at[1] - a[1]) * run[1]) / long;
        let t = t.clamp(0.0, 1.0);
        (a[0] + run[0] * t - at[0]).hypot(a[1] + run[1] * t - at[1])
    };
    cut.points
        .windows(2)
        .map(from)
        .fold(f64::INFINITY, f64::min)
}

fn perimeter(shape: &Shape) -> f64 {
    let rings = clip::rings(shape);
    rings
        .flat_map(|ring| ring.lines())
        .map(|line| line.dx().hypot(line.dy()))
        .sum()
}

/// The piece with its corners where the nearest of the printed dimensions put them.
fn sawn(piece: &Shape, known: &[Vec<f64>; 2]) -> Shape {
    let ring = |ring: &geo::LineString<f64>| -> Vec<Point> {
        let mut points: Vec<Point> = ring
            .coords()
            .map(|at| Point::new(nearest(at.x, &known[0]), nearest(at.y, &known[1])))
            .collect();
        points.pop();
        points
    };
    let rings: Vec<Vec<Point>> = clip::rings(piece).map(ring).collect();
    clip::wound(&rings)
}

fn grouped(list: &List) -> Vec<Group> {
    let cut = &list.design.purchase.cut_panels;
    groups::groups(cut, list.every, &|mm| list.printed(mm))
}

/// A person who reads every printed dimension back and saws to it gets the pieces of the design.
#[test]
fn the_dimensions_as_printed_cut_the_same_pieces() {
    let (mut straight, mut curved) = (0, 0);
    for design in jobs() {
        let system = design.job.sheet.units;
        let list = List::new(&design);
        let step = step(system) + SAME;
        for group in grouped(&list) {
            let figure = list.figure(&group);
            let (mut known, points) = printed(&figure, system);
            for (axis, known) in known.iter_mut().enumerate() {
                known.extend([0.0, list.size[axis]]);
            }
            // Panels cut alike are drawn once: the drawing is right for each of them.
            for &at in &group.panels {
                let mut listed = 0;
                for piece in &design.purchase.cut_panels[at].pieces {
                    let mut cut_straight = true;
                    for cut in &piece.cuts {
                        let marks = cut.marks(list.every);
                        if cut.is_curved() || marks.len() > 6 {
                            for at in &points[listed..listed + marks.len()] {
                                assert!(off(*at, cut) < step, "{at:?}");
                            }
                            listed += marks.len();
                            cut_straight = false;
                            curved += 1;
                            continue;
                        }
                        for at in marks {
                            for axis in 0..2 {
                                let said = nearest(at[axis], &known[axis]);
                                assert!((said - at[axis]).abs() < step, "{at:?} {known:?}");
                            }
                        }
                    }
                    if !cut_straight {
                        continue;
                    }
                    straight += 1;
                    let again = sawn(&piece.shape, &known);
                    let wrong = clip::area(&clip::difference(&again, &piece.shape))
                        + clip::area(&clip::difference(&piece.shape, &again));
                    assert!(wrong <= perimeter(&piece.shape) * step, "{}", piece.mark);
                }
                assert_eq!(listed, points.len(), "cut {}", group.number);
            }
        }
    }
    assert!(straight > 40 && curved > 5, "{straight} {curved}");
}

/// Nothing of a panel is lost: its pieces and its waste make up the panel.
#[test]
fn pieces_and_waste_make_up_the_panel() {
    let mut shared = 0;
    for design in jobs() {
        let panel = &design.job.panels.panel;
        let size = [panel.length, panel.width];
        for panel in &design.purchase.cut_panels {
            let pieces: f64 = panel.pieces.iter().map(|p| clip::area(&p.shape)).sum();
            let around: f64 = panel.pieces.iter().map(|p| perimeter(&p.shape)).sum();
            let all = pieces + clip::area(&panel.waste(size));
            let off = (all - size[0] * size[1]).abs();
            assert!(off <= 0.5 * around, "panel {}: {off}", panel.number);
            shared += usize::from(panel.pieces.len() > 1);
        }
    }
    assert!(shared > 5);
}

/// Every trimmed piece of the plan is named once by the diagrams, in it or under it, and nothing
/// else is.
#[test]
fn every_trimmed_piece_is_in_one_diagram() {
    for design in jobs() {
        let list = List::new(&design);
        let mut named: Vec<String> = Vec::new();
        for group in grouped(&list) {
            let figure = list.figure(&group);
            let alone = group.panels.len() == 1;
            let pieces = design.purchase.cut_panels[group.panels[0]].pieces.len();
            let marks = figure.notes.iter().filter(|note| !note.contains('×'));
            let under: Vec<String> = marks
                .flat_map(|note| note.split([';', '→']))
                .map(|mark| mark.trim().to_string())
                .filter(|mark| !mark.is_empty() && !mark.starts_with('['))
                .collect();
            let bold = |text: &&&Text| text.face == Face::SemiBold;
            let inside = texts(&figure.items);
            let inside = inside.iter().filter(bold).count();
            assert!(inside >= pieces, "cut {}", group.number);
            if alone && pieces == 1 {
                let drawn = texts(&figure.items);
                let mark = drawn.iter().find(|text| text.face == Face::SemiBold);
                named.push(mark.expect("a mark").text.clone());
            }
            named.extend(under);
        }
        let pieces = design.base.iter().flat_map(|part| &part.layout.pieces);
        let mut plan: Vec<String> = pieces.filter(|p| !p.whole).map(|p| p.mark()).collect();
        named.sort();
        plan.sort();
        assert_eq!(named, plan);
    }
}

/// What is cut alike is drawn once, with how many panels it is.
#[test]
fn panels_cut_alike_are_drawn_once() {
    let design = designed(
        "metric",
        "rectangle: {corner: [0, 0], width: 5.1 m, depth: 6.1 m}",
        "",
    );
    let list = List::new(&design);
    let groups = grouped(&list);
    let panels = design.purchase.cut_panels.len();
    let all: usize = groups.iter().map(|group| group.panels.len()).sum();
    assert_eq!(all, panels);
    assert!(groups.len() * 2 <= panels, "{} of {panels}", groups.len());
    let most = groups.iter().max_by_key(|group| group.panels.len());
    let most = most.expect("a group");
    let title = list.figure(most).title;
    let count = most.panels.len();
    assert_eq!(title, format!("Cut {}: {count} panels", most.number));
}

/// Of a round plaza, where no two cuts are alike, the first diagrams are drawn and the other
/// panels are in a table; the sheet says so.
#[test]
fn a_large_job_has_diagrams_up_to_a_number_and_a_table() {
    let design = designed("metric", "circle: {centre: [0, 0], radius: 22 m}", "");
    let blocks = blocks(&design);
    let [diagrams, pieces, cuts] = &blocks[..] else {
        panic!("{:?}", blocks.iter().map(|b| &b.title).collect::<Vec<_>>());
    };
    let said = diagrams.entries.iter().any(|entry| {
        matches!(entry, Entry::Paragraph { words, .. }
            if words == "Drawn are cuts 1 to 120; the other panels are in the table of cuts.")
    });
    assert!(said);
    let Some(Entry::Figures(figures)) = diagrams.entries.last() else {
        panic!("figures")
    };
    assert_eq!(figures.len(), MOST);
    let rows = |block: &Block| match &block.entries[..] {
        [Entry::Table(table)] => table.rows.len(),
        _ => panic!("a table"),
    };
    let list = List::new(&design);
    let groups = grouped(&list);
    let cut = &design.purchase.cut_panels;
    let pieces_of = |groups: &[Group]| -> usize {
        let panels = groups.iter().flat_map(|group| &group.panels);
        panels.map(|at| cut[*at].pieces.len()).sum()
    };
    assert_eq!(rows(pieces), pieces_of(&groups));
    assert_eq!(rows(cuts), pieces_of(&groups[MOST..]));
    assert!(rows(cuts) > 0);
}
