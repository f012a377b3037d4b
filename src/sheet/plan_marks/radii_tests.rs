//! Arrows of radii and diameters on the plans of all example jobs and of round areas.

use crate::design::Design;
use crate::draw::build::flattened;
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Colour, Item, Mm, Pt};
use crate::geom::Point;
use crate::sheet::plan;

/// An area with an arc out of it and one into it, and two round ones.
const ROUND: &str = "\
job: {title: Yard}
sheet: {units: metric, paper: a3}
paving:
  - name: Yard
    outline: [[0, 0], [6 m, 0], {arc: {to: [6 m, 3 m], through: [6.5 m, 1.5 m]}}, [6 m, 5 m], {arc: {to: [1 m, 5 m], through: [3 m, 4.2 m]}}, [0, 5 m]]
  - {name: Round, circle: {centre: [10 m, 2 m], radius: 1.5 m}}
  - {name: Small, circle: {centre: [10 m, 5.5 m], radius: 500 mm}}
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
levels: {finish: {at: A, level: 10 m, fall: 2%, towards: 0°}}
";

fn design(yaml: &str) -> Design {
    crate::design::run(crate::job::read(yaml.as_bytes()).expect("a sound job")).expect("a design")
}

/// The jobs of the examples, and round areas.
const JOBS: [&str; 7] = [
    include_str!("../../../jobs/bonds.yaml"),
    include_str!("../../../jobs/hillside-terrace.yaml"),
    include_str!("../../../jobs/landing.yaml"),
    include_str!("../../../jobs/pool-surround.yaml"),
    include_str!("../../../jobs/terrace.yaml"),
    include_str!("../../../jobs/two-walls.yaml"),
    ROUND,
];

/// Points of what is drawn, and whether it is filled with black.
fn points(item: &Item) -> (Vec<Pt>, bool) {
    match item {
        Item::Path(path) => {
            let parts = flattened(&path.outline, Mm(0.05));
            let black = path.fill == Some(Colour::BLACK);
            (parts.into_iter().flatten().collect(), black)
        }
        Item::Group(_) | Item::Text(_) => (Vec::new(), false),
    }
}

/// The arrows that are lettered with the dimensions: the shaft's start and the tip.
fn arrows(items: &[Item]) -> Vec<[Pt; 2]> {
    let lettered = items.iter().filter_map(|item| match item {
        Item::Group(group) if group.id == "plan-letters-dimensions" => Some(&group.items),
        _ => None,
    });
    let mut arrows = Vec::new();
    for pair in lettered.flat_map(|items| items.windows(2)) {
        let [(shaft, _), (head, black)] = [points(&pair[0]), points(&pair[1])];
        if black && shaft.len() == 2 {
            arrows.push([shaft[0], head[0]]);
        }
    }
    arrows
}

/// How far a point lies from the line through two others.
fn off_line(p: Pt, [a, b]: [Pt; 2]) -> f64 {
    ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)).abs() / a.distance(b)
}

/// The line of a radius or a diameter points at the centre (ISO 129-1), and its tip lies on the
/// arc; one that finds no place is keyed.
#[test]
fn arrows_of_radii_point_at_the_centre() {
    let room = Rect::between(Pt::new(0.0, 0.0), Pt::new(400.0, 300.0));
    for design in JOBS.map(design) {
        let model = crate::sheet::from_plan::plan(&design);
        let edges = design.job.site.areas.iter().flat_map(|area| area.edges());
        let arcs: Vec<_> = edges.filter_map(|edge| edge.edge.arc).collect();
        let dug: Vec<Point> = model.dig.iter().flatten().copied().collect();
        let ends = |of: fn(&Point) -> f64| {
            let all = dug.iter().map(of);
            (
                all.clone().fold(f64::MAX, f64::min),
                all.fold(f64::MIN, f64::max),
            )
        };
        let ((left, right), (low, high)) = (ends(|p| p.x), ends(|p| p.y));
        let middle = Point::new((left + right) / 2.0, (low + high) / 2.0);
        for scale in [30.0, 50.0, 100.0] {
            if (right - left) / scale > 300.0 || (high - low) / scale > 200.0 {
                continue;
            }
            let placing = Scale::one_to(scale).placed(middle, room.centre());
            let drawn = plan::draw(&model, &placing, room, &[]);
            let arrows = arrows(&drawn.items);
            let keyed = model.radii.iter().filter(|radius| {
                let says = |words: &crate::language::Phrase| *words == radius.words.clone().into();
                drawn.keyed.iter().any(|row| says(&row.words))
            });
            let title = &design.job.info.title;
            assert_eq!(arrows.len() + keyed.count(), arcs.len(), "{title}");
            for [from, tip] in arrows {
                let points_at = arcs.iter().any(|arc| {
                    let centre = placing.at(arc.centre);
                    let on = (centre.distance(tip) - arc.radius / scale).abs() < 0.1;
                    on && off_line(centre, [from, tip]) < 0.1
                });
                assert!(points_at, "{title} at 1:{scale}: {from:?} to {tip:?}");
                assert!(from.distance(tip) > 4.99, "{title} at 1:{scale}");
            }
        }
    }
}
