//! The views of a sheet drawn in their zones: plan with its title, scale bar and north, sections,
//! edge detail.
//!
//! In: what is wanted and its arrangement. Out: groups of items in paper millimetres.

use super::super::column::Block;
use super::super::detail::{self, DetailModel};
use super::super::keyed;
use super::super::labels::Keyed;
use super::super::lettering::{NOTE, width};
use super::super::model::PlanModel;
use super::super::plan_marks::courses_on;
use super::super::section::{self, SectionModel};
use super::super::{dimension, pen, plan, symbol};
use super::arrange::{Arrangement, Wanted};
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Anchor, Face, Item, Pt};
use crate::geom::{Point, Vector};
use crate::language::{Languages, say};
use crate::units::System;

/// Height of a view's title.
const TITLE: f64 = 12.0;

/// Every view of a sheet, and the tables of what found no place in them.
pub fn draw(
    wanted: Wanted,
    chosen: &Arrangement,
    system: System,
    north: Option<f64>,
    languages: Languages,
) -> (Vec<Item>, Vec<Block>) {
    let mut items = Vec::new();
    let mut tables = Vec::new();
    if let Some(model) = wanted.plan {
        let (view, keyed) = plan_view(model, chosen, system, north);
        items.extend(view);
        tables.extend(keyed::block(&say!(languages, "Plan"), &keyed, languages));
    }
    for (index, (model, zone)) in wanted.sections.iter().zip(&chosen.sections).enumerate() {
        if let Some((view, keyed)) = section_view(model, index, *zone, system) {
            items.push(view);
            tables.extend(keyed::block(&model.title, &keyed, languages));
        }
    }
    if let Some(model) = wanted.detail
        && let Some((view, keyed)) = detail_view(model, chosen.detail, system)
    {
        items.push(view);
        tables.extend(keyed::block(
            &say!(languages, "Edge detail"),
            &keyed,
            languages,
        ));
    }
    (items, tables)
}

/// What the title of a view leaves of its zone.
pub fn over_title(zone: Rect) -> Rect {
    Rect {
        bottom: zone.bottom - TITLE,
        ..zone
    }
}

fn plan_view(
    model: &PlanModel,
    chosen: &Arrangement,
    system: System,
    north: Option<f64>,
) -> (Vec<Item>, Vec<Keyed>) {
    let (zone, languages) = (chosen.plan, model.languages);
    let room = Size::of(model).room(zone);
    let [low, high] = site_box(model);
    let placing = chosen.scale.placed(low.midpoint(high), room.centre());
    let free = over_title(zone);
    let taken = plan::fixed(model, &placing);
    let (reserved, sign) = north_sign(north, free, &taken, languages);
    let plan::Drawn { mut items, keyed } = plan::draw(model, &placing, free, &[reserved]);
    let mut heading = plan_title(&chosen.scale, system, zone, languages);
    heading.extend(sign);
    let title = say!(languages, "Plan: title");
    items.push(pen::group("plan-title", &title, "sheet", heading));
    (items, keyed)
}

/// The sign of north, or that it is not stated, with the box it takes: in the first corner of the
/// view, from the upper left, that nothing in a fixed place reaches into.
fn north_sign(
    north: Option<f64>,
    view: Rect,
    taken: &[Rect],
    languages: Languages,
) -> (Rect, Vec<Item>) {
    let half = match north {
        Some(_) => Pt::new(14.0, 14.0),
        None => Pt::new(15.0, 3.0),
    };
    let ([left, right], [top, bottom]) = (
        [view.left + half.x, view.right - half.x],
        [view.top + half.y, view.bottom - half.y],
    );
    let corners = [(left, top), (right, top), (left, bottom), (right, bottom)];
    let corners = corners.map(|(x, y)| Pt::new(x, y));
    let around = |at: Pt| match north {
        Some(turn) => symbol::north_box(at, turn),
        None => Rect::between(at.moved(-half.x, -half.y), at.moved(half.x, half.y)),
    };
    let free = |at: &&Pt| !taken.iter().any(|taken| taken.overlaps(around(**at)));
    let at = *corners.iter().find(free).unwrap_or(&corners[0]);
    let sign = match north {
        Some(turn) => symbol::north(at, turn),
        None => {
            let base = at.moved(-half.x, NOTE - half.y);
            let words = say!(languages, "North not stated");
            vec![pen::text(base, NOTE, Anchor::Start, &words)]
        }
    };
    (around(at), sign)
}

