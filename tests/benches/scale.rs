//! How long laying, clipping and drawing take, against another library and against plain writing,
//! and how time and memory grow with the area. Run with `cargo bench`; nothing is asserted about
//! time.
//!
//! Six parts. Laying: the same pavers, and the same panels, of the same generated plaza are found
//! by this program and by GEOS with a prepared outline, which tells cell by cell what lies inside
//! and intersects the rest; counts and areas are compared, so that both did the same work. Drawing:
//! SVG and PDF against writing their bytes to files. Sharing: the panels bought for 200 generated
//! outlines against the bound that no purchase undercuts and against what an installer buys who
//! starts each course with the last course's offcut. Crowded: the same where thousands of panels are
//! trimmed. Layout: the whole set of sheets of each example job laid out from its design. Growth:
//! whole runs, each in a process of its own for its peak memory, from 10 to 40,000 m². The plaza is
//! invented: a rectangle with a round
//! tree hole every 11 m, in herringbone at 45°.

#[path = "../common/mod.rs"]
mod common;

use std::fmt::Write as _;
use std::hint::black_box;
use std::process::Command;
use std::time::{Duration, Instant};

use geo::{Area, BoundingRect, Coord, LineString, MultiPolygon, Polygon};
use geos::{Geom, Geometry};
use groundsheet::design::{self, Design};
use groundsheet::draw::Sheet;
use groundsheet::geom::{Frame, Vector};
use groundsheet::paving::{self, Bond};
use groundsheet::{checks, export, job, panels, report, sheet, takeoff};

/// Width and depth of the plazas that laying is compared on, in metres.
const COMPARED: [[f64; 2]; 2] = [[20.0, 20.0], [66.0, 62.0]];

/// How often each laying is run: the shortest counts, of this program as of the other library.
const RUNS: usize = 5;

/// Width and depth of the plazas of whole runs, in metres: 10 to 40,000 m².
const GROWTH: [[f64; 2]; 6] = [
    [4.0, 2.5],
    [10.0, 10.0],
    [40.0, 25.0],
    [66.0, 62.0],
    [125.0, 80.0],
    [200.0, 200.0],
];

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    if arguments.iter().any(|argument| argument == "--crowded") {
        return crowded();
    }
    if arguments.iter().any(|argument| argument == "--layout") {
        return layout();
    }
    if let [_, one, width, depth] = &arguments[..]
        && one == "--one"
    {
        let size = [width, depth].map(|side| side.parse().expect("a number of metres"));
        whole_run(size);
        return;
    }
    // `cargo test` runs benches too, without this argument.
    if !arguments.iter().any(|argument| argument == "--bench") {
        return;
    }
    for size in COMPARED {
        laying(size);
    }
    drawing([66.0, 62.0]);
    sharing(200);
    crowded();
    layout();
    growth();
}

/// The job of a plaza of this width and depth.
fn plaza([width, depth]: [f64; 2]) -> String {
    const APART: f64 = 11.0;
    let mut text = format!(
        "job: {{title: Plaza, date: 2026-05-04}}\nsheet: {{units: metric}}\npaving:\n  - name: Plaza\n    \
         rectangle: {{corner: [0, 0], width: {width} m, depth: {depth} m}}\n    bond: herringbone\n    \
         turn: 45°\n    start: {{corner: A, along: A-B}}\n"
    );
    let places = |side: f64| -> Vec<f64> {
        let count = ((side - 2.0 + APART / 2.0) / APART).floor() as usize;
        (0..count).map(|k| APART * (k as f64 + 0.5)).collect()
    };
    let mut holes = String::new();
    for y in places(depth) {
        for x in places(width) {
            writeln!(
                holes,
                "      - circle: {{centre: [{x} m, {y} m], radius: 0.75 m}}"
            )
            .expect("a text can be written to");
        }
    }
    if !holes.is_empty() {
        text += "    holes:\n";
        text += &holes;
    }
    text + "pavers:\n  field: {size: [200 mm, 100 mm], thickness: 80 mm, joint: 3 mm}\nlevels:\n  \
            datum: {name: Kerb mark, level: 10 m}\n  \
            finish: {at: A, level: 10 m, fall: 2%, away_from: A-B}\n"
}

