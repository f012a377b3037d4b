//! Buried services read from a job: band to dig by hand, cover, nails kept clear, and the backfill
//! beside the edges.

mod common;

use common::said::in_every_language;
use common::worked::{design, words};
use groundsheet::checks::{self, Status};
use groundsheet::design::Design;
use groundsheet::draw::paper::Rect;
use groundsheet::draw::{Item, Pt, Step};
use groundsheet::geom::clip;
use groundsheet::job::read;
use groundsheet::sheet::from_section;
use groundsheet::sheet::section::{self, SectionModel};
use groundsheet::units::System;

const JOB: &str = "\
job: {title: Shed pad}
sheet: {units: metric}
site:
  structures:
    - {name: House, kind: building, outline: [[0, 0], [0, -2 m], [4 m, -2 m], [4 m, 0]]}
paving:
  - outline: [[0, 0], [4 m, 0], [4 m, 3 m], [0, 3 m]]
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm}
";

fn designed(services: &str) -> Design {
    let text = JOB.replacen("paving:", &format!("  services: [{services}]\npaving:"), 1);
    design(&text)
}

fn found(design: &Design, id: &str) -> (Status, String, Option<String>) {
    let mut all = checks::run(design).into_iter().filter(|f| f.id == id);
    let one = all.next().expect("the check reports");
    assert!(all.next().is_none());
    (
        one.status,
        one.title.to_string(),
        one.where_.map(|place| place.to_string()),
    )
}

/// Gas along x = 1 m, 0.6 m under the ground, which is taken at finish level: build-up 60 + 20 + 13
/// = 93 mm, so 507 mm of earth stays over it. Its zone of 500 mm takes 0.5 to 1.5 m of edge C-D.
#[test]
fn a_service_across_the_dig_is_dug_by_hand_and_takes_no_nail() {
    let gas =
        "{name: Gas, kind: gas, line: [[1 m, -1 m], [1 m, 5 m]], depth: 600 mm, zone: 500 mm}";
    let plain = designed("");
    let design = designed(gas);
    let service = &design.services[0];
    let cover = service.buried.cover.expect("its depth is stated").value;
    assert!((cover - 507.0).abs() < 1e-6, "{cover}");
    let (status, title, edges) = found(&design, "services.dig");
    assert_eq!(status, Status::Warn);
    assert!(title.contains("by hand within 500 mm"), "{title}");
    let edges = edges.expect("edges are named");
    assert!(edges.contains("C-D from 2500 mm to 3500 mm"), "{edges}");
    // Nails of 250 mm in panels under 60 mm pavers end 310 mm down, 290 mm over the gas: barred.
    let in_zone = |design: &Design| {
        let laid = design.edging.by_edge.iter().flat_map(|edge| &edge.laid);
        let nails = laid.flat_map(|piece| &piece.nails);
        nails
            .filter(|at| clip::contains(&service.buried.zone, **at))
            .count()
    };
    assert!(in_zone(&plain) > 3);
    assert_eq!(in_zone(&design), 0);
    let (status, _, edges) = found(&design, "services.nails");
    assert_eq!(status, Status::Warn);
    assert!(edges.expect("named").contains("C-D from 2"));
    let left_out: usize = service.nails.iter().map(|s| s.left_out).sum();
    assert!(left_out > 0);
    assert_eq!(design.edging.nails + left_out, plain.edging.nails);
}

#[test]
fn a_deep_service_takes_nails_and_a_shallow_one_fails() {
    let deep =
        "{name: Sewer, kind: sewer, line: [[1 m, -1 m], [1 m, 5 m]], depth: 2 m, zone: 500 mm}";
    let design = designed(deep);
    assert_eq!(found(&design, "services.nails").0, Status::Pass);
    assert_eq!(found(&design, "services.dig").0, Status::Warn);
    let shallow = deep.replace("2 m,", "80 mm,");
    let (status, title, _) = found(&designed(&shallow), "services.dig");
    assert_eq!(status, Status::Fail);
    assert!(title.contains("13 mm below its top"), "{title}");
    let far = deep
        .replace("1 m, -1 m", "9 m, -1 m")
        .replace("1 m, 5 m", "9 m, 5 m");
    assert_eq!(found(&designed(&far), "services.dig").0, Status::Pass);
    let unknown = deep.replace(" depth: 2 m,", "");
    assert_eq!(found(&designed(&unknown), "services.nails").0, Status::Warn);
}

/// Base 150 mm past three edges: ledge (4.3 × 3.15 − 12) m²; the dig ends with the base. On it
/// 60 − 15 mm of backfill, all of it topsoil.
#[test]
fn backfill_lies_on_the_ledge() {
    let fill = designed("").backfill;
    let ledge = 4.3 * 3.15 - 12.0;
    assert!((fill.on_base_mm2 / 1e6 - ledge).abs() < 1e-5);
    assert!(fill.beyond_mm2 < 1.0);
    assert!((fill.volume_m3 - ledge * 0.045).abs() < 1e-6);
    assert!((fill.topsoil_m3 - fill.volume_m3).abs() < 1e-9);
}

#[test]
fn what_a_service_must_say() {
    let wrong = |service: &str, says: &str| {
        let text = JOB.replacen("paving:", &format!("  services: [{service}]\npaving:"), 1);
        let errors = in_every_language(read(text.as_bytes()).expect_err("refused"));
        let all: String = errors
            .iter()
            .map(|e| format!("{} {};", e.found, e.wanted.clone().unwrap_or_default()))
            .collect();
        assert!(all.contains(says), "{all}");
    };
    wrong("{kind: gas}", "line");
    wrong("{kind: gass, line: [[0, 0], [1 m, 0]]}", "gas");
    wrong("{kind: gas, line: [[0, 0]]}", "two points or more");
    wrong("{kind: gas, line: [[0, 0], [0, 0]]}", "no length");
    let both = "{kind: gas, line: [[0, 0], [1 m, 0]], depth: 1 m, level: 2 m}";
    wrong(both, "both `depth` and `level`");
}

