//! A check of a display list for text that cannot be read.
//!
//! In: a sheet. Out: every place where text meets other text, is struck through by a visible
//! line or by the edge of a tint, stands too near a line, is covered by a later fill, is too low,
//! or leaves the sheet's printable part or the clip of its group; and every view with too many
//! line widths. The boxes are those of the glyphs from the font files, turned with the text. A
//! line counts as visible where no clip hides it and no opaque fill is painted over it later on.
//!
//! Left out: contrast, and the gaps of dashed lines (a dashed line counts as continuous). It works
//! on what is drawn, not on what was meant.

mod geometry;
mod lines;
mod marks;

use std::fmt;

use super::item::Sheet;
use super::paper::{Pt, Rect};
use crate::parallel;
use geometry::{depth, inner_points, inside};
use marks::{Label, Marks};

/// How far boxes may interpenetrate before they conflict, in millimetres.
const SLACK: f64 = 0.1;
/// Margin of the paper that printers leave white, in millimetres.
const MARGIN: f64 = 5.0;
/// Least capital height on a sheet, in millimetres.
///
/// # Source
/// ISO 3098 series; 2.5 mm is the usual least height of notes and dimensions.
const LEAST: f64 = 2.5;
/// Most line widths in one view.
const WIDTHS: usize = 4;

/// A text that cannot be read, or a view that is hard to read; `at` is where on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Conflict {
    /// It leaves the part of the sheet that prints.
    OffSheet {
        /// What it says.
        text: String,
        /// The corner that is off.
        at: Pt,
    },
    /// It leaves the clip of a group around it.
    Clipped {
        /// What it says.
        text: String,
        /// The corner that is cut off.
        at: Pt,
    },
    /// It meets another text.
    Overlap {
        /// What the one says.
        text: String,
        /// What the other says.
        other: String,
        /// The anchor of the one.
        at: Pt,
    },
    /// A visible line, or the edge of a tint, crosses it.
    Struck {
        /// What it says.
        text: String,
        /// Id of the innermost group of the line.
        by: String,
        /// Where it is crossed.
        at: Pt,
    },
    /// A visible line runs too near to it.
    Close {
        /// What it says.
        text: String,
        /// Id of the innermost group of the line.
        by: String,
        /// Where the line is near.
        at: Pt,
    },
    /// A fill painted later covers it.
    Covered {
        /// What it says.
        text: String,
        /// Id of the innermost group of the fill.
        by: String,
        /// Where it is covered.
        at: Pt,
    },
    /// Its capitals are lower than lettering may be.
    Low {
        /// What it says.
        text: String,
        /// Its anchor.
        at: Pt,
    },
    /// A view has more line widths than can be told apart.
    Widths {
        /// The view: the first word of its groups' ids.
        view: String,
        /// How many widths it has.
        count: usize,
    },
}

impl Conflict {
    /// Where on paper it is; none for a whole view.
    pub fn at(&self) -> Option<Pt> {
        match self {
            Conflict::OffSheet { at, .. }
            | Conflict::Clipped { at, .. }
            | Conflict::Overlap { at, .. }
            | Conflict::Struck { at, .. }
            | Conflict::Close { at, .. }
            | Conflict::Covered { at, .. }
            | Conflict::Low { at, .. } => Some(*at),
            Conflict::Widths { .. } => None,
        }
    }
}

impl fmt::Display for Conflict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Conflict::OffSheet { text, .. } => write!(f, "`{text}` leaves the sheet"),
            Conflict::Clipped { text, .. } => write!(f, "`{text}` leaves its view"),
            Conflict::Overlap { text, other, .. } => write!(f, "`{text}` meets `{other}`"),
            Conflict::Struck { text, by, .. } => write!(f, "a line of `{by}` crosses `{text}`"),
            Conflict::Close { text, by, .. } => write!(f, "a line of `{by}` is close to `{text}`"),
            Conflict::Covered { text, by, .. } => write!(f, "a fill of `{by}` covers `{text}`"),
            Conflict::Low { text, .. } => write!(f, "`{text}` is lettered too low"),
            Conflict::Widths { view, count } => {
                write!(
                    f,
                    "{count} line widths in view `{view}`, at most {WIDTHS} wanted"
                )
            }
        }?;
        match self.at() {
            Some(at) => write!(f, " at ({:.1}, {:.1})", at.x, at.y),
            None => Ok(()),
        }
    }
}

