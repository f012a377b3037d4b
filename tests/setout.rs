//! The printed set-out: the tables solved again, stakes, squares and arcs, and the plan that
//! names them.

mod common;

use common::setout::{FOOT, INCH, drawn, landing, read_length, refused, table_of};
use common::worked::{design, example, near, sheets, words};
use groundsheet::design::field::is_strong;
use groundsheet::geom::Point;
use groundsheet::levels::stakes::APART;
use groundsheet::levels::{Ground, Held, ties};
use groundsheet::sheet::column::Entry;
use groundsheet::sheet::{from_setout, from_work, notes};
use groundsheet::survey::{offset, tie};
use groundsheet::units::{Length, Precision, print};
use groundsheet::{checks, report, takeoff};

/// A crew has the printed sheet, two tapes and the base line: every corner, door and centre comes
/// out within 1/4 in of where the design has it.
#[test]
fn two_tapes_set_every_corner_out_again_from_the_printed_table() {
    let mut rails_taped = 0;
    for name in ["landing", "two-walls", "pool-surround", "hillside-terrace"] {
        let design = design(&example(name));
        let blocks = from_setout::blocks(&design);
        let system = design.job.sheet.units;
        let [(_, from), (_, to)] = &design.base_line;
        let base = Length::from_mm(from.distance(*to));
        let base = read_length(&print::length(base, system, Precision::Drawing));
        let ends = [Point::default(), Point::new(base, 0.0)];
        let mut rows: Vec<(&[String], f64, f64)> = Vec::new();
        let corners = table_of(&blocks, "Set-out of the corners");
        assert_eq!(corners.rows.len(), design.setout.len());
        for (row, corner) in corners.rows.iter().zip(&design.setout) {
            assert_eq!(row.cells[0], corner.corner);
            rows.push((&row.cells, corner.ties.station, corner.ties.offset));
        }
        if !design.field.features.is_empty() {
            let features = table_of(&blocks, "Other points");
            for (row, feature) in features.rows.iter().zip(&design.field.features) {
                rows.push((&row.cells, feature.ties.station, feature.ties.offset));
            }
        }
        if !design.field.rails.is_empty() {
            let rails = table_of(&blocks, "Screed rails");
            assert_eq!(rails.rows.len(), design.rails.runs().count());
            for (row, run) in rails.rows.iter().zip(design.rails.runs()) {
                for (at, cells) in run.iter().zip([&row.cells[1..3], &row.cells[3..5]]) {
                    let [along, out] = [0, 1].map(|i| read_length(&cells[i]));
                    let ties = ties(design.base_line.each_ref().map(|(_, end)| *end), *at);
                    let off = (ties.station - along).hypot(ties.offset - out);
                    assert!(off <= INCH / 4.0, "{name} {cells:?}");
                }
                near(
                    read_length(&row.cells[5]),
                    run[0].distance(run[1]),
                    INCH / 8.0,
                );
            }
            rails_taped += rails.rows.len();
        }
        for (cells, station, out) in rows {
            let right = Point::new(station, out);
            let [along, square] = [1, 2].map(|i| read_length(&cells[i]));
            let by_offset = offset(ends, along, square).unwrap();
            assert!(by_offset.distance(right) <= INCH / 4.0, "{name} {cells:?}");
            if cells[3].starts_with('(') {
                continue;
            }
            let tapes = [3, 4].map(|i| read_length(&cells[i]));
            let found = tie(ends, tapes).unwrap();
            let at = if square > 0.0 {
                found.left
            } else {
                found.right
            };
            assert!(at.distance(right) <= INCH / 4.0, "{name} {cells:?}");
        }
    }
    assert!(rails_taped >= 4, "{rails_taped}");
}

/// The base line a job states is the one printed; without, it is the wall's.
#[test]
fn the_base_line_is_the_stated_one() {
    let stated = "  points: {H1: [-2', 0], H2: [20', 0]}\n  base_line: [H1, H2]";
    let design_stated = design(&landing(stated, ""));
    assert_eq!(design_stated.base_line[0].0, "H1");
    let a = &design_stated.setout[0].ties;
    near(a.station, 2.0 * FOOT, 1e-9);
    assert_eq!(design(&landing("  points: {}", "")).base_line[1].0, "B");
    let short = refused(&landing(
        "  points: {H1: [0, 0]}\n  base_line: [H1, H1]",
        "",
    ));
    assert!(short.contains("site.base_line"), "{short}");
}

