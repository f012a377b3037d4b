//! Reading single values by what they should be.
//!
//! In: nodes of the tree. Out: values in SI (millimetres, degrees, kilograms, cubic metres), and
//! findings gathered in one [`Reader`], which goes on after each so that all are reported at once.
//! Defaults are texts as a job would write them, read by the same functions.

use std::borrow::Borrow;
use std::collections::BTreeMap;

use super::meaning::Meaning;
use super::model::Assumed;
use super::tree::{Entry, Node, Value};
use super::values::{length, nearest, one_of_keys, one_of_words, shorten};
use crate::diag::{Diagnostic, Place};
use crate::language::{Languages, Phrase, phrase};
use crate::site::LARGEST_KM;
use crate::units::{Length, Misread, Precision, System, print};

/// Most findings that are kept; one more says that there are further ones.
const MOST_FINDINGS: usize = 500;
/// Longest length of a job in millimetres: the longest side of a site.
pub const REASON: f64 = LARGEST_KM as f64 * 1e6;

/// Default value for jobs in feet and inches, and for metric jobs.
pub type Pair = (&'static str, &'static str);

/// Gathers findings, places and assumed values.
#[derive(Debug, Default)]
pub struct Reader {
    /// Errors and warnings.
    pub findings: Vec<Diagnostic>,
    /// Place of each dotted path.
    pub places: BTreeMap<String, Place>,
    /// Assumed values.
    pub assumed: Vec<Assumed>,
    /// Whether metric defaults hold.
    pub metric: bool,
    /// Languages of the sheets.
    pub languages: Languages,
}

/// What a number must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Anything finite.
    Any,
    /// Zero or more.
    NotNegative,
    /// More than zero.
    Positive,
}

/// A mapping whose keys are known.
#[derive(Clone, Debug)]
pub struct Map<'a> {
    /// Dotted path.
    pub path: String,
    /// Where it stands.
    pub place: Place,
    entries: &'a [Entry],
}

impl<'a> Map<'a> {
    /// A mapping that is not there: every key takes its default.
    pub fn absent(path: &str) -> Self {
        Self {
            path: path.to_owned(),
            place: Place::default(),
            entries: &[],
        }
    }

    /// The value of a key; `null` counts as not there.
    pub fn get(&self, key: &str) -> Option<&'a Node> {
        self.entry(key).map(|entry| &entry.node)
    }

    /// The entry of a key; `null` counts as not there.
    pub fn entry(&self, key: &str) -> Option<&'a Entry> {
        self.entries
            .iter()
            .find(|entry| entry.key == key)
            .filter(|entry| !matches!(entry.node.value, Value::Scalar(_, Meaning::Nothing)))
    }

    /// All entries in the order written.
    pub fn entries(&self) -> &'a [Entry] {
        self.entries
    }

    /// Dotted path of a key.
    pub fn key(&self, key: &str) -> String {
        if self.path.is_empty() {
            return key.to_owned();
        }
        format!("{}.{key}", self.path)
    }
}

impl Reader {
    /// Adds an error at a place.
    pub fn error(
        &mut self,
        code: &'static str,
        place: Place,
        found: Phrase,
        wanted: impl Borrow<Phrase>,
    ) {
        let wanted = wanted.borrow().clone();
        self.add(Diagnostic::error(code, found).at(place).wanted(wanted));
    }

    /// Adds a finding.
    pub fn add(&mut self, finding: Diagnostic) {
        match self.findings.len() {
            n if n < MOST_FINDINGS => self.findings.push(finding),
            MOST_FINDINGS => self.findings.push(
                Diagnostic::error("too-many", phrase!("and there are further findings"))
                    .at(finding.place.unwrap_or_default()),
            ),
            _ => {}
        }
    }

    /// Whether so many findings are kept that no further one will be.
    pub fn is_full(&self) -> bool {
        self.findings.len() > MOST_FINDINGS
    }

    /// Says that a default was taken.
    pub fn assume(&mut self, key: String, value: impl Into<String>) {
        self.assumed.push(Assumed {
            key,
            value: value.into(),
        });
    }

    /// The units that this job's messages speak in.
    pub fn system(&self) -> System {
        match self.metric {
            true => System::Metric,
            false => System::FeetInches,
        }
    }

    /// A length of a message, in the job's units.
    pub fn told(&self, mm: f64) -> String {
        print::some(Length::from_mm(mm), self.system(), Precision::Thickness)
    }

    /// The least length that can be told and is no less than a limit.
    pub fn told_or_more(&self, mm: f64) -> String {
        let step = Precision::Thickness.step(self.system());
        self.told((mm / step - 1e-6).ceil() * step)
    }

    /// The most length that can be told and is no more than a limit.
    pub fn told_or_less(&self, mm: f64) -> String {
        let step = Precision::Thickness.step(self.system());
        self.told((mm / step + 1e-6).floor() * step)
    }

