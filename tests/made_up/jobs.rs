//! Made-up jobs of every shape that is hard to letter: tiny, long and thin, rounded, round, crowded
//! with holes, with many corners, turned, stepped, of two areas; in feet, metric and both; on every
//! paper; in every language and in two at once; some with a border, existing ground, a service in
//! the ground, prices and a revision with a place. The same seed gives the same job.

use std::fmt::Write;

/// A made-up job: what it is like, and its file.
pub struct Made {
    /// Its kind, units and paper.
    pub name: String,
    /// The job file.
    pub yaml: String,
}

const KINDS: [&str; 10] = [
    "tiny",
    "long and thin",
    "rounded",
    "crowded with holes",
    "many corners",
    "turned",
    "round",
    "round a corner of the house",
    "two areas",
    "stepped",
];
const UNITS: [&str; 3] = ["feet-inches", "metric", "dual"];
const PAPERS: [&str; 18] = [
    "auto", "letter", "tabloid", "a4", "a3", "auto", "arch-c", "a2", "legal", "auto", "arch-d",
    "a1", "ansi-c", "arch-b", "auto", "arch-a", "ansi-d", "a0",
];

/// Spanish and French say most things in more letters than English.
const LANGUAGES: [&str; 7] = ["en", "es", "fr", "[en, es]", "en", "fr", "es"];

/// Evenly spread numbers from a seed: a multiplicative generator modulo 2³¹ − 1 (Park and Miller,
/// *Random number generators: good ones are hard to find*, 1988).
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Self {
        let mut dice = Self(seed * 7919 % 2_147_483_646 + 1);
        for _ in 0..5 {
            dice.next();
        }
        dice
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0
    }

    /// A whole number from `low` to `high`, both included.
    fn from(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high - low + 1) as u64) as i64
    }

    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.next() as usize % of.len()]
    }
}

