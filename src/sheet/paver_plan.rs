//! The sheet of the pavers: the whole field with its border courses, what is sawn of it, where it
//! starts, and the counts by place.
//!
//! In: design and the general plan. Out: a further sheet; none where nothing is paved.

use std::sync::Arc;

use super::column::{Block, Entry};
use super::content::FurtherSheet;
use super::model::{Filling, PlanModel, Start};
use super::table::{Align, SYMBOL_HEIGHT, SYMBOL_WIDTH, Table};
use super::{chains, from_plan, legend, pen, plan, surface, symbol, theme, words};
use crate::design::{AreaDesign, Design};
use crate::draw::{Colour, LineWidth, Pt};
use crate::geom::Point;
use crate::job::Audience;
use crate::language::{phrase, say};
use crate::paving::{PavingSpec, RoundForm};
use crate::units::print::number;

/// The sheet of the pavers.
pub fn sheet(design: &Design, general: &PlanModel) -> Option<FurtherSheet> {
    let mut model = PlanModel {
        // The paving alone is dimensioned, as on a bid sheet.
        chains: chains::chains(design, design.job.sheet.units, Audience::Bid),
        edging: general.edging.clone(),
        joints_over_joints: stretches(design),
        ..theme::common(general)
    };
    let areas = design.areas.iter().zip(&design.job.paving);
    for (shown, (area, spec)) in model.areas.iter_mut().zip(areas) {
        shown.filling = Filling::BySaw;
        let courses = area.paving.courses.iter();
        shown.surface = Arc::new(courses.map(from_plan::surface).collect());
        shown.start = Some(start(design, area, spec));
    }
    let any = model.areas.iter().any(|area| !area.surface.is_empty());
    any.then(|| FurtherSheet {
        name: say!(design.job.sheet.languages, "Pavers"),
        plan: Some(Arc::new(model)),
        blocks: vec![counts(design), signs(design)],
        ..FurtherSheet::default()
    })
}

/// Where the bond starts, with its words.
fn start(design: &Design, area: &AreaDesign, spec: &PavingSpec) -> Start {
    let from = area.paving.start.from;
    let languages = design.job.sheet.languages;
    let bond = words::bond(&spec.bond);
    let mut lines = vec![if spec.turn.abs() < 1e-9 {
        say!(languages, "start: {bond}", bond)
    } else {
        let turn = number(spec.turn, 1);
        say!(languages, "start: {bond} at {turn}°", bond, turn)
    }];
    let shifted = words::start_shift(area);
    lines.extend(shifted.map(|shift| words::from_corner(design, area, shift)));
    let frame = &area.frame;
    Start {
        line: [from, area.paving.start.to],
        measured: shifted.map(|[along, _]| [frame.origin, frame.to_site(along, 0.0)]),
        words: lines,
    }
}

/// Panel joints under straight paver joints.
fn stretches(design: &Design) -> Vec<[Point; 2]> {
    let stretches = design.joints_over_joints.stretches.iter();
    stretches
        .map(|stretch| [stretch.from, stretch.to])
        .collect()
}

/// Counts by area and place.
fn counts(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let mut table = Table::new(&[
        (say!(languages, "Where"), Align::Stretch),
        (say!(languages, "Paver"), Align::Left),
        (say!(languages, "Whole"), Align::Right),
        (say!(languages, "Cut§sawn"), Align::Right),
        (say!(languages, "Slivers\namong them"), Align::Right),
        (say!(languages, "Pavers\nneeded"), Align::Right),
        (say!(languages, "Saw cut"), Align::Right),
    ]);
    for area in &design.areas {
        for laid in &area.paving.courses {
            let kind = design.job.pavers.get(laid.paver);
            table.row(vec![
                laid.place.in_area(&area.name).say(languages),
                kind.map(|k| k.name.clone()).unwrap_or_default(),
                laid.whole.len().to_string(),
                laid.cut_count().to_string(),
                laid.sliver_count().to_string(),
                laid.buy.to_string(),
                words::long(design, laid.cut_length),
            ]);
        }
    }
    let gained = design.areas.iter().filter_map(|area| gained(design, area));
    let mut entries: Vec<Entry> = gained.collect();
    entries.extend(design.areas.iter().flat_map(|area| rounds(design, area)));
    entries.push(Entry::Table(table));
    Block::paragraphs(say!(languages, "Pavers laid"), entries)
}

