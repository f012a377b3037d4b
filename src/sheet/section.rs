//! Section A–A: what the cut line meets, to scale.
//!
//! In: slabs and profiles along the cut (site millimetres, station from its start, levels up) and
//! a place on paper. Out: items. Across, a standard scale; up, the same or stretched by a whole
//! factor that is printed with the title. Levels at both ends of the paving.

use super::dimension::Chain;
use super::labels::{Ask, Box2, Candidate, Keyed, Label, Otherwise, Request, Taken, settle};
use super::lettering::{NOTE, width};
use super::{hatch, pen, symbol};
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Anchor, Colour, Dash, Face, Item, LineWidth, Pt};
use crate::site::StructureKind;
use crate::units::System;

/// What the cut line meets. Site millimetres: station along the cut, level up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionModel {
    /// Its title, such as `Section A–A`.
    pub title: String,
    /// First and last station shown.
    pub span: [f64; 2],
    /// Pavers, one slab each.
    pub pavers: Vec<Slab>,
    /// Panels, one slab each.
    pub panels: Vec<Slab>,
    /// Compacted bedding.
    pub bedding: Vec<Slab>,
    /// The dig: from ground down to formation.
    pub dig: Vec<Slab>,
    /// Existing ground: station and level.
    pub ground: Vec<[f64; 2]>,
    /// Whether the ground is assumed at finish level.
    pub assumed_ground: bool,
    /// Structures that the cut meets.
    pub structures: Vec<CutStructure>,
    /// Edge restraint: station of the paving's edge, side it stands on (1 up the stations),
    /// panel top there, height, width and nail.
    pub edging: Vec<CutEdging>,
    /// Level marks: station, level, words.
    pub levels: Vec<(f64, f64, String)>,
    /// Marks of the formation level, lettered below it: station, level, words.
    pub formation: Vec<(f64, f64, String)>,
    /// Depths of dig at its sides: where they are dimensioned.
    pub depths: Vec<CutDepth>,
    /// Sills near the cut: station, level, words.
    pub sills: Vec<(f64, f64, String)>,
    /// Stations of the paving's ends along the cut, and the words between.
    pub across: Option<(Vec<f64>, Vec<String>)>,
    /// The falls along the cut: words, 1 when down is up the stations, else -1, and the station
    /// they are lettered at.
    pub falls: Vec<(String, f64, f64)>,
}

/// A slab between two stations: levels of top and bottom at both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slab {
    /// Stations.
    pub at: [f64; 2],
    /// Levels of its top at the two stations.
    pub top: [f64; 2],
    /// Levels of its bottom.
    pub bottom: [f64; 2],
}

/// A structure that the cut meets.
#[derive(Clone, Debug, PartialEq)]
pub struct CutStructure {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: StructureKind,
    /// Stations.
    pub at: [f64; 2],
}

/// Edge restraint at an open end of the paving.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutEdging {
    /// Station of the paving's edge.
    pub at: f64,
    /// 1 when the restraint stands further along the stations, else -1.
    pub side: f64,
    /// Level of the panel's top there.
    pub on: f64,
    /// Height of the upstand.
    pub height: f64,
    /// Width of the foot.
    pub width: f64,
    /// Length of the nail.
    pub nail: f64,
}

/// The depth of the dig at one of its sides.
#[derive(Clone, Debug, PartialEq)]
pub struct CutDepth {
    /// Station of the dig's side.
    pub at: f64,
    /// 1 when the ground beyond is further along the stations, else -1.
    pub side: f64,
    /// Levels of ground and formation.
    pub levels: [f64; 2],
    /// The depth in words.
    pub words: String,
}

/// How the section fits its room.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Scale across.
    pub scale: Scale,
    /// How many times levels are stretched.
    pub stretch: f64,
}

/// Room above and below the drawn levels for words.
const HEAD: f64 = 14.0;
const FOOT: f64 = 18.0;