/// Every conflict on a sheet: by text in painting order, at most one of each kind per text and
/// group or other text; then by view.
pub fn conflicts(sheet: &Sheet) -> Vec<Conflict> {
    let mut marks = Marks::default();
    marks.collect(&sheet.items, "", &[]);
    let paper = Rect::between(Pt::default(), Pt::new(sheet.width.0, sheet.height.0));

    let mut found = Vec::new();
    for label in &marks.labels {
        found.extend(outside(&marks, label, paper.grown(-MARGIN)));
        found.extend(low(label));
    }
    for (i, one) in marks.labels.iter().enumerate() {
        for other in &marks.labels[i + 1..] {
            found.extend(overlap(one, other));
        }
    }
    found.extend(lines::met(&marks, paper));
    found.extend(covered(&marks));
    found.extend(widths(&marks));
    found
}

/// A conflict of a set of sheets: a fault of the program, since no job can ask for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Defect {
    /// Number of the sheet, from 1.
    pub sheet: usize,
    /// What is wrong on it.
    pub conflict: Conflict,
}

impl fmt::Display for Defect {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "sheet {}: {}", self.sheet, self.conflict)
    }
}

/// Every conflict of a set of sheets, in order.
pub fn defects(sheets: &[Sheet]) -> Vec<Defect> {
    parallel::map(sheets, conflicts)
        .into_iter()
        .enumerate()
        .flat_map(|(index, conflicts)| {
            conflicts.into_iter().map(move |conflict| Defect {
                sheet: index + 1,
                conflict,
            })
        })
        .collect()
}

/// Where a label leaves the printable part of the sheet or its clips.
fn outside(marks: &Marks, label: &Label, printable: Rect) -> Option<Conflict> {
    let text = label.text.text.clone();
    let corners = || label.glyphs.iter().flatten().copied();
    let on = printable.grown(0.05);
    if let Some(at) = corners().find(|&p| !on.holds(Rect::between(p, p))) {
        return Some(Conflict::OffSheet { text, at });
    }
    let at = corners().find(|&p| !marks.shown(p, &label.clips))?;
    Some(Conflict::Clipped { text, at })
}

fn low(label: &Label) -> Option<Conflict> {
    (label.text.height.0 < LEAST - 1e-6).then(|| Conflict::Low {
        text: label.text.text.clone(),
        at: label.text.at,
    })
}

fn overlap(one: &Label, other: &Label) -> Option<Conflict> {
    if !one.bounds.overlaps(other.bounds) {
        return None;
    }
    let meets = one
        .glyphs
        .iter()
        .any(|a| other.glyphs.iter().any(|b| depth(a, b) > SLACK));
    meets.then(|| Conflict::Overlap {
        text: one.text.text.clone(),
        other: other.text.text.clone(),
        at: one.text.at,
    })
}

/// Every label with a glyph whose middle lies under a later fill.
fn covered(marks: &Marks) -> Vec<Conflict> {
    let mut found = Vec::new();
    for label in &marks.labels {
        let later = marks
            .fills
            .iter()
            .filter(|fill| fill.order > label.order && fill.bounds.overlaps(label.bounds));
        for fill in later {
            let under = label
                .glyphs
                .iter()
                .flat_map(inner_points)
                .find(|&at| inside(at, &fill.parts) && marks.shown(at, &fill.clips));
            if let Some(at) = under {
                found.push(Conflict::Covered {
                    text: label.text.text.clone(),
                    by: fill.group.to_string(),
                    at,
                });
            }
        }
    }
    found
}