/// Title, written scale and scale bar at the foot of a plan's zone.
fn plan_title(scale: &Scale, system: System, zone: Rect, languages: Languages) -> Vec<Item> {
    let bar_at = |x: f64| Pt::new(zone.left + x, zone.bottom - 7.0);
    let (_, long) = symbol::scale_bar(bar_at(0.0), scale, system, zone.width() - 34.0);
    let bar_from = (zone.width() - long - 2.0).clamp(30.0, 72.0);
    let at = Pt::new(zone.left, zone.bottom - 8.5);
    let words = symbol::scale_words(scale);
    let mut items = symbol::view_title(at, bar_from - 4.0, &say!(languages, "Plan"), &words);
    let (bar, long) = symbol::scale_bar(
        bar_at(bar_from),
        scale,
        system,
        zone.width() - bar_from - 1.0,
    );
    items.extend(bar);
    let note = Pt::new(zone.left + bar_from + long + 8.0, zone.bottom - 3.5);
    let words = say!(languages, "Dimensions in millimetres");
    if system == System::Metric && note.x + width(&words, NOTE, Face::Regular) <= zone.right {
        items.push(pen::text(note, NOTE, Anchor::Start, &words));
    }
    items
}

fn section_view(
    model: &SectionModel,
    index: usize,
    zone: Rect,
    system: System,
) -> Option<(Item, Vec<Keyed>)> {
    let fit = section_fit(model, zone, system)?;
    let (mut items, keyed) = section::draw(model, &fit, over_title(zone));
    let scale = symbol::scale_words(&fit.scale);
    let words = if fit.stretch > 1.0 {
        say!(
            model.languages,
            "{scale}, heights × {stretch}",
            scale,
            stretch = fit.stretch.to_string()
        )
    } else {
        scale
    };
    let at = Pt::new(zone.left, zone.bottom - 8.5);
    items.extend(symbol::view_title(at, zone.width(), &model.title, &words));
    let id = format!("section-view-{}", index + 1);
    let view = pen::group(&id, &model.title, "section", items);
    Some((view, keyed))
}

fn detail_view(model: &DetailModel, zone: Rect, system: System) -> Option<(Item, Vec<Keyed>)> {
    let scale = detail_fit(model, zone, system)?;
    let (mut items, keyed) = detail::draw(model, &scale, over_title(zone));
    let at = Pt::new(zone.left, zone.bottom - 8.5);
    let words = symbol::scale_words(&scale);
    let title = say!(model.languages, "Edge detail");
    items.extend(symbol::view_title(at, zone.width(), &title, &words));
    let view = pen::group("detail-view", &title, "detail", items);
    Some((view, keyed))
}

/// How a section fits its zone.
pub fn section_fit(model: &SectionModel, zone: Rect, system: System) -> Option<section::Fit> {
    model.fit(system, over_title(zone))
}

/// The scale at which the detail fits its zone.
pub fn detail_fit(model: &DetailModel, zone: Rect, system: System) -> Option<Scale> {
    model.fit(system, over_title(zone))
}

/// What a plan takes on site, and on paper round it: found once for all the zones it is tried in.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    /// Breadth and height of the dig on site.
    pub extent: (f64, f64),
    margins: [f64; 4],
}

impl Size {
    /// Of a plan.
    pub fn of(model: &PlanModel) -> Self {
        let [low, high] = site_box(model);
        Self {
            extent: (high.x - low.x, high.y - low.y),
            margins: margins(model),
        }
    }

    /// Breadth and height on paper at a scale, with lines, labels and title.
    pub fn needed(&self, scale: &Scale) -> (f64, f64) {
        let (width, height) = self.extent;
        let [left, right, top, bottom] = self.margins;
        (
            width / scale.ratio + left + right,
            height / scale.ratio + top + bottom + TITLE + 1.0,
        )
    }

    /// What dimension lines and labels leave of the plan's zone for the dig itself.
    pub fn room(&self, zone: Rect) -> Rect {
        let [left, right, top, bottom] = self.margins;
        Rect {
            left: zone.left + left,
            right: zone.right - right,
            top: zone.top + top,
            bottom: zone.bottom - bottom - TITLE - 1.0,
        }
    }
}

/// How far from the dig spot levels are sure to be shown, as a share of its longer side.
const NEAR_SPOTS: f64 = 0.25;

/// How far from the dig the ends of the base line are sure to be shown, as a share of its longer side.
const BASE_LINE_NEAR: f64 = 0.6;