/// What a crew squares a landing of 14 ft by 12 ft by: 9-12-15 at each corner (FAO R7021E gives the
/// multiples), stakes at 2 ft past the dig with strings at finish, no diagonal twice.
#[test]
fn squares_stakes_and_proofs_of_a_landing() {
    let found = design(&landing("  points: {}", ""));
    assert_eq!(found.field.right_angles.len(), 4);
    for square in &found.field.right_angles {
        assert_eq!(square.proof.multiple, 3);
        near(square.proof.across, 15.0 * FOOT, 1e-9);
    }
    // From the base line's ends every diagonal is a tape of the table; C-D is what proves it.
    let proofs: Vec<_> = found
        .field
        .proofs
        .iter()
        .map(|p| p.corners.concat())
        .collect();
    assert_eq!(proofs, ["CD"]);
    let set = found.field.stakes.as_ref().unwrap();
    assert_eq!(set.stakes.len(), 6);
    // The lowest string is that of the side edges 2 ft 6 in beyond the far edge, 0.29 ft below the
    // ground at the wall: half a foot up it is 2 in clear of that.
    near(set.heights.above_finish, 0.5 * FOOT, 1e-9);
    let mark = set.heights.mark.expect("one mark");
    near(mark, (99.5 - 0.02 * 14.5 + 0.5) * FOOT, 1e-6);
    for (beyond, stake) in &set.stakes {
        // No stake stands in the wall: its face holds the string.
        let at_wall = beyond == "A" || beyond == "B";
        let (held, off) = match at_wall {
            true => (Held::Face, 0.0),
            false => (Held::Stake, 2.5 * FOOT),
        };
        assert_eq!(stake.held, held, "{beyond}");
        near(stake.from_corner, off, 1e-6);
        let corner = found
            .setout
            .iter()
            .find(|row| row.corner == *beyond)
            .unwrap();
        near(stake.at.distance(corner.at), stake.from_corner, 1e-6);
    }
}

/// Strings and marks are clear of the ground at every stake, as far as it is known; where one mark
/// cannot be at a fall of 1.4 m, each stake has the level of its own string, in table and report.
#[test]
fn strings_and_marks_are_clear_of_the_ground() {
    for name in ["hillside-terrace", "terrace", "two-walls"] {
        let found = design(&example(name));
        let ground = Ground::through(&found.job.levels.ground).expect("spot levels");
        let set = found.field.stakes.as_ref().expect("stakes");
        for (beyond, stake) in &set.stakes {
            let over = set.string(stake) - ground.level_at(stake.at);
            let mark = over - set.above_mark(stake);
            assert!(
                over >= 2.0 * INCH - 1e-6 && mark >= 2.0 * INCH - 1e-6,
                "{name} {beyond}"
            );
        }
    }
    let long = "job: {title: Long}\nsheet: {units: metric}\npaving: [{rectangle: {corner: [0, 0], \
                width: 70 m, depth: 2 m}}]\npavers: {field: {size: [200 mm, 100 mm], thickness: 60 \
                mm}}\nlevels: {finish: {at: A, level: 10 m, fall: 2%, towards: 90°}, instrument: 11.5 m}\n";
    let (found, takeoff, set) = sheets(long);
    let stakes = found.field.stakes.as_ref().expect("stakes");
    assert_eq!(stakes.heights.mark, None);
    near(stakes.heights.above_finish, 150.0, 1e-9);
    let blocks = from_setout::blocks(&found);
    let table = table_of(&blocks, "Offset stakes");
    for (row, (_, stake)) in table.rows.iter().zip(&stakes.stakes) {
        let string = stake.finish + 150.0;
        let wanted = [
            format!("{:.3} m", string / 1e3),
            format!("{:.3} m", 11.5 - string / 1e3),
        ];
        assert_eq!(row.cells[4..6], wanted, "{:?}", row.cells);
    }
    let said: Vec<String> = set.iter().flat_map(|sheet| words(&sheet.items)).collect();
    let said = said.join(" ");
    assert!(
        said.contains("Mark every stake at the level of its string."),
        "{said}"
    );
    assert!(said.contains("Strings are 150 mm above the finish, clear of the ground."));
    let report = report::json(&found, &takeoff, &[], &[]);
    assert!(
        report.contains("\"strings_above_finish_mm\": 150") && report.contains("\"mark_mm\": null")
    );
}

