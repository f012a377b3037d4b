//! The one-way flow between modules: reads every `crate::…` path in `src` and compares it with the
//! order that the documentation of `src/lib.rs` gives, lowest first.
//!
//! Comments do not count. Paths through `super` stay within a module unless they climb past it,
//! which none may.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The trade's computations: they see neither paper nor the job's text.
const COMPUTATIONS: [&str; 12] = [
    "survey", "site", "levels", "crew", "jointing", "textile", "screed", "edging", "panels",
    "paving", "takeoff", "checks",
];

struct Source {
    path: PathBuf,
    module: String,
    code: String,
}

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// Every file below `src` with its top-level module; `lib.rs` and `main.rs` are left out, for they
/// stand above all modules.
fn sources() -> Vec<Source> {
    let mut folders = vec![src()];
    let mut found = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the folder can be read") {
            let path = entry.expect("the entry can be read").path();
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let inner = path.strip_prefix(src()).expect("the file is below src");
            let first = inner.iter().next().expect("a path has a first part");
            let module = first.to_string_lossy().trim_end_matches(".rs").to_string();
            let rust = path.extension().is_some_and(|e| e == "rs");
            if !rust || module == "lib" || module == "main" {
                continue;
            }
            let text = fs::read_to_string(&path).expect("the file can be read");
            found.push(Source {
                module,
                code: without_comments(&text),
                path,
            });
        }
    }
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

fn without_comments(text: &str) -> String {
    let lines = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    lines.collect::<Vec<_>>().join("\n")
}

/// The modules in order, from the backquoted list in the documentation of `lib.rs`.
fn order() -> Vec<String> {
    let text = fs::read_to_string(src().join("lib.rs")).expect("lib.rs can be read");
    let docs: String = text
        .lines()
        .filter_map(|line| line.strip_prefix("//!"))
        .collect::<Vec<_>>()
        .join("\n");
    let start = docs
        .find("`parallel`")
        .expect("the list starts with `parallel`");
    let list = &docs[start..];
    let end = list.find("`.").expect("the list ends with a full stop");
    list[..=end]
        .split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_string)
        .collect()
}

/// The top-level modules that code names: `crate::a`, and each of `crate::{a, b::{c, d}}`.
fn named(code: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for rest in code.split("crate::").skip(1) {
        match rest.strip_prefix('{') {
            Some(group) => found.extend(firsts(group)),
            None => found.extend([word(rest)]),
        }
    }
    found.remove("");
    found
}

/// The first word of each entry of a braced group, up to its closing brace.
fn firsts(group: &str) -> Vec<String> {
    let mut depth = 0;
    let mut entry = String::new();
    let mut entries = Vec::new();
    for c in group.chars() {
        match c {
            '}' if depth == 0 => break,
            ',' if depth == 0 => entries.push(std::mem::take(&mut entry)),
            '{' => depth += 1,
            '}' => depth -= 1,
            _ if depth == 0 => entry.push(c),
            _ => {}
        }
    }
    entries.push(entry);
    entries.iter().map(|entry| word(entry.trim())).collect()
}

fn word(text: &str) -> String {
    text.chars()
        .take_while(|c| c.is_ascii_alphanumeric() || *c == '_')
        .collect()
}

fn place(order: &[String], module: &str) -> usize {
    order
        .iter()
        .position(|name| name == module)
        .unwrap_or_else(|| panic!("`{module}` is not in the list of src/lib.rs"))
}

#[test]
fn every_file_imports_only_from_lower_modules() {
    let order = order();
    let mut wrong = Vec::new();
    let mut seen = 0;
    for source in sources() {
        let own = place(&order, &source.module);
        for module in named(&source.code) {
            // A path such as `crate::Name` would go through lib.rs, which names no items.
            let other = place(&order, &module);
            seen += 1;
            if other > own {
                wrong.push(format!("{} imports {module}", source.path.display()));
            }
        }
    }
    assert!(seen > 50, "only {seen} imports were found");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn exporters_see_only_the_display_list_and_units() {
    for source in sources().iter().filter(|s| s.module == "export") {
        for module in named(&source.code) {
            // Threads know nothing of what is worked on them.
            let allowed = ["export", "draw", "units", "parallel"].contains(&module.as_str());
            assert!(allowed, "{} imports {module}", source.path.display());
        }
    }
}

#[test]
fn computations_see_neither_paper_nor_yaml() {
    let walled = |source: &&Source| COMPUTATIONS.contains(&source.module.as_str());
    for source in sources().iter().filter(walled) {
        let path = source.path.display();
        for module in ["draw", "export", "sheet", "cli"] {
            assert!(
                !named(&source.code).contains(module),
                "{path} imports {module}"
            );
        }
        for library in ["serde_yaml", "saphyr_parser", "printpdf", "lopdf", "svg::"] {
            assert!(!source.code.contains(library), "{path} uses {library}");
        }
    }
}

#[test]
fn no_path_climbs_out_of_its_module() {
    for source in sources() {
        let depth = source
            .path
            .strip_prefix(src())
            .expect("below src")
            .iter()
            .count();
        // In `a/b.rs`, `super` is `a`; an inline module of tests adds one.
        let file = source.path.file_name().expect("a file has a name");
        let from = if file == "mod.rs" { depth - 1 } else { depth };
        let climb = "super::".repeat(from + 1);
        let name = source.path.display();
        assert!(!source.code.contains(&climb), "{name} climbs to the top");
    }
}

#[test]
fn only_the_command_line_touches_files_clock_and_terminal() {
    let words = [
        "std::fs",
        "std::env",
        "SystemTime",
        "Instant::now",
        "println!",
        "stdin()",
    ];
    // Unit tests, in the file or in a `tests.rs` beside it, are no part of the program.
    let bound = |s: &&Source| s.module != "cli" && !s.path.ends_with("tests.rs");
    for source in sources().iter().filter(bound) {
        let code = source.code.split("#[cfg(test)]").next().unwrap_or_default();
        for word in words {
            assert!(!code.contains(word), "{} has {word}", source.path.display());
        }
    }
}

#[test]
fn the_reader_of_imports_reads_groups() {
    let code = "use crate::geom::{Point, Ring};\nuse crate::{units::{Length, read}, draw as d};";
    let found: Vec<String> = named(code).into_iter().collect();
    assert_eq!(found, ["draw", "geom", "units"]);
}
