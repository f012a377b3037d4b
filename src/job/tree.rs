//! The text of a job file as a tree of nodes, each with its place.
//!
//! In: bytes. Out: one tree of scalars, lists and mappings, or every reason why there is none.
//! Two readers look at the text. The first takes the events of YAML 1.2 one by one and gives
//! structure and places (columns count characters); it bounds size, depth and aliases before
//! anything grows, and finds duplicate keys and second documents. The second (`meaning`) decides
//! whether a scalar is text, a number, a truth value or nothing. Tags and merge keys are left out:
//! a job needs none.

#![expect(
    clippy::result_large_err,
    reason = "an error here is made once and ends the reading"
)]

use std::collections::BTreeMap;

use saphyr_parser::{Event, Marker, Parser, ScalarStyle, Span};

use super::bytes::text;
use super::meaning::{self, Meaning};
use super::refused::refused;
use crate::diag::{Diagnostic, Place};
use crate::language::{Phrase, phrase};

/// Deepest nesting.
const DEEPEST: usize = 64;
/// Most nodes, with every alias counted as often as it is used.
pub const MOST_NODES: usize = 200_000;
/// Most text that aliases may add, in bytes.
const MOST_ALIASED: usize = 8 * 1024 * 1024;
/// Longest single text, in characters.
const LONGEST: usize = 4000;
/// Longest key, in characters.
const LONGEST_KEY: usize = 200;

/// A value of the file with its place.
#[derive(Clone, Debug)]
pub struct Node {
    /// Where it stands.
    pub place: Place,
    /// What it is.
    pub value: Value,
}

/// What a node is.
#[derive(Clone, Debug)]
pub enum Value {
    /// A scalar: its text as written, and what YAML takes it for.
    Scalar(String, Meaning),
    /// A list.
    List(Vec<Node>),
    /// A mapping in the order written, duplicates removed.
    Map(Vec<Entry>),
}

/// One key of a mapping with its value.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The key.
    pub key: String,
    /// Where the key stands.
    pub place: Place,
    /// Its value.
    pub node: Node,
}

/// The tree of a job file, with what was wrong on the way (duplicate keys), which does not keep
/// the tree from being read further.
///
/// # Errors
/// When the bytes are no text, no YAML, more than one document, or beyond a bound.
pub fn parse(bytes: &[u8]) -> Result<(Node, Vec<Diagnostic>), Diagnostic> {
    let text = text(bytes)?;
    let mut builder = Builder::default();
    let mut root = None;
    let mut parser = Parser::new_from_str(text);
    while let Some(next) = parser.next_event() {
        let (event, span) = next.map_err(|error| refused(&error, text, builder.bracket(text)))?;
        builder.take(event, span, &mut root)?;
    }
    let Some(mut root) = root else {
        return Err(empty());
    };
    meaning::decide(text, &mut root)?;
    let mut duplicates = Vec::new();
    drop_duplicates(&mut root, &mut duplicates);
    Ok((root, duplicates))
}

/// What deep nesting leads to.
pub(super) fn too_deep(place: Place) -> Diagnostic {
    Diagnostic::error(
        "too-deep",
        phrase!("nested deeper than {most} levels", most = DEEPEST),
    )
    .at(place)
    .wanted(phrase!("a job nests about eight deep"))
}

/// What an empty file leads to.
fn empty() -> Diagnostic {
    Diagnostic::error("empty", phrase!("the job file is empty"))
        .at(Place {
            line: 1,
            column: 1,
            length: 1,
        })
        .wanted(phrase!(
            "a job with `{title}`, `paving` and `pavers`",
            title = "job: {title: …}"
        ))
}

/// A mapping or list that is not closed yet.
struct Open {
    place: Place,
    anchor: usize,
    map: bool,
    items: Vec<Node>,
}

#[derive(Default)]
struct Builder {
    open: Vec<Open>,
    anchors: BTreeMap<usize, (Node, Size)>,
    aliased: usize,
    nodes: usize,
    documents: usize,
}

