//! Money: prices of the job on what is ordered, labour, markup and tax.
//!
//! In: [`Line`]s, person-hours and the job's prices. Out: a price on each line that has one, and a
//! [`Price`] that names what has none. A line is priced by its pack (roll, box, bag, load) where it
//! has one, pavers and panels by the piece, bedding and fill by the cubic yard or, on a metric
//! sheet, the cubic metre, and channels by the foot or the metre. Markup is on the sum, tax on the
//! sum with markup. Amounts are rounded to the hundredth, halves away from zero. Left out:
//! exchange, discounts.

use std::fmt;

use rust_decimal::prelude::FromPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

use super::table::unit;
use super::{Line, LinePrice, Unit};
use crate::job::model::Prices;
use crate::language::{Phrase, phrase};
use crate::units::System;

/// Key of the price of one person-hour.
pub const LABOUR: &str = "labour_hour";

/// The price of a job, in its currency.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    /// Currency code.
    pub currency: String,
    /// Sum of the lines that have a price.
    pub material: Decimal,
    /// Person-hours × their price, when both are known.
    pub labour: Option<LinePrice>,
    /// Material and labour.
    pub subtotal: Decimal,
    /// Markup on the subtotal.
    pub markup: Decimal,
    /// Tax on subtotal and markup.
    pub tax: Decimal,
    /// Subtotal, markup and tax: of the whole job only while `missing` is empty.
    pub total: Decimal,
    /// Keys under `prices` that the takeoff asks for and the job does not state.
    pub missing: Vec<String>,
    /// Keys under `prices` that the job states and nothing in the takeoff asks for.
    pub unused: Vec<String>,
}

/// An amount that is too large to be counted exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooLarge {
    /// The key under `prices` that leads to it.
    pub key: String,
}

impl TooLarge {
    /// What is wrong, in words.
    pub fn phrase(&self) -> Phrase {
        phrase!(
            "the amount for {key} is too large",
            key = format!("prices.{}", self.key)
        )
    }
}

impl fmt::Display for TooLarge {
    /// The English words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.phrase().fmt(f)
    }
}

impl std::error::Error for TooLarge {}

/// Prices each line that has a price, and the whole.
///
/// # Errors
/// When an amount is too large to be counted exactly.
pub fn price(
    lines: &mut [Line],
    hours: Option<f64>,
    prices: &Prices,
    system: System,
) -> Result<Price, TooLarge> {
    let mut missing = Vec::new();
    let mut material = Decimal::ZERO;
    for line in lines.iter_mut() {
        let Some(each) = prices.items.get(&line.key).copied() else {
            missing.push(line.key.clone());
            continue;
        };
        let priced = LinePrice::of(priced_quantity(line, system), each, &line.key)?;
        material = add(material, priced.amount, &line.key)?;
        line.price = Some(priced);
    }
    let labour = match (hours, prices.items.get(LABOUR)) {
        (Some(hours), Some(each)) => Some(LinePrice::of(hours, *each, LABOUR)?),
        (Some(_), None) => {
            missing.push(LABOUR.to_owned());
            None
        }
        (None, _) => None,
    };
    let worked = labour.map_or(Decimal::ZERO, |labour| labour.amount);
    let subtotal = add(material, worked, LABOUR)?;
    let markup = times(subtotal, prices.markup, "markup")?;
    let marked = add(subtotal, markup, "markup")?;
    let tax = times(marked, prices.tax, "tax")?;
    let unused = prices
        .items
        .keys()
        .filter(|key| *key != LABOUR && lines.iter().all(|line| line.key != **key))
        .cloned()
        .collect();
    Ok(Price {
        currency: prices.currency.clone(),
        material,
        labour,
        subtotal,
        markup,
        tax,
        total: add(marked, tax, "tax")?,
        missing,
        unused,
    })
}

impl LinePrice {
    /// The price of a quantity, which is taken to the thousandth.
    fn of(quantity: f64, each: Decimal, key: &str) -> Result<LinePrice, TooLarge> {
        let quantity = counted(quantity, key)?;
        Ok(LinePrice {
            quantity,
            each,
            amount: times(quantity, each, key)?,
        })
    }
}