fn designed(size: [f64; 2]) -> Design {
    let job = job::read(plaza(size).as_bytes()).expect("the job can be read");
    design::run(job).expect("the job can be worked")
}

/// The shortest of a few runs, and what the last gave.
fn timed<T>(runs: usize, mut work: impl FnMut() -> T) -> (Duration, T) {
    let mut best = Duration::MAX;
    let mut last = None;
    for _ in 0..runs {
        let start = Instant::now();
        let found = black_box(work());
        best = best.min(start.elapsed());
        last = Some(found);
    }
    (best, last.expect("there is a run"))
}

/// What cells give: how many whole and cut, and their area in mm².
#[derive(Clone, Copy, Debug, Default)]
struct Found {
    whole: usize,
    cut: usize,
    area: f64,
}

fn laying(size: [f64; 2]) {
    let design = designed(size);
    let area = &design.areas[0];
    println!("laying {} m × {} m", size[0], size[1]);

    let spec = &design.job.paving[0];
    assert_eq!(spec.bond, Bond::Herringbone);
    let stone = &design.job.pavers[spec.paver];
    let ground = paving::Ground {
        rings: &[],
        shape: &area.shape,
    };
    let (own, laid) = timed(RUNS, || {
        paving::lay(spec, &design.job.pavers, ground, &area.frame).expect("it can be laid")
    });
    let laid = &laid.courses[0];
    let whole = laid.whole.len();
    let cut: f64 = laid.cut.iter().map(|piece| piece.area).sum();
    let ours = Found {
        whole,
        cut: laid.cut.len(),
        area: cut + whole as f64 * stone.length * stone.width,
    };
    let turned = frame_turned(&area.frame, spec.turn);
    let cells = herringbone(
        &area.shape,
        &turned,
        [stone.length, stone.width],
        stone.joint,
    );
    let (other, theirs) = timed(RUNS, || by_geos(&area.shape, &turned, &cells));
    compared("pavers", own, ours, other, theirs);

    let part = &design.base[0];
    let spec = &design.job.panels;
    let (own, layout) = timed(RUNS, || panels::lay(spec, &part.shape, &part.layout.frame));
    let ours = Found {
        whole: layout.whole(),
        cut: layout.pieces.len() - layout.whole(),
        area: layout.pieces.iter().map(|piece| piece.area_mm2).sum(),
    };
    let cells = courses(&layout, &part.shape, [spec.panel.length, spec.panel.width]);
    let (other, theirs) = timed(RUNS, || by_geos(&part.shape, &layout.frame, &cells));
    compared("panels", own, ours, other, theirs);
}

fn compared(what: &str, own: Duration, ours: Found, other: Duration, theirs: Found) {
    // The limits of half a millimetre are told by area there, so that pieces near them may differ.
    let near = |a: usize, b: usize| a.abs_diff(b) as f64 <= 2.0 + 0.05 * a.max(b) as f64;
    assert!(
        near(ours.whole, theirs.whole) && (ours.area / theirs.area - 1.0).abs() < 1e-4,
        "{what}: {ours:?} {theirs:?}"
    );
    println!(
        "  {what:<7} {:>7} whole {:>6} cut   {:>9.2} ms   GEOS prepared {:>9.2} ms   {:>6.1} times",
        ours.whole,
        ours.cut,
        own.as_secs_f64() * 1e3,
        other.as_secs_f64() * 1e3,
        other.as_secs_f64() / own.as_secs_f64(),
    );
}

