//! Reading: text of a job file to typed values.
//!
//! In: the text of one value. Out: a quantity in SI, or a [`Misread`] that says which spellings
//! are possible. Conversions are exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg.
//!
//! Spaces are optional everywhere; `′ ″` and typographic quotes are read as `' "`, `−` as `-`,
//! and the fraction signs ½ ⅓ ⅔ ¼ ¾ ⅕ ⅖ ⅗ ⅘ ⅙ ⅚ ⅛ ⅜ ⅝ ⅞ as fractions. A sign in front holds
//! for the whole value. Only `0` may stand without a unit.
//!
//! Left out: thousands separators, exponents, a comma for the decimal point, units in capitals.
//!
//! The table below is read line by line by the tests of this file.
//!
#![doc = include_str!("spellings.md")]

use super::cursor::Cursor;
use super::{Angle, Area, Density, Fall, Length, Mass, Misread, Rain, Volume};
use super::{CUBIC_FOOT, CUBIC_YARD, POUND, SQUARE_FOOT};
use crate::language::{Phrase, phrase};

const LENGTH: Phrase = phrase!(
    "a length with its unit: feet and inches under 12 such as 12'-6\", 12' 6 1/2\" or \
    3/4\", or a number with in, ft, yd, mm, cm or m"
);
const ANGLE: Phrase = phrase!("an angle with its unit, such as 45° or 45 deg");
const FALL: Phrase =
    phrase!("a fall, such as 2%, 1°, 1/4\" per ft, 1:60 (rise:run) or 20 mm per m");
const MASS: Phrase = phrase!("a mass with its unit, such as 50 lb or 25 kg");
const DENSITY: Phrase =
    phrase!("a density with its unit, such as 100 lb/ft³ (lb/ft3) or 1600 kg/m³");
const VOLUME: Phrase = phrase!("a volume with its unit, such as 10 yd³ (yd3), 6 m³ or 0.5 ft³");
const AREA: Phrase = phrase!("an area with its unit, such as 300 ft² (ft2), 28 m² or 30 yd²");
const RAIN: Phrase = phrase!("a rainfall with its unit, such as 4 in/h or 100 mm/h");
const RATIO: Phrase = phrase!("a share, such as 10%, 0.1 or 1/2");
const HOURS: Phrase = phrase!("hours with their unit, such as 8 h");
const SCALE: Phrase = phrase!("a scale, such as 1/4\" = 1'-0\" or 1:25");

impl Length {
    /// The length or level that `text` says; negative with a minus in front.
    ///
    /// ```
    /// use groundsheet::units::Length;
    /// // 12 ft 6 1/2 in = 150.5 in; 150.5 × 25.4 = 3822.7 mm
    /// assert_eq!(Length::parse("12'-6 1/2\"").unwrap().mm(), 3822.7);
    /// assert!(Length::parse("3").is_err());
    /// ```
    ///
    /// # Errors
    /// When the text is not a length with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, LENGTH, length).map(Self::from_mm)
    }
}

impl Angle {
    /// The angle that `text` says.
    ///
    /// # Errors
    /// When the text is not an angle with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, ANGLE, angle).map(Self::from_degrees)
    }
}

impl Fall {
    /// The fall that `text` says. An angle is turned into rise over run by its tangent.
    ///
    /// # Errors
    /// When the text is not a fall, or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, FALL, fall).map(Self::from_ratio)
    }
}

impl Mass {
    /// The mass that `text` says.
    ///
    /// # Errors
    /// When the text is not a mass with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, MASS, |c| {
            scaled(c, |unit| match unit {
                "lb" | "lbs" => Some(POUND),
                "kg" => Some(1.0),
                _ => None,
            })
        })
        .map(Self::from_kg)
    }
}

impl Density {
    /// The density that `text` says.
    ///
    /// # Errors
    /// When the text is not a density with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, DENSITY, |c| {
            scaled(c, |unit| match unit {
                "lb/ft3" => Some(POUND / CUBIC_FOOT),
                "lb/yd3" => Some(POUND / CUBIC_YARD),
                "kg/m3" => Some(1.0),
                _ => None,
            })
        })
        .map(Self::from_kg_per_m3)
    }
}

impl Volume {
    /// The volume that `text` says.
    ///
    /// # Errors
    /// When the text is not a volume with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, VOLUME, |c| {
            scaled(c, |unit| match unit {
                "yd3" => Some(CUBIC_YARD),
                "ft3" => Some(CUBIC_FOOT),
                "m3" => Some(1.0),
                _ => None,
            })
        })
        .map(Self::from_m3)
    }
}

impl Area {
    /// The area that `text` says.
    ///
    /// # Errors
    /// When the text is not an area with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, AREA, |c| {
            scaled(c, |unit| match unit {
                "ft2" => Some(SQUARE_FOOT),
                "yd2" => Some(9.0 * SQUARE_FOOT),
                "m2" => Some(1.0),
                _ => None,
            })
        })
        .map(Self::from_m2)
    }
}

impl Rain {
    /// The rainfall that `text` says.
    ///
    /// # Errors
    /// When the text is not a rainfall with its unit (or `0`), or is not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        whole(text, RAIN, |c| {
            scaled(c, |unit| match unit {
                "mm/h" | "mm/hr" => Some(1.0),
                "in/h" | "in/hr" => Some(25.4),
                _ => None,
            })
        })
        .map(Self::from_mm_per_h)
    }
}