/// A section at y = 1.5 m from x = −0.5 m on, through services that cross it, square and askew,
/// or end beside it.
fn cut(services: &str) -> SectionModel {
    let text = JOB
        .replacen("paving:", &format!("  services: [{services}]\npaving:"), 1)
        .replacen(
            "units: metric",
            "units: metric, section: [[-500 mm, 1.5 m], [4.5 m, 1.5 m]]",
            1,
        );
    from_section::sections(&design(&text)).remove(0)
}

/// The ground is taken at finish, which falls 2 % from 0 at the wall: −30 mm on the cut. A service
/// 600 mm under it has its top at −0.63 m, and its zone of 500 mm takes 1 m of a cut square to it,
/// 1.414 m of one at 45°, 0.8 m beside the end of a service that stops 300 mm short.
#[test]
fn a_section_meets_services_at_their_levels() {
    let model = cut(
        "{name: North main, kind: gas, line: [[1 m, -1 m], [1 m, 5 m]], depth: 600 mm, zone: 500 mm}, \
         {kind: water, line: [[1 m, -500 mm], [5 m, 3.5 m]], level: -1 m, zone: 500 mm}, \
         {kind: drain, line: [[1 m, -1 m], [1 m, 1.2 m]], depth: 900 mm, zone: 500 mm}, \
         {kind: telecom, line: [[3 m, -1 m], [3 m, 5 m]], zone: 300 mm}, \
         {kind: sewer, line: [[0, 9 m], [4 m, 9 m]], depth: 2 m}",
    );
    let met = &model.services;
    assert_eq!(met.len(), 4, "{met:#?}");
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1.0, "{found} {wanted}");
    assert_eq!(
        met[0].words,
        "North main (gas): top −0.630 m, 600 mm under ground"
    );
    near(met[0].at, 1500.0);
    near(met[0].top.unwrap(), -630.0);
    near(met[0].zone[0], 1000.0);
    near(met[0].zone[1], 2000.0);
    assert!(met[0].crosses);
    assert_eq!(met[1].words, "Water: top −1.000 m, 970 mm under ground");
    near(met[1].at, 3500.0);
    near(met[1].zone[1] - met[1].zone[0], 1000.0 * 2.0_f64.sqrt());
    assert!(!met[2].crosses);
    assert!(
        met[2]
            .words
            .ends_with("900 mm under ground, 300 mm beside the cut")
    );
    near(met[2].at, 1500.0);
    near(met[2].zone[1] - met[2].zone[0], 800.0);
    assert_eq!(met[3].words, "Telecom: depth not known");
    assert_eq!(met[3].top, None);
}

/// The tops of circles of a pipe's size, 1 mm in radius, among drawn items.
fn pipes(items: &[Item]) -> Vec<Pt> {
    let paths = items.iter().filter_map(|item| match item {
        Item::Path(path) => Some(path),
        Item::Group(_) | Item::Text(_) => None,
    });
    let round = paths.filter_map(|path| match path.outline[..] {
        [
            Step::Move(right),
            Step::Cubic(_, _, foot),
            Step::Cubic(_, _, left),
            Step::Cubic(_, _, top),
            ..,
        ] if (right.x - left.x - 2.0).abs() < 1e-6 && (foot.y - top.y - 2.0).abs() < 1e-6 => {
            Some(top)
        }
        _ => None,
    });
    round.collect()
}

/// Circles stand as far apart on paper as their tops do in level, to the section's scale; in room
/// too low for them they stand below a break, and their words say the level all the same.
#[test]
fn services_are_drawn_to_scale_or_below_a_break() {
    let model = cut(
        "{name: North main, kind: gas, line: [[1 m, -1 m], [1 m, 5 m]], depth: 600 mm, zone: 300 mm}, \
         {kind: water, line: [[3 m, -1 m], [3 m, 5 m]], depth: 1 m, zone: 300 mm}",
    );
    let room = |height: f64| Rect::between(Pt::new(0.0, 0.0), Pt::new(200.0, height));
    let fit = model.fit(System::Metric, room(200.0)).expect("it fits");
    assert!(fit.deep);
    let (items, keyed) = section::draw(&model, &fit, room(200.0));
    assert!(keyed.is_empty(), "{keyed:#?}");
    let tops = pipes(&items);
    assert_eq!(tops.len(), 2, "{tops:?}");
    let apart = 400.0 * fit.stretch / fit.scale.ratio;
    assert!((tops[1].y - tops[0].y - apart).abs() < 1e-6, "{tops:?}");
    assert!((tops[1].x - tops[0].x - 2000.0 / fit.scale.ratio).abs() < 1e-6);
    let low = model.fit(System::Metric, room(48.0)).expect("it fits");
    assert!(!low.deep && low.scale.ratio < fit.scale.ratio * 2.0);
    let (items, keyed) = section::draw(&model, &low, room(48.0));
    // The levels are said, in the view or in its table, though the pipes stand at none.
    let mut said = words(&items).join(" ");
    keyed.iter().for_each(|row| said += &row.words.to_string());
    for service in &model.services {
        assert!(said.contains(&service.words), "{}: {said}", service.words);
    }
    let tops = pipes(&items);
    assert_eq!(tops.len(), 2, "{tops:?}");
    assert!((tops[1].y - tops[0].y).abs() < 1e-9);
}