impl SectionModel {
    /// Lowest and highest level shown.
    fn reach(&self) -> [f64; 2] {
        let mut low = f64::INFINITY;
        let mut high = f64::NEG_INFINITY;
        let mut see = |level: f64| {
            low = low.min(level);
            high = high.max(level);
        };
        for slab in self.pavers.iter().chain(&self.dig).chain(&self.bedding) {
            slab.top.iter().chain(&slab.bottom).for_each(|l| see(*l));
        }
        self.ground.iter().for_each(|g| see(g[1]));
        self.sills.iter().for_each(|s| see(s.1));
        self.edging.iter().for_each(|e| see(e.on - e.nail));
        if low > high { [0.0, 1.0] } else { [low, high] }
    }

    /// The largest standard scale at which the section fits, with the levels stretched when the
    /// layers would be thinner than can be told apart.
    pub fn fit(&self, system: System, room: Rect) -> Option<Fit> {
        let [low, high] = self.reach();
        let across = self.span[1] - self.span[0];
        let free = room.height() - HEAD - FOOT;
        let wide = room.width() - 4.0;
        for scale in Scale::standard(system) {
            if across / scale.ratio > wide || (high - low) / scale.ratio > free {
                continue;
            }
            let depth = self
                .dig
                .iter()
                .map(|s| (s.top[0] - s.bottom[0]).max(s.top[1] - s.bottom[1]))
                .fold(1.0, f64::max);
            let stretch = [1.0, 2.0, 5.0]
                .into_iter()
                .filter(|k| (high - low) * k / scale.ratio <= free)
                .find(|k| depth * k / scale.ratio >= 9.0)
                .or_else(|| {
                    [5.0, 2.0, 1.0]
                        .into_iter()
                        .find(|k| (high - low) * k / scale.ratio <= free)
                });
            return stretch.map(|stretch| Fit { scale, stretch });
        }
        None
    }
}

/// Draws the section in its room (title above not included); gives what found no place in it too.
pub fn draw(model: &SectionModel, fit: &Fit, room: Rect) -> (Vec<Item>, Vec<Keyed>) {
    let [low, high] = model.reach();
    let ratio = fit.scale.ratio;
    let across = (model.span[1] - model.span[0]) / ratio;
    let left = room.left + (room.width() - across) / 2.0;
    let tall = (high - low) * fit.stretch / ratio;
    let spare = (room.height() - HEAD - FOOT - tall).max(0.0);
    let base = room.top + HEAD + spare / 2.0 + tall;
    let at = |s: f64, level: f64| {
        Pt::new(
            left + (s - model.span[0]) / ratio,
            base - (level - low) * fit.stretch / ratio,
        )
    };
    let quad = |slab: &Slab| {
        vec![
            at(slab.at[0], slab.top[0]),
            at(slab.at[1], slab.top[1]),
            at(slab.at[1], slab.bottom[1]),
            at(slab.at[0], slab.bottom[0]),
        ]
    };
    let mut taken = Taken::new(room);
    let mut items = Vec::new();
    let cut = pen::solid(LineWidth::W35, Colour::BLACK);
    let unit = pen::solid(LineWidth::W25, Colour::BLACK);
    // Ground and the earth below it, outside structures.
    let surface = profile(model, &at);
    for run in &surface {
        let earth = hatch::earth_band(run, 3.0, 13.0);
        for stroke in &earth {
            taken.add_line(*stroke, 2.0);
        }
        items.extend(pen::lines(&earth, pen::solid(LineWidth::W18, pen::BROWN)));
        items.push(pen::polyline(run, pen::solid(LineWidth::W50, pen::BROWN)));
        taken.add_run(run, 3.0);
    }
    for open in open_ground(model) {
        let run: Vec<Pt> = open.iter().map(|g| at(g[0], g[1])).collect();
        items.push(pen::polyline(
            &run,
            pen::dashed(LineWidth::W25, Dash::Dashed, pen::BROWN),
        ));
        taken.add_run(&run, 1.0);
    }
    for slab in &model.bedding {
        let ring = quad(slab);
        items.extend(sand(&ring));
        items.push(pen::polygon(&ring, Some(pen::FINE), None));
        taken.add_ring(&ring, 2.0);
    }
    for slab in &model.panels {
        let ring = quad(slab);
        items.push(pen::polygon(&ring, Some(unit), Some(PANEL_FILL)));
        taken.add_ring(&ring, 2.0);
    }
    for slab in &model.pavers {
        let ring = quad(slab);
        let strokes = hatch::parallel(std::slice::from_ref(&ring), 45.0, 1.8, 0.0);
        items.push(pen::polygon(&ring, None, Some(Colour::WHITE)));
        items.extend(pen::lines(&strokes, pen::FINE));
        items.push(pen::polygon(&ring, Some(cut), None));
        taken.add_ring(&ring, 2.0);
    }
    for run in textile(model, &at) {
        items.push(pen::polyline(&run, GEOTEXTILE));
        taken.add_run(&run, 2.0);
    }
    for edging in &model.edging {
        let out = edging.side * edging.width;
        let thick = (edging.width / 8.0) * edging.side;
        let foot = edging.height / 8.0;
        let shape = [
            at(edging.at, edging.on),
            at(edging.at + out, edging.on),
            at(edging.at + out, edging.on + foot),
            at(edging.at + thick, edging.on + foot),
            at(edging.at + thick, edging.on + edging.height),
            at(edging.at, edging.on + edging.height),
        ];
        items.push(pen::polygon(
            &shape,
            Some(pen::solid(LineWidth::W18, pen::RED)),
            Some(pen::RED),
        ));
        let s = edging.at + out / 2.0;
        let nail = [at(s, edging.on + foot), at(s, edging.on - edging.nail)];
        items.push(pen::line(nail[0], nail[1], cut));
        taken.add_line(nail, 3.0);
    }
    for structure in &model.structures {
        items.extend(structure_cut(
            structure,
            model,
            &at,
            [low, high],
            &mut taken,
        ));
    }
    let (lettering, keyed) = words(model, &at, [low, high], room, &mut taken);
    items.extend(lettering);
    (items, keyed)
}

