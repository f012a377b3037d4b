//! The takeoff: what to order, how each quantity was got, what it weighs and costs.
//!
//! In: [`Quantities`] in SI as computed from the geometry, waste and prices of the job.
//! Out: [`Line`]s in SI with whole packs, a [`Price`], the [`Comparison`] with a conventional
//! build-up, and a table as CSV. Left out: delivery, hire of plant, small tools.

pub mod beside;
pub mod conventional;
pub mod drains;
mod line;
pub mod lines;
pub mod listing;
mod pavers;
pub mod price;
pub mod quantities;
pub mod table;
pub mod weight;
pub mod whole;

pub use beside::{Beside, MoneyBeside};
pub use conventional::{Comparison, compare};
pub use lines::lines;
pub use price::{Price, TooLarge, price};
pub use quantities::{
    BackfillQuantity, BeddingQuantity, EdgingQuantity, JointingQuantity, PanelQuantity,
    PaverQuantity, Quantities, RailQuantity, SpoilQuantity, TextileQuantity,
};
pub use table::csv;
pub use weight::{Weight, weight};
pub use whole::{Takeoff, of};

use crate::language::{Phrase, phrase};
use rust_decimal::Decimal;

/// One line of the takeoff.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What it is.
    pub item: Phrase,
    /// Its key under `prices`.
    pub key: String,
    /// Where it is used.
    pub used_for: Phrase,
    /// Quantity without waste, in `unit`.
    pub net: f64,
    /// The unit of `net` and `order`.
    pub unit: Unit,
    /// How the net quantity was got: a formula with its numbers.
    pub how: Phrase,
    /// Waste as a ratio of the net quantity; `None` where none is added.
    pub waste: Option<f64>,
    /// Quantity to order: net with waste, in whole packs where there are packs.
    pub order: f64,
    /// What one pack is and how many `unit` it holds, when it comes in packs.
    pub pack: Option<Pack>,
    /// Whole packs to order.
    pub packs: Option<u64>,
    /// Mass of what is ordered, when it is known.
    pub mass_kg: Option<f64>,
    /// Price of one and of all; filled in by [`price`](price()).
    pub price: Option<LinePrice>,
}

/// A pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pack {
    /// What it is.
    pub kind: PackKind,
    /// How much of the line's unit it holds.
    pub holds: f64,
}

/// What things come in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the pack itself")]
pub enum PackKind {
    Roll,
    Box,
    Bag,
    Load,
    Pallet,
    Layer,
}

impl PackKind {
    /// Its English name, as the report and the takeoff's table have it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Roll => "roll",
            Self::Box => "box",
            Self::Bag => "bag",
            Self::Load => "load",
            Self::Pallet => "pallet",
            Self::Layer => "layer",
        }
    }

    /// So many packs, without the number.
    pub fn words(self, packs: u64) -> Phrase {
        match (self, packs) {
            (Self::Roll, 1) => phrase!("roll"),
            (Self::Roll, _) => phrase!("rolls"),
            (Self::Box, 1) => phrase!("box"),
            (Self::Box, _) => phrase!("boxes"),
            (Self::Bag, 1) => phrase!("bag"),
            (Self::Bag, _) => phrase!("bags"),
            (Self::Load, 1) => phrase!("load"),
            (Self::Load, _) => phrase!("loads"),
            (Self::Pallet, 1) => phrase!("pallet"),
            (Self::Pallet, _) => phrase!("pallets"),
            (Self::Layer, 1) => phrase!("layer"),
            (Self::Layer, _) => phrase!("layers"),
        }
    }
}

/// The price of a line, in the job's currency.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LinePrice {
    /// How many of what the price is for, to the thousandth.
    pub quantity: Decimal,
    /// Price of one: a pack where the line is priced by the pack, else one unit.
    pub each: Decimal,
    /// Price of what is ordered, to the hundredth.
    pub amount: Decimal,
}

/// The unit of a line, in SI.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the unit itself")]
pub enum Unit {
    Piece,
    Metre,
    CubicMetre,
    Kilogram,
}

impl Unit {
    /// Its symbol.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Piece => "pieces",
            Self::Metre => "m",
            Self::CubicMetre => "m³",
            Self::Kilogram => "kg",
        }
    }
}
