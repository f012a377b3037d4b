//! Paper lengths, points, rectangles and sheet sizes with their frames.
//!
//! A paper length is not a site length: only a [`super::Scale`] turns one into the other. Sizes
//! and borders are in millimetres. Sizes are those of ISO 216, ANSI/ASME Y14.1 and the
//! architectural series; borders are those of ISO 5457 and ASME Y14.1. Left out: grid reference
//! fields and centring marks, which are drawn by whoever composes the sheet.

use super::item::Step;
use crate::language::{Phrase, phrase};

/// A length on paper, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Mm(pub f64);

/// A point on paper in millimetres, x right and y down from the sheet's top left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pt {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Pt {
    /// The point at `(x, y)` millimetres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The point moved by millimetres to the right and down.
    pub const fn moved(self, right: f64, down: f64) -> Self {
        Self::new(self.x + right, self.y + down)
    }

    /// Distance to another point in millimetres.
    pub fn distance(self, other: Pt) -> f64 {
        libm::hypot(other.x - self.x, other.y - self.y)
    }

    /// Distance to a segment in millimetres.
    pub fn off(self, [a, b]: [Pt; 2]) -> f64 {
        let long = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
        let t = if long > 0.0 {
            (((self.x - a.x) * (b.x - a.x) + (self.y - a.y) * (b.y - a.y)) / long).clamp(0.0, 1.0)
        } else {
            0.0
        };
        self.distance(Pt::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t))
    }
}

/// An upright rectangle on paper, in millimetres; `top` is above `bottom`, so the smaller y.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Smallest x.
    pub left: f64,
    /// Smallest y.
    pub top: f64,
    /// Greatest x.
    pub right: f64,
    /// Greatest y.
    pub bottom: f64,
}

impl Rect {
    /// The rectangle between two opposite corners, in either order.
    pub fn between(a: Pt, b: Pt) -> Self {
        Self {
            left: a.x.min(b.x),
            top: a.y.min(b.y),
            right: a.x.max(b.x),
            bottom: a.y.max(b.y),
        }
    }

    /// The smallest rectangle round points; none when there are none.
    pub fn around(points: impl IntoIterator<Item = Pt>) -> Option<Self> {
        points
            .into_iter()
            .map(|p| Self::between(p, p))
            .reduce(Self::union)
    }

