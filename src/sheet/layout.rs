//! Layout of the set: paper, turn and scale, and which block stands where.
//!
//! In: the content. Out: sheets. Method: sizes are tried from the smallest; on each, the plan
//! takes what text columns and the strip of section and detail leave, at the largest standard
//! scale that fits with its dimension lines. The first paper is taken on which the plan is at
//! least as large as [`SMALLEST_US`] or [`SMALLEST_METRIC`] and the essential blocks fit; what is
//! left flows on to further sheets of the same paper at the same lettering.

use super::column::{self, Block};
use super::content::Content;
use super::plan::{self, LAYERS};
use super::plan_marks::courses_on;
use super::{detail, dimension, frame, pen, section, symbol};
use crate::draw::paper::{Orientation, Paper, Rect};
use crate::draw::scale::Scale;
use crate::draw::{Item, Layer, Mm, Pt, Sheet};
use crate::geom::{Point, Vector};
use crate::units::System;

/// Smallest scale that the program chooses by itself: 1/4″ to the foot.
pub const SMALLEST_US: f64 = 48.0;
/// Smallest scale that the program chooses by itself, metric.
pub const SMALLEST_METRIC: f64 = 50.0;
/// Clear breadth between zones.
const GUTTER: f64 = 6.0;
/// Breadth of a text column: 60 to 75 letters to a line.
const COLUMN: f64 = 112.0;
/// Most sheets of a set.
const MOST: usize = 60;

/// One way of laying out the first sheet.
#[derive(Clone, Debug)]
struct Arrangement {
    paper: Paper,
    turned: Orientation,
    plan: Rect,
    section: Rect,
    detail: Rect,
    columns: Vec<Rect>,
    title: Rect,
    scale: Scale,
    left: usize,
    essential: bool,
}

/// Lays the content out on as many sheets as it takes.
pub fn sheets(content: &Content) -> Vec<Sheet> {
    let chosen = choose(content);
    let mut title = content.title.clone();
    title.scale = symbol::scale_words(&chosen.scale);
    let blocks: Vec<Block> = content
        .essential
        .iter()
        .chain(&content.general)
        .cloned()
        .collect();
    let (text, left) = column::flow(&blocks, &chosen.columns);
    let mut waiting: Vec<Block> = content.further.clone();
    waiting.extend(left);
    let tables = for_tables(content, &chosen, &waiting);
    let mut further = Vec::new();
    while !waiting.is_empty() && further.len() + 1 < MOST {
        let (items, left) = text_sheet(&tables, &waiting);
        if items.is_empty() {
            break;
        }
        further.push(items);
        waiting = left;
    }
    let count = further.len() + 1;
    title.sheet = (1, count);
    title.shows = "Plan, section, edge detail and general notes".to_string();
    let mut items = views(content, &chosen);
    items.push(pen::group("text", "Text", "sheet", text));
    let mut set = vec![sheet(&chosen, &title, items)];
    for (i, text) in further.into_iter().enumerate() {
        title.sheet = (i + 2, count);
        title.shows = "Tables and notes".to_string();
        set.push(sheet(
            &tables,
            &title,
            vec![pen::group("text", "Text", "sheet", text)],
        ));
    }
    set
}

/// The paper of the further sheets: the smallest, not under tabloid or A3, that takes them all on
/// one sheet, else that of the first sheet.
fn for_tables(content: &Content, chosen: &Arrangement, blocks: &[Block]) -> Arrangement {
    let smaller = match chosen.paper {
        Paper::ArchC | Paper::ArchD | Paper::ArchE | Paper::AnsiC | Paper::AnsiD | Paper::AnsiE => {
            Paper::Tabloid
        }
        Paper::A2 | Paper::A1 | Paper::A0 => Paper::A3,
        _ => return chosen.clone(),
    };
    if content.paper.is_some() {
        return chosen.clone();
    }
    let mut zones = zones(content, smaller, Orientation::Landscape, 1);
    zones.scale = chosen.scale.clone();
    let (_, left) = text_sheet(&zones, blocks);
    if left.is_empty() {
        zones
    } else {
        chosen.clone()
    }
}

/// A sheet with frame and title block round what it shows.
fn sheet(chosen: &Arrangement, title: &super::title_block::TitleBlock, shown: Vec<Item>) -> Sheet {
    let (width, height) = chosen.paper.size(chosen.turned);
    let mut items = vec![pen::group(
        "frame",
        "Frame",
        "sheet",
        frame::frame(chosen.paper, chosen.turned),
    )];
    items.extend(shown);
    items.push(pen::group(
        "title-block",
        "Title block",
        "sheet",
        title.draw(chosen.title),
    ));
    Sheet {
        width,
        height,
        title: format!(
            "{} – sheet {} of {}",
            title.title, title.sheet.0, title.sheet.1
        ),
        layers: LAYERS
            .iter()
            .map(|(id, title)| Layer {
                id: (*id).to_string(),
                title: (*title).to_string(),
            })
            .collect(),
        items,
    }
}

