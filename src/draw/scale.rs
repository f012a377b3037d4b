//! Scales: how site millimetres become paper millimetres.
//!
//! In: a ratio as printed on drawings (`1:25`, `1/4" = 1'-0"`, `1" = 10'`) or the wish for the
//! largest standard scale that fits. Out: [`Scale`], [`Placing`] (site points to paper points) and
//! [`Bar`] (divisions of a scale bar). Standard scales are those of ISO 5455 and the usual US
//! architect's and engineer's scales. Left out: views stretched in one direction.

use super::paper::{Mm, Pt};
use crate::geom::Point;
use crate::units::System;

/// A scale of reduction.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// Site millimetres per paper millimetre: 50 for 1:50.
    pub ratio: f64,
    /// As printed, such as `1:50` or `1/4" = 1'-0"`.
    pub text: String,
}

/// A scale with a place: it maps site points to paper points. Site y up becomes paper y down.
#[derive(Clone, Debug, PartialEq)]
pub struct Placing {
    scale: Scale,
    site: Point,
    paper: Pt,
    turn: f64,
}

/// Divisions of a scale bar, from zero on.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Printed unit: `m`, `mm`, `ft` or `in`.
    pub unit: &'static str,
    /// Marks from zero to the end: distance from the zero on paper, and its figure in the unit.
    pub marks: Vec<(Mm, String)>,
}

/// Ratios of ISO 5455 and their decades that a site drawing may use.
///
/// # Source
/// ISO 5455: reductions 1:2, 1:5, 1:10 and these times powers of ten.
const METRIC: [f64; 9] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];

/// Architect's scales, paper inches per foot, and engineer's scales, feet per paper inch.
const US: [(f64, &str); 15] = [
    (4.0, "3\" = 1'-0\""),
    (8.0, "1 1/2\" = 1'-0\""),
    (12.0, "1\" = 1'-0\""),
    (16.0, "3/4\" = 1'-0\""),
    (24.0, "1/2\" = 1'-0\""),
    (32.0, "3/8\" = 1'-0\""),
    (48.0, "1/4\" = 1'-0\""),
    (64.0, "3/16\" = 1'-0\""),
    (96.0, "1/8\" = 1'-0\""),
    (120.0, "1\" = 10'"),
    (240.0, "1\" = 20'"),
    (360.0, "1\" = 30'"),
    (480.0, "1\" = 40'"),
    (600.0, "1\" = 50'"),
    (720.0, "1\" = 60'"),
];

impl Scale {
    /// The scale 1:n; `n` must be above zero.
    pub fn one_to(n: f64) -> Self {
        Self {
            ratio: n,
            text: format!("1:{n}"),
        }
    }

    /// Reads a scale as written: `1:25`, `1/4" = 1'-0"`, `1 1/2" = 1'`, `1" = 10'`.
    ///
    /// # Errors
    /// What was wrong, in words, when it is not a scale or does not reduce by 1 to 100 000.
    pub fn parse(written: &str) -> Result<Self, String> {
        let plain = written
            .replace(['″', '”', '“'], "\"")
            .replace(['′', '’', '‘'], "'")
            .replace("''", "\"");
        let wrong =
            || format!("`{written}` is not a scale; write it as 1:25, 1/4\" = 1'-0\" or 1\" = 10'");
        let (ratio, text) = if let Some((one, n)) = plain.split_once(':') {
            let one = decimal(one.trim()).ok_or_else(wrong)?;
            let n = decimal(n.trim()).ok_or_else(wrong)?;
            if one <= 0.0 {
                return Err(wrong());
            }
            (n / one, format!("1:{}", n / one))
        } else {
            let (paper, site) = plain.split_once('=').ok_or_else(wrong)?;
            let (paper, site) = (paper.trim(), site.trim());
            let on_paper = inches(paper).ok_or_else(wrong)?;
            let on_site = inches(site).ok_or_else(wrong)?;
            if on_paper <= 0.0 {
                return Err(wrong());
            }
            (on_site / on_paper, format!("{paper} = {site}"))
        };
        if !(1.0..=100_000.0).contains(&ratio) {
            return Err(format!(
                "`{written}` reduces by {ratio}; a scale reduces by 1 to 100 000"
            ));
        }
        Ok(Self { ratio, text })
    }

    /// The standard scales of a unit system, largest drawing first.
    ///
    /// # Source
    /// ISO 5455 for metric; the architect's scales (3" to 1/8" to the foot) and engineer's scales
    /// (10 to 60 feet to the inch) otherwise.
    pub fn standard(system: System) -> Vec<Self> {
        match system {
            System::Metric => METRIC.iter().map(|&n| Self::one_to(n)).collect(),
            System::FeetInches | System::Dual => US
                .iter()
                .map(|&(ratio, text)| Self {
                    ratio,
                    text: text.to_string(),
                })
                .collect(),
        }
    }