/// Fill of a panel where it is cut: dark enough to tell from sand and paver in black and white.
pub const PANEL_FILL: Colour = Colour(150, 150, 150);
/// The geotextile: a thick dashed line.
pub const GEOTEXTILE: crate::draw::Stroke =
    pen::dashed(LineWidth::W35, Dash::Dashed, Colour::BLACK);

/// Dots of sand inside a ring.
pub fn sand(ring: &[Pt]) -> Vec<Item> {
    hatch::dots(&[ring.to_vec()], 1.5)
        .into_iter()
        .map(|p| pen::circle(p, 0.16, None, Some(Colour::BLACK)))
        .collect()
}

/// The surface as it will be cut: ground outside the dig, sides of the dig and formation.
fn profile(model: &SectionModel, at: &impl Fn(f64, f64) -> Pt) -> Vec<Vec<Pt>> {
    let mut runs = Vec::new();
    let mut run: Vec<Pt> = Vec::new();
    let mut dig: Vec<&Slab> = model.dig.iter().collect();
    dig.sort_by(|a, b| a.at[0].total_cmp(&b.at[0]));
    let mut s = model.span[0];
    run.push(at(s, level(&model.ground, s)));
    for (index, slab) in dig.iter().enumerate() {
        if covered(model, s, slab.at[0]) {
            runs.push(std::mem::take(&mut run));
        } else {
            for g in model
                .ground
                .iter()
                .filter(|g| g[0] > s && g[0] < slab.at[0])
            {
                run.push(at(g[0], g[1]));
            }
            if slab.at[0] > s + 1.0 {
                run.push(at(slab.at[0], level(&model.ground, slab.at[0])));
            }
        }
        run.push(at(slab.at[0], slab.bottom[0]));
        run.push(at(slab.at[1], slab.bottom[1]));
        s = slab.at[1];
        let next = dig.get(index + 1);
        if next.is_none_or(|next| !covered(model, s, next.at[0])) {
            run.push(at(s, level(&model.ground, s)));
        }
    }
    for g in model.ground.iter().filter(|g| g[0] > s) {
        run.push(at(g[0], g[1]));
    }
    runs.push(run);
    runs
}

/// Whether one structure fills the cut between two stations, so that there is no ground there.
fn covered(model: &SectionModel, from: f64, to: f64) -> bool {
    let fills = |at: &[f64; 2]| at[0] <= from + 1.0 && at[1] >= to - 1.0;
    to > from + 1.0 && model.structures.iter().any(|s| fills(&s.at))
}

