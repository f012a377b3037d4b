//! The edge detail's model from the computed design.
//!
//! In: design. Out: the build-up at the first open edge in site millimetres, with the words of its
//! layers ready to print.

use super::chains::bare;
use super::detail::DetailModel;
use super::words;
use crate::design::Design;
use crate::language::{Phrase, say};
use crate::paving::Form;
use crate::site::EdgeKind;
use crate::units::{Length, print};

/// The edge detail, at the first open edge; none where no edge is open.
pub fn detail(design: &Design) -> Option<DetailModel> {
    let run = design.extents.open_runs.first()?;
    let area = design.areas.get(run.area)?;
    let paver = design
        .job
        .pavers
        .get(design.job.paving.get(run.area)?.paver)?;
    let b = area.build_up;
    let thin = |mm: f64| words::thin(design, mm);
    let long = |mm: f64| words::long(design, mm);
    let (system, languages) = (design.job.sheet.units, design.job.sheet.languages);
    debug_assert!(design.extents.edges_mm.contains_key(&EdgeKind::Open));
    let dig = run.extension.max(design.job.dig_extension);
    let spec = &design.job.edging;
    let material = Phrase::known(&design.job.bedding.material).say(languages);
    let size = format!(
        "{} × {} × {}",
        long(paver.length),
        long(paver.width),
        thin(b.paver)
    );
    Some(DetailModel {
        languages,
        paver: [paver.length, paver.joint],
        layers: [b.paver, b.panel, b.bedding_compacted],
        extension: [run.extension, dig],
        edging: [spec.width, spec.nail],
        words: [
            match paver.form() {
                Form::Paver => say!(languages, "Paver {size}", size),
                Form::Slab => say!(languages, "Slab {size}", size),
            },
            say!(
                languages,
                "Edge restraint, foot {foot}",
                foot = thin(spec.width)
            ),
            say!(languages, "Nail {nail}", nail = long(spec.nail)),
            say!(
                languages,
                "Backfill and topsoil, top {drop} below the pavers",
                drop = thin(design.job.backfill.drop)
            ),
            say!(languages, "Base panel {size}", size = thin(b.panel)),
            say!(
                languages,
                "{material}, {compacted} compacted from {loose} loose",
                material = words::sentence(&material),
                compacted = thin(b.bedding_compacted),
                loose = thin(b.bedding_loose)
            ),
            say!(languages, "Geotextile"),
            say!(
                languages,
                "Formation, compacted, {depth} below finish",
                depth = thin(b.total())
            ),
        ],
        drop: design.job.backfill.drop.min(b.paver),
        total: print::without_unit(&thin(b.total()), system),
        past: bare(Length::from_mm(run.extension), system),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The detail calls a slab what the takeoff calls it.
    #[test]
    fn the_edge_detail_tells_slabs_from_pavers() {
        for (size, words) in [
            ("[200 mm, 100 mm]", "Paver 200 mm × 100 mm × 60 mm"),
            ("[600 mm, 600 mm]", "Slab 600 mm × 600 mm × 60 mm"),
        ] {
            let job = format!(
                "job: {{title: Yard}}
sheet: {{units: metric}}
paving: [{{name: Yard, rectangle: {{corner: [0, 0], width: 3 m, depth: 2 m}}}}]
pavers: {{field: {{size: {size}, thickness: 60 mm}}}}
levels: {{finish: {{fall: 2%}}}}
"
            );
            let job = crate::job::read(job.as_bytes()).expect("a job");
            let design = crate::design::run(job).expect("a design");
            let detail = detail(&design).expect("an open edge");
            assert_eq!(detail.words[0], words);
            // dimensions say no unit on a metric sheet, as those of the plan and the section
            assert_eq!((detail.total.as_str(), detail.past.as_str()), ("93", "150"));
        }
    }
}
