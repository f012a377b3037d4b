//! The takeoff of whole jobs: prices, masses, trips, slabs, curves, and the table on a terminal.

mod common;

use common::worked::{near, sheets, taken_off, words};
use groundsheet::language::Language;
use groundsheet::paving::{Form, PaverSpec};
use groundsheet::takeoff;

const TERRACE: &str = r#"
job: {title: Terrace}
sheet: {units: metric}
paving:
  - name: Terrace
    outline:
      - [0, 0]
      - [6 m, 0]
      - [6 m, 3 m]
      - {arc: {to: [4 m, 5 m], radius: 2 m, side: left}}
      - [0, 5 m]
    bond: herringbone
    turn: 45°
    start: best
    border: [{paver: edge, lay: soldier, corners: butted}]
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm, per_pallet: 400}
  edge: {size: [200 mm, 100 mm], thickness: 60 mm}
access: {width: 700 mm, carry: 20 m}
prices:
  currency: EUR
  panel: 20
  paver.field: 1.10
  paver.edge: 1.20
  bedding: 40
  geotextile: 90
  rails: 8
  edging: 12
  nails: 30
  jointing: 25
  topsoil: 30
  load: 110
  labour_hour: 55
"#;

/// Every line asks for a price under a key that a job may state, and a job that states them all
/// misses none.
#[test]
fn every_line_can_be_priced() {
    let (_, takeoff) = taken_off(TERRACE);
    let price = takeoff.price.unwrap();
    assert_eq!((price.missing.len(), price.unused.len()), (0, 0));
    let (_, takeoff) = taken_off(
        &TERRACE
            .replace("  nails: 30\n", "")
            .replace("  panel: 20\n", ""),
    );
    assert_eq!(takeoff.price.unwrap().missing, ["panel", "nails"]);
}

/// Delivered is the sum of what has a mass; at 23 kg a trip by hand, for the way is too narrow for a
/// barrow.
#[test]
fn masses_add_up_to_trips() {
    let (design, takeoff) = taken_off(TERRACE);
    let mass = |key: &str| {
        let line = takeoff.lines.iter().find(|line| line.key == key).unwrap();
        (line.order, line.mass_kg.unwrap())
    };
    let one = 0.2 * 0.1 * 0.06 * 2300.0;
    let (order, pavers) = mass("paver.field");
    assert_eq!(order % 400.0, 0.0);
    assert!((pavers - order * one).abs() < 1e-6);
    let (panels, panel_mass) = mass("panel");
    assert!((panel_mass - panels * 0.9 * 0.6 * 0.02 * 60.0).abs() < 1e-6);
    let spoil = design.dig.spoil_loose_m3 * 1200.0;
    assert!((mass("load").1 - spoil).abs() < 1e-6);
    assert_eq!(takeoff.weight.not_weighed, []);
    // A roll of 4 × 50 m at 0.2 kg/m², a piece of 2.4 m at 0.5 kg/m: assumed.
    let (length, roll) = mass("geotextile");
    assert!((roll - length / 50.0 * 40.0).abs() < 1e-6);
    let (pieces, edging) = mass("edging");
    assert!((edging - pieces * 1.2).abs() < 1e-6);
    // A tube of 20 × 1.5 mm is π × 18.5 × 1.5 = 87.18 mm² of steel, 3 m of it 2.053 kg; a nail of
    // 10 × 250 mm is 19 635 mm³, 0.1541 kg.
    let (tubes, rails) = mass("rails");
    assert!((rails / tubes - 2.053).abs() < 0.001);
    let (count, nails) = mass("nails");
    assert!((nails / count - 0.1541).abs() < 0.0001);
    let (topsoil, earth) = mass("topsoil");
    assert!((earth - topsoil * 1200.0).abs() < 1e-6);
    let other = |line: &&takeoff::Line| !["load", "backfill"].contains(&line.key.as_str());
    let sum: f64 = takeoff
        .lines
        .iter()
        .filter(other)
        .map(|line| line.mass_kg.unwrap())
        .sum();
    assert!((takeoff.weight.delivered_kg - sum).abs() < 1e-6);
    let (_, trips) = takeoff.trips.unwrap();
    assert_eq!(trips.carried_in, (sum / 23.0).ceil() as u64);
    assert_eq!(trips.carried_out, (spoil / 23.0).ceil() as u64);
    let carry = takeoff
        .hours
        .by_operation
        .iter()
        .find(|h| h.name == "carry");
    assert!((carry.unwrap().quantity - trips.carried_in as f64 * 40.0).abs() < 1e-6);
}

/// A quarter of 2 m of the outline is bent; its nails stand in every hole.
#[test]
fn curves_are_bent_and_nailed_in_every_hole() {
    let (design, _) = taken_off(TERRACE);
    let edges = &design.edging.by_edge;
    let curved: Vec<_> = edges
        .iter()
        .filter(|edge| edge.bend_mm().is_some())
        .collect();
    assert_eq!(curved.len(), 1);
    assert_eq!(curved[0].bend_mm(), Some(2000.0));
    // 2400 and 741.6 mm have 24 and 7 holes 100 mm apart.
    let nails: Vec<usize> = curved[0]
        .laid
        .iter()
        .map(|piece| piece.nails.len())
        .collect();
    assert_eq!(nails, [24, 7]);
    let (design, _) = taken_off(&format!("{TERRACE}edging: {{curve_nail_every: 3}}\n"));
    let curved = design
        .edging
        .by_edge
        .iter()
        .find(|edge| edge.bend_mm().is_some());
    let nails = curved.unwrap().laid.iter().map(|piece| piece.nails.len());
    assert_eq!(nails.collect::<Vec<_>>(), [9, 3]);
}

