//! The whole job, key by key.
//!
//! In: the bytes of a job file. Out: [`Job`], or every error in it, sorted by place. A part that
//! cannot be read does not keep the others from being read; only what needs the site's corners and
//! edges waits for an outline without errors.

use std::collections::BTreeMap;

use super::areas::{self, Area};
use super::finish::{self, Ground};
use super::model::{Assumed, Job};
use super::reader::{Bound, Map, Reader};
use super::tree::{self, Node, Value};
use super::values::angle;
use super::{
    base, blocks, bonds, bounds, datum, drains, fixed, header, levelling, measured, services, trade,
};
use crate::diag::{self, Diagnostic, Place, Severity};
use crate::language::phrase;
use crate::paving::{BorderSpec, Corners, Lay, Modular, PaverSpec, PavingSpec};
use crate::site::{Site, StartSpec};
use crate::units::System;

/// Keys of a job.
const KEYS: [&str; 20] = [
    "job",
    "sheet",
    "site",
    "paving",
    "base",
    "excavation",
    "backfill",
    "bedding",
    "geotextile",
    "pavers",
    "bonds",
    "edging",
    "jointing",
    "levels",
    "conventional",
    "waste",
    "crew",
    "access",
    "prices",
    "language",
];
/// Keys of `base`.
const BASE_KEYS: [&str; 8] = [
    "panel",
    "extension",
    "start",
    "stagger",
    "min_stagger",
    "min_piece",
    "layout",
    "course_starts",
];
/// Longest dotted path that is kept with its place.
const LONGEST_PATH: usize = 120;
/// Most border courses of an area.
const MOST_BORDERS: usize = 50;

/// Reads a job file.
///
/// # Errors
/// Every error in the file, and its warnings, in the order of their places.
pub fn read(text: &[u8]) -> Result<Job, Vec<Diagnostic>> {
    let (root, duplicates) = tree::parse(text).map_err(|error| vec![error])?;
    let mut r = Reader {
        findings: duplicates,
        ..Reader::default()
    };
    place_paths(&root, String::new(), root.place, &mut r.places);
    let job = r
        .map(&root, "", &KEYS)
        .and_then(|root| whole(&mut r, &root));
    let failed = r
        .findings
        .iter()
        .any(|finding| finding.severity == Severity::Error);
    diag::sort(&mut r.findings);
    match job {
        Some(mut job) if !failed => {
            job.warnings = r.findings;
            job.assumed = r.assumed;
            job.places = r.places;
            Ok(job)
        }
        _ => Err(r.findings),
    }
}

/// Notes the place of every dotted path.
fn place_paths(node: &Node, path: String, place: Place, places: &mut BTreeMap<String, Place>) {
    if path.len() > LONGEST_PATH {
        return;
    }
    match &node.value {
        Value::Scalar(..) => {}
        Value::List(items) => {
            for (index, item) in items.iter().enumerate() {
                place_paths(item, format!("{path}[{index}]"), item.place, places);
            }
        }
        Value::Map(entries) => {
            for entry in entries {
                let path = if path.is_empty() {
                    entry.key.clone()
                } else {
                    format!("{path}.{}", entry.key)
                };
                place_paths(&entry.node, path, entry.place, places);
            }
        }
    }
    if !path.is_empty() {
        places.insert(path, place);
    }
}

