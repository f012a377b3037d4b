//! Levels of a job on the printed sheet: readings, what the finish must fit, and the ground about it.

mod common;

use common::setout::{FOOT, INCH, landing, read_length, refused, table_of};
use common::worked::{design, findings, near};
use groundsheet::checks::Status;
use groundsheet::geom::Point;
use groundsheet::sheet::column::{Block, Entry};
use groundsheet::sheet::{from_earth, from_levels, from_plan, from_section, from_water};

/// Without an instrument's height the table prints what to add to the day's reading on the datum:
/// reading = today's reading + (datum − level), whatever the laser's height turns out to be.
#[test]
fn the_days_reading_on_the_datum_gives_every_reading() {
    let desk = design(&landing(
        "  points: {}",
        ", datum: {name: Sill, level: 100'}",
    ));
    let field = design(&landing(
        "  points: {}",
        ", datum: {name: Sill, level: 100'}, instrument: 104.37'",
    ));
    for (desk, field) in desk.setout.iter().zip(&field.setout) {
        assert!(desk.readings.is_none() && field.from_datum.is_none());
        let (add, reading) = (desk.from_datum.unwrap(), field.readings.unwrap());
        near(4.37 * FOOT + add.formation, reading.formation, 1e-9);
        near(4.37 * FOOT + add.finish, reading.finish, 1e-9);
    }
    let blocks = [from_levels::levels(&desk)];
    let table = table_of(&blocks, "Levels and rod readings; datum Sill 100.00′");
    // Finish at A is 99.50: half a foot under the datum.
    let cells = &table.rows[0].cells;
    assert_eq!(cells[cells.len() - 2], "+0.50′");
    // With the laser's height the reading on the datum is what a crew proves it by.
    let proved = format!("{:?}", from_levels::levels(&field));
    assert!(
        proved.contains("on Sill the rod then reads 4.37′."),
        "{proved}"
    );
    let alone = landing("  points: {}", ", instrument: 104.37'");
    let alone = format!("{:?}", from_levels::levels(&design(&alone)));
    assert!(
        alone.contains("They hold for the laser at 104.37′ alone."),
        "{alone}"
    );
}

#[test]
fn readings_are_printed_in_the_units_of_the_rod() {
    let cell = |levels: &str| {
        let design = design(&landing("  points: {}", levels));
        let blocks = [from_levels::levels(&design)];
        let cells = &table_of(&blocks, "Levels and rod readings").rows[0].cells;
        cells[cells.len() - 2].clone()
    };
    // 104.15 − 99.50 = 4.65 ft = 4 ft 7.8 in = 1417.3 mm.
    assert_eq!(cell(", instrument: 104.15'"), "4.65′");
    assert_eq!(cell(", instrument: 104.15', rod: feet-inches"), "4′-7¾″");
    assert_eq!(cell(", instrument: 104.15', rod: metric"), "1.417 m");
    let assumed = |levels: &str| {
        let design = design(&landing("  points: {}", levels));
        let mut keys = design.job.assumed.iter();
        keys.any(|a| a.key == "levels.rod" && a.value == "decimal-feet")
    };
    assert!(assumed(", instrument: 104.15'"));
    assert!(!assumed(", instrument: 104.15', rod: decimal-feet"));
    assert!(!assumed(""));
}

/// A house along the landing whose weep holes are 2 in and a bit above the finish.
#[test]
fn walls_are_kept_clear_all_along() {
    let house = |level: &str| {
        design(&landing(
            &format!(
                "  structures:\n    - {{name: House, kind: building, outline: [[-1', 0], [-1', -9'], [15', -9'], [15', 0]], wall_level: {level}}}"
            ),
            "",
        ))
    };
    let passes = &findings(&house("99.67'"), "levels.wall_clear")[0];
    assert_eq!(passes.status, Status::Pass, "{}", passes.title);
    near(passes.value.unwrap(), 0.17 * FOOT, 1e-6);
    for level in ["99.66'", "{A-B: 99.66'}"] {
        let fails = &findings(&house(level), "levels.wall_clear")[0];
        assert_eq!(fails.status, Status::Fail);
        assert_eq!(
            fails.where_.as_ref().map(ToString::to_string).as_deref(),
            Some("edge A-B")
        );
        assert!(fails.source.contains("local code"));
    }
    let refusal = refused(&landing(
        "  structures:\n    - {name: House, kind: building, outline: [[-1', 0], [-1', -9'], [15', -9'], [15', 0]], wall_level: {B-C: 99.66'}}",
        "",
    ));
    assert!(
        refusal.contains("B-C does not run along this structure"),
        "{refusal}"
    );
}

