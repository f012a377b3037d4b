//! Base panels of 900 × 600 mm and the rules they are laid by.

use groundsheet::panels::{LayoutRule, PanelSpec, PanelsSpec};

/// A panel of 900 × 600 × 20 mm without joints.
pub const PANEL: PanelSpec = PanelSpec {
    length: 900.0,
    width: 600.0,
    thickness: 20.0,
    joint: 0.0,
};

/// Panels laid by a rule, joints at least 150 mm apart, pieces of at least 100 mm.
pub fn spec(stagger: f64, layout: LayoutRule) -> PanelsSpec {
    PanelsSpec {
        panel: PANEL,
        stagger,
        min_stagger: 150.0,
        min_piece: 100.0,
        layout,
        course_starts: Default::default(),
    }
}
