//! Cells that tile, and cells that do not.

use super::*;

fn paver(length: f64, width: f64) -> PaverSpec {
    PaverSpec {
        name: format!("{length} × {width}"),
        length,
        width,
        thickness: 60.0,
        joint: 3.0,
        per_pallet: None,
        per_layer: None,
        density: 2300.0,
    }
}

fn part(paver: usize, at: [f64; 2], takes: Option<[f64; 2]>) -> ModularPaver {
    ModularPaver {
        paver,
        at,
        long_side: Axis::X,
        takes,
    }
}

/// One large and one small square, each row stepping aside: the pinwheel of two squares that
/// proves Pythagoras; the cell's area is the sum of both squares.
fn pinwheel() -> (Modular, Vec<PaverSpec>) {
    let pavers = vec![paver(200.0, 200.0), paver(100.0, 100.0)];
    let (large, small) = (203.0, 103.0);
    let modular = Modular {
        name: "pinwheel".into(),
        steps: [Vector::new(large, small), Vector::new(-small, large)],
        pavers: vec![part(0, [0.0, 0.0], None), part(1, [large, 0.0], None)],
    };
    (modular, pavers)
}

#[test]
fn the_pinwheel_of_two_squares_tiles_and_has_no_straight_joint() {
    let (modular, pavers) = pinwheel();
    assert_eq!(check(&modular, &pavers), Ok(()));
    let cell = cell(&modular, &pavers);
    assert_eq!((cell.pavers.len(), cell.joints.len()), (2, 4));
    assert!(cell.lines.is_empty());
}

#[test]
fn a_paver_out_of_place_overlaps_and_one_too_small_leaves_a_gap() {
    let (mut modular, mut pavers) = pinwheel();
    modular.pavers[1].at = [203.0, 20.0];
    assert_eq!(check(&modular, &pavers), Err(Fault::Overlap(0, 1)));
    let (modular, _) = pinwheel();
    pavers[1] = paver(90.0, 90.0);
    assert!(matches!(check(&modular, &pavers), Err(Fault::Areas { .. })));
}

#[test]
fn steps_of_no_area_and_pavers_of_two_thicknesses_are_refused() {
    let (mut modular, mut pavers) = pinwheel();
    pavers[1].thickness = 80.0;
    assert!(matches!(check(&modular, &pavers), Err(Fault::Paver(1, _))));
    let (_, pavers) = pinwheel();
    modular.steps = [Vector::new(10.0, 10.0), Vector::new(20.0, 20.0)];
    assert!(matches!(check(&modular, &pavers), Err(Fault::Steps(_))));
    modular.steps = [Vector::new(0.0, 0.0), Vector::new(0.0, 0.0)];
    assert!(check(&modular, &pavers).is_err());
}

/// Courses of a square and two halves above one another: lines run along the courses; up, only
/// where the square meets the halves.
#[test]
fn straight_lines_are_found_where_nothing_lies_across() {
    let pavers = vec![paver(203.0, 200.0), paver(203.0, 98.5)];
    let takes = Some([206.0, 101.5]);
    let modular = Modular {
        name: "square and halves".into(),
        steps: [Vector::new(412.0, 0.0), Vector::new(0.0, 203.0)],
        pavers: vec![
            part(0, [0.0, 0.0], None),
            part(1, [206.0, 0.0], takes),
            part(1, [206.0, 101.5], takes),
        ],
    };
    assert_eq!(check(&modular, &pavers), Ok(()));
    let cell = cell(&modular, &pavers);
    let along = |axis| cell.lines.iter().filter(|line| line.along == axis).count();
    assert_eq!((along(Axis::X), along(Axis::Y)), (1, 2));
    assert!(cell.lines.iter().any(|line| line.every == 412.0));
}
