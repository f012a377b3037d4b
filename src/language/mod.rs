//! The languages of the words on paper.
//!
//! Every phrase stands in the code once, whole and in English, where it is said: `say!` gives its
//! words in a language, `phrase!` keeps it for later. What it is in Spanish and French stands in
//! `words/`, looked up by the English phrase, as message catalogues do. In: phrases with the values
//! of their places. Out: words. Left out: numbers, lengths, marks and the job's own words, which are
//! the same in every language.
//!
//! ```text
//! say!(languages, "Dig to {depth} below finish.", depth)
//! say!(languages, "{count} pass | {count} passes", count = 2)
//! ```

mod phrase;
mod table;

pub use phrase::{Argument, Ordinal, Phrase, Said};
pub(crate) use phrase::{agree, given, phrase, say};
pub use table::{Row, rows};

/// A language that sheets can be lettered in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// Spanish, as spoken on North American sites.
    Spanish,
    /// French.
    French,
    /// No language: every letter of a phrase is an x, so that a test sees words that are no phrase.
    #[cfg(test)]
    Crossed,
}

impl Language {
    /// Every language with the word a job writes for it.
    pub const ALL: [(&'static str, Language); 3] = [
        ("en", Language::English),
        ("es", Language::Spanish),
        ("fr", Language::French),
    ];

    /// Its code by ISO 639-1, as a job, a PDF and an SVG name it.
    pub const fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::Spanish => "es",
            Language::French => "fr",
            #[cfg(test)]
            Language::Crossed => "zxx",
        }
    }

    /// The language of a code; English where it is none of ours.
    pub fn coded(code: &str) -> Self {
        let mut all = Self::ALL.into_iter();
        all.find(|(known, _)| *known == code)
            .map_or(Self::English, |(_, language)| language)
    }

    /// Whether a count takes the singular.
    ///
    /// # Source
    /// Unicode CLDR, plural rules for whole numbers: one in English and Spanish, none and one in French.
    const fn singular(self, count: u64) -> bool {
        match self {
            Language::French => count < 2,
            _ => count == 1,
        }
    }
}

/// The language of the sheets, and a second one in which a mixed crew reads what it must not
/// misread: the order of work, the cautions, the materials, the signs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Languages {
    /// The language of everything.
    pub first: Language,
    /// The second one, when there is one.
    pub second: Option<Language>,
}

impl Languages {
    /// One language alone.
    pub const fn only(first: Language) -> Self {
        Self {
            first,
            second: None,
        }
    }

    /// A short phrase in both languages, with a stroke between; once where they are alike.
    pub fn label(self, phrase: &Phrase) -> String {
        self.joined(phrase, " / ")
    }

    /// A sentence in both languages, each on a line of its own.
    pub fn lines(self, phrase: &Phrase) -> String {
        self.joined(phrase, "\n")
    }

    fn joined(self, phrase: &Phrase, between: &str) -> String {
        let mut words = phrase.say(self.first);
        if let Some(second) = self.second {
            let other = phrase.say(second);
            if other != words {
                words = words + between + &other;
            }
        }
        words
    }
}

impl From<Languages> for Language {
    fn from(languages: Languages) -> Self {
        languages.first
    }
}

#[cfg(test)]
mod tests;
