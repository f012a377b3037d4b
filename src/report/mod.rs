//! The whole result as `report.json`: every figure of the sheet and more, under stable keys with
//! the SI unit in the key's name.
//!
//! In: the design, the takeoff, the findings, the defects of the sheets. Out: JSON text, keys in
//! alphabetical order. A figure that the job gives no ground for is absent, never zero. Numbers are
//! rounded where written: to a micrometre for lengths and to nine places for the rest.

mod base;
mod levels;
mod setout;
mod site;
mod takeoff;
mod water;

use serde_json::{Map, Value, json};

use crate::checks::{self, Finding};
use crate::design::Design;
use crate::draw::Defect;
use crate::geom::Point;
use crate::language::Phrase;
use crate::takeoff::Takeoff;

/// Version of the report's keys.
const SCHEMA: &str = "groundsheet-report-1";

/// The report as JSON text, ending in a line break.
pub fn json(
    design: &Design,
    takeoff: &Takeoff,
    findings: &[Finding],
    defects: &[Defect],
) -> String {
    let job = &design.job;
    let mut report = Map::new();
    let mut put = |key: &str, value: Value| {
        if !value.is_null() {
            report.insert(key.to_string(), value);
        }
    };
    put("schema", json!(SCHEMA));
    put(
        "program",
        json!({"name": env!("CARGO_PKG_NAME"), "version": env!("CARGO_PKG_VERSION")}),
    );
    put("job", site::info(&job.info));
    put("assumed", site::assumed(&job.assumed));
    put("found", site::assumed(&job.found));
    put("points", site::points(job));
    put("traverse", site::traverse(job));
    put("levelling", setout::levelling(design));
    put("areas", site::areas(design));
    put("paved", site::paved(design));
    put("joined_edges", water::joined_edges(design));
    put("water", water::water(design));
    put("rainfall", water::rainfall(design));
    put("drains", water::drains(design));
    put("base", base::base(design));
    put("dig", levels::dig(design));
    put("backfill", levels::backfill(design));
    put("services", levels::services(design));
    put("buildup", levels::build_up(design));
    put("pavers", base::pavers(design));
    put("joints_over_joints", base::joints_over_joints(design));
    put("jointing", base::jointing(design));
    put("bedding", base::bedding(design));
    put("geotextile", base::geotextile(design));
    put("rails", base::rails(design));
    put("edging", base::edging(design));
    put("setout", setout::corners(design));
    put("field", setout::field(design));
    put("surfaces", setout::surfaces(design));
    put("conventional", takeoff::conventional(takeoff));
    put("hours", takeoff::hours(takeoff));
    put("takeoff", takeoff::lines(takeoff));
    put("weight", takeoff::weight(takeoff));
    put("access", takeoff::trips(takeoff));
    put("price", takeoff::price(takeoff));
    put("checks", checks(findings));
    put("sheet_defects", sheet_defects(defects));
    let mut text = serde_json::to_string_pretty(&Value::Object(report))
        .expect("a tree of JSON values always serialises");
    text.push('\n');
    text
}

fn checks(findings: &[Finding]) -> Value {
    findings
        .iter()
        .zip(checks::numbers(findings))
        .map(|(finding, number)| {
            object([
                ("id", json!(finding.id)),
                ("number", json!(number)),
                ("status", json!(finding.status.word())),
                ("title", json!(finding.title.to_string())),
                ("value", finding.value.map_or(Value::Null, figure)),
                ("limit", finding.limit.map_or(Value::Null, figure)),
                ("unit", json!(finding.unit)),
                (
                    "at",
                    finding
                        .at
                        .map_or(Value::Null, |at| json!([at.line, at.column])),
                ),
                (
                    "where",
                    json!(finding.where_.as_ref().map(Phrase::to_string)),
                ),
                ("at_mm", finding.point.map_or(Value::Null, place)),
                ("source", json!(finding.source)),
            ])
        })
        .collect()
}

/// What the program found wrong on its own sheets; empty when all of them can be read.
fn sheet_defects(defects: &[Defect]) -> Value {
    defects
        .iter()
        .map(|defect| {
            let at = defect.conflict.at();
            object([
                ("sheet", json!(defect.sheet)),
                ("what", json!(defect.conflict.to_string())),
                (
                    "at_paper_mm",
                    at.map_or(Value::Null, |at| json!([mm(at.x), mm(at.y)])),
                ),
            ])
        })
        .collect()
}

/// An object of the entries that are not null.
fn object<'a>(entries: impl IntoIterator<Item = (&'a str, Value)>) -> Value {
    let entries = entries.into_iter().filter(|(_, value)| !value.is_null());
    Value::Object(
        entries
            .map(|(key, value)| (key.to_string(), value))
            .collect(),
    )
}

/// A length or level in millimetres, to a micrometre.
fn mm(value: f64) -> Value {
    rounded(value, 1e3)
}

/// Any other figure, to nine places.
fn figure(value: f64) -> Value {
    rounded(value, 1e9)
}

fn rounded(value: f64, places: f64) -> Value {
    let value = (value * places).round() / places;
    // Adding zero turns a negative zero into a plain one.
    json!(value + 0.0)
}

/// A place as `[x, y]` in millimetres.
fn place(at: Point) -> Value {
    json!([mm(at.x), mm(at.y)])
}