    /// The largest standard scale at which `width` by `height` site millimetres fit into that much
    /// paper; none when not even the smallest does.
    pub fn largest_that_fits(
        system: System,
        (width, height): (f64, f64),
        (across, up): (Mm, Mm),
    ) -> Option<Self> {
        Self::standard(system)
            .into_iter()
            .find(|s| s.to_paper(width).0 <= across.0 && s.to_paper(height).0 <= up.0)
    }

    /// A site length in millimetres, on paper.
    pub fn to_paper(&self, site_mm: f64) -> Mm {
        Mm(site_mm / self.ratio)
    }

    /// A paper length, on site in millimetres.
    pub fn to_site(&self, paper: Mm) -> f64 {
        paper.0 * self.ratio
    }

    /// The scale with the site point `site` drawn at the paper point `paper`.
    pub fn placed(&self, site: Point, paper: Pt) -> Placing {
        Placing {
            scale: self.clone(),
            site,
            paper,
            turn: 0.0,
        }
    }

    /// A scale bar between 40 and 100 mm long in steps of 1, 2 or 5.
    ///
    /// Metres or feet; below a metre millimetres, up to a foot inches.
    pub fn bar(&self, system: System) -> Bar {
        const LONGEST: f64 = 100.0;
        let metric = system == System::Metric;
        let big = if metric { 1000.0 } else { 304.8 };
        let feet_left = LONGEST * self.ratio / big;
        let (unit, unit_mm) = match (metric, feet_left < 1.0) {
            (true, false) => ("m", 1000.0),
            (true, true) => ("mm", 1.0),
            (false, false) => ("ft", 304.8),
            (false, true) => ("in", 25.4),
        };
        let (total, parts) = round_total(LONGEST * self.ratio / unit_mm);
        let (unit, unit_mm, total, parts) = if unit == "ft" && total < 2.0 {
            ("in", 25.4, 12.0, 4)
        } else {
            (unit, unit_mm, total, parts)
        };
        let marks = (0..=parts)
            .map(|i| {
                let value = total * f64::from(i) / f64::from(parts);
                (self.to_paper(value * unit_mm), format!("{value}"))
            })
            .collect();
        Bar { unit, marks }
    }
}

impl Placing {
    /// The same placing with the site turned about its placed point by degrees, anticlockwise as
    /// seen on paper.
    pub fn turned(mut self, degrees: f64) -> Self {
        self.turn = degrees;
        self
    }

    /// The scale.
    pub fn scale(&self) -> &Scale {
        &self.scale
    }

    /// Turn of the site on paper in degrees, anticlockwise as seen.
    pub fn turn(&self) -> f64 {
        self.turn
    }

    /// Where a site point falls on paper.
    pub fn at(&self, p: Point) -> Pt {
        let (sin, cos) = self.sin_cos();
        let (x, y) = (p.x - self.site.x, p.y - self.site.y);
        Pt::new(
            self.paper.x + (x * cos - y * sin) / self.scale.ratio,
            self.paper.y - (x * sin + y * cos) / self.scale.ratio,
        )
    }

    /// The site point that falls on a paper point.
    pub fn back(&self, p: Pt) -> Point {
        let (sin, cos) = self.sin_cos();
        let u = (p.x - self.paper.x) * self.scale.ratio;
        let v = (self.paper.y - p.y) * self.scale.ratio;
        Point {
            x: self.site.x + u * cos + v * sin,
            y: self.site.y - u * sin + v * cos,
        }
    }

    /// Sine and cosine of the turn, exact at quarter turns.
    fn sin_cos(&self) -> (f64, f64) {
        let quarters = self.turn / 90.0;
        if quarters.fract() == 0.0 {
            return match quarters.rem_euclid(4.0) as u8 {
                0 => (0.0, 1.0),
                1 => (1.0, 0.0),
                2 => (0.0, -1.0),
                _ => (-1.0, 0.0),
            };
        }
        let turn = self.turn.to_radians();
        (libm::sin(turn), libm::cos(turn))
    }
}

/// The greatest 1, 2 or 5 times a power of ten not above `limit`, and into how many parts of the
/// 1-2-5 series it divides.
fn round_total(limit: f64) -> (f64, u32) {
    const DECADES: [f64; 9] = [1e-2, 1e-1, 1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];
    DECADES
        .iter()
        .flat_map(|&d| [(d, 5), (2.0 * d, 4), (5.0 * d, 5)])
        .take_while(|&(total, _)| total <= limit * (1.0 + 1e-12))
        .last()
        .unwrap_or((1e-2, 5))
}

/// Reads a plain decimal above zero.
fn decimal(text: &str) -> Option<f64> {
    let plain = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    plain.then(|| text.parse().ok())?
}

/// Reads feet and inches such as `1'-0"`, `10'`, `1 1/2"`, `1½"` as inches. A bare number has no
/// unit and is refused.
fn inches(text: &str) -> Option<f64> {
    let (feet, rest) = match text.split_once('\'') {
        Some((feet, rest)) => (Some(mixed(feet.trim())?), rest.trim()),
        None => (None, text.trim()),
    };
    let rest = rest.trim_start_matches('-').trim();
    if rest.is_empty() {
        return feet.map(|f| f * 12.0);
    }
    let inch = mixed(rest.strip_suffix('"')?.trim())?;
    Some(feet.unwrap_or(0.0) * 12.0 + inch)
}

