//! What single texts say in SI, and the nearest word to a mistyped one.
//!
//! In: text of the job file. Out: millimetres, degrees, kilograms, or the [`Misread`] that says which
//! spellings are possible; and what messages list as right.

use crate::language::{Phrase, phrase};
use crate::units::{Angle, Area, Density, Fall, Length, Mass, Misread, Rain, Volume};

/// The length that a text says, in millimetres.
pub fn length(text: &str) -> Result<f64, Misread> {
    Length::parse(text).map(Length::mm)
}

/// The angle that a text says, in degrees.
pub fn angle(text: &str) -> Result<f64, Misread> {
    Angle::parse(text).map(Angle::degrees)
}

/// The fall that a text says, as rise over run.
pub fn fall(text: &str) -> Result<f64, Misread> {
    Fall::parse(text).map(Fall::ratio)
}

/// The mass that a text says, in kilograms.
pub fn mass(text: &str) -> Result<f64, Misread> {
    Mass::parse(text).map(Mass::kg)
}

/// The density that a text says, in kilograms per cubic metre.
pub fn density(text: &str) -> Result<f64, Misread> {
    Density::parse(text).map(Density::kg_per_m3)
}

/// The area that a text says, in square metres.
pub fn area(text: &str) -> Result<f64, Misread> {
    Area::parse(text).map(Area::m2)
}

/// The rainfall that a text says, in millimetres an hour.
pub fn rain(text: &str) -> Result<f64, Misread> {
    Rain::parse(text).map(Rain::mm_per_h)
}

/// The volume that a text says, in cubic metres.
pub fn volume(text: &str) -> Result<f64, Misread> {
    Volume::parse(text).map(Volume::m3)
}

/// The keys that would be right.
pub fn one_of_keys(known: &[&str]) -> Phrase {
    match known {
        [one] => Phrase::own(*one),
        several => phrase!("one of {names}§keys", names = several.join(", ")),
    }
}

/// The words that would be right.
pub fn one_of_words<T>(words: &[(&str, T)]) -> Phrase {
    let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
    phrase!("one of {names}§words", names = list.join(", "))
}

/// The start of a text, fit for a message.
pub fn shorten(text: &str) -> String {
    let mut out: String = text.chars().take(40).collect();
    if text.chars().nth(40).is_some() {
        out.push('…');
    }
    out
}

/// The known word nearest to a mistyped one, when one is near.
pub fn nearest<'a>(word: &str, known: &[&'a str]) -> Option<&'a str> {
    known
        .iter()
        .map(|&other| {
            (
                strsim::damerau_levenshtein(&word.to_lowercase(), other),
                other,
            )
        })
        .filter(|(distance, other)| {
            // Another name of one letter is not a misspelling of this one.
            let long = other.chars().count().max(word.chars().count());
            long > 1 && *distance <= (other.chars().count() / 3).max(1)
        })
        .min()
        .map(|(_, other)| other)
}
