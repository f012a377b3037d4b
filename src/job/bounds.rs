//! Sizes beyond reason: more pieces than a sheet can ever show.
//!
//! In: the resolved site and what is laid on it. Out: an error when more than [`MOST_MILLIONS`]
//! million panels, pavers or holes would come of it, before anything is laid out.

use super::reader::Reader;
use crate::edging::EdgingSpec;
use crate::language::{Phrase, phrase};
use crate::panels::PanelsSpec;
use crate::paving::PaverSpec;
use crate::site::Site;

/// Most pieces of one kind, in millions.
const MOST_MILLIONS: usize = 5;

/// Refuses panels, pavers and edge restraint that come to too many pieces.
pub fn pieces(
    r: &mut Reader,
    site: &Site,
    panels: &PanelsSpec,
    pavers: &[PaverSpec],
    edging: &EdgingSpec,
) {
    let area: f64 = site.areas.iter().map(|area| area.area_mm2()).sum();
    let around: f64 = site.areas.iter().map(|area| area.perimeter_mm()).sum();
    let panel = &panels.panel;
    let cell = (panel.length + panel.joint) * (panel.width + panel.joint);
    let found = phrase!("more than {most} million panels", most = MOST_MILLIONS);
    refuse(r, "base.panel", found, area / cell);
    for paver in pavers {
        let cell = (paver.length + paver.joint) * (paver.width + paver.joint);
        let found = phrase!("more than {most} million pavers", most = MOST_MILLIONS);
        refuse(r, &format!("pavers.{}", paver.name), found, area / cell);
    }
    refuse(
        r,
        "edging.holes",
        phrase!(
            "more than {most} million holes in the edge restraint",
            most = MOST_MILLIONS
        ),
        around / edging.holes,
    );
    refuse(
        r,
        "edging.piece",
        phrase!(
            "more than {most} million pieces of edge restraint",
            most = MOST_MILLIONS
        ),
        around / edging.piece,
    );
}

/// Says that there are too many, at the first key of the path that the job writes.
fn refuse(r: &mut Reader, path: &str, found: Phrase, count: f64) {
    if count <= MOST_MILLIONS as f64 * 1e6 {
        return;
    }
    let parent = path.split('.').next().unwrap_or(path);
    let place = [path, parent, "paving"]
        .iter()
        .find_map(|key| r.places.get(*key))
        .copied()
        .unwrap_or_default();
    r.error(
        "size",
        place,
        found,
        phrase!("larger pieces or a smaller site"),
    );
}
