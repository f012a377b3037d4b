//! Where marks of panels and courses stand on a small plan at 1:50.

use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Item, Pt, Text};
use crate::geom::{Point, Vector};
use crate::sheet::model::{Area, Course, Piece, PlanModel, SiteChain};
use crate::sheet::plan;

/// A box from one corner to the other.
fn ring(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    let p = Point::new;
    vec![p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1)]
}

/// The plan drawn at 1:50, site millimetres from the middle of a view of 400 mm by 300 mm; its runs
/// of text, and the middles of the rings at the ends of leaders.
fn drawn(model: &PlanModel) -> (Vec<Text>, Vec<Pt>) {
    let room = Rect::between(Pt::new(0.0, 0.0), Pt::new(400.0, 300.0));
    let placing = Scale::one_to(50.0).placed(Point::new(0.0, 0.0), room.centre());
    let (mut texts, mut rings) = (Vec::new(), Vec::new());
    let mut items = plan::draw(model, &placing, room, &[]).items;
    while let Some(item) = items.pop() {
        match item {
            Item::Group(group) => items.extend(group.items),
            Item::Text(text) => texts.push(text),
            Item::Path(path) => {
                let parts = crate::draw::build::flattened(&path.outline, crate::draw::Mm(0.05));
                let bounds = Rect::around(parts.into_iter().flatten());
                // A ring is small, round and white.
                let ring =
                    bounds.filter(|b| b.width() < 2.0 && (b.width() - b.height()).abs() < 0.05);
                rings.extend(ring.filter(|_| path.fill.is_some()).map(Rect::centre));
            }
        }
    }
    (texts, rings)
}

fn on_paper(p: Point) -> Pt {
    Pt::new(200.0 + p.x / 50.0, 150.0 - p.y / 50.0)
}

/// A plan of one mitred panel: the half of a square of 900 mm under its diagonal.
fn mitred(patch: Vec<Point>) -> PlanModel {
    let p = Point::new;
    let square = ring(0.0, 0.0, 900.0, 900.0);
    PlanModel {
        dig: vec![square.clone()],
        base: vec![square.clone()],
        areas: vec![Area {
            rings: vec![square],
            patch,
            ..Area::default()
        }],
        pieces: vec![Piece {
            course: 1,
            mark: "1-1".to_string(),
            rings: vec![vec![p(0.0, 0.0), p(900.0, 0.0), p(900.0, 900.0)]],
            middle: p(450.0, 450.0),
            trimmed: true,
        }],
        ..PlanModel::default()
    }
}

/// The ring of a mitred panel stands in it, not on the mitre, where its middle is.
#[test]
fn a_ring_stands_inside_of_its_panel() {
    let mut model = mitred(Vec::new());
    // Too long to stand in the panel.
    model.pieces[0].mark = "1234-1234-1234".to_string();
    let (texts, rings) = drawn(&model);
    assert!(texts.iter().any(|text| text.text.starts_with("1234")));
    assert_eq!(rings.len(), 1);
    let [a, b, c] = [0, 1, 2].map(|i| on_paper(model.pieces[0].rings[0][i]));
    let off = [[a, b], [b, c], [c, a]].map(|side| rings[0].off(side));
    // The circle that touches all three sides has a radius of 5.3 mm.
    assert!(off.into_iter().all(|mm| mm > 4.5), "{off:?}");
    assert!(rings[0].y > 150.0 - (rings[0].x - 200.0));
}

/// What lies under the pavers that are shown has no mark; what lies there in part has its mark or
/// its ring in the part that is seen.
#[test]
fn a_panel_under_the_pavers_has_no_mark() {
    let says = |model: &PlanModel| drawn(model).0.iter().any(|text| text.text == "1-1");
    assert!(says(&mitred(Vec::new())));
    let covered = mitred(ring(-10.0, -10.0, 910.0, 910.0));
    assert!(!says(&covered));
    let (texts, _) = drawn(&covered);
    assert!(texts.is_empty(), "{texts:?}");
    let seen = mitred(ring(300.0, -10.0, 910.0, 910.0));
    let (texts, rings) = drawn(&seen);
    assert_eq!((texts.len(), rings.len()), (1, 1));
    assert!(rings[0].x < on_paper(Point::new(300.0, 0.0)).x);
}

/// The words of a course that starts inside of the base stand beyond the base behind its start, and
/// before the dimensions there.
#[test]
fn a_course_is_lettered_beside_the_base() {
    let p = Point::new;
    let model = PlanModel {
        dig: vec![ring(-4000.0, -2000.0, 4000.0, 2000.0)],
        base: vec![ring(-4000.0, -2000.0, 4000.0, 2000.0)],
        courses: vec![Course {
            number: 16,
            from_start_mm: 0.0,
            words: "16: 113".to_string(),
            at: p(1000.0, -500.0),
            along: Vector::new(0.0, -1.0),
        }],
        chains: vec![SiteChain {
            features: vec![p(-4000.0, 2000.0), p(1000.0, 2000.0), p(4000.0, 2000.0)],
            words: vec!["5000".to_string(), "3000".to_string()],
            outward: Vector::new(0.0, 1.0),
            tier: 0,
            origin: None,
        }],
        ..PlanModel::default()
    };
    let (texts, _) = drawn(&model);
    let at = |words: &str| {
        texts
            .iter()
            .find(|text| text.text == words)
            .expect("words")
            .at
    };
    let course = at("16: 113");
    let top = on_paper(p(0.0, 2000.0)).y;
    let half = crate::sheet::lettering::width("16: 113", 2.5, crate::draw::Face::Regular) / 2.0;
    assert!(course.y + half < top, "{course:?}");
    assert!(course.y - half > at("5000").y, "{course:?}");
}
