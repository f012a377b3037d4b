//! Pavers in words: the bond and how a border course stands.

use crate::paving::Bond;

/// The bond as the trade calls it.
pub fn bond(bond: &Bond) -> String {
    match bond {
        Bond::Running => "running bond",
        Bond::Stack => "stack bond",
        Bond::Herringbone => "herringbone",
        Bond::Basketweave => "basketweave",
        Bond::Modular(own) => return format!("bond “{}”", own.name),
    }
    .to_string()
}
