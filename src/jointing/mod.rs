//! Jointing material: void between pavers, mass and bags.

/// What the job says of the jointing material. Kilograms, millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointingSpec {
    /// Mass of a bag.
    pub bag: f64,
    /// Bulk density, kg/m³.
    pub density: f64,
    /// How far its top stays under the paver's top edge.
    pub below: f64,
}
