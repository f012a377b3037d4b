//! A drain in a border course cuts the border's pavers.

use groundsheet::geom::clip;
use groundsheet::paving::Place;
use groundsheet::{design, job};

/// A gully of 200 mm in the middle of a border of 100 mm × 200 mm pavers: what is laid of the border
/// lies clear of it, and the pavers round it are counted as cut to it.
#[test]
fn a_gully_in_a_border_course_cuts_its_pavers() {
    let yard = |drains: &str| {
        let text = format!(
            "job: {{title: Gully}}\nsheet: {{units: metric}}\n{drains}\
             paving:\n- {{name: Yard, rectangle: {{corner: [0, 0], width: 4 m, depth: 3 m}}, \
             border: [{{paver: block, lay: sailor}}]}}\n\
             pavers:\n  block: {{size: [200 mm, 100 mm], thickness: 60 mm}}\n\
             levels: {{finish: {{at: A, level: 0, fall: 2%, towards: 0°}}}}\n"
        );
        let read = job::read(text.as_bytes()).unwrap_or_else(|errors| panic!("{errors:#?}"));
        design::run(read).unwrap_or_else(|errors| panic!("{errors:#?}"))
    };
    let design =
        yard("site:\n  drains: [{name: Gully, kind: point, at: [2 m, 2950 mm], size: 150 mm}]\n");
    let drain = &design.drains[0];
    let grate = clip::shape_of_points(&drain.grate.expect("a grate"));
    let courses = &design.areas[0].paving.courses;
    let border = courses.iter().find(|laid| laid.place == Place::Border(1));
    let border = border.expect("a border");
    for corners in border.whole.iter() {
        let under = clip::area(&clip::intersection(
            &clip::shape_of_points(&corners),
            &grate,
        ));
        assert!(under < 1.0, "a whole paver lies on the grate: {corners:?}");
    }
    for cut in &border.cut {
        let under = clip::area(&clip::intersection(&cut.shape, &grate));
        assert!(under < 1.0, "a cut paver lies on the grate: {under}");
    }
    let of_border = border
        .cut
        .iter()
        .filter(|cut| {
            clip::area(&clip::intersection(
                &clip::shape_of_points(&cut.cell),
                &grate,
            )) > 1.0
        })
        .count();
    assert!(of_border >= 1);
    assert!(drain.pavers_cut > of_border, "field and border: {drain:?}");
}
