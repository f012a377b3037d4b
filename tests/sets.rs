//! Whole sets of sheets from a job: a plan in parts with its match lines, key plans and index;
//! clouds round what a revision changed; and sheets over small pages.

mod common;

use std::collections::{BTreeMap, BTreeSet};

use common::worked::{self, near, sheets, words};
use groundsheet::diag::Severity;
use groundsheet::draw::{
    Colour, Dash, Group, Item, Paper, Path, Pt, Rect, Sheet, Step, Text, conflicts,
};
use groundsheet::sheet::{from_plan, pen, tile};

/// An L of 24 m by 16 m with legs of 4 m: on A3 at 1:50 a plan in parts, of which those in the
/// open angle hold nothing. A sewer runs along the long leg, and beyond it.
const PARTS: &str = "\
job: {title: Walk round the yard}
sheet: {units: metric, paper: a3, turn: landscape}
site:
  services:
    - {name: Sewer, kind: sewer, line: [[-3 m, 2 m], [27 m, 2 m]], depth: 2 m}
paving:
  - name: Walk
    outline: [[0, 0], [24 m, 0], [24 m, 4 m], [4 m, 4 m], [4 m, 16 m], [0, 16 m]]
    start: {corner: A, along: A-B}
pavers:
  slab: {size: [600 mm, 400 mm], thickness: 50 mm}
";

fn groups<'a>(items: &'a [Item], id: &str) -> Vec<&'a Group> {
    let mut found = Vec::new();
    for item in items {
        if let Item::Group(group) = item {
            if group.id == id {
                found.push(group);
            } else {
                found.extend(groups(&group.items, id));
            }
        }
    }
    found
}

fn texts(items: &[Item]) -> Vec<&Text> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Group(group) => all.extend(texts(&group.items)),
            Item::Text(found) => all.push(found),
            Item::Path(_) => {}
        }
    }
    all
}

fn paths(items: &[Item]) -> Vec<&Path> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Group(group) => all.extend(paths(&group.items)),
            Item::Path(found) => all.push(found),
            Item::Text(_) => {}
        }
    }
    all
}

/// The paths that no window cuts.
fn unclipped(items: &[Item]) -> Vec<&Path> {
    let mut all = Vec::new();
    for item in items {
        match item {
            Item::Group(group) if group.clip.is_none() => all.extend(unclipped(&group.items)),
            Item::Path(found) => all.push(found),
            Item::Group(_) | Item::Text(_) => {}
        }
    }
    all
}

fn points(outline: &[Step]) -> Vec<Pt> {
    let each = |step: &Step| match *step {
        Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p) => Some(p),
        Step::Close => None,
    };
    outline.iter().filter_map(each).collect()
}

fn around(path: &Path) -> Rect {
    Rect::around(points(&path.outline)).expect("a path has points")
}

/// The one run of text that says this.
fn run<'a>(sheet: &'a Sheet, says: &str) -> &'a Text {
    let all = texts(&sheet.items);
    let mut found = all.into_iter().filter(|text| text.text == says);
    let one = found.next().unwrap_or_else(|| panic!("no `{says}`"));
    assert!(found.next().is_none(), "`{says}` twice");
    one
}

/// The part that a sheet shows, as row and column.
fn part(sheet: &Sheet) -> Option<(u8, u32)> {
    let (_, rest) = sheet.title.split_once(": Plan, part ")?;
    let name = rest.split(';').next()?.trim();
    Some((name.as_bytes()[0], name[1..].parse().ok()?))
}

fn name((row, column): (u8, u32)) -> String {
    format!("{}{column}", char::from(row))
}

