//! Jointing material: void between pavers, mass and bags.
//!
//! In: joint length, joint width and paver thickness of each kind, in millimetres, and the material.
//! Out: volume in cubic metres, net mass in kilograms, bags with waste. Grains lost through the
//! bedding and the taper of chamfers are left out.

/// What the job says of the jointing material. Kilograms, millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointingSpec {
    /// Mass of a bag.
    pub bag: f64,
    /// Bulk density, kg/m³.
    pub density: f64,
    /// How far its top stays under the paver's top edge.
    pub below: f64,
    /// Passes of fine water that wet it.
    pub mist: u32,
    /// Hours that it is kept dry once wetted.
    pub dry: f64,
}

/// The joints between pavers of one kind. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointRun {
    /// Total length along centre lines.
    pub length: f64,
    /// Joint width.
    pub width: f64,
    /// Thickness of the paver.
    pub thickness: f64,
}

/// The jointing material of a job.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jointing {
    /// Void to fill, m³.
    pub volume: f64,
    /// Mass net of waste, kg.
    pub mass: f64,
    /// Whole bags to order, waste included.
    pub bags: u32,
}

/// The void of the joints and what fills it. `waste` is a share: 0.1 for 10 %.
///
/// Void = length × width × (thickness − below); a paver thinner than `below` has none.
pub fn jointing(runs: &[JointRun], spec: &JointingSpec, waste: f64) -> Jointing {
    let cubic_mm: f64 = runs
        .iter()
        .map(|run| run.length * run.width * (run.thickness - spec.below).max(0.0))
        .sum();
    let volume = cubic_mm * 1e-9;
    let mass = volume * spec.density;
    // A bag that is full to within a gram counts as full.
    let bags = ((mass * (1.0 + waste) - 0.001) / spec.bag).ceil().max(0.0);
    Jointing {
        volume,
        mass,
        bags: bags as u32,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPEC: JointingSpec = JointingSpec {
        bag: 25.0,
        density: 1600.0,
        below: 3.0,
        mist: 3,
        dry: 24.0,
    };

    /// Second formula: void = area × share of the plan that is joint × depth. For a running bond
    /// one module (length + joint) × (width + joint) holds one paver of length × width, and its
    /// joints along centre lines measure (length + joint) + (width + joint), the crossing twice.
    #[test]
    fn agrees_with_area_times_void_ratio() {
        let (length, width, joint, thickness) = (200.0, 100.0, 3.0, 60.0);
        let module: f64 = (length + joint) * (width + joint);
        let modules = 1000.0;
        let run = JointRun {
            length: modules * (length + width + 2.0 * joint),
            width: joint,
            thickness,
        };
        let got = jointing(&[run], &SPEC, 0.1);
        let share = (module - length * width + joint * joint) / module;
        let volume = modules * module * share * 57.0 * 1e-9;
        assert!((got.volume - volume).abs() < 1e-12);
        assert!((got.mass - volume * 1600.0).abs() < 1e-9);
        assert_eq!(got.bags, (volume * 1600.0 * 1.1 / 25.0).ceil() as u32);
    }

    #[test]
    fn a_paver_thinner_than_the_free_top_takes_nothing() {
        let run = JointRun {
            length: 1000.0,
            width: 3.0,
            thickness: 2.0,
        };
        assert_eq!(jointing(&[run], &SPEC, 0.1).bags, 0);
    }
}
