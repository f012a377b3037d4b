//! The takeoff as a table in CSV (RFC 4180), to be opened in a spreadsheet.
//!
//! In: [`Line`]s. Out: one header and one row per line, in the units of the sheet (feet where it
//! shows both), numbers plain with a point. Text that a spreadsheet would take for a formula
//! is preceded by an apostrophe. Left out: totals, which a spreadsheet makes itself.

use super::{Line, Unit};
use crate::units::{CUBIC_YARD, POUND, System};

const HEADER: [&str; 14] = [
    "item",
    "used for",
    "net",
    "unit",
    "how",
    "waste %",
    "order",
    "pack",
    "pack holds",
    "packs",
    "mass",
    "mass unit",
    "price each",
    "price",
];

/// The table.
pub fn csv(lines: &[Line], system: System) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let rows = std::iter::once(HEADER.map(str::to_owned))
        .chain(lines.iter().map(|line| row(line, system)));
    for row in rows {
        writer
            .write_record(row)
            .expect("memory takes every row, and rows are equally long");
    }
    let bytes = writer.into_inner().expect("memory takes every row");
    String::from_utf8(bytes).expect("cells are text")
}

fn row(line: &Line, system: System) -> [String; 14] {
    let (size, unit) = unit(line.unit, system);
    let (mass_size, mass_unit) = self::unit(Unit::Kilogram, system);
    let or_empty = |value: Option<String>| value.unwrap_or_default();
    [
        safe(&line.item.to_string()),
        safe(&line.used_for.to_string()),
        number(line.net / size),
        unit.to_owned(),
        safe(&line.how.to_string()),
        or_empty(line.waste.map(|waste| number(waste * 100.0))),
        number(line.order / size),
        or_empty(line.pack.map(|pack| pack.kind.name().to_owned())),
        or_empty(line.pack.map(|pack| number(pack.holds / size))),
        or_empty(line.packs.map(|packs| packs.to_string())),
        or_empty(line.mass_kg.map(|mass| number(mass / mass_size))),
        or_empty(line.mass_kg.map(|_| mass_unit.to_owned())),
        or_empty(line.price.map(|price| price.each.to_string())),
        or_empty(line.price.map(|price| price.amount.to_string())),
    ]
}

/// SI size and symbol of what a unit is shown in.
pub(super) fn unit(unit: Unit, system: System) -> (f64, &'static str) {
    match (unit, system) {
        (Unit::Piece, _) | (_, System::Metric) => (1.0, unit.symbol()),
        (Unit::Metre, _) => (0.3048, "ft"),
        (Unit::CubicMetre, _) => (CUBIC_YARD, "yd³"),
        (Unit::Kilogram, _) => (POUND, "lb"),
    }
}

/// To three decimals at most.
pub(super) fn number(value: f64) -> String {
    crate::units::print::number(value, 3).replace('−', "-")
}

/// Text that no spreadsheet takes for a formula: what begins, spaces aside, with a sign that
/// starts one, or with a control character, gets an apostrophe in front.
fn safe(text: &str) -> String {
    let starts_formula = text.starts_with(|c: char| c.is_control())
        || text
            .trim_start()
            .starts_with(['=', '+', '-', '@', '|', '%', '＝', '＋', '－', '＠', '−']);
    if starts_formula {
        return format!("'{text}");
    }
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::super::lines::{lines, tests as given};
    use super::*;

    #[test]
    fn a_formula_in_a_name_stays_text() {
        let mut quantities = given::quantities();
        let bedding = quantities.bedding.as_mut().unwrap();
        bedding.material = " =cmd(\"a\",b)".to_owned();
        let lines = lines(&quantities, &given::waste(), System::Metric);
        let text = csv(&lines, System::Metric);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), lines.len());
        assert_eq!(&rows[0][0], "' =cmd(\"a\",b)");
        for text in ["+1", "-1", "@a", "\tx", "＝1", "\r=1"] {
            assert_eq!(safe(text), format!("'{text}"));
        }
        assert_eq!(safe("Landing"), "Landing");
    }

    /// 0.4 m³ is 0.523 yd³; 0.58 yd³ of 1600 kg/m³ weigh 709.507 kg, 1564.195 lb.
    #[test]
    fn quantities_are_in_the_units_of_the_sheet() {
        let lines = lines(&given::quantities(), &given::waste(), System::FeetInches);
        let text = csv(&lines, System::FeetInches);
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let row = reader.records().next().unwrap().unwrap();
        let cell = |name: &str| &row[HEADER.iter().position(|title| *title == name).unwrap()];
        assert_eq!((cell("net"), cell("unit")), ("0.523", "yd³"));
        assert_eq!((cell("mass"), cell("mass unit")), ("1564.195", "lb"));
        assert_eq!(cell("waste %"), "10");
        assert_eq!(cell("price"), "");
    }
}
