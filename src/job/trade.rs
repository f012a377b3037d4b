//! `crew` and `prices`: people, hours and money.
//!
//! In: the nodes. Out: [`CrewSpec`] with rates in SI (person-hours per metre, square metre, cubic
//! metre, piece or job), and [`Prices`] as decimals, which stay exact.

use std::collections::BTreeMap;
use std::str::FromStr;

use rust_decimal::Decimal;

use super::meaning::Meaning;
use super::model::Prices;
use super::reader::{Bound, Map, Reader};
use super::tree::{Node, Value};
use super::values::{mass, nearest, one_of_keys};
use crate::crew::{AccessSpec, CrewSpec, OPERATIONS, Rate};
use crate::diag::Diagnostic;
use crate::language::phrase;
use crate::paving::PaverSpec;
use crate::units::read::hours;

/// Items whose prices a job may state, beside `paver.NAME` for each kind of paver: the keys of the
/// takeoff's lines, aggregate for the comparison, and an hour of labour.
pub const PRICED: [&str; 15] = [
    "panel",
    "aggregate",
    "bedding",
    "geotextile",
    "rails",
    "edging",
    "nails",
    "jointing",
    "backfill",
    "topsoil",
    "channel",
    "gully",
    "fill",
    "load",
    "labour_hour",
];

/// Reads `crew`.
pub fn crew(r: &mut Reader, root: &Map<'_>) -> CrewSpec {
    let map = r.block(root, "crew", &["people", "day", "rates"]);
    let people = r.count_or(&map, "people", 3);
    let day = r.value_or(&map, "day", Bound::Positive, ("8 h", "8 h"), hours);
    if day > 24.0
        && let Some(node) = map.get("day")
    {
        r.wrong(node, "crew.day", phrase!("a working day such as 8 h"));
    }
    let mut rates = BTreeMap::new();
    let block = r.block(&map, "rates", &OPERATIONS.map(|operation| operation.name));
    for entry in block.entries() {
        if let Some(rate) = rate(r, &entry.node, &block.key(&entry.key)) {
            rates.insert(entry.key.clone(), rate);
        }
    }
    CrewSpec { people, day, rates }
}

/// A rate such as `0.5 h per m2`.
fn rate(r: &mut Reader, node: &Node, path: &str) -> Option<Rate> {
    let Value::Scalar(text, _) = &node.value else {
        r.wrong(node, path, phrase!("a rate, such as 0.3 h per m2"));
        return None;
    };
    match Rate::parse(text) {
        Ok(rate) if rate.hours.is_finite() && rate.hours >= 0.0 => Some(rate),
        Ok(_) => {
            r.wrong(node, path, phrase!("a rate of zero or more"));
            None
        }
        Err(misread) => {
            r.wrong(node, path, &misread.wanted);
            None
        }
    }
}

/// Reads `access`; without it no trips are counted.
pub fn access(r: &mut Reader, root: &Map<'_>) -> Option<AccessSpec> {
    let node = root.get("access")?;
    let map = r.map(node, "access", &["width", "steps", "carry", "trip"])?;
    let width = r.length_at(&map, "width", Bound::Positive);
    let steps = match map.get("steps") {
        None => {
            r.assume(map.key("steps"), "0");
            Some(0)
        }
        Some(node) => r.count_or_none(node, &map.key("steps")),
    };
    let wanted = &phrase!("how far things are carried, such as 60'");
    let carry = r.required(&map, "carry", wanted);
    let carry = carry.and_then(|node| r.length(node, &map.key("carry"), Bound::NotNegative));
    // A barrow's load: from memory. By hand: under the 23 kg (51 lb) that one person may lift in
    // the best case, NIOSH 94-110.
    let load = match AccessSpec::takes_barrow(steps.unwrap_or(0), width) {
        true => ("200 lb", "90 kg"),
        false => ("50 lb", "23 kg"),
    };
    let trip = r.value_or(&map, "trip", Bound::Positive, load, mass);
    Some(AccessSpec {
        width,
        steps: steps?,
        carry: carry?,
        trip,
    })
}

/// Reads `prices`; without it there is no money on the sheet.
pub fn prices(r: &mut Reader, root: &Map<'_>, pavers: &[PaverSpec]) -> Option<Prices> {
    let map = r.open_map(root.get("prices")?, "prices")?;
    let mut items = BTreeMap::new();
    let kinds: Vec<String> = pavers.iter().map(|p| format!("paver.{}", p.name)).collect();
    let mut known: Vec<&str> = vec!["currency", "markup", "tax"];
    known.extend(PRICED);
    known.extend(kinds.iter().map(String::as_str));
    for entry in map.entries() {
        if entry.key == "paver"
            && let Value::Map(inner) = &entry.node.value
        {
            for inner in inner {
                let key = format!("paver.{}", inner.key);
                item(r, &key, inner.place, &inner.node, &known, &mut items);
            }
        } else {
            item(r, &entry.key, entry.place, &entry.node, &known, &mut items);
        }
    }
    let currency = match map.get("currency") {
        Some(_) => r.text_at(&map, "currency").unwrap_or_default(),
        None => {
            r.assume(map.key("currency"), "USD");
            "USD".to_owned()
        }
    };
    Some(Prices {
        currency,
        items,
        markup: percent(r, &map, "markup"),
        tax: percent(r, &map, "tax"),
    })
}

/// One priced item.
fn item(
    r: &mut Reader,
    key: &str,
    place: crate::diag::Place,
    node: &Node,
    known: &[&str],
    items: &mut BTreeMap<String, Decimal>,
) {
    if ["currency", "markup", "tax"].contains(&key) {
        return;
    }
    if !known.contains(&key) {
        let mut finding = Diagnostic::error(
            "unknown-key",
            phrase!("`{key}` is not a key of {owner}", key, owner = "prices"),
        )
        .at(place)
        .wanted(one_of_keys(known));
        if let Some(near) = nearest(key, known) {
            finding = finding.hint(phrase!("perhaps `{near}` is meant", near));
        }
        r.add(finding);
        return;
    }
    if let Value::Scalar(text, Meaning::Number) = &node.value
        && let Ok(value) = Decimal::from_str(text)
        && value >= Decimal::ZERO
        && value <= Decimal::from(1_000_000_000)
    {
        items.insert(key.to_owned(), value);
        return;
    }
    r.wrong(
        node,
        &format!("prices.{key}"),
        phrase!("a plain number in the job's currency, zero or more"),
    );
}

/// A percentage as an exact ratio, else 0.
fn percent(r: &mut Reader, map: &Map<'_>, key: &str) -> Decimal {
    let Some(node) = map.get(key) else {
        r.assume(map.key(key), "0%");
        return Decimal::ZERO;
    };
    if let Value::Scalar(text, _) = &node.value {
        let text = text.trim();
        let (digits, scale) = match text.strip_suffix('%') {
            Some(digits) => (digits.trim(), Decimal::from(100)),
            None => (text, Decimal::ONE),
        };
        if let Ok(value) = Decimal::from_str(digits)
            && value >= Decimal::ZERO
            && value / scale <= Decimal::from(10)
        {
            return value / scale;
        }
    }
    r.wrong(node, &map.key(key), phrase!("a share such as 20%"));
    Decimal::ZERO
}