/// A rounded corner is swung from its centre where nothing stands in the way, and always given by
/// offsets; a hole round a tree by points on it.
#[test]
fn arcs_are_set_out_from_the_centre_or_the_chord() {
    let yaml = "job: {title: Round}\n\
        site:\n  structures: [{name: Maple, kind: tree, circle: {centre: [4', 5'], radius: 12\"}}]\n\
        paving:\n  - outline: [[0, 0], [14', 0], [14', 8'], {arc: {to: [10', 12'], radius: 4', side: left}}, [0, 12']]\n\
        \x20   holes: [{circle: {centre: [4', 5'], radius: 2'}}]\n\
        pavers:\n  field: {size: [8\", 4\"], thickness: 3 1/8\"}\n";
    let found = design(yaml);
    let [corner, hole] = found.field.arcs.as_slice() else {
        panic!("{:?}", found.field.arcs);
    };
    assert!(corner.centre_free && !hole.centre_free);
    // √(16 − 0.828²) − 2.828 = 1.085 ft at 2 ft along a chord of 5.657 ft.
    let [station, out] = corner.marks.points[0].chord.unwrap();
    near(station, 2.0 * FOOT, 1e-9);
    near(out, 1.0851 * FOOT, 0.1);
    let named: Vec<String> = found
        .field
        .features
        .iter()
        .map(|f| format!("{:?}", f.what))
        .collect();
    assert_eq!(
        named.iter().filter(|n| n.starts_with("OnArc")).count(),
        hole.marks.points.len()
    );
    assert!(named.iter().any(|n| n.starts_with("Middle(\"Maple\"")));
    assert!(
        named.iter().any(|n| n.starts_with("Centre(\"C-D\"")),
        "{named:?}"
    );
}

/// The sheet of set-out draws the base line with its length and every stake by the name that the
/// table gives it.
#[test]
fn stakes_and_base_line_stand_on_the_plan_as_in_the_table() {
    let found = design(&landing(
        "  points: {S1: [0, -1'], Q: [14', -1']}\n  base_line: [S1, Q]",
        "",
    ));
    let blocks = from_setout::blocks(&found);
    let table = table_of(&blocks, "Offset stakes");
    let (placing, drawn) = drawn(&found, blocks.clone());
    let at = |name: &str| {
        let mut same = drawn.iter().filter(|text| text.text == name);
        let one = same
            .next()
            .unwrap_or_else(|| panic!("no {name} on the plan"));
        assert!(same.next().is_none(), "{name} stands there once");
        one.at
    };
    let set = found.field.stakes.as_ref().expect("stakes");
    assert_eq!(table.rows.len(), set.stakes.len());
    // A point of the survey is called S1, so that the stakes are not.
    for (row, (_, stake)) in table.rows.iter().zip(&set.stakes) {
        let name = &row.cells[0];
        assert!(name.starts_with('T'), "{name}");
        assert!(at(name).distance(placing.at(stake.at)) < 15.0, "{name}");
    }
    for end in ["S1", "Q"] {
        let place = found.base_line.iter().find(|(name, _)| name == end);
        let place = placing.at(place.expect("an end of the base line").1);
        assert!(at(end).distance(place) < 15.0, "{end}");
    }
    at("base line S1 to Q: 14′-0″");
}

/// Beds side by side with one fall: a crew stretches one string along each side of the row, and
/// measures from the row's long side.
#[test]
fn edges_of_one_line_share_a_string_and_a_base_line() {
    let beds = |second: &str| {
        let area = |index: usize, fall: &str| {
            let x = index * 2;
            format!(
                "  - {{name: Bed {index}, outline: [[{x} m, 0], [{} m, 0], [{} m, 3 m], [{x} m, 3 m]]{fall}}}\n",
                x + 2,
                x + 2
            )
        };
        let yaml = format!(
            "job: {{title: Beds}}\nsheet: {{units: metric}}\npaving:\n{}{}{}\
             pavers:\n  field: {{size: [200 mm, 100 mm], thickness: 60 mm}}\n\
             levels: {{finish: {{at: A, level: 0, fall: 2%, towards: 0°}}}}\n",
            area(0, ""),
            area(1, second),
            area(2, "")
        );
        design(&yaml)
    };
    let strings = |design: &groundsheet::design::Design| -> Vec<String> {
        let set = design.field.stakes.as_ref().unwrap();
        let stakes = set.stakes.iter();
        stakes
            .map(|(past, stake)| format!("{past}:{}", stake.edge))
            .collect()
    };
    let row = beds("");
    assert_eq!(
        strings(&row),
        [
            "A:A-G", "G:A-G", "H:H-D", "D:H-D", "D:D-A", "A:D-A", "G:G-H", "H:G-H"
        ]
    );
    assert_eq!(
        row.base_line.each_ref().map(|(name, _)| name.as_str()),
        ["A", "G"]
    );
    assert!(
        row.setout
            .iter()
            .all(|r| r.ties.offset == 0.0 || is_strong(&r.ties))
    );
    // The middle bed falls more steeply from the same line: strings still agree there, and no
    // longer at the other side.
    let broken = strings(&beds(", fall: {fall: 3%}"));
    assert!(broken.contains(&"A:A-G".to_string()), "{broken:?}");
    assert!(broken.contains(&"C:C-D".to_string()), "{broken:?}");
    assert!(!broken.contains(&"H:H-D".to_string()), "{broken:?}");
}