/// Lowest and highest corner of what is shown: the window, or the box round the dig, round the
/// dimension lines where they run aslant past it, round base line and stakes where they are shown,
/// and round the spot levels by it where the ground is shown.
pub fn site_box(model: &PlanModel) -> [Point; 2] {
    if let Some(window) = &model.window {
        return window.corners;
    }
    let mut low = Point::new(f64::INFINITY, f64::INFINITY);
    let mut high = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
    let mut see = |p: Point| {
        low = Point::new(low.x.min(p.x), low.y.min(p.y));
        high = Point::new(high.x.max(p.x), high.y.max(p.y));
    };
    model.dig.iter().flatten().for_each(|p| see(*p));
    // Many chains face one way: how far the dig reaches there is found once.
    let mut reaches: Vec<(Vector, f64)> = Vec::new();
    for chain in &model.chains {
        let rise = |p: Point| (p - Point::default()).dot(chain.outward);
        let known = reaches
            .iter()
            .find(|(outward, _)| *outward == chain.outward);
        let reach = known.map(|(_, reach)| *reach).unwrap_or_else(|| {
            let reach = model.dig.iter().flatten().map(|p| rise(*p));
            let reach = reach.fold(f64::NEG_INFINITY, f64::max);
            reaches.push((chain.outward, reach));
            reach
        });
        if reach.is_finite() {
            let foot = |p: &Point| *p + chain.outward * (reach - rise(*p));
            chain.features.iter().map(foot).for_each(&mut see);
        }
    }
    if let Some(setout) = model.setout.as_ref().filter(|_| low.x <= high.x) {
        // An end of the base line that lies far off would make the dig small.
        let far = BASE_LINE_NEAR * (high.x - low.x).max(high.y - low.y);
        let (across, up) = (low.x - far..=high.x + far, low.y - far..=high.y + far);
        let near = |p: &Point| across.contains(&p.x) && up.contains(&p.y);
        let ends = setout.base_line.iter().map(|(_, end)| *end);
        let stakes = setout.stakes.iter().map(|stake| stake.at);
        for p in stakes.chain(ends.filter(near)) {
            low = Point::new(low.x.min(p.x), low.y.min(p.y));
            high = Point::new(high.x.max(p.x), high.y.max(p.y));
        }
    }
    if low.x > high.x {
        return [Point::new(0.0, 0.0), Point::new(1.0, 1.0)];
    }
    // Spots that lie farther off would make the dig small.
    let near = (high.x - low.x).max(high.y - low.y) * NEAR_SPOTS;
    let (dig_low, dig_high) = (low, high);
    for (spot, _) in model.earth.iter().flat_map(|earth| &earth.spots) {
        let by_x = (dig_low.x - near..=dig_high.x + near).contains(&spot.x);
        let by_y = (dig_low.y - near..=dig_high.y + near).contains(&spot.y);
        if by_x && by_y {
            low = Point::new(low.x.min(spot.x), low.y.min(spot.y));
            high = Point::new(high.x.max(spot.x), high.y.max(spot.y));
        }
    }
    [low, high]
}

/// Paper that the dimension lines and labels take on each side of the dig: left, right, top,
/// bottom.
fn margins(model: &PlanModel) -> [f64; 4] {
    let sides = [(-1.0, 0.0), (1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(|(x, y)| Vector::new(x, y));
    let least = [20.0, 20.0, 14.0, 14.0];
    // Words of match lines stand past the dimensions of a part.
    let beyond = if model.window.is_some() { 10.0 } else { 6.0 };
    std::array::from_fn(|i| {
        let chains = model
            .chains
            .iter()
            .map(|chain| {
                let reach = dimension::FIRST
                    + courses_on(&model.courses, chain.outward)
                    + dimension::NEXT * chain.tier as f64
                    + beyond;
                reach * chain.outward.dot(sides[i]).max(0.0)
            })
            .fold(least[i], f64::max);
        chains.max(courses_on(&model.courses, sides[i]) + 6.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::model::Earth;

    /// Spot levels by the dig are part of the plan; one far off does not make the dig small, but
    /// is listed.
    #[test]
    fn spot_levels_by_the_dig_are_shown() {
        let p = Point::new;
        let spot = |x: f64, words: &str| (p(x, 2000.0), words.to_string());
        let model = PlanModel {
            dig: vec![vec![
                p(0.0, 0.0),
                p(8000.0, 0.0),
                p(8000.0, 4000.0),
                p(0.0, 4000.0),
            ]],
            earth: Some(Earth {
                spots: vec![spot(-1500.0, "9.900 m"), spot(60_000.0, "9.100 m")],
                ..Earth::default()
            }),
            ..PlanModel::default()
        };
        let [low, high] = site_box(&model);
        assert_eq!([low.x, high.x], [-1500.0, 8000.0]);
        let zone = Rect::between(
            crate::draw::Pt::new(0.0, 0.0),
            crate::draw::Pt::new(400.0, 300.0),
        );
        let scale = Scale::one_to(50.0);
        let size = Size::of(&model);
        assert!(size.needed(&scale).0 < zone.width());
        let placing = scale.placed(low.midpoint(high), size.room(zone).centre());
        let plan::Drawn { keyed, .. } = plan::draw(&model, &placing, zone, &[]);
        let listed: Vec<String> = keyed.iter().map(|row| row.words.to_string()).collect();
        assert_eq!(listed, ["9.100 m, off the view"]);
    }
}