/// All of the job; `None` when something that the rest hangs on could not be read.
fn whole(r: &mut Reader, root: &Map<'_>) -> Option<Job> {
    let units = header::units(r, root);
    r.metric = units == System::Metric;
    r.languages = header::languages(r, root);
    let info = header::info(r, root);
    let site_map = r.block(
        root,
        "site",
        &[
            "points",
            "traverse",
            "levelling",
            "base_line",
            "structures",
            "services",
            "ground",
            "drains",
            "rainfall",
            "runoff",
        ],
    );
    let mut measured = measured::read(r, &site_map);
    let run = levelling::read(r, &site_map, &mut measured.resolved);
    let points = &measured.resolved;
    let sheet = header::sheet(r, root, units, points);
    let structures = areas::structures(r, points, &site_map);
    let services = services::services(r, points, &site_map);
    let spots = areas::ground(r, points, &site_map);
    let rainfall = drains::rainfall(r, &site_map);
    let areas = areas::areas(r, points, root);
    let base_map = r.block(root, "base", &BASE_KEYS);
    let base = base::base(r, &base_map);
    let excavation = blocks::excavation(r, root);
    let bedding = blocks::bedding(r, root);
    let textile = blocks::geotextile(r, root);
    let pavers = blocks::pavers(r, root);
    let backfill = services::backfill(r, root, &pavers);
    let edging = blocks::edging(r, root);
    let jointing = blocks::jointing(r, root, &pavers);
    let conventional = blocks::conventional(r, root);
    let waste = blocks::waste(r, root);
    let crew = trade::crew(r, root);
    let access = trade::access(r, root);
    let prices = trade::prices(r, root, &pavers);
    let bonds = bonds::bonds(r, root, &pavers);
    let paving: Vec<PavingSpec> = areas
        .iter()
        .map(|area| laid(r, area, &bonds, &pavers))
        .collect();
    let levels_keys = [
        "datum",
        "finish",
        "minimum_fall",
        "sills",
        "instrument",
        "rod",
        "fixed",
    ];
    let levels_map = r.block(root, "levels", &levels_keys);

    let resolved = areas::site(r, &areas, &structures, points);
    let Some((specs, structures, site)) = resolved else {
        // What needs no corner of the site is still worth saying.
        let nowhere = Site {
            corners: Vec::new(),
            areas: Vec::new(),
            structures: Vec::new(),
            notes: Vec::new(),
        };
        datum::levels(r, &levels_map, &nowhere, points);
        drains::drains(r, &nowhere, points, &site_map);
        let general = r.block(&levels_map, "finish", &finish::KEYS);
        finish::without_site(r, points, &general);
        for area in &areas {
            let map = r.block(&area.map, "fall", &finish::KEYS);
            finish::without_site(r, points, &map);
        }
        return None;
    };
    let starts = paving_starts(r, &areas, &site);
    let panels_start = match base_map.get("start") {
        Some(node) => finish::start(r, &site, node, "base.start", None),
        None => {
            let start = starts.first().cloned().flatten();
            if let Some(start) = &start {
                r.assume("base.start".to_owned(), start_text(start));
            }
            start
        }
    };
    let mut levels = datum::levels(r, &levels_map, &site, points);
    let levels_used = levels.datum.is_some()
        || !levels.sills.is_empty()
        || levels.instrument.is_some()
        || !spots.is_empty();
    levels.ground = spots;
    levels.rod = fixed::rod(r, &levels_map, units, &levels);
    levels.fixed = fixed::surfaces(r, &levels_map, &site, points);
    levels.walls = fixed::walls(r, &site_map, &site, points);
    let base_line = fixed::base_line(r, &site_map, &site, points);
    let drains = drains::drains(r, &site, points, &site_map);
    let general = r.block(&levels_map, "finish", &finish::KEYS);
    let all: Vec<_> = levels.fixed.iter().collect();
    let stated = finish::stated(r, &site, points, &general, &all);
    let own: Vec<finish::Stated> = areas
        .iter()
        .enumerate()
        .map(|(index, area)| {
            let map = r.block(&area.map, "fall", &finish::KEYS);
            let own = levels.fixed.iter();
            let own = own.filter(|f| site.edge_of(index, &f.edge).is_some());
            finish::stated(r, &site, points, &map, &own.collect::<Vec<_>>())
        })
        .collect();
    let ground = Ground {
        site: &site,
        starts: &starts,
        levels_used,
        place: key_place(r, &["levels.finish", "levels", "site.ground", "paving"]),
    };
    let finishes = finish::planes(r, &ground, &stated, &own);
    bounds::pieces(r, &site, &base.panels, &pavers, &edging);
    let course_starts_of = base::course_starts_of(r, &site, base.starts_of);
    if finishes.len() != areas.len() || pavers.is_empty() {
        return None;
    }
    let mut found = Vec::new();
    if sheet.sections.is_empty() {
        found.push(Assumed {
            key: "sheet.section".to_owned(),
            value: "auto".to_owned(),
        });
    }
    Some(Job {
        info,
        sheet,
        points: measured.points,
        traverse: measured.traverse,
        survey: measured.resolved.survey,
        levelling: run,
        base_line,
        site,
        structures,
        services,
        areas: specs,
        paving,
        paving_starts: starts,
        finishes,
        pavers,
        panels: base.panels,
        course_starts_of,
        panel_density: base.panel_density,
        panels_start,
        base_extension: base.extension,
        dig_extension: excavation.extension,
        swell: excavation.swell,
        load: excavation.load,
        spoil_density: excavation.density,
        backfill,
        bedding,
        textile,
        edging,
        jointing,
        levels,
        drains,
        rainfall,
        conventional,
        waste,
        crew,
        access,
        prices,
        assumed: Vec::new(),
        found,
        warnings: Vec::new(),
        places: BTreeMap::new(),
    })
}