/// How many of what the price is for.
fn priced_quantity(line: &Line, system: System) -> f64 {
    match (line.unit, line.packs) {
        (Unit::Piece, _) if line.key != "nails" => line.order,
        (_, Some(packs)) => packs as f64,
        (Unit::CubicMetre, None) => priced_volume(line.order, system),
        (Unit::Metre, None) => line.order / unit(Unit::Metre, system).0,
        (_, None) => line.order,
    }
}

/// A volume in cubic metres as it is priced: by the cubic yard, on a metric sheet by the cubic metre.
pub(super) fn priced_volume(m3: f64, system: System) -> f64 {
    m3 / unit(Unit::CubicMetre, system).0
}

/// Quantity, to the thousandth, times the price of one.
pub(super) fn amount(quantity: f64, each: Decimal, key: &str) -> Result<Decimal, TooLarge> {
    times(counted(quantity, key)?, each, key)
}

/// A quantity as it is priced: to the thousandth.
fn counted(quantity: f64, key: &str) -> Result<Decimal, TooLarge> {
    let quantity = Decimal::from_f64(quantity).ok_or_else(|| too_large(key))?;
    Ok(money(quantity, 3))
}

/// A product, to the hundredth.
pub(super) fn times(a: Decimal, b: Decimal, key: &str) -> Result<Decimal, TooLarge> {
    let product = a.checked_mul(b).ok_or_else(|| too_large(key))?;
    Ok(money(product, 2))
}

/// A sum.
pub(super) fn add(a: Decimal, b: Decimal, key: &str) -> Result<Decimal, TooLarge> {
    a.checked_add(b).ok_or_else(|| too_large(key))
}

fn money(value: Decimal, places: u32) -> Decimal {
    value.round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero)
}

fn too_large(key: &str) -> TooLarge {
    TooLarge {
        key: key.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::lines::{lines, tests as given};
    use super::*;
    use std::collections::BTreeMap;

    fn prices(items: &[(&str, &str)]) -> Prices {
        Prices {
            currency: "USD".to_owned(),
            items: items
                .iter()
                .map(|(key, each)| ((*key).to_owned(), each.parse().unwrap()))
                .collect::<BTreeMap<_, _>>(),
            markup: "0.20".parse().unwrap(),
            tax: "0.07".parse().unwrap(),
        }
    }

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    /// 960 pavers at 1.10 = 1056.00; 3 boxes at 9.99 = 29.97; 24 h at 50 = 1200.00. Sum
    /// 2285.97, markup 457.19, tax 7 % of 2743.16 = 192.02, in all 2935.18.
    #[test]
    fn money_adds_up_to_the_hundredth() {
        let mut lines = lines(&given::quantities(), &given::waste(), System::Metric);
        let prices = prices(&[
            ("paver.field", "1.10"),
            ("nails", "9.99"),
            ("labour_hour", "50"),
            ("panel", "30"),
        ]);
        let price = price(&mut lines, Some(24.0), &prices, System::Metric).unwrap();
        assert_eq!(price.material, decimal("1085.97"));
        assert_eq!(price.subtotal, decimal("2285.97"));
        assert_eq!(price.markup, decimal("457.19"));
        assert_eq!(price.tax, decimal("192.02"));
        assert_eq!(price.total, decimal("2935.18"));
        assert_eq!(price.missing, ["bedding", "edging"]);
        assert_eq!(price.unused, ["panel"]);
    }

    /// 0.44 m³ is 0.575 yd³, ordered as 0.58; at 40 a yard that is 23.20, at 40 a metre 17.60.
    #[test]
    fn bedding_is_priced_by_the_unit_of_the_sheet() {
        for (system, wanted) in [(System::FeetInches, "23.20"), (System::Metric, "17.60")] {
            let mut lines = lines(&given::quantities(), &given::waste(), system);
            let price = price(&mut lines, None, &prices(&[("bedding", "40")]), system).unwrap();
            assert_eq!(price.material, decimal(wanted));
            assert!(!price.missing.contains(&LABOUR.to_owned()));
        }
    }

    #[test]
    fn an_amount_beyond_counting_is_an_error() {
        let mut lines = lines(&given::quantities(), &given::waste(), System::Metric);
        let prices = prices(&[("edging", "79228162514264337593543950335")]);
        let error = price(&mut lines, None, &prices, System::Metric).unwrap_err();
        assert_eq!(error.key, "edging");
    }
}
