//! The same paver on a conventional aggregate base, for comparison.
//!
//! In: thicknesses in millimetres, areas and volumes in SI. Out: depth, cut, spoil, aggregate
//! and loads. The conventional dig has the same outline, its formation is lower; aggregate is
//! the base's area × thickness × bulk density. Left out: the wider dig that a deeper base often
//! takes, and the aggregate's own bulking.

use crate::job::model::Conventional;
use crate::units::{Area, Volume};

/// What a conventional build-up would need. Base and bedding are as built: what they take to settle,
/// and waste, are left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// Finish to formation, mm.
    pub depth_mm: f64,
    /// Cut in place, m³.
    pub cut_m3: f64,
    /// Loose spoil, m³.
    pub spoil_loose_m3: f64,
    /// Volume of the aggregate base, in place, m³.
    pub aggregate_m3: f64,
    /// Mass of the aggregate base, kg.
    pub aggregate_kg: f64,
    /// Volume of its bedding, m³.
    pub bedding_m3: f64,
    /// Loads of spoil.
    pub loads: u64,
    /// Loads of spoil fewer on panels.
    pub loads_saved: i64,
}

/// What the comparison starts from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compared {
    /// Cut with the formation at the conventional depth, in place.
    pub cut: Volume,
    /// Area of the base.
    pub base: Area,
    /// Swell as a ratio.
    pub swell: f64,
    /// One load.
    pub load: Volume,
    /// Loads of spoil of the job as drawn.
    pub loads: u64,
}

/// Depth of the conventional dig in millimetres: paver, its bedding, and its base.
pub fn depth(paver: f64, conventional: &Conventional) -> f64 {
    paver + conventional.bedding + conventional.base
}

/// The comparison of a paver of thickness `paver` (mm).
pub fn compare(paver: f64, conventional: &Conventional, compared: &Compared) -> Comparison {
    let spoil = compared.cut.m3() * (1.0 + compared.swell);
    let thick = |mm: f64| compared.base.m2() * mm / 1000.0;
    let loads = (spoil / compared.load.m3() - 1e-9).ceil().max(0.0) as u64;
    Comparison {
        depth_mm: depth(paver, conventional),
        cut_m3: compared.cut.m3(),
        spoil_loose_m3: spoil,
        aggregate_m3: thick(conventional.base),
        aggregate_kg: thick(conventional.base) * conventional.density,
        bedding_m3: thick(conventional.bedding),
        loads,
        loads_saved: loads as i64 - compared.loads as i64,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{CUBIC_FOOT, CUBIC_YARD, POUND, SQUARE_FOOT};

    /// 1 000 bank yards at 30 % swell make 1 300 loose yards, 186 loads of 7 yards: textbook
    /// example on dense clay. 27 ft² of 1 ft base weigh 2 700 lb, the weight of a loose cubic
    /// yard at 100 lb/ft³.
    #[test]
    fn loads_and_mass_are_those_published() {
        let yard = CUBIC_YARD;
        let conventional = Conventional {
            base: 304.8,
            bedding: 25.0,
            density: 100.0 * POUND / CUBIC_FOOT,
        };
        let compared = Compared {
            cut: Volume::from_m3(1000.0 * yard),
            base: Area::from_m2(27.0 * SQUARE_FOOT),
            swell: 0.3,
            load: Volume::from_m3(7.0 * yard),
            loads: 100,
        };
        let comparison = compare(60.0, &conventional, &compared);
        assert_eq!((comparison.loads, comparison.loads_saved), (186, 86));
        assert!((comparison.spoil_loose_m3 - 1300.0 * yard).abs() < 1e-9);
        assert!((comparison.aggregate_kg - 2700.0 * POUND).abs() < 1e-6);
        assert!((comparison.depth_mm - 389.8).abs() < 1e-9);
    }
}
