//! Field measurements of a job: published survey figures, and bad measurements caught, named and
//! placed.

mod common;

use common::setout::{FOOT, INCH, landing, refused, sights, table_of};
use common::worked::{design, findings, near};
use groundsheet::checks::Status;
use groundsheet::geom::Point;
use groundsheet::job;
use groundsheet::sheet::from_survey;

/// Open Access Surveying Library (J. Mahun), traverse chapters: coordinates by the compass rule
/// and the area they enclose, fed as a job; the fourth leg comes back to A.
#[test]
fn published_traverse_through_a_job() {
    let bearing =
        |degrees: f64, minutes: f64, seconds: f64| degrees + minutes / 60.0 + seconds / 3600.0;
    let legs = [
        ("B", 180.0 + bearing(68.0, 5.0, 35.0), 472.68),
        ("C", 360.0 - bearing(19.0, 46.0, 0.0), 216.13),
        ("D", bearing(45.0, 55.0, 20.0), 276.52),
        ("A0", 180.0 - bearing(54.0, 59.0, 15.0), 382.24),
    ];
    let legs: Vec<String> = legs
        .iter()
        .map(|(to, bearing, distance)| {
            format!("      - {{to: {to}, bearing: {bearing:.9}°, distance: {distance}'}}\n")
        })
        .collect();
    let yaml = format!(
        "job: {{title: Traverse}}\nsheet: {{paper: arch-e}}\nsite:\n  points: {{A0: [2000', 500']}}\n\
        \x20 traverse:\n    start: {{point: A0, bearing: 0°}}\n    legs:\n{}\
         paving:\n  - outline: [A0, B, C, D]\n\
         pavers:\n  field: {{size: [24\", 24\"], thickness: 3 1/8\"}}\n",
        legs.concat()
    );
    let job = job::read(yaml.as_bytes()).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let result = job.survey.traverse.as_ref().unwrap();
    let miss = result.misclosure.unwrap();
    near(miss.y / FOOT, 0.083, 0.001);
    near(miss.x / FOOT, 0.075, 0.001);
    near(result.ratio.unwrap(), 12_100.0, 100.0);
    for (name, north, east) in [
        ("B", 323.614, 1561.426),
        ("C", 526.996, 1488.321),
        ("D", 719.336, 1686.956),
    ] {
        let at = job.survey.at(name).unwrap();
        near(at.y / FOOT, north, 0.002);
        near(at.x / FOOT, east, 0.002);
    }
    let area = job.site.areas[0].area_mm2() / (FOOT * FOOT);
    near(area, 102_935.7, 1.0);
}

/// Areas by coordinates: J. Mahun, Open Access Surveying Library, problem 1 (38,970 ft² printed,
/// 38,965.8 by the unrounded sums) and example H-2 (140,493.1); NAVEDTRA 14070 chapter 7, where a
/// shift of the origin changes nothing.
#[test]
fn published_coordinate_areas_through_a_job() {
    let area = |points: &[(f64, f64)]| {
        let corners: Vec<String> = points
            .iter()
            .map(|(x, y)| format!("[{x}', {y}']"))
            .collect();
        let yaml = format!(
            "job: {{title: Area}}\npaving:\n  - outline: [{}]\n\
             pavers:\n  field: {{size: [24\", 24\"], thickness: 3 1/8\"}}\n",
            corners.join(", ")
        );
        let job = job::read(yaml.as_bytes()).unwrap_or_else(|errors| panic!("{errors:#?}"));
        job.site.areas[0].area_mm2() / (FOOT * FOOT)
    };
    // Written north, east in the source.
    let problem = [
        (2215.890, 1541.207),
        (2336.574, 1373.915),
        (2350.205, 1299.818),
        (2523.212, 1343.189),
        (2359.080, 1569.360),
    ];
    near(area(&problem), 38_965.8, 0.1);
    let example = [
        (1259.97, 406.31),
        (1489.47, 235.12),
        (1126.40, 65.81),
        (942.04, 317.89),
        (1282.54, 675.32),
    ];
    near(area(&example), 140_493.1, 0.1);
    let [plain, shifted] = [
        [
            (32.68, 742.34),
            (158.34, 998.30),
            (748.99, 844.77),
            (556.30, 150.70),
        ],
        [
            (0.0, 591.64),
            (125.66, 847.60),
            (716.31, 694.07),
            (523.62, 0.0),
        ],
    ]
    .map(|points| area(&points));
    near(plain, 323_953.7, 0.1);
    near(shifted, plain, 1e-6);
}