/// Every cell told by a prepared outline; what crosses it is intersected.
fn by_geos(shape: &MultiPolygon<f64>, frame: &Frame, cells: &[[f64; 4]]) -> Found {
    let ground: Geometry = shape.try_into().expect("GEOS takes the outline");
    let prepared = ground.to_prepared_geom().expect("it can be prepared");
    let mut found = Found::default();
    for [x, y, w, h] in cells {
        let at = |x: f64, y: f64| {
            let p = frame.to_site(x, y);
            Coord { x: p.x, y: p.y }
        };
        let ring = vec![at(*x, *y), at(x + w, *y), at(x + w, y + h), at(*x, y + h)];
        let cell = Polygon::new(LineString::new(ring), Vec::new());
        let cell: Geometry = (&cell).try_into().expect("GEOS takes a cell");
        if prepared.contains(&cell).expect("GEOS can tell") {
            found.whole += 1;
            found.area += w * h;
            continue;
        }
        if !prepared.intersects(&cell).expect("GEOS can tell") {
            continue;
        }
        let part = ground.intersection(&cell).expect("GEOS can intersect");
        let area = part.area().expect("a part has an area");
        if area > w * h - 0.3 {
            found.whole += 1;
        } else if area > 0.3 {
            found.cut += 1;
        } else {
            continue;
        }
        found.area += area;
    }
    found
}

fn frame_turned(frame: &Frame, degrees: f64) -> Frame {
    let turn = Vector::new(1.0, 0.0).turned(degrees);
    Frame {
        origin: frame.origin,
        u: frame.u * turn.x + frame.v * turn.y,
        v: frame.v * turn.x - frame.u * turn.y,
    }
}

/// The box of a shape in a frame: low x and y, high x and y.
fn reach(shape: &MultiPolygon<f64>, frame: &Frame) -> [f64; 4] {
    let points = shape
        .iter()
        .flat_map(|polygon| polygon.exterior().coords())
        .map(|at| frame.to_local(groundsheet::geom::Point::new(at.x, at.y)));
    let start = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
    points.fold(start, |[a, b, c, d], (x, y)| {
        [a.min(x), b.min(y), c.max(x), d.max(y)]
    })
}

/// Herringbone by squares of a grid: what lies in a square follows from its diagonal.
fn herringbone(
    shape: &MultiPolygon<f64>,
    frame: &Frame,
    [long, short]: [f64; 2],
    joint: f64,
) -> Vec<[f64; 4]> {
    let [left, low, right, high] = reach(shape, frame);
    let step = short + joint;
    let range =
        |from: f64, to: f64| ((from - long) / step).floor() as i64..=(to / step).ceil() as i64;
    let mut cells = Vec::new();
    for b in range(low, high) {
        for a in range(left, right) {
            let (x, y) = (a as f64 * step, b as f64 * step);
            match (a - b).rem_euclid(4) {
                0 => cells.push([x, y, long, short]),
                3 => cells.push([x, y, short, long]),
                _ => {}
            }
        }
    }
    cells
}

/// Cells of the courses of a layout, from end to end of the base.
fn courses(
    layout: &panels::Layout,
    shape: &MultiPolygon<f64>,
    [long, wide]: [f64; 2],
) -> Vec<[f64; 4]> {
    let [left, _, right, _] = reach(shape, &layout.frame);
    let mut cells = Vec::new();
    for course in &layout.courses {
        let first = ((left - course.shift_mm) / long).floor() as i64;
        let last = ((right - course.shift_mm) / long).ceil() as i64;
        let x = |column: i64| column as f64 * long + course.shift_mm;
        cells.extend((first..last).map(|column| [x(column), course.v0, long, wide]));
    }
    cells
}

/// The sheets of a design.
fn composed(design: &Design) -> (Vec<Sheet>, usize) {
    let takeoff = takeoff::of(design).expect("the design can be taken off");
    let findings = checks::run(design);
    let sheets = sheet::compose(design, &takeoff, &findings);
    let report = report::json(design, &takeoff, &findings, &[]);
    (sheets, report.len())
}

