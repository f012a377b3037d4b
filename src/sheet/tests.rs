//! Laws of the sheet: lettering, widths, room, and no words on words.

use std::sync::Arc;

use super::column::{Block, Entry, Parting};
use super::content::Content;
use super::labels::Box2;
use super::model::{Earth, PlanModel};
use super::{layout, sample};
use crate::draw::paper::{Orientation, Paper, Rect};
use crate::draw::{Item, Path, Pt, Sheet, Text};
use crate::geom::Point;

fn walk<'a>(items: &'a [Item], texts: &mut Vec<&'a Text>, paths: &mut Vec<&'a Path>) {
    for item in items {
        match item {
            Item::Group(group) => walk(&group.items, texts, paths),
            Item::Path(path) => paths.push(path),
            Item::Text(text) => texts.push(text),
        }
    }
}

fn boxes(sheet: &Sheet) -> Vec<(String, Box2)> {
    let (mut texts, mut paths) = (Vec::new(), Vec::new());
    walk(&sheet.items, &mut texts, &mut paths);
    texts
        .into_iter()
        .map(|t| {
            let bounds = Box2::of_text(t.at, t.anchor, t.angle, t.height.0, t.face, &t.text);
            (t.text.clone(), bounds.grown(-0.3))
        })
        .collect()
}

#[test]
fn no_words_touch_and_all_lie_on_the_sheet() {
    let set = layout::sheets(&sample::content()).sheets;
    assert!(!set.is_empty());
    for sheet in &set {
        let room = Rect::between(Pt::default(), Pt::new(sheet.width.0, sheet.height.0)).grown(-5.0);
        let boxes = boxes(sheet);
        assert!(boxes.len() > 20);
        for (i, (words, bounds)) in boxes.iter().enumerate() {
            assert!(room.holds(bounds.bounds()), "{words} leaves the sheet");
            for (other, second) in &boxes[i + 1..] {
                assert!(!bounds.overlaps(*second), "{words} touches {other}");
            }
        }
    }
}

#[test]
fn lettering_is_of_the_series() {
    for sheet in layout::sheets(&sample::content()).sheets {
        let (mut texts, mut paths) = (Vec::new(), Vec::new());
        walk(&sheet.items, &mut texts, &mut paths);
        for text in texts {
            assert!(
                [2.5, 3.5, 5.0, 7.0].contains(&text.height.0),
                "{}",
                text.text
            );
        }
    }
}

#[test]
fn every_label_of_the_plan_is_drawn() {
    let content = sample::content();
    let set = layout::sheets(&content).sheets;
    let words: Vec<String> = boxes(&set[0]).into_iter().map(|b| b.0).collect();
    for chain in &content.plan.chains {
        for span in &chain.words {
            assert!(words.contains(span), "{span} is missing");
        }
    }
    for corner in &content.plan.corners {
        assert!(words.contains(&corner.name));
    }
    for course in &content.plan.courses {
        assert!(words.contains(&course.words), "{} is missing", course.words);
    }
}

/// A tree that is called as another one is, and more, has its own name on the plan that it is taped
/// on.
#[test]
fn trees_whose_names_begin_alike_keep_them() {
    let yard = "\
job: {title: Yard}
sheet: {units: metric, paper: a3}
paving: [{name: Yard, rectangle: {corner: [0, 0], width: 6 m, depth: 5 m}}]
site:
  structures:
    - {name: Tree 1, kind: tree, circle: {centre: [1.5 m, 5.5 m], radius: 200 mm}}
    - {name: Tree 10, kind: tree, circle: {centre: [4.5 m, 5.5 m], radius: 200 mm}}
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
levels: {finish: {at: A, level: 10 m, fall: 2%, towards: 0°}}
";
    let words = |yaml: &str| -> Vec<String> {
        let job = crate::job::read(yaml.as_bytes()).expect("a sound job");
        let design = crate::design::run(job).expect("a design");
        let takeoff = crate::takeoff::of(&design).expect("a takeoff");
        let set = super::compose(&design, &takeoff, &crate::checks::run(&design));
        set.iter().flat_map(boxes).map(|b| b.0).collect()
    };
    let (alike, otherwise) = (words(yard), words(&yard.replace("Tree 10", "Tree 2")));
    let count = |words: &[String], one: &str| words.iter().filter(|w| *w == one).count();
    // The ends of scale bars are all that reads 0.
    assert_eq!(count(&alike, "0"), count(&otherwise, "0"));
    assert_eq!(count(&alike, "Tree 10"), count(&otherwise, "Tree 2"));
    assert!(count(&alike, "Tree 10") > 1);
}