/// Reads `3`, `0.5`, `1/2`, `1 1/2`, `1-1/2` or `1½`.
fn mixed(text: &str) -> Option<f64> {
    const GLYPHS: [(char, f64); 7] = [
        ('½', 0.5),
        ('¼', 0.25),
        ('¾', 0.75),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
    ];
    for (glyph, part) in GLYPHS {
        if let Some(whole) = text.strip_suffix(glyph) {
            let whole = whole.trim();
            return if whole.is_empty() {
                Some(part)
            } else {
                Some(decimal(whole)? + part)
            };
        }
    }
    let Some((before, under)) = text.split_once('/') else {
        return decimal(text);
    };
    let before = before.trim();
    let (whole, over) = match before.rsplit_once([' ', '-']) {
        Some((whole, over)) => (decimal(whole.trim())?, decimal(over)?),
        None => (0.0, decimal(before)?),
    };
    let under = decimal(under.trim())?;
    (under > 0.0).then_some(whole + over / under)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The usual table of architect's and engineer's scales and their ratios.
    #[test]
    fn written_scales_have_their_ratio() {
        let known = [
            ("1/8\" = 1'-0\"", 96.0),
            ("3/16\" = 1'-0\"", 64.0),
            ("1/4\" = 1'-0\"", 48.0),
            ("3/8\"=1'", 32.0),
            ("½″ = 1′-0″", 24.0),
            ("1 1/2\" = 1'-0\"", 8.0),
            ("1½\" = 1'-0\"", 8.0),
            ("3\" = 1'-0\"", 4.0),
            ("1\" = 10'", 120.0),
            ("1\" = 60'", 720.0),
            ("1:25", 25.0),
            (" 1 : 50 ", 50.0),
            ("1\" = 1'-6\"", 18.0),
        ];
        for (text, ratio) in known {
            assert_eq!(Scale::parse(text).map(|s| s.ratio), Ok(ratio), "{text}");
        }
    }

    #[test]
    fn standard_scales_read_back() {
        for system in [System::Metric, System::FeetInches] {
            for scale in Scale::standard(system) {
                assert_eq!(Scale::parse(&scale.text), Ok(scale));
            }
        }
    }

    #[test]
    fn what_is_no_scale_is_refused() {
        for text in [
            "",
            "1",
            "1:0",
            "0:1",
            "1:",
            ":",
            "=",
            "1=2",
            "1\" = 10",
            "1/0\" = 1'",
            "25:1",
            "1:1e9",
            "1:nan",
            "1\" = -1'",
            "'=\"",
            "1:9999999",
        ] {
            assert!(Scale::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn y_flips_and_quarter_turns_are_exact() {
        let scale = Scale::one_to(50.0);
        let origin = Point {
            x: 1000.0,
            y: 500.0,
        };
        let placing = scale.placed(origin, Pt::new(100.0, 80.0));
        let p = Point {
            x: 2000.0,
            y: 1500.0,
        };
        assert_eq!(placing.at(p), Pt::new(120.0, 60.0));
        let turned = placing.turned(90.0);
        assert_eq!(
            turned.at(Point {
                x: 2000.0,
                y: 500.0
            }),
            Pt::new(100.0, 60.0)
        );
        let odd = turned.turned(33.0);
        let back = odd.back(odd.at(p));
        assert!((back.x - p.x).abs() < 1e-9 && (back.y - p.y).abs() < 1e-9);
    }

    #[test]
    fn the_largest_scale_that_fits() {
        let paper = (Mm(300.0), Mm(200.0));
        let fit = |w, h| Scale::largest_that_fits(System::Metric, (w, h), paper).map(|s| s.text);
        assert_eq!(fit(6000.0, 4000.0), Some("1:20".to_string()));
        assert_eq!(fit(6001.0, 4000.0), Some("1:50".to_string()));
        assert_eq!(fit(1e9, 1.0), None);
    }

    #[test]
    fn bars_are_40_to_100_mm_long() {
        for system in [System::Metric, System::FeetInches] {
            for scale in Scale::standard(system) {
                let bar = scale.bar(system);
                let (Mm(first), zero) = &bar.marks[0];
                let (Mm(length), _) = bar.marks.last().expect("a bar has an end");
                assert_eq!((*first, zero.as_str()), (0.0, "0"));
                assert!(
                    (40.0 - 1e-9..=100.0 + 1e-9).contains(length),
                    "{scale:?} {length}"
                );
            }
        }
        let bar = Scale::one_to(50.0).bar(System::Metric);
        let figures: Vec<_> = bar.marks.iter().map(|m| m.1.as_str()).collect();
        assert_eq!(
            (bar.unit, figures),
            ("m", vec!["0", "1", "2", "3", "4", "5"])
        );
    }
}