    /// The smallest rectangle round both.
    pub fn union(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// Width in millimetres.
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Height in millimetres.
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    /// The middle.
    pub fn centre(self) -> Pt {
        Pt::new(
            (self.left + self.right) / 2.0,
            (self.top + self.bottom) / 2.0,
        )
    }

    /// The rectangle with every side moved outward by `by` millimetres (inward when negative).
    pub fn grown(self, by: f64) -> Self {
        Self {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Whether the other lies in this one, sides included.
    pub fn holds(self, other: Self) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    /// Whether a point lies in it, sides included.
    pub fn has(self, at: Pt) -> bool {
        self.holds(Self::between(at, at))
    }

    /// What the two share, sides that they touch along included; none where they are apart.
    pub fn common(self, other: Self) -> Option<Self> {
        let both = Self {
            left: self.left.max(other.left),
            top: self.top.max(other.top),
            right: self.right.min(other.right),
            bottom: self.bottom.min(other.bottom),
        };
        (both.left <= both.right && both.top <= both.bottom).then_some(both)
    }

    /// Whether the two share some area.
    pub fn overlaps(self, other: Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// The four corners: top left, top right, bottom right, bottom left.
    pub fn corners(self) -> [Pt; 4] {
        [
            Pt::new(self.left, self.top),
            Pt::new(self.right, self.top),
            Pt::new(self.right, self.bottom),
            Pt::new(self.left, self.bottom),
        ]
    }

    /// Its outline as a closed path.
    pub fn outline(self) -> Vec<Step> {
        let [a, b, c, d] = self.corners();
        vec![
            Step::Move(a),
            Step::Line(b),
            Step::Line(c),
            Step::Line(d),
            Step::Close,
        ]
    }
}

/// A sheet size by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "each is the usual name itself")]
pub enum Paper {
    Letter,
    Legal,
    Tabloid,
    ArchA,
    ArchB,
    ArchC,
    ArchD,
    ArchE,
    AnsiC,
    AnsiD,
    AnsiE,
    A4,
    A3,
    A2,
    A1,
    A0,
}

/// Which way a sheet is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Orientation {
    /// Long side across.
    Landscape,
    /// Long side up.
    Portrait,
}

/// One row of the table of sizes: paper, name, short and long side in millimetres, border along
/// the long sides and along the short sides in millimetres.
type Row = (Paper, &'static str, [f64; 2], [f64; 2]);

/// An inch in millimetres.
const IN: f64 = 25.4;

/// Sizes and borders. ISO borders (20 mm on the left, 10 mm elsewhere) are laid in `frame`; their
/// row gives the 10 mm.
const TABLE: [Row; 16] = [
    (
        Paper::Letter,
        "letter",
        [8.5 * IN, 11.0 * IN],
        [0.38 * IN, 0.25 * IN],
    ),
    (
        Paper::Legal,
        "legal",
        [8.5 * IN, 14.0 * IN],
        [0.38 * IN, 0.25 * IN],
    ),
    (
        Paper::Tabloid,
        "tabloid",
        [11.0 * IN, 17.0 * IN],
        [0.38 * IN, 0.62 * IN],
    ),
    (
        Paper::ArchA,
        "arch-a",
        [9.0 * IN, 12.0 * IN],
        [0.5 * IN, 0.5 * IN],
    ),
    (
        Paper::ArchB,
        "arch-b",
        [12.0 * IN, 18.0 * IN],
        [0.5 * IN, 0.5 * IN],
    ),
    (
        Paper::ArchC,
        "arch-c",
        [18.0 * IN, 24.0 * IN],
        [0.5 * IN, 0.5 * IN],
    ),
    (
        Paper::ArchD,
        "arch-d",
        [24.0 * IN, 36.0 * IN],
        [0.5 * IN, 0.5 * IN],
    ),
    (
        Paper::ArchE,
        "arch-e",
        [36.0 * IN, 48.0 * IN],
        [0.5 * IN, 0.5 * IN],
    ),
    (
        Paper::AnsiC,
        "ansi-c",
        [17.0 * IN, 22.0 * IN],
        [0.75 * IN, 0.5 * IN],
    ),
    (
        Paper::AnsiD,
        "ansi-d",
        [22.0 * IN, 34.0 * IN],
        [0.5 * IN, 1.0 * IN],
    ),
    (
        Paper::AnsiE,
        "ansi-e",
        [34.0 * IN, 44.0 * IN],
        [1.0 * IN, 0.5 * IN],
    ),
    (Paper::A4, "a4", [210.0, 297.0], [10.0, 10.0]),
    (Paper::A3, "a3", [297.0, 420.0], [10.0, 10.0]),
    (Paper::A2, "a2", [420.0, 594.0], [10.0, 10.0]),
    (Paper::A1, "a1", [594.0, 841.0], [10.0, 10.0]),
    (Paper::A0, "a0", [841.0, 1189.0], [10.0, 10.0]),
];

/// A word with a capital first letter.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

impl Paper {
    /// Every size, smallest first within its series.
    pub fn all() -> impl Iterator<Item = Paper> {
        TABLE.iter().map(|row| row.0)
    }

    /// The size of that name, such as `arch-d` or `a3`, in any case.
    pub fn named(name: &str) -> Option<Paper> {
        let name = name.trim();
        TABLE
            .iter()
            .find(|row| row.1.eq_ignore_ascii_case(name))
            .map(|row| row.0)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        self.row().1
    }

    /// Its name as a sheet prints it: `Arch C`, `ANSI D`, `Tabloid`, `A3`.
    pub fn printed(self) -> Phrase {
        match self {
            Paper::Letter => phrase!("Letter"),
            Paper::Tabloid => phrase!("Tabloid"),
            other => Phrase::own(other.sign()),
        }
    }

    fn sign(self) -> String {
        let name = self.name();
        match name.split_once('-') {
            Some(("ansi", size)) => format!("ANSI {}", size.to_uppercase()),
            Some((series, size)) => format!("{} {}", capital(series), size.to_uppercase()),
            None => capital(name),
        }
    }

    /// Whether its shorter side is under 250 mm: letter, legal, Arch A and A4.
    pub fn is_small(self) -> bool {
        self.row().2[0] < 250.0
    }

    /// Whether it is of the ISO A series.
    pub fn is_iso(self) -> bool {
        matches!(
            self,
            Paper::A4 | Paper::A3 | Paper::A2 | Paper::A1 | Paper::A0
        )
    }

    /// Width and height of the sheet.
    ///
    /// # Source
    /// ISO 216; ANSI/ASME Y14.1 (letter, tabloid and ANSI C to E); the architectural series.
    pub fn size(self, turned: Orientation) -> (Mm, Mm) {
        let [short, long] = self.row().2;
        match turned {
            Orientation::Landscape => (Mm(long), Mm(short)),
            Orientation::Portrait => (Mm(short), Mm(long)),
        }
    }

    /// The frame line: what is drawn stays inside it.
    ///
    /// # Source
    /// ISO 5457: 20 mm on the left for filing, 10 mm elsewhere. ASME Y14.1 for letter, tabloid
    /// and ANSI C to E; legal as letter. 1/2" for the architectural series: common practice, no
    /// source.
    pub fn frame(self, turned: Orientation) -> Rect {
        let (Mm(width), Mm(height)) = self.size(turned);
        let [at_long, at_short] = self.row().3;
        let (across, up) = match turned {
            Orientation::Landscape => (at_short, at_long),
            Orientation::Portrait => (at_long, at_short),
        };
        let left = if self.is_iso() { 20.0 } else { across };
        Rect {
            left,
            top: up,
            right: width - across,
            bottom: height - up,
        }
    }

    fn row(self) -> &'static Row {
        TABLE
            .iter()
            .find(|row| row.0 == self)
            .expect("every paper has a row")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Drawing space of ISO 5457, Technical product documentation: sizes and layout of drawing
    /// sheets, table of trimmed sheets and drawing space.
    #[test]
    fn iso_drawing_space() {
        let published = [
            (Paper::A4, Orientation::Portrait, 180.0, 277.0),
            (Paper::A3, Orientation::Landscape, 390.0, 277.0),
            (Paper::A2, Orientation::Landscape, 564.0, 400.0),
            (Paper::A1, Orientation::Landscape, 811.0, 574.0),
            (Paper::A0, Orientation::Landscape, 1159.0, 821.0),
        ];
        for (paper, turned, width, height) in published {
            let frame = paper.frame(turned);
            assert_eq!(
                (frame.width(), frame.height()),
                (width, height),
                "{paper:?}"
            );
        }
    }

    /// What two rectangles share lies in both; those that touch share a side, those apart nothing.
    #[test]
    fn what_is_common_lies_in_both() {
        let square = |x: f64| Rect::between(Pt::new(x, 0.0), Pt::new(x + 4.0, 4.0));
        let shared = square(0.0).common(square(3.0));
        assert_eq!(
            shared,
            Some(Rect::between(Pt::new(3.0, 0.0), Pt::new(4.0, 4.0)))
        );
        assert_eq!(square(0.0).common(square(4.0)).map(Rect::width), Some(0.0));
        assert_eq!(square(0.0).common(square(4.1)), None);
        assert!(square(0.0).has(Pt::new(4.0, 2.0)) && !square(0.0).has(Pt::new(4.1, 2.0)));
    }

    /// ANSI/ASME Y14.1: sizes in inches; the two aspect ratios alternate.
    #[test]
    fn inch_sizes() {
        let published = [
            ("letter", 8.5, 11.0),
            ("tabloid", 11.0, 17.0),
            ("ansi-c", 17.0, 22.0),
            ("ansi-d", 22.0, 34.0),
            ("ansi-e", 34.0, 44.0),
            ("arch-a", 9.0, 12.0),
            ("arch-d", 24.0, 36.0),
            ("arch-e", 36.0, 48.0),
        ];
        for (name, short, long) in published {
            let paper = Paper::named(name).expect("known");
            let (Mm(width), Mm(height)) = paper.size(Orientation::Portrait);
            assert!((width - short * 25.4).abs() < 1e-9 && (height - long * 25.4).abs() < 1e-9);
        }
    }

    #[test]
    fn a_sheet_prints_the_name_of_its_paper_as_it_is_said() {
        let printed = [Paper::ArchC, Paper::AnsiD, Paper::Tabloid, Paper::A3]
            .map(|paper: Paper| paper.printed().to_string());
        assert_eq!(printed, ["Arch C", "ANSI D", "Tabloid", "A3"]);
    }

    #[test]
    fn names_read_back_and_frames_lie_on_the_sheet() {
        for paper in Paper::all() {
            assert_eq!(Paper::named(paper.name()), Some(paper));
            for turned in [Orientation::Landscape, Orientation::Portrait] {
                let (Mm(width), Mm(height)) = paper.size(turned);
                let sheet = Rect::between(Pt::default(), Pt::new(width, height));
                assert!(sheet.grown(-5.0).holds(paper.frame(turned)));
            }
        }
        assert_eq!(Paper::named("a5"), None);
    }
}
