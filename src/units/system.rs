//! Which units are printed.

/// Which units are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// Feet, inches and fractions.
    #[default]
    FeetInches,
    /// Millimetres and metres.
    Metric,
    /// Feet-inches with metric beside.
    Dual,
}