#[test]
fn risers_are_not_too_high_and_all_alike() {
    let sill = |words: &str| {
        let levels = format!(", sills: [{{name: Door, at: [7', 0], {words}}}]");
        let found = findings(&design(&landing("  points: {}", &levels)), "levels.riser");
        found.iter().map(|f| f.status).collect::<Vec<_>>()
    };
    // One riser of 6 in; one of 9 in; 7 1/2 and 7 1/2; 8 and 7.
    assert_eq!(sill("level: 100'"), [Status::Pass]);
    assert_eq!(sill("level: 100.25'"), [Status::Warn]);
    assert_eq!(
        sill("level: 100.75', steps: [100.125']"),
        [Status::Pass, Status::Pass]
    );
    assert_eq!(
        sill("level: 100.75', steps: [100' 1\"]"),
        [Status::Warn, Status::Warn]
    );
    let refusal = refused(&landing(
        "  points: {}",
        ", sills: [{name: Door, at: [7', 0], level: 100', steps: [100.2']}]",
    ));
    assert!(refusal.contains("not below the one before"), "{refusal}");
}

/// A drive along B-C measured at three places. By its own plane the landing misses it; by the best
/// plane through the fixed levels it meets it within the tolerance.
#[test]
fn an_edge_meets_a_measured_surface() {
    let drive = |finish: &str, lip: &str| {
        landing("  points: {}", "").replace(
            "levels: {finish: {at: A, level: 99.5', fall: 2%, away_from: A-B}}",
            &format!(
                "levels:\n  finish: {finish}\n  fixed:\n    - {{edge: B-C, surface: the drive, levels: [[B, 99.40'], [14', 6', 99.23'], [C, 99.10']], lip: {lip}}}\n    - {{edge: A-B, surface: the slab, levels: [[A, 99.60']]}}"
            ),
        )
    };
    let own = "{at: A, level: 99.5', fall: 2%, away_from: A-B}";
    let found = findings(&design(&drive(own, "1/4\"")), "levels.lip");
    assert_eq!(found[0].status, Status::Fail, "{}", found[0].title);
    // At C the finish is 99.5 − 0.24 = 99.26, the drive 99.10.
    near(found[0].value.unwrap(), 0.16 * FOOT, 1e-6);
    assert_eq!(
        found[0].where_.as_ref().map(ToString::to_string).as_deref(),
        Some("edge B-C")
    );
    let best = design(&drive("{through: fixed}", "1/4\""));
    let found = findings(&best, "levels.lip");
    assert!(found.iter().all(|f| f.status == Status::Pass), "{found:#?}");
    // Least squares along B-C: 99.40, 99.23, 99.10 about their mean 99.2433 fall by 0.025 per foot,
    // so that the residuals are 0.0067, −0.0133, 0.0067.
    near(found[0].value.unwrap(), 0.0133 * FOOT, 0.02);
    near(
        best.areas[0].plane.level_at(Point::default()),
        99.60 * FOOT,
        1e-6,
    );
    let strict = findings(&design(&drive("{through: fixed}", "1/16\"")), "levels.lip");
    assert_eq!(strict[0].status, Status::Fail);

    let line = drive(
        "{through: [[A, 99.5'], [B, 99.4'], [7', 0, 99.45']]}",
        "1/4\"",
    );
    assert!(refused(&line).contains("levels that fix no plane"));
    let beside = drive(own, "1/4\"").replace("[14', 6', 99.23']", "[10', 6', 99.23']");
    assert!(refused(&beside).contains("from the edge B-C"));
    let both = drive("{through: fixed, fall: 2%}", "1/4\"");
    assert!(refused(&both).contains("`fall` beside `through`"));
}

/// One edge takes all the water: the table says so.
#[test]
fn the_way_of_the_water_is_told_of_one_outlet_too() {
    let blocks = from_water::blocks(&design(&landing("  points: {}", "")));
    let table = table_of(&blocks, "Where the water leaves");
    assert_eq!(table.rows.len(), 1);
    assert_eq!(table.rows[0].cells[0], "over the open edge C-D of Landing");
    assert_eq!(table.rows[0].cells[2], "100.0%");
}

