//! Pavers, bonds and border courses to lay.

use geos::{BufferParams, Geom, Geometry, JoinStyle};
use groundsheet::geom::Vector;
use groundsheet::paving::{
    Axis, Bond, BorderSpec, Corners, Lay, Modular, ModularPaver, PaverSpec, PavingSpec,
};

/// A paver of a length, a width and a joint, 60 mm thick.
pub fn paver(length: f64, width: f64, joint: f64) -> PaverSpec {
    PaverSpec {
        name: "field".into(),
        length,
        width,
        thickness: 60.0,
        joint,
        per_pallet: None,
        per_layer: None,
        density: 2300.0,
    }
}

/// The pinwheel of two squares of 203 and 103 with their joints, and its pavers.
pub fn pinwheel() -> (Bond, [PaverSpec; 2]) {
    let part = |paver, at| ModularPaver {
        paver,
        at,
        long_side: Axis::X,
        takes: None,
    };
    let bond = Bond::Modular(Modular {
        name: "pinwheel".into(),
        steps: [Vector::new(203.0, 103.0), Vector::new(-103.0, 203.0)],
        pavers: vec![part(0, [0.0, 0.0]), part(1, [203.0, 0.0])],
    });
    (bond, [paver(200.0, 200.0, 3.0), paver(100.0, 100.0, 3.0)])
}

/// A running bond inside two border courses: the first paver as soldiers, the second as sailors.
pub fn two_courses(corners: Corners) -> PavingSpec {
    let course = |paver, lay| BorderSpec {
        paver,
        lay,
        corners,
    };
    PavingSpec {
        border: vec![course(0, Lay::Soldier), course(1, Lay::Sailor)],
        ..PavingSpec::plain(0, Bond::Running)
    }
}

/// What GEOS leaves of an outline's area inside an inset with mitred corners.
pub fn inset_area(outline: &Geometry, by: f64) -> f64 {
    let style = BufferParams::builder()
        .join_style(JoinStyle::Mitre)
        .mitre_limit(20.0)
        .build()
        .unwrap();
    let inner = outline.buffer_with_params(-by, &style).unwrap();
    inner.area().unwrap()
}