/// Every sheet of the set can be read, says which of how many it is, and stands under its number
/// in the first sheet's index with what it shows.
#[test]
fn a_set_in_parts_is_numbered_and_listed() {
    let (_, _, set) = sheets(PARTS);
    let listed = texts(&set[0].items);
    run(&set[0], "Sheets of this set");
    for (index, sheet) in set.iter().enumerate() {
        assert_eq!(conflicts(sheet), [], "{}", sheet.title);
        let (number, count) = (index + 1, set.len());
        run(sheet, &format!("{number} of {count}"));
        let shows = format!(" – sheet {number} of {count}: ");
        let (_, shows) = sheet.title.split_once(&shows).expect("its number");
        let entry = listed.iter().any(|mark| {
            let beside = |text: &&&Text| (text.at.y - mark.at.y).abs() < 1e-6;
            let mut beside = listed.iter().filter(beside);
            mark.text == number.to_string() && beside.any(|text| shows.starts_with(&text.text))
        });
        assert!(entry, "{number} is not listed with {shows}");
        let paper = Rect::between(Pt::default(), Pt::new(sheet.width.0, sheet.height.0));
        for path in unclipped(&sheet.items) {
            let inside =
                Rect::around(points(&path.outline)).is_none_or(|around| paper.holds(around));
            assert!(inside, "{}: off the paper", sheet.title);
        }
    }
}

/// Parts are named by row and column from the top left, on the overview and by one another: a
/// match line says on each side which part lies beyond, and says it on that side of the sheet.
#[test]
fn parts_of_a_plan_name_one_another_across_match_lines() {
    let (_, _, set) = sheets(PARTS);
    let parts: BTreeMap<(u8, u32), &Sheet> =
        set.iter().filter_map(|s| part(s).map(|p| (p, s))).collect();
    let rows: BTreeSet<u8> = parts.keys().map(|part| part.0).collect();
    let columns: BTreeSet<u32> = parts.keys().map(|part| part.1).collect();
    assert!(rows.len() > 1 && columns.len() > 1, "{parts:?}");
    // The open angle of the L lies to the right at the top: nothing is dug there.
    let last = *columns.last().unwrap();
    assert!(!parts.contains_key(&(b'A', last)));
    assert_eq!(parts.len(), rows.len() + columns.len() - 1);
    for (&(row, column), sheet) in &parts {
        let all = texts(&sheet.items);
        let panels = paths_of_panels(sheet).centre();
        for (beyond, right, down) in [
            ((row, column + 1), 1.0, 0.0),
            ((row, column - 1), -1.0, 0.0),
            ((row + 1, column), 0.0, 1.0),
            ((row - 1, column), 0.0, -1.0),
        ] {
            let says = format!("Match line: part {}", name(beyond));
            let at = all.iter().find(|t| t.text == says).map(|t| t.at);
            let there = rows.contains(&beyond.0) && columns.contains(&beyond.1);
            assert_eq!(at.is_some(), there, "{} to {says}", name((row, column)));
            let to = at.map_or(1.0, |at| {
                (at.x - panels.x) * right + (at.y - panels.y) * down
            });
            assert!(
                to > 0.0,
                "{} has {says} on another side",
                name((row, column))
            );
        }
    }
    // The overview: a name for every cell, in rows and columns, between its match lines.
    let at = |part| run(&set[0], &name(part)).at;
    let cells = || {
        rows.iter()
            .flat_map(|row| columns.iter().map(|c| (*row, *c)))
    };
    for part in cells().filter(|part| columns.contains(&(part.1 + 1))) {
        assert!(at(part).x < at((part.0, part.1 + 1)).x);
    }
    for part in cells().filter(|part| rows.contains(&(part.0 + 1))) {
        assert!(at(part).y < at((part.0 + 1, part.1)).y - 10.0);
    }
    let drawn = groups(&set[0].items, "plan-dimensions");
    let lines = drawn
        .iter()
        .flat_map(|group| paths(&group.items))
        .filter(|path| {
            path.stroke
                .is_some_and(|s| s.dash == Dash::LongDashDoubleDot)
        });
    assert_eq!(lines.count(), rows.len() + columns.len() - 2);
}

