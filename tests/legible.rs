//! What readers of the example sheets looked for: whether words fit their tables, whether what a
//! table names stands on its plan, whether details are large enough to be seen.

mod common;

use common::worked::{design, example, examples, findings, sheets, words};
use groundsheet::draw::{Colour, Item, Sheet, conflicts};
use groundsheet::sheet::column::{Block, Entry};
use groundsheet::sheet::{from_levels, from_water};
use groundsheet::units::print;

fn lettered(sheets: &[Sheet]) -> Vec<String> {
    sheets
        .iter()
        .flat_map(|sheet| words(&sheet.items))
        .collect()
}

/// The headings and rows of every table of a block, in order.
fn tables(block: &Block) -> Vec<(Vec<String>, Vec<Vec<String>>)> {
    let tables = block.entries.iter().filter_map(|entry| match entry {
        Entry::Table(table) => Some((
            table.columns.iter().map(|c| c.head.clone()).collect(),
            table.rows.iter().map(|row| row.cells.clone()).collect(),
        )),
        _ => None,
    });
    tables.collect()
}

/// A yard of one rectangle without a datum, and what more its `levels` say.
fn yard(levels: &str) -> String {
    format!(
        "job: {{title: Yard}}\nsheet: {{units: metric}}\n\
         paving: [{{name: Yard, rectangle: {{corner: [0, 0], width: 3 m, depth: 2 m}}}}]\n\
         pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}\n\
         levels: {{finish: {{at: A, level: 10 m, fall: 2%, towards: 0°}}{levels}}}\n"
    )
}

/// Every layer that the order of work has measured stands in the table of levels with a blank to
/// write what was found, whether readings can be given or not.
#[test]
fn every_layer_has_a_figure_and_a_blank() {
    for (more, lead) in [
        ("", ""),
        (", datum: {name: Sill, level: 10.1 m}", "Add for\n"),
        (", instrument: 11.4 m", "Rod on\n"),
    ] {
        let block = from_levels::levels(&design(&yard(more)));
        let (heads, rows) = tables(&block).pop().expect("a table");
        for layer in ["formation", "rail", "bedding", "panel", "finish"] {
            let wanted = match lead {
                "" => format!("{}{}\nlevel", layer[..1].to_uppercase(), &layer[1..]),
                lead => format!("{lead}{layer}"),
            };
            let at = heads.iter().position(|head| *head == wanted);
            let at = at.unwrap_or_else(|| panic!("{wanted:?} in {heads:?}"));
            assert_eq!(heads[at + 1], "Read");
            assert!(
                rows.iter()
                    .all(|row| !row[at].is_empty() && row[at + 1].is_empty())
            );
        }
    }
}

/// Without a datum the sheet says what its levels are counted from, and how far over it stakes
/// are marked: the fall of 2 % over 2 m and 0.75 m beyond is 55 mm, and strings 150 mm above the
/// finish there are 95 mm above it at A.
#[test]
fn levels_without_a_datum_are_tied_to_a_corner() {
    let all = lettered(&sheets(&yard("")).2).join(" ");
    assert!(all.contains("the finish at A counts as 10.000 m"), "{all}");
    assert!(all.contains("95 mm above the finish at A"), "{all}");
    let tied = lettered(&sheets(&yard(", datum: {name: Sill, level: 10.1 m}")).2).join(" ");
    assert!(!tied.contains("counts as") && !tied.contains("above the finish at"));
}

/// The order of work proves the corners by what the set-out tables hold.
#[test]
fn corners_are_proved_by_what_the_tables_give() {
    let square = lettered(&sheets(&yard("")).2).join(" ");
    assert!(square.contains("Lengths that prove the shape") && square.contains("3-4-5"));
    assert!(
        square.contains("prove the shape by the lengths and the 3-4-5 squares"),
        "{square}"
    );
    let pool = lettered(&sheets(&example("pool-surround")).2).join(" ");
    assert!(pool.contains("Lengths that prove the shape") && !pool.contains("Square corners"));
    assert!(
        pool.contains("prove the shape by the lengths of the"),
        "{pool}"
    );
    assert!(!pool.contains("diagonals"));
}