/// ASTM C936, section 5: a face of 101 in² at most, and a length of four thicknesses at most.
#[test]
fn slabs_are_told_by_face_and_aspect() {
    let form = |length: f64, width: f64, thickness: f64| {
        PaverSpec {
            name: "unit".into(),
            length: length * 25.4,
            width: width * 25.4,
            thickness: thickness * 25.4,
            joint: 3.0,
            per_pallet: None,
            per_layer: None,
            density: 2300.0,
        }
        .form()
    };
    assert_eq!(form(10.1, 10.0, 3.0), Form::Paver);
    assert_eq!(form(10.2, 10.0, 3.0), Form::Slab);
    assert_eq!(form(8.0, 4.0, 2.0), Form::Paver);
    assert_eq!(form(8.0, 4.0, 1.9), Form::Slab);
}

/// The table for a terminal: every line with how it was got, the weight, the trips, the price.
#[test]
fn the_table_shows_every_line_and_the_totals() {
    let (_, takeoff) = taken_off(TERRACE);
    let shown = takeoff.listing(Language::English);
    for line in &takeoff.lines {
        assert!(
            shown
                .iter()
                .any(|row| row.starts_with(&line.item.to_string()))
        );
        assert!(shown.iter().any(|row| row.ends_with(&line.how.to_string())));
    }
    let total = takeoff.price.as_ref().unwrap().total.to_string();
    assert!(shown.last().unwrap().ends_with(&total));
    assert!(shown.iter().any(|row| row.starts_with("delivered ")));
    assert!(shown.iter().any(|row| row.starts_with("trips of 23 kg")));
    // The start's search is named where its pavers are counted.
    let field = takeoff.lines.iter().find(|line| line.key == "paver.field");
    assert!(field.unwrap().how.to_string().contains("places tried"));
}

/// Masses that the job states take the place of those assumed, and no others are printed as assumed.
#[test]
fn stated_masses_are_taken() {
    let text = format!(
        "{TERRACE}geotextile: {{mass: 30 kg}}\nedging: {{mass: 2 kg, nail_diameter: 8 mm}}\n\
         backfill: {{density: 1500 kg/m³}}\nbedding: {{rails: {{wall: 10 mm}}}}\n"
    );
    let (design, takeoff) = taken_off(&text);
    let each = |key: &str| {
        let line = takeoff.line(key).expect("a line");
        line.mass_kg.expect("a mass") / line.order
    };
    assert!((each("geotextile") - 30.0 / 50.0).abs() < 1e-9);
    assert!((each("edging") - 2.0).abs() < 1e-9);
    assert!((each("topsoil") - 1500.0).abs() < 1e-6);
    // solid: π/4 × 20² × 3000 mm³ of steel; a nail of 8 × 250 mm
    assert!((each("rails") - 7.398).abs() < 0.001);
    assert!((each("nails") - 0.0986).abs() < 0.0001);
    let assumed = |key: &str| design.job.assumed.iter().any(|value| value.key == key);
    for key in [
        "geotextile.mass",
        "edging.mass",
        "backfill.density",
        "bedding.rails.wall",
    ] {
        assert!(!assumed(key), "{key}");
    }
    let (design, _) = taken_off(TERRACE);
    let value = design
        .job
        .assumed
        .iter()
        .find(|a| a.key == "geotextile.mass");
    assert_eq!(value.map(|a| a.value.as_str()), Some("40 kg"));
}

const HOLLOW: &str = r#"
job: {title: Hollow}
sheet: {units: metric, audience: [crew, bid]}
site:
  ground: [[-1 m, -1 m, 9.0 m], [7 m, -1 m, 9.0 m], [7 m, 6 m, 9.0 m], [-1 m, 6 m, 9.0 m]]
  drains:
    - {name: Near, kind: channel, line: [[0, 1 m], [6 m, 1 m]], width: 125 mm}
    - {name: Far, kind: channel, line: [[0, 4 m], [4 m, 4 m]], width: 125 mm}
    - {name: Middle, kind: point, at: [3 m, 2.5 m], size: 300 mm}
paving:
  - name: Court
    rectangle: {corner: [0, 0], width: 6 m, depth: 5 m}
    start: {corner: A, along: A-B}
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm}
levels:
  finish: {at: A, level: 10.0 m, fall: 2%, towards: 0°}
"#;

/// The formation is a plane that lies over level ground everywhere, so the fill is the dig's area
/// times the height at its middle: 6.3 × 5.3 m, and 10.000 − 2 % of 2.5 m − 60 − 20 − 13 mm over 9 m.
/// It is ordered, brought in before the geotextile, and offered to the client; so are the drains,
/// those of one width together.
#[test]
fn fill_and_drains_are_ordered() {
    let (design, takeoff) = taken_off(HOLLOW);
    let fill = takeoff.line("fill").unwrap();
    near(fill.net, 6.3 * 5.3 * (0.950 - 0.093), 1e-6);
    assert!(fill.order >= fill.net && fill.order < fill.net + 0.01);
    let drains: Vec<(String, f64)> = takeoff
        .drains()
        .map(|line| (line.item.to_string(), line.net))
        .collect();
    let wanted = [
        ("Channel drain, grate 125 mm wide".to_owned(), 10.0),
        ("Gully, grate 300 mm square".to_owned(), 1.0),
    ];
    assert_eq!(drains, wanted);
    let (_, _, sheets) = sheets(HOLLOW);
    let said: Vec<String> = sheets
        .iter()
        .flat_map(|sheet| words(&sheet.items))
        .collect();
    let said = said.join(" ");
    for wanted in [
        "bring in fill, 28.62 m³ in place",
        "Channel drain, grate 125 mm wide",
    ] {
        assert!(said.contains(wanted), "{wanted}: {said}");
    }
    assert_eq!(design.dig.fill_m3(), Some(fill.net));
}
