//! Phrases: English templates with values for their places, and what they say in a language.
//!
//! A place is `{name}`. A template with ` | ` in it has a singular and a plural, told apart by the
//! value of `{count}`. What stands behind `§` is no part of the words: it tells phrases apart that
//! English says alike. That places and values agree is checked when the program is built.

use std::fmt;

use super::Language;
use super::table;

/// A phrase: its English template, and the values of its places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Phrase {
    /// The English template; none for words that are the same in every language.
    template: Option<&'static str>,
    arguments: Vec<(&'static str, Argument)>,
}

/// What stands in a place of a phrase.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Argument {
    /// Words that are the same in every language: lengths, marks, names of the job's own.
    Words(String),
    /// A count.
    Count(u64),
    /// A place in a row: 1st, 2nd.
    Ordinal(u64),
    /// A phrase within the phrase.
    Phrase(Phrase),
}

/// A number that says which one in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ordinal(pub u32);

impl Phrase {
    /// A phrase of a template; made by `phrase!`, which checks that they agree.
    pub(crate) const fn new(
        template: &'static str,
        arguments: Vec<(&'static str, Argument)>,
    ) -> Self {
        Self {
            template: Some(template),
            arguments,
        }
    }

    /// Words that are the same in every language.
    pub fn own(words: impl Into<String>) -> Self {
        Self {
            template: None,
            arguments: vec![("", Argument::Words(words.into()))],
        }
    }

    /// A phrase that stands in the table of words with these English words, else the words
    /// themselves: for values that a job may write in its own words.
    pub fn known(words: &str) -> Self {
        match table::template(words) {
            Some(template) => Self::new(template, Vec::new()),
            None => Self::own(words),
        }
    }

    /// Phrases in a row with punctuation between them.
    pub fn row(phrases: impl IntoIterator<Item = Phrase>, between: impl Into<Phrase>) -> Self {
        let between = between.into();
        let mut arguments = Vec::new();
        for phrase in phrases {
            if !arguments.is_empty() {
                arguments.push(("", Argument::Phrase(between.clone())));
            }
            arguments.push(("", Argument::Phrase(phrase)));
        }
        Self {
            template: None,
            arguments,
        }
    }

    /// Phrases in a row, told apart by semicolons.
    pub fn listed(phrases: impl IntoIterator<Item = Phrase>) -> Self {
        Self::row(phrases, super::phrase!("; "))
    }

    /// The English words of a phrase without places: the word that jobs and reports use for what
    /// sheets say in every language. Empty for words that are the same in every language.
    pub const fn word(&self) -> &'static str {
        match self.template {
            Some(template) => template,
            None => "",
        }
    }

    /// Whether it says nothing.
    pub fn is_empty(&self) -> bool {
        self.say(Language::English).is_empty()
    }

    /// Whether its English words contain others.
    pub fn contains(&self, words: &str) -> bool {
        self.say(Language::English).contains(words)
    }

    /// What it says in a language.
    pub fn say(&self, language: impl Into<Language>) -> String {
        let language = language.into();
        let Some(template) = self.template else {
            let parts = self.arguments.iter();
            return parts.map(|(_, part)| part.say(language)).collect();
        };
        let text = table::text(template, language);
        let text = text.split('§').next().unwrap_or(text);
        let text = match text.split_once(" | ") {
            Some((one, _)) if language.singular(self.count()) => one,
            Some((_, many)) => many,
            None => text,
        };
        let mut said = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            let (name, after) = after.split_once('}').unwrap_or((after, ""));
            said += &plain(before, language);
            let value = self.arguments.iter().find(|(known, _)| *known == name);
            said += &value.map_or(String::new(), |(_, value)| value.say(language));
            rest = after;
        }
        said + &plain(rest, language)
    }

    fn count(&self) -> u64 {
        let counts = self.arguments.iter().filter(|(name, _)| *name == "count");
        counts
            .map(|(_, value)| match value {
                Argument::Count(count) => *count,
                _ => 2,
            })
            .next()
            .unwrap_or(2)
    }
}

#[cfg(not(test))]
fn plain(words: &str, _: Language) -> String {
    words.to_string()
}

/// The words as they are; an x for each letter in the language that is none.
#[cfg(test)]
fn plain(words: &str, language: Language) -> String {
    if language != Language::Crossed {
        return words.to_string();
    }
    let crossed = words.chars().map(|c| match c {
        c if c.is_alphabetic() && c.is_uppercase() => 'X',
        c if c.is_alphabetic() => 'x',
        c => c,
    });
    crossed.collect()
}

impl fmt::Display for Phrase {
    /// The English words.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.say(Language::English))
    }
}

