//! Takeoff, hours, comparison and price in the report.

use serde_json::{Value, json};

use super::{figure, mm, object};
use crate::takeoff::{Beside, Takeoff};

/// What to order.
pub fn lines(takeoff: &Takeoff) -> Value {
    takeoff
        .lines
        .iter()
        .map(|line| {
            object([
                ("item", json!(line.item.to_string())),
                ("key", json!(line.key)),
                ("used_for", json!(line.used_for.to_string())),
                ("net", figure(line.net)),
                ("unit", json!(line.unit.symbol())),
                ("how", json!(line.how.to_string())),
                ("waste", line.waste.map_or(Value::Null, figure)),
                ("order", figure(line.order)),
                (
                    "pack",
                    line.pack.map_or(
                        Value::Null,
                        |pack| json!({"name": pack.kind.name(), "holds": figure(pack.holds)}),
                    ),
                ),
                ("packs", json!(line.packs)),
                ("mass_kg", line.mass_kg.map_or(Value::Null, figure)),
                (
                    "price",
                    line.price.map_or(Value::Null, |price| {
                        json!({
                            "each": price.each.to_string(),
                            "amount": price.amount.to_string(),
                        })
                    }),
                ),
            ])
        })
        .collect()
}

/// What is delivered and carted away.
pub fn weight(takeoff: &Takeoff) -> Value {
    let weight = &takeoff.weight;
    json!({
        "delivered_kg": figure(weight.delivered_kg),
        "spoil_kg": figure(weight.spoil_kg),
        "not_weighed": weight.not_weighed.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

/// Trips over the way in.
pub fn trips(takeoff: &Takeoff) -> Value {
    takeoff.trips.map_or(Value::Null, |(access, trips)| {
        object([
            ("width_mm", access.width.map_or(Value::Null, mm)),
            ("steps", json!(access.steps)),
            ("carry_mm", mm(access.carry)),
            ("trip_kg", figure(access.trip)),
            ("trips_in", json!(trips.carried_in)),
            ("trips_out", json!(trips.carried_out)),
            ("walked_in_m", figure(trips.walked_in_m)),
            ("walked_out_m", figure(trips.walked_out_m)),
        ])
    })
}

/// Person-hours by operation, in all, and in days of the crew.
pub fn hours(takeoff: &Takeoff) -> Value {
    let by_operation: Vec<Value> = takeoff
        .hours
        .by_operation
        .iter()
        .map(|operation| {
            json!({
                "operation": operation.name,
                "quantity": figure(operation.quantity),
                "per": operation.unit.symbol(),
                "rate_h": figure(operation.rate),
                "assumed": operation.assumed,
                "hours": figure(operation.hours),
            })
        })
        .collect();
    json!({
        "by_operation": by_operation,
        "total": figure(takeoff.hours.total),
        "days": figure(takeoff.hours.days),
    })
}

/// The same paver on a conventional base.
pub fn conventional(takeoff: &Takeoff) -> Value {
    takeoff.comparison.as_ref().map_or(Value::Null, |compared| {
        let beside = takeoff.beside.as_ref();
        object([
            ("depth_mm", mm(compared.depth_mm)),
            ("cut_m3", figure(compared.cut_m3)),
            ("spoil_loose_m3", figure(compared.spoil_loose_m3)),
            ("aggregate_m3", figure(compared.aggregate_m3)),
            ("aggregate_kg", figure(compared.aggregate_kg)),
            ("bedding_m3", figure(compared.bedding_m3)),
            ("loads", json!(compared.loads)),
            ("loads_saved", json!(compared.loads_saved)),
            ("hours", beside.map_or(Value::Null, hours_beside)),
            ("price", beside.map_or(Value::Null, money_beside)),
            (
                "missing",
                beside.map_or(Value::Null, |beside| json!(beside.missing)),
            ),
        ])
    })
}

/// Person-hours on panels and on a conventional base, over the operations that differ.
fn hours_beside(beside: &Beside) -> Value {
    let Some([here, there]) = beside.hours.total() else {
        return Value::Null;
    };
    let by_operation: Vec<Value> = beside
        .hours
        .by_operation
        .iter()
        .map(|each| {
            json!({
                "operation": each.name,
                "per": each.unit.symbol(),
                "rate_h": figure(each.rate),
                "panels": figure(each.hours[0]),
                "conventional": figure(each.hours[1]),
            })
        })
        .collect();
    json!({
        "by_operation": by_operation,
        "panels": figure(here),
        "conventional": figure(there),
        "saved": figure(there - here),
    })
}

/// Money on panels and on a conventional base, over what differs.
fn money_beside(beside: &Beside) -> Value {
    let Some(money) = &beside.money else {
        return Value::Null;
    };
    let way = |way: usize| {
        json!({
            "base": money.base[way].to_string(),
            "bedding": money.bedding[way].to_string(),
            "loads": money.loads[way].to_string(),
            "labour": money.labour[way].to_string(),
            "markup": money.markup[way].to_string(),
            "tax": money.tax[way].to_string(),
            "total": money.total[way].to_string(),
        })
    };
    json!({
        "currency": money.currency,
        "panels": way(0),
        "conventional": way(1),
        "saved": (money.total[1] - money.total[0]).to_string(),
    })
}

/// The price; amounts are decimal text, so that no cent is lost.
pub fn price(takeoff: &Takeoff) -> Value {
    takeoff.price.as_ref().map_or(Value::Null, |price| {
        object([
            ("currency", json!(price.currency)),
            ("material", json!(price.material.to_string())),
            (
                "labour",
                json!(price.labour.map(|labour| labour.amount.to_string())),
            ),
            ("subtotal", json!(price.subtotal.to_string())),
            ("markup", json!(price.markup.to_string())),
            ("tax", json!(price.tax.to_string())),
            ("total", json!(price.total.to_string())),
            ("missing", json!(price.missing)),
        ])
    })
}
