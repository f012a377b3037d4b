//! The check of a display list on small sheets.

use super::super::build;
use super::super::font;
use super::super::item::{Anchor, Group, Item, Text};
use super::super::paper::Mm;
use super::super::style::{Colour, Dash, LineWidth};
use super::*;

fn words(x: f64, y: f64, text: &str) -> Text {
    build::text(Pt::new(x, y), Anchor::Start, Mm(2.5), text)
}

fn rule(y: f64) -> Item {
    let line = build::line(Pt::new(0.0, y), Pt::new(100.0, y));
    build::stroked(line, LineWidth::W25, Dash::Continuous)
}

fn found(items: Vec<Item>) -> Vec<Conflict> {
    conflicts(&Sheet {
        width: Mm(100.0),
        height: Mm(60.0),
        title: String::new(),
        language: String::new(),
        layers: Vec::new(),
        items,
    })
}

#[test]
fn texts_apart_or_just_touching_are_fine() {
    let width = font::width(super::super::Face::Regular, Mm(2.5), "HH").0;
    let items = [words(10.0, 30.0, "HH"), words(10.0 + width, 30.0, "HH")];
    assert_eq!(found(items.map(Item::Text).to_vec()), []);
    let items = [
        words(10.0, 30.0, "HH"),
        words(10.0 + width - 1.5, 30.0, "HH"),
    ];
    let found = found(items.map(Item::Text).to_vec());
    assert!(matches!(found[..], [Conflict::Overlap { .. }]), "{found:?}");
}

#[test]
fn a_turned_text_beside_a_slanting_one_is_fine() {
    let mut one = words(10.0, 50.0, "slanting text");
    let mut other = words(13.0, 50.0, "slanting text");
    (one.angle, other.angle) = (45.0, 45.0);
    assert_eq!(
        found(vec![Item::Text(one.clone()), Item::Text(other.clone())]).len(),
        1
    );
    other.at.x += 4.0;
    assert_eq!(found(vec![Item::Text(one), Item::Text(other)]), []);
}

#[test]
fn a_line_through_text_counts_unless_knocked_out() {
    let text = words(20.0, 30.0, "HHH");
    let struck = found(vec![rule(29.0), Item::Text(text.clone())]);
    assert!(
        matches!(struck[..], [Conflict::Struck { .. }]),
        "{struck:?}"
    );
    let close = found(vec![rule(30.3), Item::Text(text.clone())]);
    assert!(matches!(close[..], [Conflict::Close { .. }]), "{close:?}");
    assert_eq!(found(vec![rule(30.5), Item::Text(text.clone())]), []);
    let knockout = build::knockout(&text, Mm(0.5)).expect("there is ink");
    let knocked = vec![rule(29.0), knockout.clone(), Item::Text(text.clone())];
    assert_eq!(found(knocked), []);
    let late = vec![knockout, rule(29.0), Item::Text(text)];
    assert_eq!(found(late).len(), 1);
}

#[test]
fn a_line_through_a_blank_between_words_counts() {
    let text = words(20.0, 30.0, "II II");
    let before = font::width(text.face, text.height, "II").0;
    let x = 20.0 + before + font::width(text.face, text.height, " ").0 / 2.0;
    let line = build::line(Pt::new(x, 0.0), Pt::new(x, 60.0));
    let upright = build::stroked(line, LineWidth::W13, Dash::Continuous);
    assert_eq!(found(vec![upright, Item::Text(text)]).len(), 1);
}

#[test]
fn a_line_outside_its_clip_does_not_count() {
    let clip = Rect::between(Pt::new(0.0, 0.0), Pt::new(15.0, 60.0));
    let group = |text: Option<Text>| {
        let mut items = vec![rule(29.0)];
        items.extend(text.map(Item::Text));
        Item::Group(Group {
            id: "view".to_string(),
            clip: Some(clip.outline()),
            items,
            ..Group::default()
        })
    };
    let text = words(20.0, 30.0, "HHH");
    assert_eq!(found(vec![group(None), Item::Text(text.clone())]), []);
    let cut = found(vec![group(Some(text))]);
    assert!(matches!(cut[..], [Conflict::Clipped { .. }]), "{cut:?}");
}

#[test]
fn text_off_the_sheet_or_under_a_fill() {
    let off = found(vec![Item::Text(words(98.0, 30.0, "HHH"))]);
    assert!(matches!(off[..], [Conflict::OffSheet { .. }]), "{off:?}");
    let patch = Rect::between(Pt::new(21.0, 20.0), Pt::new(30.0, 40.0)).outline();
    let fill = build::filled(patch, Colour::WHITE);
    let text = Item::Text(words(20.0, 30.0, "HHH"));
    assert_eq!(found(vec![fill.clone(), text.clone()]), []);
    let covered = found(vec![text, fill]);
    assert!(
        matches!(covered[..], [Conflict::Covered { .. }]),
        "{covered:?}"
    );
}

#[test]
fn the_edge_of_a_tint_counts_and_that_of_white_does_not() {
    let text = || Item::Text(words(20.0, 30.0, "HHH"));
    let patch = Rect::between(Pt::new(0.0, 20.0), Pt::new(23.0, 40.0)).outline();
    let tint = build::filled(patch.clone(), Colour(200, 200, 200));
    let struck = found(vec![tint, text()]);
    assert!(
        matches!(struck[..], [Conflict::Struck { .. }]),
        "{struck:?}"
    );
    let white = build::filled(patch, Colour::WHITE);
    assert_eq!(found(vec![white, text()]), []);
}

#[test]
fn lettering_is_high_enough_and_widths_are_few() {
    let low = build::text(Pt::new(20.0, 30.0), Anchor::Start, Mm(2.4), "HHH");
    let found_low = found(vec![Item::Text(low)]);
    assert!(
        matches!(found_low[..], [Conflict::Low { .. }]),
        "{found_low:?}"
    );
    let lines = |widths: &[LineWidth]| {
        let items = widths
            .iter()
            .map(|w| {
                let line = build::line(Pt::new(10.0, 20.0), Pt::new(30.0, 20.0));
                build::stroked(line, *w, Dash::Continuous)
            })
            .collect();
        found(vec![Item::Group(Group {
            id: "plan-base".to_string(),
            items,
            ..Group::default()
        })])
    };
    let four = [
        LineWidth::W18,
        LineWidth::W25,
        LineWidth::W35,
        LineWidth::W50,
    ];
    assert_eq!(lines(&four), []);
    let five = [&four[..], &[LineWidth::W70]].concat();
    assert!(matches!(
        lines(&five)[..],
        [Conflict::Widths { count: 5, .. }]
    ));
}

#[test]
fn odd_numbers_do_no_harm() {
    let nan = words(f64::NAN, 30.0, "HHH");
    let far = build::line(Pt::new(-1e12, 29.0), Pt::new(f64::INFINITY, 29.0));
    let long = build::line(Pt::new(-1e9, 29.0), Pt::new(1e9, 29.0));
    let stroke = |line| build::stroked(line, LineWidth::W25, Dash::Continuous);
    let items = vec![
        stroke(far),
        stroke(long),
        Item::Text(nan),
        Item::Text(words(20.0, 30.0, "HHH")),
    ];
    let found = found(items);
    assert!(
        found.iter().any(|c| matches!(c, Conflict::Struck { .. })),
        "{found:?}"
    );
}