/// How the border courses of an area go round its arcs.
fn rounds(design: &Design, area: &AreaDesign) -> Vec<Entry> {
    let languages = design.job.sheet.languages;
    let thin = |mm: f64| words::thin(design, mm);
    let courses = area.paving.courses.iter();
    let rounds = courses.flat_map(|laid| laid.arcs.iter().map(move |round| (laid, round)));
    let words = rounds.map(|(laid, round)| {
        let place = laid.place.in_area(&area.name);
        let radius = words::long(design, round.radius);
        let count = round.pieces;
        match round.form {
            RoundForm::Fanned([narrow, wide]) => phrase!(
                "{place}, round R {radius}: {count} pavers, {whole} of them whole, joints opening from {narrow} to {wide}.",
                place,
                radius,
                count,
                whole = round.whole,
                narrow = thin(narrow),
                wide = thin(wide)
            ),
            RoundForm::Wedges([narrow, wide]) => phrase!(
                "{place}, round R {radius}: {count} wedges, {narrow} wide at one end and {wide} at the other.",
                place,
                radius,
                count,
                narrow = thin(narrow),
                wide = thin(wide)
            ),
        }
    });
    words
        .map(|words| Entry::plain(languages.lines(&words)))
        .collect()
}

/// What a search for the start of the bond gained.
fn gained(design: &Design, area: &AreaDesign) -> Option<Entry> {
    let languages = design.job.sheet.languages;
    let search = area.paving.search?;
    let (area, tried) = (&area.name, search.tried);
    let (best, fixed) = (search.best, search.fixed);
    let words = if (best.slivers, best.cuts) == (fixed.slivers, fixed.cuts) {
        phrase!(
            "{area}: {tried} starts of the bond were tried; none leaves fewer slivers and cuts than the start corner.",
            area,
            tried
        )
    } else {
        phrase!(
            "{area}: {tried} starts of the bond were tried. Slivers at the one drawn: {slivers}, at the start corner {fixed_slivers}; cuts: {cuts}, at the start corner {fixed_cuts}.",
            area,
            tried,
            slivers = best.slivers,
            fixed_slivers = fixed.slivers,
            cuts = best.cuts,
            fixed_cuts = fixed.cuts
        )
    };
    Some(Entry::plain(languages.lines(&words)))
}

/// The key to the marks of this sheet.
fn signs(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let middle = SYMBOL_HEIGHT / 2.0;
    let boxed = |fill| vec![pen::polygon(&legend::cell(), Some(plan::PAVER), fill)];
    let grey = pen::solid(LineWidth::W18, pen::GREY);
    let (from, to) = (Pt::new(1.6, middle), Pt::new(SYMBOL_WIDTH - 1.0, middle));
    let mut start = vec![
        pen::circle(from, 1.4, None, Some(Colour::BLACK)),
        pen::line(from, to, pen::solid(LineWidth::W50, Colour::BLACK)),
    ];
    start.extend(symbol::arrow(from, to, Colour::BLACK));
    let mut rows = vec![
        (boxed(None), say!(languages, "Whole paver")),
        (
            legend::hatched(45.0, surface::CUT_PITCH, grey, plan::PAVER),
            say!(languages, "Cut paver"),
        ),
        (
            boxed(Some(surface::SLIVER)),
            say!(
                languages,
                "Sliver: less than a third; move the bond or join two"
            ),
        ),
        (start, say!(languages, "Start of the bond and first course")),
    ];
    let across = [1.6, SYMBOL_WIDTH - 1.0].map(|x| Pt::new(x, middle));
    let strip = legend::strip();
    if design
        .edging
        .by_edge
        .iter()
        .any(|edge| !edge.laid.is_empty())
    {
        rows.push((vec![strip], say!(languages, "Edge restraint")));
    }
    rows.push((
        vec![pen::line(across[0], across[1], plan::DIG)],
        say!(languages, "Dig, edge"),
    ));
    let under = &design.joints_over_joints;
    let over = say!(
        languages,
        "Straight joint over panel joints, worst line {worst}: move the bond or the panels",
        worst = words::long(design, under.worst)
    );
    if !under.stretches.is_empty() {
        rows.push((
            vec![pen::line(across[0], across[1], plan::OVER_JOINTS)],
            over,
        ));
    }
    rows.push((
        vec![symbol::level_cross(Pt::new(SYMBOL_WIDTH / 2.0, middle))],
        say!(languages, "Corner"),
    ));
    rows.extend(legend::common_signs(languages));
    Block::signs(say!(languages, "Signs on this plan"), rows)
}