impl Builder {
    /// Where the innermost bracket or brace stands that is open.
    fn bracket(&self, text: &str) -> Option<Place> {
        let place = self.open.last()?.place;
        let line = text.lines().nth(place.line - 1)?;
        let first = line.chars().nth(place.column - 1)?;
        matches!(first, '[' | '{').then_some(place)
    }

    /// Takes one event; a finished document's root goes to `root`.
    fn take(
        &mut self,
        event: Event<'_>,
        span: Span,
        root: &mut Option<Node>,
    ) -> Result<(), Diagnostic> {
        let place = place(span);
        match event {
            Event::DocumentStart(_) => {
                self.documents += 1;
                if self.documents > 1 {
                    return Err(Diagnostic::error(
                        "second-document",
                        phrase!("a second document starts here"),
                    )
                    .at(place)
                    .wanted(phrase!("one job in one file")));
                }
            }
            Event::Scalar(text, style, anchor, tag) => {
                refuse_tag(tag.is_some(), place)?;
                if text.chars().nth(LONGEST).is_some() {
                    return Err(Diagnostic::error(
                        "too-long",
                        phrase!(
                            "a text of {count} character | a text of {count} characters",
                            count = text.chars().count()
                        ),
                    )
                    .at(place)
                    .wanted(phrase!("at most {most} characters", most = LONGEST)));
                }
                let meaning = match style {
                    ScalarStyle::Plain => Meaning::Open,
                    _ => Meaning::Text,
                };
                let node = Node {
                    place,
                    value: Value::Scalar(text.into_owned(), meaning),
                };
                self.close(node, anchor, root)?;
            }
            Event::SequenceStart(anchor, tag) => {
                refuse_tag(tag.is_some(), place)?;
                self.enter(place, anchor, false)?;
            }
            Event::MappingStart(anchor, tag) => {
                refuse_tag(tag.is_some(), place)?;
                self.enter(place, anchor, true)?;
            }
            Event::SequenceEnd | Event::MappingEnd => {
                let Some(open) = self.open.pop() else {
                    return Ok(());
                };
                let value = if open.map {
                    Value::Map(entries(open.items)?)
                } else {
                    Value::List(open.items)
                };
                let node = Node {
                    place: open.place,
                    value,
                };
                self.close(node, open.anchor, root)?;
            }
            Event::Alias(anchor) => {
                let Some((node, size)) = self.anchors.get(&anchor) else {
                    return Err(Diagnostic::error(
                        "alias",
                        phrase!("an alias to something that is not complete yet"),
                    )
                    .at(place)
                    .wanted(phrase!("an anchor that stands before it")));
                };
                let too_deep = self.open.len() + size.depth > DEEPEST;
                self.nodes += size.nodes;
                self.aliased += size.bytes;
                if self.nodes > MOST_NODES || self.aliased > MOST_ALIASED || too_deep {
                    return Err(written_out(place));
                }
                let mut node = node.clone();
                node.place = place;
                self.close(node, 0, root)?;
            }
            Event::Nothing | Event::StreamStart | Event::StreamEnd | Event::DocumentEnd => {}
        }
        Ok(())
    }

    /// A list or mapping begins.
    fn enter(&mut self, place: Place, anchor: usize, map: bool) -> Result<(), Diagnostic> {
        if self.open.len() >= DEEPEST {
            return Err(too_deep(place));
        }
        self.open.push(Open {
            place,
            anchor,
            map,
            items: Vec::new(),
        });
        Ok(())
    }

    /// A node is complete.
    fn close(
        &mut self,
        node: Node,
        anchor: usize,
        root: &mut Option<Node>,
    ) -> Result<(), Diagnostic> {
        self.nodes += 1;
        if self.nodes > MOST_NODES {
            return Err(too_many(
                node.place,
                phrase!("the job has more than {most} values", most = MOST_NODES),
            ));
        }
        if anchor != 0 {
            let size = measure(&node);
            self.nodes += size.nodes;
            self.aliased += size.bytes;
            self.anchors.insert(anchor, (node.clone(), size));
        }
        match self.open.last_mut() {
            Some(open) => open.items.push(node),
            None => *root = Some(node),
        }
        Ok(())
    }
}