/// The paper, turn, scale and zones of the first sheet.
fn choose(content: &Content) -> Arrangement {
    let metric = content.system == System::Metric;
    let papers: Vec<Paper> = match content.paper {
        Some(paper) => vec![paper],
        None if metric => vec![Paper::A4, Paper::A3, Paper::A2, Paper::A1, Paper::A0],
        None => vec![
            Paper::Letter,
            Paper::Tabloid,
            Paper::ArchC,
            Paper::ArchD,
            Paper::ArchE,
        ],
    };
    let limit = if metric { SMALLEST_METRIC } else { SMALLEST_US };
    let mut last: Option<Arrangement> = None;
    for paper in papers {
        let turns = match content.turned {
            Some(turned) => vec![turned],
            None => vec![Orientation::Landscape, Orientation::Portrait],
        };
        let best = turns
            .into_iter()
            .flat_map(|turned| arrangements(content, paper, turned))
            .min_by(|a, b| {
                rank(a)
                    .partial_cmp(&rank(b))
                    .unwrap_or(std::cmp::Ordering::Equal)
            });
        let Some(best) = best else {
            continue;
        };
        let legible = best.scale.ratio <= limit + 1e-9 || content.scale.is_some();
        if best.essential && legible {
            return best;
        }
        let better = last
            .as_ref()
            .is_none_or(|l| (!best.essential, best.scale.ratio) < (!l.essential, l.scale.ratio));
        if better {
            last = Some(best);
        }
    }
    last.unwrap_or_else(|| fallback(content))
}

/// Lower is better: essential blocks missing, scale, upright paper, blocks left over.
fn rank(a: &Arrangement) -> (bool, f64, bool, usize) {
    let upright = a.turned == Orientation::Portrait;
    (!a.essential, a.scale.ratio, upright, a.left)
}

/// The zones of the largest paper at whatever scale, for a site that fits nowhere.
fn fallback(content: &Content) -> Arrangement {
    let paper = content.paper.unwrap_or(Paper::ArchE);
    let turned = content.turned.unwrap_or(Orientation::Landscape);
    let zones = zones(content, paper, turned, 1);
    let (width, height) = site_extent(content);
    let need = (width / zones.plan.width().max(10.0)).max(height / zones.plan.height().max(10.0));
    let scale = content
        .scale
        .clone()
        .unwrap_or_else(|| Scale::one_to((need * 2.0 / 100.0).ceil() * 100.0));
    Arrangement { scale, ..zones }
}

fn arrangements(content: &Content, paper: Paper, turned: Orientation) -> Vec<Arrangement> {
    let blocks: Vec<Block> = content
        .essential
        .iter()
        .chain(&content.general)
        .cloned()
        .collect();
    (1..=3)
        .filter_map(|count| {
            let mut zones = zones(content, paper, turned, count);
            if zones.plan.width() < 90.0
                || zones.plan.height() < 70.0
                || (count > 1 && zones.plan.width() < 215.0)
            {
                return None;
            }
            let room = plan_room(content, zones.plan);
            if room.width() <= 10.0 || room.height() <= 10.0 {
                return None;
            }
            let (width, height) = site_extent(content);
            zones.scale = match &content.scale {
                Some(scale) => scale.clone(),
                None => Scale::largest_that_fits(
                    content.system,
                    (width, height),
                    (Mm(room.width()), Mm(room.height())),
                )?,
            };
            let fits = width / zones.scale.ratio <= room.width() + 1e-6
                && height / zones.scale.ratio <= room.height() + 1e-6;
            if !fits && content.scale.is_some() && content.paper.is_none() {
                return None;
            }
            let (_, left) = column::flow(&blocks, &zones.columns);
            let (_, missing) = column::flow(&content.essential, &zones.columns);
            zones.left = left.len();
            zones.essential = missing.is_empty();
            Some(zones)
        })
        .collect()
}