/// The ground where no structure stands, in runs.
fn open_ground(model: &SectionModel) -> Vec<Vec<[f64; 2]>> {
    let mut stations: Vec<f64> = model.ground.iter().map(|g| g[0]).collect();
    stations.extend(model.structures.iter().flat_map(|s| s.at));
    stations.retain(|s| (model.span[0]..=model.span[1]).contains(s));
    stations.sort_by(f64::total_cmp);
    let mut runs: Vec<Vec<[f64; 2]>> = Vec::new();
    for pair in stations.windows(2) {
        if covered(model, pair[0], pair[1]) || pair[1] - pair[0] <= 1.0 {
            continue;
        }
        let ends = [pair[0], pair[1]].map(|s| [s, level(&model.ground, s)]);
        match runs.last_mut() {
            Some(run) if run.last().is_some_and(|g| pair[0] - g[0] <= 1.0) => run.push(ends[1]),
            _ => runs.push(ends.to_vec()),
        }
    }
    runs
}

/// Level of a profile at a station, between its points.
pub fn level(profile: &[[f64; 2]], s: f64) -> f64 {
    let Some(first) = profile.first() else {
        return 0.0;
    };
    if s <= first[0] {
        return first[1];
    }
    for pair in profile.windows(2) {
        if s <= pair[1][0] {
            let t = (s - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-9);
            return pair[0][1] + t * (pair[1][1] - pair[0][1]);
        }
    }
    profile[profile.len() - 1][1]
}

/// The geotextile on the formation, part by part.
fn textile(model: &SectionModel, at: &impl Fn(f64, f64) -> Pt) -> Vec<Vec<Pt>> {
    model
        .dig
        .iter()
        .map(|slab| {
            vec![
                at(slab.at[0], slab.bottom[0]),
                at(slab.at[1], slab.bottom[1]),
            ]
        })
        .collect()
}

fn structure_cut(
    structure: &CutStructure,
    model: &SectionModel,
    at: &impl Fn(f64, f64) -> Pt,
    [low, high]: [f64; 2],
    taken: &mut Taken,
) -> Vec<Item> {
    let reach = (high - low).max(1.0);
    let ground = level(&model.ground, structure.at[0]).max(high - reach * 0.2);
    let (top, bottom) = match structure.kind {
        StructureKind::Pool => (ground, low),
        _ => (high + reach * 0.25, low),
    };
    let ring = [
        at(structure.at[0], top),
        at(structure.at[1], top),
        at(structure.at[1], bottom),
        at(structure.at[0], bottom),
    ];
    taken.add_ring(&ring, 3.0);
    let (fill, strokes) = super::plan::pattern(structure.kind, &ring);
    for stroke in &strokes {
        taken.add_line(*stroke, 0.4);
    }
    let mut items = vec![pen::polygon(&ring, None, Some(fill))];
    items.extend(pen::lines(&strokes, pen::solid(LineWidth::W18, pen::GREY)));
    // Open at top and bottom: the structure goes on.
    let heavy = pen::solid(LineWidth::W50, Colour::BLACK);
    for (i, side) in [[ring[0], ring[3]], [ring[1], ring[2]]]
        .into_iter()
        .enumerate()
    {
        if structure.at[i] > model.span[0] + 1.0 && structure.at[i] < model.span[1] - 1.0 {
            items.push(pen::line(side[0], side[1], heavy));
        }
    }
    items
}

/// How far into its wall the mark of a sill stands, in paper millimetres.
const INTO_WALL: f64 = 4.5;