/// Hicks, civil engineering calculations handbook: balanced latitudes and departures of six legs,
/// walked as a traverse of a job. It closes, adjusting moves nothing, and it encloses 72,106.2 ft².
#[test]
fn published_balanced_traverse_through_a_job() {
    let legs = [
        ("B", -132.3, -135.6),
        ("C", 9.6, -77.5),
        ("D", 97.9, -198.5),
        ("E", 161.9, 143.6),
        ("F", -35.3, 246.7),
        ("A0", -101.8, 21.3_f64),
    ];
    let lines: Vec<String> = legs
        .iter()
        .map(|(to, north, east)| {
            let bearing = east.atan2(*north).to_degrees().rem_euclid(360.0);
            let distance = east.hypot(*north);
            format!("      - {{to: {to}, bearing: {bearing:.12}°, distance: {distance:.9}'}}\n")
        })
        .collect();
    let yaml = format!(
        "job: {{title: Traverse}}\nsheet: {{paper: arch-e}}\nsite:\n  points: {{A0: [500', 500']}}\n\
        \x20 traverse:\n    start: {{point: A0, bearing: 0°}}\n    legs:\n{}\
         paving:\n  - outline: [A0, B, C, D, E, F]\n\
         pavers:\n  field: {{size: [24\", 24\"], thickness: 3 1/8\"}}\n",
        lines.concat()
    );
    let job = job::read(yaml.as_bytes()).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let traverse = job.survey.traverse.as_ref().unwrap();
    let miss = traverse.misclosure.unwrap();
    near(miss.x / FOOT, 0.0, 1e-6);
    near(miss.y / FOOT, 0.0, 1e-6);
    let (mut north, mut east) = (500.0, 500.0);
    for (to, latitude, departure) in legs {
        north += latitude;
        east += departure;
        let at = job.survey.at(to).unwrap();
        near(at.y / FOOT, north, 1e-6);
        near(at.x / FOOT, east, 1e-6);
    }
    let area = job.site.areas[0].area_mm2() / (FOOT * FOOT);
    near(area, 72_106.2, 0.1);
}

/// W. Squire, circle-circle intersection (UMBC), in feet through a job.
#[test]
fn published_two_tape_tie_through_a_job() {
    let tied = |side: &str| {
        let site = format!(
            "  points:\n    O: [-0.1', -0.2']\n    Q: [2', 1']\n    T: {{tape: {{O: 2', Q: 2.1'}}, side: {side}}}"
        );
        let job = job::read(landing(&site, "").as_bytes()).unwrap();
        job.survey.at("T").unwrap()
    };
    let (right, left) = (tied("right"), tied("left"));
    near(right.x / FOOT, 1.696964, 2e-6);
    near(right.y / FOOT, -1.078021, 2e-6);
    near(left.x / FOOT, 0.055856, 2e-6);
    near(left.y / FOOT, 1.793918, 2e-6);
}

/// The textbook run by height of instrument (askfilo), its closing benchmark 0.04 ft out, through
/// a job: within a limit of 1/2 in, over one of 1/4 in.
#[test]
fn published_height_of_instrument_run_through_a_job() {
    let run = |limit: &str| {
        let site = format!(
            "  levelling:\n    known: {{BM: 100', BM2: 94.91'}}\n    adjust: none\n    limit: {limit}\n    sights:\n{}",
            sights(&[
                "at: BM, back: 3.10'",
                "at: TP1, fore: 9.82', back: 6.44'",
                "at: TP2, fore: 6.96', back: 8.76'",
                "at: TP3, fore: 3.27', back: 7.12'",
                "at: BM2, fore: 10.42'",
            ])
        );
        design(&landing(&site, ""))
    };
    let close = run("1/2\"");
    let (_, result) = close.job.levelling.as_ref().unwrap();
    for (name, wanted) in [("TP1", 93.28), ("TP2", 92.76), ("TP3", 98.25)] {
        near(result.level(name).unwrap() / FOOT, wanted, 1e-9);
    }
    let heights: Vec<f64> = result.lines.iter().filter_map(|l| l.instrument).collect();
    for (found, wanted) in heights.iter().zip([103.10, 99.72, 101.52, 105.37]) {
        near(found / FOOT, wanted, 1e-9);
    }
    near(result.misclosure.unwrap() / FOOT, 0.04, 1e-9);
    assert_eq!(findings(&close, "survey.levelling")[0].status, Status::Pass);
    let open = &findings(&run("1/4\""), "survey.levelling")[0];
    assert_eq!(open.status, Status::Fail);
    assert_eq!(
        open.where_.as_ref().map(ToString::to_string).as_deref(),
        Some("BM2")
    );
    assert!(open.at.is_some());
    let printed = from_survey::survey(&close);
    let book = table_of(&printed, "Levelling: closes +0.04′ off, not spread");
    assert_eq!(book.rows[1].cells[1..5], ["6.44′", "", "9.82′", "99.72′"]);
    assert_eq!(book.rows[4].cells[6], "94.95′");
}