/// Where a sheet's panels are drawn.
fn paths_of_panels(sheet: &Sheet) -> Rect {
    let all: Vec<Pt> = groups(&sheet.items, "plan-panels")
        .into_iter()
        .flat_map(|group| paths(&group.items))
        .flat_map(|path| points(&path.outline))
        .collect();
    Rect::around(all).expect("the part shows panels")
}

/// Every trimmed panel is named on a part or in its table, few on more than one; and the key plan
/// of each part hatches the place that the overview gives it.
#[test]
fn parts_of_a_plan_show_every_panel_and_where_they_lie() {
    let (design, _, set) = sheets(PARTS);
    let parts: Vec<&Sheet> = set.iter().filter(|s| part(s).is_some()).collect();
    let model = from_plan::plan(&design);
    let mut shown = 0;
    for piece in model.pieces.iter().filter(|piece| piece.trimmed) {
        let keyed = format!("Panel {}", piece.mark);
        let names = |sheet: &&&Sheet| {
            let words = words(&sheet.items);
            words.iter().any(|w| *w == piece.mark || *w == keyed)
        };
        let count = parts.iter().filter(names).count();
        assert!(count > 0, "{} is on no part", piece.mark);
        shown += count;
    }
    let trimmed = model.pieces.iter().filter(|piece| piece.trimmed).count();
    assert!(trimmed > 20 && shown < trimmed * 5 / 4, "{shown} {trimmed}");
    let hatched = |sheet: &Sheet| {
        let text = groups(&sheet.items, "text")[0];
        let all = paths(&text.items);
        let outline = all.iter().find(|path| {
            let bounds = around(path);
            let black = path.stroke.is_some_and(|s| s.colour == Colour::BLACK);
            black && bounds.width() > 60.0 && bounds.height() > 20.0
        });
        let whole = around(outline.expect("the outline of the dig"));
        // Headings of tables are tinted too.
        let tinted = all
            .iter()
            .find(|path| path.fill == Some(pen::TINT) && whole.grown(1.0).holds(around(path)));
        let place = around(tinted.expect("a key plan"));
        Pt::new(
            place.centre().x - whole.centre().x,
            place.centre().y - whole.centre().y,
        )
    };
    for (a, b) in parts.iter().flat_map(|a| parts.iter().map(move |b| (a, b))) {
        let ((row, column), (below, right)) = (part(a).unwrap(), part(b).unwrap());
        let (here, there) = (hatched(a), hatched(b));
        assert_eq!(column < right, here.x < there.x - 1.0, "{here:?} {there:?}");
        assert_eq!(row < below, here.y < there.y - 1.0, "{here:?} {there:?}");
    }
}

/// Each part can be set out by itself: every corner in its view has its two distances from the base
/// line's end on it, wherever that end lies.
#[test]
fn each_part_of_a_plan_gives_its_corners_from_the_end_of_the_base_line() {
    let (_, _, set) = sheets(PARTS);
    let corners = [
        ("A", 0, 0),
        ("B", 24_000, 0),
        ("C", 24_000, 4000),
        ("D", 4000, 4000),
        ("E", 4000, 16_000),
        ("F", 0, 16_000),
    ];
    let mut given = BTreeSet::new();
    for sheet in set.iter().filter(|s| part(s).is_some()) {
        let all = words(&sheet.items);
        let here = all
            .iter()
            .find_map(|line| line.strip_prefix("Corners here: "));
        let here: Vec<&str> = here
            .map(|named| named.trim_end_matches('.').split(", ").collect())
            .unwrap_or_default();
        let count = "Running dimensions count from A.".to_string();
        assert!(all.contains(&count), "{here:?}");
        for (name, x, y) in corners.iter().filter(|(name, ..)| here.contains(name)) {
            for distance in [x, y].into_iter().filter(|distance| **distance > 0) {
                let distance = distance.to_string();
                assert!(all.contains(&distance), "{name} {distance}: {all:?}");
            }
            given.insert(*name);
        }
    }
    assert_eq!(given.len(), corners.len());
}