/// The general plan letters the name of each of several areas, and none where there is only one.
#[test]
fn several_areas_are_named_on_the_general_plan() {
    let words = |yaml: &str| -> (Vec<String>, Vec<String>) {
        let job = crate::job::read(yaml.as_bytes()).expect("a sound job");
        let design = crate::design::run(job).expect("a design");
        let takeoff = crate::takeoff::of(&design).expect("a takeoff");
        let set = super::compose(&design, &takeoff, &crate::checks::run(&design));
        let names = design.areas.iter().map(|area| area.name.clone()).collect();
        (names, boxes(&set[0]).into_iter().map(|b| b.0).collect())
    };
    for yaml in [
        include_str!("../../jobs/hillside-terrace.yaml"),
        include_str!("../../jobs/pool-surround.yaml"),
        include_str!("../../jobs/bonds.yaml"),
    ] {
        let (names, said) = words(yaml);
        assert!(names.len() > 1);
        for name in names {
            let count = said.iter().filter(|words| **words == name).count();
            assert_eq!(count, 1, "{name}");
        }
    }
    let (names, said) = words(include_str!("../../jobs/terrace.yaml"));
    assert!(!said.contains(&names[0]), "{names:?}");
}

/// A contour that crosses the view between points outside of it has its level there too.
#[test]
fn a_contour_without_a_point_in_the_view_has_its_level() {
    let far = |y: f64| vec![Point::new(-90_000.0, y), Point::new(60_000.0, y)];
    let content = sample::content();
    let mut plan = PlanModel::clone(&content.plan);
    plan.earth = Some(Earth {
        contours: vec![("97.25′".to_string(), vec![far(1_300.0)])],
        ..Earth::default()
    });
    let content = Content {
        plan: Arc::new(plan),
        ..content
    };
    let set = layout::sheets(&content).sheets;
    let words: Vec<String> = set.iter().flat_map(boxes).map(|b| b.0).collect();
    let said = words.iter().filter(|w| w.contains("97.25′"));
    assert_eq!(said.count(), 1);
}

/// A set ends with its sixtieth sheet, which names what found no room and does not stand on it.
#[test]
fn the_last_sheet_of_a_full_set_names_what_is_left_off() {
    let figure = |name: &str| Block {
        title: name.to_string(),
        entries: vec![Entry::Drawing {
            height: 140.0,
            items: Vec::new(),
        }],
        parting: Parting::Whole,
    };
    let names: Vec<String> = (0..150).map(|i| format!("Figure {i}")).collect();
    let content = Content {
        paper: Some(Paper::Letter),
        turned: Some(Orientation::Landscape),
        general: names.iter().map(|name| figure(name)).collect(),
        further: Vec::new(),
        ..sample::content()
    };
    let laid = layout::sheets(&content);
    assert_eq!(laid.sheets.len(), layout::MOST);
    let says = |sheet: &Sheet| -> Vec<String> { boxes(sheet).into_iter().map(|b| b.0).collect() };
    let last = says(&laid.sheets[layout::MOST - 1]);
    let all: Vec<String> = laid.sheets.iter().flat_map(says).collect();
    for name in &names {
        // What stands has its title once; what is left off is in the list, once.
        assert_eq!(all.iter().filter(|w| *w == name).count(), 1, "{name}");
        assert_eq!(laid.left_off.contains(name), last.contains(name), "{name}");
    }
    assert!(laid.left_off.len() > 20);
    let few = Content {
        general: names[..20].iter().map(|name| figure(name)).collect(),
        ..content
    };
    let laid = layout::sheets(&few);
    assert!(laid.left_off.is_empty() && laid.sheets.len() < layout::MOST);
}

/// Writes the made-up sheet, and those of the job files in `jobs`, to the folder named by
/// `SHEET_PICTURES`.
#[test]
#[ignore = "writes files for people to look at"]
fn pictures() {
    let Ok(folder) = std::env::var("SHEET_PICTURES") else {
        return;
    };
    let mut sets = vec![(
        "sample".to_string(),
        layout::sheets(&sample::content()).sheets,
    )];
    let jobs = std::env::var("SHEET_JOBS").unwrap_or("jobs".to_string());
    let mut paths: Vec<_> = std::fs::read_dir(jobs)
        .expect("a folder of jobs")
        .map(|entry| entry.expect("a job").path())
        .filter(|path| path.extension().is_some_and(|e| e == "yaml"))
        .collect();
    paths.sort();
    for path in paths {
        let job = match crate::job::read(&std::fs::read(&path).expect("readable")) {
            Ok(job) => job,
            Err(errors) => {
                eprintln!("{}: {errors:?}", path.display());
                continue;
            }
        };
        let design = crate::design::run(job).expect("the job can be designed");
        let takeoff = crate::takeoff::of(&design).expect("the job can be taken off");
        let findings = crate::checks::run(&design);
        let stem = path
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .to_string();
        sets.push((stem, super::compose(&design, &takeoff, &findings)));
    }
    for (stem, set) in sets {
        let meta = crate::export::Meta {
            title: stem.clone(),
            author: String::new(),
            subject: String::new(),
            date: None,
            language: "en".to_string(),
        };
        let pdf = crate::export::pdf(&set, &meta);
        std::fs::write(format!("{folder}/{stem}.pdf"), pdf).expect("written");
        for (i, sheet) in set.iter().enumerate() {
            let svg = crate::export::svg(sheet);
            let png = crate::export::png(&svg, 130.0).expect("the sheet can be drawn");
            std::fs::write(format!("{folder}/{stem}-{}.svg", i + 1), svg).expect("written");
            std::fs::write(format!("{folder}/{stem}-{}.png", i + 1), png).expect("written");
        }
    }
}
