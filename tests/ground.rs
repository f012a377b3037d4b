//! Laws of the ground and of cut and fill on generated sites: grids with many spots on one circle
//! and in line, dropped at random; every figure must survive turning the site, and the facets must
//! cover the dig once.

use geo::{Coord, LineString, Polygon};
use groundsheet::geom::{Point, Shape, Vector};
use groundsheet::levels::{BuildUp, DigPart, Earthwork, Ground, Plane, Spot, earthwork};
use proptest::prelude::*;

const NONE: BuildUp = BuildUp {
    paver: 0.0,
    panel: 0.0,
    bedding_loose: 0.0,
    bedding_compacted: 0.0,
};

fn place(x: f64, y: f64, turn: f64) -> Point {
    Point::new(5_000.0, -9_000.0) + Vector::new(x, y).turned(turn)
}

/// An L of 8 × 6 m less 5 × 4 m: 28 m².
fn work(spots: &[(i32, i32, i32)], turn: f64) -> Option<Earthwork> {
    let spots: Vec<Spot> = spots
        .iter()
        .map(|&(x, y, level)| Spot {
            at: place(f64::from(x) * 1000.0, f64::from(y) * 1000.0, turn),
            level: f64::from(level),
        })
        .collect();
    let ground = Ground::through(&spots)?;
    let outline = [
        (-1.0, -1.0),
        (7.0, -1.0),
        (7.0, 1.0),
        (2.0, 1.0),
        (2.0, 5.0),
        (-1.0, 5.0),
    ];
    let line = outline.map(|(x, y)| {
        let at = place(x * 1000.0, y * 1000.0, turn);
        Coord { x: at.x, y: at.y }
    });
    let part = DigPart {
        shape: Shape::new(vec![Polygon::new(
            LineString::new(line.to_vec()),
            Vec::new(),
        )]),
        finish: Plane::falling(
            place(0.0, 0.0, turn),
            3.0,
            0.02,
            Vector::new(0.6, 0.8).turned(turn),
        ),
        build_up: NONE,
    };
    earthwork(&[part], Some(&ground))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    #[test]
    fn turning_the_site_changes_nothing(
        levels in prop::collection::btree_map((0..5_i32, 0..5_i32), -200..200_i32, 1..25),
        turn in 1.0..359.0_f64,
    ) {
        let spots: Vec<_> = levels.iter().map(|(&(x, y), &level)| (x, y, level)).collect();
        let plain = work(&spots, 0.0).expect("there are spots and a dig");
        let turned = work(&spots, turn).expect("there are spots and a dig");
        let fill = |done: &Earthwork| done.fill_m3.expect("there are spots");
        let share = |done: &Earthwork| done.extrapolated_share.expect("there are spots");
        for done in [&plain, &turned] {
            prop_assert!((done.area_mm2 - 28e6).abs() < 1.0, "{}", done.area_mm2);
            let net = done.depth_mean * done.area_mm2 / 1e9;
            prop_assert!((done.cut_m3 - fill(done) - net).abs() < 1e-6);
        }
        prop_assert!((plain.cut_m3 - turned.cut_m3).abs() < 1e-5);
        prop_assert!((fill(&plain) - fill(&turned)).abs() < 1e-5);
        prop_assert!((share(&plain) - share(&turned)).abs() < 1e-5);
        for i in 0..2 {
            let (a, b) = (plain.depth[i], turned.depth[i]);
            prop_assert!((a.value - b.value).abs() < 1e-3, "{a:?} {b:?}");
        }
    }

    #[test]
    fn spots_of_any_numbers_are_taken_or_refused(
        spots in prop::collection::vec((any::<f64>(), any::<f64>(), any::<f64>()), 1..12),
    ) {
        let finite = |spot: &Spot| {
            spot.at.x.is_finite() && spot.at.y.is_finite() && spot.level.is_finite()
        };
        let spots: Vec<Spot> = spots
            .iter()
            .map(|&(x, y, level)| Spot { at: Point::new(x, y), level })
            .collect();
        let ground = Ground::through(&spots);
        prop_assert!(ground.is_none() || spots.iter().all(finite));
    }

    #[test]
    fn the_ground_stays_between_its_spots(
        spots in prop::collection::vec(
            ((-400..400_i32), (-400..400_i32), -5e3..5e3_f64), 1..30),
        at in (-1e6..1e6_f64, -1e6..1e6_f64),
        step in prop::sample::select(vec![0.0001, 1.0, 1000.0]),
    ) {
        let spots: Vec<Spot> = spots
            .iter()
            .map(|&(x, y, level)| Spot {
                at: Point::new(f64::from(x) * step, f64::from(y) * step),
                level,
            })
            .collect();
        let ground = Ground::through(&spots).expect("all spots are finite");
        let known = ground.spots().iter().map(|spot| spot.level);
        let (low, high) = known.fold((f64::MAX, f64::MIN), |(l, h), z| (l.min(z), h.max(z)));
        let level = ground.level_at(Point::new(at.0, at.1));
        prop_assert!((low - 1e-3..=high + 1e-3).contains(&level), "{level}");
        for spot in ground.spots() {
            let off = (ground.level_at(spot.at) - spot.level).abs();
            prop_assert!(off < 1e-3 || ground.triangles().is_empty(), "{off}");
        }
    }
}

/// Spots in line on the rim, which turning bends inwards by a rounding error: they must neither
/// leave the rim nor pass for spots on one circle.
#[test]
fn spots_in_line_on_the_rim_stay_on_it() {
    let straight: Vec<_> = (0..5).map(|y| (0, y, 0)).collect();
    let spots = [&straight[..], &[(1, 0, 0), (1, 3, 0), (1, 4, 98)]].concat();
    let plain = work(&spots, 0.0).expect("there are spots and a dig");
    for turn in [162.369_848_405_932_03, 131.454_092_124_474_7, 17.0, 254.5] {
        let turned = work(&spots, turn).expect("there are spots and a dig");
        assert!((plain.cut_m3 - turned.cut_m3).abs() < 1e-5, "{turn}");
        assert_eq!(plain.fill_m3.is_some(), turned.fill_m3.is_some());
    }
}