fn revised(revisions: &str) -> (Vec<Sheet>, f64) {
    let (_, _, set) = sheets(&format!(
        "job: {{title: Pad, revisions: [{revisions}]}}\n\
         sheet: {{units: metric, paper: a3, scale: '1:25'}}\n\
         paving:\n  - rectangle: {{corner: [0, 0], width: 4 m, depth: 3 m}}\n\
         pavers:\n  slab: {{size: [600 mm, 400 mm], thickness: 50 mm}}\n"
    ));
    (set, 25.0)
}

/// The cloud on the first sheet, and the marks of revisions by its top right corner.
fn cloud(set: &[Sheet]) -> Option<(&Path, Vec<&str>)> {
    let found = groups(&set[0].items, "plan-revisions");
    let all = found.iter().flat_map(|group| paths(&group.items));
    let longest = all.max_by_key(|path| path.outline.len())?;
    let corner = Pt::new(around(longest).right, around(longest).top);
    let by = |text: &&Text| ["A", "B"].contains(&&*text.text) && text.at.distance(corner) < 12.0;
    let marks = texts(&set[0].items).into_iter().filter(by);
    Some((longest, marks.map(|text| text.text.as_str()).collect()))
}

/// The newest revision alone is clouded, with its mark; where it names no place there is no cloud.
/// Going round another 1 m by 0.5 m the cloud is larger by as much at 1:25, and it stands clear of
/// its points on every side, with its bulges outward.
#[test]
fn the_newest_revision_is_clouded() {
    let first = "{mark: A, date: 2026-05-04, note: Corner moved, at: [[0, 0]]}";
    let second = |at: &str| format!("{first}, {{mark: B, date: 2026-05-11, at: [{at}]}}");
    let (set, ratio) = revised(&second("[1 m, 1 m]"));
    let (path, words) = cloud(&set).expect("a cloud");
    assert_eq!(words, ["B"]);
    let one = around(path);
    assert!(one.width() > 10.0 && one.height() > 10.0, "{one:?}");
    let (set, _) = revised(&second("[1 m, 1 m], [2 m, 1.5 m]"));
    assert_eq!(conflicts(&set[0]), []);
    let (path, _) = cloud(&set).expect("a cloud");
    let two = around(path);
    near(two.width() - one.width(), 1000.0 / ratio, 3.0);
    near(two.height() - one.height(), 500.0 / ratio, 3.0);
    // An outline that bulges outward is larger than the polygon of the ends of its bulges.
    let ends: Vec<Pt> = points(&path.outline);
    let tips = path.outline.iter().filter_map(|step| match *step {
        Step::Cubic(a, b, _) => Some([a, b]),
        _ => None,
    });
    let reach = Rect::around(tips.flatten()).unwrap();
    let inner = two.centre();
    let nearest = |of: &[Pt]| {
        of.iter()
            .map(|p| p.distance(inner))
            .fold(f64::MAX, f64::min)
    };
    assert!(reach.width() >= two.width() - 1e-9);
    assert!(
        nearest(&ends) > 500.0 / ratio / 2.0 + 4.0,
        "too near its points"
    );
    let (set, _) = revised(&format!("{first}, {{mark: B, date: 2026-05-11}}"));
    assert!(cloud(&set).is_none());
}

