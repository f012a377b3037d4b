//! Backfill beside the paving: what goes back into the dig past the paving's edge.
//!
//! In: the parts of the dig, the outlines of base and paving, millimetres. Out: areas and volumes
//! in place. On the base's extension the fill lies on the panels, beyond it on the formation; its
//! top stays a stated drop below the paving's edge. The volume of the edge restraint and the slope
//! of the ground away from the edge are left out.

use super::earthwork::DigPart;
use super::spec::BackfillSpec;
use crate::geom::{Shape, clip};

const MM3_PER_M3: f64 = 1e9;

/// What fills the dig beside the paving.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Backfill {
    /// Area on the base's extension, in square millimetres.
    pub on_base_mm2: f64,
    /// Area beyond the base, in square millimetres.
    pub beyond_mm2: f64,
    /// All of it in place, in cubic metres.
    pub volume_m3: f64,
    /// The topsoil at its top, in cubic metres; part of the volume.
    pub topsoil_m3: f64,
}

/// The backfill of a dig: (dig − base) × (build-up − drop) + (base − paving) × (paver − drop), part
/// by part.
pub fn backfill(parts: &[DigPart], base: &Shape, paved: &Shape, spec: &BackfillSpec) -> Backfill {
    let mut all = Backfill::default();
    for part in parts {
        let whole = clip::area(&part.shape);
        let on_base = clip::area(&clip::intersection(&part.shape, base));
        let paving = clip::area(&clip::intersection(&part.shape, paved));
        let (ledge, beyond) = ((on_base - paving).max(0.0), (whole - on_base).max(0.0));
        let depths = [part.build_up.paver, part.build_up.total()];
        for (area, depth) in [ledge, beyond].into_iter().zip(depths) {
            let depth = (depth - spec.drop).max(0.0);
            all.volume_m3 += area * depth / MM3_PER_M3;
            all.topsoil_m3 += area * depth.min(spec.topsoil) / MM3_PER_M3;
        }
        all.on_base_mm2 += ledge;
        all.beyond_mm2 += beyond;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Point;
    use crate::levels::{BuildUp, Plane};

    fn rectangle(x: f64, y: f64, wide: f64, high: f64) -> Shape {
        let corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)];
        clip::shape_of_points(&corners.map(|(x, y)| Point::new(x, y)))
    }

    /// Paving 3 × 2 m in the open, base 100 mm past it, dig 150 mm past it. Ledge 3.2 × 2.2 − 6 =
    /// 1.04 m², beyond 3.3 × 2.3 − 3.2 × 2.2 = 0.55 m². Paver 60, build-up 100, drop 10 mm:
    /// 1.04 × 0.05 + 0.55 × 0.09 = 0.1015 m³; topsoil of 60 mm: 1.04 × 0.05 + 0.55 × 0.06 = 0.085 m³.
    #[test]
    fn ledge_and_trench_by_hand() {
        let part = DigPart {
            shape: rectangle(-150.0, -150.0, 3300.0, 2300.0),
            finish: Plane::flat(0.0),
            build_up: BuildUp {
                paver: 60.0,
                panel: 25.0,
                bedding_loose: 20.0,
                bedding_compacted: 15.0,
            },
        };
        let base = rectangle(-100.0, -100.0, 3200.0, 2200.0);
        let paved = rectangle(0.0, 0.0, 3000.0, 2000.0);
        let spec = BackfillSpec {
            drop: 10.0,
            topsoil: 60.0,
            density: 1200.0,
        };
        let done = backfill(&[part], &base, &paved, &spec);
        assert!((done.on_base_mm2 - 1.04e6).abs() < 1.0);
        assert!((done.beyond_mm2 - 0.55e6).abs() < 1.0);
        assert!((done.volume_m3 - 0.1015).abs() < 1e-9);
        assert!((done.topsoil_m3 - 0.085).abs() < 1e-9);
    }
}