/// Rise-and-fall example of structural.community, metres, through a job: levels by name serve as
/// spots, datum and sill.
#[test]
fn published_rise_and_fall_run_through_a_job() {
    let site = format!(
        "  points: {{A1: [0, 4 m], A2: [4 m, 4 m], A3: [4 m, 0], A4: [1 m, 1 m]}}\n\
        \x20 ground: [A1, [A2, E], [2 m, 2 m, B], A4]\n\
        \x20 levelling:\n    known: {{BM: 100 m}}\n    sights:\n{}",
        sights(&[
            "at: BM, back: 2.50 m",
            "at: A1, back: 1.75 m, fore: 1.95 m",
            "at: B, intermediate: 2.55 m",
            "at: A4, intermediate: 2.70 m",
            "at: D, back: 2.95 m, fore: 3.10 m",
            "at: E, fore: 2.75 m",
        ])
    );
    let yaml = landing(&site, ", datum: {name: Sill, level: BM}").replace("99.5'", "99.0 m");
    let design = design(&yaml);
    let levels: Vec<f64> = design.job.levels.ground.iter().map(|s| s.level).collect();
    for (found, wanted) in levels.iter().zip([100_550.0, 99_400.0, 99_750.0, 99_600.0]) {
        near(*found, wanted, 1e-6);
    }
    assert_eq!(design.job.levels.datum.as_ref().unwrap().level, 100_000.0);
    let found = &findings(&design, "survey.levelling")[0];
    assert_eq!(found.status, Status::Warn, "{}", found.title);
}

/// A tape 2 in out, swapped tapes, a traverse a foot open, a spot ten feet off: each is caught,
/// named, and has a place in the file and on the plan.
#[test]
fn bad_measurements_are_caught_named_and_placed() {
    // T lies 6 ft along and 8 ft out: 10 ft from H1, 12 and 8 by Pythagoras from H2, 7 ft 1 in
    // from H3.
    let tied = |tapes: &str| {
        design(&landing(
            &format!(
                "  points:\n    H1: [0, 0]\n    H2: [18', 0]\n    H3: [6', 15'-1\"]\n    T: {{tape: {{{tapes}}}, side: left}}"
            ),
            "",
        ))
    };
    let good = tied("H1: 10', H2: 14'-5 1/8\", H3: 7'-1\"");
    assert_eq!(findings(&good, "survey.residual")[0].status, Status::Pass);
    let off = findings(
        &tied("H1: 10', H2: 14'-5 1/8\", H3: 7'-3\""),
        "survey.residual",
    );
    assert_eq!(off[0].status, Status::Fail);
    near(off[0].value.unwrap(), 2.0 * INCH, 1.0);
    assert_eq!(
        off[0].where_.as_ref().map(ToString::to_string).as_deref(),
        Some("point T")
    );
    assert!(
        off[0]
            .title
            .to_string()
            .contains("from H3 to T misses by 2″"),
        "{}",
        off[0].title
    );
    assert_eq!(off[0].at.unwrap().line, 7);
    assert!(off[0].point.is_some());
    let swapped = findings(
        &tied("H1: 14'-5 1/8\", H2: 10', H3: 7'-1\""),
        "survey.residual",
    );
    assert_eq!(swapped[0].status, Status::Fail);
    assert!(
        swapped[0]
            .title
            .to_string()
            .contains("tapes from H1 and H2 swapped"),
        "{}",
        swapped[0].title
    );

    let open = design(&landing(
        "  points: {H1: [0, 0]}\n  traverse:\n    start: {point: H1, bearing: 90°}\n    legs:\n\
        \x20     - {to: Q2, bearing: 90°, distance: 14'}\n\
        \x20     - {to: Q3, bearing: 20°, distance: 11'}\n\
        \x20     - {to: Q4, bearing: 270°, distance: 17.420'}\n\
        \x20     - {to: H1, bearing: 180°, distance: 9.397'}",
        "",
    ));
    let found = &findings(&open, "survey.misclosure")[0];
    assert_eq!(found.status, Status::Fail);
    assert!(
        found.title.to_string().contains("misses by 1′-0″"),
        "{}",
        found.title
    );
    assert!(
        found.title.to_string().contains("the leg to Q3"),
        "{}",
        found.title
    );
    assert_eq!(found.at.unwrap().line, 8);
    assert!(found.point.is_some());

    let spots = "  ground:\n    - [0, 0, 99.6']\n    - [14', 0, 99.5']\n    - [15', 13', 98.9']\n\
        \x20   - [-1', 13', 99.0']\n    - [7', 6', 89.3']\n    - [7', 14', 98.9']";
    let found = findings(&design(&landing(spots, "")), "survey.spot");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].status, Status::Warn);
    assert!(
        found[0]
            .title
            .to_string()
            .contains("Spot level 89.30′ is 9′-"),
        "{}",
        found[0].title
    );
    assert_eq!(found[0].at.unwrap().line, 8);
    let place = Point::new(7.0 * FOOT, 6.0 * FOOT);
    assert!(found[0].point.unwrap().distance(place) < 1e-6);
    let right = spots.replace("89.3'", "99.3'");
    let found = findings(&design(&landing(&right, "")), "survey.spot");
    assert_eq!(found[0].status, Status::Pass, "{}", found[0].title);
}