/// Zones of the first sheet with that many text columns; the scale is still to be chosen.
fn zones(content: &Content, paper: Paper, turned: Orientation, count: usize) -> Arrangement {
    let room = frame::room(paper, turned);
    let line = paper.frame(turned);
    let title_high = content.title.height();
    let strip_high = (room.height() * 0.27).clamp(58.0, 112.0);
    let (views, columns, title) = match turned {
        Orientation::Landscape => {
            let breadth = COLUMN.min(room.width() * 0.42);
            let text = breadth * count as f64 + GUTTER * (count - 1) as f64;
            let left = room.right - text;
            let columns: Vec<Rect> = (0..count)
                .map(|i| {
                    let x = left + (breadth + GUTTER) * i as f64;
                    let foot = if i + 1 == count {
                        title_high + 4.0
                    } else {
                        0.0
                    };
                    Rect {
                        left: x,
                        top: room.top + 1.0,
                        right: x + breadth,
                        bottom: room.bottom - foot,
                    }
                })
                .collect();
            let title = Rect {
                left: line.right - breadth - 3.0,
                top: line.bottom - title_high,
                right: line.right,
                bottom: line.bottom,
            };
            let views = Rect {
                right: left - GUTTER,
                ..room
            };
            (views, columns, title)
        }
        Orientation::Portrait => {
            let across = ((room.width() + GUTTER) / (90.0 + GUTTER)).floor().max(1.0);
            let breadth = (room.width() - GUTTER * (across - 1.0)) / across;
            let high = room.height() * (0.26 + 0.08 * count as f64);
            let top = room.bottom - high;
            let columns: Vec<Rect> = (0..across as usize)
                .map(|i| {
                    let x = room.left + (breadth + GUTTER) * i as f64;
                    let foot = if i + 1 == across as usize {
                        title_high + 4.0
                    } else {
                        0.0
                    };
                    Rect {
                        left: x,
                        top,
                        right: x + breadth,
                        bottom: room.bottom - foot,
                    }
                })
                .collect();
            let title = Rect {
                left: line.right - breadth - 3.0,
                top: line.bottom - title_high,
                right: line.right,
                bottom: line.bottom,
            };
            let views = Rect {
                bottom: top - GUTTER,
                ..room
            };
            (views, columns, title)
        }
    };
    let strip = Rect {
        top: views.bottom - strip_high,
        ..views
    };
    let detail_wide = if content.detail.is_some() {
        (strip.width() * 0.46).clamp(80.0, 175.0)
    } else {
        0.0
    };
    Arrangement {
        paper,
        turned,
        plan: Rect {
            bottom: strip.top - GUTTER,
            ..views
        },
        section: Rect {
            right: strip.right - detail_wide - if detail_wide > 0.0 { GUTTER } else { 0.0 },
            ..strip
        },
        detail: Rect {
            left: strip.right - detail_wide,
            ..strip
        },
        columns,
        title,
        scale: Scale::one_to(1.0),
        left: usize::MAX,
        essential: false,
    }
}

/// Height of a view's title.
const TITLE: f64 = 12.0;

/// Breadth and height of the dig on site.
fn site_extent(content: &Content) -> (f64, f64) {
    let [low, high] = site_box(content);
    (high.x - low.x, high.y - low.y)
}

fn site_box(content: &Content) -> [Point; 2] {
    let mut low = Point::new(f64::INFINITY, f64::INFINITY);
    let mut high = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
    for p in content.plan.dig.iter().flatten() {
        low = Point::new(low.x.min(p.x), low.y.min(p.y));
        high = Point::new(high.x.max(p.x), high.y.max(p.y));
    }
    if low.x > high.x {
        return [Point::new(0.0, 0.0), Point::new(1.0, 1.0)];
    }
    [low, high]
}

/// What dimension lines and labels leave of the plan's zone for the dig itself.
fn plan_room(content: &Content, zone: Rect) -> Rect {
    let [left, right, top, bottom] = margins(content);
    Rect {
        left: zone.left + left,
        right: zone.right - right,
        top: zone.top + top,
        bottom: zone.bottom - bottom - TITLE - 1.0,
    }
}

