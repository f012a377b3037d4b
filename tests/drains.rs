//! Drains of whole jobs: what they take, what is wrong with them, and where they are named. Sums are
//! done by hand beside each.

mod common;

use common::planes::{TO_EAST, TO_WEST, one, pair};
use common::said::in_every_language;
use common::worked::{design, findings_of, sheets, status, words};
use groundsheet::checks::Status;
use groundsheet::draw::Item;
use groundsheet::job;

/// A channel along the level valley takes all of the 6 m by 4 m. At 100 mm/h and a runoff of 0.85:
/// 0.85 × 100 × 24 / 3600 = 0.5667 l/s.
#[test]
fn a_channel_in_the_valley_takes_the_water_that_it_held() {
    let site = "site:\n  rainfall: 100 mm/h\n  drains: [{name: Middle, kind: channel, \
                line: [[3 m, 0], [3 m, 4 m]], width: 100 mm, set_down: 5 mm}]\n";
    let job = pair(TO_EAST, TO_WEST, site);
    assert_eq!(status(&job, "levels.low_point"), [Status::Pass]);
    assert_eq!(status(&job, "drains.catchment"), [Status::Pass]);
    let design = design(&job);
    let drain = &design.drains[0];
    assert!((drain.catchment_m2 - 24.0).abs() < 1e-3, "{drain:?}");
    assert!((drain.flow.unwrap() - 0.85 * 100.0 * 24.0 / 3600.0).abs() < 1e-4);
    assert_eq!(drain.rim, [-5.0, -5.0]);
    assert!((design.water.share("drain") - 1.0).abs() < 1e-6);
    let assumed = |key: &str| design.job.assumed.iter().any(|a| a.key == key);
    assert!(assumed("site.runoff") && !assumed("site.drains[0].set_down"));
}

/// A gully of 300 mm whose middle is 2 m down a plane takes a strip of 0.3 m × 1.85 m and its own
/// 0.09 m²; its rim is 40 mm + 3 mm below the upper edge. A downspout 1 m above it adds its roof.
#[test]
fn a_gully_on_a_plane_takes_the_strip_above_it() {
    let yard = |drains: &str| {
        format!(
            "job: {{title: Gully}}\nsheet: {{units: metric}}\nsite:\n  rainfall: 36 mm/h\n  runoff: 1\n  drains:\n{drains}\
             paving:\n- {{name: Yard, rectangle: {{corner: [0, 0], width: 6 m, depth: 4 m}}}}\n\
             pavers:\n  slab: {{size: [300 mm, 300 mm], thickness: 40 mm}}\n\
             levels: {{finish: {{at: A, level: 0, fall: 2%, towards: 0°}}}}\n"
        )
    };
    let gully = "  - {name: Gully, kind: point, at: [3 m, 2 m]}\n";
    let design_of = |extra: &str| design(&yard(&format!("{gully}{extra}")));
    let alone = design_of("");
    let drain = &alone.drains[0];
    assert!((drain.catchment_m2 - 0.645).abs() < 1e-6, "{drain:?}");
    assert!((drain.flow.unwrap() - 0.00645).abs() < 1e-8);
    assert!((drain.rim[0] + 43.0).abs() < 1e-9);
    // A square of 300 mm lies on the corner of four slabs of the bond or cuts more.
    assert!(drain.pavers_cut >= 2 && drain.panels_cut >= 1, "{drain:?}");
    // The pavers' area is less by the grate.
    let none = design(&yard("  - {kind: downspout, at: [1 m, 0]}\n"));
    assert_eq!(none.drains[0].pavers_cut, 0);
    let with = design_of("  - {name: Roof, kind: downspout, at: [3 m, 1 m], roof: 40 m²}\n");
    assert!((with.drains[0].roof_m2 - 40.0).abs() < 1e-12);
    assert!((with.drains[0].flow.unwrap() - 0.40645).abs() < 1e-8);
    let roofed = yard(&format!(
        "{gully}  - {{name: Roof, kind: downspout, at: [3 m, 1 m], roof: 40 m²}}\n"
    ));
    let found = &findings_of(&roofed, "drains.downspout")[0];
    assert_eq!(found.status, Status::Pass);
    assert!(
        found.title.to_string().contains("runs to Gully"),
        "{}",
        found.title
    );
}

/// A gully at the very top of the plane catches nothing but what falls on it.
#[test]
fn a_gully_that_no_water_runs_to_is_warned_of() {
    let drains = |at: &str| format!("site:\n  drains: [{{name: Dry, kind: point, at: {at}}}]\n");
    let top = one(&drains("[1 m, 150 mm]"), "towards: 0°");
    assert_eq!(status(&top, "drains.catchment"), [Status::Warn]);
    let lower = one(&drains("[1 m, 2 m]"), "towards: 0°");
    assert_eq!(status(&lower, "drains.catchment"), [Status::Pass]);
}