/// A channel is taped by the ends of its middle line, a gully by its middle, a downspout by its
/// outlet: the printed tapes lead there, and the plan bears the names of the table.
#[test]
fn drains_are_taped_and_found_on_the_plan() {
    let site = "  points: {}\n  drains:\n\
        \x20   - {name: Long channel, kind: channel, line: [[2', 9'], [12', 9'-4\"]], width: 5\"}\n\
        \x20   - {name: Gully, kind: point, at: [7', 4'], size: 12\"}\n\
        \x20   - {name: Spout, kind: downspout, at: [10', 6\"], roof: 90 ft²}";
    let found = design(&landing(site, ""));
    let blocks = from_setout::blocks(&found);
    let table = table_of(&blocks, "Other points");
    // The job has a corner D, so that no end is called D1.
    let wanted = [
        ("Long channel 5″ wide, its middle at DR1", (2.0, 9.0)),
        (
            "Long channel 5″ wide, its middle at DR2",
            (12.0, 28.0 / 3.0),
        ),
        ("Middle of Gully, 1′-0″ square", (7.0, 4.0)),
        ("Spout", (10.0, 0.5)),
    ];
    assert_eq!(table.rows.len(), wanted.len());
    let base = [0.0, 14.0 * FOOT].map(|x| Point::new(x, 0.0));
    for (row, (name, (x, y))) in table.rows.iter().zip(wanted) {
        assert_eq!(row.cells[0], name);
        let place = Point::new(x * FOOT, y * FOOT);
        let [along, out] = [1, 2].map(|i| read_length(&row.cells[i]));
        assert!(
            Point::new(along, out).distance(place) <= INCH / 4.0,
            "{name}"
        );
        if name == "Spout" {
            assert!(row.cells[3].starts_with('('), "{:?}", row.cells);
            continue;
        }
        let tapes = [3, 4].map(|i| read_length(&row.cells[i]));
        assert!(
            tie(base, tapes).unwrap().left.distance(place) <= INCH / 4.0,
            "{name}"
        );
    }
    // The crew sets what has a rim, before the bedding is spread.
    let work = from_work::work(&found);
    assert_eq!(work.drains.as_deref(), Some("Long channel, Gully"));
    let steps = notes::order_of_work(&work, found.job.sheet.languages).entries;
    let step = |words: &str| {
        let said = |entry: &Entry| format!("{entry:?}").contains(words);
        steps.iter().position(said)
    };
    let set = step("Set Long channel, Gully by the ties").expect("a step");
    assert!(Some(set) < step("Set rails") && Some(set) > step("Lay the geotextile"));
    let dry = design(&landing("  points: {}", ""));
    assert_eq!(from_work::work(&dry).drains, None);
    let (placing, drawn) = drawn(&found, blocks);
    for (name, (x, y)) in [
        ("DR1", (2.0, 9.0)),
        ("DR2", (12.0, 28.0 / 3.0)),
        ("Gully", (7.0, 4.0)),
        ("Spout", (10.0, 0.5)),
    ] {
        let text = drawn.iter().find(|text| text.text == name);
        let at = text.unwrap_or_else(|| panic!("no {name} on the plan")).at;
        let place = placing.at(Point::new(x * FOOT, y * FOOT));
        assert!(at.distance(place) < 25.0, "{name}");
    }
}