/// The share that `text` says, as a ratio: `25%` and `0.25` are 0.25, `1/2` is 0.5.
///
/// # Errors
/// When the text is neither a percentage nor a plain number or fraction, or is not finite.
pub fn ratio(text: &str) -> Result<f64, Misread> {
    whole(text, RATIO, |c| {
        let sign = c.sign();
        let value = sign * c.number()?.value;
        if c.mark('%') {
            return Some(value / 100.0);
        }
        Some(value)
    })
}

/// The hours that `text` says (`8 h`).
///
/// # Errors
/// When the text is not a number of hours with its unit (or `0`), or is not finite.
pub fn hours(text: &str) -> Result<f64, Misread> {
    whole(text, HOURS, |c| {
        scaled(c, |unit| match unit {
            "h" | "hour" | "hours" => Some(1.0),
            "min" => Some(1.0 / 60.0),
            _ => None,
        })
    })
}

/// The scale that `text` says, as site length per paper length: `1:25` is 25 and
/// `1/4" = 1'-0"` is 48.
///
/// # Errors
/// When the text is not a scale, either side is not above zero, or it is not finite.
pub fn scale(text: &str) -> Result<f64, Misread> {
    let of = |c: &mut Cursor| {
        let start = c.place();
        if let Some(paper) = c.number()
            && c.mark(':')
        {
            let site = c.number()?.value;
            return (paper.value > 0.0 && site > 0.0).then(|| site / paper.value);
        }
        c.back_to(start);
        let paper = length(c)?;
        if !c.mark('=') {
            return None;
        }
        let site = length(c)?;
        (paper > 0.0 && site > 0.0).then(|| site / paper)
    };
    if text.trim() == "0" {
        return Err(Misread::new(text, SCALE));
    }
    whole(text, SCALE, of)
}

/// Reads all of `text` by `rule`; a bare `0` is zero.
fn whole(
    text: &str,
    wanted: Phrase,
    rule: impl FnOnce(&mut Cursor) -> Option<f64>,
) -> Result<f64, Misread> {
    if text.trim() == "0" {
        return Ok(0.0);
    }
    let mut cursor = Cursor::new(text);
    rule(&mut cursor)
        .filter(|value| value.is_finite() && cursor.at_end())
        .ok_or_else(|| Misread::new(text, wanted))
}

/// A signed number and its unit; `size` gives the SI size of a unit.
fn scaled(c: &mut Cursor, size: impl FnOnce(&str) -> Option<f64>) -> Option<f64> {
    let sign = c.sign();
    let value = c.number()?.value;
    Some(sign * value * size(&c.unit())?)
}

/// A signed length in millimetres.
fn length(c: &mut Cursor) -> Option<f64> {
    let sign = c.sign();
    let first = c.number()?;
    let mm = match c.unit().as_str() {
        "'" | "ft" | "foot" | "feet" => from_inches(12.0 * first.value + inches_after(c, first)?),
        "\"" | "in" | "inch" | "inches" => from_inches(first.value),
        "yd" | "yard" | "yards" => from_inches(36.0 * first.value),
        "mm" => first.value,
        "cm" => first.value * 10.0,
        "m" => first.value * 1000.0,
        _ => return None,
    };
    Some(sign * mm)
}

/// The inches behind `feet`: zero when nothing that looks like inches follows; `None` when inches
/// follow feet that are not whole, or make another foot: a slip, such as `10'-13"` for `10'-3"`.
fn inches_after(c: &mut Cursor, feet: super::cursor::Number) -> Option<f64> {
    let start = c.place();
    c.mark('-');
    if let Some(inches) = c.number()
        && matches!(c.unit().as_str(), "\"" | "in" | "inch" | "inches")
    {
        return (feet.whole && inches.value < 12.0).then_some(inches.value);
    }
    c.back_to(start);
    Some(0.0)
}

/// Inches to millimetres, rounded once: 25.4 itself is not a binary number, 254 is.
fn from_inches(inches: f64) -> f64 {
    inches * 254.0 / 10.0
}

/// A signed angle in degrees.
fn angle(c: &mut Cursor) -> Option<f64> {
    scaled(c, |unit| match unit {
        "°" | "deg" | "degree" | "degrees" => Some(1.0),
        _ => None,
    })
}

/// A fall as rise over run.
fn fall(c: &mut Cursor) -> Option<f64> {
    let start = c.place();
    let sign = c.sign();
    let value = sign * c.number()?.value;
    if c.mark('%') {
        return Some(value / 100.0);
    }
    if c.mark(':') {
        let run = c.number()?.value;
        return (run > 0.0).then(|| value / run);
    }
    c.back_to(start);
    if let Some(degrees) = angle(c) {
        // Straight down has no rise over run.
        return (degrees.abs() < 90.0).then(|| libm::tan(degrees.to_radians()));
    }
    c.back_to(start);
    let rise = length(c)?;
    if c.unit() != "per" {
        return None;
    }
    let before = c.place();
    let run = match length(c) {
        Some(run) => run,
        None => {
            c.back_to(before);
            match c.unit().as_str() {
                "ft" | "foot" | "'" => 304.8,
                "in" | "inch" | "\"" => 25.4,
                "yd" | "yard" => 914.4,
                "m" => 1000.0,
                "cm" => 10.0,
                "mm" => 1.0,
                _ => return None,
            }
        }
    };
    (run > 0.0).then(|| rise / run)
}

#[cfg(test)]
mod tests;