/// The job of a seed.
pub fn job(seed: u64) -> Made {
    let kind = seed as usize % KINDS.len();
    let units = UNITS[seed as usize / KINDS.len() % UNITS.len()];
    let paper = PAPERS[(seed as usize * 7 + seed as usize / 10) % PAPERS.len()];
    let language = LANGUAGES[(seed as usize / 3 + seed as usize / 30) % LANGUAGES.len()];
    let mut dice = Dice::new(seed + 1);
    // What a job has besides its shape.
    let mut more = Dice::new(seed + 1001);
    let metric = units == "metric";
    // Lengths are whole inches, or as many times 25 mm.
    let length = |inches: i64| {
        if metric {
            format!("{} mm", inches * 25)
        } else {
            format!("{inches}\"")
        }
    };
    let point = |x: i64, y: i64| format!("[{}, {}]", length(x), length(y));
    let level = |inches: i64| {
        if metric {
            format!("{} m", 100.0 + inches as f64 * 0.025)
        } else {
            format!("{}'", 100.0 + inches as f64 / 16.0)
        }
    };
    let mut yaml = String::new();
    let title = dice.one(&[
        "Landing",
        "Courtyard behind the house",
        "Terrace",
        "Walk to the garden gate",
    ]);
    let revisions = match more.from(0, 3) {
        0 => format!(
            ", revisions: [{{mark: A, date: 2026-05-04, note: First issue}}, {{mark: B, date: \
             2026-05-11, note: Corner moved, at: {}}}]",
            point(more.from(0, 200), more.from(0, 200))
        ),
        _ => String::new(),
    };
    let _ = writeln!(
        yaml,
        "job: {{title: {title} {seed}, number: T-{seed}, date: 2026-05-04{revisions}}}"
    );
    let turn = dice.one(&["auto", "auto", "landscape", "portrait"]);
    let audience = dice.one(&["crew", "crew", "crew", "bid"]);
    let north = dice.from(-170, 170);
    let _ = writeln!(
        yaml,
        "sheet: {{units: {units}, paper: {paper}, turn: {turn}, audience: {audience}, north: {north}°, \
         language: {language}}}"
    );
    let mut shape = Shape::default();
    match KINDS[kind] {
        "tiny" => shape.rectangle(&point, dice.from(34, 64), dice.from(28, 50)),
        "long and thin" => shape.rectangle(&point, dice.from(420, 840), dice.from(34, 58)),
        "rounded" => {
            let (w, d, r) = (dice.from(120, 300), dice.from(110, 260), dice.from(30, 80));
            shape.corners = vec![
                point(0, 0),
                point(w, 0),
                point(w, d - r),
                format!(
                    "{{arc: {{to: {}, radius: {}, side: left}}}}",
                    point(w - r, d),
                    length(r)
                ),
                point(0, d),
            ];
            shape.house(&point, [-30, -80, w + 40, 0]);
            shape.size = [w, d];
        }
        "crowded with holes" => {
            let (across, deep) = (dice.from(2, 4), dice.from(1, 3));
            let (w, d) = (across * 84 + 40, deep * 84 + 40);
            shape.rectangle(&point, w, d);
            for i in 0..across {
                for j in 0..deep {
                    let (x, y) = (
                        40 + i * 84 + dice.from(0, 20),
                        40 + j * 84 + dice.from(0, 20),
                    );
                    let side = dice.from(20, 34);
                    let hole: Vec<String> = [(0, 0), (side, 0), (side, side), (0, side)]
                        .map(|(a, b)| point(x + a, y + b))
                        .to_vec();
                    shape
                        .holes
                        .push(format!("{{outline: [{}]}}", hole.join(", ")));
                    shape.structures.push(format!(
                        "{{name: {} {}, kind: tree, circle: {{centre: {}, radius: {}}}}}",
                        dice.one(&["Maple", "Old lime tree", "Birch"]),
                        i * deep + j + 1,
                        point(x + side / 2, y + side / 2),
                        length(side / 2 - 4)
                    ));
                }
            }
        }
        "many corners" => {
            let count = dice.from(11, 26);
            let size = dice.from(90, 190) as f64;
            for k in 0..count {
                let angle = (k as f64 + 0.31) / count as f64 * std::f64::consts::TAU;
                let reach = size * (0.72 + 0.28 * (dice.from(0, 100) as f64) / 100.0);
                let x = 200.0 + reach * angle.cos();
                let y = 200.0 + reach * angle.sin();
                shape
                    .corners
                    .push(point(x.round() as i64, y.round() as i64));
            }
            shape.size = [200, 200];
        }
        "turned" => {
            let (w, d, turn) = (dice.from(90, 260), dice.from(80, 220), dice.from(5, 85));
            shape.whole = format!(
                "rectangle: {{corner: {}, width: {}, depth: {}, turn: {turn}°}}",
                point(20, 30),
                length(w),
                length(d)
            );
            shape.size = [w, d];
        }
        "round" => {
            let r = dice.from(48, 130);
            shape.whole = format!(
                "circle: {{centre: {}, radius: {}}}",
                point(150, 150),
                length(r)
            );
            shape.round = true;
        }
        "round a corner of the house" => {
            let (w, d) = (dice.from(200, 330), dice.from(190, 300));
            let (a, b) = (dice.from(70, 110), dice.from(70, 100));
            shape.corners = [(0, 0), (w, 0), (w, d), (w - a, d), (w - a, b), (0, b)]
                .map(|(x, y)| point(x, y))
                .to_vec();
            shape.house(&point, [-60, b, w - a, d + 30]);
            shape.size = [w, b];
        }
        "two areas" => {
            let (w, d, e) = (dice.from(90, 170), dice.from(80, 160), dice.from(60, 150));
            shape.rectangle(&point, w, d);
            shape.second = format!(
                "  - {{name: Second area, outline: [{}, {}, {}, {}]}}\n",
                point(w, 0),
                point(w + e, 0),
                point(w + e, d - 20),
                point(w, d - 20)
            );
        }
        _ => {
            let steps = dice.from(3, 7);
            let (run, rise) = (dice.from(26, 44), dice.from(18, 34));
            let (w, d) = (run * (steps + 1), rise * (steps + 1));
            shape.corners = vec![point(0, 0), point(w, 0)];
            for k in 0..steps {
                shape.corners.push(point(w - run * k, rise * (k + 1)));
                shape.corners.push(point(w - run * (k + 1), rise * (k + 1)));
            }
            shape.corners.push(point(run, d));
            shape.corners.push(point(0, d));
            shape.house(&point, [-30, -90, w + 20, 0]);
            shape.size = [w, d];
        }
    }
    if more.from(0, 2) == 0 {
        for _ in 0..more.from(3, 7) {
            let (x, y) = (more.from(-30, 300), more.from(-30, 300));
            shape.ground.push(format!(
                "[{}, {}, {}]",
                length(x),
                length(y),
                level(more.from(-14, -3))
            ));
        }
    }
    if more.from(0, 3) == 0 {
        let name = more.one(&["water pipe", "Gas main of the old house", "power"]);
        let kind = match name {
            "water pipe" => "water",
            "power" => "electric",
            _ => "gas",
        };
        shape.services = format!(
            "{{name: {name}, kind: {kind}, line: [{}, {}], depth: {}, zone: {}}}",
            point(more.from(-20, 60), more.from(10, 60)),
            point(more.from(150, 300), more.from(10, 160)),
            length(more.from(18, 30)),
            length(12)
        );
    }
    shape.bordered = more.from(0, 3) == 0;
    shape.write(&mut yaml, &mut dice);
    let (brick, slab) = (
        dice.one(&["[200 mm, 100 mm]", "[8\", 4\"]"]),
        "[16\", 16\"]",
    );
    let size = if dice.from(0, 2) == 0 { slab } else { brick };
    let _ = writeln!(
        yaml,
        "pavers: {{field: {{size: {size}, thickness: 60 mm}}{}}}",
        match shape.bordered {
            true => ", edge: {size: [200 mm, 100 mm], thickness: 60 mm}",
            false => "",
        }
    );
    let corner = if shape.round { "" } else { "at: A, " };
    let _ = writeln!(
        yaml,
        "levels:\n  datum: {{name: Peg on the kerb, level: {}}}",
        level(0)
    );
    if shape.walled {
        let from = if shape.corner_of_house { "E-F" } else { "A-B" };
        let _ = writeln!(
            yaml,
            "  finish: {{{corner}level: {}, fall: 2%, away_from: {from}}}",
            level(-4)
        );
        if !shape.corner_of_house {
            let doors: Vec<String> = (0..dice.from(1, 3))
                .map(|k| {
                    format!(
                        "{{name: Door {}, at: {}, level: {}}}",
                        k + 1,
                        point(shape.size[0] * (k + 1) / 4, 0),
                        level(4)
                    )
                })
                .collect();
            let _ = writeln!(yaml, "  sills: [{}]", doors.join(", "));
        }
    } else {
        let at = if shape.round {
            format!("at: {}, ", point(150, 150))
        } else {
            corner.to_string()
        };
        let _ = writeln!(
            yaml,
            "  finish: {{{at}level: {}, fall: 2%, towards: {}°}}",
            level(-4),
            dice.from(0, 359)
        );
    }
    if dice.from(0, 1) == 0 {
        let _ = writeln!(yaml, "  instrument: {}", level(60));
    }
    if dice.from(0, 2) == 0 {
        yaml.push_str("conventional: {}\n");
    }
    if more.from(0, 2) == 0 {
        yaml.push_str(
            "prices: {currency: USD, panel: 31.50, paver.field: 0.85, labour_hour: 58}\n",
        );
    }
    Made {
        name: format!(
            "{seed}: {}, {units}, {paper}, {audience}, {language}",
            KINDS[kind]
        ),
        yaml,
    }
}