fn words(
    model: &SectionModel,
    at: &impl Fn(f64, f64) -> Pt,
    [low, high]: [f64; 2],
    room: Rect,
    taken: &mut Taken,
) -> (Vec<Item>, Vec<Keyed>) {
    let mut items = Vec::new();
    let mut asks = Vec::new();
    let top = at(0.0, high).y;
    let foot = at(0.0, low).y;
    if let Some((stations, spans)) = &model.across {
        let chain = Chain {
            features: stations
                .iter()
                .map(|s| Pt::new(at(*s, low).x, foot + 1.5))
                .collect(),
            words: spans.clone(),
            on: Pt::new(0.0, (foot + 11.0).min(room.bottom - 6.0)),
            along: (1.0, 0.0),
            places: Vec::new(),
            origin: None,
        };
        items.extend(chain.lines(taken));
        asks.extend(chain.asks());
    }
    for depth in &model.depths {
        let [ground, formation] = depth.levels.map(|level| at(depth.at, level));
        let chain = Chain {
            features: vec![ground, formation],
            words: vec![depth.words.clone()],
            on: Pt::new(ground.x + depth.side * 6.0, 0.0),
            along: (0.0, 1.0),
            places: Vec::new(),
            origin: None,
        };
        items.extend(chain.lines(taken));
        asks.extend(chain.asks());
    }
    for (s, l, words) in &model.formation {
        asks.push(formation_mark(at(*s, *l), foot + 6.0, words.clone()));
    }
    let levels = model.levels.iter().map(|(s, l, words)| (at(*s, *l), words));
    // A sill is level into its wall: its mark stands there, clear of the finish below it.
    let sills = model.sills.iter().map(|(s, l, words)| {
        let mut walls = model.structures.iter();
        let into = walls.find_map(|wall| {
            let ends = [(wall.at[0], 1.0), (wall.at[1], -1.0)];
            ends.into_iter().find(|(end, _)| (end - s).abs() < 1.0)
        });
        let into = into.map_or(0.0, |(_, way)| way * INTO_WALL);
        (at(*s, *l).moved(into, 0.0), words)
    });
    for (tip, words) in levels.chain(sills) {
        // The arrowhead on the level stays clear of other words.
        taken.add_mark(Box2::upright(Rect::between(
            tip.moved(-2.0, -2.0),
            tip.moved(2.0, 0.3),
        )));
        asks.push(level_mark(tip, top, words.clone()));
    }
    for (fall, way, middle) in &model.falls {
        asks.push(fall_mark(Pt::new(at(*middle, high).x, top), *way, fall));
    }
    let mut named = |words: &str, s: f64, y: f64| {
        let label = Label::note(words);
        let middle = Pt::new(at(s, low).x, y);
        let candidates = (0..24)
            .map(|i| {
                let side = if i % 2 == 0 { 1.0 } else { -1.0 };
                let centre = middle.moved(f64::from(i / 2) * 4.0 * side, 0.0);
                Candidate::bare(label.box_at(centre), f64::from(i))
            })
            .collect();
        asks.push(Ask {
            request: Request::new(500.0, candidates),
            layer: "section",
            drawn: Box::new(move |candidate| label.drawn(candidate.bounds().centre)),
            otherwise: Otherwise::Key {
                at: middle,
                words: words.to_string(),
                place: String::new(),
            },
        });
    };
    for structure in &model.structures {
        let middle = (structure.at[0] + structure.at[1]) / 2.0;
        named(&structure.name, middle, (top + foot) / 2.0);
    }
    let ground = if model.assumed_ground {
        "Ground assumed at finish level"
    } else {
        "Dashed: existing ground"
    };
    named(ground, (model.span[0] + model.span[1]) / 2.0, foot + 15.5);
    let settled = settle(taken, asks);
    items.extend(settled.items.into_iter().map(|(_, item)| item));
    (items, settled.keyed)
}

/// A level on a shelf over its place, with an open arrowhead on the level.
fn level_mark(tip: Pt, top: f64, words: String) -> Ask {
    /// Height of the shelf's line under the middle of the words.
    const SHELF: f64 = NOTE * 0.95;
    let long = width(&words, NOTE, Face::Regular);
    let candidates = (0..16)
        .flat_map(|step| [(step, 1.0), (step, -1.0)])
        .map(|(step, side)| {
            let y = (top - 3.0 - f64::from(step) * 2.0).min(tip.y - 6.0 - f64::from(step));
            let bounds = Box2 {
                centre: Pt::new(tip.x + side * (long / 2.0 + 1.4), y),
                half: long / 2.0,
                rise: NOTE * 0.75,
                angle: 0.0,
            };
            Candidate {
                boxes: vec![bounds],
                leader: vec![
                    tip,
                    Pt::new(tip.x, y + SHELF),
                    Pt::new(tip.x + side * (long + 2.0), y + SHELF),
                ],
                cost: f64::from(step) * 2.0 + if side > 0.0 { 0.0 } else { 0.5 },
            }
        })
        .collect();
    let lettered = words.clone();
    Ask {
        request: Request {
            beside: 0.75,
            ..Request::new(1500.0, candidates)
        },
        layer: "section",
        drawn: Box::new(move |candidate| {
            let centre = candidate.bounds().centre;
            let base = Pt::new(centre.x, centre.y + NOTE * 0.42);
            vec![
                symbol::level_arrow(tip),
                pen::polyline(&candidate.leader, pen::FINE),
                pen::text(base, NOTE, Anchor::Middle, &lettered),
            ]
        }),
        otherwise: Otherwise::Key {
            at: tip,
            words,
            place: String::new(),
        },
    }
}