/// A step that no shared edge has takes no column.
#[test]
fn a_table_of_shared_edges_names_the_higher_side_only_where_there_is_one() {
    let blocks = from_water::blocks(&design(&example("pool-surround")));
    let (heads, rows) = blocks.iter().flat_map(tables).next().expect("a table");
    assert_eq!(
        heads,
        ["Edge", "Between", "It is a", "Step", "Change\nof fall"]
    );
    assert!(
        rows.iter()
            .all(|row| row.len() == heads.len() && row[3] == "none")
    );
}

/// What the tables of the survey call by name stands on the plan of the ground, and what is
/// measured on the path is told from the soil beside it.
#[test]
fn measured_points_and_surfaces_are_lettered_on_the_plans() {
    let (design, _, sheets) = sheets(&example("hillside-terrace"));
    let all = lettered(&sheets);
    let spots = design.job.levels.ground.iter();
    let named = spots.filter_map(|spot| design.job.survey.name_at(spot.at));
    let named: Vec<&str> = named.filter(|name| name.starts_with('G')).collect();
    assert_eq!(named, ["G1", "G2", "G3", "G4", "G5", "G6", "G7", "G8"]);
    for name in named {
        let point = design
            .job
            .survey
            .points
            .iter()
            .find(|point| point.name == name);
        let at = point.expect("a point").at;
        let spot = design
            .job
            .levels
            .ground
            .iter()
            .find(|spot| spot.at.distance(at) < 1.0);
        let level = print::level(
            groundsheet::units::Length::from_mm(spot.expect("a spot").level),
            design.job.sheet.units,
        );
        assert!(all.contains(&format!("{name} {level}")), "{name} {level}");
    }
    assert!(all.contains(&"K1: the path 99.04′".to_string()));
    assert!(all.contains(&"the path 99.17′".to_string()));
    let path = all.iter().filter(|words| *words == "The path").count();
    assert!(path >= 3, "on the plan, the set-out, the ground: {path}");
    let text = all.join(" ");
    assert!(text.contains("P3, K1, P5: on the path."), "{text}");
    assert!(
        text.contains("Ground level is of the soil beside the path"),
        "{text}"
    );
}

/// A piece cut aslant is narrower than its cut: the triangle of 113 mm by 113 mm is 80 mm across.
#[test]
fn the_narrowest_piece_is_told_from_its_cut() {
    let design = design(&example("pool-surround"));
    let found = findings(&design, "panels.narrow");
    assert_eq!(
        found[0].title.to_string(),
        "Narrowest panel piece is 80 mm across, aslant in a cut of 113 mm × 113 mm (at least 100 mm)"
    );
}

/// A channel stands before the bedding is spread: rails end at its sides.
#[test]
fn rails_end_at_a_channel() {
    let design = design(&example("hillside-terrace"));
    let grates = design.drains.iter().filter_map(|drain| drain.grate);
    let sides: Vec<_> = grates
        .map(|g| [g[0].midpoint(g[3]), g[1].midpoint(g[2])])
        .collect();
    assert_eq!(sides.len(), 1);
    let [from, to] = sides[0];
    let off = |p: groundsheet::geom::Point| {
        let along = (to - from).unit().expect("a length");
        (p - from).dot(along.left())
    };
    let runs: Vec<_> = design.rails.runs().collect();
    // Four rails, of which the middle two end at the channel and go on beyond it.
    assert!(runs.len() > design.rails.all().count());
    for [a, b] in runs {
        let along = (to - from).unit().expect("a length");
        let beside = |p: groundsheet::geom::Point| (p - from).dot(along);
        let (t, long) = (beside(a.midpoint(b)), from.distance(to));
        let crosses = off(a) * off(b) < 0.0 && (0.0..=long).contains(&t);
        assert!(!crosses, "{a:?} {b:?}");
    }
}

