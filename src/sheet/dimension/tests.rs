//! Dimension lines as drawn.

use super::*;
use crate::draw::paper::Rect;

fn texts(items: &[Item]) -> Vec<(String, f64)> {
    items
        .iter()
        .filter_map(|i| match i {
            Item::Text(t) => Some((t.text.clone(), t.angle)),
            _ => None,
        })
        .collect()
}

#[test]
fn text_reads_from_below_or_from_the_right() {
    let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(200.0, 200.0)));
    for (along, angle) in [
        ((1.0, 0.0), 0.0),
        ((-1.0, 0.0), 0.0),
        ((0.0, 1.0), 90.0),
        ((0.0, -1.0), 90.0),
    ] {
        let chain = Chain {
            features: vec![
                Pt::new(100.0, 100.0),
                Pt::new(100.0 + along.0 * 40.0, 100.0 + along.1 * 40.0),
            ],
            words: vec!["4'-0\"".to_string()],
            on: Pt::new(110.0, 110.0),
            along,
            places: Vec::new(),
            origin: None,
            clear_of: Vec::new(),
        };
        assert_eq!(
            texts(&chain.draw(&mut taken).0),
            vec![("4'-0\"".to_string(), angle)]
        );
    }
}

/// A line up from a corner of a square of 40 mm begins beyond the square's far side; one along
/// its side beyond its corner; one that meets nothing at its feature.
#[test]
fn an_extension_line_begins_clear_of_outlines() {
    let p = Pt::new;
    let square = vec![p(0.0, 0.0), p(40.0, 0.0), p(40.0, 40.0), p(0.0, 40.0)];
    let ends = |x: f64, y: f64| outlines_end(p(x, y), p(x, -20.0), std::slice::from_ref(&square));
    assert_eq!(ends(20.0, 30.0), 30.0);
    assert_eq!(ends(40.0, 40.0), 40.0);
    assert_eq!(ends(40.5, 40.0), 40.0, "beside a side");
    assert_eq!(ends(60.0, 40.0), 0.0);
    assert_eq!(ends(20.0, -5.0), 0.0, "what lies behind it");
}

#[test]
fn narrow_spans_keep_their_words() {
    let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(200.0, 200.0)));
    let chain = Chain {
        features: [50.0, 53.0, 100.0, 103.0]
            .map(|x| Pt::new(x, 50.0))
            .to_vec(),
        words: ["6\"", "12'-0\"", "6\""].map(String::from).to_vec(),
        on: Pt::new(0.0, 60.0),
        along: (1.0, 0.0),
        places: Vec::new(),
        origin: None,
        clear_of: Vec::new(),
    };
    let (items, keyed) = chain.draw(&mut taken);
    assert_eq!(texts(&items).len(), 3);
    assert_eq!(keyed, []);
}