fn widths(marks: &Marks) -> impl Iterator<Item = Conflict> {
    marks
        .widths
        .iter()
        .filter(|(_, widths)| widths.len() > WIDTHS)
        .map(|(view, widths)| Conflict::Widths {
            view: (*view).to_string(),
            count: widths.len(),
        })
}

#[cfg(test)]
mod tests {
    use super::super::build;
    use super::super::font;
    use super::super::item::{Anchor, Group, Item, Text};
    use super::super::paper::Mm;
    use super::super::style::{Colour, Dash, LineWidth};
    use super::*;

    fn words(x: f64, y: f64, text: &str) -> Text {
        build::text(Pt::new(x, y), Anchor::Start, Mm(2.5), text)
    }

    fn rule(y: f64) -> Item {
        let line = build::line(Pt::new(0.0, y), Pt::new(100.0, y));
        build::stroked(line, LineWidth::W25, Dash::Continuous)
    }

    fn found(items: Vec<Item>) -> Vec<Conflict> {
        conflicts(&Sheet {
            width: Mm(100.0),
            height: Mm(60.0),
            title: String::new(),
            layers: Vec::new(),
            items,
        })
    }

    #[test]
    fn texts_apart_or_just_touching_are_fine() {
        let width = font::width(super::super::Face::Regular, Mm(2.5), "HH").0;
        let items = [words(10.0, 30.0, "HH"), words(10.0 + width, 30.0, "HH")];
        assert_eq!(found(items.map(Item::Text).to_vec()), []);
        let items = [
            words(10.0, 30.0, "HH"),
            words(10.0 + width - 1.5, 30.0, "HH"),
        ];
        let found = found(items.map(Item::Text).to_vec());
        assert!(matches!(found[..], [Conflict::Overlap { .. }]), "{found:?}");
    }

    #[test]
    fn a_turned_text_beside_a_slanting_one_is_fine() {
        let mut one = words(10.0, 50.0, "slanting text");
        let mut other = words(13.0, 50.0, "slanting text");
        (one.angle, other.angle) = (45.0, 45.0);
        assert_eq!(
            found(vec![Item::Text(one.clone()), Item::Text(other.clone())]).len(),
            1
        );
        other.at.x += 4.0;
        assert_eq!(found(vec![Item::Text(one), Item::Text(other)]), []);
    }

    #[test]
    fn a_line_through_text_counts_unless_knocked_out() {
        let text = words(20.0, 30.0, "HHH");
        let struck = found(vec![rule(29.0), Item::Text(text.clone())]);
        assert!(
            matches!(struck[..], [Conflict::Struck { .. }]),
            "{struck:?}"
        );
        let close = found(vec![rule(30.3), Item::Text(text.clone())]);
        assert!(matches!(close[..], [Conflict::Close { .. }]), "{close:?}");
        assert_eq!(found(vec![rule(30.5), Item::Text(text.clone())]), []);
        let knockout = build::knockout(&text, Mm(0.5)).expect("there is ink");
        let knocked = vec![rule(29.0), knockout.clone(), Item::Text(text.clone())];
        assert_eq!(found(knocked), []);
        let late = vec![knockout, rule(29.0), Item::Text(text)];
        assert_eq!(found(late).len(), 1);
    }

    #[test]
    fn a_line_through_a_blank_between_words_counts() {
        let text = words(20.0, 30.0, "II II");
        let before = font::width(text.face, text.height, "II").0;
        let x = 20.0 + before + font::width(text.face, text.height, " ").0 / 2.0;
        let line = build::line(Pt::new(x, 0.0), Pt::new(x, 60.0));
        let upright = build::stroked(line, LineWidth::W13, Dash::Continuous);
        assert_eq!(found(vec![upright, Item::Text(text)]).len(), 1);
    }

