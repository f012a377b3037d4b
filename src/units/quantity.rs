//! The quantity types. Each wraps one `f64` in the unit its accessor names, so that a length on
//! site is never mistaken for a mass, an angle, or a length on paper (`draw::Mm`).

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $from:ident, $get:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a value in ", $unit, ".")]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub const fn $get(self) -> f64 {
                self.0
            }
        }
    };
}

/// Kilograms in a pound, exact (NIST SP 811).
pub const POUND: f64 = 0.453_592_37;
/// Square metres in a square foot: 0.3048 m squared, exact (NIST SP 811).
pub const SQUARE_FOOT: f64 = 0.092_903_04;
/// Cubic metres in a cubic foot: 0.3048 m cubed, exact (NIST SP 811).
pub const CUBIC_FOOT: f64 = 0.028_316_846_592;
/// Cubic metres in a cubic yard: 0.9144 m cubed, exact (NIST SP 811).
pub const CUBIC_YARD: f64 = 0.764_554_857_984;

quantity!(
    /// A length or a level on site.
    Length, from_mm, mm, "millimetres"
);
quantity!(
    /// An area on site.
    Area, from_m2, m2, "square metres"
);
quantity!(
    /// A volume.
    Volume, from_m3, m3, "cubic metres"
);
quantity!(
    /// A mass.
    Mass, from_kg, kg, "kilograms"
);
quantity!(
    /// A density.
    Density, from_kg_per_m3, kg_per_m3, "kilograms per cubic metre"
);
quantity!(
    /// An angle; what zero is and which way it turns is said where it is used.
    Angle, from_degrees, degrees, "degrees"
);
quantity!(
    /// How hard it rains.
    Rain, from_mm_per_h, mm_per_h, "millimetres an hour"
);
quantity!(
    /// A flow of water.
    Flow, from_l_per_s, l_per_s, "litres a second"
);
quantity!(
    /// A fall as rise over run (0.02 is 2 %), positive downhill.
    Fall, from_ratio, ratio, "rise over run"
);