/// A sheet over letter pages: every run of text stands on a page, moved with it; pages of a row
/// and of a column lap by 10 mm, their cut lines meet, and the label and the key of each say where
/// it lies.
#[test]
fn pages_laid_side_by_side_make_up_the_sheet() {
    let (_, _, set) = sheets(PARTS);
    let pages = tile::tiles(&set[..2], Paper::Letter);
    let of_second = pages
        .iter()
        .position(|page| page.title.starts_with(&set[1].title))
        .expect("pages of the second sheet");
    assert!(of_second >= 4);
    for (number, (sheet, pages)) in [
        (&set[0], &pages[..of_second]),
        (&set[1], &pages[of_second..]),
    ]
    .into_iter()
    .enumerate()
    {
        let mut times: BTreeMap<&str, Vec<Pt>> = BTreeMap::new();
        for text in texts(&sheet.items)
            .into_iter()
            .filter(|t| !t.text.is_empty())
        {
            times.entry(&text.text).or_default().push(text.at);
        }
        let once = |text: &&&Text| {
            times
                .get(text.text.as_str())
                .is_some_and(|at| at.len() == 1)
        };
        let mut seen = BTreeSet::new();
        // By place: how far the page is moved, its window, its cut lines across and down.
        let mut placed = BTreeMap::new();
        for page in pages {
            let shown = groups(&page.items, "tile")[0];
            let all = texts(&shown.items);
            let moved = |text: &Text| {
                let at = times[text.text.as_str()][0];
                (at.x - text.at.x, at.y - text.at.y)
            };
            let by = moved(all.iter().find(once).expect("text on every page"));
            for text in all.iter().filter(once) {
                let other = moved(text);
                near(other.0, by.0, 1e-6);
                near(other.1, by.1, 1e-6);
            }
            seen.extend(all.iter().map(|text| text.text.as_str()));
            let window = shown.clip.as_ref().expect("a window");
            let window: Vec<Pt> = window
                .iter()
                .filter_map(|step| match *step {
                    Step::Move(p) | Step::Line(p) => Some(p.moved(by.0, by.1)),
                    _ => None,
                })
                .collect();
            let window = Rect::around(window).unwrap();
            let margin = groups(&page.items, "tile-margin")[0];
            let place = placed_by(margin, window.left, number + 1);
            assert!(page.title.ends_with(&format!("page {}", name(place.0))));
            let cuts: Vec<Pt> = paths(&margin.items)
                .into_iter()
                .filter(|path| path.fill.is_none())
                .flat_map(|path| points(&path.outline))
                .map(|p| p.moved(by.0, by.1))
                .collect();
            placed.insert(place.0, (window, cuts, place.1));
        }
        for text in times.keys() {
            assert!(seen.contains(text), "`{text}` is on no page");
        }
        for (&(row, column), (window, cuts, key)) in &placed {
            let right = placed.get(&(row, column + 1));
            let below = placed.get(&(row + 1, column));
            let has = |of: &[Pt], wanted: f64, axis: fn(&Pt) -> f64| {
                of.iter().any(|p| (axis(p) - wanted).abs() < 1e-6)
            };
            match right {
                Some((other, theirs, its_key)) => {
                    near(window.right - other.left, tile::LAP, 1e-6);
                    let cut = window.right - tile::LAP / 2.0;
                    assert!(has(cuts, cut, |p| p.x) && has(theirs, cut, |p| p.x));
                    assert!(key.x < its_key.x);
                }
                None => assert!(window.right >= sheet.width.0),
            }
            match below {
                Some((other, theirs, its_key)) => {
                    near(window.bottom - other.top, tile::LAP, 1e-6);
                    let cut = window.bottom - tile::LAP / 2.0;
                    assert!(has(cuts, cut, |p| p.y) && has(theirs, cut, |p| p.y));
                    assert!(key.y < its_key.y);
                }
                None => assert!(window.bottom >= sheet.height.0),
            }
        }
    }
}

/// What a page's margin says of its place, and where its key fills a cell, from the left of what
/// it shows.
fn placed_by(margin: &Group, _left: f64, sheet: usize) -> ((u8, u32), Pt) {
    let says = words(&margin.items).concat();
    let (_, rest) = says
        .split_once(&format!("Sheet {sheet} of 2, page "))
        .unwrap_or_else(|| panic!("{says}"));
    let (name, _) = rest.split_once(" of A1 to ").expect("of how many");
    let filled = paths(&margin.items)
        .into_iter()
        .find(|path| path.fill == Some(Colour::BLACK))
        .expect("a cell of the key");
    let place = (name.as_bytes()[0], name[1..].parse().expect("a column"));
    (place, around(filled).centre())
}