/// The edge detail of every example is drawn at a scale at which its layers are seen, with its
/// words beside it: 1:12 or larger.
#[test]
fn edge_details_are_large_enough() {
    for name in examples() {
        let (_, _, sheets) = sheets(&example(&name));
        let all = lettered(&sheets);
        let at = all.iter().position(|words| words == "Edge detail");
        let scale = at.and_then(|at| all.get(at + 1)).expect("a scale");
        let large = ["1:5", "1:10", "1″ = 1′-0″", "1½″ = 1′-0″", "3″ = 1′-0″"];
        assert!(large.contains(&scale.as_str()), "{name}: {scale}");
        assert!(all.iter().any(|words| words == "Geotextile"), "{name}");
        assert!(
            !all.iter()
                .any(|words| words.starts_with("Edge detail: numbers"))
        );
    }
}

/// A dig that ends where the base does is one line with it, and one row of the key.
#[test]
fn a_dig_under_the_base_has_no_line_of_its_own_in_the_key() {
    let key = |yaml: &str| words(&sheets(yaml).2[0].items);
    let with = |words: &[String], row: &str| words.iter().any(|word| word == row);
    let alike = key(&yard(""));
    assert!(with(&alike, "Base panels and dig, edge") && !with(&alike, "Dig, edge"));
    let apart = key(&format!("{}excavation: {{extension: 400 mm}}\n", yard("")));
    assert!(with(&apart, "Base panels, edge") && with(&apart, "Dig, edge"));
}

/// On the crew's plan nothing but a nail is a filled black dot, so that a copy shows which is which.
#[test]
fn only_nails_are_small_black_dots() {
    fn dots(items: &[Item], group: &str, found: &mut Vec<String>) {
        for item in items {
            match item {
                Item::Group(inner) => dots(&inner.items, &inner.id, found),
                Item::Path(path) => {
                    let round = path.outline.len() == 6 && path.stroke.is_none();
                    if round && path.fill == Some(Colour::BLACK) {
                        found.push(group.to_string());
                    }
                }
                Item::Text(_) => {}
            }
        }
    }
    let (design, _, sheets) = sheets(&example("landing"));
    let mut found = Vec::new();
    dots(&sheets[0].items, "", &mut found);
    let laid = design.edging.by_edge.iter().flat_map(|edge| &edge.laid);
    let nails: usize = laid.map(|piece| piece.nails.len()).sum();
    found.retain(|group| group.starts_with("plan-"));
    assert_eq!(found, vec!["plan-nails"; nails]);
}

/// Beside a round dig a section line aslant ends where north stands on other sheets: the sign takes
/// another corner.
#[test]
fn north_stands_clear_of_a_section_line() {
    let job = "job: {title: Round}\n\
        sheet: {units: feet-inches, paper: a4, turn: landscape, audience: bid, north: 116°}\n\
        paving:\n  - circle: {centre: [150\", 150\"], radius: 118\"}\n\
        pavers: {field: {size: [8\", 4\"], thickness: 60 mm}}\n\
        levels: {finish: {at: [150\", 150\"], level: 99.75', fall: 2%, towards: 330°}}\n";
    for sheet in &sheets(job).2 {
        assert_eq!(conflicts(sheet), [], "{}", sheet.title);
    }
}

/// The head of an arrow at a radius is broader than its shaft: no mark of a panel stands under it.
#[test]
fn an_arrow_head_strikes_no_words() {
    let job = "job: {title: Walk}\n\
        sheet: {units: feet-inches, paper: tabloid, north: -58°, language: fr}\n\
        site:\n  structures: [{name: House, kind: building, outline: [[-30\", -80\"], [205\", -80\"], [205\", 0\"], [-30\", 0\"]]}]\n\
        paving:\n  - outline: [[0, 0], [165\", 0], [165\", 114\"], {arc: {to: [121\", 158\"], radius: 44\", side: left}}, [0, 158\"]]\n\
        \x20   bond: running\n    start: {corner: A, along: A-B}\n\
        pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}\n\
        levels: {datum: {name: Peg on the kerb, level: 100'}, instrument: 103.75', finish: {at: A, level: 99.75', fall: 2%, away_from: A-B}}\n";
    for sheet in &sheets(job).2 {
        assert_eq!(conflicts(sheet), [], "{}", sheet.title);
    }
}