#[test]
fn a_field_book_that_makes_no_sense_is_refused_in_its_line() {
    let book = |lines: &[&str]| {
        landing(
            &format!(
                "  levelling:\n    known: {{BM: 100'}}\n    sights:\n{}",
                sights(lines)
            ),
            "",
        )
    };
    for (lines, words) in [
        (
            &["at: BM, fore: 3'"][..],
            "is read before the instrument's height is known (line 6)",
        ),
        (&["at: BM, back: 3'", "at: P"][..], "a back sight"),
        (&["at: BM, back: 3'", "at: P, fore: 3"][..], "`3`"),
        (
            &["at: BM, back: 3'", "at: P, fore: 3', middle: 2'"][..],
            "`middle` is not a key",
        ),
        (
            &["at: Q, back: 3'", "at: P, fore: 3'"][..],
            "the level of Q is not known (line 6)",
        ),
    ] {
        let refusal = refused(&book(lines));
        assert!(refusal.contains(words), "{refusal}");
    }
    let unknown = landing("  points: {}", ", datum: {name: Sill, level: BMX}");
    assert!(refused(&unknown).contains("levels.datum.level is `BMX`"));
}

/// What a job in feet gets wrong is told in feet and inches, in metric in millimetres; and what is
/// small is not told as nothing.
#[test]
fn faults_are_told_in_the_units_of_the_job() {
    let arc = |units: &str| {
        refused(&format!(
            "job: {{title: Arc}}\nsheet: {{units: {units}}}\npaving:\n\
             \x20 - outline: [[0, 0], [10', 0], {{arc: {{to: [10', 8'], radius: 2', side: left}}}}, [0, 8']]\n\
             pavers:\n  field: {{size: [8\", 4\"], thickness: 3 1/8\"}}\n"
        ))
    };
    let feet = arc("feet-inches");
    assert!(
        feet.contains("radius of 2′-0″ is too short for corners 8′-0″ apart"),
        "{feet}"
    );
    assert!(arc("metric").contains("radius of 610 mm is too short for corners 2438 mm apart"));
    let path = "  points: {Q: [5', 20']}";
    let fixed = ",\n  fixed: [{edge: C-D, surface: the path, levels: [[Q, 99']]}]";
    let off = refused(&landing(path, fixed));
    assert!(off.contains("stands 8′-0″ from the edge C-D"), "{off}");
    let herringbone = refused(
        "job: {title: Bond}\npaving:\n  - {outline: [[0, 0], [9', 0], [9', 8'], [0, 8']], bond: herringbone}\n\
         pavers:\n  field: {size: [10\", 4\"], thickness: 3 1/8\", joint: 0}\n",
    );
    assert!(
        herringbone.contains("(8″ or 1′-0″); this one is 10″ long"),
        "{herringbone}"
    );
    // The base is 1 mm deeper than six courses of 2 ft.
    let deep = 12.0 * FOOT + 1.0 - 6.0 * INCH;
    let small = landing("  points: {}", "").replace("12'", &format!("{deep} mm"));
    let narrow = findings(&design(&small), "panels.narrow");
    let title = narrow[0].title.to_string();
    assert!(title.contains("Narrowest panel piece is < ⅛″"), "{title}");
}