/// How long the sheets of each example take to lay out: labels, tables, paper and scale; alone with
/// `cargo bench -- --layout`.
fn layout() {
    println!("layout of the example jobs");
    for name in common::worked::examples() {
        let job = job::read(common::worked::example(&name).as_bytes()).expect("an example is read");
        let design = design::run(job).expect("an example is worked");
        let takeoff = takeoff::of(&design).expect("an example is taken off");
        let findings = checks::run(&design);
        let lay = || sheet::compose(&design, &takeoff, &findings).len();
        let (time, sheets) = timed(RUNS, lay);
        println!(
            "  {name}: {sheets} sheets in {:.0} ms",
            time.as_secs_f64() * 1e3
        );
    }
}

fn drawing(size: [f64; 2]) {
    let design = designed(size);
    let (sheets, _) = composed(&design);
    let meta = export::Meta::default();
    let (own, files) = timed(3, || {
        let mut files: Vec<Vec<u8>> = sheets
            .iter()
            .map(|sheet| export::svg(sheet).into_bytes())
            .collect();
        files.push(export::pdf(&sheets, &meta));
        files
    });
    let folder = tempfile::tempdir().expect("there is room for files");
    let (plain, ()) = timed(3, || {
        for (number, file) in files.iter().enumerate() {
            let path = folder.path().join(number.to_string());
            std::fs::write(path, file).expect("a file can be written");
        }
    });
    let bytes: usize = files.iter().map(Vec::len).sum();
    println!(
        "drawing {} m × {} m: {} sheets, {:.1} MB   {:.0} ms   plain writing {:.0} ms   {:.1} times",
        size[0],
        size[1],
        sheets.len(),
        bytes as f64 / 1e6,
        own.as_secs_f64() * 1e3,
        plain.as_secs_f64() * 1e3,
        own.as_secs_f64() / plain.as_secs_f64(),
    );
}

/// Panels bought for generated outlines: shared, at the least, by the installer's rule, and with
/// nothing shared.
fn sharing(outlines: usize) {
    let mut numbers = common::numbers::Lehmer(20_260_511);
    let (mut buy, mut bound, mut installer, mut unshared) = (0, 0, 0, 0);
    let (mut proved, mut more, mut widest) = (0, 0, 0.0_f64);
    let mut time = Duration::ZERO;
    for round in 0..outlines {
        let (layout, panel) = common::outlines::laid(&mut numbers, round);
        let started = Instant::now();
        let found = panels::purchase(std::slice::from_ref(&layout), &panel);
        time += started.elapsed();
        buy += found.buy;
        bound += found.sharing_bound;
        installer += found.buy_installer;
        unshared += found.buy_unshared;
        proved += usize::from(found.proved);
        more += usize::from(found.buy > found.buy_installer);
        widest = widest.max(found.buy as f64 / found.sharing_bound as f64 - 1.0);
    }
    println!("sharing offcuts on {outlines} outlines, {:.1} ms each", {
        time.as_secs_f64() * 1e3 / outlines as f64
    });
    println!(
        "  bought {buy}, at least {bound}, by the installer's rule {installer}, unshared {unshared}"
    );
    println!(
        "  proved least on {proved}, widest gap {:.1} %, more than the installer's on {more}",
        widest * 100.0
    );
}

/// Panels bought for bases of which thousands of panels are trimmed, no two alike: a field with many
/// small holes, and a long narrow strip in waves.
fn crowded() {
    println!("sharing offcuts among thousands of trimmed panels");
    for share in [0.25, 1.0] {
        let (holes, strip) = (
            holed(70_000.0 * f64::sqrt(share)),
            waves(1_050_000.0 * share),
        );
        for (what, base) in [("many holes", holes), ("narrow strip", strip)] {
            let spec = common::panels::spec(450.0, panels::LayoutRule::Fixed);
            let frame = Frame {
                origin: groundsheet::geom::Point::new(0.0, 0.0),
                u: Vector::new(1.0, 0.0),
                v: Vector::new(0.0, 1.0),
            };
            let layout = panels::lay(&spec, &base, &frame);
            let trimmed = layout.pieces.len() - layout.whole();
            let layouts = std::slice::from_ref(&layout);
            let (time, found) = timed(1, || panels::purchase(layouts, &spec.panel));
            println!(
                "  {what:<12} {trimmed:>6} trimmed   bought {:>6}, at least {:>6}, by the installer's \
                 rule {:>6}   {:>7.0} ms, {:>6.3} ms per trimmed panel",
                found.buy,
                found.sharing_bound,
                found.buy_installer,
                time.as_secs_f64() * 1e3,
                time.as_secs_f64() * 1e3 / trimmed as f64,
            );
        }
    }
}

