//! What the two bases of the comparison take in hours and in money, over what differs.
//!
//! In: the takeoff's lines with their prices, the work as drawn, the [`Comparison`], and the job's
//! rates and prices. Out: [`Beside`]: panels first, the conventional base second. Materials of the
//! base, bedding, loads of spoil and labour are counted, with the job's markup and tax, so that the
//! two sums differ by what the whole price would. What lacks a rate or a price is named, and the sum
//! it belongs to is left out. Left out: hire of plant.

use rust_decimal::Decimal;

use super::line::ordered;
use super::price::{LABOUR, add, amount, priced_volume, times};
use super::weight::SPOIL;
use super::{Comparison, Line, TooLarge};
use crate::crew::{self, AccessSpec, CrewSpec, HoursBeside, Work};
use crate::job::model::Prices;
use crate::units::System;

/// Key of the price of aggregate, by the volume in place.
pub const AGGREGATE: &str = "aggregate";
/// Key of the line of panels.
const PANEL: &str = "panel";
/// Key of the line of bedding.
const BEDDING: &str = "bedding";

/// Panels beside a conventional base.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// Person-hours.
    pub hours: HoursBeside,
    /// Money, when every rate and price that it needs is stated.
    pub money: Option<MoneyBeside>,
    /// Keys of the rates and prices that it needs and the job does not state.
    pub missing: Vec<String>,
}

/// Money of the two bases, over what differs, in the job's currency: panels, conventional.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MoneyBeside {
    /// Currency code.
    pub currency: String,
    /// Panels, and aggregate.
    pub base: [Decimal; 2],
    /// Bedding.
    pub bedding: [Decimal; 2],
    /// Loads of spoil.
    pub loads: [Decimal; 2],
    /// Person-hours that differ.
    pub labour: [Decimal; 2],
    /// Markup on these.
    pub markup: [Decimal; 2],
    /// Tax on these with markup.
    pub tax: [Decimal; 2],
    /// All of it.
    pub total: [Decimal; 2],
}

/// What the comparison starts from, beside the two bases themselves.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// The work as drawn.
    pub work: &'a Work,
    /// The lines of the takeoff.
    pub lines: &'a [Line],
    /// Mass delivered as drawn, kg.
    pub delivered_kg: f64,
    /// Loose density of the bedding, kg/m³.
    pub bedding_density: f64,
    /// Waste of bedding, a ratio.
    pub bedding_waste: f64,
    /// The crew.
    pub crew: &'a CrewSpec,
    /// The way in, when given.
    pub access: Option<&'a AccessSpec>,
    /// Prices, when given.
    pub prices: Option<&'a Prices>,
    /// Units of the sheet.
    pub system: System,
}

/// Hours and money of the two bases.
///
/// # Errors
/// When an amount is too large to be counted exactly.
pub fn beside(compared: &Comparison, ground: &Ground<'_>) -> Result<Beside, TooLarge> {
    let other = conventional_work(compared, ground);
    let hours = crew::beside(ground.crew, [ground.work, &other]);
    let rates = hours.missing.iter();
    let rates = rates.map(|name| format!("crew.rates.{name}"));
    let mut missing: Vec<String> = rates.collect();
    let needed = needed_prices(ground.lines);
    let stated = |key: &&str| ground.prices.is_some_and(|p| p.items.contains_key(*key));
    let unpriced = needed.iter().filter(|key| !stated(key));
    missing.extend(unpriced.map(|key| format!("prices.{key}")));
    let money = match (ground.prices, hours.total()) {
        (Some(prices), Some(total)) if missing.is_empty() => {
            Some(money(compared, ground, total, prices)?)
        }
        _ => None,
    };
    Ok(Beside {
        hours,
        money,
        missing,
    })
}

/// The prices that the comparison takes.
fn needed_prices(lines: &[Line]) -> Vec<&str> {
    let lines = lines.iter().map(|line| line.key.as_str());
    let of_lines = lines.filter(|key| [PANEL, BEDDING, SPOIL].contains(key));
    of_lines.chain([AGGREGATE, LABOUR]).collect()
}

/// The same job's work with a conventional base.
fn conventional_work(compared: &Comparison, ground: &Ground<'_>) -> Work {
    let mass = |key: &str| {
        let line = ground.lines.iter().find(|line| line.key == key);
        line.and_then(|line| line.mass_kg).unwrap_or(0.0)
    };
    let bedding = bedding_order(compared, ground) * ground.bedding_density;
    let delivered =
        ground.delivered_kg - mass(PANEL) - mass(BEDDING) + compared.aggregate_kg + bedding;
    let walked = |access: &AccessSpec| access.trips(delivered, 0.0).walked_in_m;
    Work {
        cut_m3: Some(compared.cut_m3),
        spoil_m3: Some(compared.spoil_loose_m3),
        bedding_m3: Some(compared.bedding_m3),
        panels: Some(0.0),
        panels_m2: Some(0.0),
        aggregate_m2: ground.work.base_m2,
        aggregate_m3: Some(compared.aggregate_m3),
        walked_m: Some(ground.access.map_or(0.0, walked)),
        ..*ground.work
    }
}

/// Bedding under a conventional base as ordered, m³.
fn bedding_order(compared: &Comparison, ground: &Ground<'_>) -> f64 {
    ordered(
        compared.bedding_m3 * (1.0 + ground.bedding_waste),
        ground.system,
    )
}

fn money(
    compared: &Comparison,
    ground: &Ground<'_>,
    hours: [f64; 2],
    prices: &Prices,
) -> Result<MoneyBeside, TooLarge> {
    let each = |key: &str| prices.items.get(key).copied().unwrap_or_default();
    let of_line = |key: &str| {
        let line = ground.lines.iter().find(|line| line.key == key);
        let price = line.and_then(|line| line.price);
        price.map_or(Decimal::ZERO, |price| price.amount)
    };
    let of = |key: &str, quantity: f64| amount(quantity, each(key), key);
    let volume = |key: &str, m3: f64| of(key, priced_volume(m3, ground.system));
    let base = [
        of_line(PANEL),
        volume(AGGREGATE, ordered(compared.aggregate_m3, ground.system))?,
    ];
    let bedding = [
        of_line(BEDDING),
        volume(BEDDING, bedding_order(compared, ground))?,
    ];
    let loads = [of_line(SPOIL), of(SPOIL, compared.loads as f64)?];
    let labour = [of(LABOUR, hours[0])?, of(LABOUR, hours[1])?];
    let [mut markup, mut tax, mut total] = [[Decimal::ZERO; 2]; 3];
    for way in 0..2 {
        let mut sum = base[way];
        for part in [bedding[way], loads[way], labour[way]] {
            sum = add(sum, part, AGGREGATE)?;
        }
        markup[way] = times(sum, prices.markup, "markup")?;
        let marked = add(sum, markup[way], "markup")?;
        tax[way] = times(marked, prices.tax, "tax")?;
        total[way] = add(marked, tax[way], "tax")?;
    }
    Ok(MoneyBeside {
        currency: prices.currency.clone(),
        base,
        bedding,
        loads,
        labour,
        markup,
        tax,
        total,
    })
}