/// Paper that the dimension lines and labels take on each side of the dig: left, right, top,
/// bottom.
fn margins(content: &Content) -> [f64; 4] {
    let sides = [(-1.0, 0.0), (1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(|(x, y)| Vector::new(x, y));
    let least = [20.0, 20.0, 14.0, 14.0];
    std::array::from_fn(|i| {
        let chains = content
            .plan
            .chains
            .iter()
            .map(|chain| {
                let reach = dimension::FIRST
                    + courses_on(&content.plan.courses, chain.outward)
                    + dimension::NEXT * chain.tier as f64
                    + 6.0;
                reach * chain.outward.dot(sides[i]).max(0.0)
            })
            .fold(least[i], f64::max);
        chains.max(courses_on(&content.plan.courses, sides[i]) + 6.0)
    })
}

/// The three views of the first sheet.
fn views(content: &Content, chosen: &Arrangement) -> Vec<Item> {
    let room = plan_room(content, chosen.plan);
    let [low, high] = site_box(content);
    let placing = chosen.scale.placed(low.midpoint(high), room.centre());
    let free = Rect {
        bottom: chosen.plan.bottom - TITLE,
        ..chosen.plan
    };
    let north_at = Pt::new(free.left + 8.0, free.top + 14.0);
    let north = match content.north {
        Some(_) => Rect::between(north_at.moved(-9.0, -14.0), north_at.moved(9.0, 14.0)),
        None => Rect::between(
            Pt::new(free.left, free.top),
            Pt::new(free.left + 30.0, free.top + 6.0),
        ),
    };
    let mut items = plan::draw(&content.plan, &placing, free, &[north]);
    let bar_at = |x: f64| Pt::new(chosen.plan.left + x, chosen.plan.bottom - 7.0);
    let (_, long) = symbol::scale_bar(bar_at(0.0), &chosen.scale, content.system);
    let bar_from = (chosen.plan.width() - long - 2.0).clamp(30.0, 72.0);
    let at = Pt::new(chosen.plan.left, chosen.plan.bottom - 8.5);
    let words = symbol::scale_words(&chosen.scale);
    let mut heading = symbol::view_title(at, bar_from - 4.0, "Plan", &words);
    heading.extend(symbol::scale_bar(bar_at(bar_from), &chosen.scale, content.system).0);
    match content.north {
        Some(turn) => heading.extend(symbol::north(north_at, turn)),
        None => heading.push(pen::text(
            Pt::new(free.left, free.top + 4.0),
            super::lettering::NOTE,
            crate::draw::Anchor::Start,
            "North not stated",
        )),
    }
    items.push(pen::group("plan-title", "Plan: title", "sheet", heading));
    items.extend(section_view(content, chosen.section));
    if let Some(model) = &content.detail {
        items.extend(detail_view(content, model, chosen.detail));
    }
    items
}

fn section_view(content: &Content, zone: Rect) -> Option<Item> {
    let room = Rect {
        bottom: zone.bottom - TITLE,
        ..zone
    };
    let fit = content.section.fit(content.system, room)?;
    let mut items = section::draw(&content.section, &fit, room);
    let words = if fit.stretch > 1.0 {
        format!(
            "{}, heights × {}",
            symbol::scale_words(&fit.scale),
            fit.stretch
        )
    } else {
        symbol::scale_words(&fit.scale)
    };
    let at = Pt::new(zone.left, zone.bottom - 8.5);
    items.extend(symbol::view_title(at, zone.width(), "Section A–A", &words));
    Some(pen::group("section-view", "Section A–A", "section", items))
}

fn detail_view(content: &Content, model: &detail::DetailModel, zone: Rect) -> Option<Item> {
    let room = Rect {
        bottom: zone.bottom - TITLE,
        ..zone
    };
    let scale = model.fit(content.system, room)?;
    let mut items = detail::draw(model, &scale, room);
    let at = Pt::new(zone.left, zone.bottom - 8.5);
    items.extend(symbol::view_title(
        at,
        zone.width(),
        "Edge detail",
        &symbol::scale_words(&scale),
    ));
    Some(pen::group("detail-view", "Edge detail", "detail", items))
}

/// A further sheet: wide tables across the top, the rest in columns below.
fn text_sheet(chosen: &Arrangement, blocks: &[Block]) -> (Vec<Item>, Vec<Block>) {
    let room = frame::room(chosen.paper, chosen.turned);
    let free = Rect {
        top: room.top + 1.0,
        bottom: room.bottom,
        ..room
    };
    let count = ((free.width() + GUTTER) / (COLUMN * 0.95 + GUTTER))
        .floor()
        .max(1.0);
    let breadth = (free.width() - GUTTER * (count - 1.0)) / count;
    let (wide, narrow): (Vec<Block>, Vec<Block>) = blocks
        .iter()
        .cloned()
        .partition(|b| b.least_width() > breadth);
    let mut items = Vec::new();
    let mut left = Vec::new();
    let mut top = free.top;
    for block in &wide {
        let width = free.width().min((block.least_width() * 1.2).max(breadth));
        let foot = if free.left + width > chosen.title.left - 2.0 {
            chosen.title.top - 4.0
        } else {
            free.bottom
        };
        let column = Rect {
            left: free.left,
            right: free.left + width,
            top,
            bottom: foot,
        };
        let (drawn, rest) = column::flow(std::slice::from_ref(block), &[column]);
        if !drawn.is_empty() && rest.is_empty() {
            top += block.height(width) + 2.0;
        } else if !drawn.is_empty() {
            top = foot;
        }
        items.extend(drawn);
        left.extend(rest);
    }
    let columns: Vec<Rect> = (0..count as usize)
        .map(|i| {
            let x = free.left + (breadth + GUTTER) * i as f64;
            let under = x + breadth > chosen.title.left - 2.0;
            Rect {
                left: x,
                top,
                right: x + breadth,
                bottom: if under {
                    chosen.title.top - 4.0
                } else {
                    free.bottom
                },
            }
        })
        .collect();
    let (drawn, rest) = column::flow(&narrow, &columns);
    items.extend(drawn);
    left.extend(rest);
    (items, left)
}
