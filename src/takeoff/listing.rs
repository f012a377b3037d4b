//! The takeoff as a table for a terminal: columns of even width, in the units of the sheet.
//!
//! In: a [`Takeoff`]. Out: lines of text without line breaks at their ends. Numbers stand right,
//! words left; under the table what the whole weighs, the trips it takes, and what it costs.

use super::Takeoff;
use super::beside::Beside;
use super::table::{number, unit};
use super::{Line, Unit};
use crate::units::{Length, Mass, Precision, System, print};

/// A column: its heading, and whether its cells stand right.
const COLUMNS: [(&str, Side); 8] = [
    ("item", Side::Left),
    ("net", Side::Right),
    ("waste", Side::Right),
    ("order", Side::Right),
    ("unit", Side::Left),
    ("packs", Side::Left),
    ("mass", Side::Right),
    ("price", Side::Right),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// The table and its totals.
pub fn listing(takeoff: &Takeoff, system: System) -> Vec<String> {
    let mut rows = vec![COLUMNS.map(|(heading, _)| heading.to_owned())];
    rows.extend(takeoff.lines.iter().map(|line| row(line, system)));
    let mut kept: Vec<usize> = (0..COLUMNS.len()).collect();
    kept.retain(|&column| rows[1..].iter().any(|row| !row[column].is_empty()));
    let width = |column: usize| {
        let cells = rows.iter().map(|row| row[column].chars().count());
        cells.max().unwrap_or(0)
    };
    let widths: Vec<usize> = kept.iter().map(|&column| width(column)).collect();
    let mut out: Vec<String> = Vec::new();
    for (number, row) in rows.iter().enumerate() {
        let cells: Vec<String> = kept
            .iter()
            .zip(&widths)
            .map(|(&column, &width)| match COLUMNS[column].1 {
                Side::Left => format!("{:<width$}", row[column]),
                Side::Right => format!("{:>width$}", row[column]),
            })
            .collect();
        out.push(cells.join("  ").trim_end().to_owned());
        // How a quantity was got stands under its line, where it can be as long as it is.
        if let Some(line) = number.checked_sub(1).map(|index| &takeoff.lines[index]) {
            // Lines of several places name each of them as they count it.
            out.push(match line.how.contains(&line.used_for) {
                true => format!("    {}", line.how),
                false => format!("    {}: {}", line.used_for, line.how),
            });
        }
    }
    out.extend(totals(takeoff, system));
    out
}

fn row(line: &Line, system: System) -> [String; 8] {
    let (size, symbol) = unit(line.unit, system);
    let packs = match (line.packs, line.pack) {
        (Some(packs), Some(pack)) => {
            format!("{packs} × {} of {}", pack.name, number(pack.holds / size))
        }
        _ => String::new(),
    };
    let figure = |value: f64| match line.unit {
        Unit::Piece => number(value / size),
        _ => print::number(value / size, 2),
    };
    [
        line.item.to_string(),
        figure(line.net),
        line.waste
            .map_or(String::new(), |waste| format!("{}%", number(waste * 100.0))),
        figure(line.order),
        symbol.to_owned(),
        packs,
        line.mass_kg
            .map_or(String::new(), |kg| print::mass(Mass::from_kg(kg), system)),
        line.price
            .map_or(String::new(), |price| price.amount.to_string()),
    ]
}

fn totals(takeoff: &Takeoff, system: System) -> Vec<String> {
    let mass = |kg: f64| print::mass(Mass::from_kg(kg), system);
    let weight = &takeoff.weight;
    let mut out = vec![match weight.not_weighed.is_empty() {
        true => format!("delivered {}", mass(weight.delivered_kg)),
        false => format!(
            "delivered {}, without {}",
            mass(weight.delivered_kg),
            weight.not_weighed.join(", ")
        ),
    }];
    if let Some((access, trips)) = &takeoff.trips {
        let far = Length::from_mm(access.carry);
        out.push(format!(
            "trips of {} over {}: {} in, {} out with spoil",
            mass(access.trip),
            print::length(far, system, Precision::Drawing),
            trips.carried_in,
            trips.carried_out
        ));
    }
    out.push(format!(
        "person-hours {}, days {}",
        print::number(takeoff.hours.total, 1),
        print::number(takeoff.hours.days, 1)
    ));
    if let Some(beside) = &takeoff.beside {
        out.extend(beside_lines(beside));
    }
    if let Some(price) = &takeoff.price {
        out.push(match price.missing.is_empty() {
            true => format!("price {} {}", price.currency, price.total),
            false => format!(
                "price {} {}, without {}: no price is given",
                price.currency,
                price.total,
                price.missing.join(", ")
            ),
        });
    }
    out
}

/// Hours and money of the two bases, or what they lack.
fn beside_lines(beside: &Beside) -> Vec<String> {
    let mut out = Vec::new();
    if let Some([here, there]) = beside.hours.total() {
        out.push(format!(
            "person-hours of dig, cartage and base {}, on a conventional base {}",
            print::number(here, 1),
            print::number(there, 1)
        ));
    }
    if let Some(money) = &beside.money {
        out.push(format!(
            "price of dig, cartage and base {currency} {}, on a conventional base {currency} {}",
            money.total[0],
            money.total[1],
            currency = money.currency
        ));
    }
    if !beside.missing.is_empty() {
        out.push(format!(
            "beside a conventional base, not stated: {}",
            beside.missing.join(", ")
        ));
    }
    out
}