#[test]
fn a_downspout_whose_water_is_held_fails() {
    let spout = "site:\n  drains: [{name: Corner, kind: downspout, at: [1 m, 1 m], roof: 20 m²}]\n";
    let held = pair(TO_EAST, TO_WEST, spout);
    assert_eq!(status(&held, "drains.downspout"), [Status::Fail]);
    let east = "{at: [3 m, 0], level: 0, fall: 2%, towards: 90°}";
    assert_eq!(
        status(&pair(TO_EAST, east, spout), "drains.downspout"),
        [Status::Pass]
    );
}

/// Every misuse of the keys comes back at its line with what would be right.
#[test]
fn misused_keys_of_drains_are_refused() {
    let cases = [
        ("drains: {kind: point}", "site.drains is a mapping"),
        (
            "drains: [{at: [1 m, 1 m]}]",
            "`site.drains[0].kind` is missing",
        ),
        (
            "drains: [{kind: gully, at: [1 m, 1 m]}]",
            "site.drains[0].kind is `gully`",
        ),
        ("drains: [{kind: point}]", "`site.drains[0].at` is missing"),
        (
            "drains: [{kind: channel}]",
            "`site.drains[0].line` is missing",
        ),
        (
            "drains: [{kind: channel, line: [[0, 0]]}]",
            "site.drains[0].line is a list",
        ),
        (
            "drains: [{kind: channel, line: [[1 m, 1 m], [1 m, 1 m]]}]",
            "a channel without length",
        ),
        (
            "drains: [{kind: point, at: [1 m, 1 m], line: [[0, 0], [1 m, 0]]}]",
            "`line` of a drain",
        ),
        (
            "drains: [{kind: point, at: [1 m, 1 m], roof: 20 m²}]",
            "`roof` of a drain of kind point",
        ),
        (
            "drains: [{kind: downspout, at: [1 m, 1 m], set_down: 3 mm}]",
            "`set_down` of a drain",
        ),
        (
            "drains: [{kind: point, at: [1 m, 1 m], grate: 3 mm}]",
            "`grate` is not a key",
        ),
        (
            "drains: [{kind: point, at: [30 m, 1 m]}]",
            "site.drains[0].at is not on the paving",
        ),
        ("drains: [{kind: point, at: Z}]", "site.drains[0].at is `Z`"),
        (
            "drains: [{kind: point, at: [1 m, 1 m], size: 3 m}]",
            "site.drains[0].size is `3 m`",
        ),
        (
            "drains: [{kind: point, at: [1 m, 1 m], size: 0}]",
            "site.drains[0].size is `0`",
        ),
        (
            "drains: [{kind: point, at: [1 m, 1 m], set_down: -3 mm}]",
            "set_down is `-3 mm`",
        ),
        (
            "drains: [{kind: downspout, at: [1 m, 1 m], roof: 20 m}]",
            "roof is `20 m`",
        ),
        (
            "drains: [{kind: point, at: [1 m, 1 m]}, {kind: point, at: [1.1 m, 1 m]}]",
            "site.drains[1] lies over the drain `Drain 1`",
        ),
        (
            "drains: [{name: A, kind: point, at: [1 m, 1 m]}, {name: A, kind: point, at: [2 m, 1 m]}]",
            "a second drain named `A`",
        ),
        ("rainfall: 100", "site.rainfall is `100`"),
        ("rainfall: 0", "site.rainfall is `0`"),
        ("runoff: 0.9", "`site.runoff` without `site.rainfall`"),
        ("rainfall: 4 in/h\n  runoff: 1.2", "site.runoff is `1.2`"),
    ];
    for (keys, wanted) in cases {
        let yaml = pair(TO_EAST, TO_WEST, &format!("site:\n  {keys}\n"));
        let errors = in_every_language(job::read(yaml.as_bytes()).expect_err(keys));
        let found = errors.iter().find(|error| error.found.contains(wanted));
        let found = found.unwrap_or_else(|| panic!("{keys}: {errors:#?}"));
        assert!(found.place.is_some_and(|place| place.line > 7), "{found:?}");
        assert!(found.wanted.is_some(), "{found:?}");
    }
}

/// The sign of a downspout keeps other words off, not its own: with room round it, it is named on
/// each plan that shows it, and in no list of what was left off.
#[test]
fn a_downspout_is_named_where_it_stands() {
    let (_, _, set) = sheets(include_str!("../jobs/hillside-terrace.yaml"));
    let setout = set.iter().find(|sheet| sheet.title.contains("Set-out"));
    for sheet in [&set[0], setout.expect("there is a plan of the set-out")] {
        let said = words(&sheet.items);
        let labels = |item: &Item| match item {
            Item::Group(group) if group.id.starts_with("plan-") => words(&group.items),
            _ => Vec::new(),
        };
        let on_plan: Vec<String> = sheet.items.iter().flat_map(labels).collect();
        let named = on_plan.iter().filter(|run| *run == "Downspout").count();
        assert_eq!(named, 1, "{}: {on_plan:?}", sheet.title);
        let listed = said
            .iter()
            .any(|run| run.contains("not lettered") || run.contains("numbers in place of words"));
        let whole = said
            .iter()
            .filter(|run| {
                run.contains("have no mark on the plan") || run.contains("has no mark on the plan")
            })
            .count();
        assert_eq!(usize::from(listed), whole, "{}", sheet.title);
    }
}