    /// The default that holds for this job's units.
    pub fn pick(&self, pair: Pair) -> &'static str {
        if self.metric { pair.1 } else { pair.0 }
    }

    /// The node as a mapping with these keys; other keys are errors. `None` (said) when it is none.
    pub fn map<'a>(&mut self, node: &'a Node, path: &str, known: &[&str]) -> Option<Map<'a>> {
        let map = self.open_map(node, path)?;
        for entry in map.entries {
            if known.contains(&entry.key.as_str()) || self.is_full() {
                continue;
            }
            let key = &entry.key;
            let found = match path {
                "" => phrase!("`{key}` is not a key of a job", key),
                owner => phrase!("`{key}` is not a key of {owner}", key, owner),
            };
            let mut finding = Diagnostic::error("unknown-key", found)
                .at(entry.place)
                .wanted(one_of_keys(known));
            if let Some(near) = nearest(&entry.key, known) {
                finding = finding.hint(phrase!("perhaps `{near}` is meant", near));
            }
            self.add(finding);
        }
        Some(map)
    }

    /// The node as a mapping whose keys are names of the job's own.
    pub fn open_map<'a>(&mut self, node: &'a Node, path: &str) -> Option<Map<'a>> {
        let Value::Map(entries) = &node.value else {
            self.wrong(node, path, phrase!("a mapping of keys and values"));
            return None;
        };
        Some(Map {
            path: path.to_owned(),
            place: node.place,
            entries,
        })
    }

    /// The mapping under a key, or one where every key takes its default.
    pub fn block<'a>(&mut self, map: &Map<'a>, key: &str, known: &[&str]) -> Map<'a> {
        let path = map.key(key);
        map.get(key)
            .and_then(|node| self.map(node, &path, known))
            .unwrap_or_else(|| Map::absent(&path))
    }

    /// The node as a list.
    pub fn list<'a>(
        &mut self,
        node: &'a Node,
        path: &str,
        wanted: impl Borrow<Phrase>,
    ) -> Option<&'a [Node]> {
        let Value::List(items) = &node.value else {
            self.wrong(node, path, wanted);
            return None;
        };
        Some(items)
    }

    /// Says that a node is not what it should be.
    pub fn wrong(&mut self, node: &Node, path: &str, wanted: impl Borrow<Phrase>) {
        let owner = match path {
            "" => phrase!("the job"),
            path => Phrase::own(path),
        };
        let found = match &node.value {
            Value::Scalar(_, Meaning::Nothing) => phrase!("{owner} is nothing", owner),
            Value::Scalar(text, _) => {
                phrase!("{owner} is `{text}`", owner, text = shorten(text))
            }
            Value::List(_) => phrase!("{owner} is a list", owner),
            Value::Map(_) => phrase!("{owner} is a mapping", owner),
        };
        self.error("type", node.place, found, wanted);
    }

    /// A required key; its absence is said at the mapping.
    pub fn required<'a>(
        &mut self,
        map: &Map<'a>,
        key: &str,
        wanted: impl Borrow<Phrase>,
    ) -> Option<&'a Node> {
        let found = map.get(key);
        if found.is_none() {
            self.error(
                "missing",
                map.place,
                phrase!("`{key}` is missing", key = map.key(key)),
                wanted,
            );
        }
        found
    }

    /// The node as text, numbers as they are written.
    pub fn text(&mut self, node: &Node, path: &str) -> Option<String> {
        match &node.value {
            Value::Scalar(_, Meaning::Nothing) | Value::List(_) | Value::Map(_) => {
                self.wrong(node, path, phrase!("a text"));
                None
            }
            Value::Scalar(text, _) => Some(text.clone()),
        }
    }

    /// The text under a key, when it is there.
    pub fn text_at(&mut self, map: &Map<'_>, key: &str) -> Option<String> {
        self.text(map.get(key)?, &map.key(key))
    }

    /// The node as one of a few words.
    pub fn word<T: Copy>(&mut self, node: &Node, path: &str, words: &[(&str, T)]) -> Option<T> {
        if let Value::Scalar(text, _) = &node.value
            && let Some((_, value)) = words.iter().find(|(word, _)| word == text)
        {
            return Some(*value);
        }
        let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        self.wrong(node, path, one_of_words(words));
        if let (Value::Scalar(text, _), Some(last)) = (&node.value, self.findings.last_mut())
            && let Some(near) = nearest(&shorten(text), &list)
        {
            last.hint = Some(phrase!("perhaps `{near}` is meant", near));
        }
        None
    }

    /// The word under a key, when it is there.
    pub fn word_at<T: Copy>(&mut self, map: &Map<'_>, key: &str, words: &[(&str, T)]) -> Option<T> {
        self.word(map.get(key)?, &map.key(key), words)
    }

    /// The node as `true` or `false`.
    pub fn truth(&mut self, node: &Node, path: &str) -> Option<bool> {
        if let Value::Scalar(_, Meaning::Truth(value)) = node.value {
            return Some(value);
        }
        self.wrong(node, path, phrase!("true or false"));
        None
    }

    /// The node as a value that `parse` reads, within its bound.
    pub fn value(
        &mut self,
        node: &Node,
        path: &str,
        bound: Bound,
        parse: impl Fn(&str) -> Result<f64, Misread>,
    ) -> Option<f64> {
        let Value::Scalar(text, _) = &node.value else {
            let wanted = parse("").err().map_or_else(Phrase::default, |m| m.wanted);
            self.wrong(node, path, &wanted);
            return None;
        };
        let value = match parse(text) {
            Ok(value) => value,
            Err(misread) => {
                self.wrong(node, path, &misread.wanted);
                return None;
            }
        };
        let fits = match bound {
            Bound::Any => value.is_finite(),
            Bound::NotNegative => value >= 0.0,
            Bound::Positive => value > 0.0,
        };
        if !fits || !value.is_finite() {
            let wanted = match bound {
                Bound::Any => phrase!("a finite number"),
                Bound::NotNegative => phrase!("zero or more"),
                Bound::Positive => phrase!("more than zero"),
            };
            let found = phrase!("{owner} is `{text}`", owner = path, text = shorten(text));
            self.error("size", node.place, found, wanted);
            return None;
        }
        Some(value)
    }

    /// The node as a length in millimetres, at most [`REASON`].
    pub fn length(&mut self, node: &Node, path: &str, bound: Bound) -> Option<f64> {
        let value = self.value(node, path, bound, length)?;
        if value.abs() > REASON {
            let Value::Scalar(text, _) = &node.value else {
                return None;
            };
            let found = phrase!("{owner} is `{text}`", owner = path, text = shorten(text));
            self.error(
                "size",
                node.place,
                found,
                phrase!(
                    "at most {most} km ({feet} ft)",
                    most = LARGEST_KM,
                    feet = print::number((REASON / 304.8).floor(), 0)
                ),
            );
            return None;
        }
        Some(value)
    }

    /// The length under a key, when it is there.
    pub fn length_at(&mut self, map: &Map<'_>, key: &str, bound: Bound) -> Option<f64> {
        self.length(map.get(key)?, &map.key(key), bound)
    }

    /// The length under a key, else its default, which is noted as assumed.
    pub fn length_or(&mut self, map: &Map<'_>, key: &str, bound: Bound, default: Pair) -> f64 {
        let text = self.pick(default);
        if let Some(node) = map.get(key) {
            let read = self.length(node, &map.key(key), bound);
            return read.unwrap_or_else(|| known(length(text)));
        }
        self.assume(map.key(key), text);
        known(length(text))
    }

    /// The value under a key, else its default, which is noted as assumed.
    pub fn value_or(
        &mut self,
        map: &Map<'_>,
        key: &str,
        bound: Bound,
        default: Pair,
        parse: impl Fn(&str) -> Result<f64, Misread>,
    ) -> f64 {
        let text = self.pick(default);
        if let Some(node) = map.get(key) {
            let read = self.value(node, &map.key(key), bound, &parse);
            return read.unwrap_or_else(|| known(parse(text)));
        }
        self.assume(map.key(key), text);
        known(parse(text))
    }

    /// The node as a whole number from 1 up to a million.
    pub fn count(&mut self, node: &Node, path: &str) -> Option<u32> {
        self.whole(node, path, (1, phrase!("a whole number, 1 or more")))
    }

    /// The node as a whole number from 0 up to a million.
    pub fn count_or_none(&mut self, node: &Node, path: &str) -> Option<u32> {
        self.whole(node, path, (0, phrase!("a whole number, 0 or more")))
    }

    /// The node as a whole number from the least one up to a million.
    fn whole(&mut self, node: &Node, path: &str, (least, wanted): (u32, Phrase)) -> Option<u32> {
        if let Value::Scalar(text, Meaning::Number) = &node.value
            && text.bytes().all(|b| b.is_ascii_digit())
            && let Ok(value) = text.parse::<u32>()
            && (least..=1_000_000).contains(&value)
        {
            return Some(value);
        }
        self.wrong(node, path, wanted);
        None
    }

    /// The count under a key, when it is there.
    pub fn count_at(&mut self, map: &Map<'_>, key: &str) -> Option<u32> {
        self.count(map.get(key)?, &map.key(key))
    }

    /// The count under a key, else its default, which is noted as assumed.
    pub fn count_or(&mut self, map: &Map<'_>, key: &str, default: u32) -> u32 {
        if map.get(key).is_some() {
            return self.count_at(map, key).unwrap_or(default);
        }
        self.assume(map.key(key), default.to_string());
        default
    }
}

/// A default of the program's own; it is always well written.
fn known(read: Result<f64, Misread>) -> f64 {
    read.expect("the defaults are well written")
}
