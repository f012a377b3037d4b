//! The takeoff as a table for a terminal: columns of even width, in the units of the sheet.
//!
//! In: a [`Takeoff`]. Out: lines of text without line breaks at their ends. Numbers stand right,
//! words left; under the table what the whole weighs, the trips it takes, and what it costs.

use super::Takeoff;
use super::beside::Beside;
use super::table::{number, unit};
use super::{Line, Unit};
use crate::language::{Language, Phrase, phrase, say};
use crate::units::{Length, Mass, Precision, System, print};

/// A column: its heading, and whether its cells stand right.
const COLUMNS: [(fn() -> Phrase, Side); 8] = [
    (|| phrase!("item"), Side::Left),
    (|| phrase!("net"), Side::Right),
    (|| phrase!("waste§added"), Side::Right),
    (|| phrase!("order"), Side::Right),
    (|| phrase!("unit"), Side::Left),
    (|| phrase!("packs"), Side::Left),
    (|| phrase!("mass"), Side::Right),
    (|| phrase!("price"), Side::Right),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

/// The table and its totals.
pub fn listing(takeoff: &Takeoff, system: System, language: Language) -> Vec<String> {
    let mut rows = vec![COLUMNS.map(|(heading, _)| heading().say(language))];
    rows.extend(takeoff.lines.iter().map(|line| row(line, system, language)));
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
            let [used_for, how] = [&line.used_for, &line.how].map(|words| words.say(language));
            out.push(match how.contains(&used_for) {
                true => format!("    {how}"),
                false => format!("    {used_for}: {how}"),
            });
        }
    }
    out.extend(
        totals(takeoff, system)
            .iter()
            .map(|words| words.say(language)),
    );
    out
}

fn row(line: &Line, system: System, language: Language) -> [String; 8] {
    let (size, symbol) = unit(line.unit, system);
    let packs = match (line.packs, line.pack) {
        (Some(packs), Some(pack)) => {
            let (name, holds) = (pack.kind.words(1), number(pack.holds / size));
            say!(language, "{packs} × {name} of {holds}", packs, name, holds)
        }
        _ => String::new(),
    };
    let figure = |value: f64| match line.unit {
        Unit::Piece => number(value / size),
        _ => print::number(value / size, 2),
    };
    [
        line.item.say(language),
        figure(line.net),
        line.waste
            .map_or(String::new(), |waste| format!("{}%", number(waste * 100.0))),
        figure(line.order),
        match line.unit {
            Unit::Piece => say!(language, "pieces"),
            Unit::Metre | Unit::CubicMetre | Unit::Kilogram => symbol.to_owned(),
        },
        packs,
        line.mass_kg
            .map_or(String::new(), |kg| print::mass(Mass::from_kg(kg), system)),
        line.price
            .map_or(String::new(), |price| price.amount.to_string()),
    ]
}

fn totals(takeoff: &Takeoff, system: System) -> Vec<Phrase> {
    let mass = |kg: f64| print::mass(Mass::from_kg(kg), system);
    let weight = &takeoff.weight;
    let mut out: Vec<Phrase> = vec![match weight.not_weighed.is_empty() {
        true => phrase!("delivered {mass}", mass = mass(weight.delivered_kg)),
        false => phrase!(
            "delivered {mass}, without {missing}",
            mass = mass(weight.delivered_kg),
            missing = Phrase::row(weight.not_weighed.iter().cloned(), ", ")
        ),
    }];
    if let Some((access, trips)) = &takeoff.trips {
        let far = Length::from_mm(access.carry);
        out.push(phrase!(
            "trips of {load} over {far}: {carried_in} in, {carried_out} out with spoil",
            load = mass(access.trip),
            far = print::length(far, system, Precision::Drawing),
            carried_in = trips.carried_in,
            carried_out = trips.carried_out
        ));
    }
    out.push(phrase!(
        "person-hours {hours}, days {days}",
        hours = print::number(takeoff.hours.total, 1),
        days = print::number(takeoff.hours.days, 1)
    ));
    if let Some(beside) = &takeoff.beside {
        out.extend(beside_lines(beside));
    }
    if let Some(price) = &takeoff.price {
        out.push(match price.missing.is_empty() {
            true => phrase!(
                "price {currency} {total}",
                currency = price.currency,
                total = price.total.to_string()
            ),
            false => phrase!(
                "price {currency} {total}, without {missing}: no price is given",
                currency = price.currency,
                total = price.total.to_string(),
                missing = price.missing.join(", ")
            ),
        });
    }
    out
}

/// Hours and money of the two bases, or what they lack.
fn beside_lines(beside: &Beside) -> Vec<Phrase> {
    let mut out = Vec::new();
    if let Some([here, there]) = beside.hours.total() {
        out.push(phrase!(
            "person-hours of dig, cartage and base {here}, on a conventional base {there}",
            here = print::number(here, 1),
            there = print::number(there, 1)
        ));
    }
    if let Some(money) = &beside.money {
        out.push(phrase!(
            "price of dig, cartage and base {currency} {here}, on a conventional base {currency} {there}",
            currency = money.currency,
            here = money.total[0].to_string(),
            there = money.total[1].to_string()
        ));
    }
    if !beside.missing.is_empty() {
        out.push(phrase!(
            "beside a conventional base, not stated: {missing}",
            missing = beside.missing.join(", ")
        ));
    }
    out
}
