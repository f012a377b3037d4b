//! What YAML takes each plain scalar for: text, a number, a truth value, or nothing.
//!
//! In: the text and the tree of its events, already proved bounded. Out: the same tree with the
//! meaning of every scalar decided by `serde_yaml`. It reads into a shape of its own that keeps
//! duplicate keys, so that they can be reported with their places; the two readings are walked
//! side by side, and where they differ the job is refused rather than guessed at. A place where a
//! number stands in digits that the two readers could take differently (`012`) stays as written:
//! the text of the events is what is read further.

#![expect(
    clippy::result_large_err,
    reason = "an error here is made once and ends the reading"
)]

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};

use super::tree::{Node, Value, written_out};
use crate::diag::{Diagnostic, Place};
use crate::language::phrase;

/// What a scalar is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meaning {
    /// Not decided yet: only inside the reader.
    Open,
    /// Nothing: `null`, `~`, or no value at all.
    Nothing,
    /// `true` or `false`.
    Truth(bool),
    /// A number.
    Number,
    /// Text.
    Text,
}

/// The second reading.
#[derive(Debug)]
enum Read {
    Scalar(Meaning, Option<String>),
    List(Vec<Read>),
    Map(Vec<(Read, Read)>),
}

/// Decides the meaning of every plain scalar of the tree.
///
/// # Errors
/// When the second reading fails or differs from the first in its structure or in a text.
pub fn decide(text: &str, root: &mut Node) -> Result<(), Diagnostic> {
    let read: Read = serde_yaml::from_str(text).map_err(|error| match error.location() {
        // It bounds how often aliases lead to each other, and says where in no such case.
        None if error.to_string().contains("repetition limit") => written_out(root.place),
        // Whatever else the second reader cannot take, the first one took.
        Some(at) => differs(Place {
            line: at.line().max(1),
            column: at.column().max(1),
            length: 1,
        }),
        None => differs(root.place),
    })?;
    walk(root, &read)
}

fn walk(node: &mut Node, read: &Read) -> Result<(), Diagnostic> {
    let place = node.place;
    match (&mut node.value, read) {
        (Value::Scalar(text, meaning), Read::Scalar(decided, content)) => {
            if content.as_ref().is_some_and(|content| content != text) {
                return Err(differs(place));
            }
            if *meaning == Meaning::Open {
                *meaning = *decided;
            }
            Ok(())
        }
        (Value::List(items), Read::List(reads)) if items.len() == reads.len() => items
            .iter_mut()
            .zip(reads)
            .try_for_each(|(i, r)| walk(i, r)),
        (Value::Map(entries), Read::Map(reads)) if entries.len() == reads.len() => {
            for (entry, (key, value)) in entries.iter_mut().zip(reads) {
                match key {
                    Read::Scalar(_, Some(text)) if *text != entry.key => {
                        return Err(differs(entry.place));
                    }
                    Read::Scalar(..) => walk(&mut entry.node, value)?,
                    _ => return Err(differs(entry.place)),
                }
            }
            Ok(())
        }
        _ => Err(differs(place)),
    }
}

/// What a difference between the two readings leads to.
fn differs(place: Place) -> Diagnostic {
    Diagnostic::error("ambiguous", phrase!("this can be read in two ways"))
        .at(place)
        .wanted(phrase!(
            "plain keys and values; put a text in double quotes when in doubt"
        ))
}

impl<'de> Deserialize<'de> for Read {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader)
    }
}

struct Reader;

impl<'de> Visitor<'de> for Reader {
    type Value = Read;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value without a tag")
    }

    fn visit_unit<E>(self) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Nothing, None))
    }

    fn visit_bool<E>(self, value: bool) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Truth(value), None))
    }

    fn visit_i64<E>(self, _: i64) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Number, None))
    }

    fn visit_u64<E>(self, _: u64) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Number, None))
    }

    fn visit_i128<E>(self, _: i128) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Number, None))
    }

    fn visit_u128<E>(self, _: u128) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Number, None))
    }

    fn visit_f64<E>(self, _: f64) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Number, None))
    }

    fn visit_str<E>(self, value: &str) -> Result<Read, E> {
        Ok(Read::Scalar(Meaning::Text, Some(value.to_owned())))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Read, A::Error> {
        let mut out = Vec::new();
        while let Some(item) = items.next_element()? {
            out.push(item);
        }
        Ok(Read::List(out))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut items: A) -> Result<Read, A::Error> {
        let mut out = Vec::new();
        while let Some(item) = items.next_entry()? {
            out.push(item);
        }
        Ok(Read::Map(out))
    }
}