/// A square field with a round hole in each square of 2 m, none at the same place of a panel.
fn holed(side: f64) -> MultiPolygon<f64> {
    let mut numbers = common::numbers::Lehmer(20_260_512);
    let count = (side / 2000.0) as usize;
    let mut holes = Vec::new();
    for k in 0..count * count {
        let (column, row) = ((k % count) as f64, (k / count) as f64);
        let (x, y) = (
            2000.0 * column + numbers.next(600.0, 1400.0),
            2000.0 * row + numbers.next(600.0, 1400.0),
        );
        let radius = numbers.next(200.0, 450.0);
        let round = (0..40).map(|i| {
            let angle = -std::f64::consts::TAU * f64::from(i) / 40.0;
            (x + radius * angle.cos(), y + radius * angle.sin())
        });
        holes.push(LineString::from(round.collect::<Vec<_>>()));
    }
    let around = vec![(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)];
    MultiPolygon(vec![Polygon::new(LineString::from(around), holes)])
}

/// A strip 1.2 m broad in waves of 40 m.
fn waves(length: f64) -> MultiPolygon<f64> {
    let steps = (length / 500.0) as usize;
    let at = |k: usize| {
        let x = 500.0 * k as f64;
        (x, 6000.0 * (x / 40_000.0 * std::f64::consts::TAU).sin())
    };
    let low = (0..=steps).map(at);
    let high = (0..=steps).rev().map(at).map(|(x, y)| (x, y + 1200.0));
    let ring = LineString::from(low.chain(high).collect::<Vec<_>>());
    MultiPolygon(vec![Polygon::new(ring, Vec::new())])
}

fn growth() {
    println!("whole runs, each in its own process");
    println!("      area    pavers    read and work   compose     write   peak memory      per m²");
    let this = std::env::current_exe().expect("this program has a place");
    for size in GROWTH {
        let sides = size.map(|side| side.to_string());
        let ended = Command::new(&this).arg("--one").args(sides).status();
        assert!(ended.is_ok_and(|ended| ended.success()), "{size:?}");
    }
}

/// Reads, works and draws one plaza, and prints what it took.
fn whole_run(size: [f64; 2]) {
    let start = Instant::now();
    let design = designed(size);
    let worked = start.elapsed();
    let (sheets, _) = composed(&design);
    let drawn = start.elapsed();
    let mut bytes: usize = sheets.iter().map(|sheet| export::svg(sheet).len()).sum();
    bytes += export::pdf(&sheets, &export::Meta::default()).len();
    let written = start.elapsed();
    black_box(bytes);
    let shape = &design.areas[0].shape;
    let area = shape.unsigned_area() / 1e6;
    assert!(shape.bounding_rect().is_some());
    let pavers: usize = design.areas[0].paving.courses[0].whole.len();
    let ms = |time: Duration| time.as_secs_f64() * 1e3;
    println!(
        "{area:>7.0} m² {pavers:>9} {:>13.0} ms {:>6.0} ms {:>6.0} ms {:>10} {:>7.2} ms {:>6} kB",
        ms(worked),
        ms(drawn - worked),
        ms(written - drawn),
        peak().map_or("–".to_string(), |kb| format!("{} MB", kb / 1024)),
        ms(written) / area,
        peak().map_or("–".to_string(), |kb| format!("{:.0}", kb as f64 / area)),
    );
}

/// Peak memory of this process in kilobytes, where the system tells.
fn peak() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}
