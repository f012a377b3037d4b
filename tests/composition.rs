//! How well the sheets of the examples use their paper: the share of each that something stands on.
//!
//! Measure: the frame's room in squares of 5 mm; a square is covered when the box of a mark or of a
//! run of text, grown by 5 mm, reaches into it. The box of an outline counts whole: the inside of a
//! plan is not empty paper.

mod common;

use common::worked::{example, examples, sheets, words};
use groundsheet::draw::{Anchor, Group, Item, Pt, Rect, Sheet, Step, conflicts, font};

/// Side of a square, in millimetres; boxes are grown by as much.
const SQUARE: f64 = 5.0;

/// Boxes of marks and runs of text, without the frame; the title block counts.
fn boxes(items: &[Item], found: &mut Vec<Rect>) {
    for item in items {
        match item {
            Item::Group(group) if group.id == "frame" => {}
            Item::Group(group) => boxes(&group.items, found),
            Item::Path(path) => {
                let points = path.outline.iter().filter_map(|step| match step {
                    Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p) => Some(*p),
                    Step::Close => None,
                });
                found.extend(Rect::around(points));
            }
            Item::Text(text) => {
                let long = font::width(text.face, text.height, &text.text).0;
                let (sin, cos) = text.angle.to_radians().sin_cos();
                let back = match text.anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => long / 2.0,
                    Anchor::End => long,
                };
                let end = |along: f64| Pt::new(text.at.x + along * cos, text.at.y - along * sin);
                found.push(Rect::between(end(-back), end(long - back)));
            }
        }
    }
}

/// The share of a sheet's room that something stands on.
fn covered(sheet: &Sheet) -> f64 {
    let mut found = Vec::new();
    boxes(&sheet.items, &mut found);
    let (wide, high) = (
        ((sheet.width.0 - 40.0) / SQUARE) as usize,
        ((sheet.height.0 - 30.0) / SQUARE) as usize,
    );
    let mut squares = vec![false; wide * high];
    let square = |at: f64, from: f64, most: usize| {
        (((at - from) / SQUARE).floor().max(0.0) as usize).min(most)
    };
    for rect in found {
        let rect = rect.grown(SQUARE);
        let (left, right) = (
            square(rect.left, 20.0, wide),
            square(rect.right, 20.0, wide),
        );
        let (top, bottom) = (
            square(rect.top, 15.0, high),
            square(rect.bottom, 15.0, high),
        );
        for row in top..bottom {
            squares[row * wide + left..row * wide + right].fill(true);
        }
    }
    squares.iter().filter(|covered| **covered).count() as f64 / squares.len() as f64
}

/// The most sheets that each example may take: more is paper that the crew need not carry.
const MOST: [(&str, usize); 6] = [
    ("bonds", 6),
    ("hillside-terrace", 9),
    ("landing", 10),
    ("pool-surround", 9),
    ("terrace", 9),
    ("two-walls", 10),
];

/// No sheet but the last is less than about half used, and the general sheet, which everyone reads,
/// is well used.
#[test]
fn sheets_use_their_paper() {
    let mut poor = Vec::new();
    for name in examples() {
        let (_, _, set) = sheets(&example(&name));
        let shares: Vec<f64> = set.iter().map(covered).collect();
        let (last, others) = shares.split_last().expect("a sheet");
        let well = others.iter().all(|share| *share > 0.4) && *last > 0.2 && shares[0] > 0.6;
        let most = MOST.iter().find(|(known, _)| *known == name);
        let (_, most) = most.expect("how many sheets an example takes");
        if !well || set.len() > *most {
            poor.push(format!("{name}: {shares:.2?}"));
        }
        println!("{name}: {shares:.2?}");
    }
    assert!(poor.is_empty(), "{}", poor.join("\n"));
}

/// A patio of 13 ft by 10 ft, or of 4 m by 3 m, before a house, with a gully.
fn patio(units: &str, paper: &str) -> String {
    let [outline, gully, width, depth, size, thickness, door, level] = match units {
        "metric" => [
            "[[-1 m, -3 m], [5 m, -3 m], [5 m, 0], [-1 m, 0]]",
            "[3.2 m, 2.4 m]",
            "4 m",
            "3 m",
            "[200 mm, 100 mm]",
            "60 mm",
            "[2 m, 0]",
            "m",
        ],
        _ => [
            "[[-4', -10'], [17', -10'], [17', 0], [-4', 0]]",
            "[11', 8']",
            "13'",
            "10'",
            "[8\", 4\"]",
            "3 1/8\"",
            "[7', 0]",
            "'",
        ],
    };
    format!(
        "\
job: {{title: Patio behind the kitchen, number: P-7, client: A. Client, site: 4 Made-up Lane}}
sheet: {{units: {units}, paper: {paper}, north: 20°}}
site:
  structures: [{{name: House, kind: building, outline: {outline}}}]
  drains: [{{name: Gully, kind: point, at: {gully}}}]
paving:
  - {{name: Patio, rectangle: {{corner: [0, 0], width: {width}, depth: {depth}}}, edges: {{A-B: wall}}}}
pavers:
  field: {{size: {size}, thickness: {thickness}}}
levels:
  datum: {{name: Back door sill, level: 100{level}}}
  finish: {{at: A, level: 99.80{level}, fall: 2%, away_from: A-B}}
  sills: [{{name: Back door, at: {door}, level: 100{level}}}]
base: {{start: {{corner: A, along: A-B}}}}
"
    )
}

