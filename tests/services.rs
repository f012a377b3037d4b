//! Buried services read from a job: band to dig by hand, cover, nails kept clear, and the backfill
//! beside the edges.

mod common;

use common::worked::design;
use groundsheet::checks::{self, Status};
use groundsheet::design::Design;
use groundsheet::geom::clip;
use groundsheet::job::read;

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
        let errors = read(text.as_bytes()).expect_err("refused");
        let all: String = errors
            .iter()
            .map(|e| format!("{} {:?};", e.found, e.wanted))
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
