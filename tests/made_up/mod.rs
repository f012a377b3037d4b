//! A made-up sheet that uses every kind of item the display list has.

use groundsheet::draw::build::stroked;
use groundsheet::draw::{
    Anchor, Colour, Dash, Face, FillRule, Group, Item, Layer, LineWidth, Mm, Path, Pt, Rect, Sheet,
    Step, Stroke, Text,
};

/// A sheet of A4 across with lines of every dash, a hole, a curve, a clip and text at angles.
pub fn sheet(title: &str) -> Sheet {
    let layer = |id: &str, title: &str| Layer {
        id: id.to_string(),
        title: title.to_string(),
    };
    Sheet {
        width: Mm(297.0),
        height: Mm(210.0),
        title: title.to_string(),
        language: String::new(),
        layers: vec![
            layer("frame", "Frame"),
            layer("shapes", "Shapes – ½ scale"),
            layer("notes", "Notes"),
        ],
        items: vec![
            group("frame", "frame", None, frame()),
            group("shapes", "shapes", None, shapes()),
            group(
                "clipped",
                "shapes",
                Some(Rect::between(Pt::new(30.0, 120.0), Pt::new(70.0, 150.0)).outline()),
                vec![filled(
                    vec![
                        Step::Move(Pt::new(20.0, 135.0)),
                        Step::Line(Pt::new(50.0, 100.0)),
                        Step::Line(Pt::new(80.0, 135.0)),
                        Step::Line(Pt::new(50.0, 170.0)),
                        Step::Close,
                    ],
                    Colour(0, 114, 178),
                    FillRule::NonZero,
                )],
            ),
            group("notes", "notes", None, notes(title)),
        ],
    }
}

/// What the sheet says, run by run.
pub fn words(title: &str) -> Vec<String> {
    [
        "Fall 1/4\" per ft × 12'-6½″",
        title,
        "upright",
        "0.35 ≤ 80 mm ± ⅛",
        "Aslant: AVATo fi",
    ]
    .map(str::to_string)
    .to_vec()
}

/// A group of items.
pub fn group(id: &str, layer: &str, clip: Option<Vec<Step>>, items: Vec<Item>) -> Item {
    Item::Group(Group {
        id: id.to_string(),
        title: format!("The {id}"),
        layer: Some(layer.to_string()),
        clip,
        items,
    })
}

fn frame() -> Vec<Item> {
    let outline = Rect::between(Pt::new(20.0, 10.0), Pt::new(287.0, 200.0)).outline();
    vec![stroked(outline, LineWidth::W70, Dash::Continuous)]
}

fn shapes() -> Vec<Item> {
    let dashes = [
        Dash::Continuous,
        Dash::Dashed,
        Dash::LongDashDot,
        Dash::LongDashDoubleDot,
        Dash::Dotted,
    ];
    let mut items: Vec<Item> = dashes
        .into_iter()
        .enumerate()
        .map(|(i, dash)| {
            let y = 30.0 + 5.0 * i as f64;
            let steps = vec![Step::Move(Pt::new(30.0, y)), Step::Line(Pt::new(130.0, y))];
            stroked(steps, LineWidth::W50, dash)
        })
        .collect();
    let mut ring = Rect::between(Pt::new(150.0, 30.0), Pt::new(200.0, 70.0)).outline();
    ring.extend(Rect::between(Pt::new(160.0, 40.0), Pt::new(190.0, 60.0)).outline());
    items.push(Item::Path(Path {
        outline: ring,
        stroke: Some(Stroke {
            width: LineWidth::W35,
            dash: Dash::Continuous,
            colour: Colour::BLACK,
        }),
        fill: Some(Colour(213, 94, 0)),
        rule: FillRule::EvenOdd,
    }));
    items.push(stroked(
        vec![
            Step::Move(Pt::new(220.0, 70.0)),
            Step::Cubic(
                Pt::new(220.0, 30.0),
                Pt::new(270.0, 30.0),
                Pt::new(270.0, 70.0),
            ),
        ],
        LineWidth::W25,
        Dash::Continuous,
    ));
    items
}

fn notes(title: &str) -> Vec<Item> {
    let places = [
        (Pt::new(30.0, 70.0), Anchor::Start, 0.0, 5.0, Face::Regular),
        (
            Pt::new(150.0, 100.0),
            Anchor::Middle,
            0.0,
            10.0,
            Face::SemiBold,
        ),
        (
            Pt::new(100.0, 140.0),
            Anchor::Middle,
            90.0,
            7.0,
            Face::Regular,
        ),
        (Pt::new(280.0, 120.0), Anchor::End, 0.0, 5.0, Face::SemiBold),
        (
            Pt::new(150.0, 180.0),
            Anchor::Start,
            30.0,
            7.0,
            Face::Regular,
        ),
    ];
    words(title)
        .into_iter()
        .zip(places)
        .map(|(text, (at, anchor, angle, height, face))| {
            Item::Text(Text {
                at,
                anchor,
                angle,
                height: Mm(height),
                face,
                colour: Colour::BLACK,
                text,
                cell: None,
            })
        })
        .collect()
}

fn filled(outline: Vec<Step>, colour: Colour, rule: FillRule) -> Item {
    Item::Path(Path {
        outline,
        stroke: None,
        fill: Some(colour),
        rule,
    })
}
