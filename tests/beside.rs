//! Panels beside a conventional base: hours and money by hand, and what happens where a rate or a
//! price is missing.

mod common;

use common::worked::taken_off;
use groundsheet::takeoff::Takeoff;
use groundsheet::{checks, report};
use rust_decimal::Decimal;

/// 6 m × 4 m between kerbs, so that base and dig are 24 m²; the ground lies at the finish.
const COURT: &str = r#"
job: {title: Court}
sheet: {units: metric}
paving:
  - name: Court
    rectangle: {corner: [0, 0], width: 6 m, depth: 4 m}
    edges: {A-B: flush, B-C: flush, C-D: flush, D-A: flush}
    start: {corner: A, along: A-B}
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm}
base:
  panel: {length: 1 m, width: 500 mm, thickness: 20 mm}
bedding: {loose: 20 mm, compacted: 13 mm}
excavation: {swell: 25%, load: 2 m³}
conventional: {base: 125 mm, bedding: 25 mm}
crew:
  people: 2
  day: 8 h
  rates: {dig: 2 h per m3, load_out: 1 h per m3, panels: 0.1 h per m2, aggregate: 3 h per m3}
prices:
  currency: EUR
  panel: 20
  aggregate: 45
  bedding: 40
  load: 100
  labour_hour: 50
  markup: 10%
  tax: 20%
"#;

fn without(parts: &[&str]) -> Takeoff {
    let mut text = COURT.to_owned();
    for part in parts {
        assert!(text.contains(part), "{part}");
        text = text.replace(part, "");
    }
    taken_off(&text).1
}

fn decimal(text: &str) -> Decimal {
    text.parse().expect("a number")
}

/// On panels the dig is 60 + 20 + 13 = 93 mm: 24 × 0.093 = 2.232 m³, loose 2.79. Conventional it is
/// 60 + 25 + 125 = 210 mm: 5.04 m³, loose 6.3; aggregate is 24 × 0.125 = 3 m³.
///
/// Panels: 2.232 × 2 + 2.79 × 1 + 24 × 0.1 = 4.464 + 2.79 + 2.4 = 9.654 h.
/// Conventional: 5.04 × 2 + 6.3 × 1 + 3 × 3 = 10.08 + 6.3 + 9 = 25.38 h.
#[test]
fn hours_are_those_of_the_operations_that_differ() {
    let (_, takeoff) = taken_off(COURT);
    let beside = takeoff.beside.expect("a comparison");
    let [here, there] = beside.hours.total().expect("every rate is stated");
    assert!((here - 9.654).abs() < 1e-6, "{here}");
    assert!((there - 25.38).abs() < 1e-6, "{there}");
    assert_eq!(beside.missing, Vec::<String>::new());
}

/// Panels: 48 at 20 = 960.00; bedding 24 × 0.02 × 1.1 = 0.528 m³, ordered as 0.53, at 40 = 21.20; 2 loads
/// at 100 = 200.00; 9.654 h at 50 = 482.70. Sum 1663.90, markup 10 % 166.39, tax 20 % of 1830.29 is
/// 366.06: 2196.35.
///
/// Conventional: 3 m³ at 45 = 135.00; 24 × 0.025 × 1.1 = 0.66 m³ at 40 = 26.40; 4 loads 400.00; 25.38 h
/// 1269.00. Sum 1830.40, markup 183.04, tax 20 % of 2013.44 is 402.69: 2416.13.
#[test]
fn money_is_that_of_what_differs() {
    let (_, takeoff) = taken_off(COURT);
    let panels = takeoff.line("panel").expect("panels");
    assert!((panels.order - 48.0).abs() < 1e-9, "{}", panels.order);
    let money = takeoff.beside.and_then(|b| b.money).expect("all is priced");
    let pair = |here: &str, there: &str| [decimal(here), decimal(there)];
    assert_eq!(money.base, pair("960.00", "135.00"));
    assert_eq!(money.bedding, pair("21.20", "26.40"));
    assert_eq!(money.loads, pair("200.00", "400.00"));
    assert_eq!(money.labour, pair("482.70", "1269.00"));
    assert_eq!(money.markup, pair("166.39", "183.04"));
    assert_eq!(money.tax, pair("366.06", "402.69"));
    assert_eq!(money.total, pair("2196.35", "2416.13"));
    // aggregate is asked for by the comparison alone, and counts as used
    let price = takeoff.price.expect("prices");
    assert_eq!(price.unused, Vec::<String>::new());
}

/// Without the rate of one operation there are neither hours nor money; without a price hours alone.
#[test]
fn what_is_missing_is_named_and_its_sum_left_out() {
    let beside = without(&[", aggregate: 3 h per m3"]).beside.expect("asked");
    assert_eq!(beside.hours.total(), None);
    assert_eq!(beside.money, None);
    assert_eq!(beside.missing, ["crew.rates.aggregate"]);
    let beside = without(&["  aggregate: 45\n", "  load: 100\n"]).beside;
    let beside = beside.expect("asked");
    assert!(beside.hours.total().is_some());
    assert_eq!(beside.money, None);
    assert_eq!(beside.missing, ["prices.load", "prices.aggregate"]);
    let aside = without(&["conventional: {base: 125 mm, bedding: 25 mm}\n"]);
    assert_eq!(aside.beside, None);
    assert_eq!(aside.price.expect("prices").unused, ["aggregate"]);
}

/// Over a way in of 20 m the aggregate is carried and the panels are not: the trips follow what is
/// delivered on each way.
#[test]
fn carrying_differs_by_what_is_delivered() {
    let text = format!("{COURT}access: {{carry: 20 m, trip: 90 kg}}\n");
    let carried = text.replace("rates: {", "rates: {carry: 0.001 h per m, ");
    let (design, takeoff) = taken_off(&carried);
    let mass = |key: &str| takeoff.line(key).and_then(|line| line.mass_kg);
    let [panels, bedding] = ["panel", "bedding"].map(|key| mass(key).expect("weighed"));
    let compared = takeoff.comparison.expect("asked");
    // 3 m³ at 1600 kg/m³; 0.66 m³ of bedding
    assert!((compared.aggregate_kg - 4800.0).abs() < 0.01);
    let sand = 0.66 * design.job.bedding.density;
    let other = takeoff.weight.delivered_kg - panels - bedding + compared.aggregate_kg + sand;
    let beside = takeoff.beside.as_ref().expect("asked");
    let carry = beside.hours.by_operation.iter().find(|e| e.name == "carry");
    let walked = |kg: f64| (kg / 90.0).ceil() * 40.0;
    let carry = carry.expect("the way is walked more often");
    assert!((carry.quantity[0] - walked(takeoff.weight.delivered_kg)).abs() < 1e-6);
    assert!((carry.quantity[1] - walked(other)).abs() < 1e-6);
}

/// The report has both sums, and names what is missing.
#[test]
fn the_report_has_both_sums() {
    let (design, takeoff) = taken_off(COURT);
    let report = report::json(&design, &takeoff, &checks::run(&design), &[]);
    let report: serde_json::Value = serde_json::from_str(&report).expect("JSON");
    let conventional = &report["conventional"];
    assert_eq!(conventional["price"]["conventional"]["total"], "2416.13");
    assert_eq!(conventional["price"]["saved"], "219.78");
    assert_eq!(conventional["hours"]["panels"], 9.654);
    assert_eq!(conventional["missing"], serde_json::json!([]));
}