/// No crew drives two stakes at one place: ends of strings that would stand in each other's way are
/// held by one stake, which table, plan and report call by one name.
#[test]
fn stakes_stand_apart_or_are_one() {
    let mut shared = 0;
    for name in [
        "landing",
        "two-walls",
        "pool-surround",
        "hillside-terrace",
        "terrace",
        "bonds",
    ] {
        let design = design(&example(name));
        let set = design.field.stakes.as_ref().expect("stakes");
        let named: Vec<_> = set.names.iter().zip(&set.stakes).collect();
        for (index, (a, (_, one))) in named.iter().enumerate() {
            let corner = one.corner.distance(one.at);
            near(one.from_corner, corner, 1e-6);
            for (b, (_, other)) in &named[..index] {
                let apart = one.at.distance(other.at);
                assert_eq!(a == b, apart < 1e-6, "{name} {a} {b}");
                let stakes = [one.held, other.held] == [Held::Stake; 2];
                assert!(a == b || !stakes || apart >= APART, "{name} {a} {b}");
                shared += usize::from(a == b && stakes);
            }
        }
        let blocks = from_setout::blocks(&design);
        let rows = &table_of(&blocks, "Offset stakes").rows;
        let printed: Vec<_> = rows.iter().map(|row| &row.cells[0]).collect();
        assert_eq!(printed, set.names.iter().collect::<Vec<_>>());
        // Each name stands once on the plan, by its stake.
        let (placing, texts) = drawn(&design, blocks.clone());
        for (stake, (_, set)) in &named {
            let same: Vec<_> = texts.iter().filter(|text| text.text == **stake).collect();
            assert_eq!(same.len(), 1, "{name} {stake}");
            let apart = same[0].at.distance(placing.at(set.at));
            assert!(apart < 25.0, "{name} {stake}: {apart}");
        }
        let takeoff = takeoff::of(&design).expect("a takeoff");
        let report = report::json(&design, &takeoff, &checks::run(&design), &[]);
        let report: serde_json::Value = serde_json::from_str(&report).expect("JSON");
        let list = report["field"]["stakes"]["list"]
            .as_array()
            .expect("stakes");
        let reported: Vec<_> = list
            .iter()
            .filter_map(|stake| stake["name"].as_str())
            .collect();
        assert_eq!(reported, set.names.iter().collect::<Vec<_>>());
    }
    assert!(shared > 0);
}

/// Round a pool that stands the base line lies on its wall and runs so that most corners are on its
/// left; every corner is taped well from there. A job that states its base line keeps it.
#[test]
fn a_pools_wall_is_the_base_line() {
    let job = include_str!("../jobs/pool-surround.yaml");
    let found = design(job);
    let [(from, a), (to, b)] = &found.base_line;
    assert_eq!([from.as_str(), to.as_str()], ["D", "C"]);
    let pool = &found.job.site.structures[0].ring;
    assert!(pool.distance(*a) < 1e-6 && pool.distance(*b) < 1e-6);
    assert!(pool.distance(a.midpoint(*b)) < 1e-6);
    let off = found
        .setout
        .iter()
        .filter(|row| row.ties.offset.abs() > 1.0);
    assert!(off.clone().count() == 6 && off.clone().all(|row| is_strong(&row.ties)));
    assert_eq!(off.filter(|row| row.ties.offset > 0.0).count(), 4);
    let stated = job.replace(
        "site:\n",
        "site:\n  points: {Q1: [0, -1 m], Q2: [9 m, -1 m]}\n  base_line: [Q1, Q2]\n",
    );
    assert_eq!(design(&stated).base_line[0].0, "Q1");
    // A pool far too short for the surround does not reach: the long open side serves.
    let yaml = "job: {title: Far}\nsheet: {units: metric}\n\
        site:\n  structures:\n    - {name: Pool, kind: pool, outline: [[9 m, 0], [9 m, -1 m], [10 m, -1 m], [10 m, 0]]}\n\
        paving:\n  - outline: [[0, 0], [9 m, 0], [10 m, 0], [10 m, 9 m], [5 m, 9.5 m], [0, 9 m]]\n\
        pavers:\n  field: {size: [200 mm, 100 mm], thickness: 60 mm}\n";
    let [(from, a), (_, b)] = design(yaml).base_line;
    assert!(a.distance(b) > 2000.0, "{from}");
}

/// What the tables call an area by stands on the plan of the set-out where there are several.
#[test]
fn areas_are_named_on_the_plan_of_the_set_out() {
    for (job, named) in [
        (
            include_str!("../jobs/hillside-terrace.yaml"),
            vec!["Upper terrace", "Lower terrace"],
        ),
        (
            include_str!("../jobs/pool-surround.yaml"),
            vec!["South side", "East side", "North side", "West side"],
        ),
        (include_str!("../jobs/two-walls.yaml"), vec![]),
    ] {
        let found = design(job);
        let (_, drawn) = drawn(&found, Vec::new());
        for area in &found.areas {
            let texts = drawn.iter().filter(|text| text.text == area.name);
            assert_eq!(
                texts.count(),
                usize::from(named.contains(&area.name.as_str()))
            );
        }
        assert!(named.is_empty() || named.len() == found.areas.len());
    }
}