/// How large a tree is.
#[derive(Clone, Copy, Default)]
struct Size {
    nodes: usize,
    depth: usize,
    bytes: usize,
}

/// How large a tree is.
fn measure(node: &Node) -> Size {
    let mut all = Size::default();
    let mut add = |child: &Node, key: usize| {
        let size = measure(child);
        all.nodes += size.nodes;
        all.depth = all.depth.max(size.depth);
        all.bytes += size.bytes + key;
    };
    match &node.value {
        Value::Scalar(text, _) => {
            return Size {
                nodes: 1,
                depth: 0,
                bytes: text.len(),
            };
        }
        Value::List(items) => items.iter().for_each(|item| add(item, 0)),
        Value::Map(entries) => entries.iter().for_each(|e| add(&e.node, e.key.len())),
    }
    all.nodes += 1;
    all.depth += 1;
    all
}

/// What too many nodes lead to.
fn too_many(place: Place, found: Phrase) -> Diagnostic {
    Diagnostic::error("too-many", found)
        .at(place)
        .wanted(phrase!("a job of reasonable size"))
}

/// What too many aliases lead to.
pub(super) fn written_out(place: Place) -> Diagnostic {
    too_many(
        place,
        phrase!(
            "with its aliases written out, the job has more than {most} values or is nested too deep",
            most = MOST_NODES
        ),
    )
}

/// Tags are no part of a job.
fn refuse_tag(has_one: bool, place: Place) -> Result<(), Diagnostic> {
    match has_one {
        true => Err(tagged(place)),
        false => Ok(()),
    }
}

/// What a tag leads to.
pub(super) fn tagged(place: Place) -> Diagnostic {
    Diagnostic::error("tag", phrase!("a YAML tag (`!…`)"))
        .at(place)
        .wanted(phrase!("the value without its tag"))
}

/// Keys and values that follow each other, paired.
fn entries(items: Vec<Node>) -> Result<Vec<Entry>, Diagnostic> {
    let mut out = Vec::with_capacity(items.len() / 2);
    let mut items = items.into_iter();
    while let (Some(key), Some(node)) = (items.next(), items.next()) {
        let Value::Scalar(text, _) = key.value else {
            return Err(
                Diagnostic::error("key", phrase!("a list or mapping used as a key"))
                    .at(key.place)
                    .wanted(phrase!("a word as the key")),
            );
        };
        if text.chars().nth(LONGEST_KEY).is_some() {
            return Err(Diagnostic::error("key", phrase!("a very long key"))
                .at(key.place)
                .wanted(phrase!(
                    "a key of at most {most} characters",
                    most = LONGEST_KEY
                )));
        }
        out.push(Entry {
            key: text,
            place: key.place,
            node,
        });
    }
    Ok(out)
}

/// Takes every second entry with one key out of the tree and reports it.
fn drop_duplicates(node: &mut Node, found: &mut Vec<Diagnostic>) {
    match &mut node.value {
        Value::Scalar(..) => {}
        Value::List(items) => items
            .iter_mut()
            .for_each(|item| drop_duplicates(item, found)),
        Value::Map(entries) => {
            let mut first: BTreeMap<String, Place> = BTreeMap::new();
            entries.retain(|entry| {
                let Some(earlier) = first.get(&entry.key) else {
                    first.insert(entry.key.clone(), entry.place);
                    return true;
                };
                found.push(
                    Diagnostic::error(
                        "duplicate-key",
                        phrase!("`{key}` stands twice", key = entry.key),
                    )
                    .at(entry.place)
                    .wanted(phrase!(
                        "each key once; it first stands in line {line}",
                        line = earlier.line
                    )),
                );
                false
            });
            for entry in entries {
                drop_duplicates(&mut entry.node, found);
            }
        }
    }
}

/// The place of an event.
fn place(span: Span) -> Place {
    let one_line = span.start.line() == span.end.line();
    Place {
        length: if one_line { span.len().max(1) } else { 1 },
        ..place_of(span.start)
    }
}

/// The place of one character.
pub(super) fn place_of(mark: Marker) -> Place {
    Place {
        line: mark.line().max(1),
        column: mark.col() + 1,
        length: 1,
    }
}
