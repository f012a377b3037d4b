//! Paper lengths and points. A paper length is not a site length: only a scale turns one into
//! the other.

/// A length on paper, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Mm(pub f64);

/// A point on paper in millimetres, x right and y down from the sheet's top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pt {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Pt {
    /// The point at `(x, y)` millimetres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}
