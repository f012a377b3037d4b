//! Which units are printed, on paper and on a rod.

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

/// What the face of the crew's rod is divided in: the units of readings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rod {
    /// Feet, tenths and hundredths: readings to 0.01 ft.
    #[default]
    DecimalFeet,
    /// Feet, inches and eighths: readings to 1/8 in.
    FeetInches,
    /// Metres and millimetres: readings to 1 mm.
    Metric,
}