    #[test]
    fn a_line_outside_its_clip_does_not_count() {
        let clip = Rect::between(Pt::new(0.0, 0.0), Pt::new(15.0, 60.0));
        let group = |text: Option<Text>| {
            let mut items = vec![rule(29.0)];
            items.extend(text.map(Item::Text));
            Item::Group(Group {
                id: "view".to_string(),
                clip: Some(clip.outline()),
                items,
                ..Group::default()
            })
        };
        let text = words(20.0, 30.0, "HHH");
        assert_eq!(found(vec![group(None), Item::Text(text.clone())]), []);
        let cut = found(vec![group(Some(text))]);
        assert!(matches!(cut[..], [Conflict::Clipped { .. }]), "{cut:?}");
    }

    #[test]
    fn text_off_the_sheet_or_under_a_fill() {
        let off = found(vec![Item::Text(words(98.0, 30.0, "HHH"))]);
        assert!(matches!(off[..], [Conflict::OffSheet { .. }]), "{off:?}");
        let patch = Rect::between(Pt::new(21.0, 20.0), Pt::new(30.0, 40.0)).outline();
        let fill = build::filled(patch, Colour::WHITE);
        let text = Item::Text(words(20.0, 30.0, "HHH"));
        assert_eq!(found(vec![fill.clone(), text.clone()]), []);
        let covered = found(vec![text, fill]);
        assert!(
            matches!(covered[..], [Conflict::Covered { .. }]),
            "{covered:?}"
        );
    }

    #[test]
    fn the_edge_of_a_tint_counts_and_that_of_white_does_not() {
        let text = || Item::Text(words(20.0, 30.0, "HHH"));
        let patch = Rect::between(Pt::new(0.0, 20.0), Pt::new(23.0, 40.0)).outline();
        let tint = build::filled(patch.clone(), Colour(200, 200, 200));
        let struck = found(vec![tint, text()]);
        assert!(
            matches!(struck[..], [Conflict::Struck { .. }]),
            "{struck:?}"
        );
        let white = build::filled(patch, Colour::WHITE);
        assert_eq!(found(vec![white, text()]), []);
    }

    #[test]
    fn lettering_is_high_enough_and_widths_are_few() {
        let low = build::text(Pt::new(20.0, 30.0), Anchor::Start, Mm(2.4), "HHH");
        let found_low = found(vec![Item::Text(low)]);
        assert!(
            matches!(found_low[..], [Conflict::Low { .. }]),
            "{found_low:?}"
        );
        let lines = |widths: &[LineWidth]| {
            let items = widths
                .iter()
                .map(|w| {
                    let line = build::line(Pt::new(10.0, 20.0), Pt::new(30.0, 20.0));
                    build::stroked(line, *w, Dash::Continuous)
                })
                .collect();
            found(vec![Item::Group(Group {
                id: "plan-base".to_string(),
                items,
                ..Group::default()
            })])
        };
        let four = [
            LineWidth::W18,
            LineWidth::W25,
            LineWidth::W35,
            LineWidth::W50,
        ];
        assert_eq!(lines(&four), []);
        let five = [&four[..], &[LineWidth::W70]].concat();
        assert!(matches!(
            lines(&five)[..],
            [Conflict::Widths { count: 5, .. }]
        ));
    }

    #[test]
    fn odd_numbers_do_no_harm() {
        let nan = words(f64::NAN, 30.0, "HHH");
        let far = build::line(Pt::new(-1e12, 29.0), Pt::new(f64::INFINITY, 29.0));
        let long = build::line(Pt::new(-1e9, 29.0), Pt::new(1e9, 29.0));
        let stroke = |line| build::stroked(line, LineWidth::W25, Dash::Continuous);
        let items = vec![
            stroke(far),
            stroke(long),
            Item::Text(nan),
            Item::Text(words(20.0, 30.0, "HHH")),
        ];
        let found = found(items);
        assert!(
            found.iter().any(|c| matches!(c, Conflict::Struck { .. })),
            "{found:?}"
        );
    }
}