/// A stated scale that would take more parts than are drawn is said to be left, with the place of
/// the key; one that takes few is followed without a word.
#[test]
fn a_scale_that_takes_too_many_parts_is_said_to_be_left() {
    let job = |scale: &str| {
        format!(
            "job: {{title: Yard}}
sheet:
  units: metric
  paper: a4
  scale: {scale}
paving:
  - name: Yard
    rectangle: {{corner: [0, 0], width: 24 m, depth: 20 m}}
pavers:
  slab: {{size: [600 mm, 400 mm], thickness: 50 mm}}
"
        )
    };
    let composed = |scale: &str| worked::composed(&worked::design(&job(scale)));
    let left = composed("1:10");
    let [warning] = &left.warnings[..] else {
        panic!("{:?}", left.warnings);
    };
    assert_eq!(
        (warning.severity, warning.code),
        (Severity::Warning, "scale-too-large")
    );
    assert_eq!(
        warning.place.map(|place| (place.line, place.column)),
        Some((5, 3))
    );
    let found = warning.found.to_string();
    let parts: usize = found
        .strip_prefix("1:10 would split the plan into ")
        .and_then(|rest| rest.split(' ').next())
        .and_then(|number| number.parse().ok())
        .unwrap_or_else(|| panic!("{found}"));
    // 24 m by 20 m at 1:10 is 2.4 m by 2 m of paper, in parts of less than 297 mm by 210 mm.
    assert!(parts > 8 * 9, "{found}");
    assert!(found.contains("at most 48"), "{found}");
    // What it is drawn at stands on the sheets.
    let drawn = found.rsplit(' ').next().unwrap_or_default();
    let all: Vec<String> = left.sheets.iter().flat_map(|s| words(&s.items)).collect();
    assert!(
        drawn.starts_with("1:") && all.iter().any(|words| words.contains(drawn)),
        "{found}"
    );
    assert!(composed("1:50").warnings.is_empty());
    assert!(composed("auto").warnings.is_empty());
}