/// Where the ground outside an edge stands above its finish, the sheet of the dig says of which
/// edges, by how much and where, that the crew grades it away, and no slope that the job does not
/// state; the section marks it where it cuts such an edge.
#[test]
fn ground_above_the_finish_is_told_edge_by_edge() {
    let courtyard = design(include_str!("../jobs/two-walls.yaml"));
    let sheet = from_earth::sheet(&courtyard, &from_plan::plan(&courtyard)).expect("spot levels");
    let table = table_of(&sheet.blocks, "Ground to grade away");
    let holding = || courtyard.banks.iter().filter(|bank| bank.holds());
    assert_eq!(table.rows.len(), holding().count());
    assert!(table.rows.len() >= 4);
    // Measured at H2, though nothing is beyond it: 3 % over 20 ft at 45° to the fall.
    let highest = holding().map(|bank| bank.above).fold(0.0, f64::max);
    near(highest, 0.03 * 240.0 * INCH / f64::sqrt(2.0), 0.01 * INCH);
    // The soil round the tree would hold what runs to it over the two upper edges of its hole.
    let trees = holding().filter(|bank| !bank.trees.is_empty());
    let trees: Vec<&str> = trees.map(|bank| bank.edge.as_str()).collect();
    assert_eq!(trees, ["E-F", "H-E"]);
    let words = told(&sheet.blocks, "Ground to grade away");
    for told in [
        "its soil is in none of the quantities.",
        "Round Maple take the soil down by hand and cut no root; ask someone who knows trees.",
    ] {
        assert!(words.contains(told), "{words}");
    }
    let earth = sheet.plan.and_then(|plan| plan.earth.clone());
    let earth = earth.expect("the ground");
    assert_eq!(earth.banks.len(), table.rows.len());
    for ((row, bank), (at, words)) in table.rows.iter().zip(holding()).zip(&earth.banks) {
        assert_eq!(row.cells[0], bank.edge);
        near(read_length(&row.cells[1]), bank.above, INCH / 16.0);
        let (_, edge) = courtyard.job.site.edge(&bank.edge).unwrap();
        assert!(edge.edge.distance(bank.at) < 1e-6 && at.distance(bank.at) < 1e-6);
        let (away, corner) = match row.cells[2].strip_prefix("at ") {
            Some(corner) => ("0\"", corner),
            None => row.cells[2].split_once(" from ").unwrap(),
        };
        let corner = courtyard.job.site.corner(corner).unwrap();
        near(read_length(away), corner.at.distance(bank.at), INCH / 16.0);
        assert_eq!(*words, format!("ground {} above finish", row.cells[1]));
    }
    // The section's far end lies in such ground: both levels are on the section.
    let section = &from_section::sections(&courtyard)[0];
    let [(_, level, words)] = &section.banks[..] else {
        panic!("{:?}", section.banks);
    };
    let finish = section.levels.iter().map(|(_, level, _)| *level);
    let lowest = finish.fold(f64::INFINITY, f64::min);
    let above = words
        .strip_prefix("ground ")
        .and_then(|w| w.split_once(" above"));
    near(read_length(above.unwrap().0), level - lowest, INCH / 16.0);
    // A landing whose ground lies at the finish has nothing to grade.
    let spots = "  ground:\n    - [-2', -1', 99.4']\n    - [16', -1', 99.4']\n    - [16', 14', 99.2']\n    - [-2', 14', 99.2']";
    let level = design(&landing(spots, ""));
    let sheet = from_earth::sheet(&level, &from_plan::plan(&level)).expect("spot levels");
    let mut titles = sheet.blocks.iter().map(|block| &block.title);
    assert!(titles.all(|title| title != "Ground to grade away"));
    assert!(from_section::sections(&level)[0].banks.is_empty());
    // Beside no tree, none is spoken of.
    let terrace = design(include_str!("../jobs/hillside-terrace.yaml"));
    let sheet = from_earth::sheet(&terrace, &from_plan::plan(&terrace)).expect("spot levels");
    let words = told(&sheet.blocks, "Ground to grade away");
    assert!(words.contains("none of the quantities.") && !words.contains("root"));
}

/// The paragraphs of a block, by its title.
fn told(blocks: &[Block], title: &str) -> String {
    let block = blocks.iter().find(|block| block.title == title);
    let entries = &block.unwrap_or_else(|| panic!("no {title}")).entries;
    let words = entries.iter().filter_map(|entry| match entry {
        Entry::Paragraph { words, .. } => Some(words.as_str()),
        _ => None,
    });
    words.collect::<Vec<_>>().join(" ")
}