impl From<String> for Phrase {
    /// Words that are the same in every language.
    fn from(words: String) -> Self {
        Self::own(words)
    }
}

impl From<&str> for Phrase {
    /// Words that are the same in every language.
    fn from(words: &str) -> Self {
        Self::own(words)
    }
}

impl From<&Phrase> for Phrase {
    fn from(phrase: &Phrase) -> Self {
        phrase.clone()
    }
}

impl Default for Phrase {
    /// A phrase that says nothing.
    fn default() -> Self {
        Self::own("")
    }
}

impl Argument {
    pub(super) fn say(&self, language: Language) -> String {
        match self {
            Argument::Words(words) => words.clone(),
            Argument::Count(count) => count.to_string(),
            Argument::Ordinal(n) => ordinal(*n, language),
            Argument::Phrase(phrase) => phrase.say(language),
        }
    }
}

fn ordinal(n: u64, language: Language) -> String {
    let ending = match (language, n % 10, n % 100) {
        (Language::Spanish, ..) => ".º",
        (Language::French, ..) if n == 1 => "er",
        (Language::French, ..) => "e",
        (_, 1, k) if k != 11 => "st",
        (_, 2, k) if k != 12 => "nd",
        (_, 3, k) if k != 13 => "rd",
        _ => "th",
    };
    format!("{n}{}", plain(ending, language))
}

/// A value that may stand in a place of a phrase.
pub trait Said {
    /// The value as it stands there.
    fn argument(&self) -> Argument;
}

impl<T: Said + ?Sized> Said for &T {
    fn argument(&self) -> Argument {
        (**self).argument()
    }
}

impl Said for str {
    fn argument(&self) -> Argument {
        Argument::Words(self.to_string())
    }
}

impl Said for String {
    fn argument(&self) -> Argument {
        Argument::Words(self.clone())
    }
}

impl Said for Phrase {
    fn argument(&self) -> Argument {
        Argument::Phrase(self.clone())
    }
}

impl Said for usize {
    fn argument(&self) -> Argument {
        Argument::Count(*self as u64)
    }
}

impl Said for u64 {
    fn argument(&self) -> Argument {
        Argument::Count(*self)
    }
}

impl Said for u32 {
    fn argument(&self) -> Argument {
        Argument::Count(u64::from(*self))
    }
}

impl Said for i32 {
    fn argument(&self) -> Argument {
        Argument::Words(self.to_string())
    }
}

impl Said for Ordinal {
    fn argument(&self) -> Argument {
        Argument::Ordinal(u64::from(self.0))
    }
}

/// Whether the places of a template are just the names given; run when the program is built.
pub(crate) const fn agree(template: &str, names: &[&str]) {
    let text = template.as_bytes();
    let mut met = [false; 16];
    assert!(names.len() <= 16, "a phrase has 16 places at most");
    let mut at = 0;
    while at < text.len() {
        if text[at] == b'{' {
            let mut end = at + 1;
            while text[end] != b'}' {
                end += 1;
            }
            let mut which = 0;
            while which < names.len() && !same(text, at + 1, end, names[which].as_bytes()) {
                which += 1;
            }
            assert!(which < names.len(), "a place of the phrase has no value");
            met[which] = true;
            at = end;
        }
        at += 1;
    }
    let mut which = 0;
    while which < names.len() {
        assert!(met[which], "a value has no place in the phrase");
        which += 1;
    }
}

const fn same(text: &[u8], start: usize, end: usize, name: &[u8]) -> bool {
    if end - start != name.len() {
        return false;
    }
    let mut i = 0;
    while i < name.len() {
        if text[start + i] != name[i] {
            return false;
        }
        i += 1;
    }
    true
}

/// A [`Phrase`]: the English template, then a value for each of its places, `name = value`, or
/// `name` alone where a variable has that name.
macro_rules! phrase {
    ($template:literal $(, $name:ident $(= $value:expr)?)* $(,)?) => {{
        const { $crate::language::agree($template, &[$(stringify!($name)),*]) };
        $crate::language::Phrase::new($template, vec![
            $((
                stringify!($name),
                $crate::language::Said::argument(&$crate::language::given!($name $(, $value)?)),
            )),*
        ])
    }};
}

/// The words of a phrase in a language: the language, then what [`phrase!`] takes.
macro_rules! say {
    ($language:expr, $($phrase:tt)+) => {
        $crate::language::phrase!($($phrase)+).say($language)
    };
}

macro_rules! given {
    ($name:ident) => {
        $name
    };
    ($name:ident, $value:expr) => {
        $value
    };
}

pub(crate) use {given, phrase, say};