/// A formation level on a shelf under its place, not below `foot`, with a dot on the formation.
fn formation_mark(tip: Pt, foot: f64, words: String) -> Ask {
    const SHELF: f64 = NOTE * 0.95;
    let long = width(&words, NOTE, Face::Regular);
    let candidates = (0..24)
        .filter(|step| tip.y + 4.5 + f64::from(*step) + SHELF <= foot || *step == 0)
        .flat_map(|step| [(step, 1.0), (step, -1.0)])
        .map(|(step, side)| {
            let y = tip.y + 4.5 + f64::from(step);
            let bounds = Box2 {
                centre: Pt::new(tip.x + side * (long / 2.0 + 1.4), y),
                half: long / 2.0,
                rise: NOTE * 0.75,
                angle: 0.0,
            };
            Candidate {
                boxes: vec![bounds],
                leader: vec![
                    tip,
                    Pt::new(tip.x, y + SHELF),
                    Pt::new(tip.x + side * (long + 2.0), y + SHELF),
                ],
                cost: f64::from(step) + if side > 0.0 { 0.0 } else { 0.5 },
            }
        })
        .collect();
    let lettered = words.clone();
    Ask {
        request: Request {
            beside: 0.75,
            ..Request::new(1400.0, candidates)
        },
        layer: "section",
        drawn: Box::new(move |candidate| {
            let centre = candidate.bounds().centre;
            let base = Pt::new(centre.x, centre.y + NOTE * 0.42);
            vec![
                pen::circle(tip, 0.5, None, Some(Colour::BLACK)),
                pen::polyline(&candidate.leader, pen::FINE),
                pen::text(base, NOTE, Anchor::Middle, &lettered),
            ]
        }),
        otherwise: Otherwise::Key {
            at: tip,
            words,
            place: String::new(),
        },
    }
}

/// The words of a fall with an arrow under them, over the stretch whose middle is `from`.
fn fall_mark(from: Pt, way: f64, words: &str) -> Ask {
    const ARROW: f64 = 8.0;
    const DROP: f64 = 1.8;
    let label = Label {
        face: Face::SemiBold,
        ..Label::note(words)
    };
    // The box holds the words and the arrow under them.
    let candidates = (0..24)
        .flat_map(|i| [(i, 0.0), (i, 12.0), (i, -12.0)])
        .map(|(i, along)| {
            let words = label.box_at(from.moved(along, -8.0 - f64::from(i) * 0.7));
            let bounds = Box2 {
                centre: words.centre.moved(0.0, DROP),
                half: words.half.max(ARROW + 0.5),
                rise: words.rise + DROP,
                ..words
            };
            Candidate::bare(bounds, f64::from(i) * 0.7 + along.abs() * 0.5)
        })
        .collect();
    let place = String::new();
    let key = words.to_string();
    Ask {
        request: Request::new(1000.0, candidates),
        layer: "section",
        drawn: Box::new(move |candidate| {
            let centre = candidate.bounds().centre.moved(0.0, -DROP);
            let half = ARROW * way;
            let mut items = label.drawn(centre);
            items.extend(symbol::arrow(
                centre.moved(-half, 3.4),
                centre.moved(half, 3.4),
                pen::BLUE,
            ));
            items
        }),
        otherwise: Otherwise::Key {
            at: from,
            words: key,
            place,
        },
    }
}
