//! Dimensions of one part of a plan: running dimensions of the corners in its window and of its
//! match lines, so that the part can be set out by itself.
//!
//! In: the corners of the whole plan with their distances from one end of the base line, and the
//! window. Out: a chain each way, counted from that end also where it lies on another part: the
//! line is then cut off at the window. A side that no other part lies beyond is preferred. Plans
//! that lie aslant on the paper are set out by the ties of their table.

use super::chains::{SAME, bare};
use super::dimension::Origin;
use super::model::{PlanModel, SiteChain, Stations, Window};
use crate::geom::{Point, Vector};
use crate::units::{Length, System};

/// Sine of the angle within which a direction runs along a side of the paper.
const ASLANT: f64 = 1e-3;
/// More corners than this are left to the table.
const MOST: usize = 40;

/// The chains of a part.
pub fn of(plan: &PlanModel, window: &Window) -> Vec<SiteChain> {
    let chains = plan.stations.iter();
    chains
        .filter_map(|stations| chain(stations, window, plan.units))
        .collect()
}

fn chain(stations: &Stations, window: &Window, system: System) -> Option<SiteChain> {
    let along = stations.along;
    if along.x.abs().min(along.y.abs()) > ASLANT {
        return None;
    }
    let outward = side(stations.outward, window);
    let [low, high] = window.corners;
    let within = |p: &Point| p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y;
    let station = |p: Point| (p - stations.from).dot(along);
    let rise = |p: Point| (p - stations.from).dot(outward);
    // The ends of the window along the direction, and its side that the line runs on.
    let reach = [
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ];
    let least = reach.map(station).into_iter().fold(f64::INFINITY, f64::min);
    let most = reach
        .map(station)
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max);
    let top = reach
        .map(rise)
        .into_iter()
        .fold(f64::NEG_INFINITY, f64::max);
    // Match lines have their distances too: where no corner is in view, the part still has a place.
    let square = window
        .lines
        .iter()
        .map(|line| line.ends[0].midpoint(line.ends[1]));
    let square = square.filter(|at| {
        let off = [least, most].map(|end| (station(*at) - end).abs());
        off[0].min(off[1]) < (most - least) / 4.0
    });
    let square = square.map(|at| {
        let words = bare(Length::from_mm(station(at)), system);
        (at + outward * (top - rise(at)), words)
    });
    let corners = stations.corners.iter().filter(|(at, _)| within(at));
    let mut all: Vec<(Point, String)> = corners.cloned().collect();
    // A corner by a match line is what is taped.
    let inside: Vec<f64> = all.iter().map(|(at, _)| station(*at)).collect();
    let by_corner = |at: Point| inside.iter().any(|x| (x - station(at)).abs() <= SAME);
    all.extend(square.filter(|(at, _)| !by_corner(*at)));
    all.sort_by(|(a, _), (b, _)| station(*a).total_cmp(&station(*b)));
    // One feature per station: the one nearest the line.
    let mut kept: Vec<(Point, String)> = Vec::new();
    for (at, words) in all {
        match kept.last_mut() {
            Some((last, said)) if station(at) - station(*last) <= SAME => {
                if rise(at) > rise(*last) {
                    (*last, *said) = (at, words);
                }
            }
            _ => kept.push((at, words)),
        }
    }
    if kept.is_empty() || kept.len() > MOST {
        return None;
    }
    let before = kept.partition_point(|(at, _)| station(*at) < -SAME);
    let own = kept
        .get(before)
        .is_some_and(|(at, _)| station(*at).abs() <= SAME);
    // The end of the base line stands at zero.
    let cut = 0.0_f64.clamp(least, most);
    if !own {
        let edge = stations.from + along * cut + outward * top;
        kept.insert(before, (edge, String::new()));
    }
    let origin = if own || cut == 0.0 {
        Origin::At(before)
    } else {
        Origin::Beyond(before)
    };
    let features: Vec<Point> = kept.iter().map(|(at, _)| *at).collect();
    if features.len() < 2 {
        return None;
    }
    let words = (0..features.len() - 1)
        .map(|span| kept[span + usize::from(span >= before)].1.clone())
        .collect();
    Some(SiteChain {
        words,
        features,
        outward,
        tier: 0,
        origin: Some(origin),
    })
}

/// The side of the window that a dimension line runs on: the one wanted, or the one against it
/// where only that is open.
fn side(wanted: Vector, window: &Window) -> Vector {
    let open = |side: Vector| {
        let [left, right, bottom, top] = window.open;
        if side.x.abs() > side.y.abs() {
            if side.x < 0.0 { left } else { right }
        } else if side.y < 0.0 {
            bottom
        } else {
            top
        }
    };
    if !open(wanted) && open(-wanted) {
        -wanted
    } else {
        wanted
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::model::MatchLine;

    /// Two corners, the base line's end 10 m to the left of the window: the line is cut off at the
    /// window's left side and says how far each lies from that end.
    #[test]
    fn a_part_counts_from_an_end_that_lies_on_another() {
        let p = Point::new;
        let corner = |x: f64, y: f64| (p(x, y), format!("{x}"));
        let mut plan = PlanModel {
            stations: vec![Stations {
                along: Vector::new(1.0, 0.0),
                outward: Vector::new(0.0, 1.0),
                from: p(0.0, 0.0),
                name: "A".to_string(),
                corners: vec![
                    corner(0.0, 0.0),
                    corner(12_000.0, 500.0),
                    corner(12_000.0, 3000.0),
                    corner(15_000.0, 0.0),
                    corner(31_000.0, 0.0),
                ],
            }],
            ..PlanModel::default()
        };
        let mut window = Window {
            corners: [p(10_000.0, -1000.0), p(20_000.0, 5000.0)],
            open: [false, false, true, false],
            lines: Vec::new(),
        };
        let [chain] = &of(&plan, &window)[..] else {
            panic!("one chain");
        };
        assert_eq!(chain.words, ["12000", "15000"]);
        assert_eq!(chain.origin, Some(Origin::Beyond(0)));
        // Only the bottom is open.
        assert_eq!(chain.outward, Vector::new(0.0, -1.0));
        assert_eq!(chain.features[0].x, 10_000.0);
        assert_eq!(chain.features[1], p(12_000.0, 500.0), "nearest the line");
        // A match line at the right has its distance too, one at the top none.
        window.lines = vec![
            MatchLine {
                ends: [p(19_500.0, -1000.0), p(19_500.0, 5000.0)],
                words: String::new(),
            },
            MatchLine {
                ends: [p(10_000.0, 4500.0), p(20_000.0, 4500.0)],
                words: String::new(),
            },
        ];
        plan.units = System::Metric;
        let chain = &of(&plan, &window)[0];
        assert_eq!(chain.words, ["12000", "15000", "19500"]);
        assert_eq!(chain.features[3], p(19_500.0, -1000.0));
        window.lines.clear();
        // The end itself in view is the origin; one beyond the other end cuts the line off there.
        window.corners = [p(-1000.0, -1000.0), p(20_000.0, 5000.0)];
        let chain = &of(&plan, &window)[0];
        assert_eq!(
            (chain.origin, &chain.words[..]),
            (
                Some(Origin::At(0)),
                &["12000".to_string(), "15000".to_string()][..]
            )
        );
        plan.stations[0].from = p(40_000.0, 0.0);
        window.corners = [p(10_000.0, -1000.0), p(20_000.0, 5000.0)];
        let chain = &of(&plan, &window)[0];
        assert_eq!(
            (chain.origin, chain.features[2].x),
            (Some(Origin::Beyond(2)), 20_000.0)
        );
    }
}