fn groups<'a>(items: &'a [Item], id: &str, found: &mut Vec<&'a Group>) {
    for item in items {
        if let Item::Group(group) = item {
            if group.id == id {
                found.push(group);
            }
            groups(&group.items, id, found);
        }
    }
}

/// The short and the long side of a sheet, in whole millimetres.
fn sides(sheet: &Sheet) -> (i64, i64) {
    let [a, b] = [sheet.width.0, sheet.height.0].map(|side| side.round() as i64);
    (a.min(b), a.max(b))
}

/// What a set on office paper must be: no words struck or touched, every sheet well used, the key to
/// the signs of each plan beside it, and materials and cautions where the first sheet's index says.
fn is_good(name: &str, set: &[Sheet]) {
    let shares: Vec<f64> = set.iter().map(covered).collect();
    println!("{name}: {shares:.2?}");
    let (last, others) = shares.split_last().expect("a sheet");
    assert!(shares[0] > 0.6 && *last > 0.2, "{name}: {shares:.2?}");
    assert!(others.iter().all(|s| *s > 0.4), "{name}: {shares:.2?}");
    for sheet in set {
        assert_eq!(conflicts(sheet), [], "{name}: {}", sheet.title);
        let mut plans = Vec::new();
        groups(&sheet.items, "plan-title", &mut plans);
        let keys = words(&sheet.items);
        let keys = keys.iter().filter(|w| w.starts_with("Signs on "));
        assert_eq!(keys.count(), plans.len(), "{name}: {}", sheet.title);
    }
    let says = |sheet: &Sheet, title: &str| words(&sheet.items).iter().any(|word| word == title);
    assert!(says(&set[0], "Sheets of this set"), "{name}");
    for title in ["Materials to order", "Cautions"] {
        let at = set.iter().position(|sheet| says(sheet, title));
        let at = at.unwrap_or_else(|| panic!("{name}: no {title}"));
        let said = set[at].title.contains(title);
        assert!(at == 0 || said, "{name}: {title} on {}", set[at].title);
    }
    for name in ["section-view-1", "detail-view"] {
        let mut views = Vec::new();
        for sheet in set {
            groups(&sheet.items, name, &mut views);
        }
        assert_eq!(views.len(), 1, "{name}");
    }
}

/// Letter, tabloid, A4 and A3, by their sides.
const OFFICE: [(i64, i64); 4] = [(216, 279), (279, 432), (210, 297), (297, 420)];

/// A small job is drawn on the paper of an office printer, as a set that is worth printing there:
/// the smallest on letter.
#[test]
fn a_small_job_is_drawn_on_office_paper() {
    for units in ["feet-inches", "metric"] {
        let set = sheets(&patio(units, "auto")).2;
        assert!(OFFICE.contains(&sides(&set[0])), "{:?}", sides(&set[0]));
        assert!(set.len() <= 11, "{units}: {} sheets", set.len());
        is_good(units, &set);
    }
    let landing = sheets(&example("landing")).2;
    assert_eq!(sides(&landing[0]), OFFICE[0]);
    is_good("landing", &landing);
}

/// The same on the paper that a job states, each way that a printer takes it.
#[test]
fn a_small_job_is_good_on_each_office_paper() {
    for (units, paper, most) in [
        ("feet-inches", "letter", 11),
        ("feet-inches", "tabloid", 9),
        ("metric", "a4", 13),
        ("metric", "a3", 9),
    ] {
        for turn in ["landscape", "portrait"] {
            let set = sheets(&patio(units, &format!("{paper}, turn: {turn}"))).2;
            let turned = set[0].width.0 > set[0].height.0;
            assert_eq!(turned, turn == "landscape", "{paper}");
            assert!(set.len() <= most, "{paper} {turn}: {} sheets", set.len());
            is_good(&format!("{paper} {turn}"), &set);
        }
    }
}
