//! Levels of every layer at a point, and the rod readings that set them.
//!
//! In: the finish level, the build-up and the height of the laser's plane, in millimetres. Out:
//! the level of each layer, and for each the reading on a rod held on it: instrument height less
//! level (height-of-instrument levelling).

use super::spec::BuildUp;

/// The levels of the layers at one point, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayerLevels {
    /// Top of the pavers.
    pub finish: f64,
    /// Top of the panels: finish less paver.
    pub panel_top: f64,
    /// Top of the bedding once compacted: under the panels.
    pub bedding: f64,
    /// Top of the bedding as struck off, which is the top of the rails: formation and the loose
    /// thickness.
    pub rail_top: f64,
    /// Bottom of the dig.
    pub formation: f64,
}

/// The readings on a rod held on each layer, in millimetres; negative where the layer stands
/// above the laser's plane.
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(missing_docs, reason = "each is the reading on the layer of that name")]
pub struct Readings {
    pub finish: f64,
    pub panel_top: f64,
    pub bedding: f64,
    pub rail_top: f64,
    pub formation: f64,
}

impl LayerLevels {
    /// The layers under a finish level.
    pub fn under(finish: f64, build_up: BuildUp) -> Self {
        let panel_top = finish - build_up.paver;
        let formation = finish - build_up.total();
        Self {
            finish,
            panel_top,
            bedding: panel_top - build_up.panel,
            rail_top: formation + build_up.bedding_loose,
            formation,
        }
    }

    /// The readings with the laser's plane at `instrument`.
    pub fn readings(&self, instrument: f64) -> Readings {
        Readings {
            finish: instrument - self.finish,
            panel_top: instrument - self.panel_top,
            bedding: instrument - self.bedding,
            rail_top: instrument - self.rail_top,
            formation: instrument - self.formation,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_grow_downwards_by_the_layers() {
        let build_up = BuildUp {
            paver: 80.0,
            panel: 20.0,
            bedding_loose: 20.0,
            bedding_compacted: 13.0,
        };
        let layers = LayerLevels::under(1000.0, build_up);
        assert_eq!(layers.formation, 887.0);
        let readings = layers.readings(2500.0);
        assert_eq!(readings.finish, 1500.0);
        assert_eq!(readings.panel_top, 1580.0);
        assert_eq!(readings.bedding, 1600.0);
        assert_eq!(readings.rail_top, 1593.0);
        assert_eq!(readings.formation, 1613.0);
    }

    /// Ghilani & Wolf, Elementary Surveying, Plate B.2: bench mark 360.48, rod on it 4.22, so the
    /// instrument stands at 364.70; grade 358.0 and rod 5.2 give a cut of 1.5 ft.
    #[test]
    fn published_height_of_instrument() {
        let instrument: f64 = 360.48 + 4.22;
        assert!((instrument - 364.70).abs() < 1e-9);
        let none = BuildUp {
            paver: 0.0,
            panel: 0.0,
            bedding_loose: 0.0,
            bedding_compacted: 0.0,
        };
        let ground = instrument - 5.2;
        let grade = LayerLevels::under(358.0, none);
        assert!((ground - grade.formation - 1.5).abs() < 1e-9);
        assert!((grade.readings(instrument).finish - 6.7).abs() < 1e-9);
    }
}