/// What is paved and what stands there.
#[derive(Default)]
struct Shape {
    corners: Vec<String>,
    /// A shape that is not given by its corners.
    whole: String,
    holes: Vec<String>,
    structures: Vec<String>,
    second: String,
    walled: bool,
    corner_of_house: bool,
    round: bool,
    /// Existing spot levels.
    ground: Vec<String>,
    /// What is buried.
    services: String,
    bordered: bool,
    size: [i64; 2],
}

impl Shape {
    fn rectangle(&mut self, point: &impl Fn(i64, i64) -> String, w: i64, d: i64) {
        self.corners = [(0, 0), (w, 0), (w, d), (0, d)]
            .map(|(x, y)| point(x, y))
            .to_vec();
        self.house(point, [-20, -70, w + 30, 0]);
        self.size = [w, d];
    }

    fn house(&mut self, point: &impl Fn(i64, i64) -> String, [x0, y0, x1, y1]: [i64; 4]) {
        let ring: Vec<String> = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
            .map(|(x, y)| point(x, y))
            .to_vec();
        self.structures.push(format!(
            "{{name: House, kind: building, outline: [{}]}}",
            ring.join(", ")
        ));
        self.walled = true;
        self.corner_of_house = y1 > 0;
    }

    fn write(&self, yaml: &mut String, dice: &mut Dice) {
        let nothing = self.structures.is_empty() && self.ground.is_empty();
        if !nothing || !self.services.is_empty() {
            yaml.push_str("site:\n");
        }
        if !self.structures.is_empty() {
            yaml.push_str("  structures:\n");
            for structure in &self.structures {
                let _ = writeln!(yaml, "    - {structure}");
            }
        }
        if !self.ground.is_empty() {
            let _ = writeln!(yaml, "  ground: [{}]", self.ground.join(", "));
        }
        if !self.services.is_empty() {
            let _ = writeln!(yaml, "  services: [{}]", self.services);
        }
        yaml.push_str("paving:\n");
        let shape = if self.whole.is_empty() {
            format!("outline: [{}]", self.corners.join(", "))
        } else {
            self.whole.clone()
        };
        let _ = writeln!(yaml, "  - name: First area\n    {shape}");
        if !self.holes.is_empty() {
            let _ = writeln!(yaml, "    holes: [{}]", self.holes.join(", "));
        }
        if self.bordered {
            yaml.push_str("    border: [{paver: edge, lay: soldier}]\n");
        }
        let bond = dice.one(&["running", "running", "stack"]);
        let _ = writeln!(yaml, "    bond: {bond}");
        if !self.round {
            let along = if self.corner_of_house { "F-A" } else { "A-B" };
            let _ = writeln!(yaml, "    start: {{corner: A, along: {along}}}");
        }
        yaml.push_str(&self.second);
    }
}