/// However small the paper, a section is drawn in a zone where its title and marks can be read.
#[test]
fn a_section_is_never_squeezed() {
    let house = "{name: House, kind: building, outline: [[-60\", 79\"], [202\", 79\"], [202\", 251\"], [-60\", 251\"]]}";
    for paper in ["legal", "letter", "a4", "tabloid"] {
        let (_, _, set) = sheets(&format!(
            "
job: {{title: Yard}}
sheet: {{units: dual, paper: {paper}}}
site:
  structures: [{house}]
paving:
  - name: Yard
    outline: [[0\", 0\"], [293\", 0\"], [293\", 221\"], [202\", 221\"], [202\", 79\"], [0\", 79\"]]
    bond: stack
    start: {{corner: A, along: F-A}}
pavers: {{field: {{size: [8\", 4\"], thickness: 60 mm}}}}
levels:
  datum: {{name: Peg, level: 100'}}
  finish: {{at: A, level: 99.75', fall: 2%, away_from: E-F}}
"
        ));
        for sheet in &set {
            assert_eq!(conflicts(sheet), [], "{paper}: {}", sheet.title);
        }
        let titled = |sheet: &&Sheet| words(&sheet.items).iter().any(|run| run == "Section A–A");
        assert_eq!(set.iter().filter(titled).count(), 1, "{paper}");
    }
}

/// A strip long beyond every grid is told as such at a stated scale, with the sheets that it would
/// take: 120 m at 1:10 are 12 m of paper, on sheets of less than 297 mm.
#[test]
fn a_long_strip_at_a_large_scale_is_said_to_be_left() {
    let job = "job: {title: Walk}\nsheet: {units: metric, paper: a4, scale: 1:10}\n\
               paving: [{name: Walk, rectangle: {corner: [0, 0], width: 120 m, depth: 1 m}}]\n\
               pavers: {slab: {size: [600 mm, 400 mm], thickness: 60 mm}}\n";
    let composed = worked::composed(&worked::design(job));
    let [warning] = &composed.warnings[..] else {
        panic!("{:?}", composed.warnings);
    };
    let found = warning.found.to_string();
    let numbers = found
        .split(' ')
        .filter_map(|word| word.parse::<usize>().ok());
    let parts = numbers.max().unwrap_or_default();
    assert!(parts > 12_000 / 297, "{found}");
    assert!(parts > 48, "{found}");
}

/// The paper that the program chooses by itself holds the plan at its smallest scale or larger also
/// once the index of the sheets stands on it.
#[test]
fn the_index_leaves_no_plan_under_the_smallest_scale() {
    for yaml in [
        include_str!("../jobs/landing.yaml"),
        include_str!("../jobs/two-walls.yaml"),
        include_str!("../jobs/hillside-terrace.yaml"),
    ] {
        let (_, _, sheets) = crate::sheets(yaml);
        let words = sheets.iter().flat_map(|sheet| crate::words(&sheet.items));
        let words: Vec<String> = words.collect();
        assert!(words.iter().any(|text| text == "Sheets of this set"));
        let titles = words.windows(2).filter(|pair| pair[0] == "Plan");
        let scales: Vec<&str> = titles.map(|pair| pair[1].as_str()).collect();
        assert!(!scales.is_empty());
        // The smallest that a plan is lettered at, and all that are larger.
        let legible = ["¼", "⅜", "½", "¾", "1", "1½", "3"];
        for scale in scales {
            let inches = scale.strip_suffix("″ = 1′-0″");
            assert!(
                inches.is_some_and(|inches| legible.contains(&inches)),
                "{scale}"
            );
        }
    }
}

/// A tree amid the paving is named on the parts that show it, and on no other.
#[test]
fn a_part_names_what_it_shows() {
    let trees: String = (1..20)
        .map(|i| {
            format!(
                "    - {{name: Lime {i}, kind: tree, circle: {{centre: [{i} m, 2 m], radius: 150 mm}}}}\n"
            )
        })
        .collect();
    let holes = (1..20).map(|i| format!("{{circle: {{centre: [{i} m, 2 m], radius: 200 mm}}}}"));
    let job = format!(
        "job: {{title: Row}}\nsheet: {{units: metric, paper: a4, scale: 1:40}}\n\
         site:\n  structures:\n{trees}\
         paving:\n  - rectangle: {{corner: [0, 0], width: 20 m, depth: 4 m}}\n    holes: [{}]\n\
         pavers: {{slab: {{size: [600 mm, 400 mm], thickness: 50 mm}}}}\n",
        holes.collect::<Vec<_>>().join(", ")
    );
    let (_, _, set) = sheets(&job);
    let parts = set
        .iter()
        .filter(|sheet| sheet.title.contains(": Plan, part"));
    let mut shown = 0;
    for part in parts {
        let windows = groups(&part.items, "plan-window-structures");
        for window in &windows {
            let clip = window
                .clip
                .as_ref()
                .and_then(|clip| Rect::around(points(clip)));
            let clip = clip.expect("the window cuts");
            let trees = paths(&window.items);
            let trees = trees.into_iter().filter(|path| path.fill.is_some());
            let seen = trees.filter(|path| around(path).overlaps(clip)).count();
            let named = words(&part.items);
            let named = named
                .iter()
                .filter(|word| word.starts_with("Lime "))
                .count();
            assert_eq!(seen, named, "{}", part.title);
            shown += seen;
        }
    }
    let titles: Vec<&str> = set.iter().map(|sheet| sheet.title.as_str()).collect();
    assert!(shown >= 19, "{shown} {titles:?}");
}