/// The place of the first of these keys that the job writes.
fn key_place(r: &Reader, keys: &[&str]) -> Place {
    let mut places = keys.iter().filter_map(|key| r.places.get(*key));
    places.next().copied().unwrap_or_default()
}

/// A start as a job writes it.
fn start_text(start: &StartSpec) -> String {
    format!("{{corner: {}, along: {}}}", start.corner, start.along)
}

/// How an area is paved.
fn laid(
    r: &mut Reader,
    area: &Area<'_>,
    bonds: &[(String, Option<Modular>)],
    pavers: &[PaverSpec],
) -> PavingSpec {
    let map = &area.map;
    let (bond, paver) = bonds::laid_in(r, map, bonds, pavers);
    let turn = r.value_or(map, "turn", Bound::Any, ("0°", "0°"), angle);
    let mut border = Vec::new();
    if let Some(node) = map.get("border")
        && let Some(items) = r.list(
            node,
            &map.key("border"),
            phrase!("a list of {entries}", entries = "{paver, lay}"),
        )
    {
        if items.len() > MOST_BORDERS {
            r.wrong(
                node,
                &map.key("border"),
                phrase!("at most {most} courses", most = MOST_BORDERS),
            );
        }
        for (index, item) in items.iter().take(MOST_BORDERS).enumerate() {
            let path = format!("{}[{index}]", map.key("border"));
            border.extend(course(r, item, &path, pavers));
        }
    }
    PavingSpec {
        paver,
        bond,
        turn,
        shift: bonds::shift(r, map),
        border,
    }
}

/// One border course.
fn course(r: &mut Reader, node: &Node, path: &str, pavers: &[PaverSpec]) -> Option<BorderSpec> {
    let map = r.map(node, path, &["paver", "lay", "corners"])?;
    let lay = match map.get("lay") {
        Some(_) => r.word_at(
            &map,
            "lay",
            &[("soldier", Lay::Soldier), ("sailor", Lay::Sailor)],
        ),
        None => {
            r.assume(map.key("lay"), "soldier");
            Some(Lay::Soldier)
        }
    };
    let corners = match map.get("corners") {
        Some(_) => r.word_at(
            &map,
            "corners",
            &[("mitred", Corners::Mitred), ("butted", Corners::Butted)],
        ),
        None => {
            r.assume(map.key("corners"), "mitred");
            Some(Corners::Mitred)
        }
    };
    let paver = r.required(&map, "paver", phrase!("a name under pavers"));
    let paver = paver.and_then(|n| bonds::kind(r, n, &map.key("paver"), pavers));
    Some(BorderSpec {
        paver: paver?,
        lay: lay?,
        corners: corners?,
    })
}

/// Where the pavers of each area start.
fn paving_starts(r: &mut Reader, areas: &[Area<'_>], site: &Site) -> Vec<Option<StartSpec>> {
    let mut out = Vec::new();
    for (index, area) in areas.iter().enumerate() {
        let path = area.map.key("start");
        out.push(match area.map.get("start") {
            Some(node) if !bonds::is_best(node) => finish::start(r, site, node, &path, Some(index)),
            _ => {
                let start = site.default_start(index);
                if let Some(start) = &start {
                    r.assume(path, start_text(start));
                }
                start
            }
        });
    }
    out
}
